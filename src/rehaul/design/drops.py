"""What to do with one wanted drop: which way first, when to walk away, and what a cheap test is worth.

The best order of tries is found exactly by working backwards over the ways still untried. Money only;
time is money at the price of a minute.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from rehaul.design.tries import (
    NEVER_MIN,
    DropAttempt,
    chance_within,
    cost_of_try,
    mean_minutes,
    walk_away_min,
)
from rehaul.errors import BadInput
from rehaul.words import say

MOST_WAYS = 10
GRID = 2000  # steps of the cost distribution
LAST_CHANCE = 0.9995  # a try without a time to walk away is cut off here in the distribution


@dataclass(frozen=True)
class DropTry:
    """One try in the order of tries."""

    way: DropAttempt
    walk_min: float  # stop here; NEVER_MIN: see it through
    reached: float  # chance that it comes to this
    works: float  # chance that it works here, given that it comes to this


@dataclass(frozen=True)
class Policy:
    """The order of tries, and what the drop costs by it."""

    steps: tuple[DropTry, ...]
    cost: float  # expected, with failed tries and with going without in it
    cost_90: float
    minutes: float  # expected
    minutes_90: float
    chance: float  # that the drop works in the end


@dataclass(frozen=True)
class CheapTest:
    """A test that says something on one way before money is spent on it."""

    name: str
    way: str
    cost: float  # money, its minutes in it
    hit: float  # chance of a good sign where the way would work
    false: float  # chance of a good sign where it would not


@dataclass(frozen=True)
class TestWorth:
    """What a test is worth: the cost it is expected to save, less its own."""

    test: CheapTest
    worth: float  # money; below 0: do not bother
    good_sign: float  # chance of a good sign
    first_if_good: str  # the way to try first after a good sign; empty: go without
    first_if_bad: str


def best_policy(ways: Sequence[DropAttempt], go_without: float, minute_price: float) -> Policy:
    """The order of tries with the least expected cost.

    Parameters
    ----------
    ways : what can be tried, at most ten, each once; outcomes independent
    go_without : money that not having the drop costs (a wireless hop, a lost sale)
    minute_price : money for a minute of work

    Returns
    -------
    The policy; no step where going without is cheapest.

    **Validity** exact for the model: independent outcomes, lognormal times, one walk-away time for each try.
    **Source**: docs/choosing.md, "Drops under uncertainty".

    >>> fish = DropAttempt("fished", chance=0.7, minutes=40.0, minutes_90=120.0, parts=12.0)
    >>> run = DropAttempt("on the wall", chance=0.98, minutes=90.0, minutes_90=140.0, parts=40.0)
    >>> found = best_policy([run, fish], go_without=300.0, minute_price=1.0)
    >>> [step.way.name for step in found.steps], round(found.chance, 2)
    (['fished', 'on the wall'], 0.99)
    """
    _check(ways, go_without, minute_price)
    order = _order(tuple(ways), go_without, minute_price)
    steps: list[DropTry] = []
    reached = 1.0
    for way, walk_min in order:
        works = way.chance * chance_within(way, walk_min)
        steps.append(DropTry(way, walk_min, reached, works))
        reached *= 1.0 - works
    cost = expected_cost(ways, go_without, minute_price)
    minutes = sum(step.reached * mean_minutes(step.way, step.walk_min) for step in steps)
    cost_90, minutes_90 = _high_90(tuple(steps), go_without, minute_price)
    return Policy(tuple(steps), cost, cost_90, minutes, minutes_90, 1.0 - reached)


def policy_beginning_with(
    first: DropAttempt, ways: Sequence[DropAttempt], go_without: float, minute_price: float
) -> Policy:
    """The order of tries of a drop that is decided on: the planned way first, then the best of the rest.

    Parameters: as `best_policy`; `first` is one of the ways and is seen through. **Source**:
    docs/choosing.md, "Drops under uncertainty".
    """
    _check(ways, go_without, minute_price)
    rest = _left(tuple(ways), first)
    after = best_policy(rest, go_without, minute_price)
    failed = 1.0 - first.chance
    steps = [
        DropTry(first, NEVER_MIN, 1.0, first.chance),
        *(replace(step, reached=step.reached * failed) for step in after.steps),
    ]
    cost = cost_of_try(first, NEVER_MIN, after.cost, minute_price)
    minutes = sum(step.reached * mean_minutes(step.way, step.walk_min) for step in steps)
    cost_90, minutes_90 = _high_90(tuple(steps), go_without, minute_price)
    chance = first.chance + failed * after.chance
    return Policy(tuple(steps), cost, cost_90, minutes, minutes_90, chance)


def expected_cost(ways: Sequence[DropAttempt], go_without: float, minute_price: float) -> float:
    """Expected cost of the best order of tries.

    Parameters and BadInput: as `best_policy`. Never above `go_without`, the money that not having the drop
    costs.

    **Validity**: exact for the model of `best_policy`. **Source**: docs/choosing.md, "drops under
    uncertainty".
    """
    _check(ways, go_without, minute_price)
    return _solve(tuple(ways), go_without, minute_price)[0]


def worth_of_test(
    ways: Sequence[DropAttempt], test: CheapTest, go_without: float, minute_price: float
) -> TestWorth:
    """Expected value of the test's information in money, less its cost.

    Worth = cost without it - (its cost + the mean over its signs of the cost that follows each), the
    chance of the way after each sign by the rule of Bayes.

    **Source** preposterior analysis: Raiffa and Schlaifer, "Applied Statistical Decision Theory", 1961
    [memory].
    """
    about = next((way for way in ways if way.name == test.way), None)
    if about is None:
        raise BadInput(
            say("refused_design.no_way", way=test.way),
            where=test.name,
            remedy=say("refused_design.test_open_way"),
        )
    before = expected_cost(ways, go_without, minute_price)
    good = about.chance * test.hit + (1.0 - about.chance) * test.false
    after = 0.0
    first = {}
    for sign, share, seen in (("good", good, test.hit), ("bad", 1.0 - good, 1.0 - test.hit)):
        chance = about.chance * seen / share if share > 0 else about.chance
        then = tuple(replace(way, chance=min(chance, 1.0)) if way.name == about.name else way for way in ways)
        cost, choice = _solve(then, go_without, minute_price)[:2]
        after += share * cost
        first[sign] = choice.name if choice else ""
    return TestWorth(test, before - after - test.cost, good, first["good"], first["bad"])


def best_test(
    ways: Sequence[DropAttempt], tests: Sequence[CheapTest], go_without: float, minute_price: float
) -> TestWorth | None:
    """The test worth most; None where none is worth its cost.

    Parameters: as `worth_of_test`, of which it weighs each; of equal ones the last by name. One test alone
    is weighed: two together may be worth more than either. **Source**: docs/choosing.md, "Drops under
    uncertainty".
    """
    found = [worth_of_test(ways, test, go_without, minute_price) for test in tests]
    paying = [worth for worth in found if worth.worth > 0]
    return max(paying, key=lambda worth: (worth.worth, worth.test.name)) if paying else None


def _check(ways: Sequence[DropAttempt], go_without: float, minute_price: float) -> None:
    if len(ways) > MOST_WAYS or len({way.name for way in ways}) != len(ways):
        raise BadInput(
            say("refused_design.ways_alike", most=MOST_WAYS),
            where="drop",
            remedy=say("refused_design.own_name"),
        )
    if go_without < 0 or minute_price < 0:
        raise BadInput(
            say("refused_design.money"), where="drop", remedy=say("refused_common.give_costs_from_0")
        )


@lru_cache(maxsize=4096)
def _solve(
    ways: tuple[DropAttempt, ...], go_without: float, minute_price: float
) -> tuple[float, DropAttempt | None, float]:
    """Least expected cost over these ways, the first try, and when to walk away from it."""
    best: tuple[float, DropAttempt | None, float] = (go_without, None, 0.0)
    for way in ways:
        then = _solve(_left(ways, way), go_without, minute_price)[0]
        walk_min = walk_away_min(way, then, minute_price)
        cost = cost_of_try(way, walk_min, then, minute_price) if walk_min > 0 else np.inf
        if cost < best[0] - 1e-9:
            best = (cost, way, walk_min)
    return best


def _left(ways: tuple[DropAttempt, ...], tried: DropAttempt) -> tuple[DropAttempt, ...]:
    # by name, not by identity: a remembered answer may hold another job's equal way
    return tuple(way for way in ways if way.name != tried.name and not (tried.spends_old and way.needs_old))


def _order(
    ways: tuple[DropAttempt, ...], go_without: float, minute_price: float
) -> list[tuple[DropAttempt, float]]:
    order: list[tuple[DropAttempt, float]] = []
    while True:
        _, way, walk_min = _solve(ways, go_without, minute_price)
        if way is None:
            return order
        order.append((way, walk_min))
        ways = _left(ways, way)


@lru_cache(maxsize=512)
def _high_90(steps: tuple[DropTry, ...], go_without: float, minute_price: float) -> tuple[float, float]:
    """Cost and minutes not exceeded nine times in ten, on a fixed grid of minutes.

    Every path of the policy is failures, then one that works or going without; minutes add by convolution.
    """
    if not steps:
        return go_without, 0.0
    longest = sum(_last_min(step) for step in steps)
    width = longest / GRID
    spent = np.zeros(GRID + 1)  # probability of minutes so far, all tries having failed
    spent[0] = 1.0
    parts = 0.0
    ends: list[tuple[float, NDArray[np.float64]]] = []  # money besides minutes, distribution of minutes
    for step in steps:
        parts += step.way.parts
        worked, failed = _minutes_of(step, width)
        ends.append((parts + step.way.finish, np.convolve(spent, worked)[: GRID + 1]))
        spent = np.convolve(spent, failed)[: GRID + 1]
    ends.append((parts + go_without, spent))
    minutes = np.arange(GRID + 1) * width
    chances = np.concatenate([chance for _, chance in ends])
    costs = np.concatenate([money + minutes * minute_price for money, _ in ends])
    return _quantile(costs, chances), _quantile(np.tile(minutes, len(ends)), chances)


def _last_min(step: DropTry) -> float:
    if step.walk_min < NEVER_MIN:
        return step.walk_min
    way = step.way
    low, high = way.minutes, NEVER_MIN
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if chance_within(way, middle) < LAST_CHANCE else (low, middle)
    return high


def _minutes_of(step: DropTry, width: float) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Distribution of the try's minutes on the grid where it works and where it does not."""
    last = _last_min(step)
    count = min(GRID, int(np.ceil(last / width - 1e-9)))
    edges = np.minimum((np.arange(count + 1) + 0.5) * width, last)
    below = np.array([chance_within(step.way, float(edge)) for edge in edges])
    ended = np.diff(below, prepend=0.0)
    worked = step.way.chance * ended
    failed = (1.0 - step.way.chance) * ended
    failed[-1] += 1.0 - below[-1]  # walked away
    return worked, failed


def _quantile(values: NDArray[np.float64], chances: NDArray[np.float64], share: float = 0.9) -> float:
    order = np.argsort(values, kind="stable")
    reached = np.cumsum(chances[order])
    at = int(np.searchsorted(reached, share * reached[-1]))
    return float(values[order][min(at, len(values) - 1)])
