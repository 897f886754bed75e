"""The rows of the small program against every set of ways: what fits breaks none, what does not breaks one.

Resources stand in it bundled, or as part of the ways of one group; here every choice is worked out resource
by resource and put into the columns by the meaning of each.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

import numpy as np
import pytest

from rehaul.exact.feeding.bundles import bundles_of
from rehaul.exact.feeding.core import Core, core_of
from rehaul.exact.feeding.figures import Figures, Tally
from rehaul.exact.feeding.program import Program, frame_of, meeting
from rehaul.exact.feeding.scene import Carried, moved, names_of
from sample_feeds import random_problem

SEEDS = range(60)


def sets_of(core: Core) -> Iterator[Tally]:
    """Every set of ways of the core, one of a group at most."""
    groups = core.figures.group[core.ways]
    slots = [[None, *core.ways[groups == group].tolist()] for group in np.unique(groups)]
    for pick in itertools.product(*slots):
        chosen = [way for way in pick if way is not None]
        if set(core.ways[core.held].tolist()) <= set(chosen):
            yield core.figures.tally(chosen)


def point_of(program: Program, tally: Tally) -> np.ndarray:
    """The columns at a choice: a bundle is used where any resource of it is."""
    x = np.zeros(len(program.cost))
    x[: program.ways] = np.isin(program.core.ways, tally.ways)
    x[program.ways : program.first_bundle] = np.array(tally.met, dtype=np.bool_) & program.core.can_meet
    for place, bundle in enumerate(program.bundles.shared):
        x[program.first_bundle + place] = bool(set(bundle) & set(tally.resources))
    if tally.switch >= 0 and program.classes:
        room = program.core.figures.class_room
        enough = [np.all(room[kind] >= room[tally.switch]) for kind in program.classes]
        kind = program.classes.index(tally.switch) if tally.switch in program.classes else enough.index(True)
        x[program.first_bundle + len(program.bundles.shared) + kind] = 1.0
    return x


def holds(program: Program, x: np.ndarray) -> bool:
    return all(
        least - 1e-9 <= values @ x[columns] <= most + 1e-9 for columns, values, least, most in program.rows
    )


@pytest.mark.parametrize("seed", SEEDS)
def test_rows_hold_for_what_fits_and_for_nothing_else(seed: int) -> None:
    core = core_of(Figures(random_problem(seed)))
    program = meeting(frame_of(core), 0)
    for tally in sets_of(core):
        x = point_of(program, tally)
        if tally.fits:
            assert holds(program, x)
            assert program.cost @ x == tally.cost
        else:
            assert not holds(program, x)


@pytest.mark.parametrize("seed", SEEDS)
def test_carried_rows_say_the_same_of_fewer_ways(seed: int) -> None:
    """A row over all columns has the same value at every choice that fewer ways leave."""
    core = core_of(Figures(random_problem(seed)))
    random = np.random.default_rng(seed)
    program = meeting(frame_of(core), 0)
    rows = random.random((3, len(program.cost)))
    rows[:, program.first_bundle + len(program.bundles.shared) :] = 0.0
    stay = core.ways[random.random(len(core.ways)) < 0.6].tolist()
    fewer = meeting(frame_of(core.only(stay)), 0)
    carried, _ = moved(Carried(names_of(program), rows, np.zeros(3)), fewer)
    for tally in sets_of(fewer.core):
        if tally.fits:
            for row, other in zip(rows, carried, strict=True):
                before, after = point_of(program, tally), point_of(fewer, tally)
                before[program.ways : program.first_bundle] = after[fewer.ways : fewer.first_bundle]
                assert row @ before == pytest.approx(other @ after)


def test_instances_bundle_and_fold() -> None:
    """The check is not idle: resources come together, go into ways, and do so again with fewer ways."""
    bundles = [bundles_of(core_of(Figures(random_problem(seed)))) for seed in SEEDS]
    assert sum(len(bundle) > 1 for one in bundles for bundle in one.shared) > 5
    assert sum(bool(one.own.any()) for one in bundles) > 20
    assert sum(bool(one.shared) for one in bundles) > 20
