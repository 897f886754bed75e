"""The handover record holds what was accepted: checks, signatures, and before against after."""

from __future__ import annotations

import io
from dataclasses import replace

import pypdf
import pytest

from plans_once import made_plan
from rehaul.house import Acceptance, Quantity, Reading, RunTest, SignOff, WireMap
from rehaul.jobs import demo_job
from rehaul.planning import Plan
from rehaul.sheets.accepted import accepted_table, run_duties
from rehaul.sheets.record import handover_pdf


@pytest.fixture(scope="module")
def planned() -> Plan:
    """The demo once the work is done: one cable tested and signed, one with errors signed all the same."""
    job = demo_job()
    found = made_plan(job)
    good, bad = [duty.run for duty in run_duties(found) if duty.run in {r.id for r in job.house.runs}][:2]
    test = RunTest(wire_map=WireMap.GOOD, link_mbps=10000, errors=0, soak_s=600, poe_voltage_v=52)
    tests = {good: test, bad: test.model_copy(update={"errors": 7})}
    runs = tuple(
        run.model_copy(update={"tests": (tests[run.id],)}) if run.id in tests else run
        for run in job.house.runs
    )
    sign_off = SignOff(by="A. Tester", date="2026-11-20")
    readings = [
        Reading(
            id=f"{stage}{i}", quantity=Quantity.DOWN_MBPS, value=value, stage=stage, room="R33", device="DV1"
        )
        for stage, values in (("before", (10, 12, 11)), ("after", (300, 320, 310)))
        for i, value in enumerate(values)
    ]
    job = job.model_copy(
        update={
            "house": job.house.model_copy(update={"runs": runs}),
            "readings": (*job.readings, *readings),
            "acceptance": tuple(
                Acceptance(id=f"AC{i}", about=run, result="pass", sign_off=sign_off)
                for i, run in enumerate((good, bad))
            ),
        }
    )
    return replace(found, job=job)


def test_the_table(planned: Plan) -> None:
    rows = accepted_table(planned).rows
    signed = {row[0]: row[5] for row in rows if row[5]}
    assert sorted(str(words).endswith("DOES NOT STAND") for words in signed.values()) == [False, True]
    assert {row[4] for row in rows} == {"pass", "FAIL", "not tested"}


def test_the_record(planned: Plan) -> None:
    pages = pypdf.PdfReader(io.BytesIO(handover_pdf(planned, "A4", ()))).pages
    text = " ".join(page.extract_text() for page in pages)
    for words in ("What was accepted", "A. Tester", "DOES NOT STAND", "It got better"):
        assert words in text
