"""Many crossings on one way cost less than each alone: power then comes by ways that were not followed.

Behind one wall the straight path carries most of the power. Behind five it does not: doors, corridors
and bounces do. Measured homes and offices show it: the first wall costs 5 to 15 dB, the fourth next to
nothing. Here the losses of all crossings of a path are summed as the root of their squares: one
crossing keeps its loss, a further one never lowers the sum, and k alike cost the root of k of one. A
crossing of loss L in a sum of T then moves the sum by L / T of its own error.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Floats
from rehaul.kernels.loops import compiled

FELT_TOGETHER = 512  # paths


def to_eased(loss_db: NDArray[np.float32]) -> NDArray[np.float32]:
    """Losses [dB] squared, any shape: what is summed along a path.

    **Validity**, **Source**: as `from_eased`.
    """
    return np.asarray(loss_db * loss_db, dtype=np.float32)


def eased_spreads(loss_db: NDArray[np.float32], sd_db: NDArray[np.float32]) -> NDArray[np.float32]:
    """What each kind adds to the sums of spreads (kind,): its spread times its loss straight through.

    Parameters: `loss_db` (kind, band) straight through [dB], `sd_db` (kind,) [dB].
    **Validity**, **Source**: as `from_eased`.
    """
    return np.asarray(sd_db * loss_db.mean(axis=1), dtype=np.float32)


def eased_counts(
    counts: NDArray[np.float32], loss_db: NDArray[np.float32], bodies: NDArray[np.bool_]
) -> NDArray[np.float32]:
    """How far the eased loss of a path moves with the loss of each kind (..., kind, path), from 0 up.

    Parameters: `counts` (..., kind, path) crossings of each kind, `loss_db` (kind,) straight through [dB],
    `bodies` (kind,) those that count by the share of their loss that they cost.
    **Validity**: one loss for all angles and bands; one body of a kind on a path. **Source**: as
    `from_eased`, its derivative.
    """
    felt = np.empty(counts.shape, dtype=np.float32)
    each = -1 if felt.size else 0, *counts.shape[-2:]
    met = np.ascontiguousarray(counts, dtype=np.float32).reshape(each)
    _felt(met, np.asarray(loss_db, dtype=np.float32), bodies, felt.reshape(each))
    return felt


@compiled
def _felt(counts, loss_db, bodies, felt):  # type: ignore[no-untyped-def]
    """`eased_counts` (n, kind, path), kind after kind over a run of paths that stays near."""
    several, kinds, paths = counts.shape
    whole = np.empty(FELT_TOGETHER, dtype=np.float32)
    for n in range(several):
        for first in range(0, paths, FELT_TOGETHER):
            size = min(FELT_TOGETHER, paths - first)
            whole[:size] = np.float32(1e-12)
            for kind in range(kinds):
                square = loss_db[kind] * loss_db[kind]
                met, weight = counts[n, kind, first : first + size], felt[n, kind, first : first + size]
                if bodies[kind]:
                    for i in range(size):
                        weight[i] = met[i] * met[i]
                else:
                    for i in range(size):
                        weight[i] = met[i]
                for i in range(size):
                    whole[i] += square * weight[i]
            for i in range(size):
                whole[i] = np.float32(1.0) / np.sqrt(whole[i])
            for kind in range(kinds):
                weight, loss = felt[n, kind, first : first + size], loss_db[kind]
                for i in range(size):
                    weight[i] *= loss * whole[i]


@compiled
def from_eased(sums: Floats) -> None:
    """Sums of eased losses back to decibels in place, (line, band + 2, receiver), the two last the spreads'.

    **Validity**: chosen on measured sets, any one building left out (`docs/radio.md`); two floors measured
    cost 1.44 of one, where COST 231 has 1.83.
    **Source**: the shape after COST 231, final report, chapter 4 (losses of floors that grow less than
    their number); the power of two is fitted, `benchmarks/prediction_truth.py`.
    """
    lines, rows, receivers = sums.shape
    bands = rows - 2
    whole = np.empty(receivers, dtype=np.float32)
    for line in range(lines):
        whole[:] = np.float32(1e-12)  # nothing crossed: nothing to weigh
        for band in range(bands):
            loss = sums[line, band]
            for i in range(receivers):
                loss[i] = np.sqrt(loss[i])
                whole[i] += loss[i]
        total, squares = sums[line, bands], sums[line, bands + 1]
        for i in range(receivers):
            inverse = np.float32(bands) / whole[i]
            total[i] *= inverse
            squares[i] *= inverse * inverse
