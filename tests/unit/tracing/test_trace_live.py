"""Live lines first: checks in order, what holds a cable, what releases it."""

from __future__ import annotations

import pytest

from rehaul.facts.live_lines import live_checks, release_rules
from rehaul.house import (
    CableKind,
    Decision,
    Obligation,
    ObligationKind,
    ObligationState,
    Run,
    RunState,
    SignOff,
    held_reasons,
)
from rehaul.tracing import checks_before_cutting

SIGNED = SignOff(by="A. Person", date="2030-01-31", words="call centre heard the pendant")
SILENT = SignOff(by="A. Person", date="2030-01-31")

TESTED_DEAD = Decision(id="d1", run="r1", sign_off=SIGNED)


def cable(state: RunState = RunState.DEAD) -> Run:
    return Run(id="r1", ends=("o1", "m1"), state=state)


def may_cut(run: Run, obligations=(), decisions=()) -> bool:
    return not held_reasons(run, obligations, decisions)


def owed(kind: ObligationKind, state: ObligationState, sign_off: SignOff | None = None) -> Obligation:
    return Obligation(id="b1", kind=kind, run="r1", state=state, who="flat 2", sign_off=sign_off)


def test_every_state_and_kind_has_its_checks_and_rules() -> None:
    applies = {row.applies for row in live_checks()}
    known = {
        "every",
        "tracing",
        "line check",
        *(s.value for s in RunState),
        *(k.value for k in ObligationKind),
    }
    assert applies <= known
    assert {k.value for k in ObligationKind} <= applies
    assert set(release_rules()) == {k.value for k in ObligationKind}


def test_looking_comes_before_measuring_and_measuring_before_unplugging() -> None:
    ids = [check.id for check in checks_before_cutting(cable(RunState.LIVE_TELEPHONE))]
    assert ids.index("photograph") < ids.index("meter dc") < ids.index("demarcation") < ids.index("remeasure")
    assert [c.order for c in checks_before_cutting(cable())] == list(
        range(1, 1 + len(checks_before_cutting(cable())))
    )


@pytest.mark.parametrize(
    ("state", "kind", "word"),
    [
        (RunState.DEAD, None, "Ringing"),
        (RunState.DEAD, None, "Lightning"),
        (RunState.DEAD, None, "licensed electrician"),
        (RunState.ALARM, None, "without notice"),
        (RunState.UNKNOWN, None, "without notice"),
        (RunState.DAMAGED, None, "without notice"),
        (RunState.DEAD, ObligationKind.PENDANT_ALARM, "life"),
        (RunState.DEAD, ObligationKind.LIFT, "lift firm"),
        (RunState.DEAD, ObligationKind.DSL, "offline"),
        (RunState.DEAD, ObligationKind.ENTRY_PHONE, "lock"),
    ],
)
def test_cautions_are_there(state: RunState, kind: ObligationKind | None, word: str) -> None:
    owing = (owed(kind, ObligationState.IN_USE),) if kind else ()
    checks = checks_before_cutting(cable(state), owing)
    assert any(word in check.caution for check in checks)
    assert all(check.source for check in checks)


@pytest.mark.parametrize("state", [s for s in RunState if s is not RunState.DEAD])
def test_a_cable_not_known_to_be_dead_is_held_until_somebody_decides(state: RunState) -> None:
    run = cable(state)
    assert not may_cut(run)
    assert may_cut(run, (), [TESTED_DEAD])
    assert not may_cut(run, (), [Decision(id="d2", run="r2", sign_off=SIGNED)])


@pytest.mark.parametrize("kind", list(ObligationKind))
@pytest.mark.parametrize("state", list(ObligationState))
@pytest.mark.parametrize("sign_off", [None, SILENT, SIGNED])
def test_obligations(kind: ObligationKind, state: ObligationState, sign_off: SignOff | None) -> None:
    run = cable()
    obligation = owed(kind, state, sign_off)
    free = state in (ObligationState.MOVED, ObligationState.RELEASED) and sign_off is not None
    careful = kind in (
        ObligationKind.MONITORED_ALARM,
        ObligationKind.PENDANT_ALARM,
        ObligationKind.LIFT,
        ObligationKind.OTHER,
        ObligationKind.OTHER_HOUSEHOLD,
    )
    assert may_cut(run, [obligation]) == (free and not (careful and sign_off is SILENT))
    # A decision about the cable does not speak for who depends on it.
    assert may_cut(run, [obligation], [TESTED_DEAD]) == may_cut(run, [obligation])


def test_an_obligation_of_another_trade_does_not_answer_for_a_live_line() -> None:
    fax_gone = owed(ObligationKind.FAX, ObligationState.RELEASED, SIGNED)
    assert may_cut(cable(RunState.LIVE_TELEPHONE), [fax_gone])
    assert not may_cut(cable(RunState.ALARM), [fax_gone])


def test_reasons_say_who_and_what_to_do() -> None:
    (reason,) = held_reasons(cable(), [owed(ObligationKind.PENDANT_ALARM, ObligationState.BELIEVED_UNUSED)])
    assert "flat 2" in str(reason)
    assert "believed unused" in str(reason)
    assert "Test the pendant" in reason.remedy


@pytest.mark.parametrize("state", [RunState.UNKNOWN, RunState.DAMAGED])
def test_an_untested_coax_is_not_asked_for_a_dial_tone(state: RunState) -> None:
    coax = cable(state).model_copy(update={"kind": CableKind.COAX})
    tv = owed(ObligationKind.TELEVISION, ObligationState.IN_USE)
    said = " ".join(check.do + check.expect for check in checks_before_cutting(coax, (tv,)))
    assert "Dial tone" not in said and "monitoring" not in said
    assert "dc volts" in said and "every channel" in said
    assert "Dial tone" in " ".join(check.expect for check in checks_before_cutting(cable(state)))
