"""People: what they need, who depends on a line, and what must be asked at the door."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from rehaul.house.audit.finding import Finding, Severity
from rehaul.house.job import Job, ObligationState
from rehaul.house.obligations import FREE_STATES, LIVE_STATES, open_obligations

QUESTIONS = {
    "lead_paint": "whether there is lead paint where holes will be made",
    "asbestos": "whether there may be asbestos in boards, tiles or lagging",
    "knob_and_tube": "whether old open mains wiring runs in the walls",
    "fire_rated_walls": "which walls and floors must hold back fire",
    "licence_checked": "whether this work needs a licence here",
}
HAZARDS = {
    "lead_paint": "Lead paint is noted: no dry sanding or drilling through it; follow the local rules.",
    "asbestos": "Asbestos is noted: do not drill or cut it; leave it to somebody licensed.",
    "knob_and_tube": "Old open mains wiring is noted: an electrician looks before anything is fished there.",
    "fire_rated_walls": "Fire-rated walls or floors are noted: every hole is closed with a listed fire stop.",
}


def people_findings(job: Job) -> Iterator[Finding]:
    """What is amiss with needs, services, obligations, choices and the questions at the door.

    Questions that nobody answered and hazards that were found are told too: nothing is drilled before them.
    """
    yield from _needs(job)
    yield from _service(job)
    yield from _obligations(job)
    yield from _gate(job)
    yield from _choices(job)


def _needs(job: Job) -> Iterator[Finding]:
    rooms = {room.id: room for room in job.house.rooms}
    if rooms and not job.needs:
        yield Finding(
            code="no-need",
            severity=Severity.SERIOUS,
            where=("needs",),
            sentence="No room has a need; there is nothing to plan for.",
            proposed_fix="Ask what people do in each room, and write it down as uses.",
        )
        return
    wanted = Counter(need.room for need in job.needs)
    missing = [
        room for room in rooms.values() if room.counts and not room.household and room.id not in wanted
    ]
    if missing:
        yield Finding(
            code="room-without-need",
            severity=Severity.ASK,
            where=tuple(room.id for room in missing),
            sentence=f"No need is stated for {', '.join(room.name for room in missing)}.",
            proposed_fix="Ask, or mark the room as not lived in.",
        )
    for need in job.needs:
        if not need.uses and need.down_mbps is None and not need.wired_outlets:
            yield Finding(
                code="need-empty",
                severity=Severity.ASK,
                where=(need.id,),
                sentence=f"The need of {rooms[need.room].name} names neither a use nor a rate.",
                proposed_fix="Name its uses, or a rate in Mb/s.",
            )
        if not rooms[need.room].lived_in and not rooms[need.room].outside:
            yield Finding(
                code="need-where-nobody-lives",
                severity=Severity.ASK,
                where=(need.id, need.room),
                sentence=f"{rooms[need.room].name} has a need but is marked as not lived in.",
                proposed_fix="Correct one of the two.",
            )
    for room_id in [room_id for room_id, count in wanted.items() if count > 1]:
        yield Finding(
            code="need-twice",
            severity=Severity.MEND,
            where=tuple(need.id for need in job.needs if need.room == room_id),
            sentence=f"{rooms[room_id].name} has {wanted[room_id]} needs.",
            proposed_fix="Put them into one, with all uses.",
        )


def _service(job: Job) -> Iterator[Finding]:
    if job.service.modem is None:
        yield Finding(
            code="modem-not-placed",
            severity=Severity.SERIOUS,
            where=("service.modem",),
            sentence="Where the modem stands is not known; every wired path starts there.",
            proposed_fix="Put it on the plan as a box and name it as the modem of the service.",
        )
    if job.service.medium == "unknown":
        yield Finding(
            code="medium-unknown",
            severity=Severity.ASK,
            where=("service.medium",),
            sentence="Over what the service comes into the house is not known.",
            proposed_fix="Look at the modem's socket; a DSL line and an alarm may share one pair.",
        )


def _obligations(job: Job) -> Iterator[Finding]:
    for obligation in job.obligations:
        if obligation in open_obligations(job, obligation.run):
            state = f"is {obligation.state.value}"
            if obligation.state in FREE_STATES:
                state += ", signed for without words" if obligation.sign_off else ", without a sign-off"
            yield Finding(
                code="obligation-without-sign-off",
                severity=Severity.SERIOUS,
                where=(obligation.id, obligation.run),
                sentence=f"The {obligation.kind.words} on {obligation.run} {state}: nothing may cut it.",
                proposed_fix="Ring its company, move and test it, and record who signed.",
            )
        if obligation.state is ObligationState.BELIEVED_UNUSED:
            yield Finding(
                code="obligation-believed",
                severity=Severity.ASK,
                where=(obligation.id,),
                sentence=f"The {obligation.kind.words} on {obligation.run} is only believed to be unused.",
                proposed_fix="Get it in writing from whoever it belongs to.",
            )
    named = {obligation.run for obligation in job.obligations}
    for run in job.house.runs:
        if run.state in LIVE_STATES and run.id not in named:
            yield Finding(
                code="live-line-without-owner",
                severity=Severity.SERIOUS,
                where=(run.id,),
                sentence=f"Cable {run.id} is noted as {run.state.value}; who depends on it is not noted.",
                proposed_fix="Record who depends on it, and their sign-off when it is moved.",
            )


def _gate(job: Job) -> Iterator[Finding]:
    gate = job.gate
    if gate.asked_about_alarms is not True:
        yield Finding(
            code="alarms-not-asked",
            severity=Severity.SERIOUS,
            where=("gate.asked_about_alarms",),
            sentence="Nobody has asked about alarms, pendants, entry phones and lifts on the telephone line.",
            proposed_fix="Ask before anything is unplugged.",
        )
    for field, question in QUESTIONS.items():
        if getattr(gate, field) is None:
            yield Finding(
                code="gate-not-asked",
                severity=Severity.ASK,
                where=(f"gate.{field}",),
                sentence=f"It was not asked {question}.",
                proposed_fix="Ask at the door, before a tool leaves the van.",
            )
    for field, warning in HAZARDS.items():
        if getattr(gate, field):
            yield Finding(
                code="hazard-noted",
                severity=Severity.SERIOUS,
                where=(f"gate.{field}",),
                sentence=warning,
                proposed_fix="Plan the work around it; local codes and licensed trades decide.",
            )
    if gate.licence_checked is False:
        yield Finding(
            code="licence-missing",
            severity=Severity.SERIOUS,
            where=("gate.licence_checked",),
            sentence="Whether this work needs a licence here was not checked.",
            proposed_fix="Ask the local authority before work starts.",
        )
    if job.house.tenure != "owned" and gate.landlord_agrees is not True:
        rented = job.house.tenure == "rented"
        yield Finding(
            code="landlord-not-asked",
            severity=Severity.SERIOUS if rented else Severity.ASK,
            where=("gate.landlord_agrees",),
            sentence="The house is rented and its owner has not agreed."
            if rented
            else "Whether the house is owned or rented is not known.",
            proposed_fix="Get the owner's word in writing.",
        )
    if job.house.built_year is None:
        yield Finding(
            code="year-unknown",
            severity=Severity.ASK,
            where=("house.built_year",),
            sentence="When the house was built is not known; lead, asbestos and old wiring depend on it.",
            proposed_fix="Ask, or look at the deeds.",
        )


def _choices(job: Job) -> Iterator[Finding]:
    for site in sorted(set(job.choices.pinned_sites) & set(job.choices.forbidden_sites)):
        yield Finding(
            code="choice-contradicts-itself",
            severity=Severity.SERIOUS,
            where=("choices", site),
            sentence=f"{site} is both pinned and forbidden.",
            proposed_fix="Take it off one of the two lists.",
        )
