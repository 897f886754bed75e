"""The verbs `work` and `accept` on a job file, as somebody types them."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from rehaul.cli.main import main
from rehaul.jobs import open_job
from rehaul.takeoff import is_intact

EXAMPLES = Path(__file__).parents[2] / "examples"
pytestmark = pytest.mark.usefixtures("plans_put_ready")


@pytest.fixture
def job_file(tmp_path: Path) -> Path:
    return Path(shutil.copy(EXAMPLES / "1972-concrete-conduit.rehaul.json", tmp_path / "j.rehaul.json"))


def test_work_writes_a_calendar_and_says_how_good_it_is(
    job_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "work.ics"
    main(["work", str(job_file), "--people", "2", "--start", "2026-12-01T08:00", "--out", str(out), "--json"])
    told = json.loads(capsys.readouterr().out)
    assert told["people"] == 2 and told["waiting"] == 0 and told["holes"] == []
    assert told["least_working_min"] <= told["working_min"]
    text = out.read_bytes().decode()
    assert text.startswith("BEGIN:VCALENDAR\r\n")
    assert text.count("BEGIN:VEVENT") == len(told["tasks"])
    assert {row["person"] for row in told["tasks"]} == {1, 2}


def test_work_in_words(job_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["work", str(job_file)])
    said = capsys.readouterr().out
    assert "Check the conduit of the cable " in said and "1 person, " in said


def test_a_line_that_is_still_off_is_said_before_the_work(
    job_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    off = {
        "id": "LC1",
        "at": "M1",
        "what": "disconnected",
        "sign_off": {"by": "Invented owner", "date": "2026-11-20"},
    }
    data = json.loads(job_file.read_text())
    job_file.write_text(json.dumps({**data, "line_checks": [off]}))
    main(["work", str(job_file)])
    said = capsys.readouterr().out
    assert said.startswith("OFF  The line at M1 is disconnected")
    assert "disconnected at the demarcation for the tracing only" in said


def test_accept_keeps_the_offer_in_the_job(job_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["accept", str(job_file), "--option", "Good", "--by", "Invented owner", "--date", "2026-11-20"])
    (accepted,) = open_job(job_file).accepted_offers
    assert is_intact(accepted) and accepted.sha256 in capsys.readouterr().out


def test_accept_refuses_an_offer_that_is_not_there(
    job_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = job_file.read_bytes()
    with pytest.raises(SystemExit) as stopped:
        main(["accept", str(job_file), "--option", "Gold", "--by", "A", "--date", "2026-11-20"])
    assert stopped.value.code == 2 and "Use one of" in capsys.readouterr().err
    assert job_file.read_bytes() == before


def test_steps_are_ticked_off_in_their_order(job_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["work", str(job_file), "--done", "T01", "--by", "Ann", "--note", "nobody depends on it", "--json"])
    told = json.loads(capsys.readouterr().out)
    (tick,) = told["ticks"]
    assert (tick["by"], tick["note"], tick["despite"]) == ("Ann", "nobody depends on it", "")
    tasks = {task["id"]: task for task in told["tasks"]}
    last = next(name for name, task in tasks.items() if task["norm"] == "handover")
    before = job_file.read_bytes()
    with pytest.raises(SystemExit) as stopped:
        main(["work", str(job_file), "--done", last, "--by", "Ann"])
    said = capsys.readouterr().err
    assert stopped.value.code == 2 and "not ticked off yet" in said and "--despite" in said
    assert tasks[last]["needs"][0] in said
    with pytest.raises(SystemExit):
        main(["work", str(job_file), "--done", "T02"])
    assert "Say who did it" in capsys.readouterr().err
    assert job_file.read_bytes() == before

    main(["work", str(job_file), "--done", last, "--by", "Ben", "--despite"])
    said = capsys.readouterr().out
    assert f"done   {last}" in said and "Although open then: " in said
    assert open_job(job_file).ticks[-1].despite.startswith(tasks[last]["needs"][0])
    main(["work", str(job_file), "--not-done", last])
    assert [one.task for one in open_job(job_file).ticks] == [tasks["T01"]["key"]]


def test_steps_have_the_numbers_of_the_plan(job_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["plan", str(job_file), "--json"])
    planned = {task["key"]: task["id"] for task in json.loads(capsys.readouterr().out)["order"]}
    main(["work", str(job_file), "--people", "2", "--json"])
    worked = {task["key"]: task["id"] for task in json.loads(capsys.readouterr().out)["tasks"]}
    assert worked == planned
