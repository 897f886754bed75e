"""What holds an old cable, worked out again from the job alone."""

from __future__ import annotations

from dataclasses import dataclass

from rehaul.facts.auditing import audit_number
from rehaul.facts.live_lines import release_rules
from rehaul.house import UNKNOWN, Job, LineCheck, Obligation, ObligationKind, ObligationState, RunState
from rehaul.words import Saying, say

MOVES = {  # obligations that, once moved or given up, free a cable in that state
    RunState.LIVE_TELEPHONE: ("telephone", "dsl", "fax"),
    RunState.ALARM: ("monitored alarm", "pendant alarm"),
}


@dataclass(frozen=True)
class Hold:
    """Why a cable may not be touched."""

    why: Saying
    untested: bool = False  # nobody looked yet: a test on the day may free it


def is_released(obligation: Obligation) -> bool:
    """Moved or given up, signed for, and in words where its kind asks for them.

    Parameters: `obligation`, one of the job's. True only where it is moved or released, has a sign-off, and
    that says something where the kind asks for words.

    **Source**: fact table of release rules.
    """
    signed = obligation.sign_off
    if obligation.state not in (ObligationState.MOVED, ObligationState.RELEASED) or signed is None:
        return False
    return bool(signed.words.strip()) or not release_rules()[obligation.kind.value].needs_words


def depends(job: Job, run: str) -> tuple[Obligation, ...]:
    """Who still depends on a cable.

    Returns the obligations on the cable `run` that are not released, in the order of the job; empty where
    nobody depends on it, or no cable has that id. **Source**: docs/trace.md, "Before anything": what may be
    cut.
    """
    return tuple(o for o in job.obligations if o.run == run and not is_released(o))


def hold_on(job: Job, run_id: str) -> Hold | None:
    """Why a cable may not be cut, moved or tied; None where it may, or where there is no such cable.

    Asked in this order: who depends on it, what the checks on the line showed, then what the record says.
    The hold is `untested` where only a test is missing.

    **Validity**: works from the job alone and shares no code with what planned, so that both may be
    compared.
    **Source**: docs/work.md, "what holds a step"; voltages of the fact table of the auditor's numbers.
    """
    run = next((run for run in job.house.runs if run.id == run_id), None)
    if run is None:
        return None
    for obligation in depends(job, run_id):
        return Hold(say("audit_work.depends", who=obligation.kind.words, hold=obligation.id))
    seen = _seen_live(job, run_id)
    if seen:
        return Hold(seen)
    if run.state is RunState.DEAD or any(decision.run == run_id for decision in job.decisions):
        return None
    moved = [o for o in job.obligations if o.run == run_id and o.kind.value in MOVES.get(run.state, ())]
    if moved:  # all of them released, or the loop above had found one
        return None
    if run.state in MOVES:
        return Hold(say("audit_work.noted_as", state=run.state.value))
    return Hold(say("audit_work.not_tested"), untested=True)


def why_not_used(job: Job, run_id: str) -> Saying | None:
    """Why a plan may not count on an old cable, as the end of a sentence; None where it may.

    One that only waits for a test may be counted on; so may one whose every user the household has moved.
    **Source**: docs/trace.md, "Before anything": what may be cut.
    """
    run = next((run for run in job.house.runs if run.id == run_id), None)
    if run is None:
        return say("audit_work.no_cable")
    if UNKNOWN in run.ends:
        return say("audit_work.no_far_end")
    on_record = any(o.run == run_id and o.kind is ObligationKind.OTHER_HOUSEHOLD for o in job.obligations)
    strangers = [end for end in run.ends if _household(job, end) and not on_record]
    if strangers:
        return say("audit_work.passes_strangers", outlet=strangers[0])
    open_ones = depends(job, run_id)
    if open_ones:
        if {o.id for o in open_ones} <= set(job.choices.to_be_moved):
            return None
        return say("audit_work.still_depends", who=open_ones[0].kind.words, hold=open_ones[0].id)
    hold = hold_on(job, run_id)
    if hold and not hold.untested:
        return hold.why
    if run.state in MOVES and not any(o.run == run_id for o in job.obligations):
        return say("audit_work.noted_nobody_named", state=run.state.value)
    return None


def _seen_live(job: Job, run_id: str) -> Saying | None:
    """What a check on the line showed, unless it was disconnected and signed for since."""
    said: Saying | None = None
    for check in job.line_checks:
        if check.run != run_id:
            continue
        if check.what == "disconnected" and check.sign_off is not None:
            said = None
        elif check.what == "reconnected":
            said = say("audit_work.put_back", check=check.id)
        else:
            said = _live_sign(check) or said
    return said


def _live_sign(check: LineCheck) -> Saying | None:
    if check.what == "who depends" and check.nobody is False:
        return say("audit_work.somebody_depends", check=check.id)
    if check.what == "voltage" and (
        (check.dc_v or 0) >= audit_number("live_dc") or (check.ac_v or 0) >= audit_number("live_ac")
    ):
        return say("audit_work.has_voltage", check=check.id)
    if check.what == "modem sync" and check.synchronises:
        return say("audit_work.has_modem", check=check.id)
    return None


def _household(job: Job, end: str) -> str:
    """The other household that an outlet belongs to; empty for the customer's own."""
    outlet = next((outlet for outlet in job.house.outlets if outlet.id == end), None)
    if outlet is None or outlet.room is None:
        return ""
    return next((room.household for room in job.house.rooms if room.id == outlet.room), "")
