"""The search over sites alone, step by step as it is written, and whole against trying everything."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from as_written import as_written
from five_places import PLANES, SCENE, SERVES, WEIGHTS, array, counted, small
from rehaul.exact.coverage import CoverProblem, Requirement, Selection, choice_of, merged_rows
from rehaul.exact.covering import finish, nearby, search, solve
from rehaul.exact.cuts import FREE, MUST
from rehaul.exact.planes import count_for


@pytest.fixture(autouse=True, scope="module")
def _as_written() -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        as_written(patch)
        yield


def ended(
    room: int, *, low: tuple[int, ...] = (), high: tuple[int, ...] = (3,), **scene: Any
) -> tuple[int, list[int]]:
    """What is added to the fixed ones, and the whole choice; D may not be taken unless said."""
    t = small([0] * 6)
    t.low[list(low)] = 1.0
    t.high[list(high)] = 0.0
    best = np.zeros(4, dtype=np.bool_)
    given = SCENE._replace(**scene)
    return finish.finish(given, t, count_for(PLANES, 2), np.zeros(4), room, best), np.flatnonzero(
        best
    ).tolist()


def test_the_last_one_or_two_are_tried_outright() -> None:
    """All of both: A and C, 170. The three that are left cost 230 together."""
    assert ended(170) == (170, [0, 2]) and ended(169) == (-1, []) and ended(229) == (170, [0, 2])
    assert ended(230) == (-2, []), "three might fit"
    assert ended(150, need=np.array([5, 5])) == (100, [0])
    assert ended(99, need=np.array([5, 5])) == (-1, [])
    assert ended(170, need=np.array([6, 0])) == (160, [0, 1])
    assert ended(170, enough=1) == (70, [2]), "the second alone"
    assert ended(70, low=(0,)) == (70, [0, 2]) and ended(69, low=(0,)) == (-1, [])
    assert ended(0, low=(0, 2)) == (0, [0, 2])
    assert ended(170, high=(2, 3)) == (-1, [])
    both = np.array([0, 1, 0, 1])
    assert ended(170, site=both, must=np.zeros(2, dtype=np.int8)) == (-1, []), "A and C stand at one site"
    must = np.array([FREE, MUST, FREE], dtype=np.int8)
    assert ended(170, must=must) == (-2, []) and ended(110, must=must, low=(1, 2)) == (100, [0, 1, 2])


def nearest(
    x: list[float], limit: int = 1000, high: tuple[int, ...] = (), **scene: Any
) -> tuple[int, list[int]]:
    t = small([0] * 6)
    t.high[list(high)] = 0.0
    best = np.zeros(4, dtype=np.bool_)
    given = SCENE._replace(**scene)
    cost = nearby.improve(given, t, count_for(PLANES, 2), array(*x), limit, best)
    return cost, np.flatnonzero(best).tolist()


def test_a_whole_choice_near_a_fractional_one() -> None:
    assert nearest([0, 0, 0, 0]) == (170, [0, 2])
    assert nearest([0, 1, 0, 0]) == (170, [0, 2]), "what is not needed goes again"
    assert nearest([0, 1, 0, 1]) == (1000, []), "what is wanted most stands in the way"
    assert nearest([0, 0, 0, 0], limit=170) == (170, []) and nearest([0, 0, 0, 0], limit=171) == (170, [0, 2])
    assert nearest([0, 0, 0, 0], high=(2,)) == (1000, []), "nothing does it"
    must = np.array([FREE, MUST, FREE], dtype=np.int8)
    assert nearest([0, 0, 0, 0], must=must) == (230, [0, 1, 2])
    assert nearest([0, 0, 0, 0], enough=1) == (70, [2])


def test_one_is_changed_for_a_cheaper_one_that_does_as_much() -> None:
    t = small([0] * 6)
    for begun, then, scene in (
        ([1, 0, 1, 0], [1, 0, 1, 0], {}),
        ([1, 0, 0, 0], [0, 0, 1, 0], {"enough": 1}),
        ([1, 0, 0, 0], [0, 0, 0, 1], {"need": np.array([3, 0])}),
        ([1, 1, 0, 0], [0, 1, 0, 1], {"need": np.array([6, 0])}),
    ):
        chosen = np.array(begun, dtype=np.bool_)
        nearby.swap(SCENE._replace(**scene), t, count_for(PLANES, 2), chosen)
        assert chosen.tolist() == [bool(one) for one in then], begun


def problem(**changes: Any) -> CoverProblem:
    asked = (
        Requirement("all", np.arange(5), WEIGHTS[0].astype(float), 1.0),
        Requirement("two", np.array([1, 4]), array(5, 5), 0.5),
    )
    given: dict[str, Any] = {
        "site": np.array([0, 1, 2, 2]), "kind": np.zeros(4, dtype=np.int64),
        "cost": array(1.0, 0.6, 0.7, 0.3), "serves": SERVES, "requirements": asked,
    }  # fmt: skip
    return CoverProblem(**{**given, **changes})


def brute(given: CoverProblem, enough: int) -> int | None:
    """The least cost, in hundredths, of all sets of options tried one by one."""
    costs = []
    for n in range(5):
        for chosen in combinations(range(4), n):
            sites = given.site[list(chosen)].tolist()
            fits = len(set(sites)) == n and set(given.pinned) <= set(sites)
            fits &= not set(given.forbidden) & set(sites)
            met = given.served(chosen) >= given.steps.needs
            if fits and met.sum() >= enough:
                costs.append(int(given.cost_steps[list(chosen)].sum()))
    return min(costs, default=None)


@pytest.mark.parametrize(
    "changes", [{}, {"pinned": (1,)}, {"forbidden": (0,)}, {"site": np.array([0, 1, 0, 2])}]
)
@pytest.mark.parametrize("enough", [0, 1, 2])
def test_the_whole_search_finds_what_trying_all_finds(changes: dict[str, Any], enough: int) -> None:
    given = problem(**changes)
    found, least = solve.solve_exact(given, enough=enough), brute(given, enough)
    assert found.proven and found.feasible == (least is not None)
    if least is not None:
        assert round(100 * found.cost) == least == round(100 * found.bound)
        sites = given.site[list(found.options)].tolist()
        assert len(set(sites)) == len(sites) and set(given.pinned) <= set(sites)


def test_a_search_that_branches_finds_what_trying_all_finds() -> None:
    """Nine options of odd costs, twenty places each served by three of them."""
    random = np.random.default_rng(5)
    serves = np.zeros((9, 20), dtype=np.bool_)
    for place in range(20):
        serves[random.choice(9, 3, replace=False), place] = True
    weights = random.integers(1, 9, 20).astype(float)
    cost = np.round(random.uniform(1, 3, 9), 2)
    asked = (
        Requirement("most", np.arange(20), weights, 0.8),
        Requirement("some", np.arange(8), weights[:8], 0.9),
    )
    given = CoverProblem(np.arange(9), np.zeros(9, dtype=np.int64), cost, serves, asked)
    best = min(
        round(100 * cost[list(chosen)].sum())
        for n in range(10)
        for chosen in combinations(range(9), n)
        if np.all(given.served(chosen) >= given.steps.needs)
    )
    told: list[tuple[float, float]] = []
    found = solve.solve_exact(given, progress=lambda cost, bound: told.append((cost, bound)))
    assert (
        round(100 * found.cost) == best and found.proven and all(bound <= cost + 1e-9 for cost, bound in told)
    )
    again = solve.solve_exact(given, start=found.options)
    assert (again.cost, again.proven) == (found.cost, True)


def test_what_is_still_to_be_saved_of_the_cost() -> None:
    def gap(cost: float, bound: float, proven: bool) -> float:
        return Selection((), (), cost, (), (), True, bound, proven, 0).gap

    assert gap(200.0, 150.0, False) == 0.25 and gap(200.0, 150.0, True) == 0.0
    assert gap(0.0, 0.0, False) == 0.0 and gap(200.0, 210.0, False) == 0.0


def test_a_choice_is_told_afresh() -> None:
    found = choice_of(problem(), (2, 0), bound=1.234, proven=False, nodes=3)
    assert (found.options, found.sites, found.cost, found.bound, found.nodes) == (
        (0, 2),
        (0, 2),
        1.7,
        1.23,
        3,
    )
    assert (found.served, found.met, found.feasible) == ((1.0, 1.0), (True, True), True)
    few = choice_of(problem(), (1,), bound=0.0, proven=True, nodes=0)
    assert few.served == (3 / 8, 0.0) and few.met == (False, False) and not few.feasible
    assert choice_of(problem(), (2,), bound=0, proven=True, nodes=0, enough=1).feasible
    assert not choice_of(problem(), (2,), bound=0, proven=True, nodes=0, enough=1, possible=False).feasible
    half = problem(requirements=(Requirement("a", np.array([0, 1]), array(0.5, 0.25), 0.5),))
    assert half.steps.totals.tolist() == [10**9] and half.steps.needs.tolist() == [5 * 10**8 - 1]


def test_equal_places_become_one_and_idle_ones_go() -> None:
    serves = np.array([[1, 1, 0, 0, 1], [0, 0, 1, 0, 0]], dtype=np.bool_)
    weights = np.array([[1, 2, 4, 8, 0], [0, 1, 0, 0, 0]], dtype=np.int64)
    rows, merged = merged_rows(serves, weights)
    found = {tuple(row.tolist()): merged[:, n].tolist() for n, row in enumerate(rows)}
    assert found == {(True, False): [3, 1], (False, True): [4, 0]}
    none, nothing = merged_rows(serves[:, 3:4], weights[:, 3:4])
    assert none.shape == (0, 2) and nothing.shape == (2, 0)


def test_the_best_so_far_is_kept_only_where_it_may_stand() -> None:
    node = SimpleNamespace(numbers=np.array([0, 0, 0, 0, 0, 500]), best=np.zeros(4, dtype=np.bool_))
    assert search.COST == 5
    count = counted(1, 0, 1, 0)
    search._note(SCENE, node, count, array(1, 0, 1, 1))  # two at one site
    assert node.numbers[5] == 500
    search._note(SCENE._replace(must=np.array([FREE, MUST, FREE])), node, count, array(1, 0, 1, 0))
    assert node.numbers[5] == 500
    search._note(SCENE, node, counted(1, 0, 0, 0), array(1, 0, 0, 0))  # not enough
    assert node.numbers[5] == 500
    search._note(SCENE, node, count, array(1, 0, 1, 0))
    assert node.numbers[5] == 170 and node.best.tolist() == [True, False, True, False]
    search._note(SCENE, node, counted(1, 1, 1, 0), array(1, 1, 1, 0))
    assert node.numbers[5] == 170
    assert [bool(search._is_whole(array(*x))) for x in ([0, 1], [0, 0.5], [1e-7, 1 - 1e-7])] == [
        True,
        False,
        True,
    ]
    t = small([0] * 6)
    t.value[:6] = [0.5, 0.5, 1, 0, 0.5, 0]
    assert search._most_open(SCENE, t) == 0, "the dearest of those that are half"
    t.low[0] = 1.0
    assert search._most_open(SCENE, t) == 1
    t.low[:6] = 1.0
    assert search._most_open(SCENE, t) == -1
