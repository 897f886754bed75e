"""What line checks say of a cable: the later one rules, and a reconnection undoes what was measured."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from line_checks import quiet
from rehaul.facts.line_voltages import line_voltage, line_voltages
from rehaul.house import LineCheck, Run, SignOff, held_reasons, line_signs, still_disconnected
from rehaul.house.line_checks import ASKED, found_live

RUN = Run(id="C1", ends=("MP1", "1-01"), state="dead")
OWNER = SignOff(by="Owner", date="2026-11-20", words="dial tone heard")


def check(number: int, what: str, **fields: object) -> LineCheck:
    return LineCheck.model_validate({"id": f"L{number}", "at": "MP1", "what": what, **fields})


def volts(number: int, dc_v: float, run: str | None = None, **more: object) -> LineCheck:
    return check(number, "voltage", dc_v=dc_v, ac_v=0.0, run=run, **more)


def off(number: int, **more: object) -> LineCheck:
    return check(number, "disconnected", sign_off=OWNER, **more)


def on(number: int, **more: object) -> LineCheck:
    return check(number, "reconnected", sign_off=OWNER, **more)


@pytest.mark.parametrize("current", ["dc", "ac"])
def test_spans_of_volts_meet_and_start_at_nothing(current: str) -> None:
    spans = [row for row in line_voltages() if row.current == current]
    assert spans[0].from_v == 0 and spans[0].quiet and spans[-1].below_v is None
    assert [row.below_v for row in spans[:-1]] == [row.from_v for row in spans[1:]]
    assert not any(row.quiet for row in spans[1:])


@pytest.mark.parametrize(
    ("dc_v", "ac_v", "live"),
    [
        (0.0, 0.0, False),
        (2.99, 0.99, False),
        (3.0, 0.0, True),
        (0.0, 1.0, True),
        (48.0, 0.0, True),
        (0.1, 16.0, True),
        (0.0, 90.0, True),
    ],
)
def test_a_line_counts_as_dead_below_3_v_dc_and_1_v_ac(dc_v: float, ac_v: float, live: bool) -> None:
    assert found_live(check(1, "voltage", dc_v=dc_v, ac_v=ac_v)) is live


@pytest.mark.parametrize(
    ("current", "volts_v", "word"),
    [
        ("dc", 48, "telephone line at rest"),
        ("dc", 9, "line in use"),
        ("ac", 90, "rings"),
        ("ac", 8, "door bell"),
        ("ac", 24, "door bell"),
        ("ac", 230, "mains"),
    ],
)
def test_what_a_voltage_looks_like(current: str, volts_v: float, word: str) -> None:
    assert word in line_voltage(current, volts_v).looks_like


def test_nothing_is_asked_twice_and_everything_once() -> None:
    assert line_signs(RUN, ()).unasked == ASKED
    for checks in (quiet("MP1"), quiet("MP1", "C1")):
        assert line_signs(RUN, checks).unasked == ()
        assert line_signs(RUN, checks[1:]).unasked == ("who depends",)
        assert line_signs(RUN, checks[:2]).unasked == ("modem sync",)
    for elsewhere in (quiet("MP2"), quiet("MP1", "C2")):
        assert line_signs(RUN, elsewhere).unasked == ASKED


def test_a_voltage_holds_the_cable_at_once_whatever_its_state() -> None:
    signs = line_signs(RUN, (*quiet("MP1"), volts(1, 48.0, "C1")))
    assert signs.live and signs.live.id == "L1"
    (reason,) = held_reasons(RUN, (), (), (volts(1, 48.0, "C1"),))
    assert "48 V dc" in reason.problem and not reason.untested


def test_a_modem_that_synchronises_holds_a_cable_without_voltage() -> None:
    sync = check(1, "modem sync", synchronises=True, run="C1")
    (reason,) = held_reasons(RUN, (), (), (*quiet("MP1"), sync))
    assert "modem" in reason.problem


def test_a_voltage_somewhere_at_the_point_is_everybodys_until_each_is_measured() -> None:
    somewhere = volts(1, 48.0)
    assert line_signs(RUN, (somewhere,)).live
    assert line_signs(RUN, (somewhere, volts(2, 0.1, "C2"))).live
    cleared = line_signs(RUN, (somewhere, volts(2, 0.1, "C1")))
    assert cleared.live is None and cleared.once_live is None


def test_a_cable_found_live_once_stays_held_until_somebody_decided() -> None:
    checks = (volts(1, 48.0, "C1"), volts(2, 0.1, "C1"))
    signs = line_signs(RUN, checks)
    assert signs.live is None and signs.once_live and not signs.cleared_off
    assert held_reasons(RUN, (), (), checks)


def test_a_voltage_found_is_recorded_by_itself_and_silence_only_of_both() -> None:
    """Who finds 48 V stops there; a meter that was never turned to ac has not shown a dead line."""
    for found in (check(1, "voltage", dc_v=48.0, run="C1"), check(1, "voltage", ac_v=24.0, run="C1")):
        signs = line_signs(RUN, (*quiet("MP1"), found))
        assert signs.live == found and signs.unasked == ()
        (reason,) = held_reasons(RUN, (), (), (found,))
        assert "48 V dc" in reason.problem or "24 V ac" in reason.problem
    with pytest.raises(ValidationError, match="needs ac_v: a line counts as dead only where"):
        check(1, "voltage", dc_v=0.1)
    with pytest.raises(ValidationError, match="needs dc_v"):
        check(1, "voltage", ac_v=0.1)


def test_what_was_measured_while_disconnected_is_void_once_it_is_connected_again() -> None:
    checks = [volts(1, 48.0, "C1"), off(2), volts(3, 0.1, "C1")]
    signs = line_signs(RUN, checks)
    assert signs.cleared_off and signs.live is None and signs.disconnected
    again = line_signs(RUN, [*checks, on(4)])
    assert again.live and not again.cleared_off and again.disconnected is None
    assert "voltage" in line_signs(RUN, [off(2), *quiet("MP1"), on(4)]).unasked


def test_measuring_before_the_disconnection_does_not_clear() -> None:
    signs = line_signs(RUN, [volts(1, 48.0, "C1"), volts(2, 0.1, "C1"), off(3)])
    assert not signs.cleared_off


def test_a_withdrawn_check_no_longer_counts() -> None:
    slip = volts(1, 480.0, "C1")
    assert line_signs(RUN, (slip, check(2, "withdrawn", other="L1"))).live is None
    assert still_disconnected((off(1), check(2, "withdrawn", other="L1"))) == ()


def test_a_disconnection_stands_until_it_is_undone_where_it_was_made() -> None:
    assert [one.id for one in still_disconnected((off(1),))] == ["L1"]
    assert still_disconnected((off(1), on(2))) == ()
    assert [one.id for one in still_disconnected((off(1), on(2, run="C1")))] == ["L1"]
    assert still_disconnected((off(1, run="C1"), on(2, run="C1"))) == ()
    assert [one.id for one in still_disconnected((off(1), on(2), off(3)))] == ["L3"]


def test_a_cable_taken_off_for_the_tracing_is_not_cut() -> None:
    (reason,) = held_reasons(RUN, (), (), (off(1),))
    assert "disconnected" in reason.problem and reason.untested


def test_a_voltage_at_its_plate_is_the_cables_too_but_silence_there_clears_nothing() -> None:
    assert line_signs(RUN, (volts(1, 48.0, outlet="1-01"),)).live
    assert line_signs(RUN, (volts(1, 0.1, outlet="1-01"),)).unasked == ASKED


@pytest.mark.parametrize(
    "fields",
    [
        {"what": "who depends"},
        {"what": "voltage"},
        {"what": "voltage", "dc_v": 0.1},
        {"what": "voltage", "dc_v": 2.99},
        {"what": "voltage", "ac_v": 0.99},
        {"what": "modem sync"},
        {"what": "disconnected"},
        {"what": "reconnected"},
        {"what": "reconnected", "sign_off": {"by": "A", "date": "2026-11-20", "words": " "}},
        {"what": "withdrawn"},
        {"what": "voltage", "dc_v": -1, "ac_v": 0},
        {"what": "voltage", "dc_v": 1, "ac_v": 0, "run": "C1", "outlet": "1-01"},
        {"what": "who depends", "nobody": True, "outlet": "1-01"},
    ],
)
def test_a_check_that_says_too_little_is_refused(fields: dict[str, object]) -> None:
    with pytest.raises(ValidationError):
        LineCheck.model_validate({"id": "L1", "at": "MP1", **fields})
