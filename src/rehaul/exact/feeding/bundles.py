"""Resources as unknowns: fewer than there are, and the same choice.

Resources that the same ways use are paid together or not at all: one unknown. What ways of one group alone
use is paid once by whichever of them is chosen, and no other can share it: it is part of those ways. What
costs and takes nothing and excludes nothing needs no unknown.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from rehaul.arrays import Bools, Wholes
from rehaul.exact.feeding.core import Core


@dataclass(frozen=True)
class Bundles:
    """What stands for the resources of a core."""

    core: Core
    shared: tuple[tuple[int, ...], ...]  # resources by number, used by the same ways, of several groups
    users: Bools  # (ways, bundles)
    own: Bools  # (ways, resources) paid by the way itself

    @cached_property
    def used(self) -> Wholes:
        """Resources that some way uses, rising."""
        return np.flatnonzero(self.core.figures.uses[self.core.ways].any(axis=0))

    @cached_property
    def cost(self) -> Wholes:
        """Hundredths, (ways + bundles,)."""
        f = self.core.figures
        together = [f.resource_cost[list(bundle)].sum() for bundle in self.shared]
        return np.array([*(f.cost[self.core.ways] + self.own @ f.resource_cost), *together], dtype=np.int64)

    @cached_property
    def takes(self) -> Wholes:
        """Ports, power and shares of media, (ways + bundles, 2 + media)."""
        f = self.core.figures
        ways = f.takes[self.core.ways] + self.own.astype(np.int64) @ f.resource_takes
        together = [f.resource_takes[list(bundle)].sum(axis=0) for bundle in self.shared]
        return np.concatenate([ways, np.array(together, dtype=np.int64).reshape(-1, ways.shape[1])])

    def of_set(self, excludes: int) -> Wholes:
        """How many resources of a set each stands for, (ways + bundles,).

        **Source**: docs/exact.md, "Why it is exact": so does what stands for resources.
        """
        members = self.core.figures.excludes == excludes
        together = [np.count_nonzero(members[list(bundle)]) for bundle in self.shared]
        return np.array([*self.own[:, members].sum(axis=1), *together], dtype=np.int64)

    @cached_property
    def standing_for(self) -> dict[int, list[int]]:
        """For each used resource, the places among ways and bundles that come to it together."""
        shared = {r: [len(self.own) + place] for place, bundle in enumerate(self.shared) for r in bundle}
        return {
            r: shared[r] if r in shared else np.flatnonzero(self.own[:, r]).tolist()
            for r in self.used.tolist()
        }


def bundles_of(core: Core) -> Bundles:
    """What stands for the resources of a core, in the order of their first.

    **Validity**: a choice costs, takes and excludes the same: a bundle is used where one of its resources is,
    and a group holds one way at most. **Source**: docs/exact.md, "Why it is exact": so does what stands for
    resources.
    """
    f = core.figures
    uses, group = f.uses[core.ways], f.group[core.ways]
    together: dict[bytes, list[int]] = {}
    for resource in np.flatnonzero(uses.any(axis=0)).tolist():
        together.setdefault(uses[:, resource].tobytes(), []).append(resource)
    shared: list[tuple[int, ...]] = []
    own = np.zeros_like(uses)
    for bundle in together.values():
        idle = not (f.resource_cost[bundle].any() or f.resource_takes[bundle].any())
        if len(np.unique(group[uses[:, bundle[0]]])) == 1:
            own[:, bundle] = uses[:, bundle]
        elif not idle or np.any(f.excludes[bundle] >= 0):
            shared.append(tuple(bundle))
    first = np.array([bundle[0] for bundle in shared], dtype=np.int64)
    return Bundles(core, tuple(shared), np.ascontiguousarray(uses[:, first]), own)
