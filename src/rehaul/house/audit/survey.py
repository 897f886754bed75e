"""What was surveyed in the walls: outlets, cables, the places where they meet, and readings."""

from __future__ import annotations

from collections.abc import Iterator

import shapely

from rehaul.facts.cables import CableKind
from rehaul.house.audit.finding import Finding, Severity
from rehaul.house.audit.walls import thickness_m
from rehaul.house.base import UNKNOWN
from rehaul.house.called import called
from rehaul.house.job import Box, Job
from rehaul.house.model import MeetingPoint, Outlet, OutletKind, Run, RunState, Splitter, Topology
from rehaul.house.value_ranges import odd_values
from rehaul.words import say

OFF_WALL_M = 0.30


def survey_findings(job: Job) -> Iterator[Finding]:
    """What is amiss with the outlets, runs and readings of a job, and with counts and heights in it.

    Findings come in that order; `where` of each names what it is about by id. **Source**: docs/readers.md,
    "The audit".
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
                sentence=say("findings.outlet_never_located", outlet=called(job, outlet.id)),
                proposed_fix=say("fixes.trace_cable_without_end"),
            )
        else:
            yield from _off_wall(job, outlet, outlet.position)
        if outlet.id not in on_runs and outlet.kind is not OutletKind.BLANK:
            yield Finding(
                code="outlet-without-run",
                severity=Severity.ASK,
                where=(outlet.id,),
                sentence=say("findings.outlet_without_run", outlet=called(job, outlet.id)),
                proposed_fix=say("fixes.open_the_plate"),
            )
        if outlet.kind is OutletKind.UNKNOWN:
            yield Finding(
                code="outlet-kind-unknown",
                severity=Severity.ASK,
                where=(outlet.id,),
                sentence=say("findings.outlet_kind_unknown", outlet=called(job, outlet.id)),
                proposed_fix=say("fixes.note_what_plate_takes"),
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
            sentence=say("findings.outlet_off_wall", outlet=called(job, outlet.id), gap_m=min(gaps)),
            proposed_fix=say("fixes.move_to_its_wall"),
        )


def _runs(job: Job) -> Iterator[Finding]:
    for run in job.house.runs:
        yield from _run_ends(job, run)
        if run.kind is CableKind.UNKNOWN:
            yield Finding(
                code="run-kind-unknown",
                severity=Severity.ASK,
                where=(run.id,),
                sentence=say("findings.run_kind_unknown", run=called(job, run.id)),
                proposed_fix=say("fixes.read_its_sheath"),
            )
        if run.state is RunState.UNKNOWN:
            yield Finding(
                code="run-state-unknown",
                severity=Severity.SERIOUS,
                where=(run.id,),
                sentence=say("findings.run_state_unknown", run=called(job, run.id)),
                proposed_fix=say("fixes.measure_before_touching"),
            )
        if run.topology is Topology.UNKNOWN:
            yield Finding(
                code="run-topology-unknown",
                severity=Severity.ASK,
                where=(run.id,),
                sentence=say("findings.run_topology_unknown", run=called(job, run.id)),
                proposed_fix=say("fixes.trace_and_look"),
            )


def _run_ends(job: Job, run: Run) -> Iterator[Finding]:
    if UNKNOWN in run.ends:
        yield Finding(
            code="run-end-unknown",
            severity=Severity.ASK,
            where=(run.id,),
            sentence=say("findings.run_end_unknown", run=called(job, run.id), ends=run.ends.count(UNKNOWN)),
            proposed_fix=say("fixes.trace_it"),
        )
    chained = len(run.ends) > 2
    if (run.topology is Topology.HOME_RUN and chained) or (
        run.topology is Topology.DAISY_CHAIN and not chained
    ):
        yield Finding(
            code="run-contradicts-itself",
            severity=Severity.MEND,
            where=(run.id,),
            sentence=say(
                "findings.run_contradicts_itself",
                run=called(job, run.id),
                topology=run.topology.value,
                ends=len(run.ends),
            ),
            proposed_fix=say("fixes.list_every_outlet"),
        )


def _counts(job: Job) -> Iterator[Finding]:
    house = job.house
    if not house.meeting_points and house.runs:
        yield Finding(
            code="no-meeting-point",
            severity=Severity.SERIOUS,
            where=("house.meeting_points",),
            sentence=say("findings.no_meeting_point"),
            proposed_fix=say("fixes.find_meeting_point"),
        )
    wired = [outlet for outlet in house.outlets if outlet.kind is not OutletKind.BLANK]
    inner = {point.id for point in house.meeting_points} | {one.id for one in house.splitters}
    # one end at least is where cables meet
    ends = sum(len(run.ends) - max(1, len(inner.intersection(run.ends))) for run in house.runs)
    if house.runs and wired and ends != len(wired):
        more = "findings.more_ends" if ends > len(wired) else "findings.more_outlets"
        yield Finding(
            code="counts-differ",
            severity=Severity.ASK,
            where=("house.runs", "house.outlets"),
            sentence=say(more, more=abs(ends - len(wired)), ends=ends, outlets=len(wired)),
            proposed_fix=say("fixes.count_the_sheaths"),
        )


def _readings(job: Job) -> Iterator[Finding]:
    for reading in job.readings:
        if reading.room is None and reading.position is None:
            yield Finding(
                code="reading-without-place",
                severity=Severity.MEND,
                where=(reading.id,),
                sentence=say("findings.reading_without_place", reading=called(job, reading.id)),
                proposed_fix=say("fixes.give_its_room"),
            )
        for odd in odd_values(reading):
            yield Finding(
                code="reading-improbable",
                severity=Severity.MEND,
                where=(reading.id,),
                sentence=say(
                    "findings.reading_improbable", reading=called(job, reading.id), problem=odd.problem
                ),
                proposed_fix=say("fixes.check_the_number"),
            )
    if not any(reading.stage == "before" for reading in job.readings):
        yield Finding(
            code="no-before-reading",
            severity=Severity.ASK,
            where=("readings",),
            sentence=say("findings.no_before_reading"),
            proposed_fix=say("fixes.take_readings_before"),
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
                sentence=say("findings.height_improbable", thing=called(job, thing.id), problem=odd.problem),
                proposed_fix=say("fixes.give_height_above_floor"),
            )
