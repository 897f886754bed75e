"""Which receivers of a storey an image lights through its mirrors, as rows and as a list."""

from __future__ import annotations

import numpy as np

from rehaul.arrays import Floats, Reals
from rehaul.kernels.loops import inner
from rehaul.radio.antenna import PATTERN_STEPS
from rehaul.radio.beams import HULL, LIT, USED, Bench
from rehaul.radio.decibels import decibels
from rehaul.radio.lanes import address, float_at


@inner
def take_hull(bench: Bench, columns: int, first: bool) -> bool:
    """Let what the windows have opened be all that counts; returns whether it is anything.

    Where `first`, it is also all that will be written to.
    """
    rows = bench.rows
    for j in range(rows.shape[0]):
        for c in range(2):
            rows[j, LIT + c] = rows[j, HULL + c]
            if first:
                rows[j, USED + c] = rows[j, HULL + c]
        rows[j, HULL], rows[j, HULL + 1] = columns, 0
    return fit_box(bench)  # type: ignore[no-any-return]


@inner
def fit_box(bench: Bench) -> bool:
    """Draw the box round what counts; returns whether that is anything."""
    rows, box = bench.rows, bench.box
    low, high, left, right = rows.shape[0], -1, np.int64(1 << 40), np.int64(-1)
    for j in range(rows.shape[0]):
        if rows[j, LIT] < rows[j, LIT + 1]:
            low, high = min(low, j), j
            left, right = min(left, rows[j, LIT]), max(right, rows[j, LIT + 1] - 1)
    box[0], box[1], box[2], box[3] = low, high, left, right
    return bool(high >= 0)


@inner
def wipe(bench: Bench, columns: int, lanes: int) -> None:
    """Make the losses nothing again where any were written."""
    rows, lost = bench.rows, bench.lost
    for j in range(rows.shape[0]):
        first, end = (j * columns + rows[j, USED]) * lanes, (j * columns + rows[j, USED + 1]) * lanes
        for i in range(np.uint64(first), np.uint64(max(first, end))):
            lost[i] = np.float32(0.0)


@inner
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
    bench: Bench,
) -> int:
    """List the receivers that see every mirror of the path; returns how many.

    Their places go to `listed`, the pattern of the antenna (`axis`, `pattern`) less the spreading to the
    first row of `cells` [dB]. **Source**: as `squares` and `pattern_levels` of `radio.finish`.
    """
    box, rows, listed = bench.box, bench.rows, bench.listed
    lost_at = address(bench.lost)
    level, square, ahead = bench.cells[0], bench.cells[1], bench.cells[2]
    left, wide, slope = np.float32(origin[0] - image[0]), np.float32(step), np.float32(axis[0])
    least, count = np.float32(nearest * nearest), 0
    for j in range(box[0], box[1] + 1):
        y = origin[1] + j * step - image[1]
        flat, along = np.float32(y * y + rise * rise), np.float32(axis[1] * y + axis[2] * rise)
        for i in range(rows[j, LIT], rows[j, LIT + 1]):
            at = j * columns + i
            seen = float_at(lost_at, at * lanes + bands + 2) > 0.0
            if mirrors == 2:
                seen = seen and float_at(lost_at, at * lanes + bands + 3) > 0.0
            x = left + wide * np.float32(np.int32(i))
            listed[count], square[count], ahead[count] = at, max(x * x + flat, least), slope * x + along
            count += 1 if seen else 0
    square, ahead, level = square[:count], ahead[:count], level[:count]
    half, last = np.float32(PATTERN_STEPS / 2), np.float32(PATTERN_STEPS - 0.001)
    for n in range(count):
        toward = ahead[n] / np.sqrt(square[n])
        ahead[n] = min(max((toward + np.float32(1.0)) * half, np.float32(0.0)), last)
    decibels(square)
    for n in range(count):
        k = np.uint32(ahead[n])
        low = pattern[k]
        level[n] = low + (ahead[n] - np.float32(k)) * (pattern[k + np.uint32(1)] - low) - square[n]
    return count
