"""Each thing that may be wrong of a log of four edits, made by hand, and the one sentence that says it."""

from __future__ import annotations

from pathlib import Path

import pytest

from rehaul.errors import Damaged
from rehaul.jobs import Ledger, Shelf, Store, connect, integrity
from rehaul.jobs.chain import seal
from rehaul.jobs.copying import copy_job, drop_rows
from rehaul.jobs.integrity import Health, health_of, require_whole_log
from small_log import note, small_job


@pytest.fixture
def store(tmp_path: Path) -> Store:
    store = Store(connect(tmp_path / "log"))
    store.create(small_job())
    ledger = Ledger(store, "job")
    for words in "abcd":
        note(ledger, words)
    store.put_remark("job", "x", "body")
    return store


def told(store: Store, *changes: str) -> tuple[str, ...]:
    with store.writing() as database:
        for sql in changes:
            database.run(sql)
    return tuple(str(fault) for fault in health_of(store, "job").faults)


@pytest.mark.parametrize(
    ("change", "faults"),
    [
        ("UPDATE edit SET at = 'x' WHERE revision = 2", ["edit 2 of 4 is not what was written"]),
        ("UPDATE edit SET at = 'x' WHERE revision = 4", ["edit 4 of 4 is not what was written"]),
        ("DELETE FROM edit WHERE revision = 1", ["edit 1 of 4 is not what was written"]),
        ("UPDATE job SET head = 5", ["edits 5 to 5 are missing"]),
        ("UPDATE job SET link = 'x'", ["the newest edit is not the one that the log says"]),
        ("UPDATE snapshot SET body = '{}'", ["the state at edit 0 is not what was written"]),
        ("DELETE FROM snapshot", ["no state of the job is there"]),
        ("UPDATE remark SET body = 'y'", ["what was last written to the job's file is not known"]),
        (
            "UPDATE edit SET changes = '', inverse = '', told = '' WHERE revision = 2",
            ["edit 2 has lost its text"],
        ),
        (
            "UPDATE edit SET person = '', salt = substr(salt, 1, instr(salt, ':')) WHERE revision = 3",
            ["edit 3 has lost its label"],
        ),
        ("UPDATE job SET head = 'x'", ["a value in it is not of the kind that was written"]),
    ],
)
def test_one_thing_wrong_is_said_as_one(change: str, faults: list[str], store: Store) -> None:
    assert list(told(store, change)) == faults
    with pytest.raises(Damaged, match=faults[0]):
        require_whole_log(store, "job")


def test_edits_that_went_from_the_end_are_missing_and_were_acknowledged(store: Store) -> None:
    link = store.raw_rows("job", 0)[1].link
    assert told(store, "DELETE FROM edit WHERE revision > 2") == ("edits 3 to 4 are missing",), (
        "the job says so itself"
    )
    short = told(store, f"UPDATE job SET head = 2, link = '{link}'")
    assert short == ("edits 3 to 4 were acknowledged and are missing",)


def test_an_edit_beyond_the_newest(store: Store) -> None:
    link = store.raw_rows("job", 0)[2].link
    faults = told(store, f"UPDATE job SET head = 3, link = '{link}'")
    acknowledged = "edits 4 to 4 were acknowledged and are missing"
    assert faults == ("there is an edit 4 beyond the newest, 3", acknowledged)
    found = health_of(store, "job")
    assert (found.head, found.edits, found.whole_to) == (3, 4, 3)
    spoilt = told(store, "UPDATE edit SET at = 'x' WHERE revision = 4")
    assert spoilt == faults, "whether it continues the others or not"


def test_of_many_that_lost_their_labels_three_are_named(store: Store) -> None:
    lost = "UPDATE edit SET person = '', salt = substr(salt, 1, instr(salt, ':'))"
    assert told(store, lost) == tuple(f"edit {n} has lost its label" for n in (1, 2, 3))


def test_the_witness_knows_another_edit_of_that_number(store: Store) -> None:
    witness = store.database.witness
    assert witness is not None
    witness.reset({"job": (3, "of another history")})
    assert told(store) == ("edit 3 is another one than was acknowledged",)
    witness.reset({"job": (3, store.raw_rows("job", 0)[2].link)})
    assert told(store) == ()
    witness.reset({"other": (9, "of another job")})
    assert told(store) == ()


def test_a_state_may_be_as_new_as_the_newest_edit_and_no_newer(store: Store) -> None:
    state = store.state_at("job", 4)
    with store.writing():
        store.keep_state("job", state)
    assert told(store) == ()
    body = store.snapshot("job")
    beyond = f"UPDATE snapshot SET revision = 5, seal = '{seal('job', 5, body)}' WHERE revision = 4"
    assert told(store, beyond) == ("the state at edit 5 is not what was written",)


def test_texts_that_went_before_the_oldest_state_are_no_fault(store: Store) -> None:
    for revision in (2, 4):
        with store.writing():
            store.keep_state("job", store.state_at("job", revision))
    gone = "UPDATE edit SET changes = '', inverse = '', told = '' WHERE revision <= {}"
    assert told(store, "DELETE FROM snapshot WHERE revision < 2", gone.format(2)) == ()
    assert health_of(store, "job").compacted == 2
    assert told(store, gone.format(3)) == ("edit 3 has lost its text",)


def test_a_picture_that_is_not_what_was_kept_is_named(store: Store) -> None:
    shelf = Shelf(store, "job")
    first, _ = (shelf.add(data, "image/png", {}) for data in (b"a", b"b"))
    assert told(store) == ()
    spoilt = told(store, f"UPDATE picture SET body = 'c' WHERE id = '{first}'")
    assert spoilt == (f"picture {first} is not what was kept",)


def test_a_fault_is_believed_where_nobody_writes_or_after_five_looks(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    looks: list[Health] = []

    def look(store: Store, job: str) -> Health:
        looks.append(Health(job, 0, 0, 0, 0, ("a fault",)))
        return looks[-1]

    monkeypatch.setattr(integrity, "_health_of", look)
    assert health_of(store, "job").faults == ("a fault",) and len(looks) == 1
    heads = iter(range(100))
    monkeypatch.setattr(store, "head_link", lambda job: (next(heads), ""))
    assert health_of(store, "job").faults == ("a fault",) and len(looks) == 6


def test_a_job_is_copied_with_all_that_stands_beside_it_and_taken_out_again(
    store: Store, tmp_path: Path
) -> None:
    Shelf(store, "job").add(b"\x00\xff", "image/png", {})
    target = Store(connect(tmp_path / "copy"))
    target.create(small_job().model_copy(update={"id": "other"}))
    assert copy_job(store, target, "job") == 4
    assert health_of(target, "job").faults == () and target.raw_rows("job", 0) == store.raw_rows("job", 0)
    assert target.jobs() == [("job", "Small", 4), ("other", "Small", 0)]
    assert target.remark("job", "x") == "body"
    (picture,) = Shelf(target, "job").list()
    assert Shelf(target, "job").get(picture["picture"]) == (b"\x00\xff", "image/png")
    witness = target.database.witness
    assert witness is not None and witness.heads() == {"job": store.head_link("job")}
    with target.writing() as database:
        drop_rows(database, "job")
    for table in ("edit", "snapshot", "notice", "remark", "picture"):
        sql = f"SELECT COUNT(*) FROM {table} WHERE job = 'job'"
        assert target.database.run(sql) == [(0,)], table
    assert target.jobs() == [("other", "Small", 0)] and health_of(target, "other").head == 0
    target.close()
