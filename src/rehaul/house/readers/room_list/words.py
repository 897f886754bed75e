"""Lengths, constructions and room names inside a line."""

from __future__ import annotations

import re
from collections.abc import Iterable

from rehaul.errors import BadInput
from rehaul.facts.constructions import constructions
from rehaul.facts.foreign_names import Subject, meaning
from rehaul.facts.reading_ranges import reading_range
from rehaul.house.base import UNKNOWN
from rehaul.house.readers.room_list.entries import Build, Listing
from rehaul.units import parse_length_m
from rehaul.words import say

_INCHES = r"(?:\d+\s+\d+/\d+|\d+/\d+|\d+(?:\.\d+)?)\s*(?:\"|inches|inch|in\b|″|”|'')"
_FEET = r"\d+(?:\.\d+)?\s*(?:'(?!')|feet\b|foot\b|ft\b|′|’)"
LENGTH = rf"(?:{_FEET}\s*-?\s*{_INCHES}|{_FEET}|{_INCHES}|\d+(?:[.,]\d+)?\s*(?:mm\b|cm\b|m\b)?)"
BY = r"\s*(?:x|X|×|\*|by)\s*"
LONGEST_M = 100.0
_LENGTH_AT_END = re.compile(rf"^(?P<head>.*?)[\s,]*(?P<length>{LENGTH})\s*(?:thick)?$")


def length_m(listing: Listing, text: str, line: int) -> float:
    """A length above zero and up to 100 m [m], as people write it, metric or imperial as the list says.

    Raises BadInput, which names the line, for any other and for what is no length. **Source**:
    docs/readers.md, "A room list by tape or laser": lengths.
    """
    try:
        value = parse_length_m(text.strip(), default="imperial" if listing.imperial else "metric")
    except BadInput as error:
        raise listing.refuse(line, error.problem, error.remedy) from None
    if not 0 < value <= LONGEST_M:
        raise listing.refuse(
            line,
            say("refused_rooms.no_length_of_a_house", text=text.strip()),
            say("refused_rooms.give_length_up_to_100_m"),
        )
    return value


def require_span(listing: Listing, what: str, value: float, line: int) -> None:
    """Raise BadInput, naming the line, for a length that no house has there.

    `what` is a row of the fact table `reading_ranges`, such as `thickness_m`; `value` is in metres. Both
    edges of the range may be.
    """
    span = reading_range(what)
    if not span.holds(value):
        raise listing.refuse(
            line,
            say(
                "refused_rooms.no_house_has_it",
                value=value,
                what=what.removesuffix("_m").replace("_", " "),
            ),
            say("refused_rooms.give_length_from_to", low=span.low, high=span.high),
        )


def build(listing: Listing, subject: Subject, text: str, line: int) -> Build:
    """A construction by our name or by words, a thickness, or both: `brick-solid 0.30`, `brick`, `12 cm`.

    `subject` is "wall" or "floor". A construction without a thickness brings its own; `unknown` has none.
    Raises BadInput, which names the line and the known constructions. **Source**: the fact tables
    `constructions` and `foreign_names`.
    """
    if re.search(r"\d[eE][+-]?\d", text):
        raise listing.refuse(
            line,
            say("refused_rooms.text_not_understood", text=text.strip()[:40]),
            say("refused_rooms.write_lengths_like_0"),
        )
    found = _LENGTH_AT_END.match(text.strip())
    words, thickness_m = text.strip(), None
    if found:
        words, thickness_m = found["head"].strip(" ,"), length_m(listing, found["length"], line)
        require_span(listing, "thickness_m", thickness_m, line)
    if not words or words == UNKNOWN:
        return Build(UNKNOWN, thickness_m)
    known = constructions()
    name = words if words in known else meaning(subject, words)
    if name is None:
        listed = ", ".join(row.name for row in known.values() if row.use == subject)
        raise listing.refuse(
            line,
            say("refused_rooms.no_construction_known", words=words),
            say("refused_rooms.write_unknown_one", listed=listed),
        )
    return Build(name, thickness_m or known[name].thickness_m)


def leading_name(text: str, names: Iterable[str]) -> tuple[str, str] | None:
    """The longest of `names` that `text` starts with, and the rest of the text; None where none fits.

    Upper and lower case are one, and a name ends where its word does.

    >>> leading_name("hall 2 - kitchen", ["Hall", "Hall 2"])
    ('Hall 2', '- kitchen')
    """
    folded = text.casefold()
    for name in sorted(names, key=len, reverse=True):
        rest = text[len(name) :]
        if folded.startswith(name.casefold()) and not rest[:1].isalnum():
            return name, rest.strip(" ,")
    return None


def options(text: str) -> list[str]:
    """The parts of a line between commas or semicolons; a comma inside a number is not one.

    >>> options("right of Hall, end; not lived in")
    ['right of Hall', 'end', 'not lived in']
    """
    return [
        part.strip() for part in re.split(r",(?!\d)|;|,(?=\d+(?:[.,]\d+)?\D*along)", text) if part.strip()
    ]
