"""Margins of a straight run in a wall, tabulated over length and tap so that many runs cost little."""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import NDArray

from rehaul.copper.elements import Cord, Element, Jack, Line, Section, Splice, Tap
from rehaul.copper.margin import margin_db
from rehaul.facts.cables import CableKind
from rehaul.facts.ethernet import ETHERNETS

Reals = NDArray[np.float64]

LENGTHS_M = np.array([1.0, 5.0, 10.0, 20.0, 30.0, 45.0, 60.0, 80.0, 100.0, 150.0, 250.0])
TAPS_M = np.array([0.0, 0.3, 1.0, 2.0, 4.0, 10.0, 25.0])
NEAR_CORD_M, FAR_CORD_M = 1.0, 3.0


def run_line(
    kind: CableKind, length_m: float, *, tap_m: float = 0.0, splices: int = 0, pairs: int = 4
) -> Line:
    """A run with a jack and cord at each end, splices and one tap in its middle.

    Parameters: cable kind; length_m in the wall; tap_m, 0 for none; splices; pairs. Returns the line.

    **Validity**: cords of the same kind, 1 m at the rack and 3 m in the room.
    **Source**: common practice for homes.
    """
    cord_kind: CableKind = "cat5e" if kind in ("quad", "cat3", "cat5") else kind
    half = Section(kind, length_m / 2.0)
    middle: tuple[Element, ...] = (Tap(tap_m, kind),) if tap_m > 0 else ()
    middle += (Splice(),) * splices
    jack = Jack(cord_kind)
    return Line(
        (Cord(cord_kind, NEAR_CORD_M), jack, half, *middle, half, jack, Cord(cord_kind, FAR_CORD_M)), pairs
    )


@cache
def margin_table_db(kind: CableKind) -> Reals:
    """Margins of a cable kind, in dB [ethernet, length, tap] over ETHERNETS, LENGTHS_M and TAPS_M."""
    table = np.empty((len(ETHERNETS), LENGTHS_M.size, TAPS_M.size))
    for i, length_m in enumerate(LENGTHS_M):
        for j, tap_m in enumerate(TAPS_M):
            line = run_line(kind, float(length_m), tap_m=float(tap_m))
            table[:, i, j] = [margin_db(line, ethernet) for ethernet in ETHERNETS]
    table.flags.writeable = False
    return table


def margins_db(kind: CableKind, length_m: Reals, tap_m: Reals) -> Reals:
    """Margins by interpolation in the table, in dB [ethernet, n]; lengths and taps [n] in metres."""
    table = margin_table_db(kind)
    row, across = _place(LENGTHS_M, length_m)
    column, along = _place(TAPS_M, tap_m)
    near = table[:, row, column] * (1 - across) + table[:, row + 1, column] * across
    far = table[:, row, column + 1] * (1 - across) + table[:, row + 1, column + 1] * across
    return np.asarray(near * (1 - along) + far * along)


def _place(grid: Reals, value: Reals) -> tuple[NDArray[np.intp], Reals]:
    """Cell and fraction within it; outside the grid the edge counts."""
    clipped = np.clip(value, grid[0], grid[-1])
    cell = np.clip(np.searchsorted(grid, clipped, side="right") - 1, 0, grid.size - 2)
    return cell, (clipped - grid[cell]) / (grid[cell + 1] - grid[cell])
