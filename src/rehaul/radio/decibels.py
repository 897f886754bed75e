"""Decibels and powers of many float32 numbers at once, for the compiled loops.

Exponent and mantissa are taken apart by their bits, number by number and not through a second view of the
array, so that the compiler can do many side by side.
The polynomials are least squares on Chebyshev nodes; both are within 3e-5 dB.
"""

from __future__ import annotations

import numpy as np

from rehaul.arrays import Floats
from rehaul.kernels.loops import compiled

POWER_SHIFT_DB = 100.0  # powers are summed this far above their gain, clear of float32's smallest numbers

_L0, _L1, _L2 = np.float32(1.44268325), np.float32(-0.72044237), np.float32(0.46930169)
_L3, _L4, _L5 = np.float32(-0.30338967), np.float32(0.14643361), np.float32(-0.03459521)
_E0, _E1, _E2 = np.float32(0.9999999), np.float32(0.69315462), np.float32(0.24014077)
_E3, _E4, _E5 = np.float32(0.05586328), np.float32(0.00894621), np.float32(0.00189511)
_DB_PER_OCTAVE = np.float32(3.0102999566)  # 10 log10(2)
_OCTAVES_PER_DB = np.float32(0.3321928095)
_LOWEST = np.float32(-120.0)  # octaves; less is zero for every purpose


@compiled
def decibels(power: Floats) -> None:
    """10 log10 of an array (n,), in place.

    Positive values only: 0 and less give nonsense and raise nothing. **Validity**: within 3e-5 dB.
    **Source**: float32 as IEEE 754 lays it out (exponent from 127, mantissa from 1); the polynomials are
    ours.
    """
    for i in range(power.size):
        bits = np.float32(power[i]).view(np.int32)
        exponent = (bits >> np.int32(23)) - np.int32(127)
        mantissa = np.int32((bits & np.int32(0x7FFFFF)) | np.int32(0x3F800000)).view(np.float32)
        x = mantissa - np.float32(1.0)
        series = _L0 + x * (_L1 + x * (_L2 + x * (_L3 + x * (_L4 + x * _L5))))
        power[i] = _DB_PER_OCTAVE * (np.float32(exponent) + x * series)


@compiled
def powers(level: Floats) -> None:
    """10 ** (x / 10) of an array (n,), in place. From -361 to 380 dB.

    What is fainter comes out as at -361 dB, next to nothing. **Validity**: within 3e-5 dB. **Source**:
    float32 as IEEE 754 lays it out (exponent from 127, mantissa from 1); the polynomials are ours.
    """
    for i in range(level.size):
        octaves = max(level[i] * _OCTAVES_PER_DB, _LOWEST)
        whole = np.floor(octaves)
        x = octaves - whole
        mantissa = np.float32(_E0 + x * (_E1 + x * (_E2 + x * (_E3 + x * (_E4 + x * _E5)))))
        level[i] = np.int32(mantissa.view(np.int32) + (np.int32(whole) << np.int32(23))).view(np.float32)
