"""Branch and bound over options, compiled: cuts into a small linear program, safe bounds, depth first.

The unknowns are the options and one flag for each requirement. The prices of the small program give,
worked out afresh from the cuts, a bound that does not depend on the rounding of the simplex; they also
fix options that no better choice can hold.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from rehaul.exact.covering.finish import finish
from rehaul.exact.covering.nearby import improve
from rehaul.exact.cuts import (
    CUT_LEAST,
    MUST,
    WHOLE_WITHIN,
    SearchTables,
    add_cuts,
    add_site_rows,
    enough_met,
    safe_bound,
)
from rehaul.exact.planes import Count
from rehaul.exact.simplex import (
    INFEASIBLE,
    OPTIMAL,
    Tableau,
    drop_slack_rows,
    duals,
    ray,
    resolve,
    restart,
)
from rehaul.exact.trail import DEPTH, FRESH, KEEP, NODES, TRAIL, fix, take, undo_to
from rehaul.kernels.loops import compiled, inner

MOST_TRIES = 400  # rounds of cuts at one node
SPARE_ROWS = 60  # the small program is cleared of idle rows when it holds this many more than it must
HAIR = 1e-3  # hundredths; costs are whole


class SearchNode(NamedTuple):
    """State and scratch that outlive one call, so that a search can pause."""

    tableau: Tableau
    branch: NDArray[np.int64]  # (depth,) variable
    side: NDArray[np.int64]  # (depth,) children opened; DONE where there is nothing to branch on
    trail: NDArray[np.int64]  # (columns,) variables fixed, in order
    entered: NDArray[np.int64]  # (depth,) length of the trail on entering
    mark: NDArray[np.int64]  # (depth,) length of the trail on branching
    bound: NDArray[np.float64]  # (depth,) proven bound of each node on the way down
    best: NDArray[np.bool_]  # (options,)
    numbers: NDArray[np.int64]  # see below
    price: NDArray[np.float64]  # (capacity,)
    red: NDArray[np.float64]  # (columns,) reduced costs
    contrib: NDArray[np.float64]  # (sites,)
    pick: NDArray[np.int64]  # (sites,)
    flag_at: NDArray[np.bool_]  # (groups,)
    row: NDArray[np.float64]  # (columns,)
    point: NDArray[np.float64]  # (options,)
    trial: NDArray[np.bool_]  # (options,)
    has_row: NDArray[np.bool_]  # (sites,)


COST = 5  # place in `numbers`, after those of the trail
DONE = 2


@compiled
def run(scene: SearchTables, node: SearchNode, count: Count, most_nodes: int, rounds: int) -> bool:
    """Go on with the search for at most `most_nodes` nodes. True when nothing is left open.

    Parameters: `node`, state that outlives the call; `count`, scratch (`count_for`); `rounds` of cuts at a
    node below the root besides the first.

    **Validity**: what is left in `node` is the best so far and, in `bound`, what is proven of each open
    node; after True nothing is cheaper than the best. **Source**: docs/exact.md.
    """
    last = node.numbers[NODES] + most_nodes
    while node.numbers[DEPTH] >= 0:
        d = node.numbers[DEPTH]
        if node.numbers[FRESH] == 1:
            if node.numbers[NODES] >= last:
                return False
            node.numbers[NODES] += 1
            node.numbers[FRESH] = 0
            node.entered[d] = node.numbers[TRAIL]
            node.branch[d] = _work(scene, node, count, d, rounds)
            node.mark[d] = node.numbers[TRAIL]
            node.side[d] = 0 if node.branch[d] >= 0 else DONE
        if node.side[d] == DONE:
            undo_to(node, node.entered[d])
            node.numbers[DEPTH] = d - 1
        else:
            undo_to(node, node.mark[d])
            node.side[d] += 1
            take(node, scene.site, node.branch[d], node.side[d] == 1)
            node.bound[d + 1] = node.bound[d]
            node.numbers[DEPTH] = d + 1
            node.numbers[FRESH] = 1
    return True


@inner
def _target(scene, node):  # type: ignore[no-untyped-def]
    """A bound above this rules out everything cheaper than the best: the next lower cost, and a hair."""
    return (node.numbers[COST] - 1) // scene.step * scene.step + HAIR


@inner
def _work(scene, node, count, d, rounds):  # type: ignore[no-untyped-def]
    """Bound one node with rounds of cuts. Returns the variable to branch on, -1 where it is closed."""
    t = node.tableau
    options = len(scene.cost)
    columns = len(t.cost)
    best_bound = -np.inf
    stale = 0
    if t.size[0] > node.numbers[KEEP] + SPARE_ROWS:
        _clear(node)
    for tries in range(MOST_TRIES):
        if tries % 8 == 7 or t.size[0] > len(t.rows) - len(scene.need) - len(scene.must):
            _clear(node)
        status = resolve(t, 50 + 4 * columns)
        if status != OPTIMAL:
            restart(t)
            status = resolve(t, 400 + 20 * columns)
        duals(t, node.price)
        bound = safe_bound(scene, t, node.price, node.red, node.flag_at, node.contrib, node.pick)
        node.bound[d] = max(node.bound[d], bound)
        if bound > _target(scene, node) or (status == INFEASIBLE and _nothing_fits(scene, node)):
            return -1
        _rule_out(scene, node, bound)
        if tries == 0 and _finished(scene, node, count):
            return -1
        x, flags = t.value[:options], t.value[options:columns]
        added = add_site_rows(scene, t, node.row, node.has_row)
        if _is_whole(x):
            added += add_cuts(scene, t, count, np.rint(x), flags, node.row, 0.0)
            _note(scene, node, count, x)
            if bound > _target(scene, node):
                return -1
        else:
            if d == 0 and tries % 8 == 4:
                limit = node.numbers[COST]
                node.numbers[COST] = improve(scene, t, count, x, limit, node.best)
            added += add_cuts(scene, t, count, x, flags, node.row, CUT_LEAST)
            stale = stale + 1 if bound < best_bound * (1.0 + 1e-4) + 0.02 * scene.step else 0
            best_bound = max(best_bound, bound)
            if (stale >= 8) if d == 0 else (tries >= rounds or stale >= 3):
                break
        if added == 0:
            break
    return _most_open(scene, t)


@inner
def _finished(scene, node, count):  # type: ignore[no-untyped-def]
    """True where what is left to choose could be tried outright; the best is kept."""
    t = node.tableau
    spent = 0
    for o in range(len(scene.cost)):
        if t.low[o] == 1.0:
            spent += scene.cost[o]
    room = (node.numbers[COST] - 1) // scene.step * scene.step - spent
    more = finish(scene, t, count, node.point, room, node.trial)
    if more >= 0:
        node.numbers[COST] = spent + more
        node.best[:] = node.trial
    return more > -2


@inner
def _clear(node):  # type: ignore[no-untyped-def]
    t = node.tableau
    if t.size[0] > node.numbers[KEEP] + SPARE_ROWS:
        drop_slack_rows(t, node.numbers[KEEP])
        node.has_row[:] = False


@inner
def _rule_out(scene, node, bound):  # type: ignore[no-untyped-def]
    """Fix at nought every option that no better choice can hold."""
    t = node.tableau
    for o in range(len(scene.cost)):
        rest = node.contrib[scene.site[o]]
        if t.low[o] < t.high[o] and rest < np.inf and bound - rest + node.red[o] > _target(scene, node):
            fix(node, o, 0.0)


@inner
def _is_whole(x):  # type: ignore[no-untyped-def]
    for value in x:  # noqa: SIM110  compiled as a loop
        if WHOLE_WITHIN < value < 1.0 - WHOLE_WITHIN:
            return False
    return True


@inner
def _note(scene, node, count, x):  # type: ignore[no-untyped-def]
    """Keep the whole choice x if it does what is asked (`count` stands at x) and is the best so far."""
    used = np.zeros(len(scene.must), np.int64)
    cost = 0
    for o in range(len(x)):
        if x[o] > 0.5:
            used[scene.site[o]] += 1
            cost += scene.cost[o]
    for s in range(len(used)):
        if used[s] > 1 or (scene.must[s] == MUST and used[s] == 0):
            return
    if cost < node.numbers[COST] and enough_met(scene, count.whole):
        node.numbers[COST] = cost
        for o in range(len(x)):
            node.best[o] = x[o] > 0.5


@inner
def _most_open(scene, t):  # type: ignore[no-untyped-def]
    """The variable furthest from whole, dear options first; -1 where all are fixed."""
    best, variable = -1.0, -1
    for j in range(len(t.cost)):
        if t.low[j] < t.high[j]:
            off = min(t.value[j], 1.0 - t.value[j])
            if j < len(scene.cost):
                off *= scene.cost[j]
            if off > best:
                best, variable = off, j
    return variable


@inner
def _nothing_fits(scene, node):  # type: ignore[no-untyped-def]
    """True where the ray of an infeasible program proves, from the cuts, that no better choice is left."""
    t = node.tableau
    away = np.zeros(len(node.price))
    ray(t, away)
    size = 0.0
    for k in range(t.size[0]):
        size = max(size, away[k])
    if size <= 0.0:
        return False
    reach = node.numbers[COST] / size
    steep = np.zeros(len(node.price))
    for _ in range(12):
        for k in range(t.size[0]):
            steep[k] = node.price[k] + reach * away[k]
        bound = safe_bound(scene, t, steep, node.red, node.flag_at, node.contrib, node.pick)
        if bound > _target(scene, node):
            return True
        reach *= 8.0
    return False
