"""Separation from power wiring and bonding, by country: what to check, and in which edition."""

from __future__ import annotations

from functools import cache
from typing import ClassVar, Literal

from rehaul.facts.table import FactRow, load

SeparationRule = Literal[
    "separation from power", "separation at a distance", "same box as power", "bonding conductor"
]


class SeparationRow(FactRow):
    """One check by country. `least` is the smallest value allowed, in `unit`."""

    table: ClassVar[str] = "separation"
    decides: ClassVar[str] = "how far data cables keep from mains, and which earth wire a rack gets"
    country: str
    check: SeparationRule
    least: float
    unit: Literal["m", "mm2", "AWG", "none"]
    applies_to: str
    relaxed_by: str = ""


@cache
def separation_checks(country: str) -> tuple[SeparationRow, ...]:
    """Checks of separation from mains and of bonding for one country, and those common to all.

    `country` is `US`, `EU`, `UK` or `AU`; for any other only the common ones come back. **Validity**:
    advice, in the edition that the row names; local code rules. **Source**: the fact table `separation`.
    """
    rows = load(SeparationRow)
    return tuple(row for row in rows if row.country in (country, "any"))
