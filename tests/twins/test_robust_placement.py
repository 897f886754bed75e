"""Rooms met with a probability over sampled fields, against counting samples for every choice."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from rehaul.design.placement import solve
from rehaul.design.robust import SampledRoom, over_samples
from rehaul.errors import BadInput


@pytest.mark.parametrize("seed", range(25))
def test_equals_counting_samples(seed: int) -> None:
    random = np.random.default_rng(seed)
    samples, sites, places = 40, 5, 30
    level = random.normal(-60, 6, (sites, places))[None]
    level = level + random.normal(0, 4, (samples, 1, 1)) + random.normal(0, 3, (samples, sites, 1))
    serves = level >= -63
    cost = random.integers(1, 9, sites) * 10.0
    rooms = [
        SampledRoom(f"room {r}", np.arange(10 * r, 10 * r + 10), random.uniform(0.5, 2, 10), 0.5, 0.8)
        for r in range(3)
    ]
    problem = over_samples(np.arange(sites), np.zeros(sites, dtype=np.int64), cost, serves, rooms)
    best = None
    for pick in itertools.product((False, True), repeat=sites):
        chosen = np.flatnonzero(pick)
        held = True
        for room in rooms:
            alone = serves[:, :, room.places] @ room.weights >= 0.5 * room.weights.sum()
            held &= bool(alone[:, chosen].any(axis=1).mean() >= 0.8 - 1e-12)
        if held and (best is None or cost[chosen].sum() < best):
            best = float(cost[chosen].sum())
    choice = solve(problem)
    assert choice.proven and choice.feasible == (best is not None)
    if best is not None:
        assert choice.cost == best


def test_surer_costs_more() -> None:
    random = np.random.default_rng(4)
    serves = random.random((200, 12, 40)) < 0.75
    serves &= random.random((200, 12, 1)) < 0.8
    costs = []
    for probability in (0.5, 0.8, 0.95, 0.99):
        rooms = [SampledRoom("room", np.arange(40), np.ones(40), 0.7, probability)]
        problem = over_samples(
            np.arange(12), np.zeros(12, dtype=np.int64), np.linspace(10, 21, 12), serves, rooms
        )
        costs.append(solve(problem).cost)
    assert costs == sorted(costs) and costs[-1] > costs[0]


def test_shape_is_checked() -> None:
    with pytest.raises(BadInput, match="samples by options"):
        over_samples(np.arange(2), np.zeros(2, dtype=np.int64), np.ones(2), np.ones((2, 3), dtype=bool), [])
