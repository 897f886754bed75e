"""A small dual simplex for boxed variables under rows `a x >= b` that come one at a time.

Every structural variable has two bounds, so any basis is dual feasible once each nonbasic variable
stands at the bound its price asks for. After a bound moves or a row is added, `resolve` goes on from
where it stood. Dense and compiled; meant for tens of rows and a few hundred columns.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from rehaul.kernels.loops import compiled, inner

PIVOT_LEAST = 1e-9  # smaller entries are taken as zero
FEASIBLE_WITHIN = 1e-9  # rows are scaled to about one

OPTIMAL, INFEASIBLE, STUCK = 0, 1, 2


class Tableau(NamedTuple):
    """basic = constant + body @ nonbasic; ids below `columns` are structural, then one slack for each row."""

    body: NDArray[np.float64]  # (capacity, columns)
    constant: NDArray[np.float64]  # (capacity,)
    basic: NDArray[np.int64]  # (capacity,) id that each row stands for
    nonbasic: NDArray[np.int64]  # (columns,) id that each column stands for
    at_high: NDArray[np.bool_]  # (columns,) the nonbasic stands at its upper bound
    price: NDArray[np.float64]  # (columns,) cost of raising the nonbasic by one
    low: NDArray[np.float64]  # (columns + capacity,)
    high: NDArray[np.float64]  # (columns + capacity,)
    value: NDArray[np.float64]  # (columns + capacity,)
    rows: NDArray[np.float64]  # (capacity, columns) the rows as given
    right: NDArray[np.float64]  # (capacity,)
    cost: NDArray[np.float64]  # (columns,) slightly perturbed against ties
    size: NDArray[np.int64]  # rows in use, row that showed infeasibility


def new_tableau(cost: NDArray[np.float64], capacity: int, raised: float = 0.0) -> Tableau:
    """An empty tableau over `len(cost)` variables from 0 to 1.

    Parameters: `cost` (columns,); `capacity`, how many rows it may ever hold. Costs are raised, each by an
    amount of its own, so that bases seldom tie: by `raised` to twice that; where it is 0 by a ten-millionth
    or so of themselves, and none may be negative then.

    **Validity**: bounds taken from its prices have to be worked out afresh with the costs as they are.
    **Source**: costs raised against ties; docs/exact.md, "Beside a general solver": rates were lost in
    rounding.
    """
    columns = len(cost)
    spread = (np.arange(columns) * 0.6180339887498949) % 1.0
    if raised > 0.0:
        perturbed = cost + raised * (1.0 + spread)
    else:
        floor = 1e-7 * max(float(cost.max(initial=0.0)), 1.0)
        perturbed = np.maximum(cost, floor) * (1.0 + 1e-7 * spread)
    high = np.full(columns + capacity, np.inf)
    high[:columns] = 1.0
    return Tableau(
        body=np.zeros((capacity, columns)),
        constant=np.zeros(capacity),
        basic=np.zeros(capacity, dtype=np.int64),
        nonbasic=np.arange(columns, dtype=np.int64),
        at_high=np.zeros(columns, dtype=np.bool_),
        price=perturbed.copy(),
        low=np.zeros(columns + capacity),
        high=high,
        value=np.zeros(columns + capacity),
        rows=np.zeros((capacity, columns)),
        right=np.zeros(capacity),
        cost=perturbed,
        size=np.zeros(2, dtype=np.int64),
    )


def begin_with(t: Tableau, rows: NDArray[np.float64], right: NDArray[np.float64]) -> None:
    """Put the first rows, `rows @ x >= right`, into an empty tableau: their slacks are the basis.

    Parameters: `rows` (rows, columns), scaled to about one; `right` (rows,). What `add_row` would do one by
    one. **Source**: as `add_row`.
    """
    held = len(right)
    t.rows[:held] = t.body[:held] = rows
    t.right[:held], t.constant[:held] = right, -right
    t.basic[:held] = len(t.cost) + np.arange(held)
    t.size[0] = held


@compiled
def add_row(t: Tableau, row: NDArray[np.float64], right: float) -> None:
    """Add `row @ x >= right`; its slack enters the basis.

    Parameters: `row` (columns,), scaled to about one; `right`, a number. Where the new row is broken,
    `resolve` goes on from here. There must be room for it: nothing is checked. **Source**: dual simplex with
    bounds on both sides, any textbook, from memory; docs/exact.md, "Sources".
    """
    columns = len(t.cost)
    m = t.size[0]
    t.rows[m] = row
    t.right[m] = right
    body = t.body[m]
    constant = -right
    for j in range(columns):
        known = t.nonbasic[j]
        body[j] = row[known] if known < columns else 0.0
    for i in range(m):
        known = t.basic[i]
        if known < columns and row[known] != 0.0:
            factor = row[known]
            constant += factor * t.constant[i]
            for j in range(columns):
                body[j] += factor * t.body[i, j]
    t.constant[m] = constant
    t.basic[m] = columns + m
    t.low[columns + m] = 0.0
    t.high[columns + m] = np.inf
    t.size[0] = m + 1


@inner
def restart(t: Tableau) -> None:
    """Back to the basis of slacks, from the rows as given; sheds what rounding has built up.

    Bounds and rows stay; `resolve` then begins from the start. **Source**: dual simplex with bounds on both
    sides, any textbook, from memory; docs/exact.md, "Sources".
    """
    columns = len(t.cost)
    for j in range(columns):
        t.nonbasic[j] = j
        t.price[j] = t.cost[j]
    for i in range(t.size[0]):
        t.body[i] = t.rows[i]
        t.constant[i] = -t.right[i]
        t.basic[i] = columns + i


@compiled
def drop_slack_rows(t: Tableau, keep: int) -> int:
    """Forget the rows that do not bind, the first `keep` excepted; returns how many went.

    **Validity**: the point that the tableau stands at stays the best of what is left, since none of those
    rows held it. **Source**: dual simplex with bounds on both sides, any textbook, from memory;
    docs/exact.md, "Sources".
    """
    columns = len(t.cost)
    gone = 0
    k = keep
    while k < t.size[0]:
        place = -1
        for i in range(t.size[0]):
            if t.basic[i] == columns + k:
                place = i
                break
        if place < 0:
            k += 1
            continue
        last = t.size[0] - 1
        if place != last:
            t.body[place] = t.body[last]
            t.constant[place] = t.constant[last]
            t.basic[place] = t.basic[last]
        if k != last:  # the last row as given takes the free number
            t.rows[k] = t.rows[last]
            t.right[k] = t.right[last]
            t.value[columns + k] = t.value[columns + last]
            for i in range(last):
                if t.basic[i] == columns + last:
                    t.basic[i] = columns + k
            for j in range(columns):
                if t.nonbasic[j] == columns + last:
                    t.nonbasic[j] = columns + k
        t.size[0] = last
        gone += 1
    return gone


@inner
def _stand(t):  # type: ignore[no-untyped-def]
    """Put every nonbasic at the bound its price asks for and work out the basics."""
    columns = len(t.cost)
    for j in range(columns):
        known = t.nonbasic[j]
        t.at_high[j] = t.price[j] < 0.0 and t.high[known] < np.inf
        t.value[known] = t.high[known] if t.at_high[j] else t.low[known]
    for i in range(t.size[0]):
        total = t.constant[i]
        for j in range(columns):
            total += t.body[i, j] * t.value[t.nonbasic[j]]
        t.value[t.basic[i]] = total


@compiled
def resolve(t: Tableau, most_pivots: int) -> int:
    """Dual simplex from the present basis. Returns OPTIMAL, INFEASIBLE or STUCK.

    Parameters: `most_pivots`, after which it gives up as STUCK. Values of all variables are in `t.value`
    afterwards; where INFEASIBLE, `t.size[1]` is the row that shows it.

    **Validity**: to 1e-9, as rounding has it; nothing is proven by its word alone. **Source**: the dual
    simplex method with bounded variables, any textbook [memory].
    """
    columns = len(t.cost)
    m = t.size[0]
    _stand(t)
    for _ in range(most_pivots):
        leave, worst = -1, FEASIBLE_WITHIN
        for i in range(m):
            known = t.basic[i]
            off = max(t.low[known] - t.value[known], t.value[known] - t.high[known])
            if off > worst:
                leave, worst = i, off
        if leave < 0:
            return OPTIMAL
        going = t.basic[leave]
        rising = t.value[going] < t.low[going]
        enter, best_ratio, best_size = -1, np.inf, 0.0
        for j in range(columns):
            known = t.nonbasic[j]
            if t.low[known] == t.high[known]:
                continue
            entry = t.body[leave, j]
            size = abs(entry)
            if size <= PIVOT_LEAST or ((entry > 0.0) == rising) == t.at_high[j]:
                continue
            ratio = abs(t.price[j]) / size
            if ratio < best_ratio - 1e-12 or (ratio <= best_ratio + 1e-12 and size > best_size):
                enter, best_ratio, best_size = j, ratio, size
        if enter < 0:
            t.size[1] = leave
            return INFEASIBLE
        target = t.low[going] if rising else t.high[going]
        step = (target - t.value[going]) / t.body[leave, enter]
        coming = t.nonbasic[enter]
        for i in range(m):
            t.value[t.basic[i]] += t.body[i, enter] * step
        t.value[coming] += step
        t.value[going] = target
        t.at_high[enter] = not rising
        _pivot(t, leave, enter)
    return STUCK


@inner
def _pivot(t, leave, enter):  # type: ignore[no-untyped-def]
    columns = len(t.cost)
    pivot = t.body[leave, enter]
    row = t.body[leave]
    for j in range(columns):
        row[j] = -row[j] / pivot
    row[enter] = 1.0 / pivot
    t.constant[leave] = -t.constant[leave] / pivot
    for i in range(t.size[0]):
        factor = t.body[i, enter]
        if i != leave and factor != 0.0:
            body = t.body[i]
            body[enter] = 0.0
            for j in range(columns):
                body[j] += factor * row[j]
            t.constant[i] += factor * t.constant[leave]
    factor = t.price[enter]
    t.price[enter] = 0.0
    for j in range(columns):
        t.price[j] += factor * row[j]
    t.basic[leave], t.nonbasic[enter] = t.nonbasic[enter], t.basic[leave]


@compiled
def duals(t: Tableau, out: NDArray[np.float64]) -> None:
    """Price of each row as given, not negative, into `out` (capacity,).

    Rows that do not bind have 0. The places beyond the rows in use are left as they were. **Source**: dual
    simplex with bounds on both sides, any textbook, from memory; docs/exact.md, "Sources".
    """
    columns = len(t.cost)
    out[: t.size[0]] = 0.0
    for j in range(columns):
        known = t.nonbasic[j]
        if known >= columns:
            out[known - columns] = max(t.price[j], 0.0)


@inner
def ray(t: Tableau, out: NDArray[np.float64]) -> None:
    """Direction in which prices may rise without end where `resolve` said INFEASIBLE, into `out`.

    Not negative; 0 for rows that play no part. Only the signs of the row in `t.size[1]` are asked, so it has
    to be checked by whoever uses it. **Source**: Farkas' lemma, as in the CGAL 4.14 manual,
    `QP_solver/infeasibility_certificate.cpp` (docs/exact.md, "Sources").
    """
    columns = len(t.cost)
    out[: t.size[0]] = 0.0
    going = t.basic[t.size[1]]
    rising = t.value[going] < t.low[going]
    if going >= columns:
        out[going - columns] = 1.0
    for j in range(columns):
        known = t.nonbasic[j]
        if known >= columns:
            entry = t.body[t.size[1], j]
            out[known - columns] = max(-entry if rising else entry, 0.0)
