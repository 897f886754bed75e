"""Why this site and not that one, what one more buys, what fixes a room: on a row of rooms worked by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from rehaul.design.coverage import CoverProblem, Requirement
from rehaul.design.placement import front, solve
from rehaul.design.reasons import cheapest_fix, cost_of_banning, cost_of_pinning, lost_without, one_more
from rehaul.errors import BadInput

# Four rooms of two places. Site 0 serves rooms 0 and 1, site 1 rooms 2 and 3, site 2 the middle ones, site 3
# room 3 alone.
REACH = ((0, 1, 2, 3), (4, 5, 6, 7), (2, 3, 4, 5), (6, 7))
COST = (100.0, 110.0, 90.0, 30.0)


def row_of_rooms(sites: tuple[int, ...] = (0, 1, 2, 3), **changes: object) -> CoverProblem:
    serves = np.zeros((len(sites), 8), dtype=np.bool_)
    for row, site in enumerate(sites):
        serves[row, list(REACH[site])] = True
    rooms = tuple(Requirement(f"room {r}", np.array([2 * r, 2 * r + 1]), np.ones(2), 1.0) for r in range(4))
    return CoverProblem(
        site=np.array(sites),
        kind=np.zeros(len(sites), dtype=np.int64),
        cost=np.array([COST[site] for site in sites]),
        serves=serves,
        requirements=rooms,
        **changes,  # type: ignore[arg-type]
    )


def test_cheapest_is_both_ends() -> None:
    choice = solve(row_of_rooms())
    assert (choice.options, choice.cost, choice.proven, choice.gap) == ((0, 1), 210.0, True, 0.0)
    assert choice.served == (1.0,) * 4


def test_front_by_hand() -> None:
    """One room: site 3. Two: site 2. Three: both. Four: both ends, sites 0 and 1."""
    points = {point.met: point.choice.cost for point in front(row_of_rooms())}
    assert points == {0: 0.0, 1: 30.0, 2: 90.0, 3: 120.0, 4: 210.0}


def test_without_a_site_its_rooms_are_lost() -> None:
    problem = row_of_rooms()
    choice = solve(problem)
    assert lost_without(problem, choice, 0) == (0, 1)
    assert lost_without(problem, choice, 1) == (2, 3)


def test_why_not_that_one_and_why_this_one() -> None:
    problem = row_of_rooms()
    choice = solve(problem)
    pinned = cost_of_pinning(problem, choice, 3)
    assert pinned is not None and pinned.extra_cost == 10.0  # sites 0, 2 and 3 cost 220
    pinned = cost_of_pinning(problem, choice, 2)
    assert pinned is not None and pinned.extra_cost == 10.0
    assert cost_of_banning(problem, choice, 0) is None  # nothing else serves room 0
    banned = cost_of_banning(problem, choice, 1)
    assert banned is not None and banned.extra_cost == 10.0


def test_one_more_buys_a_room() -> None:
    problem = row_of_rooms()
    poor = solve(problem, enough=3)
    assert poor.met == (False, True, True, True)
    more = one_more(problem, poor)
    assert more is not None and (more.option, more.cost, more.newly_met) == (0, 100.0, (0,))
    assert one_more(problem, solve(problem)) is None


def test_cheapest_fix_may_move_things() -> None:
    problem = row_of_rooms()
    poor = solve(problem, enough=3)
    fix = cheapest_fix(problem, poor, 0)
    assert fix is not None
    assert (fix.extra_cost, fix.added, fix.dropped) == (90.0, (0, 1), (2, 3))


def test_nothing_fixes_what_no_site_reaches() -> None:
    problem = row_of_rooms(sites=(1, 2, 3))
    choice = solve(problem)
    assert not choice.feasible and choice.met == (False, True, True, True)
    assert cheapest_fix(problem, choice, 0) is None


def test_pins_and_bans_hold() -> None:
    assert set(solve(row_of_rooms(pinned=(2,))).sites) >= {2}
    assert 1 not in solve(row_of_rooms(forbidden=(1,))).sites
    assert solve(row_of_rooms(pinned_options=(3,))).options == (0, 2, 3)


def test_progress_is_told() -> None:
    told: list[tuple[float, float]] = []
    solve(row_of_rooms(), progress=lambda cost, bound: told.append((cost, bound)))
    assert told and told[-1][0] == 210.0


@pytest.mark.parametrize(
    "changes",
    [
        {"pinned": (9,)},
        {"pinned": (1,), "forbidden": (1,)},
        {"cost": np.array([1.0, -1.0, 1.0, 1.0])},
        {"cost": np.ones(3)},
    ],
)
def test_nonsense_is_refused(changes: dict[str, object]) -> None:
    with pytest.raises(BadInput):
        replace(row_of_rooms(), **changes)  # type: ignore[arg-type]


@pytest.mark.parametrize("share", [-0.1, 1.1])
def test_share_is_a_share(share: float) -> None:
    with pytest.raises(BadInput, match="share"):
        Requirement("room", np.array([0]), np.ones(1), share)
