"""The exact search over sites alone, on a row of rooms worked by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from rehaul.errors import BadInput
from rehaul.exact import CoverProblem, Requirement, solve_exact

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
    choice = solve_exact(row_of_rooms())
    assert (choice.options, choice.cost, choice.proven, choice.gap) == ((0, 1), 210.0, True, 0.0)
    assert choice.served == (1.0,) * 4


def test_every_number_of_rooms_by_hand() -> None:
    """One room: site 3. Two: site 2. Three: both. Four: both ends, sites 0 and 1."""
    costs = [solve_exact(row_of_rooms(), enough=count).cost for count in range(5)]
    assert costs == [0.0, 30.0, 90.0, 120.0, 210.0]


def test_what_no_site_reaches_cannot_be() -> None:
    choice = solve_exact(row_of_rooms(sites=(1, 2, 3)))
    assert not choice.feasible and choice.proven and choice.options == ()
    three = solve_exact(row_of_rooms(sites=(1, 2, 3)), enough=3)
    assert three.feasible and three.met == (False, True, True, True)


def test_pins_and_bans_hold() -> None:
    assert set(solve_exact(row_of_rooms(pinned=(2,))).sites) >= {2}
    assert 1 not in solve_exact(row_of_rooms(forbidden=(1,))).sites
    assert solve_exact(row_of_rooms(pinned_options=(3,))).options == (0, 2, 3)


def test_progress_is_told() -> None:
    told: list[tuple[float, float]] = []
    solve_exact(row_of_rooms(), progress=lambda cost, bound: told.append((cost, bound)))
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
