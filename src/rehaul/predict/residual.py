"""What is left over near a reading: alike at neighbouring places, so a reading says most of its own room.

What no term explains has a part that nearby places of one source on one storey share, with a
correlation that falls exponentially with distance, near and far, and a part of each place's own.
Together with the terms it is one normal distribution, so that maps, ranges and the worth of the next
reading are closed forms.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rehaul.facts.calibration import calibration_number
from rehaul.predict.terms import Array, Basis, Floats, Source

ONE_STOREY_M = 1.5  # receivers whose heights differ by less are on one storey
MOST_READINGS = 300  # beyond this the terms alone are used: they are then well known


@dataclass(frozen=True, eq=False)
class View:
    """Places as the readings leave them."""

    basis: Basis
    shift_db: Floats  # (k,) to be added to the loss
    sd_db: Floats  # (k,)
    seen: Floats  # (n, k) what the readings have taken off each variance, in parts; (0, k) without a residual


@dataclass(frozen=True, eq=False)
class Residual:
    """The readings, solved, ready to be carried to other places."""

    points_m: Array  # (n, 3) of the readings
    sources: tuple[Source, ...]  # (n,)
    carried: Floats  # (n, p) prior covariance of each reading with each term
    own_sd: Floats  # (n,) dB
    pull: Floats  # (n,) inverse covariance times what was read less what was predicted
    half: Floats  # (n, n) inverse of the lower root of the readings' covariance
    scale: float
    prior_variance: Floats  # (p,)
    prior_mean: Floats  # (p,) dB

    def view(self, basis: Basis) -> View:
        """The loss at places as the readings leave it."""
        common = self._common(basis)
        seen = self.half @ common
        before = self.prior_variance @ basis.design**2 + basis.own_variance
        variance = np.maximum(before - np.einsum("ij,ij->j", seen, seen), 1e-3)
        variance += np.float32(basis.level_variance)
        return View(
            basis,
            self.pull @ common + self.prior_mean @ basis.design,
            np.sqrt(np.float32(self.scale) * variance),
            seen,
        )

    def covariance(self, one: View, other: View) -> Floats:
        """Covariance of the losses at two sets of places after the readings (k, m) [dB²]."""
        here, there = one.basis, other.basis
        near = alike(here.points_m, [here.source], there.points_m, [there.source])
        near *= np.sqrt(np.outer(here.own_variance, there.own_variance))
        near += here.design.T @ (self.prior_variance[:, None] * there.design)
        near -= one.seen.T @ other.seen
        near += np.float32(here.level_shared(there))
        near *= np.float32(self.scale)
        return near

    def _common(self, basis: Basis) -> Floats:
        """Prior covariance of every reading with every place (n, k)."""
        near = alike(self.points_m, self.sources, basis.points_m, [basis.source])
        near *= self.own_sd[:, None]
        near *= np.sqrt(basis.own_variance)
        near += self.carried @ basis.design
        return near


def residual_of(
    prior_variance: Array,
    prior_mean: Array,
    readings: Basis,
    sources: Sequence[Source],
    loss_db: Array,
    noise: Array,
    scale: float,
) -> Residual:
    """Solve the readings for terms and left-over together.

    Parameters
    ----------
    prior_variance : of the terms (p,) [dB²]
    prior_mean : of the terms (p,) [dB]
    readings : the readings as places; their common source is not used
    sources : of each reading (n,)
    loss_db : loss read less loss predicted, the terms at their prior mean (n,) [dB]
    noise : variance of the reading itself, bad ones made larger (n,) [dB²]
    scale : of every variance

    **Validity**: up to some hundred readings; one storey's left-over says nothing of another's.
    **Source**: Gaussian-process regression with a linear part, textbook; correlation as in 3GPP
    TR 38.901, 7.4.4, with the two reaches of the fact table.
    """
    own_sd = np.sqrt(readings.own_variance.astype(np.float64))
    carried = readings.design.astype(np.float64).T * prior_variance
    half = np.linalg.inv(
        np.linalg.cholesky(joint_variance(prior_variance, readings, sources) + np.diag(noise))
    )
    return Residual(
        points_m=readings.points_m,
        sources=tuple(sources),
        carried=carried.astype(np.float32),
        own_sd=own_sd.astype(np.float32),
        pull=(half.T @ (half @ loss_db)).astype(np.float32),
        half=half.astype(np.float32),
        scale=scale,
        prior_variance=prior_variance.astype(np.float32),
        prior_mean=prior_mean.astype(np.float32),
    )


def joint_variance(prior_variance: Array, readings: Basis, sources: Sequence[Source]) -> Array:
    """Prior covariance of the losses at places, each with its own source (n, n) [dB²].

    **Validity**, **Source**: as `residual_of`.
    """
    design = readings.design.astype(np.float64)
    own_sd = np.sqrt(readings.own_variance.astype(np.float64))
    near = alike(readings.points_m, sources, readings.points_m, sources) * np.outer(own_sd, own_sd)
    alone = np.diag(own_sd**2 * (1.0 - shared_of_left_over()))
    return np.asarray((design.T * prior_variance) @ design + near + alone)


def alike(
    points_m: Array, sources: Sequence[Source], others_m: Array, other_sources: Sequence[Source]
) -> Floats:
    """Correlation of what is left over between two sets of places (n, k), a place with itself too.

    Sources are one for each place, or one for all. Nothing is shared between boxes or storeys; two
    bands of one box share what the fact table says.
    **Validity**, **Source**: as `residual_of`.
    """
    ours, theirs = (np.asarray(points, dtype=np.float32) for points in (points_m, others_m))
    x, y, z = (ours[:, None, axis] - theirs[None, :, axis] for axis in range(3))
    apart_m = np.sqrt(x * x + y * y)
    near = np.zeros_like(apart_m)
    for share, reach_m in reaches():
        near += np.float32(share) * np.exp(apart_m * np.float32(-1 / reach_m))
    near *= np.abs(z) < np.float32(ONE_STOREY_M)
    near *= _kin(sources, other_sources)
    return np.asarray(near, dtype=np.float32)


def reaches() -> tuple[tuple[float, float], ...]:
    """(share of what is left over, how far it reaches [m]): furniture about a spot, and parts of a house."""
    return tuple(
        (calibration_number(f"residual_{which}_share"), calibration_number(f"residual_{which}_reach"))
        for which in ("near", "far")
    )


def shared_of_left_over() -> float:
    """Part of what is left over that nearby places share, 0 to 1."""
    return sum(share for share, _ in reaches())


def _kin(sources: Sequence[Source], others: Sequence[Source]) -> NDArray[np.float32]:
    """1 for one source, what bands share for two bands of one box, 0 for two boxes."""
    boxes, other_boxes = (np.array([source.box for source in group]) for group in (sources, others))
    bands, other_bands = (np.array([source.band for source in group]) for group in (sources, others))
    same_box = boxes[:, None] == other_boxes[None, :]
    same_band = bands[:, None] == other_bands[None, :]
    share = np.float32(calibration_number("bands_alike"))
    return np.asarray(np.where(same_band, np.float32(1), share) * same_box, dtype=np.float32)
