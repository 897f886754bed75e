"""The straight path with both polarisations followed, for an upright antenna: losses over a grid."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numba import njit
from numpy.typing import NDArray

from rehaul.radio.band import Band
from rehaul.radio.decibels import decibels
from rehaul.radio.layers import Kind
from rehaul.radio.losstable import COSINE_STEPS, THICKNESS_TOLERANCE, loss_table
from rehaul.radio.slab import DEEPEST_DB


@lru_cache(maxsize=16)
def amplitude_table(
    kinds: tuple[Kind, ...], bands: tuple[Band, ...], thickness_tolerance: float = THICKNESS_TOLERANCE
) -> NDArray[np.float32]:
    """Amplitudes of te and tm over the cosine of incidence (kind, 4 band, COSINE_STEPS + 2).

    Sizes are those of the mean power; the phase between te and tm is that of the mean product.
    """
    found = np.zeros((len(kinds), 4 * len(bands), COSINE_STEPS + 2), dtype=np.float32)
    for k, kind in enumerate(kinds):
        for b, band in enumerate(bands):
            table = loss_table(kind.structure, band, thickness_tolerance)
            tm = np.sqrt(table.transmitted_tm) * np.exp(-1j * np.angle(table.cross))
            rows = np.sqrt(table.transmitted_te), np.zeros(COSINE_STEPS + 1), tm.real, tm.imag
            found[k, 4 * b : 4 * b + 4, :-1] = rows
    found[:, :, -1] = found[:, :, -2]
    return found


@njit(cache=True, nogil=True, error_model="numpy")
def field_losses(field, losses):  # type: ignore[no-untyped-def]
    """Field (storey, ny, 4 band + 2, nx) to losses (storey, ny, band + 2, nx), as the plain kernel gives."""
    storeys, rows, channels, columns = losses.shape
    bands = channels - 2
    least = np.float32(10.0 ** (-3.0 * DEEPEST_DB / 10.0))
    power = np.empty(columns, dtype=np.float32)
    bits = power.view(np.int32)
    for s in range(storeys):
        for j in range(rows):
            for b in range(bands):
                wave = field[s, j, 4 * b : 4 * b + 4]
                ur, ui, lr, li = wave[0], wave[1], wave[2], wave[3]
                for i in range(columns):
                    total = ur[i] * ur[i] + ui[i] * ui[i] + lr[i] * lr[i] + li[i] * li[i]
                    power[i] = max(total, least)
                decibels(power, bits)
                losses[s, j, b] = -power
            losses[s, j, bands] = field[s, j, 4 * bands]
            losses[s, j, bands + 1] = field[s, j, 4 * bands + 1]
