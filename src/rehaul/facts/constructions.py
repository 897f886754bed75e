"""What walls, floors, doors, windows and large bodies are made of, layer by layer."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import Annotated, ClassVar, Literal

from pydantic import BeforeValidator, Field, model_validator

from rehaul.errors import BadInput
from rehaul.facts.materials import materials
from rehaul.facts.table import FactRow, load
from rehaul.words import say

LayerMm = tuple[str, float]  # material name, thickness in millimetres
MixturePart = tuple[float, tuple[LayerMm, ...]]  # fraction of the area, layers in order


def _parts(text: object) -> object:
    """`0.9: brick 100 + air 50 ; 0.1: brick 150` as fractions and layers; a lone stack has fraction 1."""
    if not isinstance(text, str):
        return text
    parts = []
    for piece in text.split(";"):
        head, colon, tail = piece.partition(":")
        fraction, layers = (float(head), tail) if colon else (1.0, head)
        names_mm = (layer.strip().rsplit(" ", 1) for layer in layers.split("+"))
        parts.append((fraction, tuple((name, float(thickness)) for name, thickness in names_mm)))
    return tuple(parts)


def _points(text: object) -> object:
    """`2442: 6.7 ; 5500: 7.5` as (MHz, dB)."""
    if not isinstance(text, str):
        return text
    pairs = (piece.split(":") for piece in text.split(";"))
    return tuple((float(mhz), float(loss)) for mhz, loss in pairs)


class Construction(FactRow):
    """One construction: area fractions of ordered layers, and the spread of its loss between houses."""

    table: ClassVar[str] = "constructions"
    decides: ClassVar[str] = "how much each kind of wall, floor, door and window takes off the radio"

    name: str
    label: str  # plain English, for people
    use: Literal["wall", "floor", "door", "window", "body"]
    layers_mm: Annotated[tuple[MixturePart, ...], BeforeValidator(_parts)]
    measured_db: Annotated[tuple[tuple[float, float], ...], BeforeValidator(_points)] = ()  # (MHz, loss)
    sd_db: float = Field(gt=0)  # standard deviation of the loss of one crossing

    @model_validator(mode="after")
    def _parts_make_a_whole(self) -> Construction:
        total = sum(fraction for fraction, _ in self.layers_mm)
        if abs(total - 1.0) > 1e-9:
            raise ValueError(f"the fractions add to {total:g}, not to 1")
        for _, layers in self.layers_mm:
            for name, thickness_mm in layers:
                if name not in materials():
                    raise ValueError(f"no material is called {name!r}")
                if thickness_mm < 0 or (thickness_mm == 0) != (materials()[name].kind == "sheet"):
                    raise ValueError(f"{name}: only a sheet has no thickness")
        return self

    @property
    def thickness_m(self) -> float:
        """Thickness of the thickest part [m]."""
        return max(sum(thickness for _, thickness in layers) for _, layers in self.layers_mm) / 1000.0


@cache
def constructions() -> Mapping[str, Construction]:
    """All constructions of walls, floors, doors, windows and bodies by name, read only.

    **Source**: the fact table `constructions`: layers by building practice, their radio properties from
    `materials` (docs/radio.md).
    """
    return MappingProxyType({row.name: row for row in load(Construction)})


def construction(name: str) -> Construction:
    """The construction called `name`. Raises BadInput, which lists the known names, for another.

    **Source**: the fact table `constructions`.

    >>> construction("brick-half").layers_mm
    ((1.0, (('plaster', 13.0), ('brick', 102.5), ('plaster', 13.0))),)
    """
    try:
        return constructions()[name]
    except KeyError:
        raise BadInput(
            say("refused_facts.no_construction", name=name),
            where="construction",
            remedy=say("refused_common.use_one_of_these", known=list(constructions())),
        ) from None
