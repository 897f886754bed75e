"""Whole choices near a fractional one, compiled: an upper bound for the search."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from rehaul.exact.cuts import MUST, SearchTables, enough_met
from rehaul.exact.planes import Count, gains_at, served_at
from rehaul.exact.simplex import Tableau
from rehaul.kernels.loops import inner

WANTED = 0.45  # options with a larger share are taken first


@inner
def improve(
    scene: SearchTables,
    t: Tableau,
    count: Count,
    x: NDArray[np.float64],
    limit: int,
    best_choice: NDArray[np.bool_],
) -> int:
    """A whole choice near x: most wanted first, then by gain for money, then what is not needed goes.

    Where it costs less than `limit` it is written into `best_choice`. Returns the least of both costs.
    **Source**: docs/exact.md, "What the search does": early choices.
    """
    options = len(scene.cost)
    groups = len(scene.need)
    chosen = np.zeros(options, np.bool_)
    used = np.zeros(len(scene.must), np.bool_)
    spent = 0
    for _ in range(len(scene.must)):
        at, best = -1, 0.0
        for o in range(options):
            if x[o] > WANTED and not used[scene.site[o]] and t.high[o] == 1.0 and x[o] > best:
                at, best = o, x[o]
        if at < 0:
            break
        chosen[at] = True
        used[scene.site[at]] = True
    whole_x = np.zeros(options)
    while True:
        for o in range(options):
            whole_x[o] = 1.0 if chosen[o] else 0.0
        gains_at(scene.planes, count, whole_x)
        at, best = -1, 0.0
        if not enough_met(scene, count.whole):
            for o in range(options):
                if used[scene.site[o]] or t.high[o] == 0.0:
                    continue
                worth = 0.0
                for g in range(groups):
                    short = scene.need[g] - count.whole[g]
                    if short > 0 and t.high[options + g] > 0.0:
                        worth += min(count.gain[g, o], short) / scene.need[g]
                worth *= (1.0 + x[o]) / (scene.cost[o] + 1.0)
                if worth > best:
                    at, best = o, worth
        else:
            for o in range(options):  # a site that must hold something and does not yet: the cheapest
                s = scene.site[o]
                if scene.must[s] == MUST and not used[s] and t.high[o] == 1.0:
                    worth = 1.0 / (scene.cost[o] + 1.0)
                    if worth > best:
                        at, best = o, worth
            if at < 0:
                break
        if at < 0:
            return limit
        chosen[at] = True
        used[scene.site[at]] = True
    while True:  # let go the dearest that is not needed
        at = -1
        for o in range(options):
            if chosen[o] and scene.must[scene.site[o]] != MUST and (at < 0 or scene.cost[o] > scene.cost[at]):
                whole_x[o] = 0.0
                served_at(scene.planes, count, whole_x)
                whole_x[o] = 1.0
                if enough_met(scene, count.whole):
                    at = o
        if at < 0:
            break
        chosen[at] = False
        whole_x[at] = 0.0
    swap(scene, t, count, chosen)
    for o in range(options):
        if chosen[o]:
            spent += scene.cost[o]
    if spent >= limit:
        return limit
    best_choice[:] = chosen
    return spent


@inner
def swap(scene: SearchTables, t: Tableau, count: Count, chosen: NDArray[np.bool_]) -> None:
    """Change one option for a cheaper one, or for none, as long as what is asked stays met.

    Parameters: `chosen` (options,) a choice that does what is asked; changed in place, never to a dearer
    one.

    **Validity**: it ends where no exchange of one for one saves money, which need not be the cheapest
    choice. **Source**: docs/exact.md, "What the search does": early choices.
    """
    options = len(scene.cost)
    groups = len(scene.need)
    point = np.zeros(options)
    better = True
    while better:
        better = False
        best_saving, out, into = 0, -1, -1
        for o in range(options):
            if not chosen[o]:
                continue
            for q in range(options):
                point[q] = 1.0 if chosen[q] and q != o else 0.0
            gains_at(scene.planes, count, point)
            for q in range(options):
                saving = scene.cost[o] - scene.cost[q]
                if q == o or chosen[q] or t.high[q] == 0.0 or saving <= best_saving:
                    continue
                s = scene.site[q]
                clash = scene.must[scene.site[o]] == MUST and s != scene.site[o]
                for other in range(options):
                    if chosen[other] and other != o and scene.site[other] == s:
                        clash = True
                        break
                if clash:
                    continue
                met = 0
                for g in range(groups):
                    met += count.whole[g] + count.gain[g, q] >= scene.need[g]
                if met >= scene.enough:
                    best_saving, out, into = saving, o, q
        if out >= 0:
            chosen[out] = False
            chosen[into] = True
            better = True
