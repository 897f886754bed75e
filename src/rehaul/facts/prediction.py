"""How long an old cable is when nobody measured it, and when a room counts as served."""

from __future__ import annotations

from functools import cache
from typing import ClassVar

from rehaul.facts.table import FactRow, load


class PredictionNumber(FactRow):
    """One named number with its unit."""

    table: ClassVar[str] = "prediction_numbers"
    decides: ClassVar[str] = "how much longer a cable is than the way, and when a room counts as served"
    name: str
    value: float
    unit: str


@cache
def prediction_number(name: str) -> float:
    """One number by name."""
    return {row.name: row.value for row in load(PredictionNumber)}[name]
