"""One run of the general solver (HiGHS) on a program."""

from __future__ import annotations

from dataclasses import dataclass

import highspy
import numpy as np

from rehaul.design.coverage import BoolArray, FloatArray
from rehaul.design.feeding.program import Program
from rehaul.design.general import Quiet

OPTIMAL, IMPOSSIBLE, STOPPED = "optimal", "impossible", "stopped"
HALF_STEP = 0.4  # every objective is whole: two values differ by one at least


@dataclass(frozen=True)
class Outcome:
    """What a run found."""

    status: str
    values: FloatArray | None  # of every column; None where nothing was found
    bound: float  # proven for the objective
    nodes: int


@dataclass(frozen=True)
class Relaxed:
    """The program without wholeness."""

    value: float
    values: FloatArray
    reduced: FloatArray  # reduced costs


def run(
    program: Program, objective: FloatArray, time_limit_s: float, start: BoolArray | None = None
) -> Outcome:
    """Least `objective` (columns,) over the whole solutions."""
    if not len(objective):
        asked = any(least > 0 for _, _, least, _ in program.rows)
        return Outcome(IMPOSSIBLE if asked else OPTIMAL, None if asked else np.zeros(0), 0.0, 0)
    solver = _solver(program, objective, time_limit_s, whole=True)
    if start is not None:
        index = np.arange(len(start), dtype=np.int32)
        solver.setSolution(len(index), index, start.astype(np.float64))
    solver.run()
    info = solver.getInfo()
    status = solver.getModelStatus()
    found = info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
    kind = STOPPED
    if status == highspy.HighsModelStatus.kOptimal and found:
        kind = OPTIMAL
    elif status == highspy.HighsModelStatus.kInfeasible:
        kind = IMPOSSIBLE
    return Outcome(
        status=kind,
        values=np.asarray(solver.getSolution().col_value) if found else None,
        bound=float(info.mip_dual_bound),
        nodes=max(int(info.mip_node_count), 0),
    )


def relax(program: Program, objective: FloatArray, time_limit_s: float) -> Relaxed | None:
    """The same without wholeness; None where it was not solved."""
    solver = _solver(program, objective, time_limit_s, whole=False)
    solver.run()
    if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        return None
    solution = solver.getSolution()
    return Relaxed(
        value=float(solver.getInfo().objective_function_value),
        values=np.asarray(solution.col_value),
        reduced=np.asarray(solution.col_dual),
    )


def _solver(program: Program, objective: FloatArray, time_limit_s: float, *, whole: bool) -> highspy.Highs:
    solver = Quiet()  # type: ignore[no-untyped-call]
    for name, setting in (
        ("time_limit", max(time_limit_s, 0.01)),
        ("mip_rel_gap", 0.0),
        ("mip_abs_gap", HALF_STEP),
        ("threads", 1),
        ("random_seed", 0),
        ("mip_detect_symmetry", False),
        ("mip_allow_restart", False),
        ("mip_heuristic_effort", 0.0),
    ):
        solver.setOptionValue(name, setting)
    lengths = [len(columns) for columns, _, _, _ in program.rows]
    start = np.concatenate([[0], np.cumsum(lengths)]).astype(np.int32)
    index = np.concatenate([row[0] for row in program.rows] or [np.zeros(0, dtype=np.int64)]).astype(np.int32)
    value = np.concatenate([row[1] for row in program.rows] or [np.zeros(0)]).astype(np.float64)
    kinds = program.whole.astype(np.int32) if whole else np.zeros(len(program.low), dtype=np.int32)
    solver.passModel(
        len(program.low),
        len(lengths),
        len(index),
        int(highspy.MatrixFormat.kRowwise),
        int(highspy.ObjSense.kMinimize),
        0.0,
        objective,
        program.low,
        program.high,
        np.array([row[2] for row in program.rows], dtype=np.float64),
        np.array([row[3] for row in program.rows], dtype=np.float64),
        start[:-1],
        index,
        value,
        kinds,
    )
    return solver
