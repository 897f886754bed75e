"""Power over Ethernet: classes, pairsets, limits and the heat of bundles."""

from __future__ import annotations

from functools import cache
from typing import ClassVar

from rehaul.errors import BadInput
from rehaul.facts.table import FactRow, load


class PoeRow(FactRow):
    """One class: power at the source and the device, least source voltage, pairs and current."""

    table: ClassVar[str] = "poe_classes"
    decides: ClassVar[str] = "whether a box gets its power over an old cable"
    poe_class: int
    source_w: float
    device_w: float
    source_min_v: float
    device_min_v: float
    pairsets: int  # a pairset is two pairs: one out, one back
    pairset_a: float  # continuous current limit of one pairset
    channel_ohm: float  # loop resistance of one pairset the standard allows


class PoeRuleRow(FactRow):
    """One rule of powering that no class changes."""

    table: ClassVar[str] = "poe_rules"
    decides: ClassVar[str] = "how much of a switch's power is used, and how warm a bundle may get"
    name: str
    value: float
    unit: str


@cache
def poe_classes() -> dict[int, PoeRow]:
    """PoE classes by number, weakest first."""
    return {row.poe_class: row for row in load(PoeRow)}


def poe_class_row(poe_class: int) -> PoeRow:
    """The row of one class; refuses a class the table does not hold."""
    rows = poe_classes()
    if poe_class not in rows:
        raise BadInput(
            f"there is no PoE class {poe_class}", where="poe_class", remedy=f"Use one of {sorted(rows)}"
        )
    return rows[poe_class]


@cache
def poe_rule(name: str) -> float:
    """One rule of powering by name."""
    return {row.name: row.value for row in load(PoeRuleRow)}[name]
