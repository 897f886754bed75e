"""Exact least cost of one option per item, with a cost for each option and for each pair of items.

Depth first, the item with fewest good options next, cheapest option first; a branch is cut when its
cost plus the least each open item can still add is no better than the best plan known. Options that
nobody uses yet and that look alike to every open item are tried once.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True)
class Choice:
    """The options chosen, their cost, and whether the search proved it least."""

    options: tuple[int, ...]
    cost: int
    bound: int  # no choice costs less
    proved: bool
    nodes: int


def least_cost(
    alone: NDArray[np.int64],
    pair: NDArray[np.float64],
    share: NDArray[np.float64],
    *,
    node_limit: int = 2_000_000,
) -> Choice:
    """Choose one option for each item.

    Parameters
    ----------
    alone : (item, option) cost of an option by itself, whole numbers
    pair : (item, item) cost of two items whose options share everything, symmetric
    share : (option, option) part shared, 0 to 1, symmetric
    node_limit : partial choices to look at before the proof is given up

    Validity: any size; the proof may be given up, which `proved` says.
    Source: branch and bound with the sum of the open items' least costs as bound.
    """
    items, _ = alone.shape
    if items == 0:
        return Choice((), 0, 0, True, 0)
    search = _Search(np.rint(alone).astype(np.int64), pair, share, node_limit)
    search.run()
    assert search.best is not None
    proved = search.nodes <= node_limit
    return Choice(
        search.best, search.best_cost, search.best_cost if proved else search.root, proved, search.nodes
    )


class _Search:
    def __init__(
        self,
        alone: NDArray[np.int64],
        pair: NDArray[np.float64],
        share: NDArray[np.float64],
        node_limit: int,
    ) -> None:
        self.alone, self.pair, self.share, self.node_limit = alone, pair, share, node_limit
        self.twins = _twins(alone, share)
        self.best: tuple[int, ...] | None = None
        self.best_cost = np.iinfo(np.int64).max
        self.nodes = 0
        self.root = int(alone.min(axis=1).sum())

    def run(self) -> None:
        """Search from nothing chosen."""
        items = len(self.alone)
        self._descend([-1] * items, list(range(items)), self.alone.copy(), 0, frozenset())

    def _descend(
        self,
        chosen: list[int],
        open_items: list[int],
        due: NDArray[np.int64],
        cost: int,
        used: frozenset[int],
    ) -> None:
        """`due` holds, for each item and option, its own cost plus that against all chosen items."""
        if not open_items:
            if cost < self.best_cost:
                self.best, self.best_cost = tuple(chosen), cost
            return
        least = due[open_items].min(axis=1)
        rest = int(least.sum())
        # the item that will cost most, and of those the one most coupled, narrows the search soonest
        weight = self.pair[np.ix_(open_items, open_items)].sum(axis=1)
        place = max(range(len(open_items)), key=lambda p: (least[p], weight[p], -open_items[p]))
        item = open_items[place]
        remaining = open_items[:place] + open_items[place + 1 :]
        rest -= int(least[place])
        tried: set[int] = set()
        for option in np.argsort(due[item], kind="stable").tolist():
            total = cost + int(due[item, option])
            if total + rest >= self.best_cost:
                return  # options come cheapest first
            if option not in used:
                twin = self.twins[option]
                if twin in tried:
                    continue
                tried.add(twin)
            self.nodes += 1
            if self.nodes > self.node_limit and self.best is not None:
                return
            further = due.copy()
            if remaining:
                added = np.rint(self.pair[remaining, item][:, None] * self.share[option][None, :])
                further[remaining] += added.astype(np.int64)
            chosen[item] = option
            self._descend(chosen, remaining, further, total, used | self._touching(option))
            chosen[item] = -1

    def _touching(self, option: int) -> frozenset[int]:
        return frozenset(np.flatnonzero(self.share[option] > 0).tolist())


def _twins(alone: NDArray[np.int64], share: NDArray[np.float64]) -> list[int]:
    """For each option the first that may stand for it: same costs, and nothing else shared by either.

    Only options that overlap none but themselves are exchanged, so that swapping two of them leaves
    every cost as it was.
    """
    first: dict[bytes, int] = {}
    twins = []
    for option in range(share.shape[0]):
        lonely = np.count_nonzero(share[option]) == 1
        key = alone[:, option].tobytes() if lonely else option.to_bytes(8, "big") + b"own"
        twins.append(first.setdefault(key, option))
    return twins
