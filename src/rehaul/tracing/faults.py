"""What can be wrong with a cable between an outlet and its far end, one thing at a time."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cache

import numpy as np
from numpy.typing import NDArray

from rehaul.tracing.partitions import conductor_pairs, crossed, opened, partitions, shorted
from rehaul.words import Saying, say


class FaultKind(StrEnum):
    OPEN = "open"
    SHORT = "short"
    CROSSED = "crossed"
    SPLIT = "split pair"  # invisible to a continuity meter


_SAID = {
    FaultKind.OPEN: "tracing.open",
    FaultKind.SHORT: "tracing.short",
    FaultKind.CROSSED: "tracing.crossed",
    FaultKind.SPLIT: "tracing.split_pair",
}


@dataclass(frozen=True, order=True)
class Fault:
    """One fault and the conductors it touches."""

    kind: FaultKind
    conductors: tuple[int, ...]

    @property
    def sentence(self) -> Saying:
        """`short 1-2`"""
        return say("tracing.fault", kind=say(_SAID[self.kind]), pins=self.conductors)

    def __str__(self) -> str:
        return self.sentence

    def seen(self, mask: int, conductors: int) -> int:
        """The pattern that a meter sees at the far end through this fault, as a mask like `mask`.

        A fault that direct current does not see leaves the mask as it is. **Source**: docs/trace.md,
        "Straps".
        """
        if self.kind is FaultKind.OPEN:
            return opened(mask, self.conductors[0], conductors)
        a, b = self.conductors
        if self.kind is FaultKind.SHORT:
            return shorted(mask, a, b, conductors)
        if self.kind is FaultKind.CROSSED:
            return crossed(mask, a, b, conductors)
        return mask


@cache
def single_faults(conductors: int) -> tuple[Fault, ...]:
    """Every single fault that direct current can see: opens, then shorts, then crosses.

    Of n conductors n opens, and n (n - 1) / 2 each of shorts and crosses. **Source**: docs/trace.md,
    "Straps".

    >>> len(single_faults(4))
    16
    """
    pairs = conductor_pairs(conductors)
    return (
        *(Fault(FaultKind.OPEN, (c,)) for c in range(1, conductors + 1)),
        *(Fault(FaultKind.SHORT, pair) for pair in pairs),
        *(Fault(FaultKind.CROSSED, pair) for pair in pairs),
    )


@cache
def fault_pictures(conductors: int) -> dict[int, NDArray[np.int64]]:
    """For every pattern the masks seen through each single fault, in the order of `single_faults`.

    The same as `Fault.seen` one by one, and much quicker. Raises BadInput outside 2 to 8 conductors.
    **Source**: docs/trace.md, "Straps".
    """
    masks = np.array(partitions(conductors), dtype=np.int64)
    pairs = conductor_pairs(conductors)
    weights = np.zeros((conductors, conductors), dtype=np.int64)
    for k, (a, b) in enumerate(pairs):
        weights[a - 1, b - 1] = 1 << k
    together = np.zeros((len(masks), conductors, conductors), dtype=bool)
    for k, (a, b) in enumerate(pairs):
        together[:, a - 1, b - 1] = together[:, b - 1, a - 1] = masks >> k & 1
    together |= np.eye(conductors, dtype=bool)
    columns = []
    for fault in single_faults(conductors):
        a, b = fault.conductors[0] - 1, fault.conductors[-1] - 1
        seen = together
        if fault.kind is FaultKind.OPEN:
            seen = together.copy()
            seen[:, a, :] = seen[:, :, a] = False
        elif fault.kind is FaultKind.SHORT:
            near = together[:, a, :] | together[:, b, :]
            seen = together | (near[:, :, None] & near[:, None, :])
        elif fault.kind is FaultKind.CROSSED:
            order = np.arange(conductors)
            order[[a, b]] = b, a
            seen = together[:, order][:, :, order]
        columns.append(np.einsum("nij,ij->n", seen, weights))
    return dict(zip(masks.tolist(), np.array(columns).T, strict=True))
