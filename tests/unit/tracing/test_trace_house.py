"""From a house to plugs and walks."""

from __future__ import annotations

import pytest

from line_checks import checked
from rehaul.errors import BadInput
from rehaul.house import (
    CableKind,
    HeldReason,
    House,
    Job,
    MeetingPoint,
    Obligation,
    ObligationKind,
    Outlet,
    Run,
    RunState,
    Storey,
    Ties,
)
from rehaul.tracing import (
    Bag,
    LeftAlone,
    Method,
    ReadingLog,
    TracingQuestion,
    Trust,
    ends_at,
    outlet_places,
    plan_tracing,
    point_of,
    problem,
    solve,
)
from rehaul.tracing.cards import _card, cards_first
from rehaul.tracing.hypotheses import table
from rehaul.words import say

HOUSE = House(
    storeys=(Storey(id="s1", name="Up", elevation_m=2.7), Storey(id="s0", name="Down", elevation_m=0.0)),
    outlets=(
        Outlet(id="0-01", storey="s0", position=(4.0, 1.0)),
        Outlet(id="1-01", storey="s1", position=(1.0, 1.0)),
        Outlet(id="0-02", storey="s0", position=(6.0, 1.0)),
        Outlet(id="1-02", storey="s1"),
        Outlet(id="1-03", storey="s1", position=(2.0, 2.0)),
    ),
    meeting_points=(MeetingPoint(id="m1", name="Closet", storey="s0", position=(0.0, 0.0)),),
    runs=(
        Run(id="c1", ends=("m1", "unknown"), kind=CableKind.QUAD, pairs=2, gauge_awg=24),
        Run(id="c2", ends=("m1", "unknown"), gauge_awg=24),
        Run(id="c3", ends=("unknown", "m1"), kind=CableKind.CAT3, pairs=3, gauge_awg=24),
        Run(id="c4", ends=("m1", "1-03"), kind=CableKind.COAX),
    ),
)


def job(house: House = HOUSE, **more: object) -> Job:
    return checked(Job(id="j", title="j", house=house).model_copy(update=more))


def test_places_and_ends() -> None:
    assert [(p.id, p.storey) for p in outlet_places(HOUSE)] == [
        ("0-01", 0),
        ("1-01", 1),
        ("0-02", 0),
        ("1-03", 1),
    ]
    assert [run.id for run in ends_at(HOUSE, "m1")] == ["c1", "c2", "c3"]


@pytest.mark.parametrize("people", [1, 2])
def test_plan_for_a_house(people: int) -> None:
    plan = plan_tracing(job(), "m1", Bag(plugs=3), people=people)
    assert plan.never_located == ("1-02",)
    assert plan.codes.method is Method.STRAPS
    assert plan.codes.problem.conductors == 4
    assert plan.codes.problem.gauge_awg == 24
    assert len(plan.codes.rounds) == 2  # a quad has two words in one round and sixteen in two
    assert [t.do for t in plan.walks.trips] == ["put the plugs in", "change the plugs", "collect the plugs"]
    placed = [outlet for outlet, _ in plan.codes.rounds[0]]
    assert sorted(placed) == sorted(plan.walks.batches[0])


def test_toner_and_refusals() -> None:
    plan = plan_tracing(job(), "m1", Bag(toner=True), people=2)
    assert plan.codes.method is Method.TONER
    assert [len(batch) for batch in plan.walks.batches] == [1, 1, 1]
    with pytest.raises(BadInput):
        plan_tracing(job(), "m2", Bag(plugs=3))
    with pytest.raises(BadInput):
        plan_tracing(job(HOUSE.model_copy(update={"runs": ()})), "m1", Bag(plugs=3))


def test_lines_somebody_depends_on_are_held_and_cautions_come_first() -> None:
    live = HOUSE.runs[0].model_copy(update={"state": RunState.LIVE_TELEPHONE})
    house = HOUSE.model_copy(update={"runs": (live, *HOUSE.runs[1:])})
    owed = Obligation(id="b1", kind=ObligationKind.PENDANT_ALARM, run="c2")
    plan = plan_tracing(job(house, obligations=(owed,)), "m1", Bag(plugs=3))
    ends = [(*one.ends, one.reason.obligation) for one in plan.left_alone if one.ends]
    assert ends == [("c1", ""), ("c2", "b1"), ("c4", "")]
    assert next(one for one in plan.left_alone if "c4" in one.ends).plates == ("1-03",)
    assert plan.codes.problem.ends == ("c3",)
    assert any("90 V" in caution for caution in plan.cautions)


def test_an_outlet_never_located_stays_possible() -> None:
    plan = plan_tracing(job(), "m1", Bag(plugs=3))
    assert "1-02" in plan.codes.problem.outlets
    answer = solve(ReadingLog(), plan.codes.problem)
    assert "1-02" in answer.unlocated_outlets
    assert ("1-02",) in {p.outlets for p in answer.end("c1").possible}


def said(ends: tuple[str, ...], plates: tuple[str, ...], run: str) -> str:
    reason = HeldReason(run, "", "an alarm is on it", "Ask")
    return str(LeftAlone(ends, plates, reason).sentence)


def test_what_is_left_alone_names_its_ends_or_else_the_cable_of_the_reason() -> None:
    """A plate held for its own sake is no cable, and one behind a held cable is told with it."""
    assert said(("C1",), ("1-01",), "C9") == said(("C1",), ("1-01",), "1-01")
    assert "C9" not in said(("C1",), ("1-01",), "C9")
    behind, own = said((), ("1-01", "1-02"), "C9"), said((), ("1-01", "1-02"), "1-02")
    assert behind.startswith("Cable C9 and plates 1-01")
    assert own.startswith("Plates 1-01") and "able" not in own
    assert all("an alarm is on it" in words for words in (behind, own))


def test_a_pattern_alone_is_explained_by_two_outlets_at_most_unless_more_are_allowed() -> None:
    """Of three outlets: none, each of three, each of three pairs; all three only where that is asked for."""
    bare = TracingQuestion(("a", "b", "c"), ("1",), 4)
    assert bare == problem(["a", "b", "c"], ["1"], 4)
    assert (bare.chain_limit, bare.trust, bare.rounds, bare.gauge_awg) == (2, Trust.COLOURS, (), None)
    pairs = ((), ("a",), ("b",), ("c",), ("a", "b"), ("a", "c"), ("b", "c"))
    assert table(bare).groups == pairs
    assert table(problem(["a", "b", "c"], ["1"], 4, chain_limit=1)).groups == pairs[:4]
    assert table(problem(["a", "b", "c"], ["1"], 4, chain_limit=3)).groups == (*pairs, ("a", "b", "c"))


def test_the_point_that_is_meant_is_the_first_unless_one_is_named() -> None:
    two = HOUSE.model_copy(
        update={
            "meeting_points": (*HOUSE.meeting_points, HOUSE.meeting_points[0].model_copy(update={"id": "m2"}))
        }
    )
    assert point_of(job(two), None) == point_of(job(two), "") == "m1"
    assert point_of(job(two), "m2") == "m2"
    assert point_of(job(two), "m9") == "m9", "whether it stands is asked by what works on it"
    with pytest.raises(BadInput, match="meeting point"):
        point_of(
            Job(id="j", title="j", house=HOUSE.model_copy(update={"meeting_points": (), "runs": ()})), "m1"
        )


@pytest.mark.parametrize(
    ("what", "do"),
    [
        ("who depends", "Ask who uses"),
        ("voltage", "Measure dc and ac volts"),
        ("modem sync", "Ask whether DSL"),
        ("disconnected", "Unplug the line"),
        ("reconnected", "Take out every plug"),
    ],
)
def test_each_card_says_what_it_is_recorded_as(what: str, do: str) -> None:
    card = _card(what, "m1", ("c1", "c2"), why="because")
    assert card.do.startswith(do) and (card.what, card.at, card.why) == (what, "m1", "because")
    assert (card.runs, card.run) == (("c1", "c2"), "")
    one = _card(what, "m1", ("c1", "c2"), run="c2")
    assert (one.runs, one.run) == (("c2",), "c2"), "recorded for one cable it is about that one"


def test_the_first_cards_are_in_the_order_in_which_they_are_done() -> None:
    cards = cards_first(Ties(Job(id="j", title="j", house=HOUSE)), "m1")
    assert [card.what for card in cards] == ["who depends", "voltage", "modem sync"]
    assert cards_first(Ties(job()), "m1") == ()


def test_a_plan_says_what_is_tied_or_why_nothing_is() -> None:
    plan = plan_tracing(job(), "m1", Bag(plugs=3))
    assert plan.sentence == plan.codes.sentence and plan.sentence.startswith("Straps in 2 rounds")
    nowhere = tuple(outlet.model_copy(update={"position": None}) for outlet in HOUSE.outlets)
    no_plate = plan_tracing(job(HOUSE.model_copy(update={"outlets": nowhere})), "m1", Bag(plugs=3))
    live = tuple(run.model_copy(update={"state": RunState.ALARM}) for run in HOUSE.runs)
    every = plan_tracing(job(HOUSE.model_copy(update={"runs": live})), "m1", Bag(plugs=3))
    first = plan_tracing(Job(id="j", title="j", house=HOUSE), "m1", Bag(plugs=3))
    assert [card.what for card in first.first] == ["who depends", "voltage", "modem sync"]
    said = [plan.sentence, no_plate.sentence, every.sentence, first.sentence]
    assert len(set(said)) == 4
    assert no_plate.sentence == say("tracing.no_plate") and no_plate.may_tie == ()
    assert every.sentence == say("tracing.every_cable_left") and every.codes.problem.ends == ()
