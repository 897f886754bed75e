"""Which resistors a meter can tell apart through the cable, alone and two in parallel."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from functools import lru_cache

from rehaul.facts.trace_numbers import trace_number


def reading_range_ohm(nominal_ohm: float) -> tuple[float, float]:
    """What a meter can show for this resistance at the end of a cable: the least and the most [ohm].

    R (1 - s) - o to R (1 + s) + loop + o, with s of part and meter together, o of the meter. The least may
    be below zero.

    **Validity**: dry cable of at most the `loop limit`; damp old cable leaks, and then reads less.
    **Source**: practice values of fact table `trace_numbers`; docs/trace.md, "Resistors".

    >>> tuple(round(ohm, 1) for ohm in reading_range_ohm(1000.0))
    (981.7, 1038.3)
    """
    scale = trace_number("resistor tolerance") + trace_number("meter scale")
    offset = trace_number("meter offset")
    return (
        nominal_ohm * (1 - scale) - offset,
        nominal_ohm * (1 + scale) + trace_number("loop limit") + offset,
    )


def separable_values(values_ohm: Sequence[float]) -> tuple[float, ...]:
    """The most values of which no two readings can be mixed up, nor with a strap or an open pair.

    Exact: taking the smallest first is optimal for intervals that grow with the value. **Source**: greedy
    choice of intervals by their ends, any textbook, from memory; docs/trace.md, "Resistors".
    """
    chosen = []
    top = reading_range_ohm(0.0)[1]
    for value in sorted(set(values_ohm)):
        low, high = reading_range_ohm(value)
        if low > top and high < trace_number("open above"):
            chosen.append(value)
            top = high
    return tuple(chosen)


@lru_cache(maxsize=64)
def _chain_safe(values_ohm: tuple[float, ...]) -> tuple[float, ...]:
    best: tuple[float, ...] = ()
    budget = 20000  # sets looked at: exact for a small bag, a good set for a large one

    def grow(chosen: tuple[float, ...], shown: tuple[tuple[float, float], ...], start: int) -> None:
        nonlocal best, budget
        if len(chosen) > len(best):
            best = chosen
        for position in range(start, len(values_ohm)):
            if len(chosen) + len(values_ohm) - position <= len(best) or budget <= 0:
                return
            budget -= 1
            value = values_ohm[position]
            fresh = [reading_range_ohm(value)]
            fresh += [reading_range_ohm(value * other / (value + other)) for other in chosen]
            if _apart([*shown, *fresh]):
                grow((*chosen, value), (*shown, *fresh), position + 1)

    grow((), (reading_range_ohm(0.0),), 0)
    return best


def chain_safe_values(values_ohm: Sequence[float]) -> tuple[float, ...]:
    """Values of which all singles and all parallels of two can be told apart from each other.

    Largest set found; the search is exact until it has looked at 20,000 sets. **Source**: docs/trace.md,
    "Resistors": singles and parallels of two.
    """
    return _chain_safe(separable_values(values_ohm))


def _apart(ranges: Sequence[tuple[float, float]]) -> bool:
    ordered = sorted(ranges)
    return all(high < low for (_, high), (low, _) in itertools.pairwise(ordered))
