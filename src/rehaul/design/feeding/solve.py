"""What feeds what: least cost that meets what is asked, proven, and the front of cost."""

from __future__ import annotations

import numpy as np

from rehaul.design.coverage import COST_STEP
from rehaul.design.exact import solve_exact
from rehaul.design.feeding.core import core_of
from rehaul.design.feeding.engine import IMPOSSIBLE, OPTIMAL, STOPPED
from rehaul.design.feeding.figures import Figures
from rehaul.design.feeding.problem import FeedChoice, FeedProblem, FeedStep
from rehaul.design.feeding.program import program_of
from rehaul.design.feeding.checked import Clock, Found, search
from rehaul.design.feeding.ties import first_of_equals


def solve_feeds(problem: FeedProblem, time_limit_s: float = 10.0, *, enough: int | None = None) -> FeedChoice:
    """Least cost that meets everything asked, or `enough` of it; where that cannot be, as much as can be.

    Parameters
    ----------
    problem : ways, what they serve and share, and what is asked
    time_limit_s : stop here with the best found and the gap that remains
    enough : number of requirements and counted ones to meet; all where None

    Returns
    -------
    The choice. Of equally cheap ones it has the highest sum of rates, and of those the ids that come first.
    `feasible` is false where what was asked cannot be met by any choice; it then holds the cheapest of
    those that meet most, or no way at all where nothing fits what must be or is fixed.

    **Validity** exact where `proven`, whatever the order of ways and resources: money in hundredths, rates in
    0.1 Mb/s, power in milliwatts, shares of a medium to a millionth, weights of places to 1e-9 of their
    total. A limit of time makes the answer depend on the machine; `proven` ones never do.
    """
    desk = Desk(problem)
    wanted = len(problem.asked) if enough is None else min(max(enough, 0), len(problem.asked))
    clock = Clock(time_limit_s)
    count, found = desk.least(min(wanted, desk.reach), clock)
    return desk.choice(found, count, wanted, clock)


def feed_front(problem: FeedProblem, time_limit_s: float = 10.0) -> tuple[FeedStep, ...]:
    """Least cost for every number of requirements met, from none to as many as can be.

    Numbers that a cheaper or equally cheap choice already passes are left out.

    **Validity** each point as exact as its `choice` says; the limit of time holds for each point.
    """
    desk = Desk(problem)
    steps: list[FeedStep] = []
    above: Found | None = None
    count = desk.reach
    while count >= 0:
        clock = Clock(time_limit_s)
        count, found = desk.least(count, clock)
        if found.tally is None:
            break
        if above is None or above.tally is None or found.tally.cost < above.tally.cost:
            choice = desk.choice(found, count, count, clock)
            steps.append(FeedStep(sum(choice.met), choice))
            above = found
        count -= 1
    return tuple(reversed(steps))


class Desk:
    """One problem, reduced once."""

    def __init__(self, problem: FeedProblem) -> None:
        self.figures = Figures(problem)
        self.core = core_of(self.figures)
        self.reach = int(np.count_nonzero(self.core.can_meet))  # no choice meets more
        self.impossible = not self.figures.must <= set(self.figures.group[self.core.ways].tolist())

    def least(self, count: int, clock: Clock) -> tuple[int, Found]:
        """Least cost that meets so many, or as many below that as can be; how many, and what was found."""
        while True:
            found = self._least(count, clock)
            if found.status != IMPOSSIBLE or count == 0:
                return count, found
            count -= 1

    def choice(self, found: Found, count: int, wanted: int, clock: Clock) -> FeedChoice:
        """The first of the choices as cheap as the one found."""
        tally, sure = found.tally, found.proven
        if tally is None:
            nothing = self.figures.tally(())
            return self.figures.choice(
                nothing, bound=found.bound, proven=sure, nodes=found.nodes, wanted=wanted, possible=False
            )
        if sure:
            tally, sure = first_of_equals(self.core, tally, count, clock)
        return self.figures.choice(tally, bound=found.bound, proven=sure, nodes=found.nodes, wanted=wanted)

    def _least(self, count: int, clock: Clock) -> Found:
        if self.impossible:
            return Found(IMPOSSIBLE, None, 0.0, 0)
        if self.core.plain:
            return self._plain(count, clock)
        program = program_of(self.core, count)
        return search(program, program.cost, clock)

    def _plain(self, count: int, clock: Clock) -> Found:
        """By the search for problems in which nothing is shared."""
        found = solve_exact(self.figures.part(self.core.ways), clock.left_s, enough=count)
        tally = self.figures.tally(self.core.ways[list(found.options)].tolist()) if found.feasible else None
        status = STOPPED if not found.proven else OPTIMAL if found.feasible else IMPOSSIBLE
        return Found(status, tally, found.bound / COST_STEP, found.nodes)
