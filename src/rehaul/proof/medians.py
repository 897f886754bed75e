"""Medians of a few readings, and how much two sets differ, with exact intervals that assume no shape."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from math import comb

import numpy as np
from numpy.typing import NDArray

from rehaul.facts.acceptance import acceptance_number


@dataclass(frozen=True)
class Interval:
    """A middle with an interval, and the least chance that it holds the truth; 0 for one reading."""

    low: float
    middle: float
    high: float
    chance: float

    @property
    def holds(self) -> bool:
        """Whether enough was read for the interval to claim what is asked of one."""
        return self.chance >= acceptance_number("chance")


def median_interval(values: Sequence[float]) -> Interval:
    """The median of independent readings between two of them.

    The narrowest symmetric pair of order statistics that holds the median with the chance asked for;
    least and most, with the chance they have, where there are too few.
    **Validity**: independent readings of one thing; any continuous distribution. Six readings hold the
    median between least and most with 96.9 %. **Source**: sign test, textbook.

    >>> median_interval([96, 91, 99, 88, 93, 95]).chance
    0.96875
    """
    ordered = np.sort(np.asarray(values, dtype=np.float64))
    n = len(ordered)
    if not n:
        return Interval(np.nan, np.nan, np.nan, 0.0)
    outside, cut, chance = 0.0, 0, 1.0 - 2.0 ** (1 - n)
    for k in range(n // 2):
        outside += comb(n, k) / 2.0**n
        if 1.0 - 2.0 * outside < acceptance_number("chance"):
            break
        cut, chance = k, 1.0 - 2.0 * outside
    middle = float(np.median(ordered))
    return Interval(float(ordered[cut]), middle, float(ordered[n - 1 - cut]), chance if n > 1 else 0.0)


def ratio_interval(before: Sequence[float], after: Sequence[float]) -> Interval:
    """How many times as large the later readings are, between two of all their ratios.

    **Validity**: positive readings; both sets of one shape on a logarithmic scale, whatever it is.
    **Source**: Hodges and Lehmann (1963) with the exact distribution of Mann and Whitney (1947).

    >>> round(ratio_interval([50, 52, 48], [100, 104, 96]).middle, 2)
    2.0
    """
    first, second = (np.asarray(values, dtype=np.float64) for values in (before, after))
    if not len(first) or not len(second):
        return Interval(np.nan, np.nan, np.nan, 0.0)
    ratios = np.sort((second[:, None] / first[None, :]).ravel())
    counts = _wins(len(first), len(second))
    below = np.cumsum(counts) / counts.sum()
    cut, chance = 0, float(1.0 - 2.0 * below[0])
    for k in range(len(ratios) // 2):
        if 1.0 - 2.0 * below[k] < acceptance_number("chance"):
            break
        cut, chance = k, float(1.0 - 2.0 * below[k])
    return Interval(
        float(ratios[cut]), float(np.median(ratios)), float(ratios[len(ratios) - 1 - cut]), max(chance, 0.0)
    )


@cache
def _wins(n: int, m: int) -> NDArray[np.float64]:
    """In how many orders of n and m readings k of the n·m pairs are won, for k = 0 … n·m."""
    if n == 0 or m == 0:
        return np.ones(1)
    found = np.zeros(n * m + 1)
    last_of_second, last_of_first = _wins(n, m - 1), _wins(n - 1, m)
    found[n : n + len(last_of_second)] += last_of_second
    found[: len(last_of_first)] += last_of_first
    return found
