"""Strap codes that one fault cannot turn into each other.

Every open or short changes the number of ties by one, or changes nothing. Patterns with an even number
of ties therefore never turn into each other by one open or short (the parity check of straps), and two
different patterns with the same number of ties, in parallel, always have more ties than either. Crosses
are excluded pattern by pattern. The empty pattern counts as a code word, so a cable that ends nowhere is
never taken for a plugged outlet.
"""

from __future__ import annotations

from enum import StrEnum
from functools import cache

from rehaul.trace.faults import single_faults
from rehaul.trace.partitions import partitions, tie_count
from rehaul.trace.trust import Trust, canonical_masks


class Guarantee(StrEnum):
    """What one fault (an open, a short, a cross, or a second outlet on the cable) can do to a reading."""

    CORRECTS = "one fault is seen through"
    DETECTS = "one fault is never taken for another outlet"
    NONE = "one fault can mislead"


@cache
def neighbours(mask: int, conductors: int, trust: Trust) -> frozenset[int]:
    """What one fault can make of a pattern, as canonical masks, itself included."""
    canonical = canonical_masks(conductors, trust)
    seen = {canonical[fault.seen(mask, conductors)] for fault in single_faults(conductors)}
    return frozenset(seen | {canonical[mask]})


@cache
def patterns(conductors: int, trust: Trust) -> tuple[int, ...]:
    """One pattern per orbit, easiest to tie first, the empty one left out."""
    canonical = canonical_masks(conductors, trust)
    return tuple(mask for mask in partitions(conductors)[1:] if canonical[mask] == mask)


@cache
def detecting_codes(conductors: int, trust: Trust) -> tuple[int, ...]:
    """Codes of which one open, short, cross or join of two never looks like another code.

    The number of ties is the one that yields most codes, or the fewest ties that yield 24. Greedy, so a
    lower bound on what exists.
    """
    best: tuple[int, ...] = ()
    for ties in range(2, conductors):
        codes: list[int] = []
        taken: set[int] = set()
        for mask in patterns(conductors, trust):
            if tie_count(mask, conductors) != ties or mask in taken:
                continue
            reach = neighbours(mask, conductors, trust)
            if any(code in reach for code in codes):
                continue
            codes.append(mask)
            taken |= reach
        if len(codes) > len(best):
            best = tuple(codes)
        if len(best) >= 24:
            break
    return best


@cache
def correcting_codes(conductors: int, trust: Trust) -> tuple[int, ...]:
    """Codes whose pictures under every single open, short and cross never overlap, nor those of an empty
    cable: the outlet is named rightly through one fault. Greedy, so a lower bound on what exists."""
    codes: list[int] = []
    taken = set(neighbours(0, conductors, trust))
    for mask in patterns(conductors, trust):
        reach = neighbours(mask, conductors, trust)
        if not reach & taken:
            codes.append(mask)
            taken |= reach
    return tuple(codes)
