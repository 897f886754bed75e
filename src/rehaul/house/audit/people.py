"""People: what they need, who depends on a line, and what must be asked at the door."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from rehaul.house.audit.finding import Finding, Severity
from rehaul.house.called import called
from rehaul.house.job import Job, ObligationState
from rehaul.house.obligations import FREE_STATES, LIVE_STATES, open_obligations
from rehaul.words import say

# codes of what is said of each field of the gate
QUESTIONS = {
    "lead_paint": "findings.asked_lead_paint",
    "asbestos": "findings.asked_asbestos",
    "knob_and_tube": "findings.asked_old_wiring",
    "fire_rated_walls": "findings.asked_fire_walls",
    "licence_checked": "findings.asked_licence",
}
HAZARDS = {
    "lead_paint": "findings.lead_paint_noted",
    "asbestos": "findings.asbestos_noted",
    "knob_and_tube": "findings.old_wiring_noted",
    "fire_rated_walls": "findings.fire_walls_noted",
}


def people_findings(job: Job) -> Iterator[Finding]:
    """What is amiss with needs, services, obligations, choices and the questions at the door.

    Questions that nobody answered and hazards that were found are told too: nothing is drilled before them.
    **Source**: docs/readers.md, "The audit".
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
            sentence=say("findings.no_need"),
            proposed_fix=say("fixes.ask_what_people_do"),
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
            sentence=say("findings.room_without_need", rooms=[room.name for room in missing]),
            proposed_fix=say("fixes.ask_or_mark_room"),
        )
    for need in job.needs:
        if not need.uses and need.down_mbps is None and not need.wired_outlets:
            yield Finding(
                code="need-empty",
                severity=Severity.ASK,
                where=(need.id,),
                sentence=say("findings.need_empty", room=rooms[need.room].name),
                proposed_fix=say("fixes.name_uses_or_rate"),
            )
        if not rooms[need.room].lived_in and not rooms[need.room].outside:
            yield Finding(
                code="need-where-nobody-lives",
                severity=Severity.ASK,
                where=(need.id, need.room),
                sentence=say("findings.need_where_nobody_lives", room=rooms[need.room].name),
                proposed_fix=say("fixes.correct_one_of_two"),
            )
    for room_id in [room_id for room_id, count in wanted.items() if count > 1]:
        yield Finding(
            code="need-twice",
            severity=Severity.MEND,
            where=tuple(need.id for need in job.needs if need.room == room_id),
            sentence=say("findings.need_twice", room=rooms[room_id].name, needs=wanted[room_id]),
            proposed_fix=say("fixes.put_needs_into_one"),
        )


def _service(job: Job) -> Iterator[Finding]:
    if job.service.modem is None:
        yield Finding(
            code="modem-not-placed",
            severity=Severity.SERIOUS,
            where=("service.modem",),
            sentence=say("findings.modem_not_placed"),
            proposed_fix=say("fixes.place_the_modem"),
        )
    if job.service.medium == "unknown":
        yield Finding(
            code="medium-unknown",
            severity=Severity.ASK,
            where=("service.medium",),
            sentence=say("findings.medium_unknown"),
            proposed_fix=say("fixes.look_at_modem_socket"),
        )


def _obligations(job: Job) -> Iterator[Finding]:
    for obligation in job.obligations:
        if obligation in open_obligations(job, obligation.run):
            code = "findings.obligation_open"
            if obligation.state in FREE_STATES:
                signed = obligation.sign_off is not None
                code = "findings.obligation_without_words" if signed else "findings.obligation_not_signed"
            yield Finding(
                code="obligation-without-sign-off",
                severity=Severity.SERIOUS,
                where=(obligation.id, obligation.run),
                sentence=say(
                    code,
                    kind=obligation.kind.words,
                    run=called(job, obligation.run),
                    state=obligation.state.value,
                ),
                proposed_fix=say("fixes.ring_its_company"),
            )
        if obligation.state is ObligationState.BELIEVED_UNUSED:
            yield Finding(
                code="obligation-believed",
                severity=Severity.ASK,
                where=(obligation.id,),
                sentence=say(
                    "findings.obligation_believed",
                    kind=obligation.kind.words,
                    run=called(job, obligation.run),
                ),
                proposed_fix=say("fixes.get_it_in_writing"),
            )
    named = {obligation.run for obligation in job.obligations}
    for run in job.house.runs:
        if run.state in LIVE_STATES and run.id not in named:
            yield Finding(
                code="live-line-without-owner",
                severity=Severity.SERIOUS,
                where=(run.id,),
                sentence=say(
                    "findings.live_line_without_owner", run=called(job, run.id), state=run.state.value
                ),
                proposed_fix=say("fixes.record_who_depends"),
            )


def _gate(job: Job) -> Iterator[Finding]:
    gate = job.gate
    if gate.asked_about_alarms is not True:
        yield Finding(
            code="alarms-not-asked",
            severity=Severity.SERIOUS,
            where=("gate.asked_about_alarms",),
            sentence=say("findings.alarms_not_asked"),
            proposed_fix=say("fixes.ask_before_unplugging"),
        )
    for field, question in QUESTIONS.items():
        if getattr(gate, field) is None:
            yield Finding(
                code="gate-not-asked",
                severity=Severity.ASK,
                where=(f"gate.{field}",),
                sentence=say("findings.gate_not_asked", question=say(question)),
                proposed_fix=say("fixes.ask_at_the_door"),
            )
    for field, warning in HAZARDS.items():
        if getattr(gate, field):
            yield Finding(
                code="hazard-noted",
                severity=Severity.SERIOUS,
                where=(f"gate.{field}",),
                sentence=say(warning),
                proposed_fix=say("fixes.plan_around_it"),
            )
    if gate.licence_checked is False:
        yield Finding(
            code="licence-missing",
            severity=Severity.SERIOUS,
            where=("gate.licence_checked",),
            sentence=say("findings.licence_missing"),
            proposed_fix=say("fixes.ask_the_authority"),
        )
    if job.house.tenure != "owned" and gate.landlord_agrees is not True:
        rented = job.house.tenure == "rented"
        yield Finding(
            code="landlord-not-asked",
            severity=Severity.SERIOUS if rented else Severity.ASK,
            where=("gate.landlord_agrees",),
            sentence=say("findings.landlord_not_asked" if rented else "findings.tenure_unknown"),
            proposed_fix=say("fixes.get_the_owners_word"),
        )
    if job.house.built_year is None:
        yield Finding(
            code="year-unknown",
            severity=Severity.ASK,
            where=("house.built_year",),
            sentence=say("findings.year_unknown"),
            proposed_fix=say("fixes.look_at_the_deeds"),
        )


def _choices(job: Job) -> Iterator[Finding]:
    for site in sorted(set(job.choices.pinned_sites) & set(job.choices.forbidden_sites)):
        yield Finding(
            code="choice-contradicts-itself",
            severity=Severity.SERIOUS,
            where=("choices", site),
            sentence=say("findings.choice_contradicts_itself", site=called(job, site)),
            proposed_fix=say("fixes.take_off_one_list"),
        )
