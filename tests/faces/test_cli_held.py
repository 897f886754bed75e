"""Verbs that compute end with a sentence, whatever ends them."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from rehaul.cli import held
from rehaul.jobs import demo_job, save_job


def rehaul(*words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "rehaul", *words], capture_output=True, text=True, check=False
    )


@pytest.fixture
def job_file(tmp_path: Path) -> Path:
    save_job(tmp_path / "demo.rehaul.json", demo_job())
    return tmp_path / "demo.rehaul.json"


@pytest.mark.parametrize("verb", ["plan", "map", "papers", "work"])
def test_what_does_not_fit_is_refused_before_it_begins(verb: str, job_file: Path) -> None:
    job = demo_job()
    far = job.house.walls[0].model_copy(
        update={"id": "stray", "start": (300.0, 300.0), "end": (301.0, 300.0)}
    )
    house = job.house.model_copy(update={"walls": (*job.house.walls, far)})
    save_job(job_file, job.model_copy(update={"house": house}))
    more = ["--out", str(job_file.parent / "papers")] if verb == "papers" else []
    done = rehaul(verb, str(job_file), *more, "--memory", "1")
    assert done.returncode == 2
    assert "GB of memory, and 1 GB are given. Wall stray reaches" in done.stderr
    assert "Traceback" not in done.stderr


def test_what_fits_is_answered_and_its_exit_code_kept(job_file: Path) -> None:
    done = rehaul("map", str(job_file), "--json")
    assert done.returncode == 0
    assert json.loads(done.stdout)["rooms"]
    assert rehaul("map", "nowhere.json").returncode == 2
    assert rehaul("plan", str(job_file), "--memory", "much").returncode == 2
    assert rehaul("compare", str(job_file), "--memory", "1").returncode in (0, 2)


@pytest.mark.skipif(sys.platform == "win32", reason="ends by signals are of POSIX")
@pytest.mark.parametrize("how", ["os.abort()", "os.kill(os.getpid(), 11)", "os.kill(os.getpid(), 9)"])
def test_a_crash_is_one_sentence(
    how: str, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(held, "CODE", f"import os; {how}")
    assert held.run_held(["plan", "x.json"]) == 2
    said = capfd.readouterr().err
    assert said.count("\n") == 1
    assert said.startswith("rehaul: the plan stopped") and "--memory" in said


def test_the_usual_is_said_in_both_spellings() -> None:
    assert held.memory_said_bytes(["plan", "x"]) == 2_000_000_000
    assert held.memory_said_bytes(["plan", "--memory", "3"]) == 3_000_000_000
    assert held.memory_said_bytes(["plan", "--memory=1.5", "x"]) == 1_500_000_000
    assert held.memory_said_bytes(["plan", "--memory", "nan"]) == 2_000_000_000
