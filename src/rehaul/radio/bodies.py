"""Big bodies on the paths of a scene: which rays meet one, on a grid, at points, on legs of reflections."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Floats, Reals
from rehaul.kernels.loops import compiled, inner
from rehaul.radio.around import APART, CLEAR_NU, EDGE_ROWS, RAY_ROWS, add, keep_met, losses, measure
from rehaul.radio.diffuse import NO_ROOM
from rehaul.radio.scene import Scene
from rehaul.radio.shadow import all_lit


class FlatBodies(NamedTuple):
    """Bodies as arrays a compiled loop can walk."""

    centre_m: NDArray[np.float64]  # (n, 3)
    half_m: NDArray[np.float64]  # (n, 3)
    open_ways: NDArray[np.bool_]  # (n, 2) over the top, underneath
    room: NDArray[np.float64]  # (n, 3) what the room scatters, as `DiffuseRoom.as_row` or NO_ROOM

    def only(self, which: slice | NDArray[np.bool_]) -> FlatBodies:
        """Some of the bodies, by a slice or by a mask (n,), in their order; the arrays are copies.

        The tables of bodies are cut alike by whoever asks.
        """
        return FlatBodies(
            np.ascontiguousarray(self.centre_m[which]),
            np.ascontiguousarray(self.half_m[which]),
            np.ascontiguousarray(self.open_ways[which]),
            np.ascontiguousarray(self.room[which]),
        )


class BodyTables(NamedTuple):
    """Bodies in every band; the last wave is the one by which their spread is weighed."""

    wave_root: NDArray[np.float32]  # (band + 1,) sqrt(2 / wavelength) [m^-1/2]
    through: NDArray[np.float32]  # (n, band + 1) share of power let through
    sd_db: NDArray[np.float32]  # (n,)
    per_db: NDArray[np.float32]  # (n,) one over the loss straight through, in the last wave


def flatten_bodies(scene: Scene) -> FlatBodies:
    """The bodies of a scene as flat arrays, in the scene's order; no rows where it has none.

    Raises BadInput for a body whose room has no size. A body under the open sky has NO_ROOM as its row.
    """
    boxes = np.array([(*body.low_m, *body.high_m) for body in scene.bodies], dtype=np.float64).reshape(-1, 6)
    ways = np.array([(body.over, body.under) for body in scene.bodies], dtype=np.bool_).reshape(-1, 2)
    low, high = boxes[:, :3], boxes[:, 3:]
    rooms = [NO_ROOM if body.room is None else body.room.as_row() for body in scene.bodies]
    return FlatBodies(
        np.ascontiguousarray((low + high) / 2),
        np.ascontiguousarray((high - low) / 2),
        ways,
        np.array(rooms, dtype=np.float64).reshape(-1, 3),
    )


@compiled
def round_grid(
    bodies: FlatBodies,
    tables: BodyTables,
    sources: Reals,
    origin: tuple[float, float],
    step: float,
    heights: Reals,
    eased: bool,
    out: Floats,
) -> None:
    """Add what bodies cost the straight rays from each of `sources` (n, 3) to the receivers of a grid.

    `out` (n, storey, ny, band + 2, nx) as in `shade_grid`, of eased losses where `eased`. **Source**:
    docs/radio.md, "Big bodies".
    """
    if bodies[0].shape[0] == 0:
        return
    count, storeys, rows, bands, columns = out.shape
    lit = all_lit(storeys, rows, columns)
    room = _room_for(storeys * rows * columns, tables[0].size)
    receivers, no_mirror = (origin, step, heights), (np.zeros(3), np.float32(0.0), False)
    layout = (columns, bands * columns, 1, columns)
    for s in range(count):
        source, flat = sources[s], out[s].reshape(-1)
        for n in range(bodies[0].shape[0]):
            _round_body(
                bodies, tables, n, source, source, no_mirror, False, receivers, lit, room, eased, layout, flat
            )


@inner
def round_storey_mirrored(
    bodies: FlatBodies,
    tables: BodyTables,
    source: Reals,
    image: Reals,
    normal: Reals,
    before: float,
    origin: tuple[float, float],
    step: float,
    height: Reals,
    lit: NDArray[np.int64],
    lanes: int,
    columns: int,
    lost: Floats,
) -> None:
    """Add what bodies cost both legs of a reflection to the losses `lost` (ny · nx · lanes,) of one storey.

    Unfolded at the mirror each leg is a part of a straight ray: the last of image to receiver, the first of
    source to the receiver's image. `before` is the distance of the source from the mirror, `height` (1,)
    that of the receivers, `lit` (1, ny, 2) which of them count. **Source**: docs/radio.md, "Big bodies".
    """
    room = _room_for(lit.shape[1] * columns, tables[0].size)
    mirror, places = (normal, np.float32(before), True), (origin, step, height)
    layout = (columns, columns * lanes, lanes, 1)
    for n in range(bodies[0].shape[0]):
        for flip in (False, True):
            start = source if flip else image
            _round_body(bodies, tables, n, start, image, mirror, flip, places, lit, room, False, layout, lost)


@compiled
def round_points(
    bodies: FlatBodies, tables: BodyTables, source: Reals, points: Reals, eased: bool, out: Floats
) -> None:
    """Add what bodies cost the straight rays from `source` (3,) to points (k, 3) [m].

    To `out` (k, band + 2): loss of each band [dB], then the sum and the sum of squares of the spreads;
    squares of the losses where `eased`. **Validity** and **Source**: as `around.losses`.
    """
    if bodies[0].shape[0] == 0:
        return
    count, rows = out.shape
    ray, index, found, loss = _room_for(count, rows - 1)
    for i in range(count):
        for c in range(3):
            ray[c, i] = points[i, c] - source[c]
        ray[3, i], ray[4, i] = 0.0, 1.0
    flat = out.reshape(-1)
    for n in range(bodies[0].shape[0]):
        for i in range(count):
            index[i] = i * rows
        measure(bodies[0][n] - source, bodies[1][n], bodies[3][n], ray, count, found)
        _add_body(bodies, tables, n, index, count, found, loss, eased, 1, flat)


@inner
def round_legs(
    bodies: FlatBodies,
    tables: BodyTables,
    source: Reals,
    image: Reals,
    normal: Reals,
    before: float,
    point: Reals,
    out: Floats,
) -> None:
    """Add what bodies cost both legs of one reflection to one point, to `out` (band + 2,).

    `image` (3,) is the source (3,) behind the mirror, `normal` (3,) points to the source's side, and
    `before` is the distance of the source from the mirror [m]. A body between the legs is met on each of
    them that it stands on. **Validity** and **Source**: as `around.losses`.
    """
    if bodies[0].shape[0] == 0:
        return
    ray, index, found, loss = _room_for(1, out.size - 1)
    for n in range(bodies[0].shape[0]):
        for flip in (False, True):
            start = source if flip else image
            x, y, z = point[0] - image[0], point[1] - image[1], point[2] - image[2]
            _fill_mirrored(ray, 0, 1, x, 0.0, y, z, (normal, np.float32(before), True), flip)
            measure(bodies[0][n] - start, bodies[1][n], bodies[3][n], ray, 1, found)
            index[0] = 0
            _add_body(bodies, tables, n, index, 1, found, loss, False, 1, out)


@inner
def _round_body(  # type: ignore[no-untyped-def]
    bodies, tables, n, start, source, mirror, flip, receivers, lit, room, eased, layout, flat
):
    """Add what one body costs: rays begin at `start`, which is `source`, or its image where `flip`.

    `layout` is how many receivers a row has, and how far apart in `flat` rows, receivers and bands are.
    """
    ray, index, found, loss = room
    centre, half = bodies[0][n] - start, bodies[1][n]
    count = _gather(centre, half, tables[0], source, mirror, flip, receivers, lit, ray, index, layout)
    if count:
        measure(centre, half, bodies[3][n], ray, count, found)
        _add_body(bodies, tables, n, index, count, found, loss, eased, layout[3], flat)


@inner
def _add_body(bodies, tables, n, index, count, found, loss, eased, apart, flat):  # type: ignore[no-untyped-def]
    """Add what one body costs the rays that were measured."""
    count = keep_met(tables[0], found, index, count)
    losses(bodies[2][n], tables[0], tables[1][n], found, count, loss)
    add(loss, index, count, tables[2][n], tables[3][n], eased, apart, flat)


@inner
def _room_for(count, waves):  # type: ignore[no-untyped-def]
    """Room for rays, where their receivers are, what is measured on them, and their losses."""
    ray = np.empty((RAY_ROWS, count), dtype=np.float32)
    found = np.empty((EDGE_ROWS, count), dtype=np.float32)
    return ray, np.empty(count, dtype=np.int64), found, np.empty((waves, count), dtype=np.float32)


@inner
def _gather(  # type: ignore[no-untyped-def]
    centre, half, wave_root, source, mirror, flip, receivers, lit, ray, index, layout
):
    """Write the rays to the receivers in a body's wedge, and where their losses are; returns how many.

    `centre` is seen from where the rays start: from `source`, or where `flip` from its image at the mirror,
    and then the rays are mirrored too.
    """
    origin, step, heights = receivers
    storeys, rows, columns = lit.shape[0], lit.shape[1], layout[0]
    sx, sy = (source[0] - origin[0]) / step, (source[1] - origin[1]) / step
    far_x = max(abs(sx), abs(columns - sx)) * step
    far_y = max(abs(sy), abs(rows - sy)) * step
    far_z = max(abs(heights.max() - source[2]), abs(heights.min() - source[2]))
    longest = np.sqrt(far_x * far_x + far_y * far_y + far_z * far_z)
    margin = -CLEAR_NU / wave_root.min() * np.sqrt(longest) / 2.0  # no knife edge reaches further
    narrow, ax, ay, ex, ey = _wedge(centre, half, mirror[0], flip, margin)
    slope_a, slope_e = ax / ay, ex / ey  # infinite on a level line; never used there
    bottom, top, count = centre[2] - half[2], centre[2] + half[2], 0
    apart, wide = APART * np.sqrt(longest), np.float32(step)
    for storey in range(storeys):
        z = heights[storey] - source[2]
        rise = -z if flip and mirror[0][2] != 0.0 else z
        if bottom - max(rise, 0.0) >= apart or top - min(rise, 0.0) <= -apart:
            continue
        for j in range(rows):
            left, right = lit[storey, j, 0] - sx, lit[storey, j, 1] - 1.0 - sx
            y = j - sy
            if narrow:  # a × r >= 0 and r × e >= 0, with r = (x, y)
                if ay > 0.0:
                    right = min(right, slope_a * y)
                elif ay < 0.0:
                    left = max(left, slope_a * y)
                elif ax * y < 0.0:
                    continue
                if ey > 0.0:
                    left = max(left, slope_e * y)
                elif ey < 0.0:
                    right = min(right, slope_e * y)
                elif ex * y > 0.0:
                    continue
            if left > right:
                continue
            first, end = int(np.ceil(left + sx)), int(np.floor(right + sx)) + 1
            if first >= end:
                continue
            if mirror[2]:
                _fill_mirrored(ray, count, end - first, (first - sx) * step, step, y * step, z, mirror, flip)
            else:
                x, along, up = np.float32((first - sx) * step), np.float32(y * step), np.float32(z)
                for i in range(end - first):
                    ray[0, count + i] = x + wide * np.float32(np.int32(i))
                    ray[1, count + i], ray[2, count + i] = along, up
                    ray[3, count + i], ray[4, count + i] = np.float32(0.0), np.float32(1.0)
            at = (storey * rows + j) * layout[1] + first * layout[2]
            for i in range(end - first):
                index[count + i] = at + i * layout[2]
            count += end - first
    return count


@inner
def _fill_mirrored(ray, start, size, x0, step, y, z, mirror, flip):  # type: ignore[no-untyped-def]
    """Write rays of a reflection to a row of receivers, first x0, y, z from the image of the source.

    `mirror` is (normal, distance of the source, whether there is one). Where `flip` they go from the source
    to the images of the receivers, and count up to the mirror; else from there on.
    """
    x0, step, y, z = np.float32(x0), np.float32(step), np.float32(y), np.float32(z)
    nil, one = np.float32(0.0), np.float32(1.0)
    nx, ny, nz = np.float32(mirror[0][0]), np.float32(mirror[0][1]), np.float32(mirror[0][2])
    before, back = mirror[1], np.float32(2.0 if flip else 0.0)
    for i in range(size):
        x = x0 + step * np.float32(np.int32(i))
        across = nx * x + ny * y + nz * z
        share, turn = before / across, back * across
        ray[0, start + i], ray[1, start + i] = x - turn * nx, y - turn * ny
        ray[2, start + i] = z - turn * nz
        ray[3, start + i], ray[4, start + i] = (nil, share) if flip else (share, one)


@inner
def _wedge(centre, half, normal, flip, margin):  # type: ignore[no-untyped-def]
    """Directions (ax, ay), (ex, ey) in the plan right and left of a body with a margin, seen from the source.

    Taken about the circle round its plan. The first value is whether there is such a wedge: there is none
    from near by. The body is mirrored where `flip`.
    """
    turn = 2.0 * (normal[0] * centre[0] + normal[1] * centre[1]) if flip else 0.0
    x, y = centre[0] - turn * normal[0], centre[1] - turn * normal[1]
    own2, away2 = half[0] ** 2 + half[1] ** 2, x * x + y * y
    reach = np.sqrt(own2) + margin
    if away2 <= own2 + reach * reach:
        return False, 0.0, 0.0, 0.0, 0.0
    sine = reach / np.sqrt(away2)
    cosine = np.sqrt(1.0 - sine * sine)
    return True, x * cosine + y * sine, y * cosine - x * sine, x * cosine - y * sine, y * cosine + x * sine
