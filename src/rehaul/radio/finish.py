"""From losses along a ray to gain and spread: free-space spreading, antenna pattern, shadowing."""

from __future__ import annotations

import numpy as np
from numba import njit

from rehaul.radio.antenna import PATTERN_STEPS

# log2(1 + x) = x · polynomial(x) on 0 to 1: least squares on Chebyshev nodes, within 3e-5 dB of 10 log10
_C0, _C1, _C2 = np.float32(1.44268325), np.float32(-0.72044237), np.float32(0.46930169)
_C3, _C4, _C5 = np.float32(-0.30338967), np.float32(0.14643361), np.float32(-0.03459521)
_DB_PER_OCTAVE = np.float32(3.0102999566)  # 10 log10(2)


@njit(cache=True, nogil=True, error_model="numpy")
def decibels(power, bits):  # type: ignore[no-untyped-def]
    """10 log10 of a float32 array in place; `bits` is the same memory seen as int32. Positive values only.

    Exponent and mantissa are taken apart so that the compiler can do many at once.
    """
    for i in range(power.size):
        exponent = (bits[i] >> np.int32(23)) - np.int32(127)
        bits[i] = (bits[i] & np.int32(0x7FFFFF)) | np.int32(0x3F800000)
        x = power[i] - np.float32(1.0)
        series = _C0 + x * (_C1 + x * (_C2 + x * (_C3 + x * (_C4 + x * _C5))))
        power[i] = _DB_PER_OCTAVE * (np.float32(exponent) + x * series)


@njit(cache=True, nogil=True, error_model="numpy")
def finish_grid(  # type: ignore[no-untyped-def]
    losses, source, axis, pattern, free_db, origin, step, heights, nearest, shadowing, together, gain, sd
):
    """Losses (storey, ny, band + 2, nx) to gain (band, storey, ny, nx) and spread (storey, ny, nx)."""
    bands, storeys, rows, columns = gain.shape
    square = np.empty(columns, dtype=np.float32)
    bits = square.view(np.int32)
    level = np.empty(columns, dtype=np.float32)
    for s in range(storeys):
        z = heights[s] - source[2]
        for j in range(rows):
            y = origin[1] + j * step - source[1]
            _squares(np.float32(origin[0] - source[0]), np.float32(step), y, z, nearest, square)
            _pattern(np.float32(origin[0] - source[0]), np.float32(step), y, z, axis, pattern, square, level)
            decibels(square, bits)
            for b in range(bands):
                line, lost, free = gain[b, s, j], losses[s, j, b], np.float32(free_db[b])
                for i in range(columns):
                    line[i] = level[i] - square[i] - free - lost[i]
            spread(losses[s, j, bands], losses[s, j, bands + 1], shadowing, together, sd[s, j])


@njit(cache=True, nogil=True, error_model="numpy")
def _squares(x0, step, y, z, nearest, square):  # type: ignore[no-untyped-def]
    """Squared distances of a row [m²], no nearer than `nearest`."""
    flat, least = np.float32(y * y + z * z), np.float32(nearest * nearest)
    for i in range(square.size):
        x = x0 + step * np.float32(np.int32(i))
        square[i] = max(x * x + flat, least)


@njit(cache=True, nogil=True, error_model="numpy")
def _pattern(x0, step, y, z, axis, pattern, square, level):  # type: ignore[no-untyped-def]
    """Level of the antenna toward each receiver of a row [dB]."""
    along, slope = np.float32(axis[1] * y + axis[2] * z), np.float32(axis[0])
    half, last = np.float32(PATTERN_STEPS / 2), np.float32(PATTERN_STEPS - 0.001)
    for i in range(square.size):
        toward = (slope * (x0 + step * np.float32(np.int32(i))) + along) / np.sqrt(square[i])
        place = min(max((toward + np.float32(1.0)) * half, np.float32(0.0)), last)
        k = np.uint32(place)
        low = pattern[k]
        level[i] = low + (place - np.float32(k)) * (pattern[k + np.uint32(1)] - low)


@njit(cache=True, nogil=True, error_model="numpy")
def spread(total, squares, shadowing, together, sd):  # type: ignore[no-untyped-def]
    """Standard deviation: shadowing, and crossings whose errors go partly together."""
    own, alone = np.float32(shadowing * shadowing), np.float32(1.0 - together)
    for i in range(sd.size):
        sd[i] = np.sqrt(own + np.float32(together) * total[i] * total[i] + alone * squares[i])


@njit(cache=True, nogil=True, error_model="numpy")
def finish_points(  # type: ignore[no-untyped-def]
    losses, source, axis, pattern, free_db, points, nearest, shadowing, together, gain, sd
):
    """Losses (point, band + 2) to gain (band, point) and spread (point,)."""
    bands = gain.shape[0]
    square = np.empty(1, dtype=np.float32)
    bits = square.view(np.int32)
    level = np.empty(1, dtype=np.float32)
    for p in range(points.shape[0]):
        x, y, z = points[p, 0] - source[0], points[p, 1] - source[1], points[p, 2] - source[2]
        _squares(np.float32(x), np.float32(0.0), y, z, nearest, square)
        _pattern(np.float32(x), np.float32(0.0), y, z, axis, pattern, square, level)
        decibels(square, bits)
        for b in range(bands):
            gain[b, p] = level[0] - square[0] - free_db[b] - losses[p, b]
        spread(
            losses[p, bands : bands + 1], losses[p, bands + 1 : bands + 2], shadowing, together, sd[p : p + 1]
        )
