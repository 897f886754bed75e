"""Erasing that is stopped or in somebody's way: a whole old log, or one that comes to its end."""

from __future__ import annotations

import os
import shutil
import signal
import sqlite3
import traceback
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from damage import NAME
from household import CREW, SAMPLES, WHO, everything, job_of, naming, run, worked_on
from replica import change, edit_data

from rehaul.errors import CannotSave
from rehaul.jobs import (
    LogBeside,
    Shelf,
    Store,
    connect,
    edit_from_data,
    log_path,
    open_job,
    save_job,
    sql,
)
from rehaul.jobs.beside import serving
from rehaul.jobs.erasing import ErasureAsked, erase
from rehaul.jobs.verifying import verified
from rehaul.jobs.witness import Witness


@pytest.fixture
def path(household_job: Path) -> Path:
    return household_job


def test_a_server_at_work_is_not_disturbed(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    kept = everything(path.parent)
    with serving(path):
        for words in (("erase", path), ("erase", path, "--yes", "--by", CREW)):
            code, said = run(capsys, *words)
            assert code == 2 and "a server works on it. Stop the server first." in said
    assert {name: data for name, data in everything(path.parent).items() if name in kept} == kept


def test_a_damaged_log_is_left_as_it_is(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    connection = sqlite3.connect(log_path(path))
    connection.execute("UPDATE edit SET label = 'other' WHERE revision = 3")
    connection.commit()
    connection.close()
    kept = everything(path.parent)
    code, said = run(capsys, "erase", path, "--yes", "--by", CREW)
    assert code == 2 and "the log is damaged (edit 3 of 15" in said
    assert {name: data for name, data in everything(path.parent).items() if name in kept} == kept


STEPS = (
    "the file and the log brought together", "what stands about the job", "people and devices",
    "among people", "the texts of the log", "in the transaction 1", "in the transaction 5",
    "in the transaction 12", "in the transaction 20", "after the commit", "the job's file", "the log's file",
    "the end",
)  # fmt: skip


def killed(path: Path, at: str) -> int:
    """Exit code of a process that erases and kills itself at a step: forked, as that is cheap."""
    child = os.fork()
    if not child:
        try:
            erase(path, ErasureAsked(), "Tess Wirewright", step=dying(at))
        except BaseException:
            traceback.print_exc()
        os._exit(1)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def die(*_: object) -> None:
    os.kill(os.getpid(), signal.SIGKILL)


def dying(at: str) -> Callable[[str], None]:
    """What is called at each step of an erasure; it changes this process, which is to die."""

    def step(name: str) -> None:
        if name == at:
            die()
        if name == "the texts of the log" and at.startswith("in the transaction"):
            left, real = [int(at.split()[-1])], sql.Sqlite._execute

            def execute(self: sql.Sqlite, text: str, values: Any) -> Any:
                if text.startswith(("UPDATE edit", "DELETE", "INSERT", "UPDATE")):
                    left[0] -= 1
                    if left[0] == 0:
                        die()
                return real(self, text, values)

            sql.Sqlite._execute = execute  # type: ignore[method-assign, assignment]
        if name == "people and devices" and at == "among people":
            sql.Sqlite.scrub = die  # type: ignore[method-assign, assignment]
        if name == "the texts of the log" and at == "after the commit":
            seen = Witness.saw

            def saw(self: Witness, job: str, revision: int, link: str) -> None:
                if revision > 15 or revision == 10:
                    die()
                seen(self, job, revision, link)

            Witness.saw = saw  # type: ignore[method-assign]

    return step


@pytest.mark.parametrize("at", STEPS)
@pytest.mark.parametrize("old", [False, True])
def test_killed_at_any_moment(at: str, old: bool, path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Then the log is a whole old one, or saying it again comes to the end; no chain is ever broken."""
    if old:
        for file in (SAMPLES / "format2").glob("house.*"):
            shutil.copy(file, path.parent)
    whole = open_job(path)
    assert killed(path, at) == -signal.SIGKILL
    found = verified(path)
    assert not found.health.faults
    done = bool(found.health.erasures)
    assert done == (STEPS.index(at) >= STEPS.index("after the commit"))
    beside = LogBeside(path)
    assert beside.ledger.job.title == ("Erased job" if done else whole.title)
    beside.export()
    beside.close()
    if done:
        said = run(capsys, "verify", path)[1]
        assert "stopped midway: say rehaul erase again" in said
        assert "would come to its end" in run(capsys, "erase", path)[1]
    code, said = run(capsys, "erase", path, "--yes", "--by", CREW)
    assert code == 0, said
    assert naming(path.parent) == []
    assert len(verified(path).health.erasures) == 1 and not verified(path).health.unfinished
    assert run(capsys, "verify", path)[0] == 0


def test_a_file_changed_after_a_kill_is_not_taken_in(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    killed(path, "the job's file")
    job = open_job(path)
    save_job(path, job.model_copy(update={"notes": "Odo was here"}))
    for words in (("check", path), ("erase", path, "--yes", "--by", CREW)):
        code, said = run(capsys, *words)
        assert code == 2 and "had not come to its end" in said
    path.rename(path.with_name("aside.json"))
    assert run(capsys, "erase", path, "--yes", "--by", CREW)[0] == 0
    path.with_name("aside.json").unlink()
    assert naming(path.parent) == []


def test_a_copy_that_cannot_be_taken_away_stops_it_before_the_log(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = Path.unlink

    def unlink(self: Path, missing_ok: bool = False) -> None:
        if self.name == "quillfeather.backup":
            raise PermissionError(1, "no")
        real(self, missing_ok=missing_ok)

    monkeypatch.setattr(Path, "unlink", unlink)
    with pytest.raises(CannotSave, match="could not be taken away"):
        erase(path, ErasureAsked(), CREW)
    assert not verified(path).health.erasures
    monkeypatch.undo()
    erase(path, ErasureAsked(), CREW)
    assert naming(path.parent) == []


def test_a_reader_in_the_way_is_told_of(path: Path) -> None:
    reader = sqlite3.connect(log_path(path), isolation_level=None)
    reader.execute("BEGIN")
    reader.execute("SELECT * FROM edit").fetchone()
    with pytest.raises(CannotSave):
        erase(path, ErasureAsked(), CREW)
    reader.close()
    erase(path, ErasureAsked(names=(WHO,)), CREW)
    assert naming(path.parent) == [] and not verified(path).health.faults


def test_what_was_taken_away_before_is_not_left_in_free_pages(path: Path) -> None:
    """A photo that was dropped lies in the file until that is written anew, where SQLite blanks nothing."""
    beside = LogBeside(path)
    beside.store.database.run("PRAGMA secure_delete = OFF")  # as it is in many builds
    shelf = Shelf(beside.store, "job")
    for one in shelf.list():
        shelf.drop(one["picture"])
    beside.close()
    assert b"hall of Odo Quillfeather" in log_path(path).read_bytes(), "nothing was left to find"
    erase(path, ErasureAsked(), CREW)
    assert naming(path.parent) == []


@pytest.mark.parametrize("at", ["the texts of the log", "in the transaction 3", "the job's file", "the end"])
def test_killed_with_a_job_that_had_no_log(
    at: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / NAME
    save_job(path, job_of())
    killed(path, at)
    if log_path(path).exists():
        beside = LogBeside(path)
        beside.export()
        done = bool(verified(path).health.erasures)
        assert (beside.ledger.revision, beside.ledger.job.title == "Erased job") == (int(done), done)
        beside.close()
    assert run(capsys, "erase", path, "--yes", "--by", CREW)[0] == 0
    assert naming(tmp_path) == [] and len(verified(path).health.erasures) == 1
    assert [row.way for row in Store(connect(log_path(path))).rows("job", 0)] == ["erase"]


def test_a_witness_that_lags_says_nothing_against_links_made_anew(tmp_path: Path) -> None:
    """After a power cut the witness may be an older one; it knew links of before."""
    for file in (SAMPLES / "format2").glob("house.*"):
        shutil.copy(file, tmp_path)
    path = tmp_path / NAME
    beside = LogBeside(path)
    links = [row.link for row in beside.store.raw_rows("job", 0)]
    edit = edit_data(9, change("wall", "w2", note="Odo"), edit="edit-salted", label="Odo")
    beside.ledger.submit("p1", edit_from_data(edit))
    beside.close()
    erase(path, ErasureAsked(), CREW)
    assert naming(tmp_path) == [] and verified(path).health.erasures[0].edits == 10
    witness = Store(connect(log_path(path))).database.witness
    assert witness
    for revision in (4, 9):
        witness.reset({"job": (revision, links[revision - 1])})
        assert verified(path).health.faults == ()
    LogBeside(path).close()
    witness.reset({"job": (12, "0" * 32)})
    assert "acknowledged and are missing" in verified(path).health.faults[0]
    witness.reset({"job": (11, "0" * 32)})
    assert "another one than was acknowledged" in verified(path).health.faults[0]


@pytest.mark.parametrize("room", [4096, 60_000, 100_000, 160_000, 220_000])
def test_a_full_disk_leaves_a_log_that_is_whole(
    room: int, tiny_disk: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = worked_on(tiny_disk / "jobs", companions=False)
    free = shutil.disk_usage(tiny_disk).free
    filler = tiny_disk / "filler"
    filler.write_bytes(b"x" * (free - room))
    code, said = run(capsys, "erase", path, "--yes", "--by", CREW)
    assert code == 0 or "Make room" in said, said
    filler.unlink()
    health = verified(path).health
    assert not health.faults and (code == 0) == bool(health.erasures and not health.unfinished)
    assert run(capsys, "erase", path, "--yes", "--by", CREW)[0] == 0
    assert naming(path.parent) == [] and verified(path).health.faults == ()
