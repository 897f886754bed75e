"""Why a house is slow: causes, how often each is the one, and the spreads of what is read."""

from __future__ import annotations

from functools import cache
from typing import ClassVar, Literal

from rehaul.facts.table import FactRow, load

Cause = Literal[
    "plan",
    "modem",
    "pair open",
    "half duplex",
    "wireless hop",
    "old device",
    "neighbour",
    "wrong access point",
    "walls",
]


class CauseRow(FactRow):
    """One cause: how often it is the one before anything is read, and what to do."""

    table: ClassVar[str] = "causes"
    decides: ClassVar[str] = "which cause of a slow house is thought of first, and which remedy is named"
    cause: Cause
    prior: float  # how often it turns out to be the cause, where it was felt
    felt: float  # share of all houses in which it would be felt, computed over drawn ones
    narrowest: str  # the link that is the narrowest, for people
    says: str
    remedy: str


class DiagnosisNumber(FactRow):
    """One named number with its unit."""

    table: ClassVar[str] = "diagnosis_numbers"
    decides: ClassVar[str] = "how much each reading says about the cause of a slow house"
    name: str
    value: float
    unit: str


@cache
def causes() -> dict[Cause, CauseRow]:
    """Causes of a slow house by name, in the order of the table: how often each is the one, and what to do.

    `prior` is a share of the houses that complain, `felt` one of all houses in which it would be felt.
    **Validity**: judgement, not counted cases. **Source**: the fact table `causes`.
    """
    return {row.cause: row for row in load(CauseRow)}


@cache
def diagnosis_number(name: str) -> float:
    """One number of the diagnosis by name, in the unit of its row.

    Spreads of what is read, and the ends of what is usual. `ln` as a unit is of the natural logarithm of a
    rate. Raises KeyError for a name the table has not. **Source**: the fact table `diagnosis_numbers`,
    common practice throughout.
    """
    return {row.name: row.value for row in load(DiagnosisNumber)}[name]
