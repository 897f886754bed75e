"""Which log is of which file, by names and by what stands in them; and the format that a log says it has."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from rehaul.errors import BadInput, Damaged
from rehaul.house import Job
from rehaul.jobs import LogBeside, Store, connect, log_path, save_job
from rehaul.jobs.integrity import health_of
from rehaul.jobs.ledger import Ledger
from rehaul.jobs.logs import Undecided, lock_path, require_no_other
from small_log import note, small_job


@pytest.mark.parametrize(
    ("file", "log", "lock"),
    [
        ("mill.rehaul.json", "mill.rehaul-log", "mill.rehaul-serving"),
        ("mill.json", "mill.json.rehaul-log", "mill.json.rehaul-serving"),
        ("mill", "mill.file.rehaul-log", "mill.file.rehaul-serving"),
        ("mill.v2", "mill.v2.file.rehaul-log", "mill.v2.file.rehaul-serving"),
    ],
)
def test_the_name_of_a_log_and_of_its_lock(file: str, log: str, lock: str, tmp_path: Path) -> None:
    assert log_path(tmp_path / file) == tmp_path / log
    assert lock_path(tmp_path / file) == tmp_path / lock


@pytest.mark.parametrize(("ending", "more"), [(".json", 11), ("", 16)])
def test_a_name_may_be_so_long_that_its_log_has_255_bytes(ending: str, more: int, tmp_path: Path) -> None:
    fits = "é" * 50 + "x" * (255 - more - len(ending) - 100)
    assert log_path(tmp_path / f"{fits}{ending}").name.endswith(".rehaul-log")
    with pytest.raises(BadInput, match=f"too long: its log has a name {more} letters longer"):
        log_path(tmp_path / f"{fits}x{ending}")


def titled(title: str, job_id: str = "job") -> Job:
    return small_job().model_copy(update={"id": job_id, "title": title})


@pytest.fixture
def old(tmp_path: Path) -> Path:
    """`mill.json` with a log under the short name, as it was once given."""
    path, short = tmp_path / "mill.json", tmp_path / "mill.rehaul.json"
    for file in (path, short):
        save_job(file, titled("Mine"))
    LogBeside(short).close()
    short.unlink()
    return path


def test_an_old_log_is_found_by_the_file_that_it_wrote_last(old: Path) -> None:
    short = old.with_name("mill.rehaul-log")
    assert log_path(old) == short
    save_job(old, titled("Typed since"))
    assert log_path(old) == short, "the id tells it still"
    namesake = old.with_name("mill.rehaul.json")
    save_job(namesake, titled("Other", "another"))
    assert log_path(old) == short
    save_job(namesake, titled("Mine"))
    assert log_path(old).name == "mill.json.rehaul-log", "the namesake says just what the log wrote"
    save_job(namesake, titled("Typed too"))
    with pytest.raises(Undecided, match=r"mill\.rehaul-log.*mill\.json.*mill\.rehaul\.json"):
        log_path(old)
    save_job(old, titled("Mine"))
    assert log_path(old) == short


def test_a_log_of_another_job_or_none_is_not_taken(old: Path) -> None:
    own, short = "mill.json.rehaul-log", old.with_name("mill.rehaul-log")
    save_job(old, titled("Mine", "another"))
    assert log_path(old).name == own
    old.write_text("{")
    assert log_path(old).name == own
    old.unlink()
    assert log_path(old).name == own
    save_job(old, titled("Mine"))
    assert log_path(old) == short
    short.write_bytes(b"no log")
    assert log_path(old).name == own


def test_who_has_a_log_of_its_own_does_not_look_at_the_other(old: Path) -> None:
    own = old.with_name("mill.json.rehaul-log")
    own.touch()
    assert log_path(old) == own


def test_a_file_may_not_take_the_log_that_is_another_s(old: Path) -> None:
    short = old.with_name("mill.rehaul.json")
    with pytest.raises(BadInput, match=r"mill\.rehaul-log is of mill\.json") as caught:
        require_no_other(short)
    assert "mill.json.rehaul-log" in str(caught.value)
    require_no_other(old)
    old.rename(old.with_name("mill"))
    with pytest.raises(BadInput, match=r"mill\.rehaul-log is of mill$|mill\.rehaul-log is of mill\W"):
        require_no_other(short)
    old.with_name("mill").unlink()
    require_no_other(short)
    save_job(old, titled("Typed"))
    save_job(short, titled("Typed too"))
    require_no_other(short)  # nobody can tell


ADDED_AFTER_1 = {
    "edit": ("parts", "link", "salt"),
    "job": ("link",),
    "notice": ("seal",),
    "snapshot": ("seal",),
    "remark": ("seal",),
    "picture": ("seal",),
    "person": ("seal",),
    "device": ("seal",),
}


def test_a_log_of_the_first_format_gets_its_digests_when_something_is_written(tmp_path: Path) -> None:
    place = tmp_path / "log"
    store = Store(connect(place))
    store.create(small_job())
    ledger = Ledger(store, "job")
    for words in "ab":
        note(ledger, words)
    store.put_remark("job", "x", "kept")
    new = store.raw_rows("job", 0)
    store.close()
    with sqlite3.connect(place) as before:
        before.execute("UPDATE stamp SET format = 1")
        for table, columns in ADDED_AFTER_1.items():
            for column in columns:
                before.execute(f"ALTER TABLE {table} DROP COLUMN {column}")
    before.close()
    (tmp_path / "log-head").unlink()
    store = Store(connect(place))
    with store.writing():
        store.bring_up()
    found = health_of(store, "job")
    assert (found.head, found.edits, found.whole_to, found.faults) == (2, 2, 2, ())
    assert store.remark("job", "x") == "kept" and store.state_at("job", 2).job.house.walls[0].note == "b"
    assert store.database.run("SELECT format FROM stamp") == [(3,)]
    rows = store.raw_rows("job", 0)
    assert [row.changes for row in rows] == [row.changes for row in new]
    assert all(row.salt and row.link for row in rows) and len({row.salt for row in rows}) == 2
    store.close()


@pytest.mark.parametrize(
    ("said", "refusal", "words"),
    [
        ("4", BadInput, "format 4, this one reads 3"),
        ("'x'", Damaged, "no number"),
        ("2.5", Damaged, "no number"),
    ],
)
def test_a_log_says_its_format(said: str, refusal: type[Exception], words: str, tmp_path: Path) -> None:
    place = tmp_path / "log"
    store = Store(connect(place))
    store.create(small_job())
    store.database.run("DELETE FROM stamp")
    store.close()
    again = Store(connect(place))  # without a word of it, it is read as it is
    again.database.run(f"INSERT INTO stamp VALUES ({said})")
    again.close()
    with pytest.raises(refusal, match=words):
        Store(connect(place))
