"""Checks and cautions before a cable is cut, and what releases each kind of obligation."""

from __future__ import annotations

from functools import cache
from typing import ClassVar

from rehaul.facts.table import FactRow, load


class LiveCheckRow(FactRow):
    """One check, in the order of the table.

    `applies` is "every", "tracing", "line check" (its id then says which), a state of a run, or a kind of
    obligation.
    """

    table: ClassVar[str] = "live_lines"
    decides: ClassVar[str] = "which checks come before an old cable is cut, and which cautions stand there"
    id: str
    applies: str
    do: str
    expect: str
    caution: str = ""


class ReleaseRow(FactRow):
    """What must be recorded before an obligation of this kind lets go of its pair."""

    table: ClassVar[str] = "obligation_releases"
    decides: ClassVar[str] = "what must be on record before an alarm's or a telephone's pair is let go"
    kind: str
    release: str
    needs_words: bool  # the sign-off must say what was tested or agreed


@cache
def live_checks() -> tuple[LiveCheckRow, ...]:
    """All checks, in the order they are made."""
    return load(LiveCheckRow)


@cache
def release_rules() -> dict[str, ReleaseRow]:
    """The release rule of every kind of obligation."""
    return {row.kind: row for row in load(ReleaseRow)}
