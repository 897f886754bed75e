"""A log and what goes with it, on a small job in one folder: edges, one figure on either side; no server."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import pytest

from rehaul.errors import BadInput, Held, Refusal
from rehaul.house import (
    Job,
    LineCheck,
    MeetingPoint,
    Obligation,
    SignOff,
)
from rehaul.jobs import (
    FolderDesk,
    Ledger,
    LogBeside,
    Store,
    connect,
    edit_from_data,
    log_path,
    open_job,
    save_job,
    told,
)
from rehaul.jobs import desk as desks
from rehaul.jobs import ledger as ledgers
from rehaul.jobs.desk import NoJob, StoreDesk, open_desk
from rehaul.jobs.files import new_job_id, read_bounded
from rehaul.jobs.ledger import UndoList, _a_day_before
from rehaul.jobs.permits import require_free
from rehaul.jobs.salvage import salvage
from rehaul.jobs.told import kept_code
from small_log import change, edit_data, note, small_job


@pytest.fixture
def ledger(tmp_path: Path) -> Ledger:
    store = Store(connect(tmp_path / "log"))
    store.create(small_job())
    return Ledger(store, "job")


def notes(job: Job) -> list[str]:
    return [wall.note for wall in job.house.walls]


def test_what_the_log_changed_after_it_wrote_the_file_stays(path: Path) -> None:
    """The file is as of edit 1, and the log's word on the first wall is of edit 2."""
    beside = LogBeside(path)
    note(beside.ledger, "brick")
    beside.export()
    note(beside.ledger, "stone")
    beside.close()
    file_job = open_job(path)
    walls = [w.model_copy(update={"note": "wood"}) if w.id == "w2" else w for w in file_job.house.walls]
    house = file_job.house.model_copy(update={"walls": tuple(walls)})
    save_job(path, file_job.model_copy(update={"house": house}))
    again = LogBeside(path)
    assert notes(again.ledger.job)[:2] == ["stone", "wood"] and again.ledger.revision == 3
    again.export()
    assert notes(open_job(path))[:2] == ["stone", "wood"]
    stamp = os.stat(path).st_mtime_ns  # noqa: PTH116
    again.export()
    assert os.stat(path).st_mtime_ns == stamp  # noqa: PTH116
    again.close()
    path.unlink()
    third = LogBeside(path.with_name("small.rehaul.json"), take_in=False)
    third.export()
    assert notes(open_job(path))[:2] == ["stone", "wood"]
    third.close()


def test_the_same_change_of_the_file_is_the_same_edit(path: Path) -> None:
    save_job(path, small_job().model_copy(update={"notes": "typed"}))
    beside = LogBeside(path)
    assert beside.ledger.revision == 0, "the file begins the log"
    save_job(path, small_job().model_copy(update={"notes": "typed again"}))
    beside.export()
    assert beside.ledger.revision == 1 and beside.ledger.job.notes == "typed again"
    row = beside.store.rows("job", 0)[0]
    assert row.edit.startswith("file-") and row.edit.endswith("-0") and row.person == "the file"
    beside.export()
    assert beside.ledger.revision == 1
    beside.close()


def test_rows_since_are_those_in_memory_or_on_the_disk(
    ledger: Ledger, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(ledgers, "ROWS_IN_MEMORY", 4)
    for number in range(6):
        note(ledger, str(number))

    def since(revision: int) -> list[int] | None:
        rows = ledger.rows_since(revision)
        return None if rows is None else [row.revision for row in rows]

    assert (since(6), since(7), since(5), since(2), since(1)) == ([], None, [6], [3, 4, 5, 6], None)
    monkeypatch.setattr(ledger.store, "rows", lambda job, revision: pytest.fail("asked of the disk"))
    assert since(2) == [3, 4, 5, 6]
    monkeypatch.undo()
    monkeypatch.setattr(ledger, "_recent", type(ledger._recent)(list(ledger._recent)[-2:], maxlen=2))
    assert since(3) == [4, 5, 6] and since(4) == [5, 6]


def test_undo_is_per_person_newest_first_and_two_hundred_deep(
    ledger: Ledger, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(ledgers, "UNDO_DEPTH", 3)
    for number in range(5):
        note(ledger, str(number))
    note(ledger, "other", wall="w2", person="p2")
    assert ledger.undo_labels("p1") == {"undo": "Note 4", "redo": None}
    assert ledger.undo_labels("p3") == {"undo": None, "redo": None}
    for number in range(3):
        ledger.undo("p1", f"undo-{number:08d}")
    assert notes(ledger.job)[:2] == ["1", "other"]
    assert ledger.undo_labels("p1") == {"undo": None, "redo": "Note 2"}
    with pytest.raises(Refusal):
        ledger.undo("p1", "undo-00000009")
    ledger.redo("p1", "redo-00000001")
    assert notes(ledger.job)[0] == "2" and ledger.undo_labels("p1") == {"undo": "Note 2", "redo": "Note 3"}
    again = Ledger(ledger.store, "job")
    assert again.job == ledger.job and again.undo_labels("p1") == ledger.undo_labels("p1")
    note(ledger, "new")
    assert ledger.undo_labels("p1") == {"undo": "Note new", "redo": None}
    unlabelled = edit_from_data(edit_data(ledger.revision, change("wall", "w3", note="x")))
    ledger.submit("p1", unlabelled)
    assert ledger.undo_labels("p1")["undo"] == "change"


def test_lists_of_gestures_by_hand() -> None:
    both = UndoList((1, 2), (3, 4))
    assert (both.without_last("undo"), both.without_last("redo")) == (
        UndoList((1,), (3, 4)),
        UndoList((1, 2), (3,)),
    )
    assert _a_day_before("2026-03-01T00:00:05+00:00") == "2026-02-28T00:00:05+00:00"


def test_an_edit_sent_twice_is_done_once(ledger: Ledger) -> None:
    edit = edit_from_data(edit_data(0, change("wall", "w1", note="a"), edit="edit-once0"))
    first = ledger.submit("p1", edit)
    assert ledger.submit("p1", edit) == first and ledger.revision == 1
    other = edit_from_data(edit_data(1, change("wall", "w1", note="b"), edit="edit-once0"))
    for person, again in (("p2", edit), ("p1", other)):
        with pytest.raises(BadInput, match="edit-once0"):
            ledger.submit(person, again)


def test_a_state_is_kept_every_so_often_and_memory_follows_other_writers(
    ledger: Ledger, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(ledgers, "EDITS_BETWEEN_SNAPSHOTS", 3)
    states = "SELECT revision FROM snapshot WHERE job = 'job' ORDER BY revision"
    for number in range(7):
        note(ledger, str(number))
    kept = [row[0] for row in ledger.store.database.run(states)]
    assert 6 in kept and 7 not in kept
    other = Ledger(ledger.store, "job")
    assert not ledger.refresh()
    note(other, "theirs")
    assert ledger.revision == 7 and ledger.refresh() and ledger.revision == 8
    assert notes(ledger.at_revision(2).job)[0] == "1"
    assert ledger.undo_labels("p1")["undo"] == "Note theirs"


def test_a_log_that_is_too_large_takes_nothing_more(ledger: Ledger, monkeypatch: pytest.MonkeyPatch) -> None:
    """Looked at before every twentieth edit."""
    monkeypatch.setattr(ledgers, "EDITS_BETWEEN_SIZES", 2)
    note(ledger, "a")
    monkeypatch.setattr(ledgers, "LARGEST_BYTES", 1)
    assert note(ledger, "b") == 2, "at edit 1 nobody looks"
    with pytest.raises(Refusal, match="reached"):
        note(ledger, "c")
    assert ledger.revision == 2
    monkeypatch.setattr(ledgers, "LARGEST_BYTES", 10**9)
    assert note(ledger, "c") == 3


def test_what_a_sentence_was_made_from_is_kept_up_to_a_thousand_letters(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    said = told.door_again("a device of Ada")
    kept = kept_code(said)
    assert '"told.paired_device"' in kept and kept_code("plain words") == ""
    monkeypatch.setattr(told, "LONGEST_KEPT", len(kept))
    assert kept_code(said) == kept
    monkeypatch.setattr(told, "LONGEST_KEPT", len(kept) - 1)
    assert kept_code(said) == ""
    assert getattr(told.door_again("whatever", kept), "code", "") == "told.paired_device"
    for broken in ("{", "[1]", '{"code": "no.such"}', '{"code": "told.paired_device", "values": 3}'):
        assert str(told.door_again("a device of Ada", broken)) == "a device of Ada"


def test_a_line_is_not_taken_off_while_somebody_depends_on_it() -> None:
    """Refused only where the gesture itself takes a line off."""
    signed = SignOff(by="Owner", date="2026-11-20")
    off = LineCheck(id="L1", at="MP1", what="disconnected", sign_off=signed)
    point = MeetingPoint(id="MP1", name="Closet", storey="g", position=(0, 0))
    house = small_job().house.model_copy(update={"meeting_points": (point,)})
    owed = Obligation(id="O1", kind="lift", run="c1")
    base = small_job().model_copy(update={"house": house, "obligations": (owed,), "line_checks": (off,)})

    def gesture(*changes: dict[str, Any]) -> Any:
        return edit_from_data(edit_data(0, *changes)).changes

    with pytest.raises(Held):
        require_free(base, gesture({"do": "put", "kind": "line_check", "entity": {"id": "L1"}}))
    with pytest.raises(Held):
        require_free(base, gesture(change("line_check", "L1", note="x")))
    for other in (
        gesture(change("wall", "L1", note="x")),
        gesture(change("line_check", "L2", note="x")),
        gesture({"do": "drop", "kind": "line_check", "id": "L1"}),
    ):
        require_free(base, other)
    looked = base.model_copy(update={"line_checks": (off.model_copy(update={"what": "who depends"}),)})
    require_free(looked, gesture(change("line_check", "L1", note="x")))


def test_a_file_is_read_up_to_its_most(tmp_path: Path) -> None:
    file = tmp_path / "a"
    file.write_bytes(b"x" * 10)
    assert read_bounded(file, 10) == b"x" * 10
    with pytest.raises(BadInput, match="larger"):
        read_bounded(file, 9)
    with pytest.raises(BadInput):
        read_bounded(tmp_path / "nowhere", 10)
    ids = {new_job_id() for _ in range(20)}
    assert len(ids) == 20 and all(len(one) == len("job-2026-01-01-abcd") for one in ids)


def test_a_desk_keeps_each_job_open_once_and_lets_it_go(path: Path, tmp_path: Path) -> None:
    save_job(tmp_path / "small.previous-1.rehaul.json", small_job())
    save_job(tmp_path / "other.rehaul.json", small_job().model_copy(update={"title": "Other"}))
    desk = FolderDesk(tmp_path)
    assert desk.jobs() == [("job", "Other", 0), ("job~2", "Small", 0)], "a previous copy is none"
    ledger = desk.ledger("job~2")
    assert desk.ledger("job~2") is ledger and note(ledger, "a") == 1
    assert desk.jobs() == [("job", "Other", 0), ("job~2", "Small", 1)]
    with pytest.raises(NoJob):
        desk.ledger("job~3")
    assert notes(open_job(path))[0] == ""
    desk.rest("job~2")
    assert notes(open_job(path))[0] == "a"
    desk.rest("job~2")
    assert desk.ledger("job~2") is not ledger
    new = desk.add(small_job())
    assert new.startswith("job-20") and desk.add(small_job()) == f"{new}-2"
    assert open_job(tmp_path / f"{new}-2.rehaul.json").id == f"{new}-2"
    desk.close()


def test_a_desk_of_one_file_takes_no_other(path: Path, tmp_path: Path) -> None:
    save_job(tmp_path / "other.rehaul.json", small_job())
    desk = open_desk(path)
    assert desk.jobs() == [("job", "Small", 0)]
    with pytest.raises(BadInput):
        desk.add(small_job())
    desk.close()


def test_a_desk_of_a_database_numbers_ids_and_keeps_a_state_at_rest(tmp_path: Path) -> None:
    desk = open_desk(tmp_path, store=str(tmp_path / "all"))
    assert isinstance(desk, StoreDesk)
    assert [desk.add(small_job()) for _ in range(3)] == ["job", "job-2", "job-3"]
    long = small_job().model_copy(update={"id": "x" * 32})
    assert [desk.add(long), desk.add(long)] == ["x" * 28, "x" * 28 + "-2"]
    ledger = desk.ledger("job-2")
    assert desk.ledger("job-2") is ledger and note(ledger, "a") == 1
    with pytest.raises(NoJob):
        desk.ledger("job-9")
    states = "SELECT MAX(revision) FROM snapshot WHERE job = 'job-2'"
    store = Store(connect(tmp_path / "all"))
    assert store.database.run(states)[0][0] == 0
    desk.rest("job-2")
    assert store.database.run(states)[0][0] == 1
    desk.rest("job-2")
    again = desk.ledger("job-2")
    assert again is not ledger and again.revision == 1
    store.close()
    desk.close()


def test_only_a_file_of_a_fit_size_is_a_job(
    tmp_path: Path, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    size = path.stat().st_size
    monkeypatch.setattr(desks, "LARGEST_DOCUMENT_BYTES", size)
    assert desks.require_regular(path)[1] == size
    monkeypatch.setattr(desks, "LARGEST_DOCUMENT_BYTES", size - 1)
    with pytest.raises(BadInput, match="larger"):
        desks.require_regular(path)
    for odd in (path.parent, path.with_name("nowhere")):
        with pytest.raises(BadInput):
            desks.require_regular(odd)


def test_what_is_saved_of_a_log_that_is_gone_or_whole(path: Path) -> None:
    alone = salvage(path)
    assert alone.job_id == "job" and alone.state.job == small_job() and alone.rows == () and alone.base == 0
    assert len(alone.lost) == 2 and alone.lost[0] == "there is no log" and alone.after == ()
    beside = LogBeside(path)
    for words in "abc":
        note(beside.ledger, words)
    beside.close()
    found = salvage(path)
    assert (found.state.revision, [row.revision for row in found.rows], found.base) == (3, [1, 2, 3], 0)
    assert found.lost == () and found.after == () and found.file_at == 0 and found.file_is_behind
    save_job(path, small_job().model_copy(update={"notes": "typed"}))
    found = salvage(path)
    assert found.file_at is None and [one["kind"] for one in found.from_file] == ["wall", "job"]
    path.unlink()
    found = salvage(path)
    assert found.from_file == () and not found.file_is_behind and found.job_id == "job"
    log_path(path).unlink()
    with pytest.raises(BadInput):
        salvage(path)
