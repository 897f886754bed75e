"""The search for the cheapest choice of one problem: the best, doing nothing, and the front, each once."""

from __future__ import annotations

import math
from collections.abc import Callable, Hashable
from dataclasses import replace

import numpy as np

from rehaul.clock import Clock
from rehaul.design.devices import stands
from rehaul.design.placing import PLACE, Placing
from rehaul.exact import Core, FeedChoice, FeedProblem, Solver, feed_front, solve_feeds
from rehaul.house import Job
from rehaul.predict.kept import KeptHouse

ROUNDING = 1e-9
FRONT_LIMIT_S = 10.0  # of the processor (`rehaul.clock`), as all of these; for each point of the front
WHOLE_FRONT_S = 20.0  # for all of them
OPEN_FRONT_S = 3.0  # where the choice itself is not proven: of a large house they are many and not either
USUAL_WAYS = 600  # of more everything takes longer: what is asked besides the choice gets less in step
WITHIN_S = 2.0  # for what a budget allows: its answer waits for it
WORTH_OFFERING = 0.02  # of the whole price: an offer that saves less than that on the next is none


class Search:
    """The searches of one problem; what one learns, the next begins with."""

    def __init__(self, problem: FeedProblem, core: Core | None = None) -> None:
        self._problem, self._solver = problem, Solver(problem, core)
        self._best: FeedChoice | None = None
        self._searched_s = 0.0
        self._front: tuple[FeedChoice, ...] | None = None
        self._within: dict[float, FeedChoice | None] = {}

    def go_on(self, time_limit_s: float, look: Callable[[], None] | None = None) -> FeedChoice:
        """The best found in so much time, what was spent already counted; the same once it is proven.

        `look` is called now and then and may raise to break off.
        """
        if self._best is None or (not self._best.proven and self._searched_s < time_limit_s):
            left_s, clock = time_limit_s - self._searched_s, Clock(math.inf, look=look)
            self._best = solve_feeds(self._problem, left_s, solver=self._solver, within=clock)
            self._searched_s = time_limit_s
        return self._best

    @property
    def best(self) -> FeedChoice:
        """The best found so far."""
        return self.go_on(0.0)

    @property
    def share(self) -> float:
        """Of the limits of time, what searches besides that of the choice may take; from 0 to 1."""
        return min(1.0, USUAL_WAYS / max(len(self._problem.ways), 1))

    def front(self, look: Callable[[], None] = lambda: None) -> tuple[FeedChoice, ...]:
        """Least cost for every number of needs met, fewest first; what saves next to nothing is left out.

        `look` is called between the points and in their searches, and may raise to break off.
        """
        if self._front is None:
            steps = feed_front(
                *(self._problem, FRONT_LIMIT_S),
                least_saving=WORTH_OFFERING * self.best.cost,
                solver=self._solver,
                whole_limit_s=self.share * WHOLE_FRONT_S if self.best.proven else OPEN_FRONT_S,
                look=look,
            )
            self._front = tuple(step.choice for step in steps)
        return self._front

    def within(self, money: float, look: Callable[[], None] | None = None) -> FeedChoice | None:
        """What meets most for no more than so much money, the cheapest of those; None for none.

        `look` as in `go_on`.
        """
        if money not in self._within:
            self._within[money] = self._solver.most_within(money, WITHIN_S, look)
        return self._within[money]


def search_of(placing: Placing, kept: KeptHouse) -> Search:
    """The search of a problem; the one that is kept where the same was searched before."""
    problem = placing.problem
    return kept.step("search", _all_of(problem), lambda: Search(problem, placing.core))


def _all_of(problem: FeedProblem) -> tuple[Hashable, ...]:
    """All of a problem, by value."""
    asked = tuple(
        (row.name, row.places.tobytes(), row.weights.tobytes(), row.share) for row in problem.requirements
    )
    things = (problem.ways, problem.resources, problem.switch_classes, problem.counted, problem.spare_ports)
    held = (problem.must, problem.forbidden, problem.fixed)
    return (problem.serves.shape, problem.serves.tobytes(), asked, *things, *held)


def points_of(
    search: Search, nothing: FeedChoice, look: Callable[[], None] = lambda: None
) -> list[FeedChoice]:
    """Doing nothing, then the points of the front that are worth more than that, fewest needs met first.

    `look` as in `Search.front`.
    """
    today = sum(nothing.met)  # where labour is not paid, more than that may cost nothing
    return [nothing, *(point for point in search.front(look) if point.cost > 0 or sum(point.met) > today)]


def settled(
    job: Job,
    placing: Placing,
    search: Search,
    nothing: FeedChoice,
    look: Callable[[], None] | None = None,
) -> FeedChoice:
    """The best, or what the budget allows; doing nothing where that gives as much.

    Doing nothing is proven where the search that found nothing better is. `look` as in `Search.go_on`.
    """
    best, budget = search.best, job.choices.budget
    pinned = any(group.startswith(PLACE) for group in placing.problem.must)
    chosen = best if budget is None else _affordable(search, budget, None if pinned else nothing, look)
    if chosen.cost > 0 or sum(chosen.met) > sum(nothing.met):
        return chosen
    return nothing if chosen.proven else replace(nothing, proven=False)


def with_chosen(points: list[FeedChoice], chosen: FeedChoice) -> list[FeedChoice]:
    """The front with the choice on it: a point that was found in less time may cost more for no more."""
    if any(point.ways == chosen.ways for point in points):
        return points
    better = [p for p in points if p.cost < chosen.cost or sum(p.met) > sum(chosen.met)]
    return sorted([*better, chosen], key=lambda point: point.cost)


def doing_nothing(placing: Placing) -> FeedChoice:
    """Everything stays as it stands, at no price: the first option of every house."""
    problem = placing.problem
    ways = [(row, option.id) for row, option in enumerate(placing.offering.options) if stands(option)]
    rows = [row for row, _ in ways]
    covered = np.asarray(problem.serves[rows].any(axis=0), dtype=np.bool_)
    served = [float(covered[r.places] @ r.weights / r.weights.sum()) for r in problem.requirements]
    met = [share >= r.share - ROUNDING for share, r in zip(served, problem.requirements, strict=True)]
    return FeedChoice(
        ways=tuple(sorted(way for _, way in ways)),
        resources=(),
        switch="",
        cost=0.0,
        served=tuple(served),
        met=(*met, *(False for _ in problem.counted)),
        feasible=all(met) and not problem.counted,
        bound=0.0,
        proven=True,
        gap=0.0,
        nodes=0,
        counted=tuple(0 for _ in problem.counted),
    )


def _affordable(
    search: Search, budget: float, nothing: FeedChoice | None, look: Callable[[], None] | None
) -> FeedChoice:
    """The best, or where it is over the budget what meets most within it; the best where nothing is.

    `nothing`: what stands, where that may be left as it is; it comes before what meets no more.
    """
    if search.best.cost <= budget:
        return search.best
    found = search.within(budget, look)
    if nothing is not None and (found is None or not found.proven):  # time may have been up before it
        nothing = replace(nothing, proven=False)
    within = [one for one in (nothing, found) if one is not None]
    return max(within, key=lambda one: (sum(one.met), -one.cost), default=search.best)
