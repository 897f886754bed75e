"""Old cables in pieces: every stretch between two places where a cable surfaces is one segment."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from rehaul.house import UNKNOWN, Estimate, Grade, House, Job, MeetingPoint, Outlet, Run
from rehaul.house.geometry import height_above_zero_m, storey_of
from rehaul.network.cabling import run_length


@dataclass(frozen=True)
class Segment:
    """One stretch of an old cable: the whole run where it has two ends, else a piece of a chain."""

    id: str  # as on tape: C03, or C01.2 for the second piece of a chain
    run: Run
    a: str  # the end nearer to the run's first
    b: str
    length: Estimate

    @property
    def ends(self) -> tuple[str, str]:
        """Both ends."""
        return self.a, self.b

    @property
    def is_paired(self) -> bool:
        """Copper pairs, which Ethernet may run on."""
        return self.run.kind.may_have_pairs

    @property
    def is_piece(self) -> bool:
        """A piece of a cable that surfaces in more than two places."""
        return len(self.run.ends) > 2

    def other(self, end: str) -> str:
        """The end that is not this one, by id.

        Any id that is not `a` gives `a` back: whether it is an end at all is not looked at.
        """
        return self.b if end == self.a else self.a


def segments_of(job: Job) -> tuple[Segment, ...]:
    """Every segment of every old cable, in the order of the house, pieces of a chain one after the other.

    Coax and fibre are among them: `is_paired` tells.
    """
    return tuple(piece for run in job.house.runs for piece in run_segments(job.house, run))


def run_segments(house: House, run: Run) -> tuple[Segment, ...]:
    """The segments of one old cable, from its first end on.

    A cable with two ends is one, with the cable's id; others are numbered from 1. The length with its range
    is shared out by how far the ends lie apart; between ends that are not placed, by what is usual in this
    cable.
    """
    whole = run_length(house, run)
    if len(run.ends) == 2:
        return (Segment(run.id, run, run.ends[0], run.ends[1], whole),)
    pairs = list(pairwise(run.ends))
    ways_m = [_apart_m(house, a, b) for a, b in pairs]
    known = [way for way in ways_m if way is not None]
    usual_m = sum(known) / len(known) if known else 1.0
    weights = [max(way if way is not None else usual_m, 0.5) for way in ways_m]
    return tuple(
        Segment(f"{run.id}.{number}", run, a, b, _share(whole, weight / sum(weights)))
        for number, ((a, b), weight) in enumerate(zip(pairs, weights, strict=True), 1)
    )


def _share(whole: Estimate, part: float) -> Estimate:
    low, middle, high = (round(value * part, 1) for value in (whole.low, whole.middle, whole.high))
    grade = whole.grade if whole.grade is not Grade.MEASURED else Grade.INFERRED
    return Estimate(low=low, middle=middle, high=high, grade=grade)


def _apart_m(house: House, a: str, b: str) -> float | None:
    one, other = place_of(house, a), place_of(house, b)
    if one is None or other is None:
        return None
    return sum(abs(p - q) for p, q in zip(one, other, strict=True))


def place_of(house: House, end: str) -> tuple[float, float, float] | None:
    """Where an end of a cable is: x, y on the sheet and z from elevation 0 [m]; None where nobody knows.

    `end` is the id of a plate, a meeting point or a splitter; one that the house does not hold is not known
    either.
    """
    if end == UNKNOWN:
        return None
    things: tuple[Outlet | MeetingPoint, ...] = (*house.outlets, *house.meeting_points)
    for thing in things:
        if thing.id == end:
            return None if thing.position is None else (*thing.position, height_above_zero_m(house, thing))
    for splitter in house.splitters:
        if splitter.id == end and splitter.position is not None:
            z_m = storey_of(house, splitter.storey).elevation_m + splitter.height_m
            return (*splitter.position, z_m)
    return None
