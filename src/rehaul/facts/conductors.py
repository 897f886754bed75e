"""Copper conductors by gauge: resistance per length, diameter, temperature coefficients."""

from __future__ import annotations

from functools import cache
from typing import ClassVar

from rehaul.errors import BadInput
from rehaul.facts.table import FactRow, load
from rehaul.words import say


class ConductorRow(FactRow):
    """One gauge of solid annealed copper at 20 °C."""

    table: ClassVar[str] = "conductors"
    decides: ClassVar[str] = "how long a pair is by its resistance, and how much power is lost on it"
    awg: int
    resistance_ohm: float  # one conductor, per kilometre
    diameter_m: float


class CopperRow(FactRow):
    """One property of copper lines that no gauge changes."""

    table: ClassVar[str] = "copper_properties"
    decides: ClassVar[str] = "how joints, cords, warmth and old taps count in the verdict on a cable"
    name: str
    value: float
    unit: str


@cache
def conductors() -> dict[int, ConductorRow]:
    """Solid annealed copper conductors by American wire gauge.

    Ohms are per kilometre of one conductor, the diameter in metres. **Validity**: direct current at 20 °C.
    **Source**: the fact table `conductors` (ASTM B258).
    """
    return {row.awg: row for row in load(ConductorRow)}


def conductor(awg: int) -> ConductorRow:
    """The row of one American wire gauge. Raises BadInput, which lists the gauges there are, for another.

    **Validity**: direct current at 20 °C; one conductor, so a pair out and back has twice that resistance.
    **Source**: the fact table `conductors` (ASTM B258).

    >>> conductor(24).resistance_ohm  # per kilometre
    84.2
    """
    rows = conductors()
    if awg not in rows:
        raise BadInput(
            say("refused_facts.no_resistance", awg=awg),
            where="awg",
            remedy=say("refused_common.use_one_of", known=sorted(rows)),
        )
    return rows[awg]


@cache
def copper_property(name: str) -> float:
    """One property of copper lines that no gauge changes, by name, in the unit of its row.

    Raises KeyError for a name the table has not. **Source**: the fact table `copper_properties`; more than
    half of its rows are trade judgement (docs/copper.md).

    >>> copper_property("resistance per kelvin")
    0.00393
    """
    return {row.name: row.value for row in load(CopperRow)}[name]
