"""The compiled sum behind `worth`: what each reading would do to each margin, and what that gains."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from rehaul.kernels.loops import compiled

FARTHEST_Z, Z_STEPS = 6.0, 64  # beyond six standard deviations a reading is worth nothing


@compiled
def weigh(
    together: NDArray[np.float32],
    total_sd: NDArray[np.float32],
    margin: NDArray[np.float32],
    table: NDArray[np.float32],
    gain: NDArray[np.float32],
) -> None:
    """Turn covariances (k, d) into moves in place, and sum the gains (k,).

    Parameters
    ----------
    together : (k, d) covariance of each reading with each margin [dB²]; afterwards the move [dB]
    total_sd : (k,) standard deviation of each reading, above 0 [dB]
    margin : (d,) size of each margin, not below 0 [dB]
    table : g(z) at even steps of z, `Z_STEPS` to one, up to `FARTHEST_Z` and with noughts at the end
    gain : (k,) takes the worth of each reading, the sum over margins of move times g(margin / move) [dB]

    **Validity**: g is linear between its steps; beyond `FARTHEST_Z` standard deviations it is nought.
    **Source**: value of sample information with linear loss, docs/proof.md.
    """
    last = np.float32(table.size - 2)
    for i in range(gain.size):
        inverse = np.float32(1.0) / total_sd[i]
        total = np.float32(0.0)
        for d in range(margin.size):
            move = abs(together[i, d]) * inverse
            together[i, d] = move
            z = min(margin[d] / max(move, np.float32(1e-6)) * np.float32(Z_STEPS), last)
            k = int(z)
            total += move * (table[k] + (z - np.float32(k)) * (table[k + 1] - table[k]))
        gain[i] = total
