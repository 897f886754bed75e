"""Our search over feeds beside a general solver (HiGHS), on every bundled house and on larger ones.

    python benchmarks/two_solvers.py              # bundled houses, whole rooms on two, larger houses
    python benchmarks/two_solvers.py --only demo 2001-eight-home-runs
    python benchmarks/two_solvers.py --limit 60   # seconds for each choice of HiGHS

Both get the same problem as data and have to prove the least cost; the front is the least cost for every
number of things asked. HiGHS gets rows of places that the same ways serve merged into one, the tightest form
that was found; building its model is not counted. `tied` is HiGHS with the second search that settles ties by
rate, as ours does within the first. CPU of this process, one thread each, alternating; + is an end by the
clock, unproven.
"""

from __future__ import annotations

import argparse
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import highspy
import numpy as np
from feeding import with_feeds
from placement import house

import rehaul
from rehaul.design.placing import placing_of
from rehaul.exact import FeedProblem, feed_front, solve_feeds
from rehaul.predict import calibration_of, receivers_of, scene_of, standing_radiators

EXAMPLES = Path(__file__).parents[1] / "examples"
WHOLE_ROOMS = ("2001-eight-home-runs", "1912-metal-mesh-plaster")


class Model:
    """The problem as a mixed-integer program; `least` bounds how much of what is asked is met."""

    def __init__(self, problem: FeedProblem, limit_s: float) -> None:
        self.solver = solver = highspy.Highs()
        for option, value in {
            "output_flag": False,
            "threads": 1,
            "mip_rel_gap": 0.0,
            "mip_abs_gap": 0.004,
            "time_limit": limit_s,
        }.items():
            solver.setOptionValue(option, value)
        ways = {way.id: solver.addBinary(obj=way.cost) for way in problem.ways}
        work = {row.id: solver.addBinary(obj=row.cost) for row in problem.resources}
        kinds = [solver.addBinary(obj=kind.cost) for kind in problem.switch_classes]
        self.variables = [*ways.values(), *work.values(), *kinds]
        self.costs = [thing.cost for thing in (*problem.ways, *problem.resources, *problem.switch_classes)]
        met = [solver.addBinary() for _ in problem.asked]
        things = [(ways[way.id], way) for way in problem.ways]
        things += [(work[row.id], row) for row in problem.resources]
        media: dict[str, list[Any]] = {}
        for column, thing in things:
            for need in thing.needs:
                solver.addConstr(column <= work[need])
            for medium, share in thing.loads:
                media.setdefault(medium, []).append(share * column)
            if thing.ports or thing.watts:
                solver.addConstr(column <= sum(kinds, start=0 * column))
        for shares in media.values():
            solver.addConstr(sum(shares) <= 1.0)
        for way in problem.ways:
            if way.beside:
                solver.addConstr(ways[way.id] <= sum(ways[name] for name in way.beside))
        for name in {row.excludes for row in problem.resources if row.excludes}:
            solver.addConstr(sum(work[row.id] for row in problem.resources if row.excludes == name) <= 1)
        for group in {way.group for way in problem.ways}:
            together = sum(ways[way.id] for way in problem.ways if way.group == group)
            if group in problem.forbidden:
                solver.addConstr(together == 0)
            else:
                solver.addConstr(together == 1 if group in problem.must else together <= 1)
        for name in problem.fixed:
            solver.addConstr(ways[name] == 1)
        if kinds:
            solver.addConstr(sum(kinds) <= 1)
            for take, spare in (("ports", problem.spare_ports), ("watts", 0)):
                taken = [getattr(thing, take) * column for column, thing in things if getattr(thing, take)]
                given = [
                    (getattr(kind, take) - spare) * column
                    for kind, column in zip(problem.switch_classes, kinds, strict=True)
                ]
                if taken:
                    solver.addConstr(sum(taken) <= sum(given))
        columns = list(ways.values())
        for asked, requirement in zip(met, problem.requirements, strict=False):
            served = problem.serves[:, requirement.places]
            patterns, place_of = np.unique(served, axis=1, return_inverse=True)
            weights = np.bincount(place_of.ravel(), weights=requirement.weights)
            covered = []
            for pattern, weight in zip(patterns.T, weights, strict=True):
                if not pattern.any():
                    continue
                row = solver.addVariable(0.0, 1.0)
                solver.addConstr(row <= sum(columns[way] for way in np.flatnonzero(pattern)))
                covered.append(float(weight) * row)
            need = requirement.share * float(np.sum(requirement.weights))
            solver.addConstr(sum(covered, start=0.0 * asked) >= need * asked)
        for asked, counted in zip(met[len(problem.requirements) :], problem.counted, strict=True):
            adds = [
                number * ways[way.id]
                for way in problem.ways
                for name, number in way.counts
                if name == counted.name
            ]
            solver.addConstr(sum(adds, start=0.0 * asked) >= counted.least * asked)
        self.total = solver.addConstr(sum(met) >= 0)

    def least(self, count: int) -> tuple[float | None, bool]:
        """Least cost that meets so many, and whether it is proven; None where none does or time ran out."""
        self.solver.changeRowBounds(self.total.index, float(count), highspy.kHighsInf)
        self.solver.clearSolver()
        self.solver.run()
        status = self.solver.getModelStatus()
        if status != highspy.HighsModelStatus.kOptimal:
            return None, status == highspy.HighsModelStatus.kInfeasible
        return round(float(self.solver.getInfo().objective_function_value), 2), True

    def as_ours(self, count: int, problem: FeedProblem) -> float | None:
        """The same, and of equally cheap choices the one of the highest rates, as ours answers."""
        cost, _ = self.least(count)
        if cost is None:
            return None
        solver = self.solver
        paid = [c * v for c, v in zip(self.costs, self.variables, strict=True) if c]
        solver.addConstr(sum(paid, start=0.0 * self.variables[0]) <= cost + 0.004)
        for way, column in zip(problem.ways, self.variables, strict=False):
            solver.changeColCost(column.index, -way.rate_mbps)
        for column in self.variables[len(problem.ways) :]:
            solver.changeColCost(column.index, 0.0)
        solver.clearSolver()
        solver.run()
        return cost


def cpu_ms(work: Callable[[], Any]) -> tuple[float, Any]:
    """CPU milliseconds of this process, and the answer."""
    started = time.process_time()
    answer = work()
    return (time.process_time() - started) * 1e3, answer


def compared(name: str, problem: FeedProblem, limit_s: float) -> None:
    """One line: both solvers on the choice and on the front."""
    ours_ms, choice = cpu_ms(lambda: solve_feeds(problem, limit_s))
    model = Model(problem, limit_s)
    most = sum(choice.met)
    theirs_ms, (cost, proven) = cpu_ms(lambda: model.least(most))
    front_ms, steps = cpu_ms(lambda: feed_front(problem, limit_s))
    other_ms, costs = cpu_ms(lambda: [model.least(count) for count in range(most)])
    tied_ms, _ = cpu_ms(lambda: model.as_ours(most, problem))
    by_count = dict(enumerate(cost for cost, _ in costs)) | {most: cost}
    agree = (cost is None or abs(cost - choice.cost) < 0.01) and all(
        by_count[step.met] is None or abs(by_count[step.met] - step.choice.cost) < 0.011 for step in steps
    )
    print(
        f"{name:26} {len(problem.ways):5} {len(problem.asked):5} {ours_ms:9.1f} {theirs_ms:9.1f}"
        f" {theirs_ms / ours_ms:6.1f}{' ' if proven else '+'} {tied_ms:9.1f} {front_ms:9.1f} {other_ms:9.1f}"
        f" {other_ms / front_ms:6.1f}{'' if agree else ' THEY DIFFER'}{'' if choice.proven else ' unproven'}",
        flush=True,
    )


def problem_of(job: rehaul.Job) -> FeedProblem:
    """What is chosen from in a job."""
    scene, receivers = scene_of(job.house, job.country), receivers_of(job.house)
    return placing_of(job, scene, receivers, calibration_of(job, scene, standing_radiators(job))).problem


def problems() -> dict[str, Callable[[], FeedProblem]]:
    """All that is measured, by name, each made when it is asked for."""
    files = sorted(EXAMPLES.glob("*.rehaul.json"))
    makers: dict[str, Callable[[], FeedProblem]] = {"demo": lambda: problem_of(rehaul.demo())}
    for path in files:
        makers[path.name.split(".")[0]] = lambda path=path: problem_of(rehaul.load(path))
    for name in WHOLE_ROOMS:
        makers[f"{name[:4]} whole rooms"] = lambda name=name: in_whole_rooms(name)
    for sites, places in ((7, 150), (17, 300), (33, 600)):
        made = with_feeds(house(1, sites, places, blocky=True)[1], 1)
        makers[f"invented, {sites} sites"] = lambda made=made: made
    return makers


def in_whole_rooms(name: str) -> FeedProblem:
    """What is chosen from where rooms are asked for as a whole."""
    job = rehaul.load(EXAMPLES / f"{name}.rehaul.json")
    choices = job.choices.model_copy(update={"whole_rooms": True})
    return problem_of(job.model_copy(update={"choices": choices}))


def main() -> None:
    said = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    said.add_argument("--only", nargs="*", help="some of what is measured, by name", choices=problems())
    said.add_argument("--limit", type=float, default=20.0)
    asked = said.parse_args()
    solve_feeds(with_feeds(house(9, 6, 100)[1], 9))  # compile
    print(" " * 27, "ways asked   ours ms  HiGHS ms  ratio    tied ms  front ms  HiGHS ms  ratio")
    for name, made in problems().items():
        if not asked.only or name in asked.only:
            compared(name, made(), asked.limit)


if __name__ == "__main__":
    main()
