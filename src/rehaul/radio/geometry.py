"""The scene as flat arrays, and which pieces of it a straight ray crosses.

One rule everywhere: a ray crosses a piece strictly between its ends; of two pieces that meet at an
edge it crosses exactly one.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Reals
from rehaul.kernels.loops import compiled, inlined
from rehaul.radio.scene import Scene


class FlatScene(NamedTuple):
    """Panels and plates as arrays a compiled loop can walk."""

    panels_m: NDArray[np.float64]  # (n, 6): x0, y0, x1, y1, z0, z1
    panel_kind: NDArray[np.int32]  # (n,)
    plate_z_m: NDArray[np.float64]  # (p,)
    plate_kind: NDArray[np.int32]  # (p,)
    edges_m: NDArray[np.float64]  # (e, 4): x0, y0, x1, y1 of all rings of all plates
    edge_start: NDArray[np.int32]  # (p + 1,) first edge of each plate


def flatten(scene: Scene) -> FlatScene:
    """The scene as flat arrays; rings of a plate are filled by the even-odd rule, so holes are holes.

    In the scene's order. The panels are the scene's own arrays, not copies.
    """
    edges: list[NDArray[np.float64]] = []
    starts = [0]
    for plate in scene.plates:
        rings = (plate.outer_m, *plate.holes_m)
        edges += [np.hstack([ring, np.roll(ring, -1, axis=0)]) for ring in rings]
        starts.append(starts[-1] + sum(len(ring) for ring in rings))
    return FlatScene(
        scene.panels_m,
        scene.panel_kind,
        np.array([plate.z_m for plate in scene.plates], dtype=np.float64),
        np.array([plate.kind for plate in scene.plates], dtype=np.int32),
        np.ascontiguousarray(np.vstack(edges)) if edges else np.empty((0, 4)),
        np.array(starts, dtype=np.int32),
    )


def any_order(pieces: FlatScene) -> NDArray[np.int64]:
    """Numbers of all panels, then plates, as they come (n + p,): for losses, which add up in any order.

    A field that turns needs `outward_order`.
    """
    return np.arange(len(pieces.panels_m) + len(pieces.plate_z_m))


def outward_order(pieces: FlatScene, source_m: NDArray[np.float64]) -> NDArray[np.int64]:
    """Panels and plates from the source outward: by plates between, then by distance in the plan.

    A ray meets pieces in this order except where long walls at odd angles interleave.
    """
    between, distance = _outward(pieces.panels_m, pieces.plate_z_m, source_m)
    return np.lexsort((distance, between))


@compiled
def _outward(panels, plate_z, source):  # type: ignore[no-untyped-def]
    """How many plates stand between the source and each panel and plate, and how far it is in the plan."""
    count = panels.shape[0] + plate_z.size
    between, distance = np.zeros(count, dtype=np.int32), np.empty(count)
    for p in range(count):
        if p < panels.shape[0]:
            panel = panels[p]
            middle = (panel[4] + panel[5]) / 2.0
            wx, wy, x, y = (
                panel[2] - panel[0],
                panel[3] - panel[1],
                source[0] - panel[0],
                source[1] - panel[1],
            )
            share = min(max((x * wx + y * wy) / (wx * wx + wy * wy), 0.0), 1.0)
            distance[p] = np.hypot(share * wx - x, share * wy - y)
        else:
            middle, distance[p] = plate_z[p - panels.shape[0]], np.inf
        for z in plate_z:
            between[p] += min(middle, source[2]) < z < max(middle, source[2])
    return between, distance


class Mirrors(NamedTuple):
    """Planes that throw back: upright planes with their panels, and the heights of plates."""

    planes: NDArray[np.float64]  # (m, 3): unit normal nx, ny and its offset
    plane_of_panel: NDArray[np.int32]  # (n,) index into planes
    levels_m: NDArray[np.float64]  # (h,)


def find_mirrors(pieces: FlatScene) -> Mirrors:
    """Group the panels by plane; panels within a tenth of a millimetre are in one plane.

    Normals point to positive x, or y where x is 0; `offset` is normal · r [m]. Heights of plates come once
    each, rising. **Source**: docs/radio.md, "How it is fast": one image for each plane.
    """
    panels = pieces.panels_m
    if not len(panels):
        return Mirrors(np.empty((0, 3)), np.empty(0, dtype=np.int32), np.unique(pieces.plate_z_m))
    along = panels[:, 2:4] - panels[:, :2]
    normal = np.stack([-along[:, 1], along[:, 0]], axis=1) / np.hypot(*along.T)[:, None]
    normal = np.where(np.abs(normal) < 1e-9, 0.0, normal)
    backward = (normal[:, 0] < 0) | ((normal[:, 0] == 0) & (normal[:, 1] < 0))
    normal = np.where(backward[:, None], -normal, normal)
    offset = np.sum(normal * panels[:, :2], axis=1)
    keys = np.column_stack([np.round(normal, 6), np.round(offset, 4)])
    _, first, plane = np.unique(keys, axis=0, return_index=True, return_inverse=True)
    planes = np.column_stack([normal, offset])[first]
    return Mirrors(planes, plane.reshape(-1).astype(np.int32), np.unique(pieces.plate_z_m))


@inlined
def panel_cosine(panel: Reals, sx: float, sy: float, sz: float, rx: float, ry: float, rz: float) -> float:
    """Cosine of incidence of the ray S→R on a panel (6,), or -1 where it does not cross it.

    From 0 (grazing) to 1 (square on). A ray that ends on the panel, or starts in its plane, does not cross;
    of two panels that share an edge it crosses one. **Source**: docs/radio.md, "Scene": of two pieces at an
    exact edge one is crossed.

    >>> import numpy as np
    >>> wall = np.array([1.0, -1.0, 1.0, 1.0, 0.0, 2.5])  # from (1, -1) to (1, 1), 2.5 m high
    >>> float(panel_cosine(wall, 0.0, 0.0, 1.0, 2.0, 0.0, 1.0))
    1.0
    """
    dx, dy = panel[2] - panel[0], panel[3] - panel[1]
    ax, ay, bx, by = panel[0] - sx, panel[1] - sy, panel[2] - sx, panel[3] - sy
    side = dx * ay - dy * ax  # length times distance of S from the plane
    if side < 0.0:
        side, dx, dy = -side, -dx, -dy
        ax, ay, bx, by = bx, by, ax, ay
    if side == 0.0:
        return -1.0
    x, y = rx - sx, ry - sy
    depth = dx * y - dy * x
    if depth <= side or bx * y - by * x < 0.0 or x * ay - y * ax <= 0.0:
        return -1.0
    z = sz + (rz - sz) * (side / depth)
    if z < panel[4] or z >= panel[5]:
        return -1.0
    return depth / (np.sqrt(dx * dx + dy * dy) * np.sqrt(x * x + y * y + (rz - sz) ** 2))  # type: ignore[no-any-return]


@inlined
def plate_cosine(
    z: float, ring: Reals, sx: float, sy: float, sz: float, rx: float, ry: float, rz: float
) -> float:
    """Cosine of incidence of the ray S→R on a plate at height z [m], or -1 where it does not cross it.

    `ring` (e, 4) holds the edges of all its rings; inside is what an odd number of them go round. A ray
    that ends at that height does not cross. **Source**: even-odd rule; docs/radio.md, "Scene".
    """
    if (sz - z) * (rz - z) >= 0.0:
        return -1.0
    t = (z - sz) / (rz - sz)
    x, y = sx + t * (rx - sx), sy + t * (ry - sy)
    inside = False
    for e in range(ring.shape[0]):
        y0, y1 = ring[e, 1], ring[e, 3]
        if (y0 <= y) != (y1 <= y) and x < ring[e, 0] + (y - y0) / (y1 - y0) * (ring[e, 2] - ring[e, 0]):
            inside = not inside
    if not inside:
        return -1.0
    return abs(rz - sz) / np.sqrt((rx - sx) ** 2 + (ry - sy) ** 2 + (rz - sz) ** 2)  # type: ignore[no-any-return]
