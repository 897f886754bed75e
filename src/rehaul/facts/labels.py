"""Label tape and lettering: how small is still readable."""

from __future__ import annotations

from functools import cache
from typing import ClassVar

from rehaul.errors import BadInput
from rehaul.facts.table import FactRow, load
from rehaul.words import say


class TapeRow(FactRow):
    """A width of label tape and the height a printer can use of it."""

    table: ClassVar[str] = "label_tapes"
    decides: ClassVar[str] = "how high letters can be on a label tape"
    tape_m: float
    printable_m: float


class LetteringRow(FactRow):
    """Plain lettering: widths, spacing and line pitch as parts of the height of capitals."""

    table: ClassVar[str] = "lettering"
    decides: ClassVar[str] = "how small letters on a label may get, and how many fit"
    name: str
    usual: float
    narrow: float
    wide: float
    spacing: float
    line_pitch: float
    smallest_m: float
    largest_m: float


@cache
def tape(tape_m: float) -> TapeRow:
    """The row of a width of label tape [m], with the height that a printer can use of it.

    Raises BadInput, which lists the widths in millimetres, for a width that the table has not to the last
    digit. **Source**: the fact table `label_tapes`, practice of label printers.

    >>> tape(0.006).printable_m
    0.004
    """
    rows = {row.tape_m: row for row in load(TapeRow)}
    if tape_m not in rows:
        known = [f"{1000 * width:g}" for width in rows]
        raise BadInput(
            say("refused_facts.no_tape", tape_mm=1000 * tape_m),
            where="tape",
            remedy=say("refused_facts.use_one_of_mm", known=known),
        )
    return rows[tape_m]


@cache
def lettering() -> LetteringRow:
    """Plain lettering for labels: widths, spacing and line pitch as parts of the height of capitals.

    `smallest_m` and `largest_m` bound that height. **Source**: the fact table `lettering` (ISO 3098, from
    memory).
    """
    return load(LetteringRow)[0]
