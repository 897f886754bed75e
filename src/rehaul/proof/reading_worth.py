"""What a reading is worth before it is taken: how far it would move the decisions at hand.

A decision hangs on a margin: power at its deciding spot less the power needed there, normal with mean
m and standard deviation s. A reading at a place would move the mean to N(m, r²), where r² is what it
takes off the variance. Whoever decides by the sign of the mean gains r · g(|m| / r) decibels on
average, with g(z) = φ(z) − z Φ(−z). That is a closed form, so every place of a house is weighed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Floats
from rehaul.normal import below, quantile
from rehaul.predict.calibration import Calibration
from rehaul.predict.doubts import Basis
from rehaul.predict.residual import ResidualView
from rehaul.proof.weighing import FARTHEST_Z, Z_STEPS, weigh

SUREST = 0.999  # where somebody asks for more than that, this is the line


@dataclass(frozen=True, eq=False)
class Margin:
    """Something that is yes or no by one margin at one place."""

    about: str  # id of the room
    question: str  # for people
    basis: Basis  # one place
    margin_db: float  # mean of power less power needed
    sd_db: float  # of the margin
    asked: float = 0.9  # how surely the margin must be above nought for a yes

    @property
    def chance(self) -> float:
        """Chance that the margin is above nought."""
        return float(below(self.margin_db / self.sd_db))

    @property
    def yes(self) -> bool:
        """The verdict as things are known now."""
        return self.chance >= self.asked


@dataclass(frozen=True, eq=False)
class Worth:
    """What one more reading of one source would be worth, place by place."""

    gain_db: Floats  # (k,) summed over the decisions
    moves_db: Floats  # (k, d) standard deviation of what the reading would do to each margin


def worth(
    calibration: Calibration, stands: ResidualView, reading_sd_db: float, decisions: Sequence[Margin]
) -> Worth:
    """The worth of one reading at every place where one may stand.

    Parameters: `stands`, the places with the source that would be read; `reading_sd_db`, what a reading
    wanders by itself.
    **Validity**: one reading at a time; a pair may be worth more than either alone promises.
    **Source**: expected value of sample information with linear loss (Raiffa and Schlaifer, 1961).
    """
    places = len(stands.sd_db)
    if not decisions:
        return Worth(np.zeros(places, np.float32), np.zeros((places, 0), np.float32))
    groups = [calibration.covariance(stands, calibration.view(basis)) for basis in _by_source(decisions)]
    together = np.concatenate(groups, axis=1) if len(groups) > 1 else groups[0]
    total_sd = np.sqrt(stands.sd_db**2 + np.float32(reading_sd_db**2))
    margins = np.abs(np.array([one.margin_db for one in decisions], dtype=np.float32))
    gain = np.empty(places, dtype=np.float32)
    weigh(together, total_sd, margins, _table(), gain)
    return Worth(gain, together)


def change_chance(decisions: Sequence[Margin], moves_db: Floats, beyond: float = 0.0) -> Floats:
    """Chance that a reading turns each verdict over (k, d).

    A verdict is a yes where the margin is above nought as surely as asked. A reading moves the mean and
    takes the same off the variance, so either may turn it.
    Parameters: `moves_db`, standard deviation of what each reading would do to each margin (k, d); `beyond`,
    by how much the chance must move for a turn to count: a verdict that stands on the edge, because of what
    no reading can tell, would otherwise turn with every breath.
    **Validity**, **Source**: as `worth`.
    """
    margin = np.array([one.margin_db for one in decisions])
    sd = np.array([one.sd_db for one in decisions])
    now = np.array([one.yes for one in decisions])
    chance = np.array([one.chance for one in decisions])
    line = np.array([one.asked for one in decisions])
    line = np.where(now, np.minimum(line, chance - beyond), np.maximum(line, chance + beyond))
    asked = quantile(np.clip(line, 1e-6, SUREST))
    move = np.clip(np.abs(moves_db), 1e-6, sd)
    yes = below((margin - asked * np.sqrt(sd**2 - move**2)) / move)
    return np.asarray(np.where(now, 1.0 - yes, yes), dtype=np.float32)


def _by_source(decisions: Sequence[Margin]) -> list[Basis]:
    """The decisions' places, neighbours of one source joined; order kept."""
    groups: list[list[Basis]] = []
    for one in decisions:
        if groups and (groups[-1][0].source, groups[-1][0].client) == (
            one.basis.source,
            one.basis.client,
        ):
            groups[-1].append(one.basis)
        else:
            groups.append([one.basis])
    return [
        replace(
            group[0],
            points_m=np.concatenate([basis.points_m for basis in group]),
            design=np.concatenate([basis.design for basis in group], axis=1),
            own_variance=np.concatenate([basis.own_variance for basis in group]),
        )
        for group in groups
    ]


@cache
def _table() -> NDArray[np.float32]:
    """g at even steps of z, with a nought at the end."""
    z = np.arange(int(FARTHEST_Z * Z_STEPS) + 1) / Z_STEPS
    g = np.exp(-(z**2) / 2) / np.sqrt(2 * np.pi) - z * below(-z)
    return np.append(g, [0.0, 0.0]).astype(np.float32)
