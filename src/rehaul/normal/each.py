"""One value at a time, as Python runs it and as it is compiled."""

from __future__ import annotations

import math

from rehaul.arrays import Reals
from rehaul.kernels.loops import compiled, inner

# Wichura's coefficients, the highest power first; a quotient of two rows for each of his three ranges.
_MIDDLE_OVER = (
    2509.0809287301226727, 33430.575583588128105, 67265.770927008700853, 45921.953931549871457,
    13731.693765509461125, 1971.5909503065514427, 133.14166789178437745, 3.3871328727963666080,
)  # fmt: skip
_MIDDLE_UNDER = (
    5226.4952788528545610, 28729.085735721942674, 39307.895800092710610, 21213.794301586595867,
    5394.1960214247511077, 687.18700749205790830, 42.313330701600911252, 1.0,
)  # fmt: skip
_OUTER_OVER = (
    7.7454501427834140764e-4, 0.0227238449892691845833, 0.24178072517745061177, 1.27045825245236838258,
    3.64784832476320460504, 5.7694972214606914055, 4.6303378461565452959, 1.42343711074968357734,
)  # fmt: skip
_OUTER_UNDER = (
    1.05075007164441684324e-9, 5.475938084995344946e-4, 0.0151986665636164571966, 0.14810397642748007459,
    0.68976733498510000455, 1.6763848301838038494, 2.05319162663775882187, 1.0,
)  # fmt: skip
_FAR_OVER = (
    2.01033439929228813265e-7, 2.71155556874348757815e-5, 0.0012426609473880784386, 0.026532189526576123093,
    0.29656057182850489123, 1.7848265399172913358, 5.4637849111641143699, 6.6579046435011037772,
)  # fmt: skip
_FAR_UNDER = (
    2.04426310338993978564e-15, 1.4215117583164458887e-7, 1.8463183175100546818e-5, 7.868691311456132591e-4,
    0.0148753612908506148525, 0.13692988092273580531, 0.59983220655588793769, 1.0,
)  # fmt: skip
_ROOT_2 = 1.4142135623730951
_MIDDLE, _OUTER = 0.425, 5.0  # where his ranges end


@inner
def below_one(value: float) -> float:
    """Chance that a normal number is below a value. **Source**: DLMF 7.17.1 with 7.2.2."""
    return 0.5 * math.erfc(-value / _ROOT_2)


@inner
def _quotient(over, under, at):  # type: ignore[no-untyped-def]
    """Of two polynomials of seventh degree."""
    top, bottom = over[0], under[0]
    for k in range(1, 8):
        top, bottom = top * at + over[k], bottom * at + under[k]
    return top / bottom


@inner
def quantile_one(chance: float) -> float:
    """The value that a normal number is below with a chance; infinite at 0 and 1, no number beyond.

    **Source**: M. J. Wichura, Algorithm AS 241, Applied Statistics 37 (1988), 477 to 484, routine PPND16.
    """
    if not 0.0 < chance < 1.0:
        if chance == 0.0:
            return -math.inf
        return math.inf if chance == 1.0 else math.nan
    off = chance - 0.5
    value: float
    if abs(off) <= _MIDDLE:
        value = off * _quotient(_MIDDLE_OVER, _MIDDLE_UNDER, 0.180625 - off * off)
        return value
    far = math.sqrt(-math.log(chance if off < 0.0 else 1.0 - chance))
    if far <= _OUTER:
        value = _quotient(_OUTER_OVER, _OUTER_UNDER, far - 1.6)
    else:
        value = _quotient(_FAR_OVER, _FAR_UNDER, far - _OUTER)
    return -value if off < 0.0 else value


@compiled
def below_each(values: Reals, found: Reals) -> None:
    """`below_one` of every value (n,), written into `found` (n,). **Source**: as `below_one`."""
    for i in range(len(values)):
        found[i] = below_one(values[i])


@compiled
def quantile_each(chances: Reals, found: Reals) -> None:
    """`quantile_one` of every chance (n,), written into `found` (n,). **Source**: as `quantile_one`."""
    for i in range(len(chances)):
        found[i] = quantile_one(chances[i])
