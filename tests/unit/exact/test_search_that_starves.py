"""A search whose thread gets no processor goes on to its proof; one that works for too long ends."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest

from rehaul import clock as clocks
from rehaul.clock import LONGEST_WAIT, Clock
from rehaul.exact import (
    Solver,
    Unsettled,
    cheapest_fix,
    cost_of_group,
    cost_without_group,
    feed_front,
    solve_exact,
    solve_feeds,
)
from rehaul.exact.coverage import CoverProblem, Requirement
from rehaul.exact.covering import solve
from sample_feeds import house_problem

PROBLEM = house_problem(3)


@dataclass
class Passing:
    """Times that pass by so much each time that somebody asks how late it is on the wall."""

    works_s: float
    waits_s: float
    asked: int = 0

    def thread_time(self) -> float:
        return self.asked * self.works_s

    def monotonic(self) -> float:
        self.asked += 1
        return self.asked * (self.works_s + self.waits_s)


def passing(patch: pytest.MonkeyPatch, *, works_s: float = 0.0, waits_s: float = 0.0) -> Passing:
    times = Passing(works_s, waits_s)
    patch.setattr(clocks, "time", times)
    return times


def test_a_search_that_sleeps_is_not_cut_short(monkeypatch: pytest.MonkeyPatch) -> None:
    whole = solve_feeds(PROBLEM, 100.0)
    asked = passing(monkeypatch, waits_s=1.0)
    found = solve_feeds(PROBLEM, 1e9)
    assert found == whole and whole.proven and asked.asked > 4, "it looks at the clock, so it could be cut"
    limit_s = asked.asked / LONGEST_WAIT + 1.0  # less than passes on the wall, more than a third of it
    assert limit_s < asked.asked - 1
    passing(monkeypatch, waits_s=1.0)
    assert solve_feeds(PROBLEM, limit_s) == whole


def test_a_search_that_works_is_cut_short_and_so_is_one_that_is_waited_for(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked = passing(monkeypatch, waits_s=1.0)
    whole = solve_feeds(PROBLEM, 1e9)
    assert whole.proven
    needs_s = asked.asked
    passing(monkeypatch, works_s=1.0)
    worked = solve_feeds(PROBLEM, needs_s / 2)
    passing(monkeypatch, waits_s=1.0)
    waited = solve_feeds(PROBLEM, needs_s / 2 / LONGEST_WAIT)
    for found in (worked, waited):
        assert not found.proven and found.bound <= whole.cost


def test_a_front_and_a_reason_end_with_the_longer_limit(monkeypatch: pytest.MonkeyPatch) -> None:
    every, choice = feed_front(PROBLEM, 100.0), solve_feeds(PROBLEM, 100.0)
    group = next(way.group for way in PROBLEM.ways if way.id not in choice.ways)
    sure = cost_of_group(PROBLEM, choice, group, 100.0)
    passing(monkeypatch, waits_s=1.0)
    assert [step.choice for step in feed_front(PROBLEM, 1e9, whole_limit_s=1e9)] == [
        step.choice for step in every
    ]
    passing(monkeypatch, works_s=1.0)
    fewer = feed_front(PROBLEM, 1e9, whole_limit_s=20.0)
    assert len(fewer) < len(every) or not all(step.choice.proven for step in fewer)
    passing(monkeypatch, works_s=1.0)
    within = Clock(2.0)
    cut = cost_of_group(PROBLEM, choice, group, 1e9, within=within)
    assert within.is_up() and sure is not None and sure.choice.proven
    assert cut is None or not cut.choice.proven


def test_places_alone_are_searched_by_the_same_clock(monkeypatch: pytest.MonkeyPatch) -> None:
    random = np.random.default_rng(5)
    serves = random.random((60, 80)) < 0.12
    asked = tuple(Requirement(f"room {r}", np.array([r]), np.ones(1), 1.0) for r in range(80))
    problem = CoverProblem(
        np.arange(60), np.zeros(60, dtype=np.int64), random.uniform(5, 9, 60), serves, asked
    )
    monkeypatch.setattr(solve, "CHUNK", 2)  # nodes between looks at the clock
    whole = solve_exact(problem, 100.0)
    times = passing(monkeypatch, waits_s=1.0)
    assert solve_exact(problem, 1e9) == whole and whole.proven
    needs_s = times.asked
    assert needs_s > 4
    passing(monkeypatch, waits_s=1.0)
    assert solve_exact(problem, needs_s / LONGEST_WAIT + 1.0).proven
    for how in ({"works_s": 1.0}, {"waits_s": LONGEST_WAIT}):
        passing(monkeypatch, **how)
        assert not solve_exact(problem, 2.0).proven
        passing(monkeypatch, **how)
        assert not solve_exact(problem, 1e9, within=Clock(2.0)).proven


def test_who_breaks_off_in_the_middle_leaves_a_solver_that_answers_alike(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    class Left(Exception):
        pass

    monkeypatch.setattr(clocks, "LOOK_S", 0.0)
    whole, budget = solve_feeds(PROBLEM, 100.0), 0.7 * solve_feeds(PROBLEM, 100.0).cost
    within = Solver(PROBLEM).most_within(budget, 100.0)
    looks: list[int] = []
    solve_feeds(PROBLEM, 100.0, within=Clock(100.0, look=lambda: looks.append(1)))
    assert len(looks) > 4
    solver = Solver(PROBLEM)
    for at in range(1, len(looks) + 1, max(1, len(looks) // 6)):
        left: list[int] = []

        def look(left: list[int] = left, at: int = at) -> None:
            left.append(1)
            if len(left) == at:
                raise Left

        with pytest.raises(Left):
            solve_feeds(PROBLEM, 100.0, solver=solver, within=Clock(100.0, look=look))
        left.clear()
        with pytest.raises(Left):
            solver.most_within(budget, 100.0, look)
    found = solve_feeds(PROBLEM, 100.0, solver=solver)
    assert (found.ways, found.cost, found.proven) == (whole.ways, whole.cost, True)
    again = solver.most_within(budget, 100.0)
    assert within is not None and again is not None
    assert (again.ways, again.cost, again.proven) == (within.ways, within.cost, within.proven)


def test_a_reason_that_time_cut_short_is_not_settled(monkeypatch: pytest.MonkeyPatch) -> None:
    """None says that no choice does; a search that did not get so far does not know it."""
    choice = solve_feeds(PROBLEM, 100.0)
    groups = [way.group for way in PROBLEM.ways if way.id not in choice.ways]
    assert all(cost_of_group(PROBLEM, choice, group, 100.0) is not Unsettled.UNSETTLED for group in groups)
    for cut in (
        lambda: cost_of_group(PROBLEM, choice, groups[0], 0.0),
        lambda: cost_without_group(PROBLEM, choice, PROBLEM.ways[0].group, 0.0),
        lambda: cheapest_fix(PROBLEM, choice, 0, 0.0),
    ):
        passing(monkeypatch, works_s=1.0)
        found = cut()
        assert found is Unsettled.UNSETTLED or (found is not None and not found.choice.proven)
