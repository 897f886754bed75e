"""What is too faint to be followed, with proof: what is left out is summed for every receiver.

A path loses nothing but power on its way, so what is known of it so far bounds it from above: the
free-space loss of the whole path, what its mirrors throw back at their angles, and what it has met already.
As a share of the power that a receiver has by other ways in the band where that is largest, these bounds
add up; once LEFT_OUT_DB could be reached, nothing more is left out there.
"""

from __future__ import annotations

import numpy as np

from rehaul.arrays import Floats
from rehaul.kernels.loops import inner
from rehaul.radio.beams import LIT, Bench
from rehaul.radio.decibels import powers
from rehaul.radio.lanes import FEW, address, least_sum
from rehaul.radio.lit import fit_box

LEFT_OUT_DB = 0.1  # what all that is left out can add to a receiver, at most
FAINT_DB = 27.0  # how far below what is there already a path is left out, once plates are met
LEFT_OUT = np.float32(10 ** (LEFT_OUT_DB / 10) - 1 - 1e-5)  # the same as a share, less what powers are off


@inner
def leave_faint(
    bench: Bench,
    count: int,
    columns: int,
    lanes: int,
    few: int,
    there: int,
    wanted: int,
    left_out: Floats,
    faint_db: float,
) -> int:
    """Take receivers off the list where the path is surely faint, and note what that can be worth.

    The list is of `count` receivers of the storey whose first is number `there` of all; `wanted` is the
    address of their free-space loss at 1 m plus the gain they have already (receiver, float) [dB],
    `left_out` the shares that were left out so far, of all receivers. Returns how many stay. **Validity**:
    every loss that is still to come is at least nothing. **Source**: docs/radio.md, "What is left out".
    """
    listed, level = bench.listed, bench.cells[0]
    lost_at = address(bench.lost)
    over, share = bench.cells[1, :count], bench.cells[2, :count]
    for n in range(count):
        at, there_at = 4 * lanes * listed[n], 4 * few * listed[n]
        over[n] = level[n] - least_sum(lost_at + at, wanted + there_at)
    if few > FEW:
        for n in range(count):
            at, there_at = 4 * lanes * listed[n], 4 * few * listed[n]
            for c in range(4 * FEW, 4 * few, 4 * FEW):
                over[n] = max(over[n], level[n] - least_sum(lost_at + at + c, wanted + there_at + c))
    for n in range(count):
        share[n] = over[n]
    powers(share)
    kept, least = 0, np.float32(-faint_db)
    for n in range(count):
        at = listed[n]
        if over[n] < least:
            gone = left_out[there + at] + share[n]
            if gone <= LEFT_OUT:
                left_out[there + at] = gone
                continue
        listed[kept], level[kept] = at, level[n]
        kept += 1
    if kept < count:
        rows, j = bench.rows, 0
        for row in range(rows.shape[0]):
            rows[row, LIT], rows[row, LIT + 1] = columns, 0
        for n in range(kept):
            while listed[n] >= (j + 1) * columns:
                j += 1
            i = listed[n] - j * columns
            rows[j, LIT], rows[j, LIT + 1] = min(rows[j, LIT], i), i + 1
        fit_box(bench)
    return kept
