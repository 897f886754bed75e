"""One node of the search, compiled: rounds of rows until its bound is good enough or its point is whole.

Unknowns are ways, flags of what is met, resources and classes of switch, all from 0 to 1. Rows of the
program wait in a pool until a point breaks them. Coverage comes in as cuts, as in the search without feeds.
The bound is worked out afresh from the rows and their prices, so the simplex need not be trusted.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from rehaul.exact.cuts import CUT_LEAST, WHOLE_WITHIN
from rehaul.exact.feeding.covers import add_covers
from rehaul.exact.planes import Count, Planes
from rehaul.exact.simplex import (
    INFEASIBLE,
    OPTIMAL,
    Tableau,
    add_row,
    drop_slack_rows,
    duals,
    ray,
    resolve,
    restart,
)
from rehaul.exact.trail import DEPTH, KEEP, fix
from rehaul.kernels.loops import inner

MOST_ROUNDS = 300  # at one node
STALE_ROOT, STALE_BELOW = 8, 2  # rounds that gain little before branching
SPARE_ROWS = 60  # idle rows held before they are cleared
GAIN_LEAST = 2e-4  # of the bound; a round that gains less is stale
BROKEN_LEAST = 1e-6
EMPTY_BY = 1e-7  # rows are scaled to about one
CLOSED, TIED, WHOLE, OPEN = 0, 1, 2, 3  # what a node comes to


class Wood(NamedTuple):
    """What does not change during a search."""

    planes: Planes
    need: NDArray[np.int64]  # (requirements,) weight in steps
    worth: NDArray[np.float64]  # (columns,) the objective
    first: NDArray[np.int64]  # (pool + 1,) where the entries of a row begin
    column: NDArray[np.int64]
    entry: NDArray[np.float64]
    right: NDArray[np.float64]  # (pool,) row @ x >= right
    group: NDArray[np.int64]  # (ways,)
    uses: NDArray[np.bool_]  # (ways, resources + 1) what a way needs; the last is the switch
    resource: int  # column of the first resource
    alone: NDArray[np.float64]  # (asked, ways) share of what is asked that a way does alone
    unit: float  # two values of the objective differ by this at least
    error: float  # what rounding may add to a bound


class RoundNode(NamedTuple):
    """State and scratch that outlive one call, so that a search can pause."""

    tableau: Tableau
    trial: Tableau  # for looking ahead
    branch: NDArray[np.int64]  # (depth,) column
    side: NDArray[np.int64]  # (depth,) children opened
    upward: NDArray[np.bool_]  # (depth,) the first child takes the column
    trail: NDArray[np.int64]  # (columns,) columns fixed, in order
    entered: NDArray[np.int64]  # (depth,) length of the trail on entering
    mark: NDArray[np.int64]  # (depth,) length of the trail on branching
    bound: NDArray[np.float64]  # (depth,)
    numbers: NDArray[np.int64]  # see below
    limit: NDArray[np.float64]  # (1,) objective of the best choice
    best: NDArray[np.bool_]  # (ways,)
    price: NDArray[np.float64]  # (capacity,)
    red: NDArray[np.float64]  # (columns,) reduced costs
    row: NDArray[np.float64]  # (columns,)
    rise: NDArray[np.float64]  # (2, columns) sums of rises of the bound for a whole step down, up
    seen: NDArray[np.int64]  # (2, columns) how many of them


KNOWN, TYING = 5, 6  # places in `numbers`, after those of the trail


@inner
def safe_bound(wood: Wood, t: Tableau, price: NDArray[np.float64], red: NDArray[np.float64]) -> float:
    """Least objective that rows and bounds leave at these prices; `red` becomes the reduced costs.

    Parameters: `price` (capacity,), one for each row, negative ones left out; `red` (columns,), filled.

    **Validity**: holds for any prices: by weak duality, rows weighed into the objective and the rest taken
    at its best bound. **Source**: weak duality (Neumaier and Shcherbina 2004, abstract read); docs/exact.md,
    "Why it is exact".
    """
    columns = len(t.cost)
    for j in range(columns):
        red[j] = wood.worth[j]
    total = 0.0
    for k in range(t.size[0]):
        p = price[k]
        if p > 0.0:
            row = t.rows[k]
            for j in range(columns):
                red[j] -= p * row[j]
            total += p * t.right[k]
    for j in range(columns):
        total += red[j] * (t.low[j] if red[j] > 0.0 else t.high[j])
    return total


@inner
def empty(node: RoundNode, t: Tableau) -> bool:
    """True where the ray of an infeasible program proves, from the rows, that nothing fits.

    Parameters: `t`, a tableau for which `resolve` said INFEASIBLE.

    **Validity**: True is a proof, but for rounding below 1e-7 of a row; False says nothing. **Source**:
    Farkas' lemma.
    """
    columns = len(t.cost)
    ray(t, node.price)
    size = 0.0
    for k in range(t.size[0]):
        size = max(size, node.price[k])
    if size <= 0.0:
        return False
    node.row[:] = 0.0
    total = 0.0
    for k in range(t.size[0]):
        p = node.price[k] / size
        if p > 0.0:
            row = t.rows[k]
            for j in range(columns):
                node.row[j] -= p * row[j]
            total += p * t.right[k]
    for j in range(columns):
        total += node.row[j] * (t.low[j] if node.row[j] > 0.0 else t.high[j])
    return total > EMPTY_BY


@inner
def beyond(wood: Wood, node: RoundNode, bound: float) -> bool:
    """Nothing with this bound is as good as the best.

    **Validity**: on the safe side: what rounding may add to a bound is taken off it. **Source**:
    docs/exact.md, "Why it is exact": what rounding may add is taken off.
    """
    return bound > node.limit[0] + wood.error  # type: ignore[no-any-return]


@inner
def _no_better(wood, node, bound):  # type: ignore[no-untyped-def]
    """Nothing with this bound is better than the best; it may be as good."""
    return bound > node.limit[0] - wood.unit + wood.error


@inner
def _rule_out(wood, node, bound):  # type: ignore[no-untyped-def]
    """Fix every column that no choice as good as the best has otherwise."""
    t = node.tableau
    for j in range(len(t.cost)):
        if t.low[j] < t.high[j] and beyond(wood, node, bound + abs(node.red[j])):
            fix(node, j, 0.0 if node.red[j] > 0.0 else 1.0)


@inner
def _add_broken(wood, node):  # type: ignore[no-untyped-def]
    """Add the rows of the pool that the present point breaks; returns how many."""
    t = node.tableau
    added = 0
    for k in range(len(wood.right)):
        left = -wood.right[k]
        for e in range(wood.first[k], wood.first[k + 1]):
            left += wood.entry[e] * t.value[wood.column[e]]
        if left < -BROKEN_LEAST and t.size[0] < len(t.rows):
            node.row[:] = 0.0
            for e in range(wood.first[k], wood.first[k + 1]):
                node.row[wood.column[e]] = wood.entry[e]
            add_row(t, node.row, wood.right[k])
            added += 1
    return added


@inner
def _is_whole(x):  # type: ignore[no-untyped-def]
    for value in x:  # noqa: SIM110  compiled as a loop
        if WHOLE_WITHIN < value < 1.0 - WHOLE_WITHIN:
            return False
    return True


@inner
def _clear(node):  # type: ignore[no-untyped-def]
    t = node.tableau
    if t.size[0] > node.numbers[KEEP] + SPARE_ROWS:
        drop_slack_rows(t, node.numbers[KEEP])


@inner
def solved(t: Tableau, most_pivots: int) -> int:
    """Status of the simplex, started afresh where it got stuck or lost.

    Returns OPTIMAL, INFEASIBLE or STUCK of `exact.simplex`; at most eleven times `most_pivots` steps are
    taken. **Source**: dual simplex; docs/exact.md, "What the search does": small program.
    """
    status = resolve(t, most_pivots)
    if status != OPTIMAL:
        restart(t)
        status = resolve(t, 10 * most_pivots)
    return status  # type: ignore[no-any-return]


@inner
def work(wood: Wood, node: RoundNode, count: Count) -> int:
    """Bound one node; CLOSED, TIED, WHOLE or OPEN.

    Returns CLOSED where nothing as good is left, TIED where nothing better is, WHOLE where the point is a
    whole choice that no row or cut breaks, OPEN where there is something to branch on. Columns that no good
    choice has are fixed.

    **Validity**: by bounds worked out afresh from the rows (`safe_bound`), so that it does not hang on the
    simplex. **Source**: docs/exact.md, "What the search does": coverage as cuts, bound, ruling out.
    """
    t = node.tableau
    ways, groups, columns = len(wood.group), len(wood.need), len(t.cost)
    d = node.numbers[DEPTH]
    before, stale = -np.inf, 0
    _clear(node)
    for tries in range(MOST_ROUNDS):
        if tries % 8 == 7 or t.size[0] > len(t.rows) - SPARE_ROWS:
            _clear(node)
        status = solved(t, 50 + 4 * columns)
        duals(t, node.price)
        bound = safe_bound(wood, t, node.price, node.red)
        if bound > node.bound[d]:
            node.bound[d] = bound
        if status == INFEASIBLE and empty(node, t):
            return CLOSED
        if beyond(wood, node, node.bound[d]):
            return CLOSED
        _rule_out(wood, node, bound)
        if node.numbers[TYING] == 0 and _no_better(wood, node, node.bound[d]):
            return TIED
        x, flags = t.value[:ways], t.value[ways : ways + groups]
        added = _add_broken(wood, node)
        if _is_whole(x):
            added += add_covers(wood, t, count, np.rint(x), flags, node.row, 0.0)
            if added == 0 and _is_whole(t.value[:columns]):
                return WHOLE
        else:
            added += add_covers(wood, t, count, x, flags, node.row, CUT_LEAST)
        if added == 0:
            break
        stale = stale + 1 if bound < before + GAIN_LEAST * abs(before) else 0
        before = max(before, bound)
        if stale >= (STALE_ROOT if d == 0 else STALE_BELOW):
            break
    return OPEN
