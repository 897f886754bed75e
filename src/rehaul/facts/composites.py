"""Layers that are not of one material all over: joists, studs, hollow blocks, by share of the area."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import ClassVar

from pydantic import Field, model_validator

from rehaul.facts.constructions import MixturePart
from rehaul.facts.materials import materials
from rehaul.facts.table import FactRow, load


class Composite(FactRow):
    """One composite layer: its solid part by share of the area, and what lies between, in shells or without.

    Outside its range of thickness a layer of that name is not known.
    """

    table: ClassVar[str] = "composites"
    decides: ClassVar[str] = "how much a joist floor, a stud wall or hollow blocks take off the radio"

    name: str
    label: str  # plain English, for people
    share: float = Field(gt=0, lt=1)  # of the area, that the solid part takes
    solid: str  # material
    solid_mm: float = Field(default=0.0, ge=0)  # how much of the thickness it fills; 0: all of it
    between: str  # material
    shell_mm: float = Field(ge=0)  # of the solid material, on each face, in front of what is between
    thinnest_mm: float = Field(gt=0)
    thickest_mm: float
    sd_db: float = Field(gt=0)  # standard deviation of the loss of a wall or floor with such a layer

    @model_validator(mode="after")
    def _can_be_built(self) -> Composite:
        for name in (self.solid, self.between):
            if name not in materials() or materials()[name].kind == "sheet":
                raise ValueError(f"{name!r} is no material with a thickness")
        if not max(2 * self.shell_mm, self.solid_mm) < self.thinnest_mm < self.thickest_mm:
            raise ValueError("the thinnest must hold its shells, and be thinner than the thickest")
        return self

    @property
    def filling(self) -> str:
        """The material of a layer that is too thin to be built so."""
        return self.between if self.solid_mm else self.solid

    def holds_at(self, thickness_m: float) -> bool:
        """Whether a layer of that thickness [m] is built so; both edges of the range count.

        What is thinner or thicker is of one material (`filling`), or not known. **Source**: the fact table
        `composites`; docs/radio.md, "Composite layers".
        """
        return self.thinnest_mm <= round(thickness_m * 1000, 6) <= self.thickest_mm

    def parts(self, thickness_m: float) -> tuple[MixturePart, MixturePart]:
        """What a layer of that thickness [m] is made of, part by part of its area: the solid first.

        Each part is its share of the area (they add to 1) and its layers as (material, mm) in the order a
        ray meets them, without empty ones. **Validity**: where `holds_at`; elsewhere layers may come out
        negative and are dropped. **Source**: the row of the fact table `composites`, building practice.
        """
        whole_mm = thickness_m * 1000
        filled_mm = self.solid_mm or whole_mm
        solid = [(self.solid, filled_mm), (self.between, whole_mm - filled_mm)]
        shell = (self.solid, self.shell_mm)
        rest = [shell, (self.between, whole_mm - 2 * self.shell_mm), shell]
        share = round(1.0 - self.share, 12)
        return (
            (self.share, tuple(layer for layer in solid if layer[1] > 0)),
            (share, tuple(layer for layer in rest if layer[1] > 0)),
        )


@cache
def composites() -> Mapping[str, Composite]:
    """Composite layers (joists, studs, hollow blocks) by name, read only.

    **Source**: the fact table `composites`, building practice; `materials` has what they are made of.
    """
    return MappingProxyType({row.name: row for row in load(Composite)})


def is_layer(name: str, thickness_m: float) -> bool:
    """Whether a layer of that name and thickness [m] is known: a material, or a composite within its range.

    A material is known at every thickness, nought and less included: models refuse those themselves.
    **Source**: the fact tables `materials` and `composites`.
    """
    known = composites().get(name)
    return known.holds_at(thickness_m) if known else name in materials()
