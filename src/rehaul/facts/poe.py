"""Power over Ethernet: classes, pairsets, limits and the heat of bundles."""

from __future__ import annotations

from functools import cache
from typing import ClassVar

from rehaul.errors import BadInput
from rehaul.facts.table import FactRow, load
from rehaul.words import say


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
    """Classes of power over Ethernet by number, weakest first: watts, volts, pairsets and current.

    **Source**: the fact table `poe_classes` (IEEE 802.3af, at and bt as quoted).
    """
    return {row.poe_class: row for row in load(PoeRow)}


def poe_class_row(poe_class: int) -> PoeRow:
    """The row of one class of power over Ethernet. Raises BadInput, which lists the classes, for another.

    **Source**: the fact table `poe_classes` (IEEE 802.3af, at and bt as quoted).

    >>> row = poe_class_row(4)
    >>> row.source_w, row.device_w
    (30.0, 25.5)
    """
    rows = poe_classes()
    if poe_class not in rows:
        raise BadInput(
            say("refused_facts.no_poe_class", poe_class=poe_class),
            where="poe_class",
            remedy=say("refused_facts.use_one_of_list", known=str(sorted(rows))),
        )
    return rows[poe_class]


@cache
def poe_rule(name: str) -> float:
    """One rule of powering that no class changes, by name, in the unit of its row.

    Raises KeyError for a name the table has not. **Source**: the fact table `poe_rules` (TIA TSB-184-A as
    quoted, and practice; docs/power.md).

    >>> poe_rule("bundle rise")  # kelvin
    15.0
    """
    return {row.name: row.value for row in load(PoeRuleRow)}[name]
