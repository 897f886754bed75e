"""The words for kinds of things; what an error of the database becomes; the lock of a server on Windows."""

from __future__ import annotations

import os
import sqlite3
import sys
from pathlib import Path
from types import SimpleNamespace

import pytest

from rehaul.errors import BadInput, CannotSave, Damaged
from rehaul.house import House, Job, Wall
from rehaul.jobs import beside, connect
from rehaul.jobs.beside import is_served, serving
from rehaul.jobs.kinds import KINDS, SINGLES, kind_of_list, plain_fields, single, things, words
from rehaul.jobs.logs import lock_path
from rehaul.jobs.sql import Postgres, Sqlite


@pytest.mark.parametrize(
    ("kind", "said"),
    [("placed_plug", "placed plug"), ("meeting_point", "meeting point"), ("wall", "wall")],
)
def test_a_kind_has_blanks_for_people(kind: str, said: str) -> None:
    assert words(kind) == said


def test_where_the_things_of_a_kind_stand() -> None:
    wall = Wall(id="w1", storey="g", start=(0, 0), end=(1, 0))
    job = Job(id="j", title="t", house=House(walls=(wall,)))
    assert things(job, KINDS["wall"]) == (wall,) and things(job, KINDS["need"]) == ()
    assert single(job, "job") is job and single(job, "house") is job.house
    for holder, field, kind in (("house", "walls", "wall"), ("job", "needs", "need")):
        found = kind_of_list(holder, field)
        assert found is not None and found.name == kind
    assert kind_of_list("job", "walls") is None and kind_of_list("house", "needs") is None
    assert kind_of_list("service", "walls") is None and kind_of_list("gate", "needs") is None


def test_what_an_edit_may_set_of_a_thing_of_the_job_and_of_its_house() -> None:
    assert {"start", "note"} <= plain_fields("wall") and "id" not in plain_fields("wall")
    assert "title" in plain_fields("job")
    assert not {"id", "schema_version", "house", "service", "needs", "gate"} & plain_fields("job")
    assert not {"walls", "rooms", "storeys"} & plain_fields("house")
    assert SINGLES["job"] is Job


def test_what_is_asked_wrongly_is_no_damage_and_what_is_missing_is(tmp_path: Path) -> None:
    database = connect(tmp_path / "log")
    with pytest.raises(CannotSave, match=r"could not be used.*syntax error"):
        database.run("SELEC 1")
    with pytest.raises(Damaged, match="no such table: nowhere"):
        database.run("SELECT * FROM nowhere")
    with pytest.raises(Damaged, match="no such column: colour"):
        database.run("SELECT colour FROM stamp")
    with pytest.raises(sqlite3.IntegrityError):
        database.run("INSERT INTO stamp VALUES (NULL)")


@pytest.mark.parametrize(
    ("code", "text", "refusal"),
    [
        (11, "first page", Damaged),  # SQLITE_CORRUPT
        (11 + 3 * 256, "an index", Damaged),  # SQLITE_CORRUPT_INDEX: what kind stands in the higher byte
        (26, "not ours", Damaged),  # SQLITE_NOTADB
        (0, "database disk image is malformed", Damaged),
        (1, "no such table: edit", Damaged),  # SQLITE_ERROR
        (1, "near blank", CannotSave),
        (14, "no such place", CannotSave),  # SQLITE_CANTOPEN
        (10 + 3 * 256, "disk I/O error", CannotSave),  # SQLITE_IOERR_WRITE
        (None, "no such table: edit", CannotSave),  # of Python's own
    ],
)
def test_which_errors_of_a_database_are_damage(
    code: int | None, text: str, refusal: type[Exception], tmp_path: Path
) -> None:
    error = sqlite3.OperationalError(text)
    if code is not None:
        error.sqlite_errorcode = code
    with pytest.raises(refusal, match=text) as caught, Sqlite(tmp_path / "log")._refusing():
        raise error
    assert type(caught.value) is refusal


def test_which_addresses_are_of_which_database(tmp_path: Path) -> None:
    for text in ("postgresql://host/jobs", "postgres://host/jobs"):
        assert isinstance(connect(text), Postgres)
    with pytest.raises(BadInput, match=r"^mysql: "):
        connect("mysql://host/jobs")
    assert isinstance(connect(tmp_path / "postgresql"), Sqlite)


class Locks:
    """What Windows has for locks, as its documentation says: a file, a mode, how many bytes from here on."""

    LK_NBLCK = 2

    def __init__(self) -> None:
        self.asked: list[tuple[int, int, int]] = []
        self.is_held = False

    def locking(self, handle: int, mode: int, count: int, /) -> None:
        self.asked.append((handle, mode, count))
        if self.is_held:
            raise PermissionError(13, "Permission denied")


@pytest.fixture
def locks(monkeypatch: pytest.MonkeyPatch) -> Locks:
    found = Locks()
    monkeypatch.setitem(sys.modules, "msvcrt", found)  # type: ignore[arg-type]
    monkeypatch.setattr(beside, "sys", SimpleNamespace(platform="win32"))
    return found


def test_on_windows_one_byte_is_locked_without_waiting(
    locks: Locks, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened: list[int] = []
    real = os.open

    def noted(*how: object) -> int:
        opened.append(real(*how))  # type: ignore[arg-type]
        return opened[-1]

    monkeypatch.setattr(os, "open", noted)
    with serving(path):
        assert locks.asked == [(opened[0], 2, 1)]
        os.fstat(opened[0])  # held open, or the system lets go of the lock
    with pytest.raises(OSError, match="Bad file"):
        os.fstat(opened[0])


def test_on_windows_a_lock_that_another_holds_is_a_server(locks: Locks, path: Path) -> None:
    assert not is_served(path), "there is no lock file yet"
    assert locks.asked == []
    lock_path(path).touch()
    assert not is_served(path)
    locks.is_held = True
    assert is_served(path)
    with pytest.raises(BadInput, match="served already"), serving(path):
        pytest.fail("two servers of one job")
