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
    """What is read in a band beyond the powers and antennas of the classes [dB]; below nought: less."""
    return next(row.level_db for row in load(MeasuredLevel) if row.band == band)


@cache
def calibration_number(name: str) -> float:
    """One number by name."""
    return {row.name: row.value for row in load(CalibrationNumber)}[name]
