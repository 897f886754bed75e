"""Rooms met with a probability over sampled fields, against counting samples for every choice."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest

from rehaul.arrays import Bools, Reals
from rehaul.design.robust import met_samples
from rehaul.exact import CoverProblem, solve_exact


def problem_of(met: Bools, cost: Reals, probabilities: list[float]) -> CoverProblem:
    """One option at a site, over the samples in which it serves each room."""
    serves, requirements = met_samples(met, [f"room {r}" for r in range(met.shape[2])], probabilities)
    sites = np.arange(met.shape[1])
    return CoverProblem(sites, np.zeros_like(sites), cost, serves, requirements)


WANTED = [0.6, 0.9, 0.75]


def drawn(seed: int, samples: int = 40, sites: int = 5) -> tuple[Bools, Reals]:
    """Whether each site serves each of three rooms in each sample, walls wrong together; what sites cost."""
    random = np.random.default_rng(seed)
    level = random.normal(-62, 6, (1, sites, 3)) + random.normal(0, 4, (samples, 1, 1))
    met = level + random.normal(0, 3, (samples, sites, 1)) >= -63
    return met, random.integers(1, 9, sites) * 10.0


@pytest.mark.parametrize("seed", range(25))
def test_equals_counting_samples(seed: int) -> None:
    met, cost = drawn(seed)
    samples, sites, _ = met.shape
    best = None
    for pick in itertools.product((False, True), repeat=sites):
        chosen = np.flatnonzero(pick)
        held = all(
            met[:, chosen, room].any(axis=1).mean()
            >= min(1.0, share + 2 * math.sqrt(share * (1 - share) / samples)) - 1e-12
            for room, share in enumerate(WANTED)
        )
        if held and (best is None or cost[chosen].sum() < best):
            best = float(cost[chosen].sum())
    choice = solve_exact(problem_of(met, cost, WANTED))
    assert choice.proven and choice.feasible == (best is not None)
    if best is not None:
        assert choice.cost == best


def test_both_sorts_are_among_them() -> None:
    """Some of those houses can be served so surely and some cannot."""
    found = [solve_exact(problem_of(*drawn(seed), WANTED)).feasible for seed in range(25)]
    assert 3 <= sum(found) <= 22, sum(found)


def test_surer_costs_more() -> None:
    random = np.random.default_rng(4)
    met = random.random((200, 12, 1)) < 0.6
    cost = np.linspace(10, 21, 12)
    costs = [solve_exact(problem_of(met, cost, [asked])).cost for asked in (0.5, 0.8, 0.95, 0.99)]
    assert costs == sorted(costs) and costs[-1] > costs[0]
