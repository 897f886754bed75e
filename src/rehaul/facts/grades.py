"""Words for how sure a verdict is: bands with their probabilities, and grades of evidence."""

from __future__ import annotations

from functools import cache
from typing import ClassVar, Literal

from rehaul.facts.table import FactRow, load

Prospect = Literal["likely", "try it", "no"]
Evidence = Literal["certified", "measured", "inferred", "unknown"]


class ChanceRow(FactRow):
    """One probability by trade judgement."""

    table: ClassVar[str] = "wiring_chances"
    decides: ClassVar[str] = "from which chance on a cable is called likely, try it or no"
    name: str
    chance: float


def chance(name: str) -> float:
    """One probability by trade judgement, by name."""
    return chances()[name]


@cache
def chances() -> dict[str, float]:
    """All of them by name."""
    return {row.name: row.chance for row in load(ChanceRow)}


def band_of(probability: float) -> Prospect:
    """The word for a probability: likely, try it, or no."""
    if probability >= chance("likely from"):
        return "likely"
    return "try it" if probability > chance("no up to") else "no"
