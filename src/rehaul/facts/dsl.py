"""DSL on pairs of a house: numbers."""

from __future__ import annotations

from functools import cache
from typing import ClassVar

from rehaul.facts.table import FactRow, load


class DslNumber(FactRow):
    """One number of DSL on pairs of a house, with its unit."""

    table: ClassVar[str] = "dsl_numbers"
    decides: ClassVar[str] = "which old branches of a telephone line are told to hurt DSL"
    name: str
    value: float
    unit: str


@cache
def dsl_number(name: str) -> float:
    """One number by name."""
    return {row.name: row.value for row in load(DslNumber)}[name]
