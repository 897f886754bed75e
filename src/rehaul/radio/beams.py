"""What an image of a source lights or shades on one storey, within the rows and columns that count at all.

As in `radio.shadow`, the receivers of a row in the shadow of a piece are one interval. Here a storey is
taken alone: pieces whose shadow misses the box round its lit receivers are told apart beforehand, many at a
time, and of the others only the rows are walked where the shadow and the box meet.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Reals
from rehaul.kernels.loops import inner
from rehaul.radio.behind import EDGE, FARTHEST, reach_behind
from rehaul.radio.lanes import add_run, address

_SLACK = 1e-6  # cells by which a box is taken too large rather than too small

LIT, HULL, USED = 0, 2, 4  # columns of `rows`: what counts, what windows open, what was written to


class View(NamedTuple):
    """A storey seen from an image."""

    sx: float  # the image, in cells from the first receiver
    sy: float
    x: float  # the image [m]
    y: float
    z: float
    over_step: float  # cells to a metre
    rise: float  # of the receivers over the image [m]


class Bench(NamedTuple):
    """Room to work in, for one storey."""

    lost: NDArray[np.float32]  # (ny · nx · lanes,) losses [dB], nothing at first
    inverse: NDArray[np.float32]  # (ny · nx,) inverse distance from the image, in cells
    rows: NDArray[np.int64]  # (ny, 6) first receiver and end: LIT, HULL, USED
    box: NDArray[np.int64]  # (4,) first and last row, first and last column of what counts
    keep: NDArray[np.bool_]  # (panels,)
    edges: NDArray[np.float64]  # (5, edges) of a plate's shadow
    listed: NDArray[np.int64]  # (ny · nx,) receivers that are lit
    cells: NDArray[np.float32]  # (3, ny · nx) of them: level, and two to reckon with
    line: NDArray[np.float32]  # (ny · nx · lanes,) of them


@inner
def room_for(rows: int, columns: int, lanes: int, panels: int, edges: int) -> Bench:
    """Room for a storey of rows by columns, and at most so many panels and edges of one plate."""
    count = rows * columns
    return Bench(
        np.zeros(count * lanes, dtype=np.float32),
        np.empty(count, dtype=np.float32),
        np.zeros((rows, 6), dtype=np.int64),
        np.empty(4, dtype=np.int64),
        np.empty(panels, dtype=np.bool_),
        np.empty((5, edges + 1)),
        np.empty(count, dtype=np.int64),
        np.empty((3, count), dtype=np.float32),
        np.empty(count * lanes, dtype=np.float32),
    )


@inner
def look(
    image: Reals, origin: tuple[float, float], step: float, height: float, bench: Bench, columns: int
) -> View:
    """A storey as an image sees it: all of its receivers count, and none is lit yet."""
    sx, sy, rise = (image[0] - origin[0]) / step, (image[1] - origin[1]) / step, height - image[2]
    rows, box, inverse, here = bench.rows, bench.box, bench.inverse, np.float32(sx)
    for j in range(rows.shape[0]):
        rows[j, LIT], rows[j, LIT + 1], rows[j, HULL], rows[j, HULL + 1] = 0, columns, columns, 0
        flat = np.float32((j - sy) ** 2 + (rise / step) ** 2 + 1e-12)
        line = inverse[j * columns : (j + 1) * columns]
        for i in range(columns):
            x = np.float32(np.int32(i)) - here
            line[i] = np.float32(1.0) / np.sqrt(x * x + flat)
    box[0], box[1], box[2], box[3] = 0, rows.shape[0] - 1, 0, columns - 1
    return View(sx, sy, image[0], image[1], image[2], 1.0 / step, rise)


@inner
def _meet(sheets, start, end, view, box, keep):  # type: ignore[no-untyped-def]
    """Mark the panels whose shadow meets the box: no side of either parts the two."""
    over, ix, iy, iz = view.over_step, view.x, view.y, view.z
    left, right = box[2] - view.sx - _SLACK, box[3] - view.sx + _SLACK
    bottom, top = box[0] - view.sy - _SLACK, box[1] - view.sy + _SLACK
    is_level = view.rise == 0.0
    over_rise = 0.0 if is_level else 1.0 / view.rise
    x0s, y0s, x1s, y1s = (
        sheets[0, start:end],
        sheets[1, start:end],
        sheets[2, start:end],
        sheets[3, start:end],
    )
    z0s, z1s, keeps = sheets[4, start:end], sheets[5, start:end], keep[: end - start]
    for p in range(keeps.size):
        cx, cy = (x0s[p] - ix) * over, (y0s[p] - iy) * over
        ex, ey = (x1s[p] - ix) * over, (y1s[p] - iy) * over
        side = (ex - cx) * cy - (ey - cy) * cx
        ahead = side >= 0.0
        ax, ay = (cx if ahead else ex), (cy if ahead else ey)
        bx, by = (ex if ahead else cx), (ey if ahead else cy)
        side = abs(side)
        dx, dy = bx - ax, by - ay
        z0, z1 = z0s[p] - iz, z1s[p] - iz
        one, two = z0 * over_rise, z1 * over_rise
        low, high = min(one, two), max(one, two)
        inside = (z0 <= 0.0) & (z1 > 0.0)
        low = (0.0 if inside else 2.0) if is_level else low
        high = 1.0 if is_level else high
        near = 1.0 / min(max(high, 1e-12), 1.0)
        far = 1.0 / max(low, 1.0 / FARTHEST)
        deepest = max(dx * bottom, dx * top) - min(dy * left, dy * right)
        least = min(dx * bottom, dx * top) - max(dy * left, dy * right)
        past_b = max(bx * bottom, bx * top) - min(by * left, by * right)
        past_a = max(ay * left, ay * right) - min(ax * bottom, ax * top)
        wide = (min(min(ax * near, ax * far), min(bx * near, bx * far)) <= right) & (
            max(max(ax * near, ax * far), max(bx * near, bx * far)) >= left
        )
        tall = (min(min(ay * near, ay * far), min(by * near, by * far)) <= top) & (
            max(max(ay * near, ay * far), max(by * near, by * far)) >= bottom
        )
        behind = (deepest > near * side) & (least <= far * side) & (past_a >= 0.0) & (past_b >= 0.0)
        keeps[p] = behind & wide & tall & (side >= 1e-12) & (high > 0.0) & (low < 1.0) & (near < far)


@inner
def shade_sheets(sheets, kinds, start, end, table, lanes, columns, view, bench, opens):  # type: ignore[no-untyped-def]
    """Add panels to what is lost by the receivers in their shadow; as windows they open their hull as well.

    `sheets` (6, n) from `start` to `end`, `kinds` (n,), `table` (kind, cosine step, lane). In the plan,
    with r from the image in cells, a receiver is behind a panel where n·r > side (the plane), between its
    ends where b×r ≥ 0 and r×a > 0, and between its foot and its top where near·side < n·r ≤ far·side.
    """
    keep, box, rows = bench.keep, bench.box, bench.rows
    _meet(sheets, start, end, view, box, keep)
    limit = np.float32(table.shape[1] - 2)
    tables_at, kind_bytes = address(table), 4 * table.shape[1] * lanes
    lost_at, inverse_at = address(bench.lost), address(bench.inverse)
    over, sx, sy = view.over_step, view.sx, view.sy
    box_left, box_right, low_row, high_row = box[2] - sx - _SLACK, box[3] - sx + _SLACK, box[0], box[1]
    for p in range(start, end):
        if not keep[p - start]:
            continue
        ax, ay = (sheets[0, p] - view.x) * over, (sheets[1, p] - view.y) * over
        bx, by = (sheets[2, p] - view.x) * over, (sheets[3, p] - view.y) * over
        dx, dy = bx - ax, by - ay
        side = dx * ay - dy * ax
        if side < 0.0:
            side, dx, dy = -side, -dx, -dy
            ax, ay, bx, by = bx, by, ax, ay
        near, far = reach_behind(sheets[4, p], sheets[5, p], view.z, view.rise)
        low, high = _rows_within(ax, ay, bx, by, near, far, box_left, box_right)
        first_row = max(int(np.ceil(low + sy - _SLACK)), low_row)
        last_row = min(int(np.floor(high + sy + _SLACK)), high_row)
        begin, stop = near * side * (1.0 + EDGE), far * side
        scale = limit / np.float32(np.sqrt(dx * dx + dy * dy))
        growth = np.float32(-dy) * scale
        # left and right end on a row: the greatest and the least of three straight lines
        over_dy = 1.0 / dy if dy != 0.0 else 0.0
        over_ay = 1.0 / ay if ay != 0.0 else 0.0
        slope_n, slope_a, slope_b = dx * over_dy, ax * over_ay, (bx / by if by != 0.0 else 0.0)
        n_left = -stop * over_dy if dy > 0.0 else (-begin * over_dy if dy < 0.0 else -FARTHEST)
        n_right = -begin * over_dy if dy > 0.0 else (-stop * over_dy if dy < 0.0 else FARTHEST)
        a_left, a_right = (
            (EDGE * over_ay if ay > 0.0 else -FARTHEST),
            (EDGE * over_ay if ay < 0.0 else FARTHEST),
        )
        b_left, b_right = (0.0 if by < 0.0 else -FARTHEST), (0.0 if by > 0.0 else FARTHEST)
        odd = dy == 0.0 or ay == 0.0 or by == 0.0
        table_at = tables_at + kinds[p] * kind_bytes
        for j in range(first_row, last_row + 1):
            y = j - sy
            if odd and (
                (dy == 0.0 and not begin <= dx * y <= stop)
                or (by == 0.0 and bx * y < 0.0)
                or (ay == 0.0 and ax * y >= 0.0)
            ):
                continue
            left = max(slope_n * y + n_left, max(slope_a * y + a_left, slope_b * y + b_left))
            right = min(slope_n * y + n_right, min(slope_a * y + a_right, slope_b * y + b_right))
            left = max(left + sx, np.float64(rows[j, LIT]))
            right = min(right + sx, rows[j, LIT + 1] - 1.0)
            first, past = int(np.ceil(left)), int(np.floor(right)) + 1
            if first >= past:
                continue
            if opens:
                rows[j, HULL], rows[j, HULL + 1] = min(rows[j, HULL], first), max(rows[j, HULL + 1], past)
            depth = np.float32(dx * y - dy * (first - sx)) * scale
            at = 4 * (j * columns + first)
            add_run(
                depth, growth, inverse_at + at, lost_at + at * lanes, past - first, table_at, lanes, limit
            )


@inner
def _rows_within(ax, ay, bx, by, near, far, left, right):  # type: ignore[no-untyped-def]
    """Least and greatest y of the outline of a shadow where x is from left to right."""
    low, high = FARTHEST, -FARTHEST
    for e in range(4):
        one, two = (near if e < 2 else far), (near if e == 0 or e == 3 else far)
        x0, y0 = (ax * one, ay * one) if e == 0 or e == 3 else (bx * one, by * one)
        x1, y1 = (bx * two, by * two) if e < 2 else (ax * two, ay * two)
        if x0 > x1:
            x0, y0, x1, y1 = x1, y1, x0, y0
        if x1 < left or x0 > right:
            continue
        slope = (y1 - y0) / (x1 - x0) if x1 > x0 else 0.0
        ya = y0 + (left - x0) * slope if x0 < left else y0
        yb = y1 + (right - x1) * slope if x1 > right else y1
        low, high = min(low, min(ya, yb)), max(high, max(ya, yb))
    return low, high


@inner
def shade_rings(rings, count, level, table, lanes, columns, view, bench, opens):  # type: ignore[no-untyped-def]
    """As `shade_sheets` for plates: `count` rings, filled even-odd; at `level` [m] alone where they open.

    `table` (kind, cosine step, lane).
    """
    box, rows, edges = bench.box, bench.rows, bench.edges
    lost_at, inverse_at, tables_at = address(bench.lost), address(bench.inverse), address(table)
    sx, sy, limit = view.sx, view.sy, np.float32(table.shape[1] - 2)
    depth = np.float32(abs(view.rise) * view.over_step) * limit
    for r in range(count):
        to = rings.z[r] - view.z
        if to * (view.rise - to) <= 0.0 or (opens and abs(rings.z[r] - level) > 1e-7):
            continue
        larger = view.rise / to * view.over_step  # the shadow is the plate drawn larger
        found, low, high, most_left, most_right = 0, FARTHEST, -FARTHEST, FARTHEST, -FARTHEST
        for e in range(rings.start[r], rings.start[r + 1]):
            x0, y0 = (rings.edges[e, 0] - view.x) * larger + sx, (rings.edges[e, 1] - view.y) * larger + sy
            x1, y1 = (rings.edges[e, 2] - view.x) * larger + sx, (rings.edges[e, 3] - view.y) * larger + sy
            most_left, most_right = min(most_left, min(x0, x1)), max(most_right, max(x0, x1))
            if y0 > y1:
                x0, y0, x1, y1 = x1, y1, x0, y0
            low, high = min(low, y0), max(high, y1)
            if y0 < y1 and y1 > box[0] and y0 <= box[1]:
                edges[0, found], edges[1, found], edges[2, found] = y0, y1, x0
                edges[3, found] = (x1 - x0) / (y1 - y0)
                found += 1
        if most_right < box[2] or most_left > box[3]:
            continue
        table_at = tables_at + 4 * rings.kind[r] * table.shape[1] * lanes
        for j in range(max(int(np.ceil(low)), box[0]), min(int(np.floor(high)), box[1]) + 1):
            if rows[j, LIT] >= rows[j, LIT + 1]:
                continue
            cuts = _cuts(edges, found, np.float64(j))
            for pair in range(0, cuts - 1, 2):
                first = int(np.ceil(max(edges[4, pair], np.float64(rows[j, LIT]))))
                past = int(np.ceil(min(edges[4, pair + 1], np.float64(rows[j, LIT + 1]))))
                if first < past:
                    if opens:
                        rows[j, HULL], rows[j, HULL + 1] = (
                            min(rows[j, HULL], first),
                            max(rows[j, HULL + 1], past),
                        )
                    at, still = 4 * (j * columns + first), np.float32(0.0)
                    add_run(
                        depth,
                        still,
                        inverse_at + at,
                        lost_at + at * lanes,
                        past - first,
                        table_at,
                        lanes,
                        limit,
                    )


@inner
def _cuts(edges, count, y):  # type: ignore[no-untyped-def]
    """Where a row cuts the edges, in order, to the last row of `edges`; returns how many."""
    found = 0
    for e in range(count):
        if edges[0, e] <= y < edges[1, e]:
            cut, place = edges[2, e] + (y - edges[0, e]) * edges[3, e], found
            while place > 0 and edges[4, place - 1] > cut:
                edges[4, place] = edges[4, place - 1]
                place -= 1
            edges[4, place] = cut
            found += 1
    return found
