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
    """One probability by trade judgement (0 to 1), by name. Raises KeyError for a name the table has not.

    **Source**: the fact table `wiring_chances`, no counted cases.

    >>> chance("likely from")
    0.8
    """
    return chances()[name]


@cache
def chances() -> dict[str, float]:
    """All probabilities by trade judgement (0 to 1) by name. **Source**: the fact table `wiring_chances`.

    `band_of` cuts at two of them, `likely from` and `no up to`.
    """
    return {row.name: row.chance for row in load(ChanceRow)}


def band_of(probability: float) -> Prospect:
    """The word for a probability: likely, try it, or no.

    At or above `likely from` it is likely; at or below `no up to` it is no. **Source**: these two rows of
    the fact table `wiring_chances`.

    >>> band_of(0.8), band_of(0.5)
    ('likely', 'try it')
    """
    if probability >= chance("likely from"):
        return "likely"
    return "try it" if probability > chance("no up to") else "no"
