"""Live lines first: what to check before anything is cut, and what may not be cut yet.

A line that is live, not known to be dead, or that somebody depends on is held until a decision is
recorded: who, when, in what words. Believing that a line is unused is not a decision.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rehaul.errors import Held
from rehaul.facts.live_lines import LiveCheckRow, live_checks, release_rules
from rehaul.house import Obligation, ObligationKind, ObligationState, Run, RunState, SignOff

_FREE = (ObligationState.MOVED, ObligationState.RELEASED)
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
class RunDecision:
    """A recorded decision about a cable itself: tested dead, or its service moved or given up."""

    run: str
    sign_off: SignOff


@dataclass(frozen=True)
class Check:
    """One thing to do before the cutters come out."""

    order: int
    id: str
    do: str
    expect: str
    caution: str
    source: str


@dataclass(frozen=True)
class HeldReason:
    """Why a cable may not be cut, and what would release it."""

    run: str
    obligation: str  # id; empty where the state of the cable itself holds it
    problem: str
    remedy: str

    def __str__(self) -> str:
        return f"{self.run}: {self.problem}. {self.remedy}."


def checks_before_cutting(run: Run, obligations: Sequence[Obligation] = ()) -> tuple[Check, ...]:
    """Checks for this cable, in order, with their cautions.

    Parameters
    ----------
    run : the cable, with its state
    obligations : everything the register holds; those of other cables are left out

    Returns
    -------
    the checks that apply to every cable, to its state, and to each kind of obligation on it

    **Validity**: rehaul is no electrician and no telephone company; local rules and licensed trades decide.
    **Source**: the fact table `live_lines`, source beside each row.
    """
    applies = {"every", run.state.value, *(o.kind.value for o in obligations if o.run == run.id)}
    if run.state is RunState.UNKNOWN or run.state is RunState.DAMAGED:
        applies |= {RunState.LIVE_TELEPHONE.value, RunState.ALARM.value}
    rows = [row for row in live_checks() if row.applies in applies]
    return tuple(_check(number, row) for number, row in enumerate(rows, start=1))


def held_reasons(
    run: Run, obligations: Sequence[Obligation] = (), decisions: Sequence[RunDecision] = ()
) -> tuple[HeldReason, ...]:
    """Every reason why this cable may not be cut; empty if it may.

    Parameters
    ----------
    run : the cable, with its state
    obligations : the register; those of other cables are left out
    decisions : recorded decisions about cables themselves
    """
    own = [obligation for obligation in obligations if obligation.run == run.id]
    reasons = [reason for obligation in own if (reason := _held_by(run, obligation))]
    decided = any(decision.run == run.id for decision in decisions)
    kinds = _KINDS_OF_STATE.get(run.state, ())
    moved = any(obligation.kind in kinds and not _held_by(run, obligation) for obligation in own)
    if run.state in _FIRST_QUESTION and not decided and not moved:
        reasons.insert(
            0,
            HeldReason(
                run.id,
                "",
                _FIRST_QUESTION[run.state],
                "Go through the checks before cutting and record who decided, when and why",
            ),
        )
    return tuple(reasons)


def may_cut(run: Run, obligations: Sequence[Obligation] = (), decisions: Sequence[RunDecision] = ()) -> bool:
    """Whether nothing holds this cable back."""
    return not held_reasons(run, obligations, decisions)


def require_may_cut(
    run: Run, obligations: Sequence[Obligation] = (), decisions: Sequence[RunDecision] = ()
) -> None:
    """Raise `Held` with the first reason if this cable may not be cut."""
    for reason in held_reasons(run, obligations, decisions):
        raise Held(reason.problem, where=f"cable {reason.run}", remedy=reason.remedy)


@dataclass(frozen=True)
class CutOrder:
    """What may be cut now, in the order given, and what is held back and why."""

    may_cut: tuple[str, ...]
    held: tuple[HeldReason, ...]


def cut_order(
    runs: Sequence[Run], obligations: Sequence[Obligation] = (), decisions: Sequence[RunDecision] = ()
) -> CutOrder:
    """Split cables that somebody wants to cut into those that may be and those that are held."""
    reasons = {run.id: held_reasons(run, obligations, decisions) for run in runs}
    return CutOrder(
        tuple(run.id for run in runs if not reasons[run.id]),
        tuple(reason for run in runs for reason in reasons[run.id]),
    )


def _held_by(run: Run, obligation: Obligation) -> HeldReason | None:
    rule = release_rules()[obligation.kind.value]
    who = f" ({obligation.who})" if obligation.who else ""
    name = f"{obligation.kind.value}{who}"
    if obligation.state not in _FREE:
        return HeldReason(
            run.id, obligation.id, f"{name} depends on it, {obligation.state.value}", rule.release
        )
    if obligation.sign_off is None:
        return HeldReason(
            run.id,
            obligation.id,
            f"{name} is said to be {obligation.state.value}, but nobody signed for it",
            "Record who, when and in what words",
        )
    if rule.needs_words and not obligation.sign_off.words.strip():
        return HeldReason(
            run.id,
            obligation.id,
            f"{name} is signed for without saying what was tested or agreed",
            rule.release,
        )
    return None


def _check(number: int, row: LiveCheckRow) -> Check:
    return Check(number, row.id, row.do, row.expect, row.caution, str(row.source))
