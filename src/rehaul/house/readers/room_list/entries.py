"""What stands in a room list, line by line, before anything is placed."""

from __future__ import annotations

from dataclasses import dataclass, field

from rehaul.errors import BadInput
from rehaul.house.base import UNKNOWN
from rehaul.words import say

INNER_M = 0.12  # taken where the list does not say
OUTER_M = 0.30
FLOOR_M = 0.30
HEIGHT_M = 2.4


@dataclass(frozen=True)
class Build:
    """What a kind of wall or a floor is made of; thickness None: not said."""

    construction: str = UNKNOWN
    thickness_m: float | None = None


@dataclass(frozen=True)
class RoomEntry:
    """One room: clear size inside the walls, and the words that say where it lies."""

    line: int
    name: str
    width_m: float  # along x
    length_m: float  # along y
    words: str


@dataclass(frozen=True)
class OpeningEntry:
    """One door, window, gap or missing wall, with the words that say where."""

    line: int
    kind: str  # door, window, gap, open
    words: str


@dataclass
class StoreyEntry:
    """One storey as listed, lowest first."""

    line: int
    name: str
    height_m: float | None = None
    elevation_m: float | None = None
    outer: Build = Build()
    inner: Build = Build()
    floor: Build = Build()
    rooms: list[RoomEntry] = field(default_factory=list)
    openings: list[OpeningEntry] = field(default_factory=list)

    @property
    def inner_m(self) -> float:
        return self.inner.thickness_m or INNER_M

    @property
    def outer_m(self) -> float:
        return self.outer.thickness_m or OUTER_M


@dataclass
class Listing:
    """A whole room list."""

    where: str  # the file's name, for refusals
    imperial: bool = False
    house: str = "House"
    storeys: list[StoreyEntry] = field(default_factory=list)

    def refuse(self, line: int, problem: str, remedy: str) -> BadInput:
        """A refusal that names the file and the line, to be raised by whoever calls.

        `line` counts from 1.
        """
        return BadInput(
            problem, where=say("refused_common.at_line", where=self.where, line=line), remedy=remedy
        )
