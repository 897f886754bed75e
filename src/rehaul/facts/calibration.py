"""Spreads that say how much a reading may differ from a prediction, and why."""

from __future__ import annotations

from functools import cache
from typing import ClassVar

from rehaul.facts.table import Row, load


class CalibrationNumber(Row):
    """One named number with its unit."""

    table: ClassVar[str] = "calibration_numbers"
    name: str
    value: float
    unit: str


@cache
def calibration_number(name: str) -> float:
    """One number by name."""
    return {row.name: row.value for row in load(CalibrationNumber)}[name]
