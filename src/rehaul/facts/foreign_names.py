"""What building models and householders call materials, constructions and rooms, in several languages."""

from __future__ import annotations

import re
import unicodedata
from functools import cache
from typing import ClassVar, Literal

from rehaul.facts.table import FactRow, load

SHORT_WORD = 3  # letters

Subject = Literal["material", "wall", "floor", "room", "layer", "solid wood"]


class ForeignName(FactRow):
    """One way to name a thing: if every word stands in the name, it means `means`.

    For a material `means` is a row of the material or the composite table; for wood that is solid however
    thick, which has rows of its own, it is the material; for a wall or floor a row of the construction
    table; for a room it is "lived in" or "not lived in"; for a layer of a drawing it is
    "wall", "door" or "window".
    """

    table: ClassVar[str] = "foreign_names"
    decides: ClassVar[str] = "what a word on a plan in a foreign language is taken for"

    subject: Subject
    language: str
    words: str  # parts of words, all of which must occur
    means: str


@cache
def _by_subject(subject: Subject) -> tuple[tuple[tuple[str, ...], str], ...]:
    """Words and meaning, the most telling (longest) first; ties in the table's order."""
    rows = [row for row in load(ForeignName) if row.subject == subject]
    rows.sort(key=lambda row: -len(row.words))
    return tuple((tuple(_plain(row.words).split()), row.means) for row in rows)


def meaning(subject: Subject, name: str) -> str | None:
    """What `name` means among our own names, or None where no row of the table fits it.

    A row fits where all its words stand in the name, whatever the case and accents; words of up to three
    letters must begin a word. Of several the longest words rule. What comes back depends on `subject`: see
    `ForeignName`. **Source**: the fact table `foreign_names`, vocabulary of several languages.

    >>> meaning("material", "Reinforced CONCRETE, cast"), meaning("material", "zzz")
    ('concrete', None)
    """
    plain = _plain(name)
    for words, means in _by_subject(subject):
        if all(_stands_in(word, plain) for word in words):
            return means
    return None


def _stands_in(word: str, text: str) -> bool:
    """True where the word is part of the text; a short one must begin a word (`air` is in `stair`)."""
    if len(word) > SHORT_WORD:
        return word in text
    return re.search(rf"\b{re.escape(word)}", text) is not None


def _plain(text: str) -> str:
    """Lower case, without accents."""
    decomposed = unicodedata.normalize("NFKD", text.casefold())
    return "".join(letter for letter in decomposed if not unicodedata.combining(letter))
