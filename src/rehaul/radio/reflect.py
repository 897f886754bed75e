"""First-order mirror reflections from every wall and slab, over a whole grid, by images.

A path that is thrown back once is straight when the source is mirrored. All panels of one plane
share one image. Seen from it, the receivers that a panel lights are its shadow; what stands before
the mirror shades them twice: as itself on the way from the mirror, mirrored on the way to it.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Floats, Reals
from rehaul.kernels.loops import compiled
from rehaul.radio.bodies import BodyTables, FlatBodies, round_grid_mirrored
from rehaul.radio.decibels import POWER_SHIFT_DB, decibels, powers
from rehaul.radio.finish import pattern_levels, squares
from rehaul.radio.geometry import FlatScene
from rehaul.radio.mirror import ON_PLANE_M, flip_panel, keep_panel
from rehaul.radio.shadow import GridRows, inverse_distances, shade_panel, shade_plate

FAINT_DB = 25.0  # a reflection this far below the direct path, before any loss on its way, is left out
MARK_DB = 1e-3  # added to the spread of a mirror, so that a lit receiver can be told from a dark one


@compiled
def reflect_grid(
    bodies: FlatBodies,
    body_tables: BodyTables,
    pieces: FlatScene,
    tables: tuple[Floats, ...],
    mirrors: Reals,
    mirror_of_panel: NDArray[np.int32],
    levels: Reals,
    transmitter: tuple[Reals, Reals, Floats],
    receivers: GridRows,
    spreads: tuple[float, float],
    gain: Floats,
    power: Floats,
    scatter: Floats,
) -> None:
    """Add every single reflection to the power at every receiver.

    `bodies` and `body_tables` as in `radio.bodies`; `pieces` is a FlatScene and `tables` (loss and
    reflection of panels, spread, loss and reflection of plates); `mirrors` (m, 3) upright planes
    (nx, ny, offset) and `mirror_of_panel` (n,) which plane a panel lies in; `levels` (h,) heights of
    plates. `transmitter` is (source, axis, pattern), `receivers` (origin, step, heights, free_db),
    `spreads` (nearest, together). `gain` (band, storey, ny, nx) is the direct path, by which faint
    reflections are left out; adds to `power` and `scatter` (power² times variance), same shape. **Source**:
    ITU-R P.2040 (what a slab throws back), method of images; docs/radio.md, "How it is fast".
    """
    panels, panel_kind, plate_z, plate_kind, edges, edge_start = pieces
    source, axis, pattern = transmitter
    origin, step, heights, free_db = receivers
    bands, storeys, rows, columns = gain.shape
    path = np.empty((storeys, rows, bands + 2, columns), dtype=np.float32)
    level = np.empty((storeys, rows, columns), dtype=np.float32)
    lit = np.empty((storeys, rows, 2), dtype=np.int32)
    image, turned, normal = np.empty(3), np.empty(3), np.empty(3)
    both = np.empty((2 * edges.shape[0], 4))
    for m in range(mirrors.shape[0] + levels.size):
        upright = m < mirrors.shape[0]
        if upright:
            nx, ny, nz, offset = mirrors[m, 0], mirrors[m, 1], 0.0, mirrors[m, 2]
        else:
            nx, ny, nz, offset = 0.0, 0.0, 1.0, levels[m - mirrors.shape[0]]
        before = nx * source[0] + ny * source[1] + nz * source[2] - offset
        if abs(before) < ON_PLANE_M:
            continue
        if before < 0.0:  # let the normal point to the side of the source
            nx, ny, nz, offset, before = -nx, -ny, -nz, -offset, -before
        tilt = nx * axis[0] + ny * axis[1] + nz * axis[2]
        for c, n in enumerate((nx, ny, nz)):
            image[c] = source[c] - 2.0 * before * n
            turned[c] = axis[c] - 2.0 * tilt * n
        sx, sy = (image[0] - origin[0]) / step, (image[1] - origin[1]) / step
        inverse = inverse_distances(sx, sy, (heights - image[2]) / step, rows, columns)
        path[:] = 0.0
        lit[:, :, 0], lit[:, :, 1] = 0, columns
        light(upright, m, offset * nz, pieces, tables, mirror_of_panel, image, receivers, inverse, lit, path)
        if not dim(image, turned, pattern, receivers, spreads, gain, path, level, lit, FAINT_DB):
            continue
        for p in range(panels.shape[0]):
            if upright and mirror_of_panel[p] == m:
                continue
            kind = panel_kind[p]
            _shade_twice(
                panels[p], nx, ny, nz, offset, image, receivers, inverse, lit,
                tables[0][kind], tables[2][kind], path,
            )  # fmt: skip
        for q in range(plate_z.size):
            ring = edges[edge_start[q] : edge_start[q + 1]]
            loss_db, sd_db = tables[3][plate_kind[q]], tables[2][plate_kind[q]]
            if upright:
                count = _mirrored_ring(ring, nx, ny, offset, both)
                if count == 0:
                    continue
                shade_plate(
                    plate_z[q],
                    both[:count],
                    image,
                    origin,
                    step,
                    heights,
                    inverse,
                    lit,
                    loss_db,
                    sd_db,
                    path,
                    False,
                )
            elif nz * plate_z[q] - offset > ON_PLANE_M:
                for z in (plate_z[q], 2.0 * offset * nz - plate_z[q]):
                    shade_plate(
                        z, ring, image, origin, step, heights, inverse, lit, loss_db, sd_db, path, False
                    )
        normal[0], normal[1], normal[2] = nx, ny, nz
        round_grid_mirrored(bodies, body_tables, source, image, normal, before, receivers, lit, path)
        collect(path, level, lit, free_db, spreads[1], power, scatter)


@compiled
def light(
    upright: bool,
    m: int,
    height: float,
    pieces: FlatScene,
    tables: tuple[Floats, ...],
    mirror_of_panel: NDArray[np.int32],
    image: Reals,
    receivers: GridRows,
    inverse: Floats,
    lit: NDArray[np.int32],
    path: Floats,
) -> None:
    """Write the loss of the reflection to every receiver that sees the image through its mirror.

    `m` is the number of an upright mirror, else `height` that of a level one [m]. `path` (storey, ny, band
    + 2, nx) must be 0 before; the mirror's spread, marked by MARK_DB, tells lit receivers from dark ones.
    **Source**: docs/radio.md, "How it is fast".
    """
    panels, panel_kind, plate_z, plate_kind, edges, edge_start = pieces
    origin, step, heights, _ = receivers
    if upright:
        for p in range(panels.shape[0]):
            if mirror_of_panel[p] == m:
                kind = panel_kind[p]
                mark = tables[2][kind] + np.float32(MARK_DB)
                shade_panel(
                    panels[p], image, origin, step, heights, inverse, lit, tables[1][kind], mark, path, False
                )
        return
    for q in range(plate_z.size):
        if abs(plate_z[q] - height) < ON_PLANE_M:
            kind = plate_kind[q]
            ring = edges[edge_start[q] : edge_start[q + 1]]
            mark = tables[2][kind] + np.float32(MARK_DB)
            shade_plate(
                plate_z[q],
                ring,
                image,
                origin,
                step,
                heights,
                inverse,
                lit,
                tables[4][kind],
                mark,
                path,
                False,
            )


@compiled
def dim(
    image: Reals,
    axis: Reals,
    pattern: Floats,
    receivers: GridRows,
    spreads: tuple[float, float],
    gain: Floats,
    path: Floats,
    level: Floats,
    lit: NDArray[np.int32],
    faint_db: float,
) -> bool:
    """Narrow `lit` to receivers where the reflection can come within `faint_db` of the direct path.

    Writes their pattern and spreading to `level`; the others get -1000 dB. Returns whether any is left.
    **Source**: docs/radio.md, "How it is fast": what 25 dB under the direct path leaves out is worth 0.01 dB.
    """
    origin, step, heights, free_db = receivers
    bands, storeys, rows, columns = gain.shape
    square = np.empty(columns, dtype=np.float32)
    any_lit = False
    x0, wide = np.float32(origin[0] - image[0]), np.float32(step)
    for s in range(storeys):
        z = heights[s] - image[2]
        for j in range(rows):
            first, end = columns, 0
            marks = path[s, j, bands]
            for i in range(columns):
                if marks[i] > 0.0:
                    first, end = min(first, i), i + 1
            lit[s, j, 0], lit[s, j, 1] = first, end
            if first >= end:
                continue
            y = origin[1] + j * step - image[1]
            squares(x0, wide, y, z, spreads[0], square)
            pattern_levels(x0, wide, y, z, axis, pattern, square, level[s, j])
            decibels(square)
            first, end = columns, 0
            for i in range(lit[s, j, 0], lit[s, j, 1]):
                level[s, j, i] -= square[i]
                useful = False
                for b in range(bands):
                    strongest = level[s, j, i] - free_db[b] - path[s, j, b, i]
                    useful = useful or strongest > gain[b, s, j, i] - np.float32(faint_db)
                if useful and marks[i] > 0.0:
                    first, end = min(first, i), i + 1
                else:
                    level[s, j, i] = np.float32(-1000.0)
            lit[s, j, 0], lit[s, j, 1] = first, end
            any_lit = any_lit or first < end
    return any_lit


@compiled
def _shade_twice(  # type: ignore[no-untyped-def]
    panel, nx, ny, nz, offset, image, receivers, inverse, lit, loss_db, sd_db, path
):
    """Shade by the part of a panel before the mirror, and by its mirror image."""
    origin, step, heights, _ = receivers
    part = panel.copy()
    if not keep_panel(part, nx, ny, nz, offset):
        return
    shade_panel(part, image, origin, step, heights, inverse, lit, loss_db, sd_db, path, False)
    flip_panel(part, nx, ny, nz, offset)
    shade_panel(part, image, origin, step, heights, inverse, lit, loss_db, sd_db, path, False)


@compiled
def _mirrored_ring(ring, nx, ny, offset, both):  # type: ignore[no-untyped-def]
    """Edges of the part of a plate before an upright mirror together with its mirror image.

    The cut along the mirror is inside of the whole, so it needs no edge. Returns how many edges.
    """
    count = 0
    for e in range(ring.shape[0]):
        a = nx * ring[e, 0] + ny * ring[e, 1] - offset
        b = nx * ring[e, 2] + ny * ring[e, 3] - offset
        if a <= 0.0 and b <= 0.0:
            continue
        edge = both[count]
        edge[:] = ring[e]
        if a < 0.0:
            edge[0] += a / (a - b) * (ring[e, 2] - ring[e, 0])
            edge[1] += a / (a - b) * (ring[e, 3] - ring[e, 1])
            a = 0.0
        elif b < 0.0:
            edge[2] += b / (b - a) * (ring[e, 0] - ring[e, 2])
            edge[3] += b / (b - a) * (ring[e, 1] - ring[e, 3])
            b = 0.0
        other = both[count + 1]
        other[0], other[1] = edge[0] - 2.0 * a * nx, edge[1] - 2.0 * a * ny
        other[2], other[3] = edge[2] - 2.0 * b * nx, edge[3] - 2.0 * b * ny
        count += 2
    return count


@compiled
def collect(
    path: Floats,
    level: Floats,
    lit: NDArray[np.int32],
    free_db: Floats,
    together: float,
    power: Floats,
    scatter: Floats,
) -> None:
    """Add the power of the lit receivers to `power`, and their scatter (power² times variance) to `scatter`.

    Both (band, storey, ny, nx), above POWER_SHIFT_DB; `level` (storey, ny, nx) is the pattern less the
    spreading [dB], `path` the losses, `together` how far errors of crossings go together. **Source**:
    docs/radio.md, "Levels of paths" (powers add) and Uncertainty (variance of a path).
    """
    bands, storeys, rows, columns = power.shape
    line = np.empty(columns, dtype=np.float32)
    share, alone = np.float32(together), np.float32(1.0 - together)
    for s in range(storeys):
        for j in range(rows):
            first, end = lit[s, j, 0], lit[s, j, 1]
            if first >= end:
                continue
            reach, total, squared = (
                level[s, j, first:end],
                path[s, j, bands, first:end],
                path[s, j, bands + 1, first:end],
            )
            for b in range(bands):
                lost, free = path[s, j, b, first:end], np.float32(free_db[b])
                for i in range(reach.size):
                    line[i] = reach[i] - free - lost[i] + np.float32(POWER_SHIFT_DB)
                powers(line[: reach.size])
                into, spread = power[b, s, j, first:end], scatter[b, s, j, first:end]
                for i in range(reach.size):
                    into[i] += line[i]
                    variance = share * total[i] * total[i] + alone * squared[i]
                    spread[i] += line[i] * line[i] * variance
