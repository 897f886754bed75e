"""What feeds what: least cost that meets what is asked, proven, and the front of cost."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np

from rehaul.clock import Clock
from rehaul.exact.coverage import COST_STEP
from rehaul.exact.covering.solve import solve_exact
from rehaul.exact.feeding.core import Core, core_of
from rehaul.exact.feeding.figures import Figures, Tally
from rehaul.exact.feeding.problem import FeedChoice, FeedProblem, FeedStep
from rehaul.exact.feeding.search import BestFound, SharedLearnt, find

MANY = 200_000  # ways times rows of places; a house has a tenth of that


def solve_feeds(
    problem: FeedProblem,
    time_limit_s: float = 10.0,
    *,
    enough: int | None = None,
    solver: Solver | None = None,
    within: Clock | None = None,
) -> FeedChoice:
    """Least cost that meets everything asked, or `enough` of it; where that cannot be, as much as can be.

    Parameters
    ----------
    problem : ways, what they serve and share, and what is asked
    time_limit_s : of the processor (`rehaul.clock`); stop there with the best found and the gap that remains
    enough : number of requirements and counted ones to meet; all where None
    solver : of the same problem, where more than one thing is asked of it: what it knows it keeps
    within : a longer limit that this one is a part of

    Returns
    -------
    The choice. Of equally cheap ones it has the highest sum of rates, and of those the ids that come first;
    only where nothing is shared and places are many it is whichever is met first, always the same.
    `feasible` is false where what was asked cannot be met by any choice; it then holds the cheapest of
    those that meet most, or no way at all where nothing fits what must be or is fixed.

    **Validity** exact where `proven`, whatever the order of ways and resources: money in hundredths, rates in
    0.1 Mb/s, power in milliwatts, shares of a medium to a millionth, weights of places to 1e-9 of their
    total. A limit of time makes the answer depend on the machine; `proven` ones never do. **Source**:
    docs/exact.md, "The problem".

    >>> import numpy as np
    >>> from rehaul.exact import FeedProblem, Requirement, Way
    >>> ways = (Way("at the stairs", "hall", cost=60.0), Way("under the roof", "attic", cost=95.0))
    >>> study = Requirement("study", places=np.array([0, 1]), weights=np.ones(2), share=1.0)
    >>> serves = np.array([[True, False], [True, True]])  # (ways, places)
    >>> found = solve_feeds(FeedProblem(ways, serves, (study,)))
    >>> found.ways, found.cost, found.proven
    (('under the roof',), 95.0, True)
    """
    desk = solver or Solver(problem)
    wanted = len(problem.asked) if enough is None else min(max(enough, 0), len(problem.asked))
    clock = Clock(time_limit_s, within=within)
    return desk.choice(desk.least(min(wanted, desk.reach), clock), wanted)


def feed_front(
    problem: FeedProblem,
    time_limit_s: float = 10.0,
    *,
    least_saving: float = 0.01,
    solver: Solver | None = None,
    whole_limit_s: float = math.inf,
    look: Callable[[], None] = lambda: None,
) -> tuple[FeedStep, ...]:
    """Least cost for every number of requirements met, from none to as many as can be.

    Numbers that a cheaper or equally cheap choice already passes are left out, and so are those that save
    less than `least_saving` (money) against the next that is dearer. `solver` as in `solve_feeds`;
    `whole_limit_s` for all points together; `look` is called before each and now and then in its search, and
    may raise to break off.

    **Validity** each point as exact as its `choice` says; the limit of time holds for each point. **Source**:
    docs/exact.md, "The problem", and "Why it is exact": one proof may serve several k.
    """
    return (solver or Solver(problem)).front(
        time_limit_s, round(least_saving / COST_STEP), whole_limit_s, look
    )


def least_cost(problem: FeedProblem, time_limit_s: float = 10.0) -> float | None:
    """Cost of the cheapest choice that holds what must be and is fixed, whatever it meets; None for none.

    Parameters: `time_limit_s` for the search. Money, to a hundredth.

    **Validity**: where time is up it is the cost of the best found, and None may then mean that none was
    found. **Source**: docs/exact.md, "The problem", and "Why it is exact": one proof may serve several k.
    """
    desk = Solver(problem)
    found = None if desk.impossible else desk.least(0, Clock(time_limit_s)).tally
    return None if found is None else found.cost * COST_STEP


class Solver:
    """One problem, reduced once; what one search learns, the next one starts with."""

    def __init__(self, problem: FeedProblem, core: Core | None = None) -> None:
        self.core = core or core_of(Figures(problem))  # of that problem
        self.figures = self.core.figures
        self.reach = int(np.count_nonzero(self.core.can_meet))  # no choice meets more
        self.impossible = not self.figures.must <= set(self.figures.group[self.core.ways].tolist())
        self._warm = SharedLearnt()
        self._known: dict[int, BestFound] = {}  # proven, by how many are met
        self._begun: dict[int, BestFound] = {}  # where time was up before the proof

    def least(self, count: int, clock: Clock) -> BestFound:
        """Least cost that meets so many, or as many below that as can be.

        Parameters: `count`, how many of what is asked; `clock`, shared by all that are tried.

        **Validity**: where time is up without a choice the search does not go lower: the tally is then None
        and unproven. **Source**: docs/exact.md, "The problem".
        """
        while True:
            found = self._find(count, clock)
            if found.tally is not None or not found.proven or count == 0:
                return found
            count -= 1

    def most_within(
        self, money: float, time_limit_s: float, look: Callable[[], None] | None = None
    ) -> FeedChoice | None:
        """The choice that meets most for no more than so much money, the cheapest of those; None for none.

        Parameters: `time_limit_s` for all numbers met together; `look` may raise to break off.

        **Validity**: proven where the search for it ended, and those for every number above it; None may mean
        that time was up. **Source**: docs/exact.md, "The problem".
        """
        clock = Clock(time_limit_s, look=look)
        dearer, sure = math.floor(money / COST_STEP + 1e-6) + 1, True
        for count in range(self.reach, -1, -1):
            part = Clock(self._share_s(clock, count), within=clock)
            found = self._find(count, part, dearer)
            if found.tally is not None:
                choice = self.choice(found, count)
                return choice if sure else replace(choice, proven=False)
            sure = sure and found.proven
        return None

    @staticmethod
    def _share_s(clock: Clock, count: int) -> float:
        """What one of so many numbers, and none, may take of the time: few of them take long."""
        return 2 * clock.left_s / (count + 1)

    def front(
        self,
        time_limit_s: float,
        least_saving: int = 1,
        whole_limit_s: float = math.inf,
        look: Callable[[], None] = lambda: None,
    ) -> tuple[FeedStep, ...]:
        """Least cost for every number met, those left out that save too little [hundredths].

        Parameters: `time_limit_s` for each number met, `whole_limit_s` for all together: what is
        not searched by then is left out. Returns fewest met first, each dearer than the
        one before. **Source**: docs/exact.md, "The problem", and "Why it is exact": one proof may serve
        several k.
        """
        steps: list[FeedStep] = []
        last: Tally | None = None
        count, below, whole = self.reach, None, Clock(whole_limit_s, look=look)
        while count >= 0 and (below is None or below > 0):
            if steps and whole.is_up():
                break
            look()
            part = Clock(min(time_limit_s, self._share_s(whole, count)), within=whole)
            found = self._find(count, part, below, last)
            if found.tally is not None:
                choice = self.choice(found, count)
                steps.append(FeedStep(sum(choice.met), choice))
                last, below = found.tally, found.tally.cost - max(least_saving, 1) + 1
            count -= 1
        return tuple(reversed(steps))

    def choice(self, found: BestFound, wanted: int) -> FeedChoice:
        """What was found, with names and money.

        Parameters: `wanted`, how many had to be met. No way at all, and not feasible, where nothing was
        found.
        """
        tally = found.tally
        return self.figures.choice(
            self.figures.tally(()) if tally is None else tally,
            bound=found.bound,
            proven=found.proven,
            nodes=found.nodes,
            wanted=wanted,
            possible=tally is not None,
        )

    def _find(
        self, count: int, clock: Clock, below: int | None = None, beside: Tally | None = None
    ) -> BestFound:
        if self.impossible:
            return BestFound(None, 0.0, True, 0)
        if below is None and count in self._known:
            return self._known[count]
        if self.core.plain and self.core.rows.size > MANY:
            found = self._plain(count, clock, below)
        else:
            begun = self._begun.get(count) if below is None else None
            core, warm = self.core, self._warm
            if begun is not None and begun.left is not None:
                core, warm = begun.left.core, begun.left.warm
            start = None if begun is None else begun.tally
            found = find(core, count, clock, start=start, below=below, beside=beside, warm=warm)
            if begun is not None and not found.proven:
                found = replace(found, bound=max(found.bound, begun.bound))
        if below is None and found.proven:
            self._known[count] = found
        elif below is None and found.tally is not None:
            self._begun[count] = found  # whoever asks again goes on from there
        return found

    def _plain(self, count: int, clock: Clock, below: int | None) -> BestFound:
        """By the search for many places, nothing shared; of equally cheap choices the one it meets."""
        found = solve_exact(self.figures.part(self.core.ways), clock.left_s, enough=count, within=clock)
        bound = found.bound / COST_STEP
        if not found.feasible:
            return BestFound(None, bound, found.proven, found.nodes)
        tally = self.figures.tally(self.core.ways[list(found.options)].tolist())
        enough = below is None or tally.cost < below
        return BestFound(tally if enough else None, bound, found.proven, found.nodes)
