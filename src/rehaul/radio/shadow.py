"""Losses over a whole grid: each piece touches only the receivers in its shadow.

Seen from one source, the receivers of one height that a rectangle shades lie between straight lines
in the plan; on a row of the grid they are one interval. The shadow of a plate is the plate itself,
drawn larger about the source. So a piece costs its rows and its shaded cells, not the whole grid.

Loops are written for the compiler: slices start at 0 so that no index can be negative, and a band is
added in its own line of arithmetic where there are three or fewer.
"""

from __future__ import annotations

import numpy as np
from numba import njit

_EDGE = 1e-9  # cells; a receiver exactly on a strict edge is outside
_FARTHEST = 1e6  # a shadow without end is cut at this many cells, and times the distance of what casts it


@njit(cache=True, nogil=True, error_model="numpy")
def grid_losses(  # type: ignore[no-untyped-def]
    panels,
    panel_kind,
    plate_z,
    plate_kind,
    edges,
    edge_start,
    loss_db,
    sd_db,
    source,
    origin,
    step,
    heights,
    out,
):
    """Add up what the straight rays from `source` to every receiver of a grid cross.

    `loss_db` (kind, band, cosine step) and `sd_db` (kind,) are tables; `origin` (x0, y0). Adds to `out`
    (storey, ny, band + 2, nx): loss of each band, then the sum and the sum of squares of the spreads.
    """
    sx = (source[0] - origin[0]) / step  # everything below is in cells of the grid
    sy = (source[1] - origin[1]) / step
    inverse = inverse_distances(sx, sy, (heights - source[2]) / step, out.shape[1], out.shape[3])
    lit = all_lit(out.shape[0], out.shape[1], out.shape[3])
    for p in range(panels.shape[0]):
        kind = panel_kind[p]
        shade_panel(panels[p], source, origin, step, heights, inverse, lit, loss_db[kind], sd_db[kind], out)
    for q in range(plate_z.shape[0]):
        kind = plate_kind[q]
        ring = edges[edge_start[q] : edge_start[q + 1]]
        shade_plate(
            plate_z[q], ring, source, origin, step, heights, inverse, lit, loss_db[kind], sd_db[kind], out
        )


@njit(cache=True, nogil=True, error_model="numpy")
def all_lit(storeys, rows, columns):  # type: ignore[no-untyped-def]
    """First receiver and end of every row (storey, row, 2), where all receivers count."""
    lit = np.zeros((storeys, rows, 2), dtype=np.int32)
    lit[:, :, 1] = columns
    return lit


@njit(cache=True, nogil=True, error_model="numpy")
def inverse_distances(sx, sy, rises, rows, columns):  # type: ignore[no-untyped-def]
    """Inverse distance of every receiver (storey, ny, nx), in cells."""
    inverse = np.empty((rises.size, rows, columns), dtype=np.float32)
    for storey in range(rises.size):
        for j in range(rows):
            flat = np.float32((j - sy) ** 2 + rises[storey] ** 2 + 1e-12)
            line = inverse[storey, j]
            for i in range(columns):
                x = np.float32(np.int32(i)) - np.float32(sx)
                line[i] = np.float32(1.0) / np.sqrt(x * x + flat)
    return inverse


@njit(cache=True, nogil=True, error_model="numpy")
def shade_panel(panel, source, origin, step, heights, inverse, lit, loss_db, sd_db, out):  # type: ignore[no-untyped-def]
    """Add the loss of one panel to the receivers behind it, storey by storey.

    In the plan, with r from the source in cells, a receiver is behind the panel where
    n·r > side (the plane), between its ends where b×r ≥ 0 and r×a > 0, and between its foot and its
    top where near·side < n·r ≤ far·side. `lit` (storey, row, 2) bounds the receivers that count.
    """
    rows = inverse.shape[1]
    sx, sy = (source[0] - origin[0]) / step, (source[1] - origin[1]) / step
    ax, ay = (panel[0] - source[0]) / step, (panel[1] - source[1]) / step
    bx, by = (panel[2] - source[0]) / step, (panel[3] - source[1]) / step
    dx, dy = bx - ax, by - ay
    side = dx * ay - dy * ax
    if side < 0.0:
        side, dx, dy = -side, -dx, -dy
        ax, ay, bx, by = bx, by, ax, ay
    if side < 1e-12:
        return
    scale = np.float32((loss_db.shape[1] - 2) / np.sqrt(dx * dx + dy * dy))
    over_ay, over_by, over_dy = 1.0 / ay, 1.0 / by, 1.0 / dy  # infinite on a level line; never used there
    for storey in range(heights.size):
        near, far = _reach(panel[4], panel[5], source[2], heights[storey])
        if near >= far:
            continue
        top = max(max(ay * near, by * near), max(ay * far, by * far))
        bottom = min(min(ay * near, by * near), min(ay * far, by * far))
        if dy == 0.0:  # level with the rows: the strict edge of the plane is a row
            top, bottom = (top, bottom * (1.0 + _EDGE)) if ay > 0.0 else (top * (1.0 + _EDGE), bottom)
        first_row = int(np.ceil(max(bottom + sy, 0.0)))
        last_row = int(np.floor(min(top + sy, rows - 1.0)))
        start, stop = near * side * (1.0 + _EDGE), far * side
        for j in range(first_row, last_row + 1):
            y = j - sy
            left, right = -_FARTHEST, _FARTHEST
            if dy > 0.0:
                left = max(left, (dx * y - stop) * over_dy)
                right = min(right, (dx * y - start) * over_dy)
            elif dy < 0.0:
                left = max(left, (dx * y - start) * over_dy)
                right = min(right, (dx * y - stop) * over_dy)
            if by > 0.0:
                right = min(right, bx * y * over_by)
            elif by < 0.0:
                left = max(left, bx * y * over_by)
            elif bx * y < 0.0:
                continue
            if ay > 0.0:
                left = max(left, (ax * y + _EDGE) * over_ay)
            elif ay < 0.0:
                right = min(right, (ax * y + _EDGE) * over_ay)
            elif ax * y >= 0.0:
                continue
            left, right = max(left + sx, lit[storey, j, 0]), min(right + sx, lit[storey, j, 1] - 1.0)
            if left > right:
                continue
            first, end = int(np.ceil(left)), int(np.floor(right)) + 1
            if first < end:
                depth = np.float32(dx * y - dy * (first - sx)) * scale
                growth = np.float32(-dy) * scale
                add_span(
                    depth, growth, inverse[storey, j, first:end], loss_db, sd_db, out[storey, j, :, first:end]
                )


@njit(cache=True, nogil=True, error_model="numpy")
def _reach(z0, z1, sz, z):  # type: ignore[no-untyped-def]
    """How many times its own distance a panel's shadow begins and ends behind it, at height z."""
    rise = z - sz
    if rise == 0.0:
        return (1.0, _FARTHEST) if z0 <= sz < z1 else (1.0, 0.0)
    low, high = (z0 - sz) / rise, (z1 - sz) / rise
    if low > high:
        low, high = high, low
    if high <= 0.0 or low >= 1.0:
        return 1.0, 0.0
    return (1.0 / high if high < 1.0 else 1.0), (1.0 / low if low > 1.0 / _FARTHEST else _FARTHEST)


@njit(cache=True, nogil=True, error_model="numpy")
def add_span(depth, growth, inverse, loss_db, sd_db, out):  # type: ignore[no-untyped-def]
    """Add one piece to a run of receivers; the cosine in table steps is (depth + growth i) · inverse."""
    bands = loss_db.shape[0]
    limit = np.float32(loss_db.shape[1] - 2)
    next_step = np.uint32(1)
    for i in range(inverse.size):
        place = min((depth + growth * np.float32(np.int32(i))) * inverse[i], limit)
        k = np.uint32(place)
        part = place - np.float32(k)
        out[0, i] += loss_db[0, k] + part * (loss_db[0, k + next_step] - loss_db[0, k])
        if bands > 1:
            out[1, i] += loss_db[1, k] + part * (loss_db[1, k + next_step] - loss_db[1, k])
        if bands > 2:
            out[2, i] += loss_db[2, k] + part * (loss_db[2, k + next_step] - loss_db[2, k])
        for b in range(3, bands):
            out[b, i] += loss_db[b, k] + part * (loss_db[b, k + next_step] - loss_db[b, k])
        out[bands, i] += sd_db
        out[bands + 1, i] += sd_db * sd_db


@njit(cache=True, nogil=True, error_model="numpy")
def shade_plate(z, ring, source, origin, step, heights, inverse, lit, loss_db, sd_db, out):  # type: ignore[no-untyped-def]
    """Add the loss of one plate to the receivers in its shadow, row by row, even-odd."""
    rows = inverse.shape[1]
    sx, sy = (source[0] - origin[0]) / step, (source[1] - origin[1]) / step
    count = ring.shape[0]
    x0, y0 = np.empty(count), np.empty(count)  # the shadow's corners, seen from the source, in cells
    x1, y1 = np.empty(count), np.empty(count)
    cuts = np.empty(count)
    for storey in range(heights.size):
        rise = heights[storey] - source[2]
        if (z - source[2]) * (heights[storey] - z) <= 0.0:
            continue
        larger = rise / (z - source[2]) / step
        for e in range(count):
            x0[e], y0[e] = (ring[e, 0] - source[0]) * larger, (ring[e, 1] - source[1]) * larger
            x1[e], y1[e] = (ring[e, 2] - source[0]) * larger, (ring[e, 3] - source[1]) * larger
        depth = np.float32(abs(rise) / step * (loss_db.shape[1] - 2))
        bottom, top = min(y0.min(), y1.min()) + sy, max(y0.max(), y1.max()) + sy
        first_row = int(np.ceil(max(bottom, 0.0)))
        last_row = int(np.floor(min(top, rows - 1.0)))
        for j in range(first_row, last_row + 1):
            found = _cuts(x0, y0, x1, y1, j - sy, cuts)
            for pair in range(0, found - 1, 2):
                first = int(np.ceil(max(cuts[pair] + sx, lit[storey, j, 0])))
                end = int(np.ceil(min(cuts[pair + 1] + sx, lit[storey, j, 1])))
                if first < end:
                    add_span(
                        depth, np.float32(0.0), inverse[storey, j, first:end],
                        loss_db, sd_db, out[storey, j, :, first:end],
                    )  # fmt: skip


@njit(cache=True, nogil=True, error_model="numpy")
def _cuts(x0, y0, x1, y1, y, cuts):  # type: ignore[no-untyped-def]
    """Where the line at height y of the plan cuts the rings, in order; returns how many."""
    found = 0
    for e in range(x0.size):
        if (y0[e] <= y) != (y1[e] <= y):
            cut = x0[e] + (y - y0[e]) / (y1[e] - y0[e]) * (x1[e] - x0[e])
            place = found
            while place > 0 and cuts[place - 1] > cut:
                cuts[place] = cuts[place - 1]
                place -= 1
            cuts[place] = cut
            found += 1
    return found
