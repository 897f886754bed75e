"""The last one or two options of a choice, tried outright, compiled: where money is left for no more."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from rehaul.exact.cuts import MUST, SearchTables, enough_met
from rehaul.exact.planes import Count, gains_at, whole_with
from rehaul.exact.simplex import Tableau
from rehaul.kernels.loops import inner

MOST_PAIRS = 20_000  # beyond this, branching is cheaper than trying


@inner
def finish(
    scene: SearchTables,
    t: Tableau,
    count: Count,
    point: NDArray[np.float64],
    room: int,
    best: NDArray[np.bool_],
) -> int:
    """Try every way to end the choice of the fixed options with at most two more costing at most `room`.

    Returns -2 where more than two might fit or a pinned site is empty, so that nothing was tried; -1 where
    nothing does what is asked; else the least that has to be added, the choice written into `best`.
    **Source**: docs/exact.md, "What the search does": places alone, all pairs are tried.
    """
    options = len(scene.cost)
    used = np.zeros(len(scene.must), np.bool_)
    for o in range(options):
        point[o] = t.low[o]
        if t.low[o] == 1.0:
            used[scene.site[o]] = True
    for s in range(len(used)):
        if scene.must[s] == MUST and not used[s]:
            return -2
    order = np.empty(options, np.int64)
    m = 0
    for i in range(options):
        o = scene.by_cost[i]
        if t.low[o] < t.high[o] and scene.cost[o] <= room:
            order[m] = o
            m += 1
    if m >= 3 and scene.cost[order[0]] + scene.cost[order[1]] + scene.cost[order[2]] <= room:
        return -2
    if m * (m - 1) // 2 > MOST_PAIRS:
        return -2
    gains_at(scene.planes, count, point)
    base = np.empty(len(scene.need), np.int64)
    base[:] = count.whole
    found, first, second = -1, -1, -1
    if enough_met(scene, base):
        found, room = 0, -1
    for i in range(m):
        a = order[i]
        if scene.cost[a] > room:
            break
        if _may(scene, count, base, a, -1):
            whole_with(scene.planes, count, a, -1)
            if enough_met(scene, count.whole):
                found, first, second, room = scene.cost[a], a, -1, scene.cost[a] - 1
                break
    for i in range(m):
        a = order[i]
        if i + 1 < m and scene.cost[a] + scene.cost[order[i + 1]] > room:
            break
        for j in range(i + 1, m):
            b = order[j]
            total = scene.cost[a] + scene.cost[b]
            if total > room:
                break
            if scene.site[a] != scene.site[b] and _may(scene, count, base, a, b):
                whole_with(scene.planes, count, a, b)
                if enough_met(scene, count.whole):
                    found, first, second, room = total, a, b, total - 1
                    break
    if found >= 0:
        best[:] = point > 0.5
        if first >= 0:
            best[first] = True
        if second >= 0:
            best[second] = True
    return found


@inner
def _may(scene, count, base, a, b):  # type: ignore[no-untyped-def]
    """Whether the gains of both, counted apart, reach enough needs."""
    spare = len(scene.need) - scene.enough
    for g in range(len(scene.need)):
        reach = base[g] + count.gain[g, a]
        if b >= 0:
            reach += count.gain[g, b]
        if reach < scene.need[g]:
            spare -= 1
            if spare < 0:
                return False
    return True
