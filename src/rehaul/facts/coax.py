"""Coax in house walls: cable loss, splitters, and the path loss data over coax can bear."""

from __future__ import annotations

from functools import cache
from typing import ClassVar, Literal

from rehaul.facts.table import Row, load

CoaxKind = Literal["RG-6", "RG-59"]


class CoaxRow(Row):
    """One kind of coax: loss per 100 m at a frequency; it grows as the root of frequency."""

    table: ClassVar[str] = "coax_kinds"
    kind: CoaxKind
    loss_db: float  # per 100 m
    at_hz: float


class SplitterRow(Row):
    """One splitter: loss from input to an output, and from one output to another."""

    table: ClassVar[str] = "coax_splitters"
    ways: int
    loss_db: float
    across_db: float


class CoaxLimitRow(Row):
    """One figure of data over coax."""

    table: ClassVar[str] = "coax_limits"
    name: str
    value: float
    unit: str


@cache
def coax_kinds() -> dict[CoaxKind, CoaxRow]:
    """Coax by kind."""
    return {row.kind: row for row in load(CoaxRow)}


@cache
def splitters() -> dict[int, SplitterRow]:
    """Splitters by number of ways."""
    return {row.ways: row for row in load(SplitterRow)}


@cache
def coax_limit(name: str) -> float:
    """One figure of data over coax by name."""
    return {row.name: row.value for row in load(CoaxLimitRow)}[name]
