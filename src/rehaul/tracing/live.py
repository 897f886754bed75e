"""Live lines first: what to check before anything is cut.

What may be cut is one rule for the whole of rehaul, `rehaul.house.held_reasons`; what may be tied is
`rehaul.house.Ties`, built on it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rehaul.facts.live_lines import LiveCheckRow, live_checks
from rehaul.house import CableKind, Obligation, Run, RunState
from rehaul.words import cited, term


@dataclass(frozen=True)
class LineStep:
    """One thing to do before the cutters come out."""

    order: int
    id: str
    do: str
    expect: str
    caution: str
    source: str


def checks_before_cutting(run: Run, obligations: Sequence[Obligation] = ()) -> tuple[LineStep, ...]:
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
    if run.state in (RunState.UNKNOWN, RunState.DAMAGED) and run.kind is not CableKind.COAX:
        applies |= {RunState.LIVE_TELEPHONE.value, RunState.ALARM.value}
    rows = [row for row in live_checks() if row.applies in applies]
    return tuple(_check(number, row) for number, row in enumerate(rows, start=1))


def _check(number: int, row: LiveCheckRow) -> LineStep:
    return LineStep(number, row.id, term(row.do), term(row.expect), term(row.caution), cited(row.source))
