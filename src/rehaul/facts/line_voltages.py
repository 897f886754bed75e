"""What a voltage on a pair looks like, and below which it counts as dead."""

from __future__ import annotations

from functools import cache
from typing import ClassVar, Literal

from rehaul.errors import OutOfRange
from rehaul.facts.table import FactRow, load
from rehaul.words import say

Current = Literal["dc", "ac"]


class LineVoltageRow(FactRow):
    """A span of volts on a pair, the lower edge inside, and what is usually behind it."""

    table: ClassVar[str] = "line_voltages"
    decides: ClassVar[str] = "whether a voltage on a pair is called dead, a telephone line, a bell or mains"
    current: Current
    from_v: float
    below_v: float | None = None  # None: no upper edge
    quiet: bool
    looks_like: str
    do: str = ""


@cache
def line_voltages() -> tuple[LineVoltageRow, ...]:
    """Spans of volts on a pair and what is usually behind each, direct current first, rising.

    The lower edge of a span is inside, the upper is not; the last of each current has none. **Source**: the
    fact table `line_voltages`, manuals and trade judgement.
    """
    return load(LineVoltageRow)


def line_voltage(current: Current, volts: float) -> LineVoltageRow:
    """The span that a voltage on a pair falls in.

    `volts` is without its sign [V], as a meter on that current shows. Raises OutOfRange for less than 0 V
    and for no number. **Validity**: what it looks like, not proof of what it is. **Source**: the fact table
    `line_voltages`.

    >>> line_voltage("dc", 48.0).looks_like
    'a telephone line at rest'
    """
    for row in line_voltages():
        if row.current == current and row.from_v <= volts and (row.below_v is None or volts < row.below_v):
            return row
    raise OutOfRange(
        say("refused_facts.signed_voltage", volts=volts),
        where=say("refused_facts.where_volts", current=current),
        remedy=say("refused_facts.give_volts"),
    )
