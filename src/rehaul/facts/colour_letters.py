"""Letters for a conductor's colour where the print is black and white, and the ink to draw it in."""

from __future__ import annotations

from functools import cache
from typing import Annotated, ClassVar

from pydantic import Field

from rehaul.facts.table import FactRow, load


class ColourLetters(FactRow):
    """One colour: its letters, and its ink as an sRGB triplet."""

    table: ClassVar[str] = "colour_letters"
    decides: ClassVar[str] = "which letters stand for a colour on a sheet printed in black"
    colour: str
    letters: str
    ink: Annotated[str, Field(pattern=r"^#[0-9a-f]{6}$")]


@cache
def colour_letters() -> dict[str, ColourLetters]:
    """Letters and ink of every conductor colour by its plain name, such as `white`.

    `ink` is an sRGB triplet like `#ffffff`, lower case. **Source**: the fact table `colour_letters`, trade
    practice.
    """
    return {row.colour: row for row in load(ColourLetters)}
