"""The E24 series of preferred resistor values."""

from __future__ import annotations

from functools import cache
from typing import ClassVar

from rehaul.facts.table import FactRow, load


class ResistorRow(FactRow):
    """One value of a decade of the E24 series."""

    table: ClassVar[str] = "resistors_e24"
    decides: ClassVar[str] = "which resistors mark the ends of unknown cables"
    mantissa: float


@cache
def e24_mantissas() -> tuple[float, ...]:
    """The 24 values between 1 and 10."""
    return tuple(row.mantissa for row in load(ResistorRow))
