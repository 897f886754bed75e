"""From readings to what they correct: a Bayesian update in closed form, robust to a bad reading.

A reading differs from its prediction by the doubts of the house, by what stands about the spot, and
by noise:

    y = X θ + ε,   θ ~ N(0, s P),   ε ~ N(0, s N / w),   1/s ~ Gamma

so θ given y is normal again. The scale s lets the readings of one house say that it is rougher or
smoother than the tables hold; a reading far from what all the others say of it is weighted down, and
shown, not hidden.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Reals
from rehaul.facts.calibration import calibration_number
from rehaul.normal import quantile, student_quantile

FULL_WEIGHT_SD = 2.0  # within this many standard deviations a reading counts in full
ROBUST_ROUNDS = 12
SETTLED = 1e-3  # change of a weight below which the rounds end
SUSPECT_WEIGHT = 0.35  # a reading weighted below this is shown as suspect


@dataclass(frozen=True, eq=False)
class Correction:
    """What readings say of the doubts: mean and covariance, and how far each reading is trusted."""

    names: tuple[str, ...]  # (p,)
    mean_db: Reals  # (p,)
    covariance: Reals  # (p, p) dB², scale included
    scale: float  # of every variance, the doubt about itself in it: before any reading `tail(0)` squared
    weight: Reals  # (n,) 1 = as trusted as any, near 0 = disregarded
    residual_db: Reals  # (n,) reading less prediction after the correction

    @property
    def suspect(self) -> NDArray[np.bool_]:
        """Readings that do not fit the rest, (n,)."""
        return self.weight < SUSPECT_WEIGHT


def correct(
    names: tuple[str, ...], prior_variance: Reals, design: Reals, difference_db: Reals, noise: Reals
) -> Correction:
    """Update the doubts by readings.

    Parameters
    ----------
    names : of the doubts (p,)
    prior_variance : of the doubts before (p,) [dB²]
    design : how each reading depends on each doubt (n, p)
    difference_db : reading less prediction (n,) [dB]
    noise : variance of what no doubt explains (n,) [dB²]

    **Validity**: any n from 0 up; with none the prior comes back. **Source**: Bayesian linear regression
    with a normal-inverse-gamma prior; weights that fall with the square beyond two standard deviations,
    as in the tail of a Student-t, by iterated reweighting on leave-one-out residuals, textbook.
    """
    freedom = calibration_number("scale_freedom")
    weight, scale = np.ones(len(difference_db)), 1.0
    mean: Reals = np.zeros(len(names))
    covariance, residual = np.diag(prior_variance), difference_db.copy()
    for _ in range(ROBUST_ROUNDS if len(difference_db) else 0):
        weighted = design.T * (weight / noise)
        covariance = _inverse(np.diag(1.0 / prior_variance) + weighted @ design)
        mean = covariance @ (weighted @ difference_db)
        residual = difference_db - design @ mean
        misfit = float(weight @ (residual**2 / noise) + mean @ (mean / prior_variance))
        scale = (freedom + misfit) / (freedom + float(weight.sum()))
        fresh = _weights(design, covariance, residual, noise, weight, scale)
        settled = np.max(np.abs(fresh - weight)) < SETTLED
        weight = fresh
        if settled:
            break
    scale *= tail(float(weight.sum())) ** 2
    return Correction(names, mean, scale * covariance, scale, weight, residual)


@lru_cache(maxsize=256)
def tail(readings: float) -> float:
    """How much wider a 90 % range is because the scale itself is not known, after so many readings.

    **Validity**: a scale that is inverse gamma before, by the freedom of the fact table. **Source**: the
    distribution of Student, its 95 % quantile against that of the normal one.
    """
    return student_quantile(0.95, calibration_number("scale_freedom") + readings) / float(quantile(0.95))


def _inverse(matrix: Reals) -> Reals:
    """Inverse of a symmetric positive matrix, kept symmetric."""
    found = np.linalg.inv(matrix)
    return np.asarray((found + found.T) / 2.0, dtype=np.float64)


def _weights(
    design: Reals, covariance: Reals, residual: Reals, noise: Reals, weight: Reals, scale: float
) -> Reals:
    """How far each reading is trusted, by how far it lies from what the others say of it."""
    spread = np.einsum("ij,ij->i", design @ covariance, design)
    others = np.maximum(1.0 - spread * weight / noise, 1e-6)  # share of the reading that is its own
    surprise = (residual / others) ** 2 / (scale * (noise + spread / others))
    return np.asarray(1.0 / np.maximum(surprise / FULL_WEIGHT_SD**2, 1.0))


def corrected_field(
    correction: Correction, design: NDArray[np.float32], own_variance: NDArray[np.float32]
) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
    """What the doubts add to the loss at every place, and the standard deviation there.

    Parameters
    ----------
    design : ([spot,] p, k) how each place depends on each doubt
    own_variance : ([spot,] k) what no doubt explains [dB²]

    Returns
    -------
    shift [dB] and standard deviation [dB], each ([spot,] k)

    **Validity**, **Source**: as `correct`.
    """
    half = np.linalg.cholesky(correction.covariance).astype(np.float32).T @ design
    variance = np.einsum("...ij,...ij->...j", half, half) + np.float32(correction.scale) * own_variance
    return correction.mean_db.astype(np.float32) @ design, np.sqrt(variance)
