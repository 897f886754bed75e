"""Walks along one corridor, their metres and minutes counted by hand."""

from __future__ import annotations

import pytest

from rehaul.tracing import Whereabouts, plan_walks
from rehaul.tracing.walks import WalkPlan

# Metres from the closet along the corridor; 40 m a minute, and a minute to read an end.
CLOSET = Whereabouts("closet", 0, 0.0, 0.0)
A, B, C = (Whereabouts(name, 0, x_m, 0.0) for name, x_m in (("A", 10.0), ("B", 20.0), ("C", 30.0)))


def walked(plan: WalkPlan) -> list[tuple[str, float]]:
    return [(str(trip.do).split()[0] + f" {len(trip.stops)}", trip.length_m) for trip in plan.trips]


def test_to_the_last_and_back_twice_and_an_end_read_for_each() -> None:
    """60 m there and back, put in and collected: 3 minutes of walking, 3 of reading."""
    plan = plan_walks((A, B, C), CLOSET, at_once=3)
    assert walked(plan) == [("put 3", 60.0), ("collect 3", 60.0)]
    assert (plan.length_m, plan.minutes, plan.proven) == (120.0, 6.0, True)
    assert plan_walks((A, B, C), CLOSET, at_once=3, ends=5).minutes == 8.0
    assert plan_walks((A, B, C), CLOSET, at_once=3, ends=0).minutes == 3.0


def test_other_plugs_in_the_same_outlets_are_one_walk_more_and_are_read_again() -> None:
    plan = plan_walks((A, B, C), CLOSET, at_once=3, patterns_each=2)
    assert [str(trip.do) for trip in plan.trips] == [
        "put the plugs in",
        "change the plugs",
        "collect the plugs",
    ]
    assert (plan.length_m, plan.minutes) == (180.0, 4.5 + 6.0)


def test_one_plug_is_moved_on_from_each_to_the_next() -> None:
    """Out and back each time: 20, 40, 60 and 60 m, or those the other way round."""
    plan = plan_walks((A, B, C), CLOSET, at_once=1)
    assert [str(trip.do) for trip in plan.trips] == [
        "put the plugs in", "move the plugs on", "move the plugs on", "collect the plugs",
    ]  # fmt: skip
    assert sorted(trip.length_m for trip in plan.trips) == [20.0, 40.0, 60.0, 60.0]
    assert (plan.length_m, plan.minutes, plan.proven) == (180.0, 4.5 + 9.0, False)
    twice = plan_walks((A, B), CLOSET, at_once=1, patterns_each=2)
    assert [str(trip.do).split(" the")[0] for trip in twice.trips] == [
        "put", "change", "move", "change", "collect",
    ]  # fmt: skip


def test_two_plugs_for_three_are_cut_where_the_walk_is_shortest() -> None:
    """The near one alone and then the far two: 20, 60 and 60; the other cut takes 160."""
    plan = plan_walks((A, B, C), CLOSET, at_once=2)
    assert plan.length_m == 140.0 and sorted(map(len, plan.batches)) == [1, 2]
    assert {frozenset(batch) for batch in plan.batches} == {frozenset("A"), frozenset("BC")}
    assert not plan.proven


def test_with_a_reader_at_the_closet_the_walker_stays_out() -> None:
    """Out to the last, 30; its plug is in hand already, and the others lie on the way home, 30."""
    plan = plan_walks((A, B, C), CLOSET, at_once=3, people=2)
    assert walked(plan) == [("put 3", 30.0), ("collect 3", 30.0)]
    assert plan.trips[0].stops == ("A", "B", "C") and plan.trips[1].stops == ("C", "B", "A")
    assert (plan.length_m, plan.minutes) == (60.0, 1.5 + 3.0)


@pytest.mark.parametrize(("people", "metres"), [(1, [30.0, 60.0]), (2, [20.0, 50.0])])
def test_who_stands_at_the_far_end_begins_there(people: int, metres: list[float]) -> None:
    """One comes home to read, 30, and collects, 60; with a reader it is 20 to A, and by C home, 20 and 30."""
    far = Whereabouts("far", 0, 30.0, 0.0)
    plan = plan_walks((A, B, C), CLOSET, at_once=3, people=people, start=far)
    assert [trip.length_m for trip in plan.trips] == metres
