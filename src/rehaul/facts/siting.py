"""Where access points are put, what an old run must carry to feed one, and how much longer a pull is."""

from __future__ import annotations

from functools import cache
from typing import ClassVar

from rehaul.facts.table import FactRow, load


class SitingNumber(FactRow):
    """One named number of the placing of access points, with its unit."""

    table: ClassVar[str] = "siting"
    decides: ClassVar[str] = "where in a room a box may hang or stand"

    name: str
    value: float
    unit: str
    meaning: str


@cache
def siting_number(name: str) -> float:
    """One number of the placing of access points by name, in the unit of its row, mostly metres.

    Raises KeyError for a name the table has not. **Source**: the fact table `siting`, trade judgement.

    >>> siting_number("wall_height")
    1.9
    """
    return {row.name: row.value for row in load(SitingNumber)}[name]
