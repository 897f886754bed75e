"""Readings that heard nothing: the power there is at most so much, which counts as that and no more.

A place where nothing was heard says as much as one where something was. Left out, only the lucky places of
a far room speak, and the map there comes out too strong. Each such reading is stood for by a normal one
that, together with all others, leaves the same mean and variance as the bound itself does.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Reals
from rehaul.normal import ln_below

ROUNDS = 20
SETTLED = 1e-4
NOTHING_SAID = 1e-8  # precision of a bound that says nothing: far above all that is likely


def stand_ins(prior: Reals, value: Reals, noise: Reals, at_least: NDArray[np.bool_]) -> tuple[Reals, Reals]:
    """Values and variances that stand for readings, some of which are bounds from below.

    Parameters
    ----------
    prior : covariance of what is read, without the noise of reading (n, n) [dB²], mean nought
    value : what was read, or the bound (n,) [dB]
    noise : variance of each reading (n,) [dB²]
    at_least : which are bounds: the truth and its noise are at least the value (n,)

    Returns
    -------
    value and variance (n,) each; those of plain readings as they were

    **Validity**: up to some hundred readings; bounds met with a chance above 1e-30 or so.
    **Source**: expectation propagation for a probit bound (Minka, 2001; Rasmussen and Williams, *Gaussian
    Processes for Machine Learning*, 2006, section 3.6).
    """
    if not at_least.any():
        return value, noise
    precision = np.where(at_least, NOTHING_SAID, 1.0 / noise)
    shift = np.where(at_least, 0.0, value / noise)  # precision times mean
    for _ in range(ROUNDS):
        before = precision.copy()
        for i in np.flatnonzero(at_least):
            mean, covariance = _posterior(prior, precision, shift)
            apart = 1.0 / covariance[i, i] - precision[i]
            cavity_var = 1.0 / max(apart, 1e-9)
            cavity_mean = cavity_var * (mean[i] / covariance[i, i] - shift[i])
            precision[i], shift[i] = _site(cavity_mean, cavity_var, float(value[i]), float(noise[i]))
        if np.max(np.abs(precision - before)) < SETTLED:
            break
    return np.where(at_least, shift / precision, value), np.where(at_least, 1.0 / precision, noise)


def _posterior(prior: Reals, precision: Reals, shift: Reals) -> tuple[Reals, Reals]:
    """Mean and covariance of what is read, given the sites (n,), (n, n)."""
    root = np.sqrt(precision)
    inner = np.eye(len(root)) + root[:, None] * prior * root
    half = np.linalg.solve(inner, root[:, None] * prior)
    covariance = prior - (prior * root) @ half
    return np.asarray(covariance @ shift), np.asarray(covariance)


def _site(mean: float, variance: float, bound: float, noise: float) -> tuple[float, float]:
    """Precision, and precision times mean, of the normal that does to a normal what the bound does."""
    total = variance + noise
    z = (mean - bound) / np.sqrt(total)
    ratio = float(np.exp(-0.5 * z * z - 0.5 * np.log(2 * np.pi) - ln_below(z)))  # density over distribution
    new_mean = mean + variance * ratio / np.sqrt(total)
    new_variance = variance - variance**2 * ratio * (z + ratio) / total
    precision = max(1.0 / max(new_variance, 1e-9) - 1.0 / variance, NOTHING_SAID)
    return precision, new_mean * (precision + 1.0 / variance) - mean / variance
