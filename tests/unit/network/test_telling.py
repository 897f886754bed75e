"""The reading that would tell most of an old cable."""

from __future__ import annotations

import json

import pytest

from rehaul.cli.main import main
from rehaul.house import CableKind, RunState, RunTest, Topology, WireMap
from rehaul.jobs import demo_job, save_job
from rehaul.network.cabling import telling


def test_a_cable_of_unknown_way_is_toned_first() -> None:
    job = demo_job()
    run = next(run for run in job.house.runs if run.id == "C10")
    assert run.topology is Topology.UNKNOWN
    told = telling(job, run)
    assert told and told.reading == "tone it to see whether it is one run"
    assert sum(one.chance for one in told.answers) == pytest.approx(1.0, abs=0.02)
    average = sum(one.chance * one.then for one in told.answers)
    assert average == pytest.approx(told.chance, abs=0.02)
    then = {one.answer: one.then for one in told.answers}
    assert then["one run"] > told.chance > then["chained"]


def test_what_is_known_or_carries_nothing_is_not_asked_for() -> None:
    job = demo_job()
    run = next(run for run in job.house.runs if run.kind is CableKind.CAT5E)
    known = {"topology": Topology.HOME_RUN, "pairs": 4, "state": RunState.DEAD}
    tested = run.model_copy(update={**known, "tests": (RunTest(wire_map=WireMap.GOOD),)})
    assert telling(job, tested) is None
    assert telling(job, run.model_copy(update={"state": RunState.DAMAGED})) is None
    assert telling(job, run.model_copy(update={"kind": CableKind.COAX})) is None


def test_the_verb_says_it(tmp_path: object, capsys: pytest.CaptureFixture[str]) -> None:
    path = f"{tmp_path}/demo.rehaul.json"
    save_job(path, demo_job())
    main(["cables", path])
    assert "tone it to see whether it is one run: 2.5GBASE-T is" in capsys.readouterr().out
    main(["cables", path, "--json"])
    rows = {row["run"]: row["telling"] for row in json.loads(capsys.readouterr().out)["runs"]}
    assert rows["C10"]["ethernet"] == "2.5GBASE-T" and rows["C10"]["answers"]
    assert None in rows.values()
