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
    """One number of the prediction by name, in the unit of its row: metres, shares, factors on a length.

    Raises KeyError for a name the table has not. **Source**: the fact table `prediction_numbers`, trade
    judgement.
    """
    return {row.name: row.value for row in load(PredictionNumber)}[name]
