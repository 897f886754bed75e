"""What was surveyed in the walls: outlets, cables, the places where they meet, and readings."""

from __future__ import annotations

from collections.abc import Iterator

import shapely

from rehaul.facts.cables import CableKind
from rehaul.house.audit.finding import Finding, Severity
from rehaul.house.audit.walls import thickness_m
from rehaul.house.base import UNKNOWN
from rehaul.house.job import Box, Job
from rehaul.house.model import MeetingPoint, Outlet, OutletKind, Run, RunState, Splitter, Topology
from rehaul.house.value_ranges import odd_values

OFF_WALL_M = 0.30


def survey_findings(job: Job) -> Iterator[Finding]:
    """What is amiss with the outlets, runs and readings of a job, and with counts and heights in it.

    Findings come in that order; `where` of each names what it is about by id.
    """
    yield from _outlets(job)
    yield from _runs(job)
    yield from _counts(job)
    yield from _readings(job)
    yield from _heights(job)


def _outlets(job: Job) -> Iterator[Finding]:
    on_runs = {end for run in job.house.runs for end in run.ends}
    for outlet in job.house.outlets:
        if outlet.position is None:
            yield Finding(
                code="outlet-never-located",
                severity=Severity.ASK,
                where=(outlet.id,),
                sentence=f"Outlet {outlet.id} was never located; it stays listed.",
                proposed_fix=(
                    "Trace the cable that lacks an end, if nothing holds it; sweep behind furniture."
                ),
            )
        else:
            yield from _off_wall(job, outlet, outlet.position)
        if outlet.id not in on_runs and outlet.kind is not OutletKind.BLANK:
            yield Finding(
                code="outlet-without-run",
                severity=Severity.ASK,
                where=(outlet.id,),
                sentence=f"No cable is known to end at outlet {outlet.id}.",
                proposed_fix="Open the plate (mains may be behind it: test first) and trace what is there.",
            )
        if outlet.kind is OutletKind.UNKNOWN:
            yield Finding(
                code="outlet-kind-unknown",
                severity=Severity.ASK,
                where=(outlet.id,),
                sentence=f"What kind of outlet {outlet.id} is, is not noted.",
                proposed_fix="Note what its plate takes.",
            )


def _off_wall(job: Job, outlet: Outlet, position: tuple[float, float]) -> Iterator[Finding]:
    spot = shapely.Point(position)
    gaps = [
        shapely.LineString([wall.start, wall.end]).distance(spot) - thickness_m(wall) / 2
        for wall in job.house.walls
        if wall.storey == outlet.storey
    ]
    if gaps and min(gaps) > OFF_WALL_M:
        yield Finding(
            code="outlet-off-wall",
            severity=Severity.MEND,
            where=(outlet.id,),
            sentence=f"Outlet {outlet.id} is {min(gaps):.2f} m away from any wall.",
            proposed_fix="Move it to its wall, or note that it is in the floor.",
        )


def _runs(job: Job) -> Iterator[Finding]:
    for run in job.house.runs:
        yield from _run_ends(run)
        if run.kind is CableKind.UNKNOWN:
            yield Finding(
                code="run-kind-unknown",
                severity=Severity.ASK,
                where=(run.id,),
                sentence=f"The kind of cable {run.id} is not known.",
                proposed_fix="Read the print on its sheath, count the pairs and their twist.",
            )
        if run.state is RunState.UNKNOWN:
            yield Finding(
                code="run-state-unknown",
                severity=Severity.SERIOUS,
                where=(run.id,),
                sentence=f"Whether cable {run.id} is live is not known.",
                proposed_fix="Measure it before touching: a telephone pair can ring at a voltage that hurts.",
            )
        if run.topology is Topology.UNKNOWN:
            yield Finding(
                code="run-topology-unknown",
                severity=Severity.ASK,
                where=(run.id,),
                sentence=f"Whether {run.id} is a home run or a chain is not known.",
                proposed_fix="Trace it, if nothing holds it, and look at every outlet.",
            )


def _run_ends(run: Run) -> Iterator[Finding]:
    if UNKNOWN in run.ends:
        yield Finding(
            code="run-end-unknown",
            severity=Severity.ASK,
            where=(run.id,),
            sentence=f"Where cable {run.id} goes is not known at {run.ends.count(UNKNOWN)} end(s).",
            proposed_fix="Trace it, if nothing holds it; until then nothing is planned on it.",
        )
    chained = len(run.ends) > 2
    if (run.topology is Topology.HOME_RUN and chained) or (
        run.topology is Topology.DAISY_CHAIN and not chained
    ):
        yield Finding(
            code="run-contradicts-itself",
            severity=Severity.MEND,
            where=(run.id,),
            sentence=f"Cable {run.id} is noted as {run.topology.value} but has {len(run.ends)} ends.",
            proposed_fix="List every outlet it passes, in order, or correct how it runs.",
        )


def _counts(job: Job) -> Iterator[Finding]:
    house = job.house
    if not house.meeting_points and house.runs:
        yield Finding(
            code="no-meeting-point",
            severity=Severity.SERIOUS,
            where=("house.meeting_points",),
            sentence="No place is noted where the cables meet.",
            proposed_fix="Find it: near the entry of the line, in a closet, the cellar or the attic.",
        )
    wired = [outlet for outlet in house.outlets if outlet.kind is not OutletKind.BLANK]
    inner = {point.id for point in house.meeting_points} | {one.id for one in house.splitters}
    # one end at least is where cables meet
    ends = sum(len(run.ends) - max(1, len(inner.intersection(run.ends))) for run in house.runs)
    if house.runs and wired and ends != len(wired):
        more = "ends of cables than outlets" if ends > len(wired) else "outlets than ends of cables"
        yield Finding(
            code="counts-differ",
            severity=Severity.ASK,
            where=("house.runs", "house.outlets"),
            sentence=f"There are {abs(ends - len(wired))} more {more} ({ends} ends, {len(wired)} outlets).",
            proposed_fix="Count the sheaths where the cables meet and look for covered plates.",
        )


def _readings(job: Job) -> Iterator[Finding]:
    for reading in job.readings:
        if reading.room is None and reading.position is None:
            yield Finding(
                code="reading-without-place",
                severity=Severity.MEND,
                where=(reading.id,),
                sentence=f"Reading {reading.id} does not say where it was taken.",
                proposed_fix="Give its room, or strike it.",
            )
        for odd in odd_values(reading):
            yield Finding(
                code="reading-improbable",
                severity=Severity.MEND,
                where=(reading.id,),
                sentence=f"Reading {reading.id} cannot be true: {odd.problem}.",
                proposed_fix="Check the number, its sign and its unit, or strike it.",
            )
    if not any(reading.stage == "before" for reading in job.readings):
        yield Finding(
            code="no-before-reading",
            severity=Severity.ASK,
            where=("readings",),
            sentence="Nothing was measured before the work; there will be no before and after.",
            proposed_fix="Take a download reading in every lived-in room before anything is changed.",
        )


def _heights(job: Job) -> Iterator[Finding]:
    house = job.house
    standing: tuple[Box | Outlet | MeetingPoint | Splitter, ...]
    standing = (*job.boxes, *house.outlets, *house.meeting_points, *house.splitters)
    for thing in standing:
        for odd in odd_values(thing):
            yield Finding(
                code="height-improbable",
                severity=Severity.MEND,
                where=(thing.id,),
                sentence=f"{thing.id} cannot stand so high: {odd.problem}.",
                proposed_fix="Give its height above the floor of its storey.",
            )
