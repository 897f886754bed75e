"""Live lines first: what to check before anything is cut, and what may be cut now.

What holds a cable is one rule for the whole of rehaul: `rehaul.house.held_reasons`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rehaul.errors import Held
from rehaul.facts.live_lines import LiveCheckRow, live_checks
from rehaul.house import Decision, HeldReason, Obligation, Run, RunState, held_reasons


@dataclass(frozen=True)
class Check:
    """One thing to do before the cutters come out."""

    order: int
    id: str
    do: str
    expect: str
    caution: str
    source: str


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


def may_cut(run: Run, obligations: Sequence[Obligation] = (), decisions: Sequence[Decision] = ()) -> bool:
    """Whether nothing holds this cable back."""
    return not held_reasons(run, obligations, decisions)


def require_may_cut(
    run: Run, obligations: Sequence[Obligation] = (), decisions: Sequence[Decision] = ()
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
    runs: Sequence[Run], obligations: Sequence[Obligation] = (), decisions: Sequence[Decision] = ()
) -> CutOrder:
    """Split cables that somebody wants to cut into those that may be and those that are held."""
    reasons = {run.id: held_reasons(run, obligations, decisions) for run in runs}
    return CutOrder(
        tuple(run.id for run in runs if not reasons[run.id]),
        tuple(reason for run in runs for reason in reasons[run.id]),
    )


def _check(number: int, row: LiveCheckRow) -> Check:
    return Check(number, row.id, row.do, row.expect, row.caution, str(row.source))
