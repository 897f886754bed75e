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
from rehaul.kernels.loops import inlined, inner, uncounted
from rehaul.radio.behind import EDGE, FARTHEST, reach_behind
from rehaul.radio.lanes import LANES, add_run, address

_TINY = 1e-300  # cells; what is divided by is no less
_SLACK = 1e-6  # cells by which a box is taken too large rather than too small

LIT, HULL, USED, LISTED = 0, 2, 4, 6  # places in `rows`: what counts, what windows open, what was written to
# rows of `lines`
AX, AY, BX, BY, BEGIN, STOP, LOW, HIGH = 0, 1, 2, 3, 4, 5, 6, 7
SLOPE_N, SLOPE_A, SLOPE_B, LEFT_N, RIGHT_N, LEFT_A, RIGHT_A, LENGTH = 8, 9, 10, 11, 12, 13, 14, 15
EVERY = np.inf  # level of plates [m]: all of them
PANEL, HOLE = 0, 2  # places in `ends`: of the panel that is looked at, and of a hole in it


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
    inverse: NDArray[np.float32]  # (ny · nx + LANES,) inverse distance from the image, in cells
    columns: int
    rows: NDArray[np.int32]  # (8, ny) first receiver and end: LIT, HULL, USED; LISTED, in the list
    ends: NDArray[np.int32]  # (4, ny) first receiver and end: PANEL, HOLE
    box: NDArray[np.int64]  # (4,) first and last row, first and last column of what counts
    keep: NDArray[np.bool_]  # (panels,)
    met: NDArray[np.int32]  # (panels + 1,) those whose shadow meets the box
    lines: NDArray[np.float64]  # (16, panels) what draws their shadows
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
        np.empty(count + LANES, dtype=np.float32),
        columns,
        np.zeros((8, rows), dtype=np.int32),
        np.zeros((4, rows), dtype=np.int32),
        np.empty(4, dtype=np.int64),
        np.empty(panels, dtype=np.bool_),
        np.empty(panels + 1, dtype=np.int32),
        np.empty((16, panels)),
        np.empty((5, edges + 1)),
        np.empty(count, dtype=np.int64),
        np.empty((3, count), dtype=np.float32),
        np.empty(count * lanes, dtype=np.float32),
    )


@uncounted
def look(
    image: Reals, origin: tuple[float, float], step: float, height: float, bench: Bench, columns: int
) -> View:
    """A storey as an image sees it: all of its receivers count, and none is lit yet."""
    sx, sy = (image[0] - origin[0]) / step, (image[1] - origin[1]) / step
    rows, box = bench.rows, bench.box
    for j in range(rows.shape[1]):
        rows[LIT, j], rows[LIT + 1, j], rows[HULL, j], rows[HULL + 1, j] = 0, columns, columns, 0
    box[0], box[1], box[2], box[3] = 0, rows.shape[1] - 1, 0, columns - 1
    return View(sx, sy, image[0], image[1], image[2], 1.0 / step, height - image[2])


@uncounted
def measure(view: View, bench: Bench, columns: int) -> None:
    """How near the receivers are that count: what cosines of incidence are reckoned with."""
    rows, inverse, here = bench.rows, bench.inverse, np.float32(view.sx)
    up = view.rise * view.over_step
    for j in range(bench.box[0], bench.box[1] + 1):
        flat = np.float32((j - view.sy) ** 2 + up**2 + 1e-12)
        line = inverse[j * columns : (j + 1) * columns]
        for i in range(np.uint64(rows[LIT, j]), np.uint64(max(rows[LIT, j], rows[LIT + 1, j]))):
            x = np.float32(np.int32(i)) - here
            line[i] = np.float32(1.0) / np.sqrt(x * x + flat)


@uncounted
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


@uncounted
def _draw(sheets, start, count, view, bench):  # type: ignore[no-untyped-def]
    """Work out the outlines of the shadows of the panels that are met, many at a time.

    `bench.met` has `count` of them, from `start` on. To `bench.lines`: in the plan, with r from the image in
    cells, a receiver is behind a panel where n·r > side (the plane), between its ends where b×r ≥ 0 and
    r×a > 0, and between its foot and its top where near·side < n·r ≤ far·side. On a row of the grid each is a
    left or a right end that moves with y on a straight line.
    """
    met, lines, box, over, rise = bench.met, bench.lines, bench.box, view.over_step, view.rise
    left, right = box[2] - view.sx - _SLACK, box[3] - view.sx + _SLACK
    for n in range(np.uint64(count)):
        p = np.uint64(start) + np.uint64(met[n])
        ax, ay = (sheets[0, p] - view.x) * over, (sheets[1, p] - view.y) * over
        bx, by = (sheets[2, p] - view.x) * over, (sheets[3, p] - view.y) * over
        side = (bx - ax) * ay - (by - ay) * ax
        back = side < 0.0
        ax, ay, bx, by = (
            (bx if back else ax),
            (by if back else ay),
            (ax if back else bx),
            (ay if back else by),
        )
        dx, dy, side = bx - ax, by - ay, abs(side)
        near, far = reach_behind(sheets[4, p], sheets[5, p], view.z, rise)
        low, high = _span(ax * near, ay * near, bx * near, by * near, left, right, FARTHEST, -FARTHEST)
        low, high = _span(bx * near, by * near, bx * far, by * far, left, right, low, high)
        low, high = _span(bx * far, by * far, ax * far, ay * far, left, right, low, high)
        low, high = _span(ax * far, ay * far, ax * near, ay * near, left, right, low, high)
        begin, stop = near * side * (1.0 + EDGE), far * side
        # left and right end on a row: the greatest and the least of three straight lines
        over_dy = 1.0 / dy if dy != 0.0 else 0.0
        over_ay = 1.0 / ay if ay != 0.0 else 0.0
        lines[AX, n], lines[AY, n], lines[BX, n], lines[BY, n] = ax, ay, bx, by
        lines[BEGIN, n], lines[STOP, n] = begin, stop
        lines[LOW, n], lines[HIGH, n] = low, high
        lines[SLOPE_N, n], lines[SLOPE_A, n] = dx * over_dy, ax * over_ay
        lines[SLOPE_B, n] = bx / by if by != 0.0 else 0.0
        first, last = -stop * over_dy, -begin * over_dy
        lines[LEFT_N, n] = first if dy > 0.0 else (last if dy < 0.0 else -FARTHEST)
        lines[RIGHT_N, n] = last if dy > 0.0 else (first if dy < 0.0 else FARTHEST)
        lines[LEFT_A, n] = EDGE * over_ay if ay > 0.0 else -FARTHEST
        lines[RIGHT_A, n] = EDGE * over_ay if ay < 0.0 else FARTHEST
        lines[LENGTH, n] = np.sqrt(dx * dx + dy * dy)


@inlined
def _span(x0, y0, x1, y1, left, right, low, high):  # type: ignore[no-untyped-def]
    """Least and greatest y of an edge where x is from left to right, and of `low` and `high`."""
    back = x0 > x1
    xa, ya, xb, yb = (x1 if back else x0), (y1 if back else y0), (x0 if back else x1), (y0 if back else y1)
    slope = (yb - ya) / max(xb - xa, _TINY)
    one = ya + (left - xa) * slope if xa < left else ya
    two = yb + (right - xb) * slope if xb > right else yb
    beside = (xb < left) | (xa > right)
    return min(low, FARTHEST if beside else min(one, two)), max(high, -FARTHEST if beside else max(one, two))


@uncounted
def shade_sheets(sheets, kinds, start, end, table, lanes, columns, view, bench, opens):  # type: ignore[no-untyped-def]
    """Add panels to what is lost by the receivers in their shadow; or as windows open their hull alone.

    `sheets` (6, n) from `start` to `end`, `kinds` (n,), those of holes negative: they shade within the panel
    they follow alone. `table` (kind, cosine step, lane), holes last.
    """
    keep, met, lines, rows, ends, box = bench.keep, bench.met, bench.lines, bench.rows, bench.ends, bench.box
    _meet(sheets, start, end, view, box, keep)
    count, stands = 0, False
    for n in range(np.uint64(end - start)):
        hole = kinds[np.uint64(start) + n] < 0
        stands = stands if hole else keep[n]
        met[count] = n
        count += 1 if keep[n] & stands & (not (opens and hole)) else 0
    _draw(sheets, start, count, view, bench)
    sx, sy, limit = view.sx, view.sy, np.float32(table.shape[1] - 2)
    tables_at, kind_bytes = address(table), 4 * table.shape[1] * lanes
    lost_at, inverse_at = address(bench.lost), address(bench.inverse)
    first_row, last_row = 0, -1
    for n in range(count):
        kind = kinds[start + met[n]]
        hole = kind < 0
        low_row, high_row, at = (first_row, last_row, HOLE) if hole else (box[0], box[1], PANEL)
        low_row = max(int(np.ceil(lines[LOW, n] + sy - _SLACK)), low_row)
        high_row = min(int(np.floor(lines[HIGH, n] + sy + _SLACK)), high_row)
        if not hole:
            first_row, last_row = low_row, high_row
        if low_row > high_row:
            continue
        _walk_rows(lines, n, sx, sy, low_row, high_row, columns, rows, ends, at)
        dx, dy = lines[BX, n] - lines[AX, n], lines[BY, n] - lines[AY, n]
        scale = limit / np.float32(lines[LENGTH, n])
        growth = np.float32(-dy) * scale
        table_at = tables_at + (kind + table.shape[0] if hole else kind) * kind_bytes
        for j in range(low_row, high_row + 1):
            first, past = np.int64(ends[at, j]), np.int64(ends[at + 1, j])
            if first >= past:
                continue
            if opens:
                rows[HULL, j], rows[HULL + 1, j] = min(rows[HULL, j], first), max(rows[HULL + 1, j], past)
                continue
            depth = np.float32(dx * (j - sy) - dy * (first - sx)) * scale
            place = 4 * (j * columns + first)
            add_run(
                depth,
                growth,
                inverse_at + place,
                lost_at + place * lanes,
                past - first,
                table_at,
                lanes,
                limit,
            )


@uncounted
def _walk_rows(lines, n, sx, sy, first_row, last_row, columns, rows, ends, at):  # type: ignore[no-untyped-def]
    """Write where a panel shades on each row, from `first_row` to `last_row`, to `ends` from `at` on.

    First receiver and end, of those that count; of a hole within what its panel shades.
    """
    dx, begin, stop = lines[BX, n] - lines[AX, n], lines[BEGIN, n], lines[STOP, n]
    slope_n, left_n, right_n = lines[SLOPE_N, n], lines[LEFT_N, n], lines[RIGHT_N, n]
    slope_a, left_a, right_a = lines[SLOPE_A, n], lines[LEFT_A, n], lines[RIGHT_A, n]
    ax, bx, by, slope_b = lines[AX, n], lines[BX, n], lines[BY, n], lines[SLOPE_B, n]
    left_b, right_b = (0.0 if by < 0.0 else -FARTHEST), (0.0 if by > 0.0 else FARTHEST)
    flat, flat_a, flat_b = lines[BY, n] == lines[AY, n], lines[AY, n] == 0.0, by == 0.0
    most, hole, begin_at, stop_at = np.float64(columns), at == HOLE, np.uint64(at), np.uint64(at + 1)
    whole = min((last_row // LANES + 1) * LANES, rows.shape[1])  # many rows at a time
    for j in range(np.uint64(first_row // LANES * LANES), np.uint64(whole)):
        y = np.float64(np.int32(j)) - sy
        left = max(slope_n * y + left_n, max(slope_a * y + left_a, slope_b * y + left_b))
        right = min(slope_n * y + right_n, min(slope_a * y + right_a, slope_b * y + right_b))
        out = (
            (flat & ((dx * y < begin) | (dx * y > stop)))
            | (flat_b & (bx * y < 0.0))
            | (flat_a & (ax * y >= 0.0))
        )
        lit, end = np.float64(rows[LIT, j]), np.float64(rows[LIT + 1, j])
        in_panel, panel_end = np.float64(ends[PANEL, j]), np.float64(ends[PANEL + 1, j])
        lit, end = (in_panel if hole else lit), (panel_end if hole else end)
        left = min(max(np.ceil(left + sx), lit), most)
        right = max(min(np.floor(right + sx) + 1.0, end), 0.0)
        ends[begin_at, j] = np.int32(left)
        ends[stop_at, j] = np.int32(0.0 if out else right)


@uncounted
def shade_rings(rings, count, level, table, lanes, columns, view, bench, opens):  # type: ignore[no-untyped-def]
    """As `shade_sheets` for plates: `count` rings, filled even-odd; those at `level` [m] alone, or at EVERY.

    `table` (kind, cosine step, lane).
    """
    box, rows, edges = bench.box, bench.rows, bench.edges
    lost_at, inverse_at, tables_at = address(bench.lost), address(bench.inverse), address(table)
    sx, sy, limit = view.sx, view.sy, np.float32(table.shape[1] - 2)
    depth = np.float32(abs(view.rise) * view.over_step) * limit
    for r in range(count):
        to = rings.z[r] - view.z
        if to * (view.rise - to) <= 0.0 or (level != EVERY and abs(rings.z[r] - level) > 1e-7):
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
            if rows[LIT, j] >= rows[LIT + 1, j]:
                continue
            cuts = _cuts(edges, found, np.float64(j))
            for pair in range(0, cuts - 1, 2):
                first = int(np.ceil(max(edges[4, pair], np.float64(rows[LIT, j]))))
                past = int(np.ceil(min(edges[4, pair + 1], np.float64(rows[LIT + 1, j]))))
                if first < past:
                    if opens:
                        rows[HULL, j], rows[HULL + 1, j] = (
                            min(rows[HULL, j], first),
                            max(rows[HULL + 1, j], past),
                        )
                        continue
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


@uncounted
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
