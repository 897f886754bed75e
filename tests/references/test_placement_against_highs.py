"""The placement search against a general mixed-integer solver, on 320 random houses."""

from __future__ import annotations

import numpy as np
import pytest

from general_solver import solve_general
from rehaul.exact import CoverProblem, Requirement, solve_exact

SEEDS = range(320)


def random_house(seed: int) -> CoverProblem:
    """6 to 16 sites, 1 to 3 kinds, rooms in a row of squares; reach falls with distance and walls."""
    random = np.random.default_rng(10_000 + seed)
    sites, kinds = int(random.integers(6, 17)), int(random.integers(1, 4))
    rooms = int(random.integers(2, 7))
    places = random.uniform((0, 0), (4.0 * rooms, 5.0), (int(random.integers(40, 140)), 2))
    where = random.uniform((0, 0), (4.0 * rooms, 5.0), (sites, 2))
    distance = np.linalg.norm(where[:, None] - places[None], axis=2)
    walls = np.abs((where[:, None, 0] // 4.0) - (places[None, :, 0] // 4.0))
    loss = 20 * np.log10(np.maximum(distance, 0.5)) + walls * random.uniform(3, 9)
    power = np.sort(random.uniform(10, 24, kinds))
    serves = (loss[:, None, :] <= power[None, :, None]).reshape(sites * kinds, -1)
    scale = random.choice([0.01, 0.83, 5.0])
    cost = (random.integers(0, 60, sites)[:, None] + np.sort(random.integers(10, 60, kinds))[None]) * scale
    weights = np.ones(len(places)) if random.random() < 0.7 else random.uniform(0.3, 2.0, len(places))
    requirements = [Requirement("all", np.arange(len(places)), weights, float(random.uniform(0.6, 0.95)))]
    for room in range(rooms):
        members = np.flatnonzero(places[:, 0] // 4.0 == room)
        if len(members) and random.random() < 0.7:
            share = float(random.uniform(0.5, 1.0))
            requirements.append(Requirement(f"room {room}", members, weights[members], share))
    order = random.permutation(sites)
    return CoverProblem(
        site=np.repeat(np.arange(sites), kinds),
        kind=np.tile(np.arange(kinds), sites),
        cost=cost.ravel(),
        serves=serves,
        requirements=tuple(requirements),
        pinned=tuple(order[:1].tolist()) if random.random() < 0.2 else (),
        forbidden=tuple(order[1:3].tolist()) if random.random() < 0.2 else (),
    )


@pytest.mark.parametrize("seed", SEEDS)
def test_equal_cost_and_both_proven(seed: int) -> None:
    problem = random_house(seed)
    asked = len(problem.requirements)
    enough = asked if seed % 2 == 0 else max(1, asked - 1 - seed % 3)
    ours = solve_exact(problem, enough=enough)
    general = solve_general(problem, enough=enough)
    assert ours.proven and general.proven
    assert ours.feasible == general.feasible
    if ours.feasible:
        assert round(ours.cost * 100) == round(general.cost * 100)
        assert len(set(ours.sites)) == len(ours.sites)
        assert set(problem.pinned) <= set(ours.sites) and not set(problem.forbidden) & set(ours.sites)


def test_instances_are_of_both_sorts() -> None:
    """Most of them can be met and some cannot, so that both answers are compared."""
    feasible = [solve_exact(random_house(seed)).feasible for seed in SEEDS]
    assert 0.3 * len(feasible) < sum(feasible) < 0.98 * len(feasible), sum(feasible)
