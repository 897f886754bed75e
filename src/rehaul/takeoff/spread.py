"""Sums of long-tailed times: the middle and the value not exceeded nine times in ten.

A task is lognormal through its middle and its 90 % value; tasks are independent. The distribution of
their sum is the convolution of theirs, worked out on a fine grid by Fourier transform.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from rehaul.normal import below

Z_90 = 1.2815515655446004  # 90 % quantile of the standard normal distribution
STEPS = 1 << 13
TAIL_SIGMAS = 30.0  # the grid reaches this many standard deviations above the mean of the sum


def lognormal_moments(middle: float, high_90: float) -> tuple[float, float]:
    """Mean and variance of a lognormal with that median and 90 % quantile; 0 where there is no time.

    A 90 % value below the middle counts as equal to it. The unit is that of the input, its square for the
    variance.

    **Source**: mean m exp(s^2 / 2), variance mean^2 (exp(s^2) - 1), s = ln(q / m) / 1.28155.

    >>> mean, variance = lognormal_moments(10.0, 20.0)
    >>> round(mean, 2), round(variance, 1)
    (11.58, 45.5)
    """
    if middle <= 0:
        return 0.0, 0.0
    sigma = _sigma(middle, high_90)
    mean = middle * math.exp(sigma**2 / 2)
    return mean, mean**2 * math.expm1(sigma**2)


def sum_of(tasks: Iterable[tuple[float, float, float]]) -> tuple[float, float]:
    """Middle and 90 % value of a sum.

    Parameters: `tasks`, (count, middle, 90 % value) of independent repeats; a broken count takes that
    share of the task's time.

    **Validity**: to the grid, about a ten-thousandth of the sum. **Source**: convolution theorem.
    """
    tasks = [(count, middle, high) for count, middle, high in tasks if count > 0 and middle > 0]
    sharp = sum(count * middle for count, middle, high in tasks if high <= middle)  # no grid is as fine
    whole = tuple(task for task in tasks if task[2] > task[1])
    half, nine_tenths = _convolved(whole) if whole else (0.0, 0.0)
    return half + sharp, nine_tenths + sharp


@lru_cache(maxsize=4096)
def _convolved(whole: tuple[tuple[float, float, float], ...]) -> tuple[float, float]:
    moments = [(count, *lognormal_moments(middle, high)) for count, middle, high in whole]
    mean = sum(count * m for count, m, _ in moments)
    reach = mean + TAIL_SIGMAS * math.sqrt(sum(count * v for count, _, v in moments)) + 1e-9
    edges = np.linspace(0.0, reach, STEPS + 1)
    spectrum = np.ones(STEPS + 1, dtype=np.complex128)  # of a grid padded to twice its length
    middles = 0.0  # each task's mass stands at the middle of its step
    for count, middle, high in whole:
        repeats, part = divmod(count, 1.0)
        for times, scale in ((repeats, 1.0), (1.0 if part else 0.0, part)):
            if times:
                mass = np.diff(_cdf(edges, middle * scale, high * scale))
                spectrum *= np.fft.rfft(mass, 2 * STEPS) ** times
                middles += 0.5 * times
    mass = np.fft.irfft(spectrum, 2 * STEPS)
    chance = np.cumsum(mass)
    step = reach / STEPS
    value = (np.arange(2 * STEPS) + middles + 0.5) * step
    half, nine_tenths = np.interp([0.5, 0.9], chance / chance[-1], value)
    return float(half), float(nine_tenths)


def _sigma(middle: float, high_90: float) -> float:
    return math.log(max(high_90, middle) / middle) / Z_90


def _cdf(value: NDArray[np.float64], middle: float, high_90: float) -> NDArray[np.float64]:
    """Chance that one task takes no longer; a task without spread takes its middle."""
    sigma = max(_sigma(middle, high_90), 1e-6)
    with np.errstate(divide="ignore"):
        return np.asarray(below((np.log(value) - math.log(middle)) / sigma))
