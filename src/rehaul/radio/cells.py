"""From receivers to cells: the mean power of the receivers in each cell of a grid."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Floats
from rehaul.kernels.loops import compiled
from rehaul.radio.decibels import POWER_SHIFT_DB, decibels, powers

Decibels = NDArray[np.float32]


def over_cells(gain: Decibels, sd: Decibels, parts: int) -> tuple[Decibels, Decibels]:
    """Mean power [dB] and mean spread of cells of parts by parts receivers.

    Parameters: `gain` (band, storey, parts y, parts x), `sd` with as many or one band. Returns the
    same with one value a cell.
    """
    bands, storeys, rows, columns = gain.shape
    cells = np.empty((bands, storeys, rows // parts, columns // parts), dtype=np.float32)
    spreads = np.empty((len(sd), *cells.shape[1:]), dtype=np.float32)
    _means(gain, parts, True, cells)
    _means(sd, parts, False, spreads)
    return cells, spreads


@compiled
def _means(values, parts, of_powers, cells):  # type: ignore[no-untyped-def]
    """Mean over every cell, of powers where the values are decibels."""
    bands, storeys, rows, columns = cells.shape
    total, line = np.empty(columns * parts, dtype=np.float32), np.empty(columns * parts, dtype=np.float32)
    shift = np.float32(POWER_SHIFT_DB if of_powers else 0.0)
    for b in range(bands):
        for s in range(storeys):
            for j in range(rows):
                total[:] = 0.0
                for row in range(j * parts, (j + 1) * parts):
                    fine = values[b, s, row]
                    for i in range(line.size):
                        line[i] = fine[i] + shift
                    if of_powers:
                        powers(line)
                    for i in range(line.size):
                        total[i] += line[i]
                cell = cells[b, s, j]
                cells_of(total, parts, cell)
                if of_powers:
                    decibels(cell)
                    for i in range(columns):
                        cell[i] -= shift


@compiled
def cells_of(total: Floats, parts: int, cells: Floats) -> None:
    """Means of a row of cells, to `cells` (nx,), from the sums over their rows of receivers (parts · nx,).

    Powers, not decibels, where a mean power is wanted.
    """
    share = np.float32(1.0 / (parts * parts))
    for i in range(cells.size):
        mean = np.float32(0.0)
        for part in range(i * parts, (i + 1) * parts):
            mean += total[part]
        cells[i] = share * mean
