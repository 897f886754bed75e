"""What is too faint to be followed, with proof: what is left out is summed for every receiver.

A path loses nothing but power on its way, so what is known of it so far bounds it from above: the
free-space loss of the whole path, what its mirrors throw back at their angles, and what it has met already.
As a share of the power that a receiver has by other ways in the band where that is largest, these bounds
add up; once LEFT_OUT_DB could be reached, nothing more is left out there.
"""

from __future__ import annotations

import numpy as np

from rehaul.arrays import Floats
from rehaul.kernels.loops import uncounted
from rehaul.radio.beams import LISTED, LIT, Bench
from rehaul.radio.decibels import powers
from rehaul.radio.lit import fit_box

LEFT_OUT_DB = 0.1  # what all that is left out can add to a receiver, at most
FAINT_DB = 27.0  # how far below what is there already a path is left out, once plates are met
LEFT_OUT = np.float32(10 ** (LEFT_OUT_DB / 10) - 1 - 1e-5)  # the same as a share, less what powers are off


@uncounted
def leave_faint(bench: Bench, count: int, columns: int, there: int, left_out: Floats, faint_db: float) -> int:
    """Take receivers off the list where the path is surely faint, and note what that can be worth.

    The list is of `count` receivers of the storey whose first is number `there` of all, with how far the path
    is above what they have, as `list_lit` makes it; `left_out` the shares that were left out so far, of all
    receivers. Returns how many stay. **Validity**:
    every loss that is still to come is at least nothing. **Source**: docs/radio.md, "What is left out".
    """
    listed, level = bench.listed, bench.cells[0]
    over, share = bench.cells[1, :count], bench.cells[2, :count]
    powers(share)
    kept, least, rows = 0, np.float32(-faint_db), bench.rows
    for j in range(bench.box[0], bench.box[1] + 1):
        first = kept
        for n in range(np.uint64(rows[LISTED, j]), np.uint64(rows[LISTED + 1, j])):
            at = listed[n]
            so_far = left_out[there + at]
            gone = so_far + share[n]
            leave = (over[n] < least) & (gone <= LEFT_OUT)
            left_out[there + at] = gone if leave else so_far
            listed[kept], level[kept] = at, level[n]
            kept += 0 if leave else 1
        some = kept > first
        rows[LIT, j] = listed[first] - j * columns if some else columns
        rows[LIT + 1, j] = listed[kept - 1] - j * columns + 1 if some else 0
    fit_box(bench)
    return kept
