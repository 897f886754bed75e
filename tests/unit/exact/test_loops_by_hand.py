"""The loops of the search one by one, on numbers that can be followed by hand, as they are written."""

from __future__ import annotations

from collections.abc import Iterator
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from as_written import as_written
from five_places import PLANES, SCENE, SERVES, WEIGHTS, array, counted, small
from rehaul.exact import cuts, planes, simplex, trail
from rehaul.exact.cuts import FREE, MUST
from rehaul.exact.feeding import covers
from rehaul.exact.planes import count_for, only, planes_of
from rehaul.exact.simplex import INFEASIBLE, OPTIMAL, STUCK, Tableau, new_tableau


@pytest.fixture(autouse=True, scope="module")
def _as_written() -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        as_written(patch)
        yield


def test_what_is_covered_in_full_and_what_each_would_add() -> None:
    none = counted(0, 0, 0, 0)
    assert none.whole.tolist() == [0, 0]
    assert none.gain.tolist() == [[5, 3, 3, 3], [5, 0, 5, 0]]
    first = counted(1, 0, 0, 0)
    assert first.whole.tolist() == [5, 5] and first.gain.tolist() == [[0, 2, 3, 0], [0, 0, 5, 0]]
    every = counted(1, 0, 1, 0)
    assert every.whole.tolist() == [8, 10] and not every.gain.any()
    halves = counted(0, 0.5, 0.5, 0)  # place 3 by both halves; 2 and 4 by one
    assert halves.whole.tolist() == [2, 0] and halves.gain.tolist() == [[5, 1, 1, 3], [5, 0, 5, 0]]
    assert counted(0, 0.4, 0.5, 0).whole.tolist() == [0, 0]
    assert counted(1 - 1e-9, 0, 0, 0).whole.tolist() == [5, 5] and counted(1e-13, 0, 0, 0).whole[0] == 0


def test_the_same_of_more_places_than_a_word_holds() -> None:
    """Sixty-six places of weight 1, 2 or 3; one option serves the even ones, another the last two."""
    serves = np.zeros((2, 66), dtype=np.bool_)
    serves[0, ::2] = True
    serves[1, 64:] = True
    weights = (np.arange(66) % 3 + 1).reshape(1, -1)
    table = planes_of(serves, weights)
    count = count_for(table, 1)
    planes.gains_at(table, count, array(0, 1))
    # places 64 and 65 weigh 2 and 3; of the even ones eleven of each weight, place 64 among them
    assert count.whole.tolist() == [5] and count.gain.tolist() == [[66 - 2, 0]]
    planes.served_at(table, count, array(1, 1))
    assert count.whole.tolist() == [66 + 3]
    assert only(table, np.array([False, True])).bits.shape == (1, 2)


def test_served_and_with_one_or_two_more() -> None:
    count = counted(0, 0, 0, 1)
    assert count.whole.tolist() == [3, 0]
    for a, b, whole in ((0, -1, [5, 5]), (1, -1, [6, 0]), (1, 2, [7, 5]), (0, 2, [8, 10])):
        planes.whole_with(PLANES, count, a, b)
        assert count.whole.tolist() == whole
    gains = count.gain.copy()
    planes.served_at(PLANES, count, array(0, 1, 1, 0))
    assert count.whole.tolist() == [4, 5] and np.array_equal(count.gain, gains)


@pytest.mark.parametrize(
    ("gain", "short", "divisor", "value"),
    [
        (3.0, 10.0, 0.0, 0.3),
        (12.0, 10.0, 0.0, 1.0),
        (1.0, 10.0, 4.0, 1 / 6),  # 10 / 4 = 2.5: a part of a half, and three pieces; a quarter over the half
        (3.0, 10.0, 4.0, 1 / 3),  # no more than the half
        (4.0, 10.0, 4.0, 1 / 3),
        (5.0, 10.0, 4.0, 1 / 2),  # one and a quarter: half and a quarter of one and a half
        (20.0, 10.0, 4.0, 1.0),
    ],
)
def test_a_rounded_share_of_what_is_missing(gain: float, short: float, divisor: float, value: float) -> None:
    assert cuts.rounded(gain, short, divisor) == pytest.approx(value)


def test_enough_is_as_many_as_are_asked() -> None:
    for whole, met in (([8, 5], True), ([8, 4], False), ([7, 5], False)):
        assert (
            cuts.enough_met(SCENE, np.array(whole)) is met or cuts.enough_met(SCENE, np.array(whole)) == met
        )
    assert cuts.enough_met(SCENE._replace(enough=1), np.array([0, 5]))


def test_small_programs_by_hand() -> None:
    """Two of three at least, costs 3, 1, 2: the second and the third. Then the second is forbidden."""
    t = small([3, 1, 2], ([1, 1, 1], 2.0))
    assert simplex.resolve(t, 50) == OPTIMAL and t.value[:3] == pytest.approx([0, 1, 1], abs=1e-9)
    price = np.full(8, 7.0)
    simplex.duals(t, price)
    assert price[0] == pytest.approx(2.0, abs=1e-5) and price[1] == 7.0, "one more costs a third: from 2 to 3"
    t.high[1] = 0.0
    assert simplex.resolve(t, 50) == OPTIMAL and t.value[:3] == pytest.approx([1, 0, 1], abs=1e-9)
    simplex.duals(t, price)
    assert price[0] >= 0.0
    t.high[0] = 0.0
    assert simplex.resolve(t, 50) == INFEASIBLE and t.size[1] == 0
    away = np.full(8, 7.0)
    simplex.ray(t, away)
    assert away[0] > 0.0 and away[1] == 7.0


def test_halves_where_a_whole_choice_would_cost_more() -> None:
    """Every two of three come to one: a half of each, 3 in all of 2, 2, 2."""
    rows = [([1.0, 1.0, 0.0], 1.0), ([0.0, 1.0, 1.0], 1.0), ([1.0, 0.0, 1.0], 1.0)]
    t = small([2, 2, 2], *rows)
    assert simplex.resolve(t, 50) == OPTIMAL
    assert t.value[:3] == pytest.approx([0.5] * 3, abs=1e-6)
    price = np.zeros(8)
    simplex.duals(t, price)
    assert price[:3] == pytest.approx([1.0] * 3, abs=1e-5)
    simplex.restart(t)
    assert simplex.resolve(t, 50) == OPTIMAL and t.value[:3] == pytest.approx([0.5] * 3, abs=1e-6)
    assert simplex.resolve(small([2, 2, 2], *rows), 1) == STUCK


def test_rows_that_do_not_bind_are_forgotten_but_for_the_first() -> None:
    rows = [([1.0, 0.0], -1.0), ([1.0, 1.0], -5.0), ([0.0, 1.0], 0.5), ([1.0, 0.5], -3.0)]
    t = small([1, 1], *rows)
    assert simplex.resolve(t, 50) == OPTIMAL and t.value[:2] == pytest.approx([0, 0.5])
    assert simplex.drop_slack_rows(t, 1) == 2 and t.size[0] == 2
    assert sorted(map(tuple, t.rows[:2].tolist())) == [(0.0, 1.0), (1.0, 0.0)]
    assert sorted(t.right[:2].tolist()) == [-1.0, 0.5]
    assert simplex.resolve(t, 50) == OPTIMAL and t.value[:2] == pytest.approx([0, 0.5])
    t.low[0] = 1.0
    simplex.add_row(t, array(-1.0, 1.0), 0.0)  # the second no less than the first
    assert simplex.resolve(t, 50) == OPTIMAL and t.value[:2] == pytest.approx([1.0, 1.0])
    assert simplex.drop_slack_rows(t, 0) == 2


def test_costs_are_raised_a_little_each_by_an_amount_of_its_own() -> None:
    plain = new_tableau(array(0.0, 2.0, 4.0), 3)
    assert plain.cost == pytest.approx([4e-7, 2.0, 4.0], rel=1e-6) and np.all(plain.cost[1:] >= [2.0, 4.0])
    raised = new_tableau(array(-1.0, 2.0, 2.0), 3, 0.1)
    off = raised.cost - array(-1.0, 2.0, 2.0)
    assert off.min() > 0.0999 and off.max() < 0.2001 and len(set(np.round(off, 6))) == 3
    assert (len(raised.low), len(raised.body)) == (6, 3) and raised.high[:3].tolist() == [1.0] * 3


def hanging(columns: int) -> Any:
    numbers = np.zeros(6, dtype=np.int64)
    free = SimpleNamespace(low=np.zeros(columns), high=np.ones(columns))
    return SimpleNamespace(trail=np.zeros(columns, dtype=np.int64), numbers=numbers, tableau=free)


def test_what_is_fixed_can_be_freed_in_turn() -> None:
    node = hanging(5)
    group = np.array([0, 0, 1, 0])
    node.tableau.high[3] = 0.0  # fixed before
    trail.take(node, group, 0, True)
    assert node.tableau.low.tolist() == [1, 0, 0, 0, 0] and node.tableau.high.tolist() == [1, 0, 1, 0, 1]
    assert node.numbers[trail.TRAIL] == 2 and node.trail[:2].tolist() == [0, 1]
    trail.take(node, group, 4, True)
    trail.take(node, group, 2, False)
    assert node.tableau.low[4] == 1.0 and node.tableau.high[2] == 0.0 and node.numbers[trail.TRAIL] == 4
    trail.undo_to(node, 3)
    assert node.tableau.high[2] == 1.0 and node.tableau.low[4] == 1.0
    trail.undo_to(node, 0)
    assert node.tableau.low.tolist() == [0] * 5 and node.tableau.high.tolist() == [1, 1, 1, 0, 1]


def test_no_more_than_one_at_a_site_where_the_point_breaks_that() -> None:
    t = small([1] * 6, capacity=6)
    t.value[:6] = [0.6, 0.9, 0.7, 0.5, 0, 0]
    has_row = np.zeros(3, dtype=np.bool_)
    row = np.zeros(6)
    assert cuts.add_site_rows(SCENE, t, row, has_row) == 1
    assert t.rows[0].tolist() == [0, 0, -1, -1, 0, 0] and t.right[0] == -1.0
    assert has_row.tolist() == [False, False, True]
    assert cuts.add_site_rows(SCENE, t, row, has_row) == 0, "it is there already"


def test_cuts_hold_for_every_choice_and_the_point_breaks_them() -> None:
    t = small([0] * 6, capacity=12)
    x, flags = array(0.4, 0.3, 0, 0), array(1.0, 1.0)
    count = count_for(PLANES, 2)
    added = cuts.add_cuts(SCENE, t, count, x, flags, np.zeros(6), 1e-6)
    assert added == 2
    for row in t.rows[:2]:
        assert row[:4] @ x + row[4:] @ flags < -1e-6
    for chosen in (np.array([c >> o & 1 for o in range(4)]) for c in range(16)):
        served = WEIGHTS @ (chosen @ SERVES > 0)
        met = (served >= [8, 5]).astype(float)
        for row in t.rows[:2]:
            assert row[:4] @ chosen + row[4:] @ met >= -1e-9, chosen
    t.high[5] = 0.0  # the second is not asked any more
    assert cuts.add_cuts(SCENE, t, count, x, flags, np.zeros(6), 1e-6) == 1
    assert cuts.add_cuts(SCENE, t, count, array(1, 0, 1, 0), flags, np.zeros(6), 0.0) == 0, "nothing is short"


def bound(t: Tableau, price: list[float], scene: Any = SCENE) -> tuple[float, Any, Any]:
    red, contrib = np.zeros(6), np.zeros(3)
    found = cuts.safe_bound(
        scene,
        t,
        array(*price, *[0.0] * 8),
        red,
        np.zeros(2, dtype=np.bool_),
        contrib,
        np.zeros(3, dtype=np.int64),
    )
    return found, red, contrib


def test_a_bound_is_what_prices_leave_of_costs() -> None:
    """A cut: A and C come to what the first flag says. At a price of 40 A costs 60, C 30, and the flag 40."""
    t = small([0] * 6, ([1, 0, 1, 0, -1, 0], 0.0), capacity=9)
    found, red, contrib = bound(t, [40.0])
    assert red.tolist() == [60, 60, 30, 30, 40, 0] and contrib.tolist() == [0, 0, 0] and found == 40.0
    t.low[0] = 1.0
    assert bound(t, [40.0])[0] == 100.0 and bound(t, [40.0])[2].tolist() == [60, 0, 0]
    assert bound(t, [110.0])[0] == pytest.approx(110 - 10 - 40)  # C pays for itself now: 70 - 110
    must = SCENE._replace(must=np.array([FREE, MUST, FREE], dtype=np.int8))
    assert bound(t, [0.0], must)[0] == 160.0
    one = SCENE._replace(enough=1)
    t.low[0] = 0.0
    assert bound(t, [40.0], one)[0] == 0.0, "the other flag asks for nothing"
    t.low[4] = 1.0
    assert bound(t, [40.0], one)[0] == 40.0
    t.low[4], t.high[4] = 0.0, 0.0
    assert bound(t, [40.0])[0] == np.inf


def test_a_cut_puts_what_ways_share_in_their_place() -> None:
    """Three ways by one resource serve the place, three tenths of each; of the resource as much stands."""
    table = planes_of(np.ones((3, 1), dtype=np.bool_), np.array([[3]], dtype=np.int64))
    uses = np.array([[True, False]] * 3)
    wood = SimpleNamespace(planes=table, need=np.array([3]), alone=np.ones((1, 3)), uses=uses, resource=4)
    for share, rows in (
        (0.3, [[1, 1, 1, -1, 0], [0, 0, 0, -1, 1]]),
        (1 / 3, [[0, 0, 0, -1, 1]]),  # covered in full, as it seems; and yet of the resource a third
    ):
        t = small([0] * 5)
        t.value[:5] = [share, share, share, 1.0, share]
        x, flags, row = t.value[:3], t.value[3:4], np.zeros(5)
        assert covers.add_covers(wood, t, count_for(table, 1), x, flags, row, 1e-6) == len(rows)
        assert np.allclose(t.rows[: len(rows)], rows)
        t.high[3] = 0.0
        assert covers.add_covers(wood, t, count_for(table, 1), x, flags, row, 1e-6) == 0, "nobody asks for it"
