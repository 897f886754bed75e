"""Losses over a whole grid: each piece touches only the receivers in its shadow.

Seen from one source, the receivers of one height that a rectangle shades lie between straight lines
in the plan; on a row of the grid they are one interval. The shadow of a plate is the plate itself,
drawn larger about the source. So a piece costs its rows and its shaded cells, not the whole grid.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Floats, Reals, Wholes
from rehaul.kernels.loops import compiled
from rehaul.radio.behind import EDGE, FARTHEST, reach_behind
from rehaul.radio.spans import add_span, turn_span

ADD, TURN, COUNT = 0, 1, 2  # what a piece does to the receivers behind it

GridRows = tuple[tuple[float, float], float, Reals, Floats]  # (x0, y0), step, heights, free_db


@compiled
def shade_grid(
    panels: Reals,
    panel_kind: NDArray[np.int32],
    plate_z: Reals,
    plate_kind: NDArray[np.int32],
    edges: Reals,
    edge_start: NDArray[np.int32],
    order: Wholes,
    table: Floats,
    sd_db: Floats,
    sources: Reals,
    origin: tuple[float, float],
    step: float,
    heights: Reals,
    out: Floats,
    how: int,
) -> None:
    """Pass the straight rays from each source to every receiver of a grid through all they cross.

    `sources` (n, 3). `order` lists panels, then plates counted on from them; it matters to fields only, and
    is that of one source. `table` (kind, row, cosine step) and `sd_db` (kind,); `origin` (x0, y0). By `ADD` a
    row of the table is the loss of a band, added to `out` (n, storey, ny, row + 2, nx). By `TURN` three rows
    are the amplitudes of a band, applied to the field in `out`. The last two rows of `out` gather the sum and
    the sum of squares of the spreads. By `COUNT` the crossings of every kind are counted in a row of `out` of
    its own (n, storey, ny, kind, nx), and nothing else is read. **Source**: docs/radio.md, "How it is fast".
    """
    lit = all_lit(out.shape[1], out.shape[2], out.shape[4])
    for n in range(sources.shape[0]):
        source, to = sources[n], out[n]
        sx = (source[0] - origin[0]) / step  # everything below is in cells of the grid
        sy = (source[1] - origin[1]) / step
        rises = (heights - source[2]) / step
        inverse = inverse_distances(sx, sy, rises, out.shape[2], out.shape[4])
        for piece in order:
            if piece < panels.shape[0]:
                kind = panel_kind[piece]
                shade_panel(
                    panels[piece],
                    source,
                    origin,
                    step,
                    heights,
                    inverse,
                    lit,
                    table[kind],
                    sd_db[kind],
                    kind,
                    to,
                    how,
                )
            else:
                q = piece - panels.shape[0]
                kind = plate_kind[q]
                ring = edges[edge_start[q] : edge_start[q + 1]]
                shade_plate(
                    plate_z[q],
                    ring,
                    source,
                    origin,
                    step,
                    heights,
                    inverse,
                    lit,
                    table[kind],
                    sd_db[kind],
                    kind,
                    to,
                    how,
                )


@compiled
def all_lit(storeys: int, rows: int, columns: int) -> NDArray[np.int32]:
    """First receiver and end of every row (storey, row, 2), where all receivers count.

    What `shade_panel` and `shade_plate` take as `lit` where no mirror narrows it.
    """
    lit = np.zeros((storeys, rows, 2), dtype=np.int32)
    lit[:, :, 1] = columns
    return lit


@compiled
def inverse_distances(sx: float, sy: float, rises: Reals, rows: int, columns: int) -> Floats:
    """Inverse distance of every receiver from the source (storey, ny, nx), in cells.

    `sx`, `sy` are the source in cells of the grid and `rises` (storey,) how many cells higher the receivers
    are. At the source itself it is large and finite. **Source**: docs/radio.md, "How it is fast".
    """
    inverse = np.empty((rises.size, rows, columns), dtype=np.float32)
    for storey in range(rises.size):
        for j in range(rows):
            flat = np.float32((j - sy) ** 2 + rises[storey] ** 2 + 1e-12)
            line = inverse[storey, j]
            for i in range(columns):
                x = np.float32(np.int32(i)) - np.float32(sx)
                line[i] = np.float32(1.0) / np.sqrt(x * x + flat)
    return inverse


@compiled
def shade_panel(
    panel: Reals,
    source: Reals,
    origin: tuple[float, float],
    step: float,
    heights: Reals,
    inverse: Floats,
    lit: NDArray[np.int32],
    table: Floats,
    sd_db: float,
    kind: int,
    out: Floats,
    how: int,
) -> None:
    """Pass the receivers behind one panel through it, storey by storey.

    In the plan, with r from the source in cells, a receiver is behind the panel where
    n·r > side (the plane), between its ends where b×r ≥ 0 and r×a > 0, and between its foot and its
    top where near·side < n·r ≤ far·side. `lit` (storey, row, 2) bounds the receivers that count. **Source**:
    docs/radio.md, "How it is fast".
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
    length = np.sqrt(dx * dx + dy * dy)
    scale = np.float32((table.shape[1] - 2) / length)
    over_ay, over_by, over_dy = 1.0 / ay, 1.0 / by, 1.0 / dy  # infinite on a level line; never used there
    for storey in range(heights.size):
        near, far = reach_behind(panel[4], panel[5], source[2], heights[storey] - source[2])
        if near >= far:
            continue
        top = max(max(ay * near, by * near), max(ay * far, by * far))
        bottom = min(min(ay * near, by * near), min(ay * far, by * far))
        if dy == 0.0:  # level with the rows: the strict edge of the plane is a row
            top, bottom = (top, bottom * (1.0 + EDGE)) if ay > 0.0 else (top * (1.0 + EDGE), bottom)
        first_row = int(np.ceil(max(bottom + sy, 0.0)))
        last_row = int(np.floor(min(top + sy, rows - 1.0)))
        start, stop = near * side * (1.0 + EDGE), far * side
        for j in range(first_row, last_row + 1):
            y = j - sy
            left, right = -FARTHEST, FARTHEST
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
                left = max(left, (ax * y + EDGE) * over_ay)
            elif ay < 0.0:
                right = min(right, (ax * y + EDGE) * over_ay)
            elif ax * y >= 0.0:
                continue
            left, right = max(left + sx, lit[storey, j, 0]), min(right + sx, lit[storey, j, 1] - 1.0)
            if left > right:
                continue
            first, end = int(np.ceil(left)), int(np.floor(right)) + 1
            if first < end:
                if how == COUNT:
                    out[storey, j, kind, first:end] += np.float32(1.0)
                    continue
                depth = np.float32(dx * y - dy * (first - sx)) * scale
                growth = np.float32(-dy) * scale
                run, into = inverse[storey, j, first:end], out[storey, j, :, first:end]
                if how == TURN:
                    normal, rise = (-dy / length, dx / length), (heights[storey] - source[2]) / step
                    turn_span(depth, growth, run, table, normal, first - sx, y, rise, sd_db, into)
                else:
                    add_span(depth, growth, run, table, sd_db, into)


@compiled
def shade_plate(
    z: float,
    ring: Reals,
    source: Reals,
    origin: tuple[float, float],
    step: float,
    heights: Reals,
    inverse: Floats,
    lit: NDArray[np.int32],
    table: Floats,
    sd_db: float,
    kind: int,
    out: Floats,
    how: int,
) -> None:
    """Pass the receivers in the shadow of one plate through it, row by row, even-odd.

    `ring` (e, 4) holds the edges of all its rings [m], z its height; the rest as in `shade_grid`, `table`
    (row, cosine step) and `sd_db` of this plate. `lit` (storey, row, 2) bounds the receivers that count.
    **Source**: docs/radio.md, "How it is fast".
    """
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
        depth = np.float32(abs(rise) / step * (table.shape[1] - 2))
        bottom, top = min(y0.min(), y1.min()) + sy, max(y0.max(), y1.max()) + sy
        first_row = int(np.ceil(max(bottom, 0.0)))
        last_row = int(np.floor(min(top, rows - 1.0)))
        for j in range(first_row, last_row + 1):
            found = _cuts(x0, y0, x1, y1, j - sy, cuts)
            for pair in range(0, found - 1, 2):
                first = int(np.ceil(max(cuts[pair] + sx, lit[storey, j, 0])))
                end = int(np.ceil(min(cuts[pair + 1] + sx, lit[storey, j, 1])))
                if first < end:
                    if how == COUNT:
                        out[storey, j, kind, first:end] += np.float32(1.0)
                        continue
                    run, into = inverse[storey, j, first:end], out[storey, j, :, first:end]
                    if how == TURN:
                        level = (0.0, 0.0)
                        turn_span(depth, np.float32(0.0), run, table, level, 0.0, 0.0, 0.0, sd_db, into)
                    else:
                        add_span(depth, np.float32(0.0), run, table, sd_db, into)


@compiled
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
