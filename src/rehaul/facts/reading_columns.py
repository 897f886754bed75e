"""Words that people head columns of readings with."""

from __future__ import annotations

from functools import cache
from typing import ClassVar, Literal, get_args

from rehaul.facts.table import FactRow, load

ReadingField = Literal[
    "room",
    "storey",
    "x_m",
    "y_m",
    "height_m",
    "time",
    "device",
    "band",
    "box",
    "wired",
    "stage",
    "doors",
    "repeats",
    "note",
    "down_mbps",
    "up_mbps",
    "power_dbm",
    "delay_ms",
    "loaded_delay_ms",
    "link_mbps",
]
READING_FIELDS: tuple[ReadingField, ...] = get_args(ReadingField)


class ColumnWord(FactRow):
    """One heading, in small letters without brackets, and what it means."""

    table: ClassVar[str] = "reading_columns"
    decides: ClassVar[str] = "which column of a table of readings is taken for what"
    word: str
    field: ReadingField


@cache
def column_words() -> dict[str, ReadingField]:
    """Which field of a reading a heading means, by the heading in small letters without brackets.

    **Source**: the fact table `reading_columns`, words that people use (docs/readers.md).
    """
    return {row.word: row.field for row in load(ColumnWord)}
