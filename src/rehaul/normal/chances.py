"""Chances of a normal number, for arrays of any shape."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from rehaul.arrays import Reals
from rehaul.normal.each import below_each, below_one, quantile_each, quantile_one

FEW = 100  # up to here Python is quick enough, and no compiled loop need be there
_FAR = -30.0  # the chance below it is small, and its series good to the last digit
_HALF_LN_2_PI = 0.9189385332046727


def below(value: ArrayLike) -> Any:
    """Chance that a normal number of mean 0 and deviation 1 is below each value, in the same shape.

    **Validity**: all values; as near as the C library's `erfc`, single precision for arrays of it.
    **Source**: NIST Digital Library of Mathematical Functions, 7.17.1 with 7.2.2.

    >>> round(float(below(1.0)), 6)
    0.841345
    """
    return _for_each(value, below_one.py_func, below_each)


def quantile(chance: ArrayLike) -> Any:
    """The value that a normal number of mean 0 and deviation 1 is below with each chance, in the same shape.

    **Validity**: from 0 (minus infinity) to 1 (infinity), no number beyond; to 1 in 10¹⁵ as its author says.
    **Source**: M. J. Wichura, Algorithm AS 241, Applied Statistics 37 (1988), 477 to 484.

    >>> round(float(quantile(0.95)), 6)
    1.644854
    """
    return _for_each(chance, quantile_one.py_func, quantile_each)


def ln_below(value: float) -> float:
    """Natural logarithm of the chance that a normal number is below a value.

    **Validity**: all values, however far below. **Source**: as `below`; below -30 Abramowitz and Stegun,
    Handbook of Mathematical Functions, 26.2.12.

    >>> round(ln_below(-40.0), 4)
    -804.6084
    """
    if value > 0.0:
        return math.log1p(-0.5 * math.erfc(value / math.sqrt(2.0)))
    if value > _FAR:
        return math.log(0.5 * math.erfc(-value / math.sqrt(2.0)))
    if value == -math.inf:
        return value
    inverse = 1.0 / (value * value)
    series = 1.0 - inverse * (1.0 - 3.0 * inverse * (1.0 - 5.0 * inverse * (1.0 - 7.0 * inverse)))
    return -0.5 * value * value - math.log(-value) - _HALF_LN_2_PI + math.log(series)


def _for_each(given: ArrayLike, one: Callable[[float], float], each: Callable[[Reals, Reals], None]) -> Any:
    values = np.asarray(given)
    wanted = values.dtype if values.dtype == np.float32 else np.float64
    if values.size <= FEW:
        found = np.array([one(value) for value in values.ravel().tolist()], dtype=np.float64)
    else:
        flat = np.ascontiguousarray(values, dtype=np.float64).ravel()
        found = np.empty(len(flat))
        each(flat, found)
    return found.reshape(values.shape).astype(wanted, copy=False)
