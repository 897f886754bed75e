"""What may not be done yet, and what would release it: obligations, hazards, licence, landlord."""

from __future__ import annotations

from rehaul.design.pulls import hazards_at
from rehaul.facts.promises import licences
from rehaul.house import Hazard, HazardKind, Job, held_on
from rehaul.takeoff.results import Task
from rehaul.words import Saying, say

_RELEASE = {
    HazardKind.ASBESTOS: "have it tested by a licensed firm",
    HazardKind.LEAD_PAINT: "have it tested, or let a certified firm make the hole",
    HazardKind.KNOB_AND_TUBE: "a licensed electrician makes it safe first",
    HazardKind.OTHER: "have it made safe by the trade it belongs to",
}
_IMPLIED = "gate"  # id of a hazard that was only answered at the door


def run_hold(job: Job, run_id: str) -> str:
    """Why a run may not be cut or moved yet; empty where nothing holds it.

    Each reason is a sentence that begins "Held: ". Asked of the job as it stands now. **Source**:
    `house.held_on`; docs/trace.md, "Before anything".
    """
    reasons = held_on(job, run_id)
    return joined(
        *(say("takeoff_holds.line", run=r.run, problem=r.problem, remedy=r.remedy) for r in reasons)
    )


def hole_hold(job: Job, storey: str, room: str) -> str:
    """Why no hole may be made in a room yet; empty where nothing forbids it.

    Parameters
    ----------
    storey, room : ids; an empty room asks for the storey as a whole

    **Source**: docs/work.md, "What holds a step".
    """
    found = [hazard_words(job, hazard) for hazard in hazards_in_the_way(job, storey, room)]
    return joined(*(say("takeoff_holds.hazard", hazard=hazard) for hazard in found), screw_hold(job))


def screw_hold(job: Job) -> str:
    """Why nothing may be screwed to the house yet; empty where its owner agreed or lives in it.

    A rented house is held until somebody recorded a yes: not asked is no. **Source**: docs/work.md.
    """
    if job.house.tenure == "rented" and job.gate.landlord_agrees is not True:
        return say("takeoff_holds.landlord")
    return ""


def cabling_hold(job: Job) -> str:
    """Why no fixed cable may be worked on yet: the licence that the country asks for was not seen.

    Empty where the country asks for none or it is on record. **Source**: fact table `licences`.
    """
    rule = licences().get(job.country)
    if rule is None or job.gate.licence_checked is True:
        return ""
    return say("takeoff_holds.licence", rule=rule.rule, trade=rule.trade)


def held_now(job: Job, task: Task) -> str:
    """Why a step that cuts, moves or drills may not be done as the job stands now; empty where it may.

    Asks again of every old run it touches, of the room it makes a hole in and of the storeys on its way, so
    that what is recorded after a plan was made or signed counts at once. **Source**: docs/work.md, "Ticking
    off": each run it touches and the room it drills in are asked again.
    """
    runs = {run.id for run in job.house.runs}
    found = [run_hold(job, run) for run in task.touches if run in runs]
    if task.hole:
        rooms = [r.id for r in job.house.rooms if r.name == task.place and task.storey in ("", r.storey)]
        found += [hole_hold(job, task.storey, room) for room in rooms or [""]]
        found += [hole_hold(job, storey, "") for storey in task.passes]
    return joined(*found)


def joined(*holds: str) -> str:
    """Several holds as one text, each sentence once, in the order in which they come.

    >>> joined("Held: a. Held: b.", "", "Held: a.")
    'Held: a. Held: b.'
    """
    found = tuple(dict.fromkeys(part for hold in holds for part in sentences(hold)))
    return found[0] if len(found) == 1 else say("words.sentences", parts=found) if found else ""


def sentences(hold: str) -> tuple[str, ...]:
    """The single holds of a text, each beginning with "Held: "; none of an empty one.

    >>> sentences("Held: a. Held: b.")
    ('Held: a.', 'Held: b.')
    """
    if isinstance(hold, Saying):
        within = hold.values.get("parts")
        return (hold,) if within is None else tuple(part for one in within for part in sentences(one))
    return tuple(f"Held: {part.strip()}" for part in hold.split("Held: ") if part.strip())


def hazards_in_the_way(job: Job, storey: str, room: str) -> tuple[Hazard, ...]:
    """Open hazards at a place; old mains answered yes at the door counts for the whole house.

    That answer counts only while no knob and tube is on record: then the entry says where it is and who
    signed.

    **Source**: docs/work.md, "What holds a step".
    """
    found = hazards_at(job.house, storey, room)
    on_record = any(hazard.kind is HazardKind.KNOB_AND_TUBE for hazard in job.house.hazards)
    if job.gate.knob_and_tube and not on_record:
        return (*found, Hazard(id=_IMPLIED, kind=HazardKind.KNOB_AND_TUBE, state="present"))
    return found


def hazard_words(job: Job, hazard: Hazard) -> Saying:
    """A hazard for people: its kind and id, its place, how it stands, and who makes it safe.

    Such as `knob and tube (H1), hall ceiling, is present: a licensed electrician makes it safe first and
    record the sign-off`. "whole house" where no place is known.
    """
    rooms = {room.id: room.name for room in job.house.rooms}
    storeys = {storey.id: storey.name for storey in job.house.storeys}
    place = hazard.where or rooms.get(hazard.room or "") or storeys.get(hazard.storey or "") or "whole house"
    state = hazard.state if hazard.state in ("suspected", "present") else "not signed for"
    kind, release = hazard.kind.value, _RELEASE[hazard.kind]
    if hazard.id == _IMPLIED:
        return say("takeoff_holds.hazard_told", kind=kind, place=place, state=state, release=release)
    return say(
        "takeoff_holds.hazard_found", kind=kind, id=hazard.id, place=place, state=state, release=release
    )
