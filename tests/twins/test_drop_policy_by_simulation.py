"""The order of tries against trying every order, and its money against a simulated thousand evenings."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from rehaul.design.drops import CheapTest, best_policy, best_test, expected_cost, worth_of_test
from rehaul.design.tries import DropAttempt, cost_of_try

MINUTE = 85 / 60
WITHOUT = 400.0
OLD_CABLE = (
    DropAttempt("reuse", 0.6, 20, 40, 15, 60, needs_old=True),
    DropAttempt("repair", 0.5, 40, 120, 10, 60, needs_old=True),
    DropAttempt("pull cord", 0.35, 35, 120, 30, 70, needs_old=True, spends_old=True),
    DropAttempt("new cable", 0.85, 90, 300, 50, 70),
)


def every_order(ways: tuple[DropAttempt, ...], without: float) -> float:
    """Least cost over all orders and a grid of walk-away times, worked out backwards along each order."""
    grid = np.geomspace(2, 3000, 160)
    best = without
    for length in range(1, len(ways) + 1):
        for order in itertools.permutations(ways, length):
            gone = False
            allowed = True
            for way in order:
                allowed &= not (gone and way.needs_old)
                gone |= way.spends_old
            if allowed:
                cost = without
                for way in reversed(order):
                    cost = min(cost_of_try(way, float(m), cost, MINUTE) for m in grid)
                best = min(best, cost)
    return best


def random_ways(seed: int) -> tuple[DropAttempt, ...]:
    random = np.random.default_rng(seed)
    found = []
    for number in range(random.integers(1, 5)):
        minutes = float(random.uniform(5, 120))
        found.append(
            DropAttempt(
                f"way {number}",
                float(random.uniform(0.05, 0.95)),
                minutes,
                minutes * float(random.uniform(1.3, 4)),
                float(random.uniform(0, 80)),
                float(random.uniform(0, 80)),
                needs_old=bool(random.random() < 0.5),
                spends_old=bool(random.random() < 0.3),
            )
        )
    return tuple(found)


@pytest.mark.parametrize("seed", range(12))
def test_best_order_is_best_of_all(seed: int) -> None:
    ways = random_ways(seed)
    found = expected_cost(ways, WITHOUT, MINUTE)
    scanned = every_order(ways, WITHOUT)
    assert found <= scanned + 1e-6
    assert found == pytest.approx(scanned, rel=0.01)  # the scan's grid of times is coarse


def test_money_and_minutes_equal_simulation() -> None:
    policy = best_policy(OLD_CABLE, WITHOUT, MINUTE)
    random = np.random.default_rng(3)
    jobs = 200_000
    cost, minutes = np.zeros(jobs), np.zeros(jobs)
    going = np.ones(jobs, dtype=bool)
    for step in policy.steps:
        took = np.exp(random.normal(step.way.mu, step.way.sigma, jobs))
        worked = going & (took <= step.walk_min) & (random.random(jobs) < step.way.chance)
        spent = np.minimum(took, step.walk_min)
        minutes += going * spent
        cost += going * (step.way.parts + spent * MINUTE) + worked * step.way.finish
        going &= ~worked
    cost += going * WITHOUT
    assert policy.cost == pytest.approx(cost.mean(), rel=0.01)
    assert policy.minutes == pytest.approx(minutes.mean(), rel=0.01)
    assert policy.cost_90 == pytest.approx(np.quantile(cost, 0.9), rel=0.015)
    assert policy.minutes_90 == pytest.approx(np.quantile(minutes, 0.9), rel=0.02)
    assert policy.chance == pytest.approx(1 - going.mean(), abs=0.003)


def test_reuse_is_tried_before_it_is_spoilt() -> None:
    order = [step.way.name for step in best_policy(OLD_CABLE, WITHOUT, MINUTE).steps]
    assert order[0] == "reuse"
    if "pull cord" in order:
        assert not {"reuse", "repair"} & set(order[order.index("pull cord") + 1 :])


def test_nothing_worth_trying() -> None:
    policy = best_policy((DropAttempt("try", 0.05, 200, 900, 100),), 50.0, MINUTE)
    assert policy.steps == () and policy.cost == 50.0 and policy.chance == 0.0


def test_worth_of_a_test_equals_simulated_saving() -> None:
    """Draw the cable's truth, then the sign, then follow the best policy of each sign."""
    test = CheapTest("measure", "reuse", 11.0, 0.95, 0.1)
    dear = (
        DropAttempt("reuse", 0.5, 60, 120, 60, 20, needs_old=True),
        DropAttempt("new cable", 0.9, 60, 160, 40, 40),
    )
    worth = worth_of_test(dear, test, WITHOUT, MINUTE)
    random = np.random.default_rng(5)
    jobs = 100_000
    works = random.random(jobs) < 0.5
    sign = random.random(jobs) < np.where(works, test.hit, test.false)
    share = {True: works[sign].mean(), False: works[~sign].mean()}
    after = test.cost
    for seen in (True, False):
        then = (DropAttempt("reuse", float(share[seen]), 60, 120, 60, 20, needs_old=True), dear[1])
        after += (sign == seen).mean() * expected_cost(then, WITHOUT, MINUTE)
    assert worth.worth == pytest.approx(expected_cost(dear, WITHOUT, MINUTE) - after, abs=0.5)
    assert worth.good_sign == pytest.approx(sign.mean(), abs=0.005)


def test_a_test_that_says_nothing_is_worth_less_than_nothing() -> None:
    blind = CheapTest("coin", "reuse", 5.0, 0.4, 0.4)
    assert worth_of_test(OLD_CABLE, blind, WITHOUT, MINUTE).worth == pytest.approx(-5.0)
    assert best_test(OLD_CABLE, [blind], WITHOUT, MINUTE) is None


@pytest.mark.parametrize("seed", range(12))
def test_sharper_tests_are_worth_more_and_none_more_than_the_truth(seed: int) -> None:
    ways = random_ways(100 + seed)
    about = ways[0].name
    values = [
        worth_of_test(ways, CheapTest("t", about, 0.0, hit, 1 - hit), WITHOUT, MINUTE).worth
        for hit in (0.5, 0.7, 0.9, 1.0)
    ]
    assert all(later >= earlier - 1e-6 for earlier, later in itertools.pairwise(values))
    assert values[0] == pytest.approx(0.0, abs=1e-6)
