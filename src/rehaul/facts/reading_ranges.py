"""Between which values what is read in can be true, and what units people write behind it."""

from __future__ import annotations

import re
from datetime import datetime
from functools import cache
from typing import ClassVar

from rehaul.facts.table import FactRow, load

_DATE = re.compile(r"\s*[+-]?\d{4,}-\d")


class ReadingRange(FactRow):
    """The least and most that a field of a reading, a room list or what was learnt can be, in its unit."""

    table: ClassVar[str] = "reading_ranges"
    decides: ClassVar[str] = "which readings are refused because nothing can be so"
    field: str
    low: float
    high: float
    unit: str = ""  # a count

    def holds(self, value: float) -> bool:
        """Whether a value in the row's unit can be true; both edges can, and no number (NaN) cannot.

        The range is of what exists, not of what is usual. **Source**: the fact table `reading_ranges`.
        """
        return self.low <= value <= self.high


class UnitWord(FactRow):
    """A unit as people write it, and how many of ours one is; none: it may mean two things."""

    table: ClassVar[str] = "unit_words"
    decides: ClassVar[str] = "how a number with its unit in a table of readings is understood"
    unit: str
    word: str
    factor: float | None = None


@cache
def reading_range(field: str) -> ReadingRange:
    """The least and most that one field can be, in the row's unit.

    Raises KeyError for a field without a range. **Source**: the fact table `reading_ranges`, trade
    judgement and published figures.
    """
    return {row.field: row for row in load(ReadingRange)}[field]


def is_false_date(text: str) -> bool:
    """Whether a text begins like a date and is none, or is of a year that no reading is of.

    A text that does not begin like one is not false: it may be anything. The years are those of the row
    `year` of the fact table `reading_ranges`.

    >>> is_false_date("2025-02-30"), is_false_date("2025-02-28"), is_false_date("last week")
    (True, False, False)
    """
    if not _DATE.match(text):
        return False
    span = reading_range("year")
    try:
        return not span.low <= datetime.fromisoformat(text.strip()).year <= span.high
    except ValueError:
        return True


@cache
def unit_words(unit: str) -> dict[str, float | None]:
    """The words for a unit and its kin, each with how many of ours one is; None: it may mean two things.

    `unit` as in `reading_ranges`, such as "mbps". Empty for a unit that has no words. **Source**: the fact
    table `unit_words`.

    >>> unit_words("mbps")["Mb/s"]
    1.0
    """
    return {row.word: row.factor for row in load(UnitWord) if row.unit == unit}
