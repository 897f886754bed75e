"""Options that lie inside one another like channels of growing width, and which of them look alike.

Where two options share all or nothing, and those that share lie one inside the other, they form a
forest. Exchanging two branches of like shape and like cost changes no plan's cost; options that such
exchanges carry into one another are one orbit.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray


class Nesting:
    """The forest of a table of shares; without one, only options that share with none are exchanged."""

    def __init__(self, share: NDArray[np.float64]) -> None:
        touches = share > 0
        size = touches.sum(axis=1)
        count = len(share)
        order = sorted(range(count), key=lambda o: (-int(size[o]), o))  # outermost first
        rank = {option: place for place, option in enumerate(order)}
        self.order = order
        self.parent = [-1] * count
        above: list[set[int]] = [set() for _ in range(count)]
        for option in order:
            outer = [
                other for other in np.flatnonzero(touches[option]).tolist() if rank[other] < rank[option]
            ]
            above[option] = set(outer)
            if outer:
                self.parent[option] = max(outer, key=rank.__getitem__)
        self.is_forest = bool(np.isin(share, (0.0, 1.0)).all()) and all(
            self.parent[o] < 0 or above[o] == above[self.parent[o]] | {self.parent[o]} for o in order
        )
        inside = {parent for parent in self.parent if parent >= 0}
        self.innermost = [option for option in range(count) if option not in inside]
        self.alone = size == 1

    def orbits(self, due: NDArray[np.int64]) -> NDArray[np.int64]:
        """A number for each option, the same for those that look alike.

        Parameters
        ----------
        due : (open item, option) costs as they stand

        **Source**: docs/wlan.md, "Channels": likeness of channels is used.
        """
        _, column = np.unique(due, axis=1, return_inverse=True)
        cost_kind = column.ravel().tolist()
        if not self.is_forest:
            count = due.shape[1]
            return np.array(
                [cost_kind[o] if self.alone[o] else count + o for o in range(count)], dtype=np.int64
            )
        names: dict[tuple[object, ...], int] = {}
        branches: list[list[int]] = [[] for _ in cost_kind]
        shape = [0] * len(cost_kind)
        for option in reversed(self.order):
            key = ("shape", cost_kind[option], *sorted(branches[option]))
            shape[option] = names.setdefault(key, len(names))
            if self.parent[option] >= 0:
                branches[self.parent[option]].append(shape[option])
        orbit = [0] * len(cost_kind)
        for option in self.order:
            parent = self.parent[option]
            key = ("orbit", orbit[parent] if parent >= 0 else -1, shape[option])
            orbit[option] = names.setdefault(key, len(names))
        return np.array(orbit, dtype=np.int64)
