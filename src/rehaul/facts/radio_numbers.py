"""Single numbers of propagation in a house, and how antennas radiate by their mounting."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import ClassVar, Literal

from pydantic import Field

from rehaul.facts.table import FactRow, load

Mounting = Literal["isotropic", "ceiling", "wall", "desk"]


class RadioNumber(FactRow):
    """One named number with its unit."""

    table: ClassVar[str] = "radio_numbers"
    decides: ClassVar[str] = "how far predictions spread, and what bodies and hands take off"

    name: str
    value: float
    unit: str


class PatternPoint(FactRow):
    """Level in one direction, against the strongest, at an angle from the axis of the mounting.

    The axis points down from a ceiling, out from a wall, up from a desk.
    """

    table: ClassVar[str] = "antenna_patterns"
    decides: ClassVar[str] = "where under or beside an access point a room is served, and where it is not"

    mounting: Mounting
    angle_deg: float = Field(ge=0, le=180)
    relative_db: float = Field(le=0)


@cache
def radio_numbers() -> Mapping[str, float]:
    """Value of each single number of propagation by name, in the unit of its row, read only.

    **Source**: the fact table `radio_numbers`, measured sets and practice (docs/radio.md).

    >>> radio_numbers()["shadowing_near_sd"]  # decibels
    4.0
    """
    return MappingProxyType({row.name: row.value for row in load(RadioNumber)})


@cache
def crossings_together() -> float:
    """How far two crossings of one construction in one house err together, 0 to 1.

    What all crossings of a house share, and what those of one construction share besides. **Source**:
    docs/radio.md, "Uncertainty".
    """
    house, kind = radio_numbers()["crossing_correlation"], radio_numbers()["kind_shared"]
    return house + (1.0 - house) * kind


@cache
def pattern_points(mounting: Mounting) -> tuple[PatternPoint, ...]:
    """How an antenna radiates by its mounting, as points of a table that rises in angle.

    Each is a level against the strongest [dB] at an angle from the axis [degrees]. **Validity**: usual
    shapes, no product's. **Source**: the fact table `antenna_patterns`.

    >>> [point.relative_db for point in pattern_points("isotropic")]
    [0.0, 0.0]
    """
    return tuple(row for row in load(PatternPoint) if row.mounting == mounting)
