"""How long a question of why is searched for, and what is asked then; nothing is searched here."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from rehaul.clock import Clock
from rehaul.errors import BadInput
from rehaul.exact import Counted, FeedChoice, FeedProblem, Figures, Requirement, Way, core_of
from rehaul.exact.feeding import reasons
from rehaul.exact.feeding.reasons import Unsettled, cheapest_fix, cost_of_group, cost_without_group

PROBLEM = FeedProblem(
    (
        Way("cheap", "here", 10.0),
        Way("dear", "there", 25.5, counts=(("study", 1),)),
        Way("far", "attic", 99.0),
    ),
    np.array([[True, False, False], [True, True, False], [False, False, True]]),
    tuple(Requirement(f"room {r}", np.array([r]), np.ones(1), 1.0) for r in range(3)),
    must=("here",),
    forbidden=("attic",),
    counted=(Counted("study", 1),),
)
CHOICE = FeedChoice(
    ways=("cheap",), resources=(), switch="", cost=10.0, served=(1.0, 0.0, 0.0),
    met=(True, False, False, False),
    feasible=False, bound=10.0, proven=True, gap=0.0, nodes=1, counted=(0,),
)  # fmt: skip

Asked = list[tuple[FeedProblem, tuple[Any, ...], dict[str, Any]]]


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> Asked:
    found: Asked = []

    def none_does(problem: FeedProblem, *how: Any, **named: Any) -> FeedChoice:
        found.append((problem, how, named))
        return CHOICE

    monkeypatch.setattr(reasons, "solve_feeds", none_does)
    return found


def test_two_seconds_are_searched_where_nobody_says_how_long(asked: Asked) -> None:
    cost_of_group(PROBLEM, CHOICE, "there")
    cost_without_group(PROBLEM, CHOICE, "there")
    cheapest_fix(PROBLEM, CHOICE, 1)
    assert [how for _, how, _ in asked] == [(2.0,)] * 3
    cost_of_group(PROBLEM, CHOICE, "there", 7.0)
    cost_without_group(PROBLEM, CHOICE, "there", 8.0)
    cheapest_fix(PROBLEM, CHOICE, 1, 9.0)
    assert [how for _, how, _ in asked[3:]] == [(7.0,), (8.0,), (9.0,)]
    assert [named["within"] for _, _, named in asked] == [None] * 6


def test_a_reason_is_a_part_of_the_limit_of_all(asked: Asked) -> None:
    clock = Clock(10.0)
    cost_of_group(PROBLEM, CHOICE, "there", within=clock)
    cost_without_group(PROBLEM, CHOICE, "there", within=clock)
    cheapest_fix(PROBLEM, CHOICE, 1, within=clock)
    assert [(how, named["within"]) for _, how, named in asked] == [((2.0,), clock)] * 3


def test_a_group_is_asked_for_and_banned_once_besides_those_there_were(asked: Asked) -> None:
    for group in ("there", "here"):
        assert cost_of_group(PROBLEM, CHOICE, group) is None
    assert [problem.must for problem, _, _ in asked] == [("here", "there"), ("here",)]
    assert cost_without_group(PROBLEM, CHOICE, "there") is None
    assert cost_without_group(PROBLEM, CHOICE, "attic") is None
    assert [problem.forbidden for problem, _, _ in asked[2:]] == [("attic", "there"), ("attic",)]
    assert [named["enough"] for _, _, named in asked] == [1] * 4, "as many as are met now"
    for problem, _, named in asked:
        figures = named["solver"].figures
        assert figures.problem is problem, "and that is what is searched"
        assert {name for name, at in figures.groups.items() if at in figures.must} == set(problem.must)


def test_what_is_asked_of_figures_that_are_at_hand_is_the_same(asked: Asked) -> None:
    figures = Figures(PROBLEM)
    core = core_of(figures)
    for given in (False, True, True):
        cost_of_group(PROBLEM, CHOICE, "there", figures=figures if given else None)
        cost_without_group(PROBLEM, CHOICE, "there", core=core if given else None)
    first, second = asked[0][0], asked[1][0]
    assert [p.must for p, _, _ in asked] == [first.must, second.must] * 3
    assert [p.forbidden for p, _, _ in asked] == [first.forbidden, second.forbidden] * 3
    assert figures.problem is PROBLEM and PROBLEM.must == ("here",), "they stay as they were"
    with pytest.raises(BadInput):
        cost_of_group(PROBLEM, CHOICE, "attic", figures=figures)
    with pytest.raises(BadInput):
        cost_of_group(PROBLEM, CHOICE, "nowhere", figures=figures)


def test_what_must_be_there_is_not_asked_about(asked: Asked) -> None:
    assert cost_without_group(PROBLEM, CHOICE, "here") is None and asked == []


@pytest.mark.parametrize(
    ("wanted", "rooms", "counted"),
    [(1, ["room 0", "room 1"], []), (2, ["room 0", "room 2"], []), (3, ["room 0"], ["study"])],
)
def test_a_fix_is_asked_of_what_is_met_and_the_one_thing_more(
    wanted: int, rooms: list[str], counted: list[str], asked: Asked
) -> None:
    assert cheapest_fix(PROBLEM, CHOICE, wanted) is None
    ((problem, _, named),) = asked
    assert [one.name for one in problem.requirements] == rooms
    assert [one.name for one in problem.counted] == counted and named == {"within": None}


@pytest.mark.parametrize(
    ("ways", "proven", "settled"), [((), False, False), ((), True, True), (("cheap",), False, True)]
)
def test_none_is_known_and_not_only_not_found(
    ways: tuple[str, ...], proven: bool, settled: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Time that was up with nothing in hand settles nothing; a lesser choice in hand was looked for after."""
    lesser = replace(CHOICE, ways=ways, proven=proven)
    monkeypatch.setattr(reasons, "solve_feeds", lambda *how, **named: lesser)
    expected = None if settled else Unsettled.UNSETTLED
    assert cost_of_group(PROBLEM, CHOICE, "there") is expected
    assert cost_without_group(PROBLEM, CHOICE, "there") is expected
    assert cheapest_fix(PROBLEM, CHOICE, 1) is expected
