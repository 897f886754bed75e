"""From readings to what they correct: a Bayesian update in closed form, robust to a bad reading.

A reading differs from its prediction by the errors of the constructions on its path, an error they all
share (one mason, one moisture), an offset of the device, what stands about the spot, and noise:

    y − μ = X θ + ε,   θ ~ N(0, P),   ε ~ N(0, R)

so θ given y is normal again. A reading far from the rest is weighted down as under a Student-t
distribution, and shown, not hidden.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

ROBUST_FREEDOM = 4.0  # degrees of freedom of the Student-t that readings are weighted under
ROBUST_ROUNDS = 12
SUSPECT_WEIGHT = 0.35  # a reading weighted below this is shown as suspect


@dataclass(frozen=True, eq=False)
class Correction:
    """What readings say of the parameters: mean and covariance, and how far each reading is trusted."""

    names: tuple[str, ...]  # (p,)
    mean_db: Array  # (p,)
    covariance: Array  # (p, p) dB²
    weight: Array  # (n,) 1 = as trusted as any, near 0 = disregarded
    residual_db: Array  # (n,) reading less prediction after the correction

    @property
    def suspect(self) -> NDArray[np.bool_]:
        """Readings that do not fit the rest, (n,)."""
        return self.weight < SUSPECT_WEIGHT


def correct(
    names: tuple[str, ...], prior: Array, design: Array, difference_db: Array, noise: Array
) -> Correction:
    """Update the parameters by readings.

    Parameters
    ----------
    names : of the parameters (p,)
    prior : covariance of the parameters before (p, p) [dB²]
    design : how each reading depends on each parameter (n, p)
    difference_db : reading less prediction (n,) [dB]
    noise : covariance of what no parameter explains (n, n), or its diagonal (n,) [dB²]

    **Validity**: any n from 0 up; with none the prior comes back. **Source**: Bayesian linear regression
    (conditional normal); weights of the Student-t by expectation maximisation, textbook.
    """
    count = len(difference_db)
    spread = np.diag(noise) if noise.ndim == 1 else noise
    weight = np.ones(count)
    mean, covariance = np.zeros(len(names)), prior
    residual = difference_db.copy()
    for _ in range(ROBUST_ROUNDS if count else 0):
        scale = 1.0 / np.sqrt(weight)
        mean, covariance = _update(prior, design, difference_db, spread * scale[:, None] * scale[None, :])
        residual = difference_db - design @ mean
        expected = residual**2 + np.einsum("ij,jk,ik->i", design, covariance, design)
        fresh = (ROBUST_FREEDOM + 1) / (ROBUST_FREEDOM + expected / np.diag(spread))
        fresh = np.minimum(fresh, 1.0)
        if np.max(np.abs(fresh - weight)) < 1e-4:
            weight = fresh
            break
        weight = fresh
    return Correction(names, mean, covariance, weight, residual)


def _update(prior: Array, design: Array, difference: Array, noise: Array) -> tuple[Array, Array]:
    """Mean and covariance of the parameters given the readings."""
    crossed = prior @ design.T
    total = design @ crossed + noise
    gain = np.linalg.solve(total, crossed.T).T
    covariance = prior - gain @ crossed.T
    return gain @ difference, (covariance + covariance.T) / 2


def corrected_field(
    correction: Correction, design: NDArray[np.float32], own_variance: NDArray[np.float32]
) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
    """What the correction adds to a map, and the map's new standard deviation.

    Parameters
    ----------
    design : (p, *places) how each place depends on each parameter
    own_variance : (*places) what no parameter explains [dB²]

    Returns
    -------
    shift [dB] and standard deviation [dB], each (*places)
    """
    flat = design.reshape(len(design), -1)
    shift = correction.mean_db.astype(np.float32) @ flat
    half = np.linalg.cholesky(correction.covariance + 1e-9 * np.eye(len(flat))).astype(np.float32).T @ flat
    variance = np.einsum("ij,ij->j", half, half).reshape(own_variance.shape) + own_variance
    return shift.reshape(own_variance.shape), np.sqrt(variance)
