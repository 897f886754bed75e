"""Five places, four options that serve some of them, and what is asked: small enough to follow by hand."""

from __future__ import annotations

from typing import Any

import numpy as np

from rehaul.exact import planes, simplex
from rehaul.exact.cuts import FREE, SearchTables
from rehaul.exact.planes import Count, count_for, planes_of
from rehaul.exact.simplex import Tableau, new_tableau


def array(*values: float) -> Any:
    return np.array(values, dtype=np.float64)


# Five places; options A serves 0 1 2, B 2 3, C 3 4, D 0. One asks for all five, weights 3 1 1 2 1; another
# for places 1 and 4, weight 5 each.
SERVES = np.array([[1, 1, 1, 0, 0], [0, 0, 1, 1, 0], [0, 0, 0, 1, 1], [1, 0, 0, 0, 0]], dtype=np.bool_)
WEIGHTS = np.array([[3, 1, 1, 2, 1], [0, 5, 0, 0, 5]], dtype=np.int64)
PLANES = planes_of(SERVES, WEIGHTS)


def counted(*x: float, of: Any = PLANES) -> Count:
    count = count_for(of, 2)
    planes.gains_at(of, count, array(*x))
    return count


def tables(
    cost: list[int], site: list[int], need: list[int], enough: int, must: list[int] | None = None
) -> Any:
    amounts = np.array(cost, dtype=np.int64)
    return SearchTables(
        planes=PLANES,
        need=np.array(need, dtype=np.int64),
        cost=amounts,
        site=np.array(site, dtype=np.int64),
        must=np.full(max(site) + 1, FREE, dtype=np.int8),
        by_cost=np.argsort(amounts, kind="stable"),
        enough=enough,
        step=1,
    )


SCENE = tables([100, 60, 70, 30], [0, 1, 2, 2], [8, 5], 2)


def small(costs: list[float], *rows: tuple[list[float], float], capacity: int = 8) -> Tableau:
    t = new_tableau(np.array(costs, dtype=np.float64), capacity)
    for row, right in rows:
        simplex.add_row(t, np.array(row, dtype=np.float64), right)
    return t
