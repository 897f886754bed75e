"""Compile ahead of the first use what searches for the cheapest choice."""

from __future__ import annotations

import numpy as np

from rehaul.arrays import Bools
from rehaul.clock import Clock
from rehaul.exact.coverage import CoverProblem, Requirement
from rehaul.exact.covering.solve import solve_exact
from rehaul.exact.feeding.core import core_of
from rehaul.exact.feeding.figures import Figures
from rehaul.exact.feeding.problem import Counted, FeedProblem, Resource, SwitchClass, Way
from rehaul.exact.feeding.search import find
from rehaul.exact.feeding.solve import feed_front

SIDE = 3  # sites on a square; every straight line of it (indices modulo 3) asks for one of its sites


def warm_up() -> None:
    """Search small problems whose roots do not settle them, so that every compiled loop is called.

    Least covers of the lines of a finite plane are far from what the small program says.
    """
    x, y = np.divmod(np.arange(SIDE * SIDE), SIDE)
    slopes = (x, y, (x + y) % SIDE, (x + 2 * y) % SIDE)
    serves = np.stack([slope == at for slope in slopes for at in range(SIDE)], axis=1)
    lines = tuple(Requirement(f"line {i}", np.array([i]), np.ones(1), 1.0) for i in range(len(slopes) * SIDE))
    solve_exact(CoverProblem(np.arange(SIDE * SIDE), 0 * x, np.ones(SIDE * SIDE), serves, lines))
    problem = _fed(serves, lines, x.tolist())
    feed_front(problem)
    core, count = core_of(Figures(problem)), len(problem.asked)
    known = find(core, count, Clock(60.0))
    find(core, count, Clock(60.0), start=known.tally)  # one that starts with a choice goes back to its root
    find(core, count, Clock(60.0), many_ways=0)


def _fed(serves: Bools, lines: tuple[Requirement, ...], rows: list[int]) -> FeedProblem:
    """The same sites, those of a row on one cable, all on one uplink, one of them counted."""
    ways = [
        Way(
            f"site {i}",
            f"place {i}",
            1.0,
            needs=(f"cable {row}",),
            loads=(("air", 0.1),),
            ports=1,
            watts=5.0,
            counts=(("wired", 1),) if i % 2 else (),
            beside=("uplink",),
        )
        for i, row in enumerate(rows)
    ]
    return FeedProblem(
        ways=(*ways, Way("uplink", "uplink", 1.0)),
        serves=np.vstack([serves, np.zeros((1, serves.shape[1]), dtype=np.bool_)]),
        requirements=lines,
        counted=(Counted("wired", 2),),
        resources=tuple(Resource(f"cable {row}", 2.0, excludes=f"joint {row}") for row in range(SIDE)),
        switch_classes=(SwitchClass("small", 8, 60.0, 3.0), SwitchClass("large", 16, 90.0, 5.0)),
        spare_ports=1,
    )
