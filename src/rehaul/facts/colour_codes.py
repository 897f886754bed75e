"""Conductor colours by pair, including the old ones and where sources contradict each other."""

from __future__ import annotations

from functools import cache
from typing import ClassVar, Literal

from rehaul.errors import BadInput
from rehaul.facts.table import FactRow, load
from rehaul.words import say


class ColourRow(FactRow):
    """One conductor. `base` is the broad colour, `stripe` the narrow one, empty if solid."""

    table: ClassVar[str] = "colour_codes"
    decides: ClassVar[str] = "which conductor a person is told to put on which pin, by its colours"
    scheme: str
    pair: int
    side: Literal["tip", "ring"]
    base: str
    stripe: str = ""
    note: str = ""

    @property
    def name(self) -> str:
        """`white/blue` for white with a blue stripe; `green` for solid."""
        return f"{self.base}/{self.stripe}" if self.stripe else self.base


@cache
def colour_scheme(scheme: str) -> dict[tuple[int, str], ColourRow]:
    """The conductors of a colour scheme by (pair, side), pair by pair, tip before ring.

    Raises BadInput, which lists `colour_schemes`, for another scheme. Where sources contradict each other
    the row's `note` says so. **Source**: the fact table `colour_codes`.

    >>> colour_scheme("pairs")[1, "tip"].name
    'white/blue'
    """
    rows = {(row.pair, row.side): row for row in load(ColourRow) if row.scheme == scheme}
    if not rows:
        raise BadInput(
            say("refused_facts.no_colours", scheme=scheme),
            where="scheme",
            remedy=say("refused_common.use_one_of", known=list(colour_schemes())),
        )
    return dict(sorted(rows.items(), key=lambda item: (item[0][0], item[0][1] == "ring")))


@cache
def colour_schemes() -> tuple[str, ...]:
    """Names of the colour schemes that `colour_scheme` takes, in the order of the table `colour_codes`.

    Beside "pairs" and "quad", to which `cables.scheme_of` leads, there may be schemes for special cables.
    **Source**: the fact table `colour_codes`.
    """
    return tuple(dict.fromkeys(row.scheme for row in load(ColourRow)))
