"""A scene cut at its mirrors and folded over: worked out once, for both sides of each.

Seen from an image, a path over a mirror is straight when what stands before the mirror stands mirrored behind
it as well. What that is depends on the side the source is on, not on where it is.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Reals
from rehaul.kernels.loops import compiled, inner, uncounted
from rehaul.radio.geometry import FlatScene, Mirrors
from rehaul.radio.joined import join_panels
from rehaul.radio.mirror import ON_PLANE_M, cut_ring, cut_sheets


class Rings(NamedTuple):
    """Outlines of plates."""

    edges: NDArray[np.float64]  # (e, 4) x0, y0, x1, y1 [m], ring after ring
    start: NDArray[np.int64]  # (r + 1,) first edge of each plate
    z: NDArray[np.float64]  # (r,) [m]
    kind: NDArray[np.int32]  # (r,)


class Folded(NamedTuple):
    """Panels and plates of a scene for all its mirrors: upright planes first, then levels."""

    planes: NDArray[np.float64]  # (m, 4) unit normal and offset
    window: NDArray[np.float64]  # (6, n) joined panels, plane after plane: x0, y0, x1, y1, z0, z1
    window_kind: NDArray[np.int32]  # (n,) as in `Joined`
    window_start: NDArray[np.int64]  # (m + 1,); none for levels, whose windows are plates
    sheets: NDArray[np.float64]  # (6, s) panels before each side of each mirror, then mirrored
    sheet_kind: NDArray[np.int32]  # (s,)
    sheet_start: NDArray[
        np.int64
    ]  # (4 m + 1,): mirror by mirror and side by side, as they stand and mirrored
    plates: Rings
    swaps: NDArray[np.int32]  # (s, 2) of the holes, as in `Joined`


def fold(pieces: FlatScene, mirrors: Mirrors) -> Folded:
    """Cut and fold a scene at all of its mirrors, from either side.

    The first side of a mirror is that to which its normal points. **Source**: method of images;
    docs/radio.md, "How reflections are fast".
    """
    upright, levels = mirrors.planes, mirrors.levels_m
    planes = np.zeros((len(upright) + len(levels), 4))
    planes[: len(upright), :2], planes[: len(upright), 3] = upright[:, :2], upright[:, 2]
    planes[len(upright) :, 2], planes[len(upright) :, 3] = 1.0, levels
    panels, kind, plane, swaps = join_panels(pieces.panels_m, pieces.panel_kind, mirrors.plane_of_panel)
    order = np.argsort(plane, kind="stable")
    window, window_kind, plane = np.ascontiguousarray(panels[order].T), kind[order], plane[order]
    room = 4 * len(planes) * len(plane)
    sheets, sheet_kind = np.empty((6, room)), np.empty(room, dtype=np.int32)
    start = np.zeros(4 * len(planes) + 1, dtype=np.int64)
    _fold_panels(window, window_kind, plane, planes, sheets, sheet_kind, start)
    return Folded(
        planes,
        window,
        window_kind,
        np.searchsorted(plane, np.arange(len(planes) + 1)).astype(np.int64),
        np.ascontiguousarray(sheets[:, : start[-1]]),
        sheet_kind[: start[-1]].copy(),
        start,
        Rings(pieces.edges_m, pieces.edge_start.astype(np.int64), pieces.plate_z_m, pieces.plate_kind),
        swaps,
    )


@compiled
def _fold_panels(panels, kind, plane, planes, sheets, kinds, start):  # type: ignore[no-untyped-def]
    """Write panels before and behind both sides of every mirror, without those in the mirror's own plane."""
    mirrors, count = planes.shape[0], panels.shape[1]
    own, other = np.empty((6, count)), np.empty(count, dtype=np.int32)
    for part in range(4 * mirrors):
        m, sign, flip = part // 4, 1.0 - (part // 2 % 2) * 2.0, part % 2 == 1
        left = 0
        for p in range(count):
            if plane[p] != m:
                own[:, left], other[left] = panels[:, p], kind[p]
                left += 1
        first, at = start[part], sign * planes[m]
        start[part + 1] = first + cut_sheets(
            own, other, 0, left, at[0], at[1], at[2], at[3], flip, sheets[:, first:], kinds[first:]
        )


@inner
def room_for_rings(rings: Rings, times: int) -> Rings:
    """Room for some times the rings, however they are cut."""
    edges, count = 2 * rings.edges.shape[0], rings.z.size
    return Rings(
        np.empty((times * edges + 1, 4)),
        np.zeros(times * count + 1, dtype=np.int64),
        np.empty(times * count),
        np.empty(times * count, dtype=np.int32),
    )


@uncounted
def add_rings(
    rings: Rings,
    count: int,
    nx: float,
    ny: float,
    nz: float,
    offset: float,
    flip: bool,
    out: Rings,
    made: int,
) -> int:
    """Add the parts of `count` rings before a mirror to `out`, which has `made`, as they stand or mirrored.

    Returns how many `out` has then. **Source**: method of images; docs/radio.md, "How reflections are fast".
    """
    for r in range(count):
        z, first = rings.z[r], out.start[made]
        if nz != 0.0:
            if nz * z - offset < ON_PLANE_M:
                continue
            size = rings.start[r + 1] - rings.start[r]
            for e in range(size):
                for c in range(4):
                    out.edges[first + e, c] = rings.edges[rings.start[r] + e, c]
            if flip:
                z = 2.0 * offset * nz - z
        else:
            size = cut_ring(
                rings.edges, rings.start[r], rings.start[r + 1], nx, ny, offset, flip, out.edges, first
            )
        if size > 0:
            out.z[made], out.kind[made], out.start[made + 1] = z, rings.kind[r], first + size
            made += 1
    return made


@uncounted
def image_of(plane: Reals, source: Reals, axis: Reals, image: Reals, turned: Reals) -> tuple[float, float]:
    """Mirror `source` and `axis` (3,) at a plane (4,) into `image` and `turned`.

    Returns the distance of the source from the mirror [m], and 1 if it is on the side of the normal, else -1.
    """
    before, tilt = -plane[3], 0.0
    for c in range(3):
        before += plane[c] * source[c]
        tilt += plane[c] * axis[c]
    for c in range(3):
        image[c] = source[c] - 2.0 * before * plane[c]
        turned[c] = axis[c] - 2.0 * tilt * plane[c]
    return abs(before), (1.0 if before >= 0.0 else -1.0)
