"""The reading log: what was seen, typed in one at a time, in any order. It only grows.

A reading that was a mistake is not deleted: a `Withdrawn` entry says so, and why.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import TypeAlias

from rehaul.errors import BadInput
from rehaul.words import say


class ToneHeard(StrEnum):
    """What the probe heard with the toner at an outlet."""

    LOUD = "loud"  # on the conductors themselves: this cable
    FAINT = "faint"  # could be a neighbour in the bundle: kept, decides nothing
    NONE = "none"  # a result, and worth as much as the others


@dataclass(frozen=True)
class Continuity:
    """Which conductors beep together at an end; `tested` lists those probed (all, if left out)."""

    id: str
    end: str
    tied: tuple[tuple[int, ...], ...]
    tested: tuple[int, ...] | None = None
    round: int = 1


@dataclass(frozen=True)
class Resistance:
    """Ohms between two conductors at an end; infinity where the meter shows open."""

    id: str
    end: str
    conductors: tuple[int, int]
    ohm: float
    round: int = 1


@dataclass(frozen=True)
class Tone:
    """Toner on all conductors of an outlet, probe at an end."""

    id: str
    end: str
    outlet: str
    heard: ToneHeard


@dataclass(frozen=True)
class LinkLight:
    """Two Ethernet devices, one at the end and one at the outlet: the rate that came up, 0 for none."""

    id: str
    end: str
    outlet: str
    rate_mbps: int


@dataclass(frozen=True)
class Bridge:
    """Continuity between two ends at the meeting point, straps in place: are they joined somewhere?"""

    id: str
    end: str
    other: str
    joined: bool


@dataclass(frozen=True)
class Withdrawn:
    """An earlier reading no longer counts, and why. Both stay in the log."""

    id: str
    reading: str
    reason: str


Reading: TypeAlias = Continuity | Resistance | Tone | LinkLight | Bridge
Entry: TypeAlias = Reading | Withdrawn


@dataclass(frozen=True)
class ReadingLog:
    """Readings in the order they were typed in."""

    entries: tuple[Entry, ...] = ()

    def added(self, entry: Entry) -> ReadingLog:
        """The log with one more entry; this one stays as it is.

        Whether the entry fits the house is not looked at here (`belief.believe`). Raises BadInput for an id
        used before, a withdrawal of what is not in the log, or ohms below zero or not a number. **Source**:
        docs/trace.md, "Readings": the log only grows.
        """
        known = {old.id for old in self.entries}
        if entry.id in known:
            raise BadInput(
                say("refused_tracing.reading_twice", id=entry.id),
                where=say("refused_tracing.where_log"),
                remedy=say("refused_tracing.new_id"),
            )
        if isinstance(entry, Withdrawn) and entry.reading not in known:
            raise BadInput(
                say("refused_tracing.none_to_withdraw", id=entry.reading),
                where=say("refused_tracing.where_log"),
                remedy=say("refused_tracing.name_reading"),
            )
        if isinstance(entry, Resistance) and (math.isnan(entry.ohm) or entry.ohm < 0):
            raise BadInput(
                say("refused_tracing.no_ohms", ohm=entry.ohm),
                where=say("refused_tracing.where_reading", id=entry.id),
                remedy=say("refused_tracing.type_ohms"),
            )
        return replace(self, entries=(*self.entries, entry))

    def standing(self) -> tuple[Reading, ...]:
        """The readings that count, in the order they came: all but withdrawals and what they withdraw.

        A withdrawal cannot itself be taken back: enter the reading again. **Source**: docs/trace.md,
        "Readings": a mistake is withdrawn by a further entry.
        """
        gone = {entry.reading for entry in self.entries if isinstance(entry, Withdrawn)}
        return tuple(
            entry for entry in self.entries if not isinstance(entry, Withdrawn) and entry.id not in gone
        )
