"""Shortest route through places: exact, by dynamic programming for few and by a circuit solver for many."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from ortools.sat.python import cp_model

from rehaul.facts.trace_numbers import trace_number

_DP_STOPS = 11  # up to here the subset table is small and quick
_EFFORT = 60.0  # solver's deterministic seconds: the same answer on every machine


@dataclass(frozen=True)
class Place:
    """Where something is: storey counted from the lowest, position on the sheet."""

    id: str
    storey: int
    x_m: float
    y_m: float


@dataclass(frozen=True)
class Route:
    """Stops in order, between start and end; `proven` if no shorter route exists."""

    stops: tuple[str, ...]
    length_m: float
    proven: bool


def walking_m(a: Place, b: Place, stairs: Sequence[tuple[float, float]] = ()) -> float:
    """Metres of level walking between two places, along the walls, by the best stairs where storeys differ.

    Without stairs given, they are taken to lie on the way. One storey counts as the table's metres.
    """
    level = abs(a.x_m - b.x_m) + abs(a.y_m - b.y_m)
    if a.storey == b.storey:
        return level
    if stairs:
        level = min(abs(a.x_m - x) + abs(a.y_m - y) + abs(b.x_m - x) + abs(b.y_m - y) for x, y in stairs)
    return level + abs(a.storey - b.storey) * trace_number("metres a storey")


def shortest_route(
    start: Place, stops: Sequence[Place], end: Place | None, stairs: Sequence[tuple[float, float]] = ()
) -> Route:
    """The shortest way from `start` through every stop to `end`, or to wherever it ends if None.

    **Source**: Held and Karp (1962) for few stops; a circuit constraint solved to optimality for more.
    """
    if not stops:
        return Route((), walking_m(start, end, stairs) if end else 0.0, True)
    between = np.array([[walking_m(a, b, stairs) for b in stops] for a in stops])
    first = np.array([walking_m(start, stop, stairs) for stop in stops])
    last = np.array([walking_m(stop, end, stairs) if end else 0.0 for stop in stops])
    order, proven = (
        (_by_subsets(first, between, last), True)
        if len(stops) <= _DP_STOPS
        else _by_circuit(first, between, last)
    )
    length = float(first[order[0]] + last[order[-1]] + sum(between[a, b] for a, b in pairwise(order)))
    return Route(tuple(stops[k].id for k in order), length, proven)


def _by_subsets(
    first: NDArray[np.float64], between: NDArray[np.float64], last: NDArray[np.float64]
) -> list[int]:
    n = len(first)
    best = np.full((1 << n, n), np.inf)
    came_from = np.zeros((1 << n, n), dtype=np.int64)
    for k in range(n):
        best[1 << k, k] = first[k]
    for subset in range(1, 1 << n):
        for k in range(n):
            if subset >> k & 1 and subset != 1 << k:
                reach = best[subset ^ 1 << k] + between[:, k]
                came_from[subset, k] = reach.argmin()
                best[subset, k] = reach[came_from[subset, k]]
    subset = (1 << n) - 1
    here = int((best[subset] + last).argmin())
    order = [here]
    while subset != 1 << here:
        subset, here = subset ^ 1 << here, int(came_from[subset, here])
        order.append(here)
    return order[::-1]


def _by_circuit(
    first: NDArray[np.float64], between: NDArray[np.float64], last: NDArray[np.float64]
) -> tuple[list[int], bool]:
    n = len(first)
    model = cp_model.CpModel()
    arcs, costs = [], []

    def arc(tail: int, head: int, cost_m: float) -> None:
        used = model.new_bool_var(f"{tail}-{head}")
        arcs.append((tail, head, used))
        costs.append((used, round(cost_m * 1000)))

    for k in range(n):
        arc(n, k, first[k])
        arc(k, n, last[k])
        for other in range(n):
            if other != k:
                arc(k, other, between[k, other])
    model.add_circuit(arcs)
    model.minimize(sum(cost * used for used, cost in costs))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.max_deterministic_time = _EFFORT
    status = solver.solve(model)
    follows = {tail: head for tail, head, used in arcs if solver.value(used)}
    order = [follows[n]]
    while follows[order[-1]] != n:
        order.append(follows[order[-1]])
    return order, status == cp_model.OPTIMAL
