"""The placement search against trying every choice, on random small instances."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from general_solver import solve_general
from rehaul.exact import CoverProblem, Requirement, SharedWarm, solve_exact

SEEDS = range(240)


def random_problem(seed: int) -> CoverProblem:
    """Up to 5 sites, 3 kinds and 40 places, nested kinds, whole or fractional weights, pins and bans."""
    random = np.random.default_rng(seed)
    sites, kinds, places = random.integers(2, 6), random.integers(1, 4), random.integers(3, 41)
    reach = random.random((sites, places))
    limits = np.sort(random.uniform(0.15, 0.7, kinds))
    serves = (reach[:, None, :] < limits[None, :, None]).reshape(sites * kinds, places)
    cost = np.sort(random.integers(1, 40, (sites, kinds)) * random.choice([0.37, 5.0]), axis=1).ravel()
    requirements = []
    for group in range(random.integers(1, 5)):
        members = np.flatnonzero(random.random(places) < 0.6)
        if not len(members):
            members = np.arange(1)
        weights = random.integers(1, 4, len(members)).astype(float)
        if random.random() < 0.3:
            weights = random.uniform(0.2, 3.0, len(members))
        requirements.append(Requirement(f"room {group}", members, weights, float(random.uniform(0.4, 1.0))))
    order = random.permutation(sites)
    return CoverProblem(
        site=np.repeat(np.arange(sites), kinds),
        kind=np.tile(np.arange(kinds), sites),
        cost=cost,
        serves=serves,
        requirements=tuple(requirements),
        pinned=tuple(order[:1].tolist()) if random.random() < 0.25 else (),
        forbidden=tuple(order[1:2].tolist()) if random.random() < 0.25 else (),
    )


def try_all(problem: CoverProblem) -> dict[int, int]:
    """Least cost in hundredths for at least k requirements met, for every k that any choice reaches.

    Written without the merging or the whole-number weights of the solver.
    """
    sites = sorted(set(problem.site.tolist()))
    slots = []
    for site in sites:
        there = [] if site in problem.forbidden else np.flatnonzero(problem.site == site).tolist()
        slots.append(there if site in problem.pinned else [None, *there])
    best: dict[int, int] = {}
    for pick in itertools.product(*slots):
        chosen = [option for option in pick if option is not None]
        covered = problem.serves[chosen].any(axis=0) if chosen else np.zeros(problem.serves.shape[1], bool)
        met = 0
        for requirement in problem.requirements:
            served = requirement.weights[covered[requirement.places]].sum()
            met += served >= requirement.share * requirement.weights.sum() - 1e-7
        cost = sum(round(float(problem.cost[option]) * 100) for option in chosen)
        for count in range(met + 1):
            best[count] = min(best.get(count, cost), cost)
    return best


@pytest.mark.parametrize("seed", SEEDS)
def test_every_number_of_rooms_equals_trying_all(seed: int) -> None:
    problem = random_problem(seed)
    best, warm = try_all(problem), SharedWarm()
    for count in range(len(problem.requirements), -1, -1):  # what one search learns, the next starts with
        choice = solve_exact(problem, enough=count, warm=warm)
        assert choice.proven and choice.feasible == (count in best), f"{count} requirements met"
        if choice.feasible:
            assert round(choice.cost * 100) == best[count] and sum(choice.met) >= count


@pytest.mark.parametrize("seed", range(0, 240, 8))
def test_general_solver_equals_trying_all(seed: int) -> None:
    problem = random_problem(seed)
    best = try_all(problem)
    for count, cost in best.items():
        choice = solve_general(problem, enough=count)
        assert choice.proven and choice.feasible
        assert round(choice.cost * 100) == cost


def test_instances_are_of_every_sort() -> None:
    """The random instances hold feasible and infeasible ones, pinned and forbidden sites."""
    problems = [random_problem(seed) for seed in SEEDS]
    feasible = [max(try_all(problem)) == len(problem.requirements) for problem in problems]
    assert 40 < sum(feasible) < 200
    assert any(problem.pinned for problem in problems) and any(problem.forbidden for problem in problems)
