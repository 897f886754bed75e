"""Shortest route through places: exact, by subset tables for few and by integer programming for many."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations, pairwise

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array
from scipy.sparse.csgraph import connected_components

from rehaul.facts.trace_numbers import trace_number

_DP_STOPS = 11  # up to here the subset table is small and quick


@dataclass(frozen=True)
class Whereabouts:
    """Where something is: storey counted from the lowest, position on the sheet."""

    id: str
    storey: int
    x_m: float
    y_m: float


@dataclass(frozen=True)
class WalkRoute:
    """Stops in order, between start and end; `proven` if no shorter route exists."""

    stops: tuple[str, ...]
    length_m: float
    proven: bool


def walking_m(a: Whereabouts, b: Whereabouts, stairs: Sequence[tuple[float, float]] = ()) -> float:
    """Metres of level walking between two places, along the walls, by the best stairs where storeys differ.

    Without stairs given, they are taken to lie on the way. One storey counts as the table's metres.
    **Source**: docs/trace.md, "Walks".
    """
    level = abs(a.x_m - b.x_m) + abs(a.y_m - b.y_m)
    if a.storey == b.storey:
        return level
    if stairs:
        level = min(abs(a.x_m - x) + abs(a.y_m - y) + abs(b.x_m - x) + abs(b.y_m - y) for x, y in stairs)
    return level + abs(a.storey - b.storey) * trace_number("metres a storey")


def shortest_route(
    start: Whereabouts,
    stops: Sequence[Whereabouts],
    end: Whereabouts | None,
    stairs: Sequence[tuple[float, float]] = (),
) -> WalkRoute:
    """The shortest way from `start` through every stop to `end`, or to wherever it ends if None.

    **Source**: Held and Karp (1962) for few stops; for more, the integer program of
    Dantzig, Fulkerson and Johnson (1954) with rings cut off as they appear.
    """
    return _shortest_route(start, tuple(stops), end, tuple(stairs))


@lru_cache(maxsize=4096)
def _shortest_route(
    start: Whereabouts,
    stops: tuple[Whereabouts, ...],
    end: Whereabouts | None,
    stairs: tuple[tuple[float, float], ...],
) -> WalkRoute:
    if not stops:
        return WalkRoute((), walking_m(start, end, stairs) if end else 0.0, True)
    between = np.array([[walking_m(a, b, stairs) for b in stops] for a in stops])
    first = np.array([walking_m(start, stop, stairs) for stop in stops])
    last = np.array([walking_m(stop, end, stairs) if end else 0.0 for stop in stops])
    order, proven = (
        (_by_subsets(first, between, last), True)
        if len(stops) <= _DP_STOPS
        else _by_cuts(first, between, last)
    )
    length = float(first[order[0]] + last[order[-1]] + sum(between[a, b] for a, b in pairwise(order)))
    return WalkRoute(tuple(stops[k].id for k in order), length, proven)


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


def _by_cuts(
    first: NDArray[np.float64], between: NDArray[np.float64], last: NDArray[np.float64]
) -> tuple[list[int], bool]:
    """Round trip through start, stops and end with the way from end to start given for nothing.

    Every place has two ways; ways that fall into separate rings are cut off until one ring is left.
    """
    n = len(first)
    start, end = n, n + 1
    ways = [*combinations(range(n), 2), *((k, start) for k in range(n)), *((k, end) for k in range(n))]
    cost = np.array([between[a, b] for a, b in ways[: n * (n - 1) // 2]] + [*first, *last])
    touches = np.zeros((n + 2, len(ways)))
    for w, (a, b) in enumerate(ways):
        touches[a, w] = touches[b, w] = 1.0
    needed = np.array([2.0] * n + [1.0, 1.0])  # start and end have one way each besides the free one
    from scipy.optimize import Bounds, LinearConstraint, milp  # slow to load, rarely needed

    rules = [LinearConstraint(touches, needed, needed)]
    while True:
        found = milp(cost, integrality=np.ones(len(ways)), bounds=Bounds(0, 1), constraints=rules)
        used = [way for way, x in zip(ways, found.x, strict=True) if x > 0.5]
        rings = _rings([*used, (start, end)], n + 2)
        if len(rings) == 1:
            return _walk(used, start, end), bool(found.status == 0)
        for ring in rings:
            inside = np.array([float(a in ring and b in ring) for a, b in ways])
            most = len(ring) - 1 - (start in ring and end in ring)
            rules.append(LinearConstraint(inside[None, :], -np.inf, most))


def _rings(ways: Sequence[tuple[int, int]], size: int) -> list[set[int]]:
    rows, columns = zip(*ways, strict=True)
    graph = csr_array((np.ones(len(ways)), (rows, columns)), shape=(size, size))
    count, label = connected_components(graph, directed=False)
    return [set(np.flatnonzero(label == k).tolist()) for k in range(count)]


def _walk(used: Sequence[tuple[int, int]], start: int, end: int) -> list[int]:
    beside: dict[int, list[int]] = {}
    for a, b in used:
        beside.setdefault(a, []).append(b)
        beside.setdefault(b, []).append(a)
    order, before = [start], -1
    while order[-1] != end:
        here = order[-1]
        order.append(next(k for k in beside[here] if k != before))
        before = here
    return order[1:-1]
