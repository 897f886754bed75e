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
    """One number of DSL on the pairs of a house by name: `velocity` (share of light's), `band top` [Hz].

    Raises KeyError for another name. **Source**: the fact table `dsl_numbers` (ITU-T G.993.2; the velocity
    is from memory).
    """
    return {row.name: row.value for row in load(DslNumber)}[name]
