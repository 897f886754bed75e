"""Acceptance: what each run and room was found to be, against what it has to be; nothing taken on trust."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from operator import ge, le
from typing import Literal, TypeVar

from rehaul.facts.acceptance import acceptance_number
from rehaul.facts.poe import poe_class_row
from rehaul.house import Acceptance, Job, Model, Quantity, Run, RunTest, SignOff, WireMap
from rehaul.predict import asked
from rehaul.proof.medians import median_interval
from rehaul.words import Saying, say, term
from rehaul.words.fields import Words

T = TypeVar("T")
Result = Literal["pass", "fail", "not tested"]


@dataclass(frozen=True)
class RunDuty:
    """What a run has to carry."""

    run: str
    rate_mbps: float
    poe_class: int = 0  # 0: no power


class AcceptanceCheck(Model):
    """One thing tested, or still to be."""

    name: Words
    wanted: Words
    found: Words  # empty where not tested
    result: Result


class AcceptanceRow(Model):
    """One run or one room, with its checks and whoever signed."""

    about: str  # id
    name: str
    checks: tuple[AcceptanceCheck, ...]
    result: Result
    signed: Result | None = None  # what was signed; None: nobody signed
    sign_off: SignOff | None = None
    note: str = ""
    stands: bool = True  # False: the signature says pass, and the readings do not


def acceptance_record(job: Job, duties: Sequence[RunDuty]) -> tuple[AcceptanceRow, ...]:
    """Every run that has a duty, then every room that has a need.

    A row passes when all its checks do, fails when one does, and is not tested otherwise. A signature
    never turns a failed check into a pass: the row then says that it does not stand. **Source**:
    docs/proof.md, "Acceptance".
    """
    signed = {line.about: line for line in job.acceptance}
    runs = {run.id: run for run in job.house.runs}
    rows = [
        *(_row(duty.run, duty.run, _run_checks(runs.get(duty.run), duty), signed) for duty in duties),
        *(_row(room, name, checks, signed) for room, name, checks in _rooms(job)),
    ]
    return tuple(rows)


def _row(
    about: str, name: str, checks: Sequence[AcceptanceCheck], signed: Mapping[str, Acceptance]
) -> AcceptanceRow:
    results = {check.result for check in checks}
    result: Result = "fail" if "fail" in results else "not tested" if "not tested" in results else "pass"
    line = signed.get(about)
    return AcceptanceRow(
        about=about,
        name=name,
        checks=tuple(checks),
        result=result,
        signed=line.result if line and line.sign_off else None,
        sign_off=line.sign_off if line else None,
        note=line.note if line else "",
        stands=not (line and line.sign_off and line.result == "pass" and result == "fail"),
    )


def _run_checks(run: Run | None, duty: RunDuty) -> tuple[AcceptanceCheck, ...]:
    """Wire map, link, errors over a timed transfer, and power where there is any: the latest of each."""
    tests = run.tests if run else ()
    checks = [_wire_map(tests), _link(tests, duty.rate_mbps), _errors(tests)]
    if duty.poe_class:
        checks.append(_power(tests, duty.poe_class))
    return tuple(checks)


def _wire_map(tests: Sequence[RunTest]) -> AcceptanceCheck:
    found = [test.wire_map for test in tests if test.wire_map is not None]
    return _check(
        say("proof.check_wire_map"),
        say("proof.wanted_wire_map"),
        found[-1:],
        lambda v: term(v.value),
        lambda v: v is WireMap.GOOD,
    )


def _link(tests: Sequence[RunTest], rate_mbps: float) -> AcceptanceCheck:
    found = [test.link_mbps for test in tests if test.link_mbps is not None]
    return _check(say("proof.check_link"), _rate(rate_mbps), found[-1:], _rate, lambda v: v >= rate_mbps)


def _errors(tests: Sequence[RunTest]) -> AcceptanceCheck:
    """Errors only count over a transfer of full length; one that failed sooner has failed."""
    long_s, allowed = acceptance_number("soak_s"), acceptance_number("errors")
    found = [
        (test.errors, test.soak_s or 0.0)
        for test in tests
        if test.errors is not None and (test.errors > allowed or (test.soak_s or 0.0) >= long_s)
    ]
    return _check(
        say("proof.check_errors"),
        say("proof.wanted_errors", errors=allowed, soak_min=long_s / 60),
        found[-1:],
        lambda counted: say("proof.found_errors", errors=counted[0], soak_min=counted[1] / 60),
        lambda counted: counted[0] <= allowed,
    )


def _power(tests: Sequence[RunTest], poe_class: int) -> AcceptanceCheck:
    least_v = poe_class_row(poe_class).device_min_v
    found = [test.poe_voltage_v for test in tests if test.poe_voltage_v is not None]
    return _check(
        say("proof.check_poe"),
        say("proof.wanted_poe", least_v=least_v),
        found[-1:],
        lambda v: say("proof.volts", voltage_v=v),
        lambda v: v >= least_v,
    )


def _rooms(job: Job) -> Iterator[tuple[str, str, tuple[AcceptanceCheck, ...]]]:
    """Each room's need against what was read there after the work, over the air: rates, delay under load."""
    rooms = {room.id: room.name for room in job.house.rooms}
    for need in asked(job):
        wanted = (
            ("proof.check_down", need.down_mbps, Quantity.DOWN_MBPS),
            ("proof.check_up", need.up_mbps, Quantity.UP_MBPS),
        )
        checks = [
            _check(say(code), _rate(least), _read(job, need.room, quantity), _rate, partial(le, least))
            for code, least, quantity in wanted
            if least > 0
        ]
        if need.delay_ms is not None:
            found = _read(job, need.room, Quantity.LOADED_DELAY_MS)
            name, wanted_ms = say("proof.check_delay"), _ms(need.delay_ms)
            checks.append(_check(name, wanted_ms, found, _ms, partial(ge, need.delay_ms)))
        if checks:
            yield need.room, rooms[need.room], tuple(checks)


def _ms(delay_ms: float) -> Saying:
    return say("proof.delay", delay_ms=delay_ms)


def _rate(rate_mbps: float) -> Saying:
    return say("proof.rate", rate_mbps=rate_mbps)


def _read(job: Job, room: str, quantity: Quantity) -> list[float]:
    """The middle of what was read in a room after the work; nothing while it was read too seldom."""
    values = [
        reading.value
        for reading in job.readings
        if reading.stage == "after"
        and reading.room == room
        and not reading.wired
        and reading.quantity is quantity
        for _ in range(reading.repeats)
    ]
    return [median_interval(values).middle] if len(values) >= acceptance_number("air_repeats") else []


def _check(
    name: str, wanted: str, found: Sequence[T], words: Callable[[T], str], good: Callable[[T], bool]
) -> AcceptanceCheck:
    """One check of the last thing found; not tested where nothing was."""
    if not found:
        return AcceptanceCheck(name=name, wanted=wanted, found="", result="not tested")
    return AcceptanceCheck(
        name=name, wanted=wanted, found=words(found[0]), result="pass" if good(found[0]) else "fail"
    )
