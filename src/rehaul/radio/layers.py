"""What one crossing goes through: ordered layers, or an area mix of several stacks."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TypeAlias

from rehaul.errors import BadInput
from rehaul.facts.constructions import construction
from rehaul.same import hashed_once
from rehaul.words import say


@dataclass(frozen=True)
class SlabLayer:
    """One layer: a material by its name in the fact table (None is air) and its thickness, 0 for a sheet."""

    material: str | None
    thickness_m: float

    def __post_init__(self) -> None:
        if not 0.0 <= self.thickness_m < float("inf"):
            raise BadInput(
                say("refused_radio.layer_thickness", thickness_m=self.thickness_m),
                where="thickness_m",
                remedy=say("refused_radio.give_thickness"),
            )


@hashed_once
@dataclass(frozen=True)
class Stack:
    """Layers in the order a ray meets them."""

    layers: tuple[SlabLayer, ...]

    @property
    def thickness_m(self) -> float:
        """Sum of the layers [m]."""
        return sum(layer.thickness_m for layer in self.layers)


@hashed_once
@dataclass(frozen=True)
class Mixture:
    """Stacks side by side, such as studs and bays: (fraction of the area, stack); fractions add to 1."""

    parts: tuple[tuple[float, Stack], ...]

    def __post_init__(self) -> None:
        total = sum(fraction for fraction, _ in self.parts)
        if abs(total - 1.0) > 1e-9 or min(fraction for fraction, _ in self.parts) < 0:
            raise BadInput(
                say("refused_radio.fractions", total=total), where="parts", remedy=say("refused_radio.make_1")
            )


Layered: TypeAlias = Stack | Mixture  # described layer by layer


@dataclass(frozen=True)
class Measured:
    """Something whose loss was measured: (frequency [Hz], loss [dB]), rising in frequency.

    One loss for every angle; it throws back as `like` does.
    """

    points: tuple[tuple[float, float], ...]
    like: Layered


@dataclass(frozen=True)
class Guess:
    """One of several structures, nobody knows which: (chance, structure); chances add to 1.

    Its loss in decibels is the mean of theirs. A mixture is something else: there all parts stand at once.
    """

    parts: tuple[tuple[float, Layered | Measured], ...]

    def __post_init__(self) -> None:
        total = sum(chance for chance, _ in self.parts)
        if abs(total - 1.0) > 1e-9 or min(chance for chance, _ in self.parts) < 0:
            raise BadInput(
                say("refused_radio.chances", total=total), where="parts", remedy=say("refused_radio.make_1")
            )


Structure: TypeAlias = Layered | Measured | Guess


@hashed_once
@dataclass(frozen=True)
class LayeredKind:
    """One construction of a scene: what it is made of and how far its loss spreads between houses."""

    name: str
    structure: Structure
    sd_db: float


@cache
def kind(name: str) -> LayeredKind:
    """The construction `name` of the fact table as a kind for a scene.

    What was measured keeps its measured losses, with its layers for what it throws back. Raises BadInput,
    which lists the known names, for another. **Source**: the fact table `constructions`.

    >>> kind("brick-half").structure.thickness_m
    0.1285
    """
    row = construction(name)
    parts = tuple(
        (fraction, Stack(tuple(SlabLayer(material, mm / 1000.0) for material, mm in layers)))
        for fraction, layers in row.layers_mm
    )
    built = parts[0][1] if len(parts) == 1 else Mixture(parts)
    if row.measured_db:
        return LayeredKind(
            name, Measured(tuple((mhz * 1e6, loss) for mhz, loss in row.measured_db), built), row.sd_db
        )
    return LayeredKind(name, built, row.sd_db)


def parts_of(structure: Layered) -> tuple[tuple[float, Stack], ...]:
    """Area fractions and stacks of a structure described by layers; a lone stack is the whole area.

    Fractions add to 1.
    """
    return structure.parts if isinstance(structure, Mixture) else ((1.0, structure),)
