"""Second-order mirror reflections over a whole grid: from one plane to another, by images of images.

Unfolded at both mirrors the path is straight from the image of the image. On it lie, in this order, the
pieces of the first leg mirrored twice, the first mirror mirrored once, the pieces of the second leg
mirrored once, the second mirror, and the pieces of the last leg as they stand. Each group is cut to the
side of the mirrors on which its leg lies, so none is met outside its leg.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Floats, Reals
from rehaul.kernels.loops import compiled
from rehaul.radio.geometry import FlatScene
from rehaul.radio.mirror import ON_PLANE_M, flip_panel, flip_ring, keep_panel, keep_ring
from rehaul.radio.reflect import MARK_DB, collect, dim, light
from rehaul.radio.shadow import GridRows, inverse_distances, shade_panel, shade_plate

FAINT_DB = 32.0  # pairs of mirrors are many, so each must be fainter than one mirror alone to be left out


@compiled
def reflect_twice_grid(
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
    """Add every double reflection to the power at every receiver; parameters as `reflect_grid`.

    Bodies are not met on the way. Pairs that come more than FAINT_DB below the direct path are left out.
    **Validity** and **Source**: as `field`: mirrors ITU-R P.2040, by images of images.
    """
    source, axis, pattern = transmitter
    bands, storeys, rows, columns = gain.shape
    path = np.empty((storeys, rows, bands + 2, columns), dtype=np.float32)
    first = np.empty_like(path)
    level = np.empty((storeys, rows, columns), dtype=np.float32)
    lit = np.empty((storeys, rows, 2), dtype=np.int32)
    planes = mirrors.shape[0] + levels.size
    for m in range(planes):
        plane, image, turned, ok = _image(mirrors, levels, m, source, axis)
        if not ok:
            continue
        doubled, kinds, rings, ring_start, ring_z, ring_kind = _double(pieces, mirror_of_panel, m, plane)
        for k in range(planes):
            if k == m:
                continue
            other, second, twice, ok = _image(mirrors, levels, k, image, turned)
            if not ok:
                continue
            _add_pair(
                pieces, tables, mirror_of_panel, m, plane, k, other, mirrors.shape[0], second, twice, pattern,
                receivers, spreads, doubled, kinds, rings, ring_start, ring_z, ring_kind,
                gain, path, first, level, lit, power, scatter,
            )  # fmt: skip


@compiled
def _image(mirrors, levels, m, source, axis):  # type: ignore[no-untyped-def]
    """Plane m with its normal to the side of the source, the image and its axis, and whether there is one."""
    plane = np.zeros(4)
    if m < mirrors.shape[0]:
        plane[0], plane[1], plane[3] = mirrors[m, 0], mirrors[m, 1], mirrors[m, 2]
    else:
        plane[2], plane[3] = 1.0, levels[m - mirrors.shape[0]]
    before = (plane[:3] * source).sum() - plane[3]
    if before < 0.0:
        plane, before = -plane, -before
    image = source - 2.0 * before * plane[:3]
    turned = axis - 2.0 * (plane[:3] * axis).sum() * plane[:3]
    return plane, image, turned, before >= ON_PLANE_M


@compiled
def _double(pieces, mirror_of_panel, m, plane):  # type: ignore[no-untyped-def]
    """Pieces before the first mirror, and their images behind it."""
    panels, panel_kind, plate_z, plate_kind, edges, edge_start = pieces
    nx, ny, nz, offset = plane
    doubled = np.empty((2 * panels.shape[0], 6))
    kinds = np.empty(2 * panels.shape[0], dtype=np.int32)
    count = 0
    for p in range(panels.shape[0]):
        if nz == 0.0 and mirror_of_panel[p] == m:
            continue
        doubled[count] = panels[p]
        if keep_panel(doubled[count], nx, ny, nz, offset):
            doubled[count + 1] = doubled[count]
            flip_panel(doubled[count + 1], nx, ny, nz, offset)
            kinds[count], kinds[count + 1] = panel_kind[p], panel_kind[p]
            count += 2
    plates = plate_z.size
    rings = np.empty((4 * edges.shape[0] + 4 * plates, 4))
    ring_start = np.zeros(2 * plates + 1, dtype=np.int64)
    ring_z, ring_kind = np.empty(2 * plates), np.empty(2 * plates, dtype=np.int32)
    made = 0
    for q in range(plates):
        ring = edges[edge_start[q] : edge_start[q + 1]]
        start = ring_start[made]
        other_z = plate_z[q]
        if nz == 0.0:
            size = keep_ring(ring, nx, ny, offset, rings[start:])
        else:
            if nz * plate_z[q] - offset < ON_PLANE_M:
                continue
            size = ring.shape[0]
            rings[start : start + size] = ring
            other_z = 2.0 * offset * nz - plate_z[q]
        if size == 0:
            continue
        rings[start + size : start + 2 * size] = rings[start : start + size]
        if nz == 0.0:
            flip_ring(rings[start + size : start + 2 * size], nx, ny, offset)
        ring_z[made], ring_z[made + 1] = plate_z[q], other_z
        ring_kind[made], ring_kind[made + 1] = plate_kind[q], plate_kind[q]
        ring_start[made + 1], ring_start[made + 2] = start + size, start + 2 * size
        made += 2
    return doubled[:count], kinds[:count], rings, ring_start[: made + 1], ring_z[:made], ring_kind[:made]


@compiled
def _add_pair(  # type: ignore[no-untyped-def]
    pieces, tables, mirror_of_panel, m, plane, k, other, upright, second, twice, pattern,
    receivers, spreads, doubled, kinds, rings, ring_start, ring_z, ring_kind,
    gain, path, first, level, lit, power, scatter,
):  # fmt: skip
    """Add the paths from mirror m to mirror k."""
    panels, panel_kind, plate_z, plate_kind, edges, edge_start = pieces
    origin, step, heights, free_db = receivers
    nx, ny, nz, offset = other
    rows, columns = level.shape[1:]
    sx, sy = (second[0] - origin[0]) / step, (second[1] - origin[1]) / step
    inverse = inverse_distances(sx, sy, (heights - second[2]) / step, rows, columns)
    path[:] = 0.0
    lit[:, :, 0], lit[:, :, 1] = 0, columns
    light(k < upright, k, offset * nz, pieces, tables, mirror_of_panel, second, receivers, inverse, lit, path)
    first[:] = 0.0
    part, flat = np.empty(6), np.empty((2 * edges.shape[0] + 2, 4))
    for p in range(panels.shape[0]):
        if m < upright and mirror_of_panel[p] == m:
            part[:] = panels[p]
            if keep_panel(part, nx, ny, nz, offset):
                flip_panel(part, nx, ny, nz, offset)
                kind = panel_kind[p]
                mark = tables[2][kind] + np.float32(MARK_DB)
                shade_panel(
                    part, second, origin, step, heights, inverse, lit, tables[1][kind], mark, first, False
                )
    if m >= upright:
        for q in range(plate_z.size):
            if abs(plate_z[q] - plane[3] * plane[2]) < ON_PLANE_M:
                kind = plate_kind[q]
                mark = tables[2][kind] + np.float32(MARK_DB)
                ring = edges[edge_start[q] : edge_start[q + 1]]
                _plate_behind(
                    plate_z[q], ring, other, flat, True, second, receivers, inverse, lit,
                    tables[4][kind], mark, first,
                )  # fmt: skip
    if not _both(path, first) or not dim(
        second, twice, pattern, receivers, spreads, gain, path, level, lit, FAINT_DB
    ):
        return
    for p in range(panels.shape[0]):
        if k < upright and mirror_of_panel[p] == k:
            continue
        part[:] = panels[p]
        if keep_panel(part, nx, ny, nz, offset):
            kind = panel_kind[p]
            shade_panel(
                part,
                second,
                origin,
                step,
                heights,
                inverse,
                lit,
                tables[0][kind],
                tables[2][kind],
                path,
                False,
            )
    for p in range(doubled.shape[0]):
        part[:] = doubled[p]
        if keep_panel(part, nx, ny, nz, offset):
            flip_panel(part, nx, ny, nz, offset)
            kind = kinds[p]
            shade_panel(
                part,
                second,
                origin,
                step,
                heights,
                inverse,
                lit,
                tables[0][kind],
                tables[2][kind],
                path,
                False,
            )
    for q in range(plate_z.size):
        kind = plate_kind[q]
        _plate_behind(
            plate_z[q], edges[edge_start[q] : edge_start[q + 1]], other, flat, False,
            second, receivers, inverse, lit, tables[3][kind], tables[2][kind], path,
        )  # fmt: skip
    for q in range(ring_z.size):
        kind = ring_kind[q]
        _plate_behind(
            ring_z[q], rings[ring_start[q] : ring_start[q + 1]], other, flat, True,
            second, receivers, inverse, lit, tables[3][kind], tables[2][kind], path,
        )  # fmt: skip
    collect(path, level, lit, free_db, spreads[1], power, scatter)


@compiled
def _plate_behind(  # type: ignore[no-untyped-def]
    z, ring, plane, flat, flipped, source, receivers, inverse, lit, table, sd_db, path
):
    """Shade by the part of a plate before a mirror, as it stands or flipped."""
    origin, step, heights, _ = receivers
    nx, ny, nz, offset = plane
    if nz != 0.0:
        if nz * z - offset < ON_PLANE_M:
            return
        height = 2.0 * offset * nz - z if flipped else z
        shade_plate(height, ring, source, origin, step, heights, inverse, lit, table, sd_db, path, False)
        return
    count = keep_ring(ring, nx, ny, offset, flat)
    if count == 0:
        return
    if flipped:
        flip_ring(flat[:count], nx, ny, offset)
    shade_plate(z, flat[:count], source, origin, step, heights, inverse, lit, table, sd_db, path, False)


@compiled
def _both(path, first):  # type: ignore[no-untyped-def]
    """Add the first mirror to the second where both are hit; elsewhere nothing is lit. Returns if any is."""
    storeys, rows, channels, columns = path.shape
    any_lit = False
    for s in range(storeys):
        for j in range(rows):
            for i in range(columns):
                if path[s, j, channels - 2, i] > 0.0 and first[s, j, channels - 2, i] > 0.0:
                    any_lit = True
                    for c in range(channels):
                        path[s, j, c, i] += first[s, j, c, i]
                else:
                    path[s, j, channels - 2, i] = 0.0
    return any_lit
