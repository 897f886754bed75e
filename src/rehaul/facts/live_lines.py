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
    """Checks and cautions before an old cable is cut, in the order in which they are made.

    `applies` of each row says when it stands there. **Source**: the fact table `live_lines`, trade
    judgement.
    """
    return load(LiveCheckRow)


@cache
def release_rules() -> dict[str, ReleaseRow]:
    """What must be on record before an obligation lets go of its pair, by kind of obligation.

    `needs_words` where the sign-off must say what was tested or agreed. **Source**: the fact table
    `obligation_releases`, trade judgement.
    """
    return {row.kind: row for row in load(ReleaseRow)}
