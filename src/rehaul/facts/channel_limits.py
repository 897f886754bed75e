"""Limit lines of cabling standards: coefficients of the printed formulas, by class and quantity."""

from __future__ import annotations

from functools import cache
from typing import ClassVar, Literal

from rehaul.facts.table import FactRow, load

ChannelQuantity = Literal[
    "cable insertion loss",
    "insertion loss",
    "cable NEXT",
    "NEXT",
    "PSNEXT",
    "ELFEXT",
    "PSELFEXT",
    "return loss",
    "delay",
]
LimitForm = Literal["loss", "two terms", "decade", "delay"]


class LimitRow(FactRow):
    """One limit line; what a, b, c, d mean depends on the form (see `rehaul.copper.limits`)."""

    table: ClassVar[str] = "channel_limits"
    decides: ClassVar[str] = "whether a line as surveyed meets a cabling class, and by how much"
    line: str
    quantity: ChannelQuantity
    form: LimitForm
    a: float
    b: float
    c: float = 0.0
    d: float = 0.0
    scale: float = 1.0
    cap: float = 0.0
    low_hz: float
    high_hz: float


@cache
def channel_limits() -> dict[tuple[str, ChannelQuantity], LimitRow]:
    """Limit lines of cabling standards by (line, quantity), such as ("cat5e", "cable insertion loss").

    Each row holds coefficients and a span [Hz]; `rehaul.copper.limits` turns them into decibels, and says
    what a, b, c, d mean in each form. **Validity**: from `low_hz` to `high_hz`. **Source**: the fact table
    `channel_limits`; some rows rest on memory, and say so (docs/facts.md).
    """
    return {(row.line, row.quantity): row for row in load(LimitRow)}
