"""Margins of a straight run in a wall, tabulated over length and tap so that many runs cost little."""

from __future__ import annotations

from functools import cache, lru_cache

import numpy as np
from numpy.typing import NDArray

from rehaul.copper.elements import Cord, Element, Jack, Line, Section, Splice, Tap
from rehaul.copper.equaliser import SMALL
from rehaul.copper.margin import margin_db
from rehaul.facts.cables import CableKind, cables
from rehaul.facts.conductors import copper_property
from rehaul.facts.ethernet import ETHERNETS, ethernet_needs

Reals = NDArray[np.float64]

LENGTHS_M = np.array([1.0, 10.0, 25.0, 45.0, 70.0, 100.0, 160.0])
TAPS_M = np.array([0.0, 0.25, 0.5, 1.0, 1.5, 2.0, 3.0, 4.0, 6.0, 8.0, 10.0, 13.0, 16.0, 20.0, 30.0])
NO_PAIRS_DB = -100.0
Cases = tuple[tuple[float, ...], ...]
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
def _one_tap_db(kind: CableKind, tap_m: float) -> Reals:
    """Margins of a typical cable and a simple port, one tap of the grid, in dB [ethernet, length]."""
    advantage_db = copper_property("typical crosstalk advantage")
    lines = [run_line(kind, float(length_m), tap_m=tap_m) for length_m in LENGTHS_M]
    return np.array(
        [
            [margin_db(line, e, SMALL, advantage_db=advantage_db) for line in lines]
            if ethernet_needs()[e].pairs <= cables()[kind].pairs
            else [NO_PAIRS_DB] * len(lines)
            for e in ETHERNETS
        ]
    )


@lru_cache(maxsize=4096)
def _curves_db(kinds: tuple[CableKind, ...], cases: Cases) -> Reals:
    """Margins with any taps, in dB [kind, length, case, ethernet]: each tap costs what it costs alone."""
    curves = np.empty((len(kinds), LENGTHS_M.size, len(cases), len(ETHERNETS)))
    for i, kind in enumerate(kinds):
        clear = _one_tap_db(kind, 0.0)
        for j, taps_m in enumerate(cases):
            curves[i, :, j] = (clear + sum(_cost_db(kind, tap_m) for tap_m in taps_m)).T
    return curves


def _cost_db(kind: CableKind, tap_m: float) -> Reals:
    """What one tap adds to the margins, in dB [ethernet, length], between the taps of the grid."""
    cell, along = _place(TAPS_M, np.minimum(tap_m, TAPS_M[-1]))
    cost = np.zeros((len(ETHERNETS), LENGTHS_M.size))
    for step, share in ((0, 1.0 - along), (1, along)):
        if share > 0:
            cost += share * (_one_tap_db(kind, float(TAPS_M[cell + step])) - _one_tap_db(kind, 0.0))
    return cost


def margins_db(kinds: tuple[CableKind, ...], length_m: Reals, cases: Cases = ((),)) -> Reals:
    """Margins by interpolation, in dB [kind, n, case, ethernet].

    Parameters: kinds; length_m [kind, n] in the wall; for each case the lengths of all that hangs on
    the run. A kind without enough pairs gets NO_PAIRS_DB.

    **Validity**: from 1 to 160 m without taps within 2 dB of the direct margin, with a tap within
    2 dB in the mean (tests/twins); longer runs carry on the last slope, taps beyond 30 m count as 30 m.
    **Source**: `margin_db` on the grid.
    """
    curves = _curves_db(kinds, cases)
    row, across = _place(LENGTHS_M, np.maximum(length_m, LENGTHS_M[0]))
    kind = np.arange(len(kinds))[:, None]
    share = across[:, :, None, None]
    return np.asarray(curves[kind, row] * (1.0 - share) + curves[kind, row + 1] * share)


def _place(grid: Reals, value: Reals | float) -> tuple[NDArray[np.intp], Reals]:
    """Cell of the grid and fraction across it; the last cell also serves what lies beyond."""
    cell = np.clip(np.searchsorted(grid, value, side="right") - 1, 0, grid.size - 2)
    return np.asarray(cell), np.asarray((value - grid[cell]) / (grid[cell + 1] - grid[cell]))
