"""Practice values of tracing: meters, chances before anything is read, minutes and metres."""

from __future__ import annotations

from functools import cache
from typing import ClassVar

from rehaul.facts.table import FactRow, load


class TraceNumberRow(FactRow):
    """One practice value of tracing old cable."""

    table: ClassVar[str] = "trace_numbers"
    decides: ClassVar[str] = "which answer the tracing of unknown cables believes, and how long it takes"
    name: str
    value: float
    unit: str


@cache
def trace_number(name: str) -> float:
    """The practice value of this name, in the unit its row states: ohms, metres, minutes, chances.

    Raises KeyError for a name the table has not. **Source**: the fact table `trace_numbers`, trade
    judgement (docs/trace.md).
    """
    return {row.name: row.value for row in load(TraceNumberRow)}[name]
