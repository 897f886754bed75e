"""Losses over a whole grid: each piece touches only the receivers in its shadow.

Seen from one source, the receivers of one height that a rectangle shades lie between straight lines
in the plan; on a row of the grid they are one interval. The shadow of a plate is the plate itself,
drawn larger about the source. So a piece costs its rows and its shaded cells, not the whole grid.
"""

from __future__ import annotations

import numpy as np
from numba import njit

_EDGE = 1e-9  # cells; a receiver exactly on a strict edge is outside


@njit(cache=True, nogil=True)
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
    rows, columns = out.shape[1], out.shape[3]
    sx = (source[0] - origin[0]) / step  # everything below is in cells of the grid
    sy = (source[1] - origin[1]) / step
    slope = np.empty(5)  # bounds on x of the form slope * y + offset
    offset = np.empty(5)
    inverse = np.empty((rows, columns), dtype=np.float32)
    for storey in range(heights.shape[0]):
        rise = heights[storey] - source[2]
        _inverse_distances(sx, sy, rise / step, inverse)
        for p in range(panels.shape[0]):
            low, high = _fractions(panels[p, 4], panels[p, 5], source[2], rise)
            if low < high:
                _shade_panel(
                    panels[p], origin, step, sx, sy, low, high, slope, offset, inverse,
                    loss_db[panel_kind[p]], sd_db[panel_kind[p]], out[storey],
                )  # fmt: skip
        for q in range(plate_z.shape[0]):
            if (plate_z[q] - source[2]) * (heights[storey] - plate_z[q]) > 0.0:
                _shade_plate(
                    edges[edge_start[q] : edge_start[q + 1]], origin, step, sx, sy,
                    (plate_z[q] - source[2]) / rise, abs(rise) / step, inverse,
                    loss_db[plate_kind[q]], sd_db[plate_kind[q]], out[storey],
                )  # fmt: skip


@njit(cache=True, nogil=True)
def _inverse_distances(sx, sy, rise, inverse):  # type: ignore[no-untyped-def]
    """Inverse distance of every receiver of one height, in cells."""
    for j in range(inverse.shape[0]):
        flat = np.float32((j - sy) ** 2 + rise**2)
        for i in range(inverse.shape[1]):
            x = np.float32(i - sx)
            inverse[j, i] = np.float32(1.0) / np.sqrt(x * x + flat + np.float32(1e-12))


@njit(cache=True, nogil=True)
def _fractions(z0, z1, sz, rise):  # type: ignore[no-untyped-def]
    """Between which fractions of the way a ray is between the heights z0 and z1."""
    if rise == 0.0:
        return (0.0, 1.0) if z0 <= sz < z1 else (1.0, 0.0)
    first, last = (z0 - sz) / rise, (z1 - sz) / rise
    if first > last:
        first, last = last, first
    return max(first, 0.0), min(last, 1.0)


@njit(cache=True, nogil=True)
def _shade_panel(  # type: ignore[no-untyped-def]
    panel, origin, step, sx, sy, low, high, slope, offset, inverse, loss_db, sd_db, out
):
    """Add the loss of one panel to the receivers behind it."""
    rows, columns = inverse.shape
    ax, ay = (panel[0] - origin[0]) / step - sx, (panel[1] - origin[1]) / step - sy
    bx, by = (panel[2] - origin[0]) / step - sx, (panel[3] - origin[1]) / step - sy
    dx, dy = bx - ax, by - ay
    side = dx * ay - dy * ax
    if side < 0.0:
        side, dx, dy = -side, -dx, -dy
        ax, ay, bx, by = bx, by, ax, ay
    if side < 1e-12:
        return
    length = np.sqrt(dx * dx + dy * dy)
    near, far = 1.0 / high, 1.0 / max(low, 1e-6)
    top = max(max(ay * near, by * near), max(ay * far, by * far)) + sy
    bottom = min(min(ay * near, by * near), min(ay * far, by * far)) + sy
    first_row = int(np.ceil(max(bottom, 0.0)))
    last_row = int(np.floor(min(top, rows - 1.0)))
    lows = 0  # bounds from below fill slope[:lows], bounds from above slope[highs:]
    highs = 5
    for edge in range(4):
        if edge == 0:  # behind the panel, and below its top or above its foot
            a, b, c = -dy, dx, side * near * (1.0 + _EDGE)
        elif edge == 1:
            if low <= 0.0:
                continue
            a, b, c = dy, -dx, -side * far
        elif edge == 2:  # between the two ends
            a, b, c = -by, bx, 0.0
        else:
            a, b, c = ay, -ax, _EDGE
        if a > 0.0:
            slope[lows], offset[lows] = -b / a, c / a
            lows += 1
        elif a < 0.0:
            highs -= 1
            slope[highs], offset[highs] = -b / a, c / a
        elif b > 0.0:
            first_row = max(first_row, int(np.ceil(c / b + sy)))
        elif b < 0.0:
            last_row = min(last_row, int(np.floor(c / b + sy)))
    steps = loss_db.shape[1] - 2
    bands = loss_db.shape[0]
    scale = np.float32(steps / length)
    for j in range(first_row, last_row + 1):
        y = j - sy
        left, right = -sx, columns - 1.0 - sx
        for e in range(lows):
            left = max(left, slope[e] * y + offset[e])
        for e in range(highs, 5):
            right = min(right, slope[e] * y + offset[e])
        first, last = int(np.ceil(left + sx)), int(np.floor(right + sx))
        depth0 = np.float32(dx * y + dy * sx) * scale
        depth1 = np.float32(-dy) * scale
        for i in range(first, last + 1):
            place = min((depth0 + depth1 * np.float32(i)) * inverse[j, i], np.float32(steps))
            k = int(place)
            part = place - np.float32(k)
            for b in range(bands):
                lower = loss_db[b, k]
                out[j, b, i] += lower + part * (loss_db[b, k + 1] - lower)
            out[j, bands, i] += sd_db
            out[j, bands + 1, i] += sd_db * sd_db


@njit(cache=True, nogil=True)
def _shade_plate(  # type: ignore[no-untyped-def]
    edges, origin, step, sx, sy, fraction, rise, inverse, loss_db, sd_db, out
):
    """Add the loss of one plate to the receivers in its shadow, row by row, even-odd."""
    rows, columns = inverse.shape
    steps = loss_db.shape[1] - 2
    bands = loss_db.shape[0]
    count = edges.shape[0]
    x0, y0 = np.empty(count), np.empty(count)  # the shadow's corners, seen from the source, in cells
    x1, y1 = np.empty(count), np.empty(count)
    for e in range(count):
        x0[e] = ((edges[e, 0] - origin[0]) / step - sx) / fraction
        y0[e] = ((edges[e, 1] - origin[1]) / step - sy) / fraction
        x1[e] = ((edges[e, 2] - origin[0]) / step - sx) / fraction
        y1[e] = ((edges[e, 3] - origin[1]) / step - sy) / fraction
    cuts = np.empty(count)
    scale = np.float32(rise * steps)
    for j in range(max(0, int(np.ceil(y0.min() + sy))), min(rows - 1, int(np.floor(y0.max() + sy))) + 1):
        y = j - sy
        found = 0
        for e in range(count):
            if (y0[e] <= y) != (y1[e] <= y):
                cuts[found] = x0[e] + (y - y0[e]) / (y1[e] - y0[e]) * (x1[e] - x0[e])
                found += 1
        inside = np.sort(cuts[:found])
        for pair in range(0, found - 1, 2):
            first = max(0, int(np.ceil(inside[pair] + sx)))
            last = min(columns - 1, int(np.ceil(inside[pair + 1] + sx)) - 1)
            for i in range(first, last + 1):
                place = min(scale * inverse[j, i], np.float32(steps))
                k = int(place)
                part = place - np.float32(k)
                for b in range(bands):
                    lower = loss_db[b, k]
                    out[j, b, i] += lower + part * (loss_db[b, k + 1] - lower)
                out[j, bands, i] += sd_db
                out[j, bands + 1, i] += sd_db * sd_db
