"""Many places and nothing shared: the other search, made to be taken for a handful of ways; by hand."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest

from as_written import as_written
from rehaul.clock import Clock
from rehaul.exact import FeedProblem, Requirement, Way, feed_front, least_cost, solve_feeds
from rehaul.exact.feeding import solve


@pytest.fixture(autouse=True, scope="module")
def _as_written() -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        as_written(patch)
        patch.setattr(solve, "MANY", 0)
        yield


def rooms(*ways: tuple[str, str, float, tuple[int, ...]], count: int, **more: object) -> FeedProblem:
    """Ways by name, group, cost and the rooms that they serve, of `count` rooms of one place each."""
    serves = np.zeros((len(ways), count), dtype=np.bool_)
    for row, (_, _, _, served) in enumerate(ways):
        serves[row, list(served)] = True
    return FeedProblem(
        tuple(Way(name, group, cost) for name, group, cost, _ in ways),
        serves,
        tuple(Requirement(f"room {n}", np.array([n]), np.ones(1), 1.0) for n in range(count)),
        **more,  # type: ignore[arg-type]
    )


EITHER = (("left", "hall", 30.0, (0,)), ("right", "hall", 20.0, (1,)))  # one of both fits in the hall


def test_where_not_everything_can_be_met_as_much_as_can_be_is() -> None:
    """Each room has a way, and both ways are at one place: the cheaper one, one of two met, proven."""
    given = rooms(*EITHER, count=2)
    desk = solve.Solver(given)
    assert desk.core.plain and desk.reach == 2
    both = desk.least(2, Clock(10.0))
    assert both.tally is not None and (both.tally.cost, both.bound) == (2000, 2000.0)
    none = desk._plain(2, Clock(10.0), None)
    assert none.tally is None and none.proven
    found = solve_feeds(given)
    assert (found.ways, found.cost, found.met) == (("right",), 20.0, (False, True))
    assert found.proven and not found.feasible and found.bound == 20.0
    assert [(step.met, step.choice.cost) for step in feed_front(given)] == [(0, 0.0), (1, 20.0)]


def test_the_least_and_the_front_of_places_apart() -> None:
    """Room 0 for 30 or both for 55, room 1 for 20: both cost 50, one 20."""
    given = rooms(("a", "A", 30.0, (0,)), ("b", "B", 20.0, (1,)), ("c", "C", 55.0, (0, 1)), count=2)
    found = solve_feeds(given)
    assert (found.ways, found.cost, found.bound, found.proven) == (("a", "b"), 50.0, 50.0, True)
    assert [(s.met, s.choice.ways) for s in feed_front(given)] == [(0, ()), (1, ("b",)), (2, ("a", "b"))]
    assert least_cost(given) == 0.0
    assert least_cost(rooms(*EITHER, count=2, must=("hall",))) == 20.0


def test_below_a_cost_is_below_it_and_not_at_it() -> None:
    desk = solve.Solver(rooms(("a", "A", 30.0, (0,)), count=1))
    below = [desk._plain(1, Clock(10.0), steps).tally for steps in (3000, 3001)]
    assert below[0] is None and below[1] is not None and below[1].cost == 3000
