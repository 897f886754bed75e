"""Where a job stands, at the command line; the list of questions that `check` prints."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

import rehaul
from rehaul.cli.main import main
from rehaul.house import Job
from rehaul.jobs import open_job, save_job

Run = Callable[..., str]
EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    def call(*arguments: str | Path) -> str:
        main([str(argument) for argument in arguments])
        return capsys.readouterr().out

    return call


def copied(name: str, folder: Path) -> Path:
    path = folder / "job.rehaul.json"
    shutil.copy(EXAMPLES / f"{name}.rehaul.json", path)
    return path


def test_now_says_what_the_library_says(run: Run, tmp_path: Path) -> None:
    path = copied("1974-flat-old-laptop", tmp_path)
    said = json.loads(run("now", path, "--json"))
    job = open_job(path)
    found = rehaul.plan(job)
    assert said == rehaul.now(job, found).model_dump(mode="json")
    assert said["sentence"] == (
        "2 of 3 rooms get what they need today. A new radio for 1 old device will serve all of them."
    )
    lines = run("now", path).splitlines()
    assert lines[0] == said["sentence"]
    assert lines[1].startswith(f"Next: {said['next']['words']}. ")
    assert [line.split()[0] for line in lines[-7:]] == [stage["stage"] for stage in said["stages"]]
    french = run("now", path, "--language", "fr").splitlines()
    assert french[0].startswith("2 sur 3 pièces ont ce qu'il leur faut aujourd'hui.")
    assert "couverture" in "\n".join(french)


def test_now_of_a_job_just_begun(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "begun.rehaul.json"
    save_job(path, Job(id="begun", title="Begun"))
    said = json.loads(run("now", path, "--json"))
    assert said["sentence"] == "Nothing of the house is drawn yet."
    assert said["next"]["page"] == "house" and said["figures"]["served_after"] is None


def test_check_asks_once_for_all_cables(run: Run, tmp_path: Path) -> None:
    path = copied("2003-cable-television", tmp_path)
    told = json.loads(run("check", path, "--json"))
    states = [one for one in told["findings"] if one["code"] == "run-state-unknown"]
    (ask,) = [one for one in told["asks"] if one["code"] == "run-state-unknown"]
    assert len(states) == len(ask["about"]) == 4
    printed = run("check", path)
    assert printed.count("4 cables: live or dead?") == 1
    assert all(thing["name"] in printed for thing in ask["about"])
