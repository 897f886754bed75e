"""Coax in house walls: cable loss, what a splitter is made of, and the path loss data over coax can bear."""

from __future__ import annotations

from functools import cache
from typing import ClassVar, Literal

from rehaul.facts.table import FactRow, load

CoaxKind = Literal["RG-6", "RG-59", "RG-11"]


class CoaxLossRow(FactRow):
    """One kind of coax: loss per 100 m at a frequency."""

    table: ClassVar[str] = "coax_losses"
    decides: ClassVar[str] = "how much a length of coax takes off, and so whether adapters reach each other"
    kind: CoaxKind
    at_hz: float
    loss_db: float  # per 100 m


class CoaxLimitRow(FactRow):
    """One figure of data over coax."""

    table: ClassVar[str] = "coax_limits"
    decides: ClassVar[str] = "whether data over coax is promised between two plates, and at which rate"
    name: str
    value: float
    unit: str


@cache
def coax_losses(kind: CoaxKind) -> tuple[CoaxLossRow, ...]:
    """Losses of one kind of coax [dB per 100 m], lowest frequency first.

    Empty for a kind that has no rows. Between and beyond the frequencies of the rows see
    `rehaul.copper.coax`. **Source**: the fact table `coax_losses`, quoted data sheets and memory.
    """
    return tuple(sorted((row for row in load(CoaxLossRow) if row.kind == kind), key=lambda row: row.at_hz))


@cache
def coax_limit(name: str) -> float:
    """One figure of data over coax by name, in the unit of its row: Hz, dB, Mb/s, metres.

    Raises KeyError for a name the table has not. **Source**: the fact table `coax_limits`; what rests on
    memory is listed in docs/facts.md.

    >>> coax_limit("last link loss")  # decibels between two adapters
    60.0
    """
    return {row.name: row.value for row in load(CoaxLimitRow)}[name]
