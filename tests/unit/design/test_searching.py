"""How long is searched, what is asked twice and what is searched on; and edges of the limits of time."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from rehaul import clock as clocks
from rehaul.clock import Clock
from rehaul.design import searching
from rehaul.design.placing import Placing
from rehaul.design.searching import OPEN_FRONT_S, WHOLE_FRONT_S, Search, search_of
from rehaul.exact import FeedProblem, Solver, feed_front, solve_feeds
from rehaul.exact.feeding.search import BestFound
from rehaul.predict.kept import KeptHouse
from sample_feeds import random_problem

PROBLEM = random_problem(3)
BEST = solve_feeds(PROBLEM, 60.0)
OPEN = replace(BEST, proven=False)


@pytest.fixture
def searched(monkeypatch: pytest.MonkeyPatch) -> list[float]:
    """For how long was searched, each time; the second search proves it."""
    limits: list[float] = []

    def found(problem: Any, limit_s: float, solver: Any, within: Clock) -> Any:
        within.is_up()
        limits.append(limit_s)
        return BEST if len(limits) > 1 else OPEN

    monkeypatch.setattr(searching, "solve_feeds", found)
    return limits


def test_a_search_goes_on_where_it_was_until_the_proof(searched: list[float]) -> None:
    search = Search(PROBLEM)
    assert search.go_on(0.5) is OPEN is search.best and searched == [0.5]
    assert search.go_on(0.5) is OPEN is search.go_on(0.3), "so long it was searched already"
    assert search.go_on(10.0) is BEST and searched == [0.5, 9.5]
    assert search.go_on(60.0) is BEST and len(searched) == 2, "proven is proven"


def test_who_broke_off_finds_the_search_where_it_was(
    searched: list[float], monkeypatch: pytest.MonkeyPatch
) -> None:
    class Left(Exception):
        pass

    def leave() -> None:
        raise Left

    monkeypatch.setattr(clocks, "LOOK_S", 0.0)
    search = Search(PROBLEM)
    assert search.go_on(0.5) is OPEN
    with pytest.raises(Left):
        search.go_on(10.0, leave)
    assert search.best is OPEN and search.go_on(10.0) is BEST
    assert searched == [0.5, 9.5], "what was broken off is searched again"
    assert search.go_on(60.0, leave) is BEST, "what is known takes no search"
    with pytest.raises(Left):
        Search(PROBLEM).within(BEST.cost, leave)


def test_the_front_takes_less_where_the_choice_is_not_proven(
    searched: list[float], monkeypatch: pytest.MonkeyPatch
) -> None:
    limits: list[float] = []

    def front(problem: Any, limit_s: float, *, whole_limit_s: float, **more: Any) -> tuple[()]:
        limits.append(whole_limit_s)
        return ()

    monkeypatch.setattr(searching, "feed_front", front)
    for limit_s in (0.5, 10.0):
        search = Search(PROBLEM)
        search.go_on(limit_s)
        assert search.front() == () == search.front(), "asked for once"
    assert limits == [OPEN_FRONT_S, WHOLE_FRONT_S]
    monkeypatch.setattr(searching, "USUAL_WAYS", len(PROBLEM.ways) / 4)
    assert Search(PROBLEM).share == 0.25
    large = Search(PROBLEM)
    large.go_on(10.0)
    large.front()
    assert limits[2] == WHOLE_FRONT_S / 4, "less in step with the ways"
    monkeypatch.setattr(searching, "USUAL_WAYS", 10 * len(PROBLEM.ways))
    assert Search(PROBLEM).share == 1.0


def placing(problem: FeedProblem) -> Placing:
    return Placing(problem, None, None, (), {})  # type: ignore[arg-type]  # a search asks for no more


def test_the_same_problem_is_searched_once_and_another_anew() -> None:
    kept, here = KeptHouse(), placing(PROBLEM)
    again = placing(replace(random_problem(3)))
    assert search_of(here, kept) is search_of(again, kept)
    dearer = placing(replace(PROBLEM, spare_ports=PROBLEM.spare_ports + 1))
    assert search_of(dearer, kept) is not search_of(here, kept)
    assert search_of(here, KeptHouse()) is not search_of(here, kept)


@pytest.mark.parametrize("seed", [3, 37, 41])
def test_what_was_left_for_want_of_time_is_gone_on_with_to_the_same_end(seed: int) -> None:
    problem = random_problem(seed)
    solver, whole = Solver(problem), solve_feeds(problem, 60.0)
    short = solve_feeds(problem, 0.0, solver=solver)
    assert short.cost >= whole.cost or not short.feasible
    found = solve_feeds(problem, 60.0, solver=solver)
    assert (found.ways, found.cost, found.proven) == (whole.ways, whole.cost, whole.proven)


def test_a_front_without_time_has_its_fullest_point_alone() -> None:
    every = feed_front(PROBLEM, 60.0)
    assert len(every) > 1
    assert [step.choice.ways for step in feed_front(PROBLEM, 60.0, whole_limit_s=60.0)] == [
        step.choice.ways for step in every
    ]
    assert len(feed_front(PROBLEM, 60.0, whole_limit_s=0.0)) <= 1


def test_a_front_that_is_broken_off_is_begun_again() -> None:
    looked: list[int] = []

    class Left(Exception):
        pass

    def look() -> None:
        looked.append(1)
        if len(looked) == 2:
            raise Left

    search = Search(PROBLEM)
    search.go_on(60.0)
    with pytest.raises(Left):
        search.front(look)
    assert search.front(look) == search.front() and len(looked) > 2


def test_within_a_budget_nothing_is_proven_past_a_number_that_was_not_searched_out(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    solver, most = Solver(PROBLEM), Solver(PROBLEM).reach
    money, found = BEST.cost + 1.0, Solver(PROBLEM)._find
    assert most > 0
    sure = solver.most_within(money, 60.0)
    assert sure is not None and sure.proven and sum(sure.met) == most
    for proven in (True, False):

        def cut_short(count: int, clock: Any, below: Any = None, proven: bool = proven) -> Any:
            return BestFound(None, 0.0, proven, 1) if count == most else found(count, clock, below)

        monkeypatch.setattr(solver, "_find", cut_short)
        fewer = solver.most_within(money, 60.0)
        assert fewer is not None and sum(fewer.met) < most and fewer.proven is proven
