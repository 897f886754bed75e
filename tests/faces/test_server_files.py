"""Files of a folder that are no jobs, files that cannot be written, and jobs that nobody has open."""

from __future__ import annotations

import contextlib
import json
import os
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from server import Talker, running

from rehaul.house import Job
from rehaul.jobs import open_job, save_job
from rehaul.web import hub


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    save_job(tmp_path / "small.rehaul.json", Job(id="small", title="Small"))
    return tmp_path


def poison(text: str) -> Callable[[Path], None]:
    return lambda path: path.write_text(text, encoding="utf-8")


def huge(path: Path) -> None:
    with path.open("wb") as file:
        file.truncate(3 * 10**9)


HEAD = '{"schema_version": 3, "id": "bad", '
STRANGE: dict[str, Callable[[Path], None]] = {
    "fifo": lambda path: os.mkfifo(path),
    "folder": lambda path: path.mkdir(),
    "device": lambda path: path.symlink_to("/dev/zero"),
    "dangling": lambda path: path.symlink_to("/nowhere"),
    "huge": huge,
    "half a surrogate": poison(HEAD + '"title": "\\ud800"}'),
    "surrogate in notes": poison(HEAD + '"title": "x", "notes": "\\ud800"}'),
    "long number": poison(HEAD + '"title": ' + "9" * 5000 + "}"),
    "deep": poison(HEAD + '"title": ' + "[" * 100_000 + "]" * 100_000 + "}"),
    "not text": lambda path: path.write_bytes(b"\xff\xfe\x00"),
    "list": poison('{"schema_version": 3, "id": ["x"], "title": "x"}'),
    "odd version": poison('{"schema_version": [3], "id": "x", "title": "x"}'),
}


@pytest.mark.parametrize("kind", STRANGE)
def test_one_bad_file_keeps_nobody_out(folder: Path, kind: str) -> None:
    STRANGE[kind](folder / "bad.rehaul.json")
    with running(folder) as server:
        started = time.monotonic()
        ann = server.paired("Ann")
        found = ann.get("/api/me").json()
        assert time.monotonic() - started < 5
        assert [job["id"] for job in found["jobs"]] == ["small"]
        (row,) = found["unreadable"]
        assert row["file"] == "bad.rehaul.json"
        assert row["problem"]
        assert ann.get("/api/jobs/small").status_code == 200
        (folder / "bad.rehaul.json").rmdir() if kind == "folder" else (folder / "bad.rehaul.json").unlink()
        assert ann.get("/api/me").json()["unreadable"] == []


def test_a_file_that_turns_bad_while_it_is_known(folder: Path) -> None:
    with running(folder) as server:
        ann = server.paired("Ann")
        (folder / "small.rehaul.json").write_text("{", encoding="utf-8")
        answer = ann.get("/api/me")
        assert answer.status_code == 200
        assert [row["file"] for row in answer.json()["unreadable"]] == ["small.rehaul.json"]


def edit(number: int, words: str) -> dict[str, object]:
    change = {"do": "set", "kind": "job", "fields": {"notes": words}}
    return {"edit": f"edit-{number:06d}", "base": 0, "label": "", "changes": [change]}


def test_a_file_behind_its_log_is_told_and_catches_up(folder: Path, caplog: pytest.LogCaptureFixture) -> None:
    path = folder / "small.rehaul.json"
    with running(folder) as server:
        ann = server.paired("Ann")
        with server.socket(ann, "/api/jobs/small/live") as live:
            talker = Talker(live)
            assert talker.hear("file")["behind"] is False
            path.unlink()
            path.mkdir()  # nothing can be renamed over it
            talker.say(type="edit", **edit(1, "kept"))
            talker.hear("ack")
            told = talker.hear("file", behind=True)
            assert told["refusal"]["problem"]
            assert "behind" in caplog.text
            path.rmdir()
            assert talker.hear("file", behind=False, seconds=20)["caught_up"]
            assert "caught up" in caplog.text
        assert open_job(path).notes == "kept"


def handles() -> int:
    """How many files of the job this process has open."""
    found = 0
    for entry in Path("/proc/self/fd").iterdir():
        with contextlib.suppress(OSError):
            found += "small" in str(entry.readlink())
    return found


@pytest.fixture
def short(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setattr(hub, "IDLE_S", 1.0, raising=False)
    monkeypatch.setattr(hub, "LOOK_EVERY_S", 0.2, raising=False)
    yield


@pytest.mark.skipif(not Path("/proc/self/fd").exists(), reason="needs /proc")
def test_a_job_that_nobody_has_open_is_closed_and_opened_again(folder: Path, short: None) -> None:
    with running(folder) as server:
        ann = server.paired("Ann")
        ann.post("/api/jobs/small/edits", json=edit(1, "first")).raise_for_status()
        assert handles() > 0
        ends = time.monotonic() + 10
        while handles() and time.monotonic() < ends:
            time.sleep(0.1)
        assert handles() == 0
        assert open_job(folder / "small.rehaul.json").notes == "first", "its file was written first"
        ann.post("/api/jobs/small/edits", json=edit(2, "second")).raise_for_status()
        assert ann.get("/api/jobs/small").json()["revision"] == 2
        with server.socket(ann, "/api/jobs/small/live") as live:
            talker = Talker(live)
            talker.hear("snapshot")
            time.sleep(3)
            assert handles() > 0, "somebody has it open"
            talker.socket.send(json.dumps({"type": "edit", **edit(3, "third")}))
            talker.hear("ack")


def test_it_is_not_closed_before_its_file_could_be_written(folder: Path, short: None) -> None:
    path = folder / "small.rehaul.json"
    with running(folder) as server:
        ann = server.paired("Ann")
        ann.get("/api/jobs/small").raise_for_status()
        path.unlink()
        path.mkdir()
        ann.post("/api/jobs/small/edits", json=edit(1, "kept")).raise_for_status()
        time.sleep(3)
        path.rmdir()
        ends = time.monotonic() + 15
        while handles() and time.monotonic() < ends:
            time.sleep(0.1)
        assert open_job(path).notes == "kept"
