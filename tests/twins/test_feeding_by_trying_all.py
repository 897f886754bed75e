"""The choice over feeds against trying every set of ways, on random small instances."""

from __future__ import annotations

import itertools
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from rehaul.auditor import walk
from rehaul.auditor.reading import RowView
from rehaul.auditor.trial import OutcomeView, problem_of
from rehaul.design.problemdata import problem_data
from rehaul.exact import FeedChoice, FeedProblem, feed_front, solve_feeds
from sample_feeds import random_problem

SEEDS = range(300)
Key = tuple[int, float, tuple[str, ...]]  # cost in hundredths, rates turned round, sorted ids


def switch_cost(problem: FeedProblem, ports: int, milliwatts: int) -> int | None:
    """Hundredths for the cheapest class that is enough; None where none is."""
    if not ports and not milliwatts:
        return 0
    enough = [
        round(kind.cost * 100)
        for kind in problem.switch_classes
        if kind.ports >= ports + problem.spare_ports and round(kind.watts * 1000) >= milliwatts
    ]
    return min(enough, default=None)


def weigh(problem: FeedProblem, chosen: tuple[int, ...]) -> tuple[Key, int] | None:
    """Key and number met of one set of ways, a way in a group at most; None where it does not fit."""
    ways = [problem.ways[i] for i in chosen]
    by_name = {resource.id: resource for resource in problem.resources}
    names = {way.id for way in ways}
    if any(way.beside and not names & set(way.beside) for way in ways):
        return None
    used: set[str] = set()
    waiting = [need for way in ways for need in way.needs]
    while waiting:
        name = waiting.pop()
        if name not in used:
            used.add(name)
            waiting += by_name[name].needs
    things = [*ways, *(by_name[name] for name in used)]
    sets = [by_name[name].excludes for name in used if by_name[name].excludes]
    if len(sets) != len(set(sets)):
        return None
    for medium in {medium for thing in things for medium, _ in thing.loads}:
        if sum(share for thing in things for name, share in thing.loads if name == medium) > 1 + 1e-5:
            return None
    switch = switch_cost(problem, sum(t.ports for t in things), sum(round(t.watts * 1000) for t in things))
    groups = {way.group for way in ways}
    if switch is None or not set(problem.must) <= groups or groups & set(problem.forbidden):
        return None
    if not set(problem.fixed) <= {way.id for way in ways}:
        return None
    covered = problem.serves[list(chosen)].any(axis=0)
    met = 0
    for requirement in problem.requirements:
        served = requirement.weights[covered[requirement.places]].sum()
        met += bool(served >= requirement.share * requirement.weights.sum() - 1e-7)
    for count in problem.counted:
        met += sum(n for way in ways for name, n in way.counts if name == count.name) >= count.least
    cost = sum(round(thing.cost * 100) for thing in things) + switch
    rate = round(sum(way.rate_mbps for way in ways), 1)
    return (cost, -rate, tuple(sorted(way.id for way in ways))), met


@cache
def try_all(seed: int) -> dict[int, Key]:
    """Key of the best choice that meets at least k, for every k that any choice reaches."""
    return best_of_all(random_problem(seed))


def best_of_all(problem: FeedProblem) -> dict[int, Key]:
    groups = sorted({way.group for way in problem.ways})
    slots = [[None, *(i for i, w in enumerate(problem.ways) if w.group == group)] for group in groups]
    best: dict[int, Key] = {}
    for pick in itertools.product(*slots):
        weighed = weigh(problem, tuple(i for i in pick if i is not None))
        if weighed is None:
            continue
        key, met = weighed
        for count in range(met + 1):
            best[count] = min(best.get(count, key), key)
    return best


def key_of(problem: FeedProblem, choice: FeedChoice) -> Key:
    rates = {way.id: way.rate_mbps for way in problem.ways}
    return round(choice.cost * 100), -round(sum(rates[name] for name in choice.ways), 1), choice.ways


@pytest.mark.parametrize("seed", SEEDS)
def test_choice_and_front_equal_trying_all(seed: int) -> None:
    problem, best = random_problem(seed), try_all(seed)
    choice = solve_feeds(problem)
    assert choice.proven and choice.gap == 0.0
    if not best:
        assert not choice.feasible and choice.ways == () and feed_front(problem) == ()
        return
    most = max(best)
    assert choice.feasible == (most == len(problem.asked))
    assert key_of(problem, choice) == best[most]
    assert sum(choice.met) >= most

    steps = feed_front(problem)
    costs = {count: key[0] for count, key in best.items()}
    worth = [count for count in best if all(costs[count] < costs[more] for more in best if more > count)]
    assert [step.met for step in steps] == sorted(worth)
    for step in steps:
        assert step.choice.proven and key_of(problem, step.choice) == best[step.met]


@pytest.mark.parametrize("seed", range(0, 200, 4))
def test_enough_equals_trying_all(seed: int) -> None:
    problem, best = random_problem(seed), try_all(seed)
    for count, key in best.items():
        choice = solve_feeds(problem, enough=count)
        assert choice.proven and choice.feasible
        assert key_of(problem, choice) == key


@pytest.mark.parametrize("seed", range(0, 200, 4))
def test_the_order_plays_no_part(seed: int) -> None:
    problem = random_problem(seed)
    random = np.random.default_rng(seed)
    ways = random.permutation(len(problem.ways)).tolist()
    shuffled = replace(
        problem,
        ways=tuple(problem.ways[i] for i in ways),
        serves=problem.serves[ways],
        resources=tuple(problem.resources[i] for i in random.permutation(len(problem.resources))),
        switch_classes=problem.switch_classes[::-1],
    )
    first, second = solve_feeds(problem), solve_feeds(shuffled)
    assert (first.ways, first.resources, first.switch, first.cost) == (
        second.ways,
        second.resources,
        second.switch,
        second.cost,
    )


def test_what_is_chosen_adds_up() -> None:
    """Resources, switch and cost told belong to the ways told."""
    for seed in SEEDS:
        problem = random_problem(seed)
        choice = solve_feeds(problem)
        weighed = weigh(problem, tuple(i for i, way in enumerate(problem.ways) if way.id in choice.ways))
        if try_all(seed):
            assert weighed is not None and weighed[0] == key_of(problem, choice)
            prices = {thing.id: thing.cost for thing in (*problem.ways, *problem.resources)}
            prices |= {kind.id: kind.cost for kind in problem.switch_classes} | {"": 0.0}
            told = sum(prices[name] for name in (*choice.ways, *choice.resources, choice.switch))
            assert round(told, 2) == choice.cost


def test_instances_are_of_every_sort() -> None:
    problems = [random_problem(seed) for seed in SEEDS]
    best = [try_all(seed) for seed in SEEDS]
    full = [bool(b) and max(b) == len(p.asked) for p, b in zip(problems, best, strict=True)]
    assert 60 < sum(full) < 190
    assert sum(not b for b in best) > 3
    chosen = [solve_feeds(problem) for problem in problems]
    by_name = [{r.id: r for r in p.resources} for p in problems]
    chains = [any(names[r].needs for r in c.resources) for names, c in zip(by_name, chosen, strict=True)]
    assert sum(chains) > 15
    assert sum(bool(c.switch) for c in chosen) > 50
    assert sum(bool(p.must) for p in problems) > 40 and sum(bool(p.fixed) for p in problems) > 10
    assert sum(bool(p.forbidden) for p in problems) > 15 and sum(bool(p.counted) for p in problems) > 60


@pytest.mark.parametrize("seed", range(60))
def test_the_auditors_walk_equals_trying_all(seed: int) -> None:
    """From any outcome that can be had, within any limit: its bounds leave out nothing that is better."""
    problem = random_problem(seed)
    whole = tuple(replace(r, weights=np.ceil(r.weights)) for r in problem.requirements)
    problem = replace(problem, requirements=whole)
    best = best_of_all(problem)
    view = problem_of(RowView({"choice": {"problem": problem_data(problem)}}))
    for known in range(max(best, default=-1) + 1):
        for limit in {None, *(cost for cost, _, _ in best.values())}:
            if limit is not None and best[known][0] > limit:
                continue
            within = {count: key[0] for count, key in best.items() if limit is None or key[0] <= limit}
            start = OutcomeView(frozenset(range(known)), best[known][0])
            found = walk.best_of_all(view, start, limit)
            assert found is not None
            assert (len(found.met), found.cost) == (max(within), within[max(within)])
