"""The choice over feeds against a general solver (HiGHS) on houses too large to try all.

The model is written here a second time, in its plainest form: a column for every way, resource, class, row of
places and thing asked. Nothing of the product's own reduction or search is used, only the problem as data.
"""

from __future__ import annotations

from dataclasses import replace

import highspy
import pytest

from counts import counted
from rehaul.exact import FeedProblem, solve_feeds
from sample_feeds import house_problem

INFINITY = highspy.kHighsInf


def least_cost(problem: FeedProblem, count: int) -> float | None:
    """Least cost that meets so many, by HiGHS; None where none does."""
    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("threads", 1)  # as all its users in this process: it keeps one pool of threads
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("mip_abs_gap", 0.004)
    ways = {w.id: solver.addBinary(obj=w.cost) for w in problem.ways}
    work = {r.id: solver.addBinary(obj=r.cost) for r in problem.resources}
    kinds = [solver.addBinary(obj=k.cost) for k in problem.switch_classes]
    met = [solver.addBinary() for _ in problem.asked]
    things = [(ways[w.id], w) for w in problem.ways] + [(work[r.id], r) for r in problem.resources]
    for column, thing in things:
        for need in thing.needs:
            solver.addConstr(column <= work[need])
        for medium in {name for name, _ in thing.loads}:
            shares = [share * c for c, t in things for name, share in t.loads if name == medium]
            solver.addConstr(sum(shares) <= 1.0)
        if thing.ports or thing.watts:
            solver.addConstr(column <= sum(kinds))
    for way in problem.ways:
        if way.beside:
            solver.addConstr(ways[way.id] <= sum(ways[name] for name in way.beside))
    for name in {r.excludes for r in problem.resources if r.excludes}:
        solver.addConstr(sum(work[r.id] for r in problem.resources if r.excludes == name) <= 1)
    for group in {way.group for way in problem.ways}:
        together = sum(ways[way.id] for way in problem.ways if way.group == group)
        solver.addConstr(together == 1 if group in problem.must else together <= 1)
    solver.addConstr(sum(kinds) <= 1)
    for take in ("ports", "watts"):
        taken = sum(getattr(thing, take) * column for column, thing in things)
        spare = problem.spare_ports if take == "ports" else 0
        given = [
            (getattr(k, take) - spare) * column
            for k, column in zip(problem.switch_classes, kinds, strict=True)
        ]
        solver.addConstr(taken <= sum(given))
    for asked, requirement in zip(met, problem.requirements, strict=False):
        rows, weights = [], []
        for place, weight in zip(requirement.places, requirement.weights, strict=True):
            row = solver.addVariable(0.0, 1.0)
            serving = [ways[w.id] for i, w in enumerate(problem.ways) if problem.serves[i, place]]
            solver.addConstr(row <= sum(serving, start=0.0 * row))
            rows.append(row)
            weights.append(float(weight))
        need = requirement.share * sum(weights)
        solver.addConstr(sum(w * r for w, r in zip(weights, rows, strict=True)) >= need * asked)
    for asked, row in zip(met[len(problem.requirements) :], problem.counted, strict=True):
        adds = [n * ways[w.id] for w in problem.ways for name, n in w.counts if name == row.name]
        solver.addConstr(sum(adds) >= row.least * asked)
    solver.addConstr(sum(met) >= count)
    solver.run()
    if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        return None
    return round(float(solver.getInfo().objective_function_value), 2)


@pytest.mark.parametrize("seed", range(counted(10, 16)))
def test_equals_a_general_solver(seed: int) -> None:
    problem = house_problem(seed)
    choice = solve_feeds(problem, 60.0)
    assert choice.proven
    most = sum(choice.met)
    assert choice.cost == pytest.approx(least_cost(problem, most), abs=0.005)
    if most < len(problem.asked):
        assert least_cost(problem, most + 1) is None


@pytest.mark.parametrize("seed", range(counted(2, 3)))
def test_fewer_asked_equals_a_general_solver(seed: int) -> None:
    problem = house_problem(seed)
    count = len(problem.asked) // 2
    choice = solve_feeds(problem, 60.0, enough=count)
    assert choice.proven
    assert choice.cost == pytest.approx(least_cost(problem, count), abs=0.005)


def test_the_peer_sees_what_ways_hang_on() -> None:
    """Without it the two would differ: the check is not idle."""
    differs = 0
    for seed in range(4):
        problem = house_problem(seed)
        loose = replace(problem, ways=tuple(replace(way, beside=()) for way in problem.ways))
        differs += least_cost(loose, sum(solve_feeds(problem).met)) != solve_feeds(problem).cost
    assert differs
