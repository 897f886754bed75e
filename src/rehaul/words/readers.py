"""Who reads: in which language, and in which units."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass

from rehaul.figures import UnitSystem
from rehaul.words.rows import Language


@dataclass(frozen=True)
class Reader:
    """Who a text is for. `language` as the columns of the tables are called, `units` of lengths."""

    language: Language = "en"
    units: UnitSystem = "metric"


REFERENCE = Reader()  # what is computed is said in this; whoever shows it says it again to the reader
_READER: ContextVar[Reader] = ContextVar("reader", default=REFERENCE)


def reader() -> Reader:
    """To whom texts are said at present: REFERENCE where nobody said otherwise."""
    return _READER.get()


@contextmanager
def speaking(to: Reader) -> Iterator[None]:
    """Everything said inside is said to `to`; in this thread or task alone.

    >>> from rehaul.words import say
    >>> with speaking(Reader("fr")):
    ...     print(say("words.count_cables", n=2))
    2 câbles
    """
    before = _READER.set(to)
    try:
        yield
    finally:
        _READER.reset(before)
