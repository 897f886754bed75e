"""Electrical properties of building materials, as power laws of frequency."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import ClassVar, Literal

from pydantic import Field, model_validator

from rehaul.errors import BadInput
from rehaul.facts.table import FactRow, load
from rehaul.words import say


class Material(FactRow):
    """One material: a bulk (permittivity, conductivity c·f^d) or a conducting sheet without thickness."""

    table: ClassVar[str] = "materials"
    decides: ClassVar[str] = "how much each building material takes off the radio, by thickness and frequency"

    name: str
    kind: Literal["bulk", "sheet"]
    permittivity: float = Field(default=1.0, ge=1.0)  # relative, real part
    conductivity_at_1_ghz: float = Field(default=0.0, ge=0.0)  # S/m
    conductivity_exponent: float = 0.0
    sheet_resistance_ohm: float = Field(default=0.0, ge=0.0)  # per square
    sheet_inductance_h: float = Field(default=0.0, ge=0.0)  # per square
    low_hz: float = Field(gt=0)
    high_hz: float = Field(gt=0)

    @model_validator(mode="after")
    def _sheet_impedes(self) -> Material:
        if self.kind == "sheet" and self.sheet_resistance_ohm + self.sheet_inductance_h == 0:
            raise ValueError("a sheet needs a resistance or an inductance")
        return self


@cache
def materials() -> Mapping[str, Material]:
    """All building materials by name, read only: permittivity and conductivity as power laws of frequency.

    **Validity**: from each row's `low_hz` to its `high_hz`. **Source**: the fact table `materials`, most of
    it ITU-R P.2040 (docs/radio.md).
    """
    return MappingProxyType({row.name: row for row in load(Material)})


def material(name: str) -> Material:
    """The material called `name`. Raises BadInput, which lists the known names, for another.

    **Validity**: from its `low_hz` to its `high_hz`. **Source**: the fact table `materials` (ITU-R P.2040).

    >>> material("concrete").permittivity
    5.24
    """
    try:
        return materials()[name]
    except KeyError:
        raise BadInput(
            say("refused_facts.no_material", name=name),
            where="material",
            remedy=say("refused_common.use_one_of_these", known=list(materials())),
        ) from None
