"""A job asked for and changed from a line: by its log where there is one, also where only reading may be."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from rehaul.errors import BadInput, CannotSave
from rehaul.house import Job
from rehaul.jobs import (
    LogBeside,
    Shelf,
    Store,
    beside,
    connect,
    current_job,
    edit_job,
    log_path,
    open_job,
    save_job,
    serving,
)
from rehaul.jobs.beside import job_digest, photos_beside, remove_log, store_to_read
from small_log import note, small_job


def noted(words: str) -> Any:
    return lambda job: job.model_copy(update={"notes": words})


@pytest.fixture
def logged(path: Path) -> Path:
    """The file as of edit 1, the log as of edit 2."""
    found = LogBeside(path)
    note(found.ledger, "brick")
    found.export()
    note(found.ledger, "stone")
    found.close()
    return path


def first_wall(job: Job) -> str:
    return job.house.walls[0].note


def only_reading(monkeypatch: pytest.MonkeyPatch) -> None:
    def no(*_: object, **__: object) -> Any:
        raise CannotSave("a disk that may not be written", where="here", remedy="write elsewhere")

    monkeypatch.setattr(beside, "LogBeside", no)
    monkeypatch.setattr(beside, "connect", no)


def test_a_job_is_as_its_log_says_and_without_one_as_its_file(
    logged: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert first_wall(open_job(logged)) == "brick" and first_wall(current_job(logged)) == "stone"
    alone = tmp_path / "alone.rehaul.json"
    save_job(alone, small_job())
    assert current_job(alone) == small_job() and not log_path(alone).exists()
    only_reading(monkeypatch)
    assert first_wall(current_job(logged)) == "stone" and current_job(alone) == small_job()


def test_what_was_typed_into_the_file_is_taken_in_unless_a_server_does_so(logged: Path) -> None:
    typed = open_job(logged).model_copy(update={"notes": "typed"})
    save_job(logged, typed)
    with serving(logged):
        assert current_job(logged).notes == ""
    found = current_job(logged)
    assert (found.notes, first_wall(found)) == ("typed", "stone")
    store = Store(connect(log_path(logged)))
    row = store.row("job", 3)
    store.close()
    assert row is not None and (row.person, row.label) == ("the file", "Changed in the file")


def test_a_change_from_a_line_is_one_edit_and_stands_in_the_file_too(logged: Path) -> None:
    changed = edit_job(logged, noted("new"), person="Ann", label="Note it")
    assert (changed.notes, first_wall(changed)) == ("new", "stone") and open_job(logged) == changed
    edit_job(logged, noted("new"))  # nothing is changed by it, and no edit made
    edit_job(logged, noted("newer"))
    store = Store(connect(log_path(logged)))
    rows = store.rows("job", 2)
    store.close()
    assert [(row.person, row.label) for row in rows] == [("Ann", "Note it"), ("the command line", "")]


def test_while_it_is_served_the_file_is_left_to_the_server(logged: Path) -> None:
    with serving(logged):
        assert edit_job(logged, noted("new")).notes == "new"
        assert first_wall(open_job(logged)) == "brick" and open_job(logged).notes == ""
        save_job(logged, open_job(logged).model_copy(update={"title": "typed"}))
        assert edit_job(logged, noted("newer")).title == "Small" and open_job(logged).title == "typed"
    found = current_job(logged)
    assert (found.notes, found.title) == ("newer", "typed")


def test_without_a_log_the_file_alone_is_changed(path: Path) -> None:
    assert edit_job(path, noted("new")).notes == "new" == open_job(path).notes
    assert not log_path(path).exists()


def test_a_change_that_cannot_be_leaves_all_as_it_was(logged: Path, tmp_path: Path) -> None:
    alone = tmp_path / "alone.rehaul.json"
    save_job(alone, small_job())

    def too_high(job: Job) -> Job:
        storey = job.house.storeys[0].model_copy(update={"elevation_m": 1e9})
        return job.model_copy(update={"house": job.house.model_copy(update={"storeys": (storey,)})})

    for path in (alone, logged):
        before = current_job(path)
        with pytest.raises(BadInput):
            edit_job(path, too_high)
        assert current_job(path) == before


def test_photos_are_had_from_the_log_also_where_only_reading_may_be(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert photos_beside(path) == ()
    found = LogBeside(path)
    shelf = Shelf(found.store, "job")
    shelf.add(b"plan", "image/png", {})
    for step, data in (("step 1", b"one"), ("step 2", b"two")):
        shelf.add(data, "image/jpeg", {}, step)
    found.close()
    photos = (("step 1", "photos/001.jpg", b"one"), ("step 2", "photos/002.jpg", b"two"))
    assert photos_beside(path) == photos
    with serving(path):
        assert photos_beside(path) == photos
    only_reading(monkeypatch)
    assert photos_beside(path) == photos


def test_a_store_is_closed_when_it_was_read(logged: Path, tmp_path: Path) -> None:
    with store_to_read(tmp_path / "nowhere") as none:
        assert none is None
    assert not (tmp_path / "nowhere").exists()
    with store_to_read(log_path(logged)) as store:
        assert store is not None and store.head("job") == 2
        assert store.database._connection is not None  # type: ignore[attr-defined]
    assert store.database._connection is None  # type: ignore[attr-defined]


def test_a_log_goes_with_all_its_files_and_nothing_else(logged: Path) -> None:
    log = log_path(logged)
    sides = [log.with_name(log.name + side) for side in ("", "-wal", "-shm", "-head")]
    others = [log.with_name(f"{log.name}-else"), log.with_name(f"{log.name}.damaged-1"), logged]
    for file in (*sides, *others):
        file.touch()
    remove_log(log)
    assert not any(file.exists() for file in sides) and all(file.exists() for file in others)
    remove_log(log)


def test_a_job_is_known_again_by_what_it_says(path: Path) -> None:
    digest = job_digest(small_job())
    assert len(digest) == 64 and job_digest(open_job(path)) == digest
    assert job_digest(noted("x")(small_job())) != digest


def test_a_file_of_another_job_is_not_taken_into_the_log(logged: Path) -> None:
    save_job(logged, small_job().model_copy(update={"id": "other"}))
    with pytest.raises(BadInput, match="other") as caught:
        current_job(logged)
    assert caught.value.where == str(logged)
