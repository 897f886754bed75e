"""A job file and the log beside it: whichever was changed, nothing is lost and neither lies."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from replica import change, edit_data, put, small_job

from rehaul.errors import BadInput, CannotSave
from rehaul.house import Job
from rehaul.jobs import (
    FolderDesk,
    LogBeside,
    current_job,
    difference,
    edit_from_data,
    edit_job,
    is_served,
    log_path,
    open_job,
    save_job,
    serving,
)
from rehaul.jobs.beside import remove_log


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "small.rehaul.json"
    save_job(path, small_job())
    return path


def noted(job: Job, words: str) -> Job:
    return job.model_copy(update={"notes": words})


def say(beside: LogBeside, *changes: dict[str, object]) -> None:
    beside.ledger.submit("p1", edit_from_data(edit_data(beside.ledger.revision, *changes)))


def test_the_file_follows_the_log(path: Path) -> None:
    beside = LogBeside(path)
    say(beside, change("wall", "w1", note="brick"))
    assert open_job(path).house.walls[0].note == ""
    beside.export()
    assert open_job(path) == beside.ledger.job
    stamp = path.stat().st_mtime_ns
    beside.export()
    assert path.stat().st_mtime_ns == stamp, "written again for nothing"


def test_what_was_changed_in_the_file_comes_in_as_an_edit(path: Path) -> None:
    beside = LogBeside(path)
    say(beside, change("wall", "w1", note="brick"))
    beside.export()
    say(beside, change("wall", "w2", note="after the last export"))
    beside.close()
    save_job(path, noted(open_job(path), "typed in an editor"))

    again = LogBeside(path)
    assert again.ledger.job.notes == "typed in an editor"
    assert again.ledger.job.house.walls[1].note == "after the last export"
    assert again.ledger.undo_labels("the file")["undo"] == "Changed in the file"
    again.export()
    assert open_job(path) == again.ledger.job
    again.close()
    assert LogBeside(path).ledger.revision == 3, "taken in once only"


def test_a_file_changed_while_it_is_served_is_taken_in_before_it_is_written(path: Path) -> None:
    beside = LogBeside(path)
    say(beside, change("wall", "w1", note="brick"))
    save_job(path, noted(open_job(path), "typed in an editor"))
    beside.export()
    assert open_job(path).notes == "typed in an editor"
    assert open_job(path).house.walls[0].note == "brick"


def test_killed_between_writing_the_file_and_anything_after(path: Path) -> None:
    beside = LogBeside(path)
    say(beside, put("outlet", id="0-04", storey="g"))
    beside.close()
    code = (
        "import os, signal, sys, pathlib\n"
        "from rehaul.jobs import LogBeside\n"
        "real = pathlib.Path.replace\n"
        "def replace(self, to): real(self, to); os.kill(os.getpid(), signal.SIGKILL)\n"
        "pathlib.Path.replace = replace\n"
        "LogBeside(sys.argv[1]).export()\n"
    )
    assert subprocess.run([sys.executable, "-c", code, str(path)], check=False).returncode == -signal.SIGKILL
    assert open_job(path).house.outlets[-1].id == "0-04"
    assert LogBeside(path).ledger.revision == 1, "the server's own writing was taken for somebody's change"


def test_an_export_that_fails_is_made_up_for(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    beside = LogBeside(path)

    def full(*_: object) -> None:
        raise CannotSave("the disk is full")

    monkeypatch.setattr("rehaul.jobs.beside.keep_job", full)
    for words in "ab":
        say(beside, change("wall", "w1", note=words))
        with pytest.raises(CannotSave):
            beside.export()
    monkeypatch.undo()
    beside.close()
    again = LogBeside(path)
    assert again.ledger.revision == 2, "the old file was taken for somebody's change"
    again.export()
    assert open_job(path).house.walls[0].note == "b"


def test_a_file_that_does_not_fit_is_refused_and_kept(path: Path) -> None:
    beside = LogBeside(path)
    say(beside, put("outlet", id="0-04", storey="g", note="in the log"))
    beside.close()
    old = open_job(path)
    clash = old.house.outlets[0].model_copy(update={"id": "0-04"})
    house = old.house.model_copy(update={"outlets": (*old.house.outlets, clash)})
    save_job(path, old.model_copy(update={"house": house}))
    text = path.read_bytes()
    with pytest.raises(BadInput, match="does not fit"):
        LogBeside(path)
    assert path.read_bytes() == text
    path.rename(path.with_name("kept.rehaul.json"))
    again = LogBeside(path)
    again.export()
    assert open_job(path).house.outlets[-1].note == "in the log"


def test_another_job_under_the_same_name(path: Path) -> None:
    LogBeside(path).close()
    save_job(path, small_job().model_copy(update={"id": "other"}))
    with pytest.raises(BadInput, match="the log beside it job 'job'"):
        LogBeside(path)
    remove_log(log_path(path))
    assert LogBeside(path).ledger.job_id == "other"


def test_the_command_line_without_a_server(path: Path) -> None:
    edit_job(path, lambda job: noted(job, "by command"))
    assert open_job(path).notes == "by command"
    assert not log_path(path).exists(), "a log appears only once somebody serves the job"


def test_the_command_line_beside_a_server(path: Path) -> None:
    with serving(path):
        server = LogBeside(path)
        say(server, change("wall", "w1", note="brick"))
        result = edit_job(path, lambda job: noted(job, "by command"), label="Note")
        assert result.house.walls[0].note == "brick"
        assert current_job(path).notes == "by command"
        assert server.ledger.refresh()
        assert server.ledger.job == result
        assert open_job(path).notes == "", "the file is the server's to write"
        server.close()
    edit_job(path, lambda job: noted(job, "after the server stopped"))
    assert open_job(path).notes == "after the server stopped"
    assert difference(open_job(path), current_job(path)) == []


def test_one_server_per_job(path: Path) -> None:
    assert not is_served(path)
    with serving(path):
        assert is_served(path)
        with pytest.raises(BadInput, match="being served already"), serving(path):
            pass
    assert not is_served(path)


def test_a_server_that_was_killed_does_not_hold_the_job(path: Path) -> None:
    code = (
        "import sys, time\nfrom pathlib import Path\nfrom rehaul.jobs import serving\n"
        "with serving(Path(sys.argv[1])):\n    print('held', flush=True)\n    time.sleep(60)\n"
    )
    with subprocess.Popen([sys.executable, "-c", code, str(path)], stdout=subprocess.PIPE) as child:
        assert child.stdout is not None
        child.stdout.readline()
        assert is_served(path)
        os.kill(child.pid, signal.SIGKILL)
        child.wait()
    assert not is_served(path)


def test_reading_from_where_nothing_may_be_written(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    LogBeside(path).close()

    def refuse(*_: object) -> None:
        raise CannotSave("the disk is read-only")

    monkeypatch.setattr("rehaul.jobs.beside.connect", refuse)
    assert current_job(path) == small_job()


def test_a_folder_that_is_not_there_is_not_made(tmp_path: Path) -> None:
    for absent in (tmp_path / "jobs", tmp_path / "no" / "jobs", tmp_path / "absent.rehaul.json"):
        with pytest.raises(BadInput, match="no such folder") as caught:
            FolderDesk(absent)
        assert ("mkdir" in caught.value.remedy) == (not absent.suffix)
        assert "rehaul new" in caught.value.remedy
    assert not list(tmp_path.iterdir())


def test_a_file_that_cannot_be_read_does_not_hide_the_others(tmp_path: Path, path: Path) -> None:
    (tmp_path / "broken.rehaul.json").write_text("{")
    save_job(tmp_path / "twin.rehaul.json", small_job())
    desk = FolderDesk(tmp_path)
    assert [key for key, _, _ in desk.jobs()] == ["job", "job~2"]
    assert list(desk.unreadable) == ["broken.rehaul.json"]
    assert desk.ledger("job").store is not desk.ledger("job~2").store
    desk.close()
