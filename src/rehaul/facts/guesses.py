"""What an unnamed wall most likely is, and the stretch of spectrum a band is averaged over."""

from __future__ import annotations

from functools import cache
from typing import ClassVar

from rehaul.facts.spectrum import Band
from rehaul.facts.table import Row, load


class WallGuess(Row):
    """Most likely construction of a wall up to a thickness, and what the guess adds to its spread."""

    table: ClassVar[str] = "house_guesses"
    thickest_m: float
    wall: str
    extra_sd_db: float


class PredictionBand(Row):
    """Centre and width that stand for one band before channels are chosen."""

    table: ClassVar[str] = "prediction_bands"
    band: Band
    centre_mhz: float
    width_mhz: float


@cache
def prediction_bands() -> dict[Band, PredictionBand]:
    """Rows by band."""
    return {row.band: row for row in load(PredictionBand)}


def wall_guess(thickness_m: float | None) -> WallGuess:
    """The row for a wall of that thickness; a wall without one counts as thin."""
    rows = load(WallGuess)
    return next(row for row in rows if (thickness_m or 0.1) <= row.thickest_m)
