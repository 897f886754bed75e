"""What can be wrong with a cable between an outlet and its far end, one thing at a time."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from rehaul.trace.partitions import conductor_pairs, crossed, opened, shorted


class FaultKind(StrEnum):
    OPEN = "open"
    SHORT = "short"
    CROSSED = "crossed"
    SPLIT = "split pair"  # invisible to a continuity meter


@dataclass(frozen=True, order=True)
class Fault:
    """One fault and the conductors it touches."""

    kind: FaultKind
    conductors: tuple[int, ...]

    def __str__(self) -> str:
        return f"{self.kind.value} {'-'.join(map(str, self.conductors))}"

    def seen(self, mask: int, conductors: int) -> int:
        """The pattern a meter sees through this fault."""
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
    """Every single fault that direct current can see: opens, shorts and crosses."""
    pairs = conductor_pairs(conductors)
    return (
        *(Fault(FaultKind.OPEN, (c,)) for c in range(1, conductors + 1)),
        *(Fault(FaultKind.SHORT, pair) for pair in pairs),
        *(Fault(FaultKind.CROSSED, pair) for pair in pairs),
    )
