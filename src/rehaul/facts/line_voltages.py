"""What a voltage on a pair looks like, and below which it counts as dead."""

from __future__ import annotations

from functools import cache
from typing import ClassVar, Literal

from rehaul.errors import OutOfRange
from rehaul.facts.table import FactRow, load

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
    """All spans, direct current first, rising."""
    return load(LineVoltageRow)


def line_voltage(current: Current, volts: float) -> LineVoltageRow:
    """The span that a voltage [V, without its sign] falls in. Raises OutOfRange for less than 0 V."""
    for row in line_voltages():
        if row.current == current and row.from_v <= volts and (row.below_v is None or volts < row.below_v):
            return row
    raise OutOfRange(
        f"{volts:g} V is no voltage without its sign",
        where=f"{current} volts",
        remedy="Give it as 0 or more",
    )
