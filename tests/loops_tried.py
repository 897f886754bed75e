"""Small loops for the tests of machine code: of no package, so that nothing of them is kept anywhere."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from rehaul.arrays import Bools, Reals, Wholes
from rehaul.kernels.loops import compiled, inlined, inner


class Heap(NamedTuple):
    """Three arrays and a number."""

    weights: Reals  # (stones,)
    spares: Reals  # (stones,)
    counts: Wholes  # (rows, stones)
    step: float


class Pile(NamedTuple):
    """The same, but for the order of two names."""

    spares: Reals  # (stones,)
    weights: Reals  # (stones,)
    counts: Wholes  # (rows, stones)
    step: float


@inlined
def twice(x: float) -> float:
    return x + x


@inner
def _row_sum(counts: Wholes, row: int) -> int:
    total = 0
    for at in range(counts.shape[1]):
        total += counts[row, at]
    return total


@compiled
def first_count(heap: Any) -> int:
    """Sum of the first row, which is then emptied."""
    total = _row_sum(heap.counts, 0)
    heap.counts[0, :] = 0
    return total


@compiled
def heaviest(heap: Heap) -> float:
    best = 0.0
    for weight in heap.weights:
        best = max(best, twice(weight) * heap.step)
    return best


@compiled
def weights_of(heap: Any) -> float:
    """What bears the name, whatever its place."""
    return heap.weights.sum()


@compiled
def any_above(pair: tuple[Reals, float], flags: Bools, which: bool) -> bool:
    found = False
    for at in range(len(flags)):
        flags[at] = (pair[0][at] > pair[1]) == which
        found = found or flags[at]
    return found


@compiled
def scaled(values: Reals, by: float) -> None:
    ones = np.ones(len(values))
    for at in range(len(values)):
        values[at] = ones[at] * values[at] * by


@compiled
def doubled(values: Reals) -> Reals:
    return values * 2.0


@compiled
def refusing(which: int) -> int:
    if which == 1:
        raise MemoryError("no room")
    if which == 2:
        raise ValueError
    return which
