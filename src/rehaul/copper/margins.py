"""Margins of a straight run in a wall, tabulated over length and tap so that many runs cost little."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Reals
from rehaul.copper.elements import CableSection, Cord, Element, Jack, Line, Splice, Tap
from rehaul.copper.equaliser import SMALL
from rehaul.copper.margin import margin_db
from rehaul.facts.cables import PairCableKind, cable
from rehaul.facts.conductors import copper_property
from rehaul.facts.ethernet import ETHERNETS, ethernet_needs

LENGTHS_M = np.array([1.0, 10.0, 25.0, 45.0, 70.0, 100.0, 160.0])
TAPS_M = np.array([0.0, 0.25, 0.5, 1.0, 1.5, 2.0, 3.0, 4.0, 6.0, 8.0, 10.0, 13.0, 16.0, 20.0, 30.0])
NO_PAIRS_DB = -100.0
Cases = tuple[tuple[float, ...], ...]


def run_line(
    kind: PairCableKind, length_m: float, *, taps_m: tuple[float, ...] = (), splices: int = 0, pairs: int = 4
) -> Line:
    """A run with a jack and cord at each end, its taps spread evenly and its splices beside the first part.

    Parameters: cable kind; length_m in the wall; taps_m of what hangs on it; splices; pairs. Returns
    the line.

    **Validity**: cords 1 m at the rack and 3 m in the room, of Category 5e on poorer cable.
    **Source**: common practice for homes.
    """
    cord_kind = cable(kind).cord_kind
    jack = Jack(cord_kind)
    parts = max(len(taps_m) + 1, 2)
    part = CableSection(kind, length_m / parts)
    joints: tuple[Element, ...] = (Splice(),) * splices
    wall: tuple[Element, ...] = (part, *joints)
    for tap_m in taps_m:
        wall += (Tap(tap_m, kind), part)
    if not taps_m:
        wall += (part,)
    near, far = (Cord(cord_kind, copper_property(f"{end} cord")) for end in ("rack", "room"))
    return Line((near, jack, *wall, jack, far), pairs)


@lru_cache(maxsize=8192)
def _direct_db(kind: PairCableKind, taps_m: tuple[float, ...], row: int) -> Reals:
    """Margins of a typical cable of the grid and a simple port with these taps, in dB [ethernet]."""
    advantage_db = copper_property("typical crosstalk advantage")
    line = run_line(kind, float(LENGTHS_M[row]), taps_m=taps_m)
    return np.array(
        [
            margin_db(line, e, SMALL, advantage_db=advantage_db)
            if ethernet_needs()[e].pairs <= cable(kind).pairs
            else NO_PAIRS_DB
            for e in ETHERNETS
        ]
    )


def _one_tap_db(kind: PairCableKind, tap_m: float, row: int) -> Reals:
    """Margins with one tap, between the taps of the grid, in dB [ethernet]."""
    cell, along = _place(TAPS_M, np.minimum(tap_m, TAPS_M[-1]))
    margin = np.zeros(len(ETHERNETS))
    for step, share in ((0, 1.0 - along), (1, along)):
        if share > 0:
            grid_m = float(TAPS_M[cell + step])
            margin += share * _direct_db(kind, (grid_m,) if grid_m > 0 else (), row)
    return margin


def _any_taps_db(kind: PairCableKind, taps_m: tuple[float, ...], row: int) -> Reals:
    """Margins with any taps, in dB [ethernet]; echoes of echoes cost more than each tap alone."""
    if not taps_m:
        return _direct_db(kind, (), row)
    alone = [_one_tap_db(kind, tap_m, row) for tap_m in taps_m]
    if len(taps_m) == 1:
        return alone[0]
    on_grid = tuple(float(TAPS_M[np.argmin(np.abs(TAPS_M - tap_m))]) for tap_m in taps_m)
    together = _direct_db(kind, tuple(tap_m for tap_m in on_grid if tap_m > 0), row)
    return np.asarray(np.min([*alone, together], axis=0))


@lru_cache(maxsize=4096)
def _curves_db(kinds: tuple[PairCableKind, ...], cases: Cases, rows: tuple[int, ...]) -> Reals:
    """Margins of several kinds and cases of taps, in dB [kind, length, case, ethernet]; 0 off these rows."""
    curves = np.zeros((len(kinds), LENGTHS_M.size, len(cases), len(ETHERNETS)))
    for number, kind in enumerate(kinds):
        for row in rows:
            curves[number, row] = [_any_taps_db(kind, taps_m, row) for taps_m in cases]
    return curves


def margins_db(kinds: tuple[PairCableKind, ...], length_m: Reals, cases: Cases = ((),)) -> Reals:
    """Margins by interpolation, in dB [kind, n, case, ethernet].

    Parameters: kinds; length_m [kind, n] in the wall; for each case the lengths of all that hangs on
    the run. A kind without enough pairs gets NO_PAIRS_DB.

    **Validity**: from 1 to 160 m without taps within 2 dB of the direct margin, with a tap within
    2 dB in the mean (tests/twins); longer runs carry on the last slope, taps beyond 30 m count as 30 m.
    **Source**: `margin_db` on the grid.
    """
    row, across = _place(LENGTHS_M, np.maximum(length_m, LENGTHS_M[0]))
    asked = {*row.ravel().tolist(), *(row[across != 0] + 1).tolist()}  # none that no run lies beside
    curves = _curves_db(kinds, cases, tuple(sorted(asked)))
    kind = np.arange(len(kinds))[:, None]
    share = across[:, :, None, None]
    return np.asarray(curves[kind, row] * (1.0 - share) + curves[kind, row + 1] * share)


def _place(grid: Reals, value: Reals | float) -> tuple[NDArray[np.intp], Reals]:
    """Cell of the grid and fraction across it; the last cell also serves what lies beyond."""
    cell = np.clip(np.searchsorted(grid, value, side="right") - 1, 0, grid.size - 2)
    return np.asarray(cell), np.asarray((value - grid[cell]) / (grid[cell + 1] - grid[cell]))
