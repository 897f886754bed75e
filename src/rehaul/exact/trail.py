"""The trail of a depth-first search, compiled: what was fixed, in order, so that it can be freed again.

A node is any tuple that has `tableau`, `trail` and `numbers`; the first places of `numbers` are these.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from rehaul.kernels.loops import compiled, inner

DEPTH, NODES, TRAIL, FRESH, KEEP = 0, 1, 2, 3, 4  # a search may have more after them


@inner
def fix(node: Any, column: int, value: float) -> None:
    """Fix a column at a value and note it, so that `undo_to` can free it.

    Parameters: `value`, 0 or 1. The trail has room for every column once: one that is fixed is not fixed
    again. **Source**: docs/exact.md, "What the search does": branching, depth first.
    """
    node.trail[node.numbers[TRAIL]] = column
    node.numbers[TRAIL] += 1
    node.tableau.low[column] = value
    node.tableau.high[column] = value


@inner
def take(node: Any, group: NDArray[np.int64], column: int, up: bool) -> None:
    """Fix a column at one, and the rest of its group at nought; or fix it at nought.

    Parameters: `group` (ways,), of the first columns; what lies beyond them has no group. **Source**:
    docs/exact.md, "The problem": one way in a group.
    """
    t = node.tableau
    fix(node, column, 1.0 if up else 0.0)
    if up and column < len(group):
        for other in range(len(group)):
            if group[other] == group[column] and t.low[other] < t.high[other]:
                fix(node, other, 0.0)


@compiled
def undo_to(node: Any, mark: int) -> None:
    """Free the columns that were fixed since the trail had this length.

    Freed columns may be from 0 to 1 again, whatever their bounds were before they were fixed. **Source**:
    docs/exact.md, "What the search does": branching, depth first.
    """
    t = node.tableau
    while node.numbers[TRAIL] > mark:
        node.numbers[TRAIL] -= 1
        column = node.trail[node.numbers[TRAIL]]
        t.low[column] = 0.0
        t.high[column] = 1.0
