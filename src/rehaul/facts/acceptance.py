"""What a run and a room must show before they count as accepted."""

from __future__ import annotations

from functools import cache
from typing import ClassVar

from rehaul.facts.table import FactRow, load


class AcceptanceNumber(FactRow):
    """One named limit with its unit."""

    table: ClassVar[str] = "acceptance_numbers"
    decides: ClassVar[str] = "when a finished cable and a measured room count as accepted"
    name: str
    value: float
    unit: str


@cache
def acceptance_number(name: str) -> float:
    """One limit of acceptance by its row's name, in the unit of that row.

    `soak_s` [s], `errors` and `air_repeats` (counts), `chance` (0 to 1). Raises KeyError for another name.
    **Source**: the fact table `acceptance_numbers`, trade judgement throughout (docs/facts.md).

    >>> acceptance_number("soak_s")
    600.0
    """
    return {row.name: row.value for row in load(AcceptanceNumber)}[name]
