"""A log that is not what was written is refused, told of and mended; nothing goes missing unseen."""

from __future__ import annotations

import contextlib
import json
import random
import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest
from damage import NAME, Kept, becomes, copy_of, files_of, flip, tear, worked_on
from replica import change, edit_data

from rehaul.cli.main import main
from rehaul.errors import BadInput, CannotSave, Damaged
from rehaul.jobs import LogBeside, current_job, edit_from_data, log_path, open_job, save_job
from rehaul.jobs.backups import back_up, put_back
from rehaul.jobs.mending import mend
from rehaul.jobs.salvage import salvage
from rehaul.jobs.verifying import verified

FLIPS, CUTS = 60, 30


@pytest.fixture(scope="module")
def cold(tmp_path_factory: pytest.TempPathFactory) -> Kept:
    return worked_on(tmp_path_factory.mktemp("cold"), hot=False)


@pytest.fixture(scope="module")
def hot(tmp_path_factory: pytest.TempPathFactory) -> Kept:
    return worked_on(tmp_path_factory.mktemp("hot"), hot=True)


@pytest.mark.parametrize(("spoil", "times"), [(flip, FLIPS), (tear, CUTS)])
@pytest.mark.parametrize("which", ["cold", "hot"])
def test_a_bit_turned_or_a_file_torn_is_never_a_silent_loss(
    which: str,
    spoil: Callable[[Path, random.Random], int],
    times: int,
    tmp_path: Path,
    request: pytest.FixtureRequest,
) -> None:
    kept: Kept = request.getfixturevalue(which)
    random_ = random.Random(f"{spoil.__name__} {which}")
    found: dict[str, int] = {}
    for _ in range(times):
        folder = copy_of(kept, tmp_path / "copy")
        parts = files_of(folder)
        part = random_.choices(parts, [each.stat().st_size for each in parts])[0]
        place = spoil(part, random_)
        ends = becomes(kept, folder)
        assert "SILENT" not in ends, (part.name, place, ends)
        found[ends] = found.get(ends, 0) + 1
    assert len(found) > 1, found  # some damage matters and some does not


@pytest.mark.parametrize("content", [b"", b"not a database " * 300, b"SQLite format 3\x00" + bytes(4080)])
def test_a_log_that_is_no_log_is_refused_and_kept(content: bytes, tmp_path: Path) -> None:
    save_job(tmp_path / NAME, _job())
    log_path(tmp_path / NAME).write_bytes(content)
    for verb in (["check"], ["verify"], ["cables"]):
        with pytest.raises(SystemExit) as ended:
            main([*verb, str(tmp_path / NAME)])
        assert ended.value.code == 2
    assert log_path(tmp_path / NAME).read_bytes() == content


def test_the_newest_edits_cut_off_are_missed(hot: Kept, tmp_path: Path) -> None:
    """The write-ahead log gone: what is left is a shorter log that looks whole."""
    folder = copy_of(hot, tmp_path / "copy")
    log = log_path(folder / NAME)
    log.with_name(log.name + "-wal").unlink()
    log.with_name(log.name + "-shm").unlink(missing_ok=True)
    with pytest.raises(Damaged, match=r"acknowledged and are missing|no job is in it|no log of rehaul"):
        LogBeside(folder / NAME)


def test_a_format_that_is_no_number_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Found by the fuzzer: it ended in a traceback."""
    _open(tmp_path, 3).close()
    with sqlite3.connect(log_path(tmp_path / NAME)) as database:
        database.execute("UPDATE stamp SET format = ?", (b"\xff",))
    database.close()
    with pytest.raises(Damaged, match="the format it says is no number"):
        LogBeside(tmp_path / NAME)
    main(["repair", str(tmp_path / NAME)])
    assert "Nothing was written" in capsys.readouterr().out


def test_an_older_copy_put_in_its_place_is_missed(tmp_path: Path) -> None:
    beside = _open(tmp_path, 3)
    beside.close()
    log = log_path(tmp_path / NAME)
    old = log.read_bytes()
    beside = _open(tmp_path, 2)
    beside.close()
    log.write_bytes(old)
    with pytest.raises(Damaged, match="edits 4 to 5 were acknowledged and are missing"):
        LogBeside(tmp_path / NAME)


def test_a_row_changed_by_hand_is_found_and_named(tmp_path: Path) -> None:
    beside = _open(tmp_path, 6)
    beside.store.database.run("UPDATE edit SET changes = replace(changes, 'said 3', 'said 9')")
    beside.close()
    with pytest.raises(Damaged, match="edit 4 of 6 is not what was written"):
        LogBeside(tmp_path / NAME)
    with pytest.raises(Damaged):
        current_job(tmp_path / NAME)


def test_mending_saves_the_beginning_and_the_file_brings_the_rest(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    beside = _open(tmp_path, 6)
    beside.export()
    last = beside.ledger.job
    beside.store.database.run("UPDATE edit SET changes = '[]' WHERE revision = 5")
    beside.close()
    found = salvage(tmp_path / NAME)
    assert found.state.revision == 4 and [row.revision for row in found.after] == [6]
    assert found.from_file and "edits 5 to 6 are not whole" in found.lost
    before = {part.name: part.read_bytes() for part in tmp_path.iterdir()}
    main(["repair", str(tmp_path / NAME)])
    assert "Nothing was written" in capsys.readouterr().out
    assert {part.name: part.read_bytes() for part in tmp_path.iterdir()} == before
    main(["repair", str(tmp_path / NAME), "--write"])
    assert "damaged-1" in capsys.readouterr().out
    again = LogBeside(tmp_path / NAME)
    assert again.ledger.job == last
    assert [row.person for row in again.store.rows("job", 0)][-1] == "the file"
    assert again.store.rows("job", 0)[0].label == "Note 0", "what was whole keeps its history"
    again.close()
    assert any(part.name.endswith("damaged-1") for part in tmp_path.iterdir())


def test_mending_does_not_take_a_file_that_is_behind_for_a_change(tmp_path: Path) -> None:
    beside = _open(tmp_path, 3)
    beside.export()
    for number in range(3, 6):
        _note(beside, number)
    beside.store.put_remark("job", "other", "x")
    beside.store.database.run("UPDATE remark SET body = 'y' WHERE name = 'other'")
    last = beside.ledger.job
    beside.close()
    with pytest.raises(Damaged):
        LogBeside(tmp_path / NAME)
    found = salvage(tmp_path / NAME)
    assert found.file_is_behind and not found.from_file and found.state.job == last
    main(["repair", str(tmp_path / NAME), "--write"])
    again = LogBeside(tmp_path / NAME)
    assert again.ledger.job == last
    again.export()
    again.close()
    assert open_job(tmp_path / NAME) == last


def test_verify_says_how_the_file_stands(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    beside = _open(tmp_path, 2)
    assert verified(tmp_path / NAME).file == "behind"
    beside.export()
    beside.close()
    main(["verify", str(tmp_path / NAME)])
    assert "2 edits, each what was written. The file follows it." in capsys.readouterr().out
    changed = open_job(tmp_path / NAME)
    save_job(tmp_path / NAME, changed.model_copy(update={"title": "Another"}))
    assert verified(tmp_path / NAME).file == "changed"


def test_a_log_of_a_later_program_is_refused(tmp_path: Path) -> None:
    beside = _open(tmp_path, 2)
    beside.store.database.run("UPDATE stamp SET format = 99")
    beside.close()
    with pytest.raises(BadInput, match="a later rehaul wrote this log"):
        LogBeside(tmp_path / NAME)


def test_a_row_of_a_later_schema_is_refused(tmp_path: Path) -> None:
    from rehaul.jobs.chain import chained
    from rehaul.jobs.store import RawRow

    beside = _open(tmp_path, 1)
    (raw,) = beside.store.raw_rows("job", 0)
    later = chained(RawRow(**{**vars(raw), "schema_version": 99}), _first())
    beside.store.database.run(
        "UPDATE edit SET schema_version = 99, parts = %s, link = %s", (later.parts, later.link)
    )
    beside.store.database.run("UPDATE job SET link = %s", (later.link,))
    beside.store.database.witness.reset({"job": (1, later.link)})
    beside.close()
    with pytest.raises(BadInput, match="a later rehaul made edit 1"):
        LogBeside(tmp_path / NAME)


def test_a_log_of_the_format_before_gets_its_chain(tmp_path: Path) -> None:
    """Its columns are taken away as the earlier program had none."""
    beside = _open(tmp_path, 4)
    last, log = beside.ledger.job, log_path(tmp_path / NAME)
    beside.export()
    beside.close()
    old = sqlite3.connect(log)
    for table, column in (("job", "link"), ("edit", "parts"), ("edit", "link"), ("notice", "seal"),
                          ("snapshot", "seal"), ("remark", "seal"), ("picture", "seal")):  # fmt: skip
        old.execute(f"ALTER TABLE {table} DROP COLUMN {column}")
    old.execute("DROP TABLE stamp")
    old.commit()
    old.close()
    log.with_name(log.name + "-head").unlink()
    again = LogBeside(tmp_path / NAME)
    assert again.ledger.job == last and not verified(tmp_path / NAME).health.faults
    again.close()


def test_what_is_old_is_made_small_and_the_chain_still_holds(tmp_path: Path) -> None:
    beside = _open(tmp_path, 40, words=" and more" * 180)
    ledger, last = beside.ledger, beside.ledger.job
    beside.export()
    gone = ledger.compact(keep_since="9999")
    assert gone > 0 and ledger.job == last
    health = verified(tmp_path / NAME).health
    assert not health.faults and health.compacted == 40 and health.edits == 40
    assert [row.person for row in ledger.store.rows("job", 0)] == ["ann"] * 40
    assert ledger.undo_labels("ann") == {"undo": None, "redo": None}
    assert ledger.rows_since(0) is None, "a client that was away starts from the document"
    with pytest.raises(BadInput, match="no longer kept"):
        ledger.at_revision(3)
    _note(beside, 41)
    beside.close()
    again = LogBeside(tmp_path / NAME)
    assert again.ledger.revision == 41 and again.ledger.undo_labels("ann")["undo"]
    again.close()


def test_what_the_last_day_did_can_still_be_undone(tmp_path: Path) -> None:
    beside = _open(tmp_path, 5)
    beside.ledger.compact()
    assert beside.ledger.undo_labels("ann")["undo"] == "Note 4"
    assert verified(tmp_path / NAME).health.compacted == 0
    beside.close()


def test_a_backup_put_back_is_the_same_job_with_its_history(tmp_path: Path) -> None:
    beside = _open(tmp_path, 5)
    made = back_up(tmp_path / NAME, tmp_path / "b.zip")  # while it is open
    assert (made.edits, made.title) == (5, "Small")
    place = tmp_path / "there" / NAME
    place.parent.mkdir()
    put_back(tmp_path / "b.zip", place)
    again = LogBeside(place)
    assert again.ledger.state == beside.ledger.state
    assert again.store.raw_rows("job", 0) == beside.store.raw_rows("job", 0)
    again.close()
    beside.close()
    with pytest.raises(BadInput, match="stands there already"):
        put_back(tmp_path / "b.zip", place)


def test_a_backup_that_was_damaged_is_refused(tmp_path: Path) -> None:
    _open(tmp_path, 5).close()
    back_up(tmp_path / NAME, tmp_path / "b.zip")
    data = (tmp_path / "b.zip").read_bytes()
    random_, refused = random.Random(3), 0
    for number in range(60):
        bad = bytearray(data)
        bad[random_.randrange(len(bad))] ^= 1 << random_.randrange(8)
        (tmp_path / "bad.zip").write_bytes(bad)
        place = tmp_path / f"there-{number}.rehaul.json"
        try:
            put_back(tmp_path / "bad.zip", place)
        except BadInput:
            refused += 1
            assert not place.exists()
        else:
            again = LogBeside(place)
            assert again.ledger.revision == 5
            again.close()
    assert refused > 40


def test_a_damaged_log_is_not_backed_up(tmp_path: Path) -> None:
    beside = _open(tmp_path, 3)
    beside.store.database.run("UPDATE edit SET label = 'other' WHERE revision = 2")
    beside.close()
    with pytest.raises(Damaged):
        back_up(tmp_path / NAME, tmp_path / "b.zip")
    assert not (tmp_path / "b.zip").exists()


def test_the_verbs_speak_json(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    _open(tmp_path, 2).close()
    place, backup = str(tmp_path / NAME), str(tmp_path / "b.zip")
    for words in (
        ["verify", place],
        ["repair", place],
        ["backup", place, "--out", backup],
        ["restore", backup, "--out", str(tmp_path / "c.rehaul.json")],
    ):
        main([*words, "--json"])
        assert json.loads(capsys.readouterr().out)


def _job():  # type: ignore[no-untyped-def]
    from replica import small_job

    return small_job()


def _first() -> str:
    from rehaul.jobs.chain import first_link

    return first_link("job")


def _open(folder: Path, edits: int, words: str = "") -> LogBeside:
    if not (folder / NAME).exists():
        save_job(folder / NAME, _job())
    beside = LogBeside(folder / NAME)
    for _ in range(edits):
        _note(beside, beside.ledger.revision, words)
    return beside


def _note(beside: LogBeside, number: int, words: str = "") -> None:
    ledger = beside.ledger
    said = change("wall", "w2", note=f"said {number}{words}")
    data = edit_data(ledger.revision, said, label=f"Note {number}")
    ledger.submit("ann", edit_from_data(data))


def test_a_row_gone_from_the_end_is_named(tmp_path: Path) -> None:
    """Its number, and no look beyond what is there, although the witness saw it."""
    beside = _open(tmp_path, 6)
    beside.store.database.run("DELETE FROM edit WHERE revision = 6")
    beside.close()
    with pytest.raises(Damaged, match="edits 6 to 6 are missing"):
        LogBeside(tmp_path / NAME)


def test_a_text_taken_away_by_hand_is_no_compaction(tmp_path: Path) -> None:
    """A state must hold what an edit without its text has done."""
    beside = _open(tmp_path, 6)
    beside.store.database.run("UPDATE edit SET changes = '', inverse = '', told = '' WHERE revision = 4")
    beside.close()
    with pytest.raises(Damaged, match="edit 4 has lost its text"):
        LogBeside(tmp_path / NAME)
    assert salvage(tmp_path / NAME).state.revision == 3


def test_a_picture_that_a_repair_leaves_out_is_told(tmp_path: Path) -> None:
    from rehaul.jobs import Shelf

    for column in ("body", "about"):
        folder = tmp_path / column
        folder.mkdir()
        beside = _open(folder, 2)
        kept = Shelf(beside.store, "job").add(b"pixels", "image/png", {"name": "plan"})
        Shelf(beside.store, "job").add(b"others", "image/png", {"name": "photo"}, step="T1")
        beside.store.database.run(f"UPDATE picture SET {column} = 'x' WHERE id = '{kept}'")
        beside.close()
        with pytest.raises(Damaged, match=f"picture {kept} is not what was kept"):
            LogBeside(folder / NAME)
        assert "1 picture is not what was kept" in salvage(folder / NAME).lost
        main(["repair", str(folder / NAME), "--write"])
        again = LogBeside(folder / NAME)
        (left,) = Shelf(again.store, "job").list()
        assert left["step"] == "T1"
        again.close()


def test_a_picture_laid_anew_is_still_whole(tmp_path: Path) -> None:
    from rehaul.jobs import Shelf

    beside = _open(tmp_path, 1)
    shelf = Shelf(beside.store, "job")
    shelf.place(shelf.add(b"pixels", "image/png", {"name": "plan"}), {"storey": "G", "metres_per_px": 0.01})
    beside.close()
    assert not verified(tmp_path / NAME).health.faults


@pytest.mark.parametrize("step", range(1, 6))
def test_a_repair_stopped_anywhere_loses_nothing(
    step: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whatever stands then is refused or whole: never a log begun anew from the file."""
    beside = _open(tmp_path, 6)
    beside.export()
    for number in (6, 7):
        _note(beside, number)
    beside.store.database.run("UPDATE edit SET changes = '[]' WHERE revision = 8")
    beside.close()
    found = salvage(tmp_path / NAME)
    renames = [0]

    def stopping(real):  # type: ignore[no-untyped-def]
        def rename(*words, **more):  # type: ignore[no-untyped-def]
            renames[0] += 1
            if renames[0] >= step:
                raise KeyboardInterrupt
            return real(*words, **more)

        return rename

    with monkeypatch.context() as patched:
        for name in ("rename", "replace", "hardlink_to"):
            patched.setattr(Path, name, stopping(getattr(Path, name)))
        with contextlib.suppress(KeyboardInterrupt):
            mend(tmp_path / NAME, found)
    try:
        again = LogBeside(tmp_path / NAME)
    except Damaged:
        assert salvage(tmp_path / NAME).state.revision == 7
    else:
        assert again.ledger.revision == 7
        again.close()


def test_a_restore_that_cannot_end_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    _open(tmp_path, 3).close()
    back_up(tmp_path / NAME, tmp_path / "b.zip")

    def full(*_: object, **__: object) -> None:
        raise CannotSave("the disk is full", where="there", remedy="Make room")

    monkeypatch.setattr("rehaul.jobs.backups.write_whole", full)
    with pytest.raises(CannotSave):
        put_back(tmp_path / "b.zip", tmp_path / "other.rehaul.json")
    assert not [part.name for part in tmp_path.iterdir() if "other" in part.name]


@pytest.mark.parametrize(
    "column", ["at", "edit", "way", "schema_version", "person", "label", "digest", "link"]
)
def test_a_value_that_became_bytes_is_told_and_repaired(tmp_path: Path, column: str) -> None:
    """A bit in a record turns a text into bytes: the log is refused, and repair reads the rest."""
    beside = _open(tmp_path, 6)
    beside.export()
    last = beside.ledger.job
    beside.store.database.run(f"UPDATE edit SET {column} = CAST({column} AS BLOB) WHERE revision = 4")
    beside.close()
    with pytest.raises(Damaged):
        LogBeside(tmp_path / NAME)
    found = salvage(tmp_path / NAME)
    assert found.state.revision == 3 and "edits 4 to 6 are not whole" in found.lost
    mend(tmp_path / NAME, found)
    again = LogBeside(tmp_path / NAME)
    assert again.ledger.job == last
    again.close()
