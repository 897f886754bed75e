"""What a firm's houses teach: walls, floors, distance and levels as they turned out, for its next house.

A house's own losses scatter about a mean of all houses, and that mean is not known either: the tables hold
a guess of it. Every house whose boxes were read says something of the mean; a tenth house starts from what
nine have shown. What one house is by itself stays its own.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from rehaul.arrays import Reals
from rehaul.facts.calibration import calibration_number
from rehaul.house import Job, Learnt, LearntTerm
from rehaul.predict.calibration import calibrate, doubts_for, read_before, rows_of
from rehaul.predict.censored import stand_ins
from rehaul.predict.doubts import SPREADING, Doubts, level_name
from rehaul.predict.observations import Observation
from rehaul.predict.radiators import standing_radiators
from rehaul.predict.residual import joint_variance
from rehaul.predict.scene import HouseScene, scene_of
from rehaul.wlan import BANDS

LEAST_READINGS = 3  # of a house, to say anything


@dataclass(frozen=True, eq=False)
class Taught:
    """One house and what was read in it."""

    scene: HouseScene
    observations: Sequence[Observation]


def taught_by(job: Job) -> Taught:
    """A job's readings of before the work, against predictions that nothing was learnt for.

    So a house does not teach what it was told: what was learnt for the job itself is left out. **Source**:
    docs/calibration.md, "Earlier houses".
    """
    plain = job.model_copy(update={"learnt": None})
    scene, boxes = scene_of(plain.house, plain.country), standing_radiators(plain)
    return Taught(scene, read_before(plain, scene, boxes)[0])


def learn(houses: Sequence[Taught], date: str = "") -> Learnt:
    """Means of walls, floors, distance and levels over houses, with how surely each is known.

    Parameters: `houses`, each with its readings; those with fewer than three say nothing.
    **Validity**: houses alike enough to be of one firm; the doubts of no house are taken over, only their
    means. **Source**: hierarchical Bayesian linear regression, textbook; what of a spread lies between
    houses is the practice row `between_houses`.
    """
    used = [house for house in houses if len(house.observations) >= LEAST_READINGS]
    spreads = _spreads(used)
    names = sorted(spreads)
    precision = np.diag([1.0 / _mean_variance(name, spreads[name]) for name in names])
    pull = np.zeros(len(names))
    met: dict[str, tuple[int, int]] = {}
    for house in used:
        design, inverse, loss_db, crossed = _marginal(house, names)
        precision += design.T @ inverse @ design
        pull += design.T @ inverse @ loss_db
        for name, readings in crossed.items():
            before = met.get(name, (0, 0))
            met[name] = (before[0] + 1, before[1] + readings)
    covariance = np.linalg.inv(precision) if names else np.empty((0, 0))
    mean = covariance @ pull
    doubts = tuple(
        LearntTerm(
            term=name,
            shift_db=round(float(mean[i]), 3),
            sd_db=round(float(np.sqrt(covariance[i, i])), 3),
            houses=met[name][0],
            readings=met[name][1],
        )
        for i, name in enumerate(names)
        if name in met
    )
    return Learnt(
        date=date, houses=len(used), readings=sum(len(one.observations) for one in used), terms=doubts
    )


def _spreads(houses: Sequence[Taught]) -> dict[str, float]:
    """Every doubt that may be learnt, with its whole spread before [dB]."""
    found = {level_name(band): calibration_number("level_sd") for band in BANDS}
    found[SPREADING] = Doubts(()).spreading_sd_db
    for house in houses:
        found |= {kind.name: kind.sd_db for kind in house.scene.scene.kinds}
    return found


def _mean_variance(name: str, spread_db: float) -> float:
    """Of the mean of all houses, before any was read [dB²]."""
    level = name in {level_name(band) for band in BANDS}
    return float(spread_db**2 * (1.0 if level else 1.0 - calibration_number("between_houses")))


def _marginal(house: Taught, names: Sequence[str]) -> tuple[Reals, Reals, Reals, dict[str, int]]:
    """How its readings depend on the means, the inverse of their covariance, what was read, what was met."""
    found = calibrate(house.scene, house.observations)
    doubts = doubts_for(house.scene, house.observations)
    rows = rows_of(doubts, house.observations)
    prior = doubts.prior_variance()
    between = np.array([_between(name, names) for name in doubts.names])
    noise = np.array([seen.sd_db**2 for seen in house.observations]) / found.correction.weight
    sources = [seen.source for seen in house.observations]
    read_db = np.array([-seen.difference_db for seen in house.observations], dtype=np.float64)
    bounds = np.array([seen.at_most for seen in house.observations], dtype=np.bool_)
    loss_db, noise = stand_ins(joint_variance(prior, rows, sources), read_db, noise, bounds)
    covariance = joint_variance(prior * between, rows, sources) + np.diag(noise)
    design = np.zeros((len(house.observations), len(names)))
    for row, name in enumerate(doubts.names):
        if name in names:
            design[:, names.index(name)] += rows.design[row]
    for name, band in ((level_name(band), band) for band in BANDS):
        heard = np.array([seen.source.band == band for seen in house.observations])
        design[:, names.index(name)] = heard
    touched = {name: int(np.count_nonzero(design[:, i])) for i, name in enumerate(names)}
    crossed = {name: count for name, count in touched.items() if count}
    return design, np.asarray(np.linalg.inv(covariance), dtype=np.float64), loss_db, crossed


def _between(name: str, names: Sequence[str]) -> float:
    """Share of a doubt's variance that lies between houses: all of it for what no other house shares."""
    return calibration_number("between_houses") if name in names else 1.0
