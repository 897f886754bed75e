"""Exact least cost of one option per item, with a cost for each option and for each pair of items.

Depth first: the item that will cost most next, its cheapest option first. A branch is cut when its
cost plus the least each open item can still add is no better than the best plan known. Two kinds of
likeness are tried once only: options that may be exchanged without any open item noticing, and open
items that may be exchanged with the one being placed.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rehaul.wlan.nesting import Nesting

PairCosts = NDArray[np.int64]
Shares = NDArray[np.float64]
NEVER = np.int64(1) << 60


@dataclass(frozen=True)
class Picked:
    """The options chosen, their cost, and whether the search proved it least."""

    options: tuple[int, ...]
    cost: int
    bound: int  # no choice costs less
    proved: bool
    nodes: int


def least_cost(alone: PairCosts, pair: PairCosts, share: Shares, *, node_limit: int = 30_000) -> Picked:
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

    Validity: any size; the proof may be given up, which `proved` says. The sum of all costs stays
    below 2⁶⁰.
    Source: branch and bound with the sum of the open items' least costs as bound; docs/wlan.md, "Channels".
    """
    if len(alone) == 0:
        return Picked((), 0, 0, True, 0)
    nesting = Nesting(share)
    start = _good_start(alone, pair, share, nesting, node_limit)
    search = _Search(alone, pair, share, nesting, start, node_limit)
    proved = search.nodes <= node_limit
    bound = search.best_cost if proved else int(alone.min(axis=1).sum())
    return Picked(search.best, search.best_cost, bound, proved, search.nodes)


class _Search:
    def __init__(
        self,
        alone: PairCosts,
        pair: PairCosts,
        share: Shares,
        nesting: Nesting,
        start: tuple[int, ...],
        node_limit: int,
    ) -> None:
        self.pair, self.share, self.nesting, self.node_limit = pair, share, nesting, node_limit
        self.best, self.best_cost = start, _cost(start, alone, pair, share)
        self.nodes = 0
        items = len(alone)
        self._descend([-1] * items, list(range(items)), alone.copy(), 0)

    def _descend(self, chosen: list[int], open_items: list[int], due: PairCosts, cost: int) -> None:
        """`due` holds, for each item and option, its own cost plus that against all chosen items."""
        if not open_items:
            self.best, self.best_cost = tuple(chosen), cost  # only better ones come this far
            return
        least = due[open_items].min(axis=1)
        weight = self.pair[np.ix_(open_items, open_items)].sum(axis=1)
        place = max(range(len(open_items)), key=lambda p: (least[p], weight[p], -open_items[p]))
        if cost + int(least.sum()) >= self.best_cost:
            return
        item = open_items[place]
        remaining = open_items[:place] + open_items[place + 1 :]
        rest = int(least.sum() - least[place])
        orbits = self.nesting.orbits(due[open_items])
        twins = self._twins(item, remaining, due)
        tried: set[int] = set()
        for option in np.argsort(due[item], kind="stable").tolist():
            total = cost + int(due[item, option])
            if total + rest >= self.best_cost or self.nodes > self.node_limit:
                return  # options come cheapest first
            if orbits[option] in tried:
                continue
            self.nodes += 1
            further = due.copy()
            further[remaining] += _against(self.pair[remaining, item], self.share[option])
            if twins and tried:  # a twin there is this item there, which has been tried
                further[np.ix_(np.array(twins), np.isin(orbits, list(tried)))] = NEVER
            tried.add(int(orbits[option]))
            chosen[item] = option
            self._descend(chosen, remaining, further, total)
            chosen[item] = -1

    def _twins(self, item: int, remaining: list[int], due: PairCosts) -> list[int]:
        """Open items with the same costs as `item`, alone and against every other open item."""
        alike = []
        for other in remaining:
            rest = [third for third in remaining if third != other]
            same_alone = np.array_equal(due[item], due[other])
            if same_alone and np.array_equal(self.pair[item, rest], self.pair[other, rest]):
                alike.append(other)
        return alike


def _against(pair: PairCosts, share: Shares) -> PairCosts:
    """(item, option) cost against one item whose option shares `share` with each option."""
    return np.rint(pair[:, None] * share[None, :]).astype(np.int64)


def _cost(options: tuple[int, ...], alone: PairCosts, pair: PairCosts, share: Shares) -> int:
    chosen = np.array(options)
    together = np.rint(pair * share[np.ix_(chosen, chosen)]).astype(np.int64)
    return int(alone[np.arange(len(chosen)), chosen].sum() + np.triu(together, 1).sum())


def _good_start(
    alone: PairCosts, pair: PairCosts, share: Shares, nesting: Nesting, node_limit: int
) -> tuple[int, ...]:
    """The better of two plans: greedy among all options, and exact among the innermost ones only.

    The innermost options get in each other's way least; from there single moves widen what can be.
    """
    starts = [_greedy(alone, pair, share)]
    innermost = np.array(nesting.innermost)
    if len(innermost) < alone.shape[1]:
        inner = least_cost(
            alone[:, innermost], pair, share[np.ix_(innermost, innermost)], node_limit=node_limit // 10
        )
        starts.append(tuple(innermost[list(inner.options)].tolist()))
    moved = [_improved(start, alone, pair, share) for start in starts]
    return min(moved, key=lambda plan: _cost(plan, alone, pair, share))


def _greedy(alone: PairCosts, pair: PairCosts, share: Shares) -> tuple[int, ...]:
    """The most coupled item first, each at its cheapest option."""
    due = alone.copy()
    chosen = [-1] * len(alone)
    for item in sorted(range(len(alone)), key=lambda i: (-int(pair[i].sum()), i)):
        chosen[item] = int(due[item].argmin())
        due += _against(pair[:, item], share[chosen[item]])
    return tuple(chosen)


def _improved(plan: tuple[int, ...], alone: PairCosts, pair: PairCosts, share: Shares) -> tuple[int, ...]:
    """The plan after the best moves of one item and swaps of two, until none helps."""
    cost = _cost(plan, alone, pair, share)
    while True:
        options = [(_cost(other, alone, pair, share), other) for other in _moves(plan, alone, pair, share)]
        lower, other = min(options)
        if lower >= cost:
            return plan
        plan, cost = other, lower


def _moves(plan: tuple[int, ...], alone: PairCosts, pair: PairCosts, share: Shares) -> list[tuple[int, ...]]:
    """The plan with one item at its best option, or with two items swapped; itself at the least."""
    found = [plan]
    for item in range(len(plan)):
        due = alone[item].copy()
        for other in range(len(plan)):
            if other != item:
                due += _against(pair[item : item + 1, other], share[plan[other]])[0]
        found.append((*plan[:item], int(due.argmin()), *plan[item + 1 :]))
        for other in range(item):
            swapped = list(plan)
            swapped[item], swapped[other] = plan[other], plan[item]
            found.append(tuple(swapped))
    return found
