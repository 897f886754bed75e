"""One try: expected minutes, the time to walk away, and the firm's own log."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import integrate, optimize, stats

from rehaul.design.tries import (
    NEVER_MIN,
    DropAttempt,
    chance_within,
    cost_of_try,
    from_own_log,
    mean_minutes,
    walk_away_min,
)
from rehaul.errors import BadInput

FISH = DropAttempt("new cable", 0.85, 180, 420, 30)


def distribution(way: DropAttempt) -> stats.rv_continuous:
    return stats.lognorm(way.sigma, scale=math.exp(way.mu))


@pytest.mark.parametrize("walk_min", [5.0, 60.0, 200.0, 1500.0])
def test_mean_minutes_is_the_integral_of_staying(walk_min: float) -> None:
    expected, _ = integrate.quad(distribution(FISH).sf, 0, walk_min, limit=200)
    assert mean_minutes(FISH, walk_min) == pytest.approx(expected, rel=1e-8)


def test_median_and_ninth_decile_are_those_given() -> None:
    assert chance_within(FISH, 180) == pytest.approx(0.5)
    assert chance_within(FISH, 420) == pytest.approx(0.9)


@pytest.mark.parametrize(
    ("chance", "minutes", "minutes_90", "else_cost"),
    [(0.9, 45, 110, 200), (0.3, 35, 130, 150), (0.1, 35, 130, 400), (0.85, 180, 420, 900), (0.6, 8, 40, 60)],
)
def test_walking_away_then_is_cheapest(
    chance: float, minutes: float, minutes_90: float, else_cost: float
) -> None:
    """Against a dense scan and a bounded minimiser of the same expected cost."""
    way = DropAttempt("try", chance, minutes, minutes_90, 0.0)
    price = 85 / 60
    stop = walk_away_min(way, else_cost, price)
    scan = np.geomspace(0.5, 5000, 4000)
    least = min(cost_of_try(way, float(m), else_cost, price) for m in scan)
    if stop == 0.0:
        assert least >= else_cost - 0.01
        return
    found = optimize.minimize_scalar(
        lambda m: cost_of_try(way, m, else_cost, price), bounds=(stop / 3, stop * 3), method="bounded"
    )
    assert cost_of_try(way, stop, else_cost, price) <= min(least, found.fun) + 1e-6


def test_hopeless_is_not_begun_and_free_time_never_ends() -> None:
    assert walk_away_min(DropAttempt("try", 0.0, 30, 60, 0), 500, 1.0) == 0.0
    assert walk_away_min(DropAttempt("try", 0.5, 30, 60, 0), 500, 0.0) == NEVER_MIN


def test_dearer_minutes_mean_walking_away_sooner() -> None:
    times = [walk_away_min(FISH, 900, price) for price in (0.5, 1.0, 2.0, 4.0)]
    assert times == sorted(times, reverse=True)


def test_log_moves_the_way_towards_itself_and_wins_in_the_end() -> None:
    few = from_own_log(FISH, [90.0] * 3, [True, True, False])
    many = from_own_log(FISH, [90.0, 88.0, 92.0] * 200, [True] * 600)
    assert 90 < few.minutes < FISH.minutes
    assert many.minutes == pytest.approx(90, rel=0.03) and many.chance > 0.99
    assert many.minutes_90 / many.minutes < FISH.minutes_90 / FISH.minutes
    assert from_own_log(FISH, [], []) == FISH


@pytest.mark.parametrize("bad", [{"chance": 1.2}, {"minutes_90": 100.0}, {"minutes": 0.0}])
def test_nonsense_is_refused(bad: dict[str, float]) -> None:
    values = {"chance": 0.5, "minutes": 120.0, "minutes_90": 300.0} | bad
    with pytest.raises(BadInput):
        DropAttempt("try", parts=0.0, **values)


def test_log_must_match() -> None:
    with pytest.raises(BadInput, match="do not match"):
        from_own_log(FISH, [10.0], [])
