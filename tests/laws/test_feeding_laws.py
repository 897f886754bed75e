"""What holds of every choice over feeds, whatever the house."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from counts import counted
from rehaul.exact import CoverProblem, FeedProblem, Way, solve_exact, solve_feeds
from sample_feeds import random_problem

seeds = st.integers(0, 10**6)
few = settings(max_examples=counted(20, 40), deadline=None)


@settings(max_examples=counted(10, 40), deadline=None)
@given(seeds, st.randoms(use_true_random=False))
def test_the_order_of_ways_and_resources_plays_no_part(seed: int, random: object) -> None:
    problem = random_problem(seed)
    ways, resources = list(range(len(problem.ways))), list(problem.resources)
    random.shuffle(ways)  # type: ignore[attr-defined]
    random.shuffle(resources)  # type: ignore[attr-defined]
    shuffled = replace(
        problem,
        ways=tuple(problem.ways[i] for i in ways),
        serves=problem.serves[ways],
        resources=tuple(resources),
    )
    found = solve_feeds(shuffled)
    assert found == replace(solve_feeds(problem), nodes=found.nodes)


@few
@given(seeds, st.integers(0, 3))
def test_one_way_more_never_costs_more(seed: int, count: int) -> None:
    problem = random_problem(seed)
    carriers = {name for way in problem.ways for name in way.beside}
    goes = next(i for i, way in enumerate(problem.ways) if way.id not in carriers)  # nothing hangs on it
    left = [i for i in range(len(problem.ways)) if i != goes]
    ways = tuple(problem.ways[i] for i in left)
    fewer = replace(problem, ways=ways, serves=problem.serves[left], must=(), forbidden=(), fixed=())
    problem = replace(problem, must=(), forbidden=(), fixed=())
    before, after = solve_feeds(fewer, enough=count), solve_feeds(problem, enough=count)
    assert before.proven and after.proven
    if before.feasible:
        assert after.feasible and after.cost <= before.cost
    else:
        assert sum(after.met) >= sum(before.met)


@few
@given(seeds, st.integers(0, 3), st.floats(0, 100))
def test_a_dearer_resource_never_makes_it_cheaper(seed: int, count: int, rise: float) -> None:
    problem = random_problem(seed)
    first = problem.resources[:1]
    dearer = replace(
        problem, resources=(*(replace(r, cost=r.cost + rise) for r in first), *problem.resources[1:])
    )
    before, after = solve_feeds(problem, enough=count), solve_feeds(dearer, enough=count)
    assert before.proven and after.proven and before.feasible == after.feasible
    assert after.cost >= before.cost
    if first and first[0].id not in before.resources:
        assert after.ways == before.ways


@few
@given(seeds, st.integers(0, 4))
def test_without_feeds_it_is_the_placement_problem(seed: int, count: int) -> None:
    problem = random_problem(seed)
    ways = tuple(Way(w.id, w.group, w.cost, rate_mbps=w.rate_mbps) for w in problem.ways)
    plain = FeedProblem(ways, problem.serves, problem.requirements, must=problem.must)
    groups = sorted({way.group for way in ways})
    placement = CoverProblem(
        site=np.array([groups.index(way.group) for way in ways]),
        kind=np.arange(len(ways)),
        cost=np.array([way.cost for way in ways]),
        serves=problem.serves,
        requirements=problem.requirements,
        pinned=tuple(groups.index(group) for group in problem.must),
    )
    ours = solve_feeds(plain, enough=count)
    if not problem.requirements:
        return
    wanted = min(count, len(problem.requirements))
    theirs = [solve_exact(placement, enough=number) for number in range(wanted, -1, -1)]
    assert ours.proven and all(choice.proven for choice in theirs)
    assert ours.feasible == theirs[0].feasible
    assert ours.cost == next(choice.cost for choice in theirs if choice.feasible), "else as many as can be"
