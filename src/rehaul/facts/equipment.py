"""Boxes by generic class: ports, power, height in the rack, battery, and an invented price."""

from __future__ import annotations

from functools import cache
from typing import ClassVar, Literal

from pydantic import Field

from rehaul.errors import BadInput
from rehaul.facts.table import FactRow, load
from rehaul.words import say

EquipmentKind = Literal["access point", "router", "switch", "battery", "panel", "rack", "modem"]


class Equipment(FactRow):
    """One generic class of box."""

    table: ClassVar[str] = "equipment"
    decides: ClassVar[str] = "which boxes may be bought, with how many ports and watts"
    name: str
    label: str  # for people
    kind: EquipmentKind
    ports: int = Field(ge=0)
    port_mbps: float = Field(ge=0)
    poe_budget_w: float = Field(ge=0)  # what a switch can give
    poe_class: int = Field(ge=0, le=8)  # what a device asks for, or a switch port gives at most
    rack_u: int = Field(ge=0)
    draw_w: float = Field(ge=0)  # a switch without its PoE loads
    battery_v: float = Field(ge=0)
    battery_ah: float = Field(ge=0)
    price: float = Field(ge=0)  # invented


@cache
def equipment() -> dict[str, Equipment]:
    """Generic classes of boxes by name, in the order of the table: ports, watts, rack units, battery, price.

    **Validity**: classes, not products; prices are invented. **Source**: the fact table `equipment`.
    """
    return {row.name: row for row in load(Equipment)}


@cache
def equipment_of(kind: EquipmentKind) -> tuple[Equipment, ...]:
    """Classes of one kind of box, cheapest first; of one price, in the order of the table.

    Empty for a kind without a class. **Validity**: prices are invented. **Source**: the fact table
    `equipment`.
    """
    return tuple(sorted((row for row in load(Equipment) if row.kind == kind), key=lambda row: row.price))


def equipment_named(name: str) -> Equipment:
    """One class of box by its name. Raises BadInput, which lists the known names, for another.

    **Source**: the fact table `equipment`, generic classes with invented prices.
    """
    try:
        return equipment()[name]
    except KeyError:
        raise BadInput(
            say("refused_facts.no_equipment", name=name),
            where="equipment",
            remedy=say("refused_common.use_one_of_these", known=list(equipment())),
        ) from None
