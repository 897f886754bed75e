"""What holds a cable: the one rule by which it may be cut, moved or counted on, and what would release it.

A cable that is live, not known to be dead, or that somebody depends on is held until a decision is
recorded: who, when, in what words. Believing that a line is unused is not a decision.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rehaul.facts.live_lines import release_rules
from rehaul.house.job import Job, Obligation, ObligationKind, ObligationState
from rehaul.house.model import Run, RunState
from rehaul.house.trail import Decision

FREE_STATES = (ObligationState.MOVED, ObligationState.RELEASED)
LIVE_STATES = (RunState.LIVE_TELEPHONE, RunState.ALARM)
_KINDS_OF_STATE = {
    RunState.LIVE_TELEPHONE: (ObligationKind.TELEPHONE, ObligationKind.DSL, ObligationKind.FAX),
    RunState.ALARM: (ObligationKind.MONITORED_ALARM, ObligationKind.PENDANT_ALARM),
}
_FIRST_QUESTION = {
    RunState.LIVE_TELEPHONE: "it carries a live telephone line",
    RunState.ALARM: "an alarm is on it",
    RunState.UNKNOWN: "nobody has tested whether it is live",
    RunState.DAMAGED: "a damaged cable can still carry voltage and nobody has tested it",
}


@dataclass(frozen=True)
class HeldReason:
    """Why a cable may not be cut, and what would release it."""

    run: str
    obligation: str  # id; empty where the state of the cable itself holds it
    problem: str
    remedy: str
    untested: bool = False  # only a test on the day is missing: a plan may count on it, nobody may cut it

    def __str__(self) -> str:
        return f"{self.run}: {self.problem}. {self.remedy}."


def held_reasons(
    run: Run, obligations: Sequence[Obligation] = (), decisions: Sequence[Decision] = ()
) -> tuple[HeldReason, ...]:
    """Every reason why this cable may not be cut; empty if it may.

    Parameters
    ----------
    run : the cable, with its state
    obligations : the register; those of other cables are left out
    decisions : recorded decisions about cables themselves
    """
    own = [obligation for obligation in obligations if obligation.run == run.id]
    reasons = [reason for obligation in own if (reason := _held_by(obligation))]
    decided = any(decision.run == run.id for decision in decisions)
    kinds = _KINDS_OF_STATE.get(run.state, ())
    moved = any(obligation.kind in kinds and not _held_by(obligation) for obligation in own)
    if run.state in _FIRST_QUESTION and not decided and not moved:
        reasons.insert(
            0,
            HeldReason(
                run.id,
                "",
                _FIRST_QUESTION[run.state],
                "Go through the checks before cutting and record who decided, when and why",
                untested=run.state not in LIVE_STATES,
            ),
        )
    return tuple(reasons)


def held_on(job: Job, run_id: str) -> tuple[HeldReason, ...]:
    """Every reason why a cable of the job may not be cut or moved yet."""
    run = next(run for run in job.house.runs if run.id == run_id)
    return held_reasons(run, job.obligations, job.decisions)


def open_obligations(job: Job, run_id: str) -> tuple[Obligation, ...]:
    """Obligations that still hold a run."""
    return tuple(o for o in job.obligations if o.run == run_id and _held_by(o))


def use_hold(job: Job, run_id: str) -> str:
    """Why a plan may not count on a run as it is, for people; empty where it may.

    A run that only waits for a test may be counted on: the order of work has the test before any cut.
    One that is noted as live never counts without anybody named behind it, decision or not.
    """
    holders = open_obligations(job, run_id)
    if holders:
        words = " and ".join(f"{holder.kind.value} ({holder.id})" for holder in holders)
        return f"Held: {words} still depends on {run_id}; record the sign-off first"
    run = next(run for run in job.house.runs if run.id == run_id)
    named = any(obligation.run == run_id for obligation in job.obligations)
    live = any(not reason.untested for reason in held_on(job, run_id))
    if live or (run.state in LIVE_STATES and not named):
        return (
            f"Held: {run_id} is noted as {run.state.value}; record who depends on it and their sign-off first"
        )
    return ""


def counts_on(job: Job, run_id: str) -> bool:
    """Whether a plan may count on a run: nothing holds it, or the household has all that does moved first.

    A run that is live without anybody named behind it never counts: nobody can be asked to move.
    """
    if not use_hold(job, run_id):
        return True
    holders = open_obligations(job, run_id)
    return bool(holders) and {holder.id for holder in holders} <= set(job.choices.to_be_moved)


def _held_by(obligation: Obligation) -> HeldReason | None:
    rule = release_rules()[obligation.kind.value]
    who = f" ({obligation.who})" if obligation.who else ""
    name = f"{obligation.kind.value}{who}"
    if obligation.state not in FREE_STATES:
        problem, remedy = f"{name} depends on it, {obligation.state.value}", rule.release
    elif obligation.sign_off is None:
        problem = f"{name} is said to be {obligation.state.value}, but nobody signed for it"
        remedy = "Record who, when and in what words"
    elif rule.needs_words and not obligation.sign_off.words.strip():
        problem, remedy = f"{name} is signed for without saying what was tested or agreed", rule.release
    else:
        return None
    return HeldReason(obligation.run, obligation.id, problem, remedy)
