"""Acceptance rows: pass, fail, not tested; and a signature that cannot make a fault good."""

from __future__ import annotations

import pytest

from rehaul.house import Acceptance, Job, Quantity, Reading, RunTest, SignOff, WireMap
from rehaul.jobs import demo_job
from rehaul.proof import AcceptanceRow, RunDuty, acceptance_record

GOOD = RunTest(wire_map=WireMap.GOOD, link_mbps=1000, errors=0, soak_s=600, poe_voltage_v=48)


def row(tests: tuple[RunTest, ...], *, signed: str | None = None, poe_class: int = 4) -> AcceptanceRow:
    job = demo_job()
    run = job.house.runs[0].model_copy(update={"tests": tests})
    house = job.house.model_copy(update={"runs": (run, *job.house.runs[1:])})
    lines = ()
    if signed:
        sign_off = SignOff(by="A. Tester", date="2026-11-20")
        lines = (Acceptance(id="A1", about=run.id, result=signed, sign_off=sign_off),)  # type: ignore[arg-type]
    job = job.model_copy(update={"house": house, "acceptance": lines, "needs": ()})
    (found,) = acceptance_record(job, [RunDuty(run.id, 1000.0, poe_class)])
    return found


def test_a_run_that_did_all_it_has_to() -> None:
    found = row((GOOD,))
    assert found.result == "pass"
    assert [check.name for check in found.checks] == ["wire map", "link", "errors", "PoE voltage"]


@pytest.mark.parametrize(
    ("change", "name"),
    [
        ({"wire_map": WireMap.SPLIT}, "wire map"),
        ({"link_mbps": 100}, "link"),
        ({"errors": 3}, "errors"),
        ({"poe_voltage_v": 42.4}, "PoE voltage"),
    ],
)
def test_one_fault_fails_the_run(change: dict[str, object], name: str) -> None:
    found = row((GOOD.model_copy(update=change),))
    assert found.result == "fail"
    assert [check.name for check in found.checks if check.result == "fail"] == [name]


@pytest.mark.parametrize("missing", ["wire_map", "link_mbps", "errors", "poe_voltage_v"])
def test_what_was_not_tested_is_not_passed(missing: str) -> None:
    assert row((GOOD.model_copy(update={missing: None}),)).result == "not tested"


def test_a_short_transfer_without_errors_is_no_test_but_one_with_errors_is() -> None:
    assert row((GOOD.model_copy(update={"soak_s": 60}),)).result == "not tested"
    assert row((GOOD.model_copy(update={"soak_s": 60, "errors": 1}),)).result == "fail"


def test_edges_are_inside() -> None:
    assert row((GOOD.model_copy(update={"poe_voltage_v": 42.5}),)).result == "pass"


def test_the_latest_test_counts() -> None:
    assert row((GOOD.model_copy(update={"wire_map": WireMap.OPEN}), GOOD)).result == "pass"


def test_without_power_no_voltage_is_asked() -> None:
    found = row((GOOD.model_copy(update={"poe_voltage_v": None}),), poe_class=0)
    assert found.result == "pass" and len(found.checks) == 3


def test_a_signature_is_kept_and_cannot_turn_a_fault_into_a_pass() -> None:
    good, bad = row((GOOD,), signed="pass"), row((GOOD.model_copy(update={"errors": 9}),), signed="pass")
    assert good.stands and good.sign_off is not None and good.sign_off.by == "A. Tester"
    assert bad.result == "fail" and not bad.stands


def room_job(values: list[float], up: list[float] | None = None, loaded_ms: list[float] | None = None) -> Job:
    job = demo_job()
    need = next(need for need in job.needs if need.down_mbps)
    need = need.model_copy(
        update={"up_mbps": 5.0 if up else 0.0, "uses": (), "delay_ms": 60.0 if loaded_ms else None}
    )
    read = (
        (Quantity.DOWN_MBPS, values),
        (Quantity.UP_MBPS, up or []),
        (Quantity.LOADED_DELAY_MS, loaded_ms or []),
    )
    after = tuple(
        Reading(id=f"Z{quantity.value}{i}", quantity=quantity, value=value, stage="after", room=need.room)
        for quantity, side in read
        for i, value in enumerate(side)
    )
    return job.model_copy(update={"needs": (need,), "readings": after})


@pytest.mark.parametrize(
    ("up", "loaded_ms", "result"),
    [
        ([9.0] * 3, None, "pass"),
        ([3.0] * 3, None, "fail"),
        ([9.0] * 2, None, "not tested"),
        ([9.0] * 3, [50.0] * 3, "pass"),
        ([9.0] * 3, [50.0, 70.0, 80.0], "fail"),
    ],
)
def test_up_and_delay_count_where_they_are_asked(
    up: list[float], loaded_ms: list[float] | None, result: str
) -> None:
    (found,) = acceptance_record(room_job([2000.0] * 3, up, loaded_ms), [])
    assert found.result == result
    assert [check.name for check in found.checks] == ["down", "up", *["delay under load"] * bool(loaded_ms)]


@pytest.mark.parametrize(
    ("values", "result"), [([2000.0] * 3, "pass"), ([0.5] * 3, "fail"), ([2000.0] * 2, "not tested")]
)
def test_a_room_s_need(values: list[float], result: str) -> None:
    (found,) = acceptance_record(room_job(values), [])
    assert found.result == result


@pytest.mark.parametrize(
    ("soak_s", "errors", "found"),
    [
        (600, 0, "0 over 10 min"),
        (1200, 0, "0 over 20 min"),
        (60, 1, "1 over 1 min"),
        (None, 2, "2 over 0 min"),
    ],
)
def test_errors_are_told_with_how_long_they_were_counted(
    soak_s: float | None, errors: int, found: str
) -> None:
    tested = row((GOOD.model_copy(update={"soak_s": soak_s, "errors": errors}),))
    check = next(check for check in tested.checks if check.name == "errors")
    assert (check.wanted, check.found) == ("0 over 10 min of full load", found)
    assert check.result == ("fail" if errors else "pass")
