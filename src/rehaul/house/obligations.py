"""Who still depends on a cable, and what may therefore not be done to it yet."""

from __future__ import annotations

from rehaul.house.job import Job, Obligation, ObligationState
from rehaul.house.model import RunState

FREE_STATES = (ObligationState.MOVED, ObligationState.RELEASED)


def open_obligations(job: Job, run_id: str) -> tuple[Obligation, ...]:
    """Obligations that still hold a run: neither moved nor released, or without a recorded sign-off."""
    return tuple(
        obligation
        for obligation in job.obligations
        if obligation.run == run_id and (obligation.state not in FREE_STATES or obligation.sign_off is None)
    )


def hold_sentence(job: Job, run_id: str) -> str:
    """Why a run is held, for people; empty where nothing holds it."""
    holders = open_obligations(job, run_id)
    if holders:
        words = " and ".join(f"{holder.kind.value} ({holder.id})" for holder in holders)
        return f"Held: {words} still depends on {run_id}; record the sign-off first"
    run = next(run for run in job.house.runs if run.id == run_id)
    released = any(o.run == run_id for o in job.obligations)
    if run.state in (RunState.LIVE_TELEPHONE, RunState.ALARM) and not released:
        return (
            f"Held: {run_id} is noted as {run.state.value}; record who depends on it and their sign-off first"
        )
    return ""


def counts_on(job: Job, run_id: str) -> bool:
    """Whether a plan may count on a run: nothing holds it, or the household has all that does moved first.

    A run that is live without anybody named behind it never counts: nobody can be asked to move.
    """
    if not hold_sentence(job, run_id):
        return True
    holders = open_obligations(job, run_id)
    return bool(holders) and {holder.id for holder in holders} <= set(job.choices.to_be_moved)
