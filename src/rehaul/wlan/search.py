"""Exact least cost of one option per item, with a cost for each option and for each pair of items.

A good plan is first found by greedy choice and moves of one and two items. Then depth first: the item
that will cost most next, its cheapest option first; a branch is cut when its cost plus the least each
open item can still add is no better than the best plan known. Options that look alike to every open
item are tried once.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Costs = NDArray[np.int64]


@dataclass(frozen=True)
class Choice:
    """The options chosen, their cost, and whether the search proved it least."""

    options: tuple[int, ...]
    cost: int
    bound: int  # no choice costs less
    proved: bool
    nodes: int


def least_cost(alone: Costs, pair: Costs, share: NDArray[np.float64], *, node_limit: int = 50_000) -> Choice:
    """Choose one option for each item.

    Parameters
    ----------
    alone : (item, option) cost of an option by itself, whole numbers, 0 or more
    pair : (item, item) cost of two items whose options share everything, whole, symmetric, 0 or more
    share : (option, option) part shared, 0 to 1, symmetric, 1 on the diagonal
    node_limit : partial choices to look at before the proof is given up

    Returns
    -------
    the choice; of equal ones always the same

    Validity: any size; the proof may be given up, which `proved` says.
    Source: branch and bound with the sum of the open items' least costs as bound.
    """
    if len(alone) == 0:
        return Choice((), 0, 0, True, 0)
    search = _Search(alone, pair, share, node_limit)
    search.run()
    proved = search.nodes <= node_limit
    bound = search.best_cost if proved else int(alone.min(axis=1).sum())
    return Choice(search.best, search.best_cost, bound, proved, search.nodes)


class _Search:
    def __init__(self, alone: Costs, pair: Costs, share: NDArray[np.float64], node_limit: int) -> None:
        self.alone, self.pair, self.share, self.node_limit = alone, pair, share, node_limit
        self.twins = _twins(alone, share)
        self.touching = [frozenset(np.flatnonzero(row > 0).tolist()) for row in share]
        self.nodes = 0
        self.best = _good_start(alone, pair, share)
        self.best_cost = _cost(self.best, alone, pair, share)

    def run(self) -> None:
        """Search from nothing chosen."""
        items = len(self.alone)
        self._descend([-1] * items, list(range(items)), self.alone.copy(), 0, frozenset())

    def _descend(
        self, chosen: list[int], open_items: list[int], due: Costs, cost: int, used: frozenset[int]
    ) -> None:
        """`due` holds, for each item and option, its own cost plus that against all chosen items."""
        if not open_items:
            self.best, self.best_cost = tuple(chosen), cost  # only better ones come this far
            return
        least = due[open_items].min(axis=1)
        weight = self.pair[np.ix_(open_items, open_items)].sum(axis=1)
        place = max(range(len(open_items)), key=lambda p: (least[p], weight[p], -open_items[p]))
        item = open_items[place]
        remaining = open_items[:place] + open_items[place + 1 :]
        rest = int(least.sum() - least[place])
        tried: set[int] = set()
        for option in np.argsort(due[item], kind="stable").tolist():
            total = cost + int(due[item, option])
            if total + rest >= self.best_cost or self.nodes > self.node_limit:
                return  # options come cheapest first
            if option not in used:
                twin = self.twins[option]
                if twin in tried:
                    continue
                tried.add(twin)
            self.nodes += 1
            further = due.copy()
            further[remaining] += _against(self.pair[remaining, item], self.share[option])
            chosen[item] = option
            self._descend(chosen, remaining, further, total, used | self.touching[option])
            chosen[item] = -1


def _against(pair: Costs, share: NDArray[np.float64]) -> Costs:
    """(item, option) cost against one item whose option shares `share` with each option."""
    return np.rint(pair[:, None] * share[None, :]).astype(np.int64)


def _cost(options: tuple[int, ...], alone: Costs, pair: Costs, share: NDArray[np.float64]) -> int:
    chosen = np.array(options)
    together = np.rint(pair * share[np.ix_(chosen, chosen)]).astype(np.int64)
    return int(alone[np.arange(len(chosen)), chosen].sum() + np.triu(together, 1).sum())


def _good_start(alone: Costs, pair: Costs, share: NDArray[np.float64]) -> tuple[int, ...]:
    """Greedy, the most coupled item first; then the best single moves and swaps until none helps."""
    items = len(alone)
    due = alone.copy()
    chosen = [-1] * items
    for item in sorted(range(items), key=lambda i: (-int(pair[i].sum()), i)):
        chosen[item] = int(due[item].argmin())
        due += _against(pair[:, item], share[chosen[item]])
    best, cost = tuple(chosen), _cost(tuple(chosen), alone, pair, share)
    while True:
        candidate = min(
            _moves(best, alone, pair, share), key=lambda plan: (_cost(plan, alone, pair, share), plan)
        )
        lower = _cost(candidate, alone, pair, share)
        if lower >= cost:
            return best
        best, cost = candidate, lower


def _moves(
    plan: tuple[int, ...], alone: Costs, pair: Costs, share: NDArray[np.float64]
) -> list[tuple[int, ...]]:
    """The plan with one item at its best option, or with two items swapped; itself at the least."""
    found = [plan]
    for item in range(len(plan)):
        others = [i for i in range(len(plan)) if i != item]
        due = alone[item].copy()
        for other in others:
            due += _against(pair[item : item + 1, other], share[plan[other]])[0]
        found.append((*plan[:item], int(due.argmin()), *plan[item + 1 :]))
        for other in range(item):
            swapped = list(plan)
            swapped[item], swapped[other] = plan[other], plan[item]
            found.append(tuple(swapped))
    return found


def _twins(alone: Costs, share: NDArray[np.float64]) -> list[int]:
    """For each option the first that may stand for it: same costs, and sharing with none but itself.

    Swapping two such options leaves every cost as it was, so long as nobody uses either.
    """
    first: dict[bytes, int] = {}
    twins = []
    for option in range(share.shape[0]):
        lonely = np.count_nonzero(share[option]) == 1
        key = alone[:, option].tobytes() if lonely else b"own" + option.to_bytes(8, "big")
        twins.append(first.setdefault(key, option))
    return twins
