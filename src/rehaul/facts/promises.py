"""What may be promised at each grade of evidence, and which trades a country asks for."""

from __future__ import annotations

from functools import cache
from typing import ClassVar, Literal

from rehaul.facts.table import FactRow, load


class GradePromise(FactRow):
    """One grade: what may be promised, and its words in the quote and in the handover record."""

    table: ClassVar[str] = "grade_promises"
    decides: ClassVar[str] = "what a quote may promise at each grade of certainty, and in which words"
    grade: Literal["certified", "measured", "inferred", "unknown"]
    promise: str
    quote: str
    handover: str


class Licence(FactRow):
    """One country's rule on who may work on fixed cabling."""

    table: ClassVar[str] = "licences"
    decides: ClassVar[str] = "in which country cabling waits for somebody with a licence"
    country: str
    trade: str
    rule: str


@cache
def grade_promises() -> dict[str, GradePromise]:
    """What may be promised at each grade of evidence, best first, with its words for quote and handover.

    **Source**: the fact table `grade_promises`, trade judgement.
    """
    return {row.grade: row for row in load(GradePromise)}


@cache
def licences() -> dict[str, Licence]:
    """Rules on who may work on fixed cabling, by country.

    A country without a row has none on record here, which does not say that it has none. **Source**: the
    fact table `licences`.
    """
    return {row.country: row for row in load(Licence)}
