"""What is left over near a reading: alike at neighbouring places, so a reading says most of its own room.

What no doubt explains has two parts that nearby places of one source on one storey share, with correlations
that fall exponentially with distance. What stands about a place spreads as much near the box as far from
it and reaches as far as a room. What comes on top far from the box and behind walls reaches across the
house; beside the box there is none of it, so that a reading there says nothing of it. Together with
the doubts it is one normal distribution, so that maps, ranges and the worth of the next reading are
closed forms.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Floats, Reals
from rehaul.facts.calibration import calibration_number
from rehaul.predict.doubts import Basis, Sender

ONE_STOREY_M = 1.5  # receivers whose heights differ by less are on one storey
MOST_READINGS = 300  # beyond this the doubts alone are used: they are then well known


@dataclass(frozen=True, eq=False)
class ResidualView:
    """Places as the readings leave them, from one spot or from several (spot,), as the basis is."""

    basis: Basis
    shift_db: Floats  # ([spot,] k) to be added to the loss
    sd_db: Floats  # ([spot,] k)
    seen: Floats  # ([spot,] n, k) what readings took off each variance, in parts; empty without a residual


@dataclass(frozen=True, eq=False)
class Residual:
    """The readings, solved, ready to be carried to other places."""

    points_m: Reals  # (n, 3) of the readings
    sources: tuple[Sender, ...]  # (n,)
    carried: Floats  # (n, p) prior covariance of each reading with each doubt
    own_variance: Floats  # (n,) dB²
    pull: Floats  # (n,) inverse covariance times what was read less what was predicted
    half: Floats  # (n, n) inverse of the lower root of the readings' covariance
    scale: float
    prior_variance: Floats  # (p,)
    prior_mean: Floats  # (p,) dB

    def view(self, basis: Basis) -> ResidualView:
        """The loss at places as the readings leave it: shift and standard deviation ([spot,] k) [dB].

        Near a reading of the same box the spread shrinks most. **Validity** and **Source**: as
        `residual_of`.
        """
        common = self._common(basis)
        seen = self.half @ common
        before = self.prior_variance @ basis.design**2 + basis.own_variance
        variance = np.maximum(before - np.einsum("...ij,...ij->...j", seen, seen), 1e-3)
        variance += np.float32(basis.level_variance)
        return ResidualView(
            basis,
            self.pull @ common + self.prior_mean @ basis.design,
            np.sqrt(np.float32(self.scale) * variance),
            seen,
        )

    def covariance(self, one: ResidualView, other: ResidualView) -> Floats:
        """Covariance of the losses at two sets of places after the readings (k, m) [dB²].

        `one` and `other` are views of this residual. A view with itself has the variances on its diagonal
        but for what no two places share. **Validity** and **Source**: as `residual_of`.
        """
        here, there = one.basis, other.basis
        near = left_over(
            here.points_m,
            [here.source],
            here.own_variance,
            there.points_m,
            [there.source],
            there.own_variance,
        )
        near += here.design.T @ (self.prior_variance[:, None] * there.design)
        near -= one.seen.T @ other.seen
        near += np.float32(here.level_shared(there))
        near *= np.float32(self.scale)
        return near

    def _common(self, basis: Basis) -> Floats:
        """Prior covariance of every reading with every place ([spot,] n, k)."""
        near = left_over(
            self.points_m,
            self.sources,
            self.own_variance,
            basis.points_m,
            [basis.source],
            basis.own_variance,
        )
        return near + self.carried @ basis.design


def residual_of(
    prior_variance: Reals,
    prior_mean: Reals,
    readings: Basis,
    sources: Sequence[Sender],
    loss_db: Reals,
    noise: Reals,
    scale: float,
) -> Residual:
    """Solve the readings for doubts and left-over together.

    Parameters
    ----------
    prior_variance : of the doubts (p,) [dB²]
    prior_mean : of the doubts (p,) [dB]
    readings : the readings as places; their common source is not used
    sources : of each reading (n,)
    loss_db : loss read less loss predicted, the doubts at their prior mean (n,) [dB]
    noise : variance of the reading itself, bad ones made larger (n,) [dB²]
    scale : of every variance

    **Validity**: up to some hundred readings; one storey's left-over says nothing of another's.
    **Source**: Gaussian-process regression with a linear part, textbook; correlation as in 3GPP
    TR 38.901, 7.4.4, with the two parts of the fact table.
    """
    carried = readings.design.astype(np.float64).T * prior_variance
    half = np.linalg.inv(
        np.linalg.cholesky(joint_variance(prior_variance, readings, sources) + np.diag(noise))
    )
    return Residual(
        points_m=readings.points_m,
        sources=tuple(sources),
        carried=carried.astype(np.float32),
        own_variance=readings.own_variance,
        pull=(half.T @ (half @ loss_db)).astype(np.float32),
        half=half.astype(np.float32),
        scale=scale,
        prior_variance=prior_variance.astype(np.float32),
        prior_mean=prior_mean.astype(np.float32),
    )


def joint_variance(prior_variance: Reals, readings: Basis, sources: Sequence[Sender]) -> Reals:
    """Prior covariance of the losses at places, each with its own source (n, n) [dB²].

    **Validity**, **Source**: as `residual_of`.
    """
    design = readings.design.astype(np.float64)
    points, own = readings.points_m, readings.own_variance
    covariance = left_over(points, sources, own, points, sources, own).astype(np.float64)
    np.fill_diagonal(covariance, own)
    return np.asarray((design.T * prior_variance) @ design + covariance)


@dataclass(frozen=True)
class LeftOverPart:
    """A part of what is left over: how much of it nearby places share, and how far that reaches."""

    share: float  # at one place, 0 to 1
    reach_m: float

    def alike(self, points_m: Reals, others_m: Reals) -> Floats:
        """Correlation between two sets of places of one source (n, k), a place with itself too.

        **Validity**: nothing is shared between storeys. **Source**: as `residual_of`.
        """
        ours, theirs = (np.asarray(points, dtype=np.float32) for points in (points_m, others_m))
        x, y, z = (ours[:, None, axis] - theirs[None, :, axis] for axis in range(3))
        near = np.sqrt(x * x + y * y)
        near *= np.float32(-1 / self.reach_m)
        np.exp(near, out=near)
        near *= np.float32(self.share) * (np.abs(z) < np.float32(ONE_STOREY_M))
        return np.asarray(near, dtype=np.float32)


def parts() -> tuple[LeftOverPart, LeftOverPart]:
    """The two parts of what is left over, with their shares and reaches [m].

    What stands about a place, then what comes on top far from the box and behind walls. **Source**: the
    fact table `calibration_numbers`, measured sets (docs/calibration.md).
    """
    number = calibration_number
    return (
        LeftOverPart(number("residual_room_share"), number("residual_room_reach")),
        LeftOverPart(number("residual_house_share"), number("residual_house_reach")),
    )


def spreads_db(own_variance: Reals | Floats) -> tuple[Floats, Floats]:
    """How much the two parts of `parts` spread [dB], each of the shape given.

    `own_variance` is that of what is left over [dB²]. The first part takes up to a room's share, the second
    the rest, which is 0 near the box. **Source**: `residual_room_sd` of the fact table
    `calibration_numbers`.
    """
    own = np.asarray(own_variance, dtype=np.float32)
    room = np.minimum(own, np.float32(calibration_number("residual_room_sd") ** 2))
    return np.sqrt(room), np.sqrt(own - room)


def left_over(
    points_m: Reals,
    sources: Sequence[Sender],
    own_variance: Floats,
    others_m: Reals,
    other_sources: Sequence[Sender],
    others_variance: Floats,
) -> Floats:
    """Covariance of what is left over between two sets of places ([spot,] n, k), with itself too [dB²].

    `others_variance` is ([spot,] k), of the other places as seen from one spot or several.

    Sources are one for each place, or one for all. Nothing is shared between boxes or storeys; two
    bands of one box share what the fact table says. What a place has alone is not in it.
    **Validity**, **Source**: as `residual_of`.
    """
    covariance = np.zeros((*others_variance.shape[:-1], len(points_m), len(others_m)), dtype=np.float32)
    kin = _kin(sources, other_sources)
    if not kin.any():  # boxes that were not read: most of those that may be placed
        return covariance
    for part, ours, theirs in zip(
        parts(), spreads_db(own_variance), spreads_db(others_variance), strict=True
    ):
        near = part.alike(points_m, others_m)
        near *= ours[:, None]
        covariance += near * theirs[..., None, :]
    covariance *= kin
    return covariance


def _kin(sources: Sequence[Sender], others: Sequence[Sender]) -> NDArray[np.float32]:
    """1 for one source, what bands share for two bands of one box, 0 for two boxes."""
    boxes, other_boxes = (np.array([source.box for source in group]) for group in (sources, others))
    bands, other_bands = (np.array([source.band for source in group]) for group in (sources, others))
    same_box = boxes[:, None] == other_boxes[None, :]
    same_band = bands[:, None] == other_bands[None, :]
    share = np.float32(calibration_number("bands_alike"))
    return np.asarray(np.where(same_band, np.float32(1), share) * same_box, dtype=np.float32)
