"""Sums of long-tailed times: the middle and the value not exceeded nine times in ten.

A task is lognormal through its middle and its 90 % value. A sum of independent tasks is taken as
lognormal with the same mean and variance (L. F. Fenton, 1960, from memory).
"""

from __future__ import annotations

import math
from collections.abc import Iterable

Z_90 = 1.2815515655446004  # 90 % quantile of the standard normal distribution


def lognormal_moments(middle: float, high_90: float) -> tuple[float, float]:
    """Mean and variance of a lognormal with that median and 90 % quantile; both > 0."""
    if middle <= 0:
        return 0.0, 0.0
    sigma = math.log(max(high_90, middle) / middle) / Z_90
    mean = middle * math.exp(sigma**2 / 2)
    return mean, mean**2 * math.expm1(sigma**2)


def sum_of(tasks: Iterable[tuple[float, float, float]]) -> tuple[float, float]:
    """Middle and 90 % value of a sum; `tasks` are (count, middle, 90 % value) of independent repeats."""
    mean = variance = 0.0
    for count, middle, high in tasks:
        one_mean, one_variance = lognormal_moments(middle, high)
        mean += count * one_mean
        variance += count * one_variance
    if mean <= 0:
        return 0.0, 0.0
    sigma_squared = math.log1p(variance / mean**2)
    middle = mean / math.exp(sigma_squared / 2)
    return middle, middle * math.exp(Z_90 * math.sqrt(sigma_squared))
