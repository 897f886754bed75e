"""Who walks where, and what to read next."""

from __future__ import annotations

import itertools

import pytest

from rehaul.errors import BadInput
from rehaul.tracing import (
    Bag,
    Continuity,
    Method,
    ReadingLog,
    Tone,
    ToneHeard,
    Whereabouts,
    next_best_reading,
    plan_codes,
    plan_walks,
    problem,
    shortest_route,
    solve,
)
from rehaul.tracing.routes import walking_m

CLOSET = Whereabouts("closet", 0, 0.0, 0.0)
OUTLETS = [Whereabouts(f"{storey}-{k}", storey, 4.0 * k, 3.0) for storey in range(3) for k in range(1, 5)]


def test_walking_counts_stairs() -> None:
    a, b = Whereabouts("a", 0, 0.0, 0.0), Whereabouts("b", 2, 3.0, 4.0)
    assert walking_m(a, Whereabouts("c", 0, 3.0, 4.0)) == 7.0
    assert walking_m(a, b) == 7.0 + 2 * 12.0
    assert walking_m(a, b, [(1.0, 1.0)]) == 7.0 + 24.0
    assert walking_m(a, b, [(10.0, 0.0)]) == 10.0 + 11.0 + 24.0


def test_each_storey_is_visited_once() -> None:
    route = shortest_route(CLOSET, OUTLETS, CLOSET)
    assert route.proven
    storeys = [stop.split("-")[0] for stop in route.stops]
    assert sum(x != y for x, y in itertools.pairwise(storeys)) <= 4
    assert route.length_m >= 4 * 12.0


def test_one_person_with_all_plugs_makes_two_trips() -> None:
    plan = plan_walks(OUTLETS, CLOSET, at_once=12)
    assert [trip.do for trip in plan.trips] == ["put the plugs in", "collect the plugs"]
    assert plan.proven
    assert all(sorted(trip.stops) == sorted(p.id for p in OUTLETS) for trip in plan.trips)
    assert plan.length_m == pytest.approx(2 * shortest_route(CLOSET, OUTLETS, CLOSET).length_m)


@pytest.mark.parametrize("people", [1, 2])
@pytest.mark.parametrize("at_once", [1, 3, 5, 12])
def test_every_outlet_is_plugged_and_cleared_once(people: int, at_once: int) -> None:
    plan = plan_walks(OUTLETS, CLOSET, at_once=at_once, people=people)
    assert sorted(o for batch in plan.batches for o in batch) == sorted(p.id for p in OUTLETS)
    assert len(plan.batches) == -(-12 // at_once)
    assert all(len(batch) <= at_once for batch in plan.batches)
    visits = [stop for trip in plan.trips for stop in trip.stops]
    assert all(visits.count(place.id) == 2 for place in OUTLETS)
    assert plan.minutes > 0
    assert str(len(plan.trips)) in plan.sentence


@pytest.mark.parametrize("at_once", [1, 4, 12])
def test_a_reader_at_the_closet_never_lengthens_the_walk(at_once: int) -> None:
    one, two = (plan_walks(OUTLETS, CLOSET, at_once=at_once, people=people) for people in (1, 2))
    assert two.length_m <= one.length_m


def test_walks_are_the_same_every_time() -> None:
    assert repr(plan_walks(OUTLETS, CLOSET, at_once=5)) == repr(plan_walks(OUTLETS, CLOSET, at_once=5))


def test_nothing_to_do_and_nothing_to_do_it_with() -> None:
    assert plan_walks([], CLOSET, at_once=1).trips == ()
    with pytest.raises(BadInput):
        plan_walks(OUTLETS, CLOSET, at_once=0)
    with pytest.raises(BadInput):
        plan_walks(OUTLETS, CLOSET, at_once=1, people=3)
    with pytest.raises(BadInput):
        plan_codes(["a"], ["b"], Bag(), 4)


def test_toner_only() -> None:
    plan = plan_codes(["a", "b"], ["1", "2"], Bag(toner=True), 4)
    assert plan.method is Method.TONER
    best = next_best_reading(ReadingLog(), plan.problem)
    assert {s.kind for s in best} == {"tone"}


def test_following_the_advice_ends_with_every_end_named_in_few_readings() -> None:
    outlets, ends = [f"o{k}" for k in range(8)], [f"e{k}" for k in range(8)]
    plan = plan_codes(outlets, ends, Bag(plugs=8), 8)
    truth = dict(zip(ends, outlets[3:] + outlets[:3], strict=True))
    plugs = dict(plan.rounds[0])
    log = ReadingLog()
    taken = 0
    while (best := next_best_reading(log, plan.problem)[0]).kind == "continuity":
        taken += 1
        log = log.added(Continuity(f"r{taken}", best.end, plugs[truth[best.end]].ties))
    assert best.kind == "confirm"
    assert taken == 8
    assert {e.end: e.reaches for e in solve(log, plan.problem).ends} == {e: (o,) for e, o in truth.items()}


def test_advice_with_a_toner_splits_what_is_left() -> None:
    question = problem(["a", "b", "c", "d"], ["1"], 4)
    log = ReadingLog().added(Tone("1", "1", "a", ToneHeard.NONE))
    first = next_best_reading(log, question)[0]
    assert first.kind == "tone"
    assert first.outlet != "a"
    assert 0 < first.bits <= 1
