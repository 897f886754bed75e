"""Spreads that say how much a reading may differ from a prediction, and why."""

from __future__ import annotations

from functools import cache
from typing import ClassVar

from rehaul.facts.spectrum import BandGhz
from rehaul.facts.table import FactRow, load


class CalibrationNumber(FactRow):
    """One named number with its unit."""

    table: ClassVar[str] = "calibration_numbers"
    decides: ClassVar[str] = "how far readings pull the predictions of a house, and which is asked next"
    name: str
    value: float
    unit: str


class MeasuredLevel(FactRow):
    """What devices in sight of a box read, beyond what the classes of both say."""

    table: ClassVar[str] = "measured_levels"
    decides: ClassVar[str] = "how much louder or softer than its class a device's readings are taken"
    band: BandGhz
    level_db: float


@cache
def measured_level_db(band: BandGhz) -> float:
    """What devices in sight of a box read beyond the powers and antennas of both classes [dB]; below 0: less.

    `band` is "2.4", "5" or "6". **Validity**: phones in hand in three buildings; none was measured at 6
    GHz, which has the level of 5 GHz. **Source**: the fact table `measured_levels` (docs/calibration.md).
    """
    return next(row.level_db for row in load(MeasuredLevel) if row.band == band)


@cache
def calibration_number(name: str) -> float:
    """One number of the calibration by name, in the unit of its row.

    Spreads are in dB, reaches in metres, shares from 0 to 1. Raises KeyError for a name the table has not.
    **Source**: the fact table `calibration_numbers`, mostly computed from measured sets
    (docs/calibration.md).
    """
    return {row.name: row.value for row in load(CalibrationNumber)}[name]
