"""What nobody has looked at yet, where a plan would lean on it: coax, feeds, entry, ceilings, sockets."""

from __future__ import annotations

from collections.abc import Iterator

from rehaul.facts.cables import CableKind, cables
from rehaul.facts.equipment import equipment
from rehaul.facts.wlan_equipment import access_point_radios
from rehaul.house.audit.finding import Finding, Severity
from rehaul.house.base import UNKNOWN
from rehaul.house.called import called
from rehaul.house.job import Box, Job
from rehaul.house.model import Run, RunState, Storey
from rehaul.words import say

MAY_CARRY = (RunState.UNKNOWN, RunState.LIVE_TELEPHONE)  # states of a cable that may bring the service in


def unlooked_findings(job: Job) -> Iterator[Finding]:
    """What nobody has looked at yet and a plan would lean on: coax, feeds, the entry, ceilings, sockets.

    Each unknown once, and only where the answer would change a plan. **Source**: docs/readers.md, "The
    audit".
    """
    yield from _coax(job)
    yield from _feeds(job)
    yield from _entry(job)
    yield from _ceilings(job)
    yield from _mains(job)


def _coax(job: Job) -> Iterator[Finding]:
    coax = [run for run in job.house.runs if run.kind is CableKind.COAX]
    if not coax or not job.choices.coax_adapters:
        return
    unrated = [splitter for splitter in job.house.splitters if splitter.passes_mhz is None]
    if unrated:
        yield Finding(
            code="splitter-rating-unknown",
            severity=Severity.ASK,
            where=tuple(splitter.id for splitter in unrated),
            sentence=say(
                "findings.splitter_rating_unknown", splitters=[called(job, one.id) for one in unrated]
            ),
            proposed_fix=say("fixes.read_splitter_print"),
        )
    fed = {end for run in coax for end in run.ends}
    loose = [splitter for splitter in job.house.splitters if splitter.input is None and splitter.id in fed]
    if loose:
        yield Finding(
            code="splitter-input-unknown",
            severity=Severity.ASK,
            where=tuple(splitter.id for splitter in loose),
            sentence=say("findings.splitter_input_unknown", splitters=[called(job, one.id) for one in loose]),
            proposed_fix=say("fixes.look_at_port_in"),
        )
    for point in job.house.meeting_points:
        here = [run.id for run in coax if point.id in run.ends]
        near = any(one.storey == point.storey for one in job.house.splitters)
        if len(here) > 1 and not near:
            yield Finding(
                code="no-splitter-noted",
                severity=Severity.ASK,
                where=(point.id, *here),
                sentence=say("findings.no_splitter_noted", cables=len(here), point=point.name),
                proposed_fix=say("fixes.note_the_splitter"),
            )
    if job.house.entry_filter is None and job.service.medium == "cable":
        yield Finding(
            code="entry-filter-unknown",
            severity=Severity.ASK,
            where=("house.entry_filter",),
            sentence=say("findings.entry_filter_unknown"),
            proposed_fix=say("fixes.look_at_first_joint"),
        )


def _feeds(job: Job) -> Iterator[Finding]:
    for box in _fed_boxes(job):
        if box.fed_by == UNKNOWN and box.run is None:
            yield Finding(
                code="box-feed-unknown",
                severity=Severity.ASK,
                where=(box.id,),
                sentence=say("findings.box_feed_unknown", box=box.name),
                proposed_fix=say("fixes.follow_its_cable"),
            )
        elif box.run is not None and box.run == job.service.run:
            yield Finding(
                code="run-said-twice",
                severity=Severity.MEND,
                where=(box.id, box.run),
                sentence=say("findings.run_said_twice", run=called(job, box.run), box=box.name),
                proposed_fix=say("fixes.follow_from_both_ends"),
            )
        elif box.fed_by == "run" and box.run is None:
            yield Finding(
                code="box-run-unknown",
                severity=Severity.MEND,
                where=(box.id,),
                sentence=say("findings.box_run_unknown", box=box.name),
                proposed_fix=say("fixes.tone_at_the_box"),
            )


def _fed_boxes(job: Job) -> list[Box]:
    """Boxes that stay and hang on another: all but modems and the router that the house has, or will keep."""
    kinds = {box.id: row.kind for box in job.boxes if (row := equipment().get(box.equipment))}
    routers = [box for box in job.boxes if kinds.get(box.id) == "router"]
    first = next((box.id for box in routers if box.keep), None)
    if kinds.get(job.service.modem or "") == "router" or first is None:
        first = job.service.modem
    radiating = {name for name, _ in access_point_radios()}
    asked = [box for box in job.boxes if kinds.get(box.id, "") != "modem" and box.keep]
    known = [box for box in asked if box.id in kinds or box.equipment in radiating]
    return [box for box in known if box.id not in (first, job.service.modem)]


def _entry(job: Job) -> Iterator[Finding]:
    service = job.service
    kinds = {"dsl": tuple(map(CableKind, cables())), "cable": (CableKind.COAX,)}.get(service.medium, ())
    carrying = {box.run for box in job.boxes if box.run}
    maybe = [run for run in job.house.runs if _may_bring(run, kinds) and run.id not in carrying]
    if service.run is None and maybe:
        yield Finding(
            code="service-run-unknown",
            severity=Severity.MEND,
            where=("service.run", *(run.id for run in maybe)),
            sentence=say(
                "findings.service_run_unknown",
                medium=service.medium,
                runs=[called(job, run.id) for run in maybe],
            ),
            proposed_fix=say("fixes.follow_cord_from_modem"),
        )


def _may_bring(run: Run, kinds: tuple[CableKind, ...]) -> bool:
    return run.kind in kinds and run.state in MAY_CARRY


def _ceilings(job: Job) -> Iterator[Finding]:
    if job.choices.fixing != "screws" or not job.choices.new_pulls:
        return
    asking = {need.room for need in job.needs}
    wanted = {room.storey for room in job.house.rooms if room.id in asking and not room.outside}
    storeys = [storey for storey in job.house.storeys if storey.id in wanted]
    unknown = [storey for storey in storeys if storey.ceiling == UNKNOWN and _slab_unknown(job, storey)]
    if unknown:
        yield Finding(
            code="ceiling-unknown",
            severity=Severity.ASK,
            where=tuple(storey.id for storey in unknown),
            sentence=say("findings.ceiling_unknown", storeys=[storey.name for storey in unknown]),
            proposed_fix=say("fixes.knock_on_it"),
        )


def _slab_unknown(job: Job, storey: Storey) -> bool:
    """Whether a floor lies over the storey and nothing says what it is made of."""
    above = [other for other in job.house.storeys if other.elevation_m > storey.elevation_m]
    slab = min(above, key=lambda other: other.elevation_m).floor if above else None
    return slab is not None and slab.construction == UNKNOWN and not slab.layers


def _mains(job: Job) -> Iterator[Finding]:
    """Plates in the middle of a chain: a small switch there needs a socket."""
    middle = {end for run in job.house.runs for end in run.ends[1:-1]}
    unknown = [o.id for o in job.house.outlets if o.id in middle and o.mains is None]
    if unknown:
        yield Finding(
            code="mains-unknown",
            severity=Severity.ASK,
            where=tuple(unknown),
            sentence=say("findings.mains_unknown", outlets=[called(job, name) for name in unknown]),
            proposed_fix=say("fixes.look_and_note"),
        )
