"""What a copper line is made of, end to end."""

from __future__ import annotations

from dataclasses import dataclass

from rehaul.errors import OutOfRange, require_range
from rehaul.facts.cables import PairCableKind
from rehaul.words import say

LONGEST_M = 1000.0
COLDEST_C, HOTTEST_C = -40.0, 90.0


@dataclass(frozen=True)
class CableSection:
    """A length of cable of one kind, gauge and temperature; no gauge means the kind's usual one."""

    kind: PairCableKind
    length_m: float
    awg: int | None = None
    temperature_c: float = 20.0

    def __post_init__(self) -> None:
        require_range(self.length_m, 0.0, LONGEST_M, name="length_m")
        require_range(self.temperature_c, COLDEST_C, HOTTEST_C, name="temperature_c")


@dataclass(frozen=True)
class Cord(CableSection):
    """A patch cord: stranded, with more loss than solid cable of the same kind."""


@dataclass(frozen=True)
class Tap:
    """A length of cable that hangs on the line in parallel, its far end open."""

    length_m: float
    kind: PairCableKind
    awg: int | None = None
    temperature_c: float = 20.0

    def __post_init__(self) -> None:
        require_range(self.length_m, 0.0, LONGEST_M, name="length_m")
        require_range(self.temperature_c, COLDEST_C, HOTTEST_C, name="temperature_c")


@dataclass(frozen=True)
class Jack:
    """A mated plug and jack of one connector grade (`cat3`, `cat5e`, `cat6`)."""

    kind: PairCableKind = "cat5e"


@dataclass(frozen=True)
class Splice:
    """A sound joint of two cables, with `untwist_m` of wire out of its twist."""

    kind: PairCableKind = "cat5e"
    untwist_m: float = 0.025

    def __post_init__(self) -> None:
        require_range(self.untwist_m, 0.0, 1.0, name="untwist_m")


Element = CableSection | Tap | Jack | Splice


@dataclass(frozen=True)
class Line:
    """A line: its elements from the near end to the far end, and how many pairs it has."""

    elements: tuple[Element, ...]
    pairs: int = 4

    def __post_init__(self) -> None:
        if not 1 <= self.pairs <= 25:
            raise OutOfRange(
                say("refused_copper.wrong_pairs", pairs=self.pairs),
                where="pairs",
                remedy=say("refused_copper.give_pairs"),
            )

    @property
    def length_m(self) -> float:
        """Length from end to end, cords included and taps not."""
        return sum(element.length_m for element in self.elements if isinstance(element, CableSection))

    def reversed(self) -> Line:
        """The same line seen from the other end: its elements the other way round.

        Crosstalk and echo depend on the end they are seen from; loss from end to end does not.
        """
        return Line(self.elements[::-1], self.pairs)
