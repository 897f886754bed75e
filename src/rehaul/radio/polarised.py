"""The straight path with both polarisations followed, for an upright antenna, over a grid."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Floats, Reals
from rehaul.kernels.loops import compiled
from rehaul.radio.band import FrequencyBand
from rehaul.radio.cells import cells_of
from rehaul.radio.decibels import decibels, powers
from rehaul.radio.finish import Spreads, pattern_levels, spread, squares
from rehaul.radio.layers import LayeredKind
from rehaul.radio.losstable import COSINE_STEPS, THICKNESS_TOLERANCE, loss_table
from rehaul.radio.slab import DEEPEST_DB


@lru_cache(maxsize=16)
def amplitude_table(
    kinds: tuple[LayeredKind, ...],
    bands: tuple[FrequencyBand, ...],
    thickness_tolerance: float = THICKNESS_TOLERANCE,
) -> NDArray[np.float32]:
    """Amplitudes of te and tm over the cosine of incidence (kind, 3 band, COSINE_STEPS + 2).

    Of each band te, and real and imaginary parts of tm seen from te. Sizes are those of the mean power;
    the phase between te and tm is that of the mean product. **Source**: ITU-R P.2040, section 2.2.2, by
    `loss_table`; docs/radio.md, "Levels of paths".
    """
    found = np.zeros((len(kinds), 3 * len(bands), COSINE_STEPS + 2), dtype=np.float32)
    for k, kind in enumerate(kinds):
        for b, band in enumerate(bands):
            table = loss_table(kind.structure, band, thickness_tolerance)
            tm = np.sqrt(table.transmitted_tm) * np.exp(-1j * np.angle(table.cross))
            rows = np.sqrt(table.transmitted_te), tm.real, tm.imag
            found[k, 3 * b : 3 * b + 3, :-1] = rows
    found[:, :, -1] = found[:, :, -2]
    return found


@compiled
def finish_upright(
    waves: Floats,
    source: Reals,
    axis: Reals,
    pattern: Floats,
    free_db: Floats,
    origin: tuple[float, float],
    step: float,
    heights: Reals,
    nearest: float,
    spreads: Spreads,
    parts: int,
    gain: Floats,
    sd: Floats,
) -> None:
    """Field (storey, parts ny, 4 band + 2, parts nx) to gain (band, storey, ny, nx) and spread of cells.

    Each value is the mean power, and the mean spread, over parts by parts receivers; `origin` and
    `step` are those of the receivers. **Source**: ITU-R P.525 (free space); docs/radio.md, "Levels of paths".
    """
    bands, storeys, rows, columns = gain.shape
    wide = columns * parts
    square, level = np.empty(wide, dtype=np.float32), np.empty(wide, dtype=np.float32)
    unsure, total = np.empty(wide, dtype=np.float32), np.empty((bands + 1, wide), dtype=np.float32)
    x0, dx = np.float32(origin[0] - source[0]), np.float32(step)
    for s in range(storeys):
        z = heights[s] - source[2]
        for j in range(rows):
            total[:] = 0.0
            for row in range(j * parts, (j + 1) * parts):
                y = origin[1] + row * step - source[1]
                squares(x0, dx, y, z, nearest, square)
                pattern_levels(x0, dx, y, z, axis, pattern, square, level)
                powers(level)
                for i in range(wide):
                    level[i] /= square[i]
                for b in range(bands):
                    _add_power(waves[s, row, 4 * b : 4 * b + 4], level, total[b])
                decibels(square)
                spread(waves[s, row, 4 * bands], waves[s, row, 4 * bands + 1], square, spreads, unsure)
                for i in range(wide):
                    total[bands, i] += unsure[i]
            for b in range(bands):
                cells_of(total[b], parts, gain[b, s, j])
                decibels(gain[b, s, j])
                for i in range(columns):
                    gain[b, s, j, i] -= free_db[b]
            cells_of(total[bands], parts, sd[s, j])


@compiled
def _add_power(wave, scale, total):  # type: ignore[no-untyped-def]
    """Add the power of both components of a row of receivers, at least that of the deepest loss."""
    least = np.float32(10.0 ** (-3.0 * DEEPEST_DB / 10.0))
    ur, ui, lr, li = wave[0], wave[1], wave[2], wave[3]
    for i in range(scale.size):
        power = ur[i] * ur[i] + ui[i] * ui[i] + lr[i] * lr[i] + li[i] * li[i]
        total[i] += scale[i] * max(power, least)
