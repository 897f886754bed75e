"""Which pair and side sits on which pin, and how far to strip and untwist."""

from __future__ import annotations

from functools import cache
from typing import ClassVar, Literal

from rehaul.errors import BadInput
from rehaul.facts.table import FactRow, load
from rehaul.words import say


class PinoutRow(FactRow):
    """One pin of a wiring standard."""

    table: ClassVar[str] = "terminations"
    decides: ClassVar[str] = "which pair goes on which pin of a plug, a jack or a block"
    standard: str
    pin: int
    pair: int
    side: Literal["tip", "ring"]


class StripRow(FactRow):
    """How far to strip the jacket and how little to untwist, by what is fitted."""

    table: ClassVar[str] = "strip_lengths"
    decides: ClassVar[str] = "how much jacket and twist is taken off at a plug, a jack or a block"
    connector: str
    jacket_strip_m: float
    untwist_m: float  # at most
    bare_m: float  # conductor insulation taken off; 0 where contacts pierce it
    advice: str


@cache
def pinout(standard: str) -> dict[int, PinoutRow]:
    """The pins of a wiring standard by number: which pair, and which side of it.

    Raises BadInput, which lists the standards, for another. **Source**: the fact table `terminations`
    (TIA-568, USOC, as printed elsewhere).

    >>> pin = pinout("T568A")[1]
    >>> pin.pair, pin.side
    (3, 'tip')
    """
    rows = {row.pin: row for row in load(PinoutRow) if row.standard == standard}
    if not rows:
        known = list(dict.fromkeys(row.standard for row in load(PinoutRow)))
        raise BadInput(
            say("refused_facts.no_pinout", standard=standard),
            where="standard",
            remedy=say("refused_common.use_one_of", known=known),
        )
    return rows


@cache
def strip_rule(connector: str) -> StripRow:
    """How far to strip and how little to untwist [m] at a connector, with a sentence of advice.

    Raises BadInput, which lists the connectors, for another. **Source**: the fact table `strip_lengths`.

    >>> strip_rule("jack").untwist_m
    0.013
    """
    rows = {row.connector: row for row in load(StripRow)}
    if connector not in rows:
        raise BadInput(
            say("refused_facts.no_strip_length", connector=connector),
            where="connector",
            remedy=say("refused_common.use_one_of", known=list(rows)),
        )
    return rows[connector]
