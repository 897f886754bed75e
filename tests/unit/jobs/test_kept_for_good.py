"""What is kept beside a job, looked at, copied and taken away again: figure by figure, in one folder."""

from __future__ import annotations

import json
import zipfile
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from rehaul.errors import BadInput
from rehaul.house import Contacts, Job
from rehaul.jobs import (
    Ledger,
    LogBeside,
    People,
    Shelf,
    Store,
    connect,
    log_path,
    open_job,
    outputs,
    save_job,
)
from rehaul.jobs import companions as beside_files
from rehaul.jobs.backups import Made, back_up, is_backup, put_back, unpack
from rehaul.jobs.companions import Known, companions, files_about, naming, own_files
from rehaul.jobs.integrity import health_of
from rehaul.jobs.outputs import copies_of, is_copy, refuse_existing, write_folder, write_out
from rehaul.jobs.personal import Household, household_of, who_worked
from rehaul.jobs.tombstones import ErasedCounts
from rehaul.jobs.verifying import paired_beside, paired_in, verified
from small_log import note, small_job


@pytest.fixture
def store(tmp_path: Path) -> Store:
    store = Store(connect(tmp_path / "log"))
    store.create(small_job())
    ledger = Ledger(store, "job")
    for words in "abc":
        note(ledger, words)
    return store


def test_a_log_is_whole_or_it_is_said_from_where_on_it_is_not(store: Store) -> None:
    found = health_of(store, "job")
    assert (found.head, found.edits, found.compacted, found.whole_to, found.faults) == (3, 3, 0, 3, ())
    assert (found.erasures, found.unfinished, found.job) == ((), "", "job")

    def broken(sql: str) -> Any:
        with store.writing() as database:
            database.run(sql)
        return health_of(store, "job")

    spoilt = broken("UPDATE edit SET person = 'p9' WHERE revision = 2")
    assert spoilt.whole_to == 1 and len(spoilt.faults) == 1 and "2" in spoilt.faults[0]
    broken("UPDATE edit SET person = 'p1' WHERE revision = 2")
    assert health_of(store, "job").faults == ()
    cut = broken("DELETE FROM edit WHERE revision = 3")
    assert (cut.head, cut.edits, cut.whole_to) == (3, 2, 2) and cut.faults and "3" in cut.faults[0]
    beyond = broken("UPDATE job SET head = 1")
    assert "an edit 2 beyond the newest, 1" in beyond.faults[0] and beyond.head == 1


@pytest.mark.parametrize("table", ["snapshot", "remark", "picture", "notice"])
def test_what_stands_beside_the_edits_is_what_was_written(table: str, store: Store) -> None:
    Shelf(store, "job").add(b"x", "image/png", {"width_px": 1})
    store.put_remark("job", "x", "body")
    with store.writing() as database:
        database.run("INSERT INTO notice VALUES ('job', 'p1', 1, '{}', 'no seal of it')")
    assert len(health_of(store, "job").faults) == 1, "the notice alone"
    with store.writing() as database:
        database.run("DELETE FROM notice")
        assert health_of(store, "job").faults == ()
        if table == "notice":
            database.run("INSERT INTO notice VALUES ('job', 'p1', 1, '{}', '')")
        else:
            database.run(f"UPDATE {table} SET seal = 'other' WHERE job = 'job'")
    assert bool(health_of(store, "job").faults) == (table != "notice"), "an earlier program had no seals"


def test_how_much_went_in_words() -> None:
    for counts, words, anything in (
        ((0, 0, 0, 0, 0), "nothing", False),
        ((1, 0, 0, 0, 0), "1 edit", True),
        ((0, 2, 1, 0, 0), "2 fields and 1 picture", True),
        ((3, 1, 0, 1, 2), "3 edits, 1 field, 1 notice and 2 earlier states", True),
        ((0, 0, 0, 0, 1), "1 earlier state", True),
    ):
        found = ErasedCounts(*counts)
        assert (found.words, found.any) == (words, anything)


def test_whose_a_name_is() -> None:
    household = Household(frozenset({"ann miller", "o'hara"}), frozenset({"bo miller"}))
    for name in ("Ann Miller", "ann", " MILLER ", "Mr Ann Miller jr", "O'Hara"):
        assert household.is_of_it(name), name
    for name in ("", "Annie", "Bo Miller", "Mill", "Ben"):
        assert not household.is_of_it(name), name
    assert household.is_named_in("the box of Miller, attic") and not household.is_named_in("millers row")
    odd = Household(frozenset({"family house", "al"}))
    assert not odd.is_named_in("the family house of al"), "common words and short ones name nobody"
    job = small_job().model_copy(
        update={"contacts": Contacts(household="Ann Miller", technician="Tess W", firm="Wire & Co")}
    )
    found = household_of(job, ["Ben", "x", "household 2"], [{"contacts": {"household": "Old Name"}}])
    assert found.names == {"ann miller", "ben", "old name"} and found.firm == {"tess w", "wire & co"}
    assert household_of(job, ["Tess W"]).firm == {"wire & co"}
    assert who_worked(job) == ["Tess W"]


def test_what_is_written_out_keeps_what_others_wrote(tmp_path: Path, path: Path) -> None:
    out = tmp_path / "a" / "out"
    write_folder(out, {"x.txt": "1", "in/y.txt": b"2"})
    assert (out / "in/y.txt").read_text() == "2"
    write_folder(out, {"x.txt": "3", "in/y.txt": b"2"})
    assert (out / "x.txt").read_text() == "3", "its own is renewed"
    (out / "x.txt").write_text("mine")
    for names in (["x.txt"], ["x.txt", "1", "2", "3", "4"]):
        for name in names[1:]:
            (out / name).write_text("mine")
        with pytest.raises(BadInput) as caught:
            write_folder(out, dict.fromkeys(names, "4"))
        assert ("1 more" in str(caught.value) or "2 more" in str(caught.value)) == (len(names) > 3)
    assert (out / "x.txt").read_text() == "mine"
    write_folder(out, {"x.txt": "mine"})
    with pytest.raises(BadInput):
        write_folder(out, {"x.txt": "5"})  # equal by chance is not its own
    write_folder(out, {"x.txt": "6"}, replace=True)
    write_folder(out, {"x.txt": "7"})
    with pytest.raises(BadInput):
        write_folder(tmp_path, {path.name: "8"}, replace=True, never=[path])
    for odd in (path.parent, tmp_path / "x.rehaul-log", tmp_path / ".rehaul-people"):
        with pytest.raises(BadInput):
            refuse_existing(odd, replace=True)
    refuse_existing(path, replace=True)
    with pytest.raises(BadInput):
        refuse_existing(path)
    LogBeside(path).close()
    path.unlink()
    with pytest.raises(BadInput, match="log"):
        refuse_existing(path)


def test_of_a_replaced_job_five_copies_stay(path: Path) -> None:
    for number in range(7):
        data = json.dumps({"schema_version": 3, "id": "job", "title": f"T{number}"}).encode()
        write_out(path, data, replace=True)
    copies = copies_of(path)
    assert sorted(copies) == [3, 4, 5, 6, 7] and outputs.KEPT_COPIES == 5
    newest = path.with_name("small.previous-7.rehaul.json")
    assert copies[7] == [newest] and b"T5" in newest.read_bytes() and is_copy(newest) and not is_copy(path)
    assert not is_copy(path.with_name("previous-1.rehaul.json"))
    LogBeside(path).close()
    write_out(path, b"{}", replace=True)
    assert log_path(path.with_name("small.previous-8.rehaul.json")).exists() and not log_path(path).exists()
    plain = path.with_name("plain.txt")
    plain.write_text("a")
    write_out(plain, b"b", replace=True)
    assert copies_of(plain) == {} and plain.read_text() == "b"


def test_two_jobs_are_one_by_their_edits_or_by_what_they_say() -> None:
    def known(*links: str, **changes: Any) -> Known:
        return Known(Job(id="job", title="x").model_copy(update={"title": "", **changes}), frozenset(links))

    assert known("a", "b").is_same(known("b", id="other")) and not known("a").is_same(known("b"))
    assert known(title="Mill").is_same(known(title="Mill"))
    assert not known(title="Mill").is_same(known(title="Mill", id="other"))
    assert not known(title="Mill").is_same(known(title="Mile")) and not known().is_same(known())
    for named in ("household", "address"):
        contacts = Contacts(**{named: "Ann Miller"})
        assert known(title="1", contacts=contacts).is_same(known(title="2", contacts=contacts))
    house = small_job().house
    assert known(title="1", house=house).is_same(known(title="2", house=house))
    bare = house.model_copy(update={"rooms": ()})
    assert not known(title="1", house=bare).is_same(known(title="2", house=bare))


def test_what_goes_with_a_job_and_what_is_left(path: Path, tmp_path: Path) -> None:
    own = Known(open_job(path), frozenset())
    made = back_up(path, tmp_path / "a.backup")
    assert made == Made("job", "Small", 0, made.at)
    other = tmp_path / "other.rehaul.json"
    save_job(other, Job(id="job", title="Other"))
    back_up(other, tmp_path / "b.backup")
    write_out(path, path.read_bytes(), replace=True)
    (tmp_path / "small.rehaul-log.damaged-1").write_text("x")
    (tmp_path / "papers").mkdir()
    (tmp_path / "papers" / outputs.MADE).write_text("{}")
    goes, left = companions(path, own)
    assert [(Path(one.name).name, one.words) for one in goes] == [
        ("small.previous-1.rehaul.json", "previous copy 1"),
        ("a.backup", "a backup"),
        ("small.rehaul-log.damaged-1", "a damaged log that a repair put aside"),
    ]
    assert [Path(one.name).name for one in left] == ["b.backup", "papers"]
    assert left[0].words == "a backup of another job, 'Other'"
    assert [file.name for file in own_files(path)] == [
        "small.rehaul.json", "small.rehaul-log", "small.rehaul-log-wal", "small.rehaul-log-shm",
        "small.rehaul-log-head",
    ]  # fmt: skip


def test_files_that_name_somebody(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name, text in (("a", "Miller's"), ("b", "mill"), ("c", json.dumps('Ann "Al" Lee')), ("d", "Zé")):
        (tmp_path / name).write_text(text, encoding="utf-8")
    files = sorted(tmp_path.iterdir())
    assert [f.name for f in naming(files, ["Miller", "mill", 'Ann "Al" Lee'])] == ["a", "c"]
    assert (
        naming(files, ["mill", "Zé  "]) == []
        and naming([tmp_path / "nowhere", *files], ["Mille"]) == files[:1]
    )
    (tmp_path / "in").mkdir()
    (tmp_path / "in" / "e").write_text("12345")
    assert [f.name for f in files_about(tmp_path, [files[0]])[0]] == ["b", "c", "d", "e"]
    monkeypatch.setattr(beside_files, "LARGEST_SEARCHED", 4)
    assert [f.name for f in files_about(tmp_path, [])[0]] == ["b", "d"]
    monkeypatch.setattr(beside_files, "LARGEST_SEARCHED", 100)
    for most, whole in ((5, True), (4, False)):
        monkeypatch.setattr(beside_files, "MOST_SEARCHED", most)
        found, every = files_about(tmp_path, [])
        assert (len(found), every) == (most, whole)


def test_a_backup_is_put_back_whole_or_not_at_all(path: Path, tmp_path: Path) -> None:
    beside = LogBeside(path)
    note(beside.ledger, "brick")
    beside.close()
    file, to = tmp_path / "a.backup", tmp_path / "new" / "mill.rehaul.json"
    to.parent.mkdir()
    assert back_up(path, file).edits == 1 and is_backup(file) and not is_backup(path)
    made, document, log = unpack(file)
    assert (made.job, made.edits) == ("job", 1) and log and b"brick" in document
    assert put_back(file, to) == made
    again = LogBeside(to)
    assert again.ledger.revision == 1 and again.ledger.job.house.walls[0].note == "brick"
    again.close()
    with pytest.raises(BadInput):
        put_back(file, to)
    about = json.loads(zipfile.ZipFile(file).read("about.json"))
    for spoilt in ({"kind": "else"}, {"format": 99}, {"sha256": {}}, {"edits": "many"}):
        odd = tmp_path / "odd.backup"
        with zipfile.ZipFile(odd, "w") as packed:
            packed.writestr("about.json", json.dumps(about | spoilt))
            packed.writestr("job.json", document)
            packed.writestr("log", log)
        with pytest.raises(BadInput):
            unpack(odd)
        assert is_backup(odd) == ("kind" not in spoilt)
    for none in (path, tmp_path / "nowhere"):
        with pytest.raises(BadInput):
            unpack(none)


def test_how_the_file_stands_to_its_log(path: Path) -> None:
    beside = LogBeside(path)
    assert verified(path).file == "follows"
    note(beside.ledger, "brick")
    assert verified(path).file == "behind"
    beside.export()
    assert verified(path).file == "follows" and verified(path).health.edits == 1
    beside.close()
    save_job(path, small_job().model_copy(update={"notes": "typed"}))
    assert verified(path).file == "changed" and "changed elsewhere" in verified(path).words
    path.write_text("{")
    assert verified(path).file == "unreadable"
    path.unlink()
    found = verified(path)
    assert found.file == "absent" and found.erased == () and found.health.faults == ()
    stopped = replace(found, health=replace(found.health, unfinished="2026"))
    assert len(stopped.erased) == 1 and "midway" in stopped.erased[0]


def test_people_of_a_folder_are_counted_and_their_rows_looked_at(path: Path, tmp_path: Path) -> None:
    assert paired_beside(path) is None
    store = Store(connect(tmp_path / ".rehaul-people"))
    people = People(store)
    for name in ("Ann", "Ben", "Ann"):
        people.pair(name)
    found = paired_beside(path)
    assert found is not None and (found.people, found.devices, found.faults) == (2, 3, ())
    people.forget(people.devices()[0].id)
    assert paired_in(store).faults == () and paired_in(store).devices == 3
    with store.writing() as database:
        database.run("UPDATE person SET name = 'Eve' WHERE id = 'p2'")
    assert len(paired_in(store).faults) == 1 and "p2" in paired_in(store).faults[0]
    with store.writing() as database:
        database.run("UPDATE person SET name = 'Ben' WHERE id = 'p2'")
        database.run("DELETE FROM pass")
    assert len(paired_in(store).faults) == 2, "both that are still let in"
    with store.writing() as database:
        database.run("DELETE FROM device")
    (missing,) = paired_in(store).faults
    assert "3" in missing and "0" in missing
    store.close()


def test_a_look_that_is_old_is_taken_again_and_a_new_one_is_not(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    now = [10.0]
    monkeypatch.setattr("rehaul.jobs.people.time.monotonic", lambda: now[0])
    here, there = (People(Store(connect(tmp_path / "people"))) for _ in range(2))
    token, device = here.pair("Ann")
    assert there.device(token) == device
    here.forget(device.id)
    assert there.device(token) == device, "by the look of just now"
    now[0] += 0.5
    assert there.device(token) is None
    monkeypatch.setattr(there, "_read", lambda at: pytest.fail("asked again"))
    assert there.refresh() == frozenset()
