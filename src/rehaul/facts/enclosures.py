"""Heat and standby power: how cabinets shed heat, how hot places get, what batteries give."""

from __future__ import annotations

from functools import cache
from typing import ClassVar, Literal, get_args

from rehaul.facts.table import FactRow, load

Enclosure = Literal["open board", "cupboard", "flush wall can"]
EnclosurePlace = Literal["room", "cupboard", "basement", "attic in summer"]
ENCLOSURES: tuple[Enclosure, ...] = get_args(Enclosure)


class EnclosureRow(FactRow):
    """One kind of enclosure: heat it sheds through its faces per kelvin."""

    table: ClassVar[str] = "enclosures"
    decides: ClassVar[str] = "whether a cabinet gets too warm for what is put into it"
    enclosure: Enclosure
    conductance_w: float  # watts per kelvin, closed


class PlaceRow(FactRow):
    """One kind of place: the air temperature to plan for."""

    table: ClassVar[str] = "place_temperatures"
    decides: ClassVar[str] = "how warm cables and boxes are taken to get, by place"
    where: EnclosurePlace
    temperature_c: float


class StandbyRow(FactRow):
    """One figure of standby power and ventilation."""

    table: ClassVar[str] = "standby_power"
    decides: ClassVar[str] = "how long a battery carries the network, and when a closet needs air"
    name: str
    value: float
    unit: str


@cache
def enclosures() -> dict[Enclosure, EnclosureRow]:
    """Enclosures by kind, with the heat that each sheds through its faces [W/K] while closed.

    **Source**: the fact table `enclosures`, trade judgement.
    """
    return {row.enclosure: row for row in load(EnclosureRow)}


@cache
def place_temperatures() -> dict[EnclosurePlace, PlaceRow]:
    """Air temperatures to plan for [°C], by kind of place. **Source**: the fact table `place_temperatures`.

    They are warm days, not means: what stands there must bear them.
    """
    return {row.where: row for row in load(PlaceRow)}


@cache
def standby(name: str) -> float:
    """One figure of standby power or ventilation by name, in the unit of its row.

    Raises KeyError for a name the table has not. **Source**: the fact table `standby_power`, battery
    practice.

    >>> standby("equipment limit")  # °C
    40.0
    """
    return {row.name: row.value for row in load(StandbyRow)}[name]
