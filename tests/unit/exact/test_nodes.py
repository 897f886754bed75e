"""Nodes of the search over feeds: what is paid together is one unknown, and rates settle ties at once.

Answers do not depend on this, waiting does.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from rehaul.clock import Clock
from rehaul.exact import FeedProblem, Resource, Way, feed_front, solve_feeds
from rehaul.exact.feeding.core import core_of
from rehaul.exact.feeding.figures import Figures, Tally
from rehaul.exact.feeding.program import frame_of, meeting
from rehaul.exact.feeding.scene import planes_for, scale_of, wood_of
from rehaul.exact.feeding.search import find
from sample_feeds import house_problem, random_problem

PARTS = 6
LIMIT_S = 100.0  # with compiling within it, which must not cut a search short


def in_parts(problem: FeedProblem) -> FeedProblem:
    """Every resource as six that need each other in a row, as a cable is ends, run, link, photo and so on."""
    resources = [
        Resource(
            resource.id if part == 0 else f"{resource.id} part {part}",
            round(resource.cost * 100) // PARTS / 100
            if part
            else resource.cost - (PARTS - 1) * (round(resource.cost * 100) // PARTS) / 100,
            needs=(
                *(resource.needs if part == 0 else ()),
                *((f"{resource.id} part {part + 1}",) if part < PARTS - 1 else ()),
            ),
            excludes=resource.excludes if part == 0 else "",
            ports=resource.ports if part == 0 else 0,
        )
        for resource in problem.resources
        for part in range(PARTS)
    ]
    return replace(problem, resources=tuple(resources))


def with_free_boxes(problem: FeedProblem, seed: int) -> FeedProblem:
    """Dear, with rates of every sort, and boxes that stand for nothing and give nothing but their rate."""
    random = np.random.default_rng(seed)
    dear = [
        replace(way, cost=10 * way.cost, rate_mbps=round(float(random.uniform(40, 900)), 1))
        for way in problem.ways
    ]
    free = [
        Way(
            f"free {box} {kind}",
            f"free {box}",
            0.0,
            rate_mbps=round(float(random.uniform(40, 900)), 1),
            beside=(f"up {kind}",),
        )
        for box in range(8)
        for kind in range(3)
    ]
    return replace(
        problem,
        ways=(*dear, *free),
        serves=np.vstack([problem.serves, np.zeros((len(free), problem.serves.shape[1]), dtype=np.bool_)]),
        resources=tuple(replace(resource, cost=10 * resource.cost) for resource in problem.resources),
    )


def nodes_of_front(problem: FeedProblem) -> int:
    return sum(step.choice.nodes for step in feed_front(problem, LIMIT_S))


@pytest.mark.parametrize("seed", range(4))
def test_a_resource_in_parts_is_searched_as_one(seed: int) -> None:
    whole = house_problem(seed)
    parts = in_parts(whole)
    assert len(parts.resources) == PARTS * len(whole.resources)
    first, second = solve_feeds(whole, LIMIT_S), solve_feeds(parts, LIMIT_S)
    assert (second.ways, second.cost, second.nodes) == (first.ways, first.cost, first.nodes)
    assert nodes_of_front(parts) == nodes_of_front(whole)


@pytest.mark.parametrize("seed", range(4))
def test_rates_cost_few_nodes(seed: int) -> None:
    problem = with_free_boxes(house_problem(seed), seed)
    without = replace(problem, ways=tuple(replace(way, rate_mbps=0.0) for way in problem.ways))
    assert nodes_of_front(problem) <= 2 * nodes_of_front(without)


@pytest.mark.parametrize("seed", range(40))
def test_tables_of_a_search_lie_in_one_order(seed: int) -> None:
    """Compiled loops of a table in another order would be compiled anew: half a minute before an answer."""
    core = core_of(Figures(random_problem(seed)))
    program = meeting(frame_of(core), len(core.can_meet))
    wood, _ = wood_of(program, scale_of(core, program), planes_for(core))
    tables = {name: value for name, value in wood._asdict().items() if isinstance(value, np.ndarray)}
    assert "alone" in tables
    assert [name for name, table in tables.items() if not table.flags.c_contiguous] == []


@pytest.mark.parametrize("seed", range(24))
def test_what_carries_others_may_be_ruled_out_first_and_nothing_changes(seed: int) -> None:
    problem = random_problem(seed) if seed < 20 else house_problem(seed)
    core = core_of(Figures(problem))
    for count in range(int(np.count_nonzero(core.can_meet)) + 1):
        plain = find(core, count, Clock(LIMIT_S))
        for start in (None, plain.tally):
            found = find(core, count, Clock(LIMIT_S), start=start, many_ways=0)
            assert found.proven and _same(found.tally, plain.tally)


@pytest.mark.parametrize("seed", range(8))
def test_a_search_goes_on_from_what_is_left_of_it(seed: int) -> None:
    problem = house_problem(seed)
    core = core_of(Figures(problem))
    count = int(np.count_nonzero(core.can_meet))
    whole = find(core, count, Clock(LIMIT_S))
    for many_ways in (10**6, 0):
        part = find(core, count, Clock(0.0), many_ways=many_ways)
        if part.left is not None:  # else only ties are left
            assert not part.proven
            found = find(part.left.core, count, Clock(LIMIT_S), start=part.tally, warm=part.left.warm)
            assert found.proven and _same(found.tally, whole.tally)


def _same(a: Tally | None, b: Tally | None) -> bool:
    return (a is None) == (b is None) and (a is None or b is None or a.ways == b.ways)
