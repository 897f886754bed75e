"""What an open branch of a pair does to DSL."""

from __future__ import annotations

from rehaul.errors import require_range
from rehaul.facts.dsl import dsl_number

LIGHT_M_PER_S = 299_792_458.0


def tap_notch_hz(length_m: float) -> float:
    """The lowest frequency that an open branch of a pair takes out, in Hz: where it is a quarter wave long.

    Odd multiples of it are taken out too.

    **Validity**: an open branch without a telephone on it; PVC or polyethylene pairs.
    **Source**: quarter wave, with the velocity of the fact row `velocity`.

    >>> round(tap_notch_hz(5.0) / 1e6, 1)
    9.9
    """
    require_range(length_m, 0.01, 5000.0, name="length_m")
    return dsl_number("velocity") * LIGHT_M_PER_S / (4.0 * length_m)
