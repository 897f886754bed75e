"""Readings at the command line: in from a table, listed, the next one, the cause, before and after."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from rehaul.cli.main import main
from rehaul.jobs import demo_job, open_job, save_job

Run = Callable[..., str]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    def call(*arguments: str | Path) -> str:
        main([str(argument) for argument in arguments])
        return capsys.readouterr().out

    return call


@pytest.fixture
def job_file(tmp_path: Path) -> Path:
    path = tmp_path / "demo.rehaul.json"
    save_job(path, demo_job())
    return path


def test_a_table_comes_in_and_its_headings_are_remembered(run: Run, job_file: Path, tmp_path: Path) -> None:
    table = tmp_path / "walk.csv"
    table.write_text("Room,Sig,Sky\nKitchen,-63,blue\n", encoding="utf-8")
    before = len(open_job(job_file).readings)
    news = run("readings", job_file, "--from", table, "--column", "Sig=power_dbm")
    assert "1 reading taken in" in news and "Sky" in news
    run("readings", job_file, "--from", table)  # nothing said again
    found = open_job(job_file).readings
    assert len(found) == before + 2
    assert {(r.room, r.value) for r in found[before:]} == {("R06", -63.0)}


def test_one_is_typed_in_and_all_are_listed(run: Run, job_file: Path) -> None:
    run("readings", job_file, "--add", "down_mbps=77", "--add", "room=Kitchen", "--add", "device=Phone")
    listed = run("readings", job_file)
    assert "77" in listed and "2 streams" in listed
    rows = json.loads(run("readings", job_file, "--json"))["readings"]
    assert rows[-1]["value"] == 77 and rows[-1]["ceiling"]["rate_mbps"] > 77


def test_a_slip_is_refused_and_nothing_is_changed(job_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    was = job_file.read_bytes()
    for arguments in (["--add", "down_mbps"], ["--add", "down_mbps=5", "--add", "room=Ballroom"]):
        with pytest.raises(SystemExit) as stop:
            main(["readings", str(job_file), *arguments])
        assert stop.value.code == 2
    assert "Ballroom" in capsys.readouterr().err
    assert job_file.read_bytes() == was


def test_the_next_reading(run: Run, job_file: Path) -> None:
    words = run("next", job_file)
    assert words.startswith(("Stand in", "Stop:")) and "may turn" in words
    assert "verdicts" in json.loads(run("next", job_file, "--json"))


def test_why_a_room_is_slow(run: Run, job_file: Path) -> None:
    run("readings", job_file, "--add", "link_mbps=100", "--add", "wired=yes", "--add", "room=Parlour")
    words = run("why", job_file, "Parlour")
    assert "narrowest link" in words and "%" in words
    found = json.loads(run("why", job_file, "R01", "--json"))
    assert sum(cause["probability"] for cause in found["causes"]) == pytest.approx(1, abs=1e-3)
    (foil, *_) = found["way"]["passes"]
    assert (foil["what"], foil["made_of"]) == ("wall W013", "stud-foil") and 15 < foil["loss_db"] < 25
    assert f"wall W013 (stud-foil) {foil['loss_db']:.0f} dB" in words
    assert f"together {found['way']['together_db']:.0f} dB" in words


def test_before_and_after(run: Run, job_file: Path, tmp_path: Path) -> None:
    for stage, values in (("before", (50, 55, 60)), ("after", (400, 410, 420))):
        for value in values:
            said = (f"down_mbps={value}", f"stage={stage}", "room=Games den", "device=Phone")
            run("readings", job_file, *(part for words in said for part in ("--add", words)))
    picture = tmp_path / "picture.svg"
    words = run("compare", job_file, "--out", picture)
    assert "Games den" in words and "It got better" in words
    assert picture.read_text(encoding="utf-8").startswith("<svg")


@pytest.mark.skipif(sys.platform != "linux", reason="reads this machine's own links on Linux")
def test_this_machine_s_own_links(run: Run, job_file: Path) -> None:
    links = json.loads(run("link", "--json"))["links"]
    assert all(link["kind"] in ("wired", "wireless") for link in links)
    assert "lo" not in {link["name"] for link in links}
    before = len(open_job(job_file).readings)
    run("link", "--into", job_file, "--room", "Workroom")
    told = [link for link in links if link["rate_mbps"] or link["power_dbm"]]
    assert len(open_job(job_file).readings) >= before + len(told)
