"""Exact answers from the solver: every choice it returns is checked in whole numbers.

The solver works to a tolerance. Where a choice it takes for good breaks a limit or falls short by less than
that, a row that all good choices keep and this one breaks is added, and it looks again.
"""

from __future__ import annotations

import time
from dataclasses import dataclass

import numpy as np

from rehaul.design.coverage import FloatArray, IntArray
from rehaul.design.feeding.engine import IMPOSSIBLE, OPTIMAL, STOPPED, run
from rehaul.design.feeding.figures import Tally
from rehaul.design.feeding.program import INFINITY, Program, Row


@dataclass(frozen=True)
class Found:
    """The best choice found; `bound` is proven for what was asked to be least."""

    status: str
    tally: Tally | None
    bound: float
    nodes: int

    @property
    def proven(self) -> bool:
        """Nothing is left to look for."""
        return self.status in (OPTIMAL, IMPOSSIBLE)


class Clock:
    """What is left of a limit of time."""

    def __init__(self, limit_s: float) -> None:
        self.end = time.perf_counter() + limit_s

    @property
    def left_s(self) -> float:
        """Seconds, not below nought."""
        return max(self.end - time.perf_counter(), 0.0)


def search(
    program: Program,
    objective: FloatArray,
    clock: Clock,
    *,
    most_cost: int | None = None,
    least_rate: int = 0,
) -> Found:
    """Least `objective` (columns,) over choices of the program, within a cost and from a rate on."""
    core = program.core
    nodes = 0
    while True:
        outcome = run(program, objective, clock.left_s)
        nodes += outcome.nodes
        if outcome.values is None:
            return Found(outcome.status, None, outcome.bound, nodes)
        tally = core.figures.tally(ways_of(program, outcome.values))
        broken = _rows_broken(program, tally, outcome.values, most_cost, least_rate)
        if not broken:
            return Found(outcome.status, tally, outcome.bound, nodes)
        if outcome.status == STOPPED:
            return Found(STOPPED, None, outcome.bound, nodes)
        for row in broken:
            program.add(*row)


def ways_of(program: Program, values: FloatArray) -> list[int]:
    """The ways, as numbered by the figures, that these values choose."""
    return program.core.ways[values[: program.ways] > 0.5].tolist()  # type: ignore[no-any-return]


def _rows_broken(
    program: Program,
    tally: Tally,
    values: FloatArray,
    most_cost: int | None,
    least_rate: int,
) -> list[Row]:
    """Rows that every good choice keeps and this one breaks; none where it is good."""
    core = program.core
    chosen = np.isin(core.ways, tally.ways)
    rows: list[Row] = []

    def one_more_of(columns: IntArray, met: int | None = None) -> None:
        one = np.ones(len(columns))
        if met is None:
            rows.append((columns, one, 1.0, INFINITY))
        else:
            rows.append((np.append(columns, met), np.append(one, -1.0), 0.0, INFINITY))

    if not tally.fits or (most_cost is not None and tally.cost > most_cost):
        taken = np.flatnonzero(chosen)  # whatever holds all of these breaks the same limit
        rows.append((taken, np.ones(len(taken)), -INFINITY, len(taken) - 1.0))
    if tally.rate < least_rate:
        one_more_of(np.flatnonzero(~chosen))
    open_rows = ~core.rows[:, chosen].any(axis=1)
    for asked, met in enumerate(tally.met):
        column = program.ways + asked
        if met or values[column] < 0.5:
            continue
        if asked < len(core.short):
            adds = core.rows[open_rows & (core.weights[asked] > 0)].any(axis=0)
        else:
            adds = core.figures.counts[asked - len(core.short), core.ways] > 0
        one_more_of(np.flatnonzero(adds & ~chosen), column)
    return rows
