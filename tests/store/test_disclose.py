"""Everything held about a household as files it can read: nothing left out, nobody else's, no secrets."""

from __future__ import annotations

import json
import os
import shutil
import sqlite3
from pathlib import Path
from typing import Any

import pytest
from damage import NAME
from household import ADDRESS, CREW, EDITS, PHONE, PICTURE, WHO, WORDS, job_of, naming, worked_on
from replica import change, edit_data

from rehaul.cli.main import main
from rehaul.errors import BadInput, CannotSave, Damaged
from rehaul.jobs import (
    Ledger,
    LogBeside,
    People,
    Shelf,
    Store,
    connect,
    edit_from_data,
    log_path,
    open_job,
    save_job,
)
from rehaul.jobs.beside import serving
from rehaul.jobs.desk import PEOPLE_FILE
from rehaul.jobs.disclosure import disclose, disclose_stored
from rehaul.jobs.erasing import ErasureAsked, erase


@pytest.fixture(scope="module")
def before(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = worked_on(tmp_path_factory.mktemp("before") / "jobs")
    people = People(Store(connect(path.parent / PEOPLE_FILE)))
    people.pair("Somebody of another job")
    people.record("paired", "192.0.2.9", "a device of Somebody of another job")
    people.close()
    return path.parent


@pytest.fixture
def path(before: Path, tmp_path: Path) -> Path:
    shutil.copytree(before, tmp_path / "jobs")
    shutil.copytree(before.with_name("jobs-elsewhere"), tmp_path / "jobs-elsewhere")
    return tmp_path / "jobs" / NAME


def read(out: Path, name: str) -> Any:
    return json.loads((out / name).read_text(encoding="utf-8"))


def test_all_of_it_is_there(path: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "held"
    main(["disclose", str(path), "--out", str(out), "--backups", str(tmp_path / "jobs-elsewhere")])
    said = capsys.readouterr().out
    job = open_job(path)
    assert read(out, "job.json") == job.model_dump(mode="json"), "every field, also those left as they were"
    store = Store(connect(log_path(path)))
    rows = store.rows("job", 0)
    edits = read(out, "edits.json")
    assert [(e["edit"], e["at"], e["label"], e["changes"]) for e in edits] == [
        (row.edit, row.at, row.label, row.changes) for row in rows
    ]
    assert {e["name"] for e in edits} == {CREW, WHO} and all(e["texts"] == "kept" for e in edits)
    (picture,) = read(out, "pictures.json")
    assert (out / picture["file"]).read_bytes() == PICTURE
    assert [n["code"] for n in read(out, "notices.json")] == ["overtaken"]
    assert set(read(out, "taken-away.json")) == {"0-09"}
    states = sorted(file.name for file in (out / "states").iterdir())
    assert states == ["edit-0.json", "edit-14.json"]
    store.close()
    people = read(out, "people.json")
    assert [(row["name"], len(row["devices"])) for row in people if row["id"]] == [(CREW, 1), (WHO, 1)]
    assert {row["name"] for row in people} == {CREW, WHO}
    assert [(e["words"], e["address"]) for e in read(out, "happenings.json")]
    index = (out / "index.txt").read_text(encoding="utf-8")
    for text in (WHO, ADDRESS, PHONE, "hollow sound", "15 edits", "a backup", "previous copy 1"):
        assert text in index
    for copy in ("house.previous-1.rehaul.json", "quillfeather.backup", "older.zip"):
        assert read(out, f"copies/{copy}/job.json")["contacts"]["household"] == WHO
        assert len(read(out, f"copies/{copy}/edits.json")) == 15
    assert (out / "file" / NAME).read_bytes() == path.read_bytes()
    assert "Not in it: 1 of the people who paired" in said
    assert "others.backup: a backup of another job" in said


def test_nobody_elses_and_no_secrets(path: Path, tmp_path: Path) -> None:
    place = Store(connect(path.parent / PEOPLE_FILE))
    tokens = [row[0] for row in place.database.run("SELECT token FROM device")]
    place.close()
    disclose(path, tmp_path / "held")
    assert naming(tmp_path / "held", ("Of others", "another job", "192.0.2.9", *tokens)) == []


def test_for_its_owner_alone(path: Path, tmp_path: Path) -> None:
    old = os.umask(0)
    try:
        disclose(path, tmp_path / "held")
    finally:
        os.umask(old)
    for place in [tmp_path / "held", *(tmp_path / "held").rglob("*")]:
        assert place.stat().st_mode & 0o777 == (0o700 if place.is_dir() else 0o600), place


def test_while_it_is_served_and_changed(path: Path, tmp_path: Path) -> None:
    """The log counts; the file is there as it lies."""
    beside = LogBeside(path)
    late = edit_data(beside.ledger.revision, change("wall", "w4", note="not yet in the file"))
    beside.ledger.submit("p1", edit_from_data(late))
    with serving(path):
        disclose(path, tmp_path / "held")
    beside.close()
    held = tmp_path / "held"
    assert "not yet in the file" in (held / "job.json").read_text()
    assert "not yet in the file" not in (held / "file" / NAME).read_text()


def test_a_job_that_is_a_file_alone(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    save_job(tmp_path / NAME, job_of())
    main(["disclose", str(tmp_path / NAME), "--out", str(tmp_path / "held"), "--json"])
    said = json.loads(capsys.readouterr().out)
    assert (said["files"], said["personal"]) == (3, 10)
    assert not log_path(tmp_path / NAME).exists()


def test_something_that_stands_there_is_kept(path: Path, tmp_path: Path) -> None:
    (tmp_path / "held").mkdir()
    disclose(path, tmp_path / "held")
    for place in (tmp_path / "held", path):
        with pytest.raises(BadInput, match="something stands there already"):
            disclose(path, place)


def test_all_or_nothing(path: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real, left = os.fsync, [9]

    def fsync(handle: int) -> None:
        left[0] -= 1
        if left[0] == 0:
            raise OSError(28, "No space left on device")
        real(handle)

    monkeypatch.setattr(os, "fsync", fsync)
    with pytest.raises(CannotSave, match="the disk is full"):
        disclose(path, tmp_path / "held")
    assert sorted(place.name for place in tmp_path.iterdir()) == ["jobs", "jobs-elsewhere"]


def test_a_damaged_log_is_not_passed_on_as_whole(path: Path, tmp_path: Path) -> None:
    connection = sqlite3.connect(log_path(path))
    connection.execute("UPDATE edit SET label = 'other' WHERE revision = 3")
    connection.commit()
    connection.close()
    with pytest.raises(Damaged, match="edit 3 of 15"):
        disclose(path, tmp_path / "held")
    assert not (tmp_path / "held").exists()


def test_after_an_erasure_nothing_is_held(path: Path, tmp_path: Path) -> None:
    erase(path, ErasureAsked(folders=(tmp_path / "jobs-elsewhere",)), CREW)
    given = disclose(path, tmp_path / "held")
    assert given.personal == 0 and naming(tmp_path / "held") == []
    edits = read(tmp_path / "held", "edits.json")
    assert [edit["texts"] for edit in edits] == ["erased"] * 15 + ["kept"]
    assert edits[15]["told"][0]["erased"]["edits"] == 15


def test_what_was_given_is_found_by_an_erasure(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Given into the job's own folder, it is said to name the household."""
    disclose(path, path.parent / "held")
    main(["erase", str(path), "--yes", "--by", CREW])
    assert f"still named in {path.parent / 'held' / 'job.json'}" in capsys.readouterr().out


def test_from_postgresql(postgres_url: str, tmp_path: Path) -> None:
    store = Store(connect(postgres_url))
    people = People(Store(connect(postgres_url)))
    for name in (CREW, WHO, "Somebody of another job"):
        people.pair(name)
    store.create(job_of())
    ledger = Ledger(store, "job")
    for person, changes, label in EDITS:
        ledger.submit(person, edit_from_data(edit_data(ledger.revision, *changes, label=label)))
    Shelf(store, "job").add(PICTURE, "image/png", {})
    given = disclose_stored(postgres_url, "job", tmp_path / "held")
    assert given.others == 1 and len(read(tmp_path / "held", "edits.json")) == 13
    text = b"".join(file.read_bytes() for file in (tmp_path / "held").rglob("*") if file.is_file())
    assert all(word.encode() in text for word in WORDS)
    people.close()
    store.close()
