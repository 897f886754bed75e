"""Which receivers of a storey an image lights through its mirrors, as rows and as a list."""

from __future__ import annotations

import numpy as np

from rehaul.arrays import Floats, Reals
from rehaul.kernels.loops import uncounted
from rehaul.radio.antenna import PATTERN_STEPS
from rehaul.radio.beams import HULL, LISTED, LIT, USED, Bench
from rehaul.radio.decibels import decibels
from rehaul.radio.lanes import FEW, address, float_at, least_sum


@uncounted
def take_hull(bench: Bench, columns: int) -> bool:
    """Let what windows have opened be all that counts and is written to; returns whether it is anything."""
    rows = bench.rows
    for j in range(rows.shape[1]):
        for c in range(2):
            rows[LIT + c, j] = rows[HULL + c, j]
            rows[USED + c, j] = rows[HULL + c, j]
        rows[HULL, j], rows[HULL + 1, j] = columns, 0
    return fit_box(bench)  # type: ignore[no-any-return]


@uncounted
def fit_box(bench: Bench) -> bool:
    """Draw the box round what counts; returns whether that is anything."""
    rows, box = bench.rows, bench.box
    low, high, left, right = rows.shape[1], -1, np.int64(1 << 40), np.int64(-1)
    for j in range(rows.shape[1]):
        if rows[LIT, j] < rows[LIT + 1, j]:
            low, high = min(low, j), j
            left, right = min(left, rows[LIT, j]), max(right, rows[LIT + 1, j] - 1)
    box[0], box[1], box[2], box[3] = low, high, left, right
    return bool(high >= 0)


@uncounted
def wipe(bench: Bench, columns: int, lanes: int) -> None:
    """Make the losses nothing again where any were written."""
    rows, lost = bench.rows, bench.lost
    for j in range(rows.shape[1]):
        first, end = (j * columns + rows[USED, j]) * lanes, (j * columns + rows[USED + 1, j]) * lanes
        for i in range(np.uint64(first), np.uint64(max(first, end))):
            lost[i] = np.float32(0.0)


@uncounted
def list_lit(
    image: Reals,
    axis: Reals,
    pattern: Floats,
    origin: tuple[float, float],
    step: float,
    nearest: float,
    bands: int,
    lanes: int,
    columns: int,
    mirrors: int,
    rise: float,
    wanted: int,
    few: int,
    bench: Bench,
) -> int:
    """List the receivers that see every mirror of the path; returns how many.

    Their places go to `listed`, where those of a row begin and end to `rows`, the pattern of the antenna
    (`axis`, `pattern`) less the spreading to the first row of `cells` [dB]. Where `wanted` is the address of
    the free-space loss at 1 m plus the gain the receivers have already (receiver, `few` floats) [dB], how far
    the path so far is above that, in the band where it is most, goes to the second and to the third row.
    **Source**: as `squares` and `pattern_levels` of `radio.finish`.
    """
    box, rows, listed = bench.box, bench.rows, bench.listed
    level, square, ahead = bench.cells[0], bench.cells[1], bench.cells[2]
    left, wide, slope = np.float32(origin[0] - image[0]), np.float32(step), np.float32(axis[0])
    least, count = np.float32(nearest * nearest), 0
    for j in range(box[0], box[1] + 1):
        y = origin[1] + j * step - image[1]
        flat, along = np.float32(y * y + rise * rise), np.float32(axis[1] * y + axis[2] * rise)
        first, end = rows[LIT, j], max(rows[LIT, j], rows[LIT + 1, j])
        past = count + end - first
        squares, aheads = square[count:past], ahead[count:past]
        for n in range(squares.size):
            x = left + wide * np.float32(np.int32(first + n))
            squares[n], aheads[n] = max(x * x + flat, least), slope * x + along
        count = past
    square, ahead = square[:count], ahead[:count]
    half, last = np.float32(PATTERN_STEPS / 2), np.float32(PATTERN_STEPS - 0.001)
    for n in range(count):
        toward = ahead[n] / np.sqrt(square[n])
        ahead[n] = min(max((toward + np.float32(1.0)) * half, np.float32(0.0)), last)
    decibels(square)
    lost_at, other, here, lit = address(bench.lost), mirrors - 1, np.uint64(0), np.uint64(0)
    marks = lost_at + 4 * (bands + 2)
    for j in range(box[0], box[1] + 1):
        rows[LISTED, j] = lit
        for at in range(j * columns + rows[LIT, j], j * columns + rows[LIT + 1, j]):
            k = np.uint32(ahead[here])
            low = pattern[k]
            found = low + (ahead[here] - np.float32(k)) * (pattern[k + np.uint32(1)] - low) - square[here]
            seen = (float_at(marks, at * lanes) > 0.0) & (float_at(marks, at * lanes + other) > 0.0)
            listed[lit], level[lit] = at, found
            if wanted != 0:
                lost, want = lost_at + 4 * lanes * at, wanted + 4 * few * at
                least_db = least_sum(lost, want)
                for c in range(4 * FEW, 4 * few, 4 * FEW):
                    least_db = min(least_db, least_sum(lost + c, want + c))
                square[lit] = ahead[lit] = found - least_db  # neither is looked at there again
            here += np.uint64(1)
            lit += np.uint64(1 if seen else 0)
        rows[LISTED + 1, j] = lit
    return int(lit)
