"""A household's personal data erased for good: no byte of it is left, and the log holds and goes on."""

from __future__ import annotations

import json
import shutil
import sqlite3
import subprocess
import sys
import zipfile
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from damage import NAME
from household import CREW, SAMPLES, SHA, WHO, WORDS, everything, job_of, naming, run
from replica import change, edit_data, small_job

from rehaul.errors import BadInput, Damaged
from rehaul.jobs import (
    Ledger,
    LogBeside,
    People,
    Shelf,
    Store,
    companions,
    connect,
    edit_from_data,
    log_path,
    open_job,
    save_job,
)
from rehaul.jobs.backups import back_up, put_back
from rehaul.jobs.beside import job_digest
from rehaul.jobs.chain import chained, digest_of
from rehaul.jobs.desk import PEOPLE_FILE
from rehaul.jobs.erasing import ErasureAsked, erase, erase_stored, planned
from rehaul.jobs.ledger import NothingToUndo
from rehaul.jobs.mending import mend
from rehaul.jobs.salvage import salvage
from rehaul.jobs.verifying import verified


@pytest.fixture
def path(household_job: Path) -> Path:
    return household_job


def test_it_is_listed_first_and_nothing_is_written(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    kept = everything(path.parent)
    code, said = run(capsys, "erase", path)
    assert code == 0 and "Nothing was erased. Say --yes" in said
    for word in ("Quillfeather house", "9 Thistledown Row", "01632 960441", "hollow sound", "1 picture"):
        assert word in said
    assert "previous copy 1" in said and "quillfeather.backup: a backup" in said
    assert "others.backup: a backup of another job, 'Of others'" in said
    assert "previous copy 2 of another job, 'Of others'" in said
    assert "Offer A1, Good: 1234.50 USD" in said
    new = everything(path.parent)
    assert {name: new.get(name) for name in kept} == kept
    assert set(new) - set(kept) <= {str(log_path(path)) + side for side in ("-wal", "-shm")}


def test_no_byte_of_it_is_left(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert len(naming(path.parent)) > 20
    words = ("erase", path, "--yes", "--by", CREW, "--backups", path.parents[1] / "jobs-elsewhere")
    code, said = run(capsys, *words)
    assert code == 0, said
    assert (
        "Erased for good by Tess Wirewright: 15 edits, 23 fields, 1 picture, 1 notice and 1 earlier state"
        in said
    )
    assert naming(path.parents[1]) == []
    names = {file.name for file in path.parent.iterdir()}
    assert names == {
        NAME, "house.rehaul-log", "house.rehaul-log-head", "house.rehaul-serving", PEOPLE_FILE, "other",
        "others.backup", "house.previous-2.rehaul.json",
    }  # fmt: skip
    code, said = run(capsys, "verify", path)
    assert code == 0, said
    assert "16 edits, of 15 who and when alone, each what was written. The file follows it." in said
    assert (
        "Erased for good on 20" in said
        and "by Tess Wirewright: 15 edits, 23 fields, 1 picture, 1 notice and 1 earlier state" in said
    )
    assert "2 people and 2 devices, each what was written." in said
    code, said = run(capsys, "erase", path)
    assert "Nothing personal is left in it." in said


def test_what_is_owed_stays(path: Path) -> None:
    old = open_job(path)
    erase(path, ErasureAsked(), CREW)
    job = open_job(path)
    assert [(r.id, r.value, r.room) for r in job.readings] == [(r.id, r.value, r.room) for r in old.readings]
    assert job.house.model_copy(
        update={"name": "", "storeys": (), "rooms": (), "walls": (), "outlets": ()}
    ) == (old.house.model_copy(update={"name": "", "storeys": (), "rooms": (), "walls": (), "outlets": ()}))
    (offer,) = job.accepted_offers
    assert (offer.option, offer.total, offer.sha256, offer.offer) == ("Good", 1234.5, SHA, "")
    assert (offer.sign_off.by, offer.sign_off.date) == ("erased", "2026-11-01")
    assert [(tick.task, tick.by, tick.time) for tick in job.ticks] == [
        ("pull-1", CREW, "2026-11-03T10:00"),
        ("pull-2", "erased", ""),
    ]
    (held,) = job.obligations
    assert held.sign_off and (held.sign_off.date, held.sign_off.words) == ("2026-11-02", "erased")
    assert (job.contacts.technician, job.contacts.firm) == (CREW, "Invented Wiring")
    rows = Store(connect(log_path(path))).raw_rows("job", 0)
    was = Store(connect(log_path(path)))  # who of the crew made which edit
    assert [row.person for row in rows].count("p1") == 13 and len(was.raw_rows("job", 0)) == 16


def test_the_signer_stays_where_that_is_asked(path: Path) -> None:
    erase(path, ErasureAsked(keep_signer=True), CREW)
    (offer,) = open_job(path).accepted_offers
    assert (offer.sign_off.by, offer.sign_off.words) == (WHO, "erased")
    assert {found.split(": ")[1] for found in naming(path.parent)} == {"Odo", "Quillfeather"}


def test_undo_brings_nothing_back_and_the_log_goes_on(path: Path) -> None:
    erase(path, ErasureAsked(), CREW)
    beside = LogBeside(path)
    for person in ("p1", "p2", WHO, "erased"):
        assert beside.ledger.undo_labels(person) == {"undo": None, "redo": None}
        with pytest.raises(NothingToUndo):
            beside.ledger.undo(person, f"undo-after-{len(person)}")
        with pytest.raises(NothingToUndo):
            beside.ledger.redo(person, f"redo-after-{len(person)}")
    assert beside.ledger.rows_since(10) is None, "whoever was away starts from the document"
    with pytest.raises(BadInput, match="no longer kept"):
        beside.ledger.at_revision(15)
    beside.ledger.submit("p1", edit_from_data(edit_data(16, change("wall", "w1", note="new"), label="later")))
    assert beside.ledger.undo("p1", "undo-the-new").revision == 18
    Shelf(beside.store, "job").add(b"new", "image/png", {})
    beside.ledger.keep_snapshot()
    beside.ledger.compact(keep_since="9999")
    beside.export()
    beside.close()
    found = verified(path)
    assert not found.health.faults and found.file == "follows" and len(found.health.erasures) == 1
    assert erase(path, ErasureAsked(), "Ben").plan.counts.pictures == 1
    again = verified(path).health
    assert [one.by for one in again.erasures] == [CREW, "Ben"] and not again.faults


def test_an_edit_sent_again_after_it_is_still_known(path: Path) -> None:
    store = Store(connect(log_path(path)))
    (row,) = [row for row in store.rows("job", 0) if row.label == "Address"]
    data = {"edit": row.edit, "base": 9, "label": row.label, "changes": row.changes}
    store.close()
    erase(path, ErasureAsked(), CREW)
    beside = LogBeside(path)
    assert beside.ledger.submit("p1", edit_from_data(data)).revision == row.revision
    assert naming(path.parent, ("Thistledown",)) == []
    beside.close()


def test_no_digest_tells_whether_a_guess_is_right(path: Path) -> None:
    """Whoever knows what stood there finds no digest of it."""
    store = Store(connect(log_path(path)))
    rows = store.raw_rows("job", 0)
    texts = {text for row in rows for text in row.texts()}
    store.close()
    guesses = {digest_of(text) for text in texts}
    erase(path, ErasureAsked(), CREW)
    kept = b"".join(everything(path.parent).values())
    assert not [guess for guess in guesses if guess.encode() in kept]
    again = Store(connect(log_path(path)))
    assert [row.link for row in again.raw_rows("job", 0)][:15] == [row.link for row in rows], (
        "the chain stays"
    )
    assert {row.salt.partition(":")[0] for row in again.raw_rows("job", 0)[:15]} == {""}
    again.close()


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--yes",), "the log keeps who erased it"),
        (("--yes", "--by", "   "), "the log keeps who erased it"),
        (("--yes", "--by", "x" * 41), "a name has 1 to 40 letters"),
        (("--backups", "nowhere"), "there is no such folder"),
    ],
)
def test_refused_in_a_sentence(
    words: tuple[str, ...], says: str, path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    kept = everything(path.parent)
    code, said = run(capsys, "erase", path, *words)
    assert code == 2 and says in said and len(said.strip().splitlines()) <= 60
    assert {name: data for name, data in everything(path.parent).items() if name in kept} == kept


def test_a_label_that_went_without_an_erasure_is_told(path: Path) -> None:
    connection = sqlite3.connect(log_path(path))
    connection.execute(
        "UPDATE edit SET label = '', changes = '', inverse = '', told = '' WHERE revision <= 3"
    )
    connection.commit()
    connection.close()
    with pytest.raises(Damaged, match="edit 1 has lost its label"):
        LogBeside(path)


def test_the_row_of_an_erasure_is_part_of_the_chain(path: Path) -> None:
    erase(path, ErasureAsked(), CREW)
    connection = sqlite3.connect(log_path(path))
    connection.execute("UPDATE edit SET person = 'Somebody else' WHERE way = 'erase'")
    connection.commit()
    connection.close()
    with pytest.raises(Damaged, match="edit 16 of 16"):
        LogBeside(path)


def test_a_job_without_a_log_gets_one_that_says_so(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    save_job(tmp_path / NAME, job_of())
    code, said = run(capsys, "erase", tmp_path / NAME, "--yes", "--by", CREW)
    assert code == 0, said
    assert naming(tmp_path) == []
    found = verified(tmp_path / NAME)
    assert not found.health.faults and found.file == "follows"
    assert found.erased[0].endswith(f"by {CREW}: 10 fields.")


def test_a_job_with_nothing_personal_is_left_alone(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    save_job(tmp_path / NAME, small_job())
    erase(tmp_path / NAME, ErasureAsked(), CREW)
    kept = everything(tmp_path)
    code, said = run(capsys, "erase", tmp_path / NAME, "--yes", "--by", CREW)
    assert code == 0 and "Nothing personal is left in it." in said
    assert everything(tmp_path) == kept


def test_a_name_that_is_given_goes_where_work_was_noted(path: Path) -> None:
    erase(path, ErasureAsked(names=(CREW,)), "Ben")
    assert naming(path.parent, (*WORDS, "Tess", "Wirewright")) == []


def test_who_paired_of_the_household_goes_and_is_out(path: Path) -> None:
    people = People(Store(connect(path.parent / PEOPLE_FILE)))
    token, _ = people.pair(WHO)
    stays, _ = people.pair(CREW)
    people.close()
    erase(path, ErasureAsked(), CREW)
    again = People(Store(connect(path.parent / PEOPLE_FILE)))
    assert again.device(token) is None and again.device(stays)
    assert again.name_of("p2") == "erased p2" and again.person(WHO) == "p3"
    assert [(event.words, event.address) for event in again.events() if event.words == "erased"] == [
        ("erased", "")
    ]
    again.close()


def test_a_backup_and_a_repair_afterwards(path: Path, tmp_path: Path) -> None:
    erase(path, ErasureAsked(), CREW)
    job = open_job(path)
    back_up(path, tmp_path / "new.backup")
    put_back(tmp_path / "new.backup", tmp_path / "back.rehaul.json")
    assert verified(tmp_path / "back.rehaul.json").health.erasures == verified(path).health.erasures
    beside = LogBeside(path)
    beside.ledger.submit("p1", edit_from_data(edit_data(16, change("wall", "w1", height_m=2.5))))
    beside.close()
    connection = sqlite3.connect(log_path(path))
    connection.execute("UPDATE edit SET person = 'p7' WHERE revision = 17")
    connection.commit()
    connection.close()
    found = salvage(path)
    assert found.state.revision == 16 and found.state.job == job
    mend(path, found)
    assert verified(path).health.erasures and not verified(path).health.faults
    assert naming(path.parent) == []


@pytest.mark.parametrize("sample", ["format2", "version2", "version1"])
def test_logs_of_earlier_programs(sample: str, tmp_path: Path) -> None:
    name = {"format2": "house", "version2": "floors", "version1": "served"}[sample]
    for file in (SAMPLES / sample).glob(f"{name}.rehaul*"):
        shutil.copy(file, tmp_path)
    path = tmp_path / f"{name}.rehaul.json"
    beside = LogBeside(path)
    texts = {
        text for row in beside.store.raw_rows(beside.ledger.job_id, 0) for text in (row.label, row.changes)
    }
    head = beside.ledger.revision
    data: dict[str, Any] = beside.ledger.job.model_dump(mode="json")
    beside.close()
    erase(path, ErasureAsked(), CREW)
    found = verified(path)
    assert not found.health.faults and found.health.erasures[0].edits == head and found.file == "follows"
    kept = b"".join(everything(tmp_path).values())
    for text in texts | {data["contacts"]["household"], data["notes"]}:
        assert len(text) < 8 or text.encode() not in kept, text
        assert digest_of(text).encode() not in kept and digest_of("=" + text).encode() not in kept
    if sample == "format2":
        assert naming(tmp_path) == []
    again = LogBeside(path)
    edit = edit_data(head + 1, change("house", "", built_year=1950), edit="edit-after-it")
    again.ledger.submit("p1", edit_from_data(edit))
    again.close()
    assert not verified(path).health.faults


def test_what_only_the_file_says_is_listed_and_goes(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    erase(path, ErasureAsked(), CREW)
    save_job(path, open_job(path).model_copy(update={"notes": "Odo was here again"}))
    kept = everything(path.parent)
    assert "notes: Odo was here again" in run(capsys, "erase", path)[1]
    assert everything(path.parent) == kept
    assert run(capsys, "erase", path, "--yes", "--by", CREW)[0] == 0
    assert naming(path.parent) == [] and len(verified(path).health.erasures) == 2


def test_as_json(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    _, said = run(capsys, "erase", path, "--json")
    plan = json.loads(said)
    assert plan["erased"] is False and plan["counts"]["pictures"] == 1
    assert {"file", "words"} == set(plan["goes"][0])
    _, said = run(capsys, "erase", path, "--json", "--yes", "--by", CREW)
    done = json.loads(said)
    assert done["erased"] and done["still"] == []
    _, said = run(capsys, "verify", path, "--json")
    assert json.loads(said)["erasures"][0]["by"] == CREW


def test_what_else_names_the_household_is_told(
    path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    (path.parent / "letter.txt").write_text(f"To {WHO}")
    monkeypatch.setattr(companions, "MOST_SEARCHED", 9)
    code, said = run(capsys, "erase", path, "--yes", "--by", CREW)
    assert code == 0 and f"The household is still named in {path.parent / 'letter.txt'}." in said
    assert "Only the first" not in said
    monkeypatch.setattr(companions, "MOST_SEARCHED", 2)
    save_job(path, open_job(path).model_copy(update={"notes": "new"}))
    assert "Only the first 2 files" in run(capsys, "erase", path, "--yes", "--by", CREW)[1]


def test_in_postgresql(postgres_url: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    from household import EDITS, PICTURE

    store = Store(connect(postgres_url))
    people = People(Store(connect(postgres_url)))
    for name in (CREW, WHO):
        people.pair(name)
    store.create(job_of())
    ledger = Ledger(store, "job")
    for person, changes, label in EDITS:
        ledger.submit(person, edit_from_data(edit_data(ledger.revision, *changes, label=label)))
    ledger.keep_snapshot()
    Shelf(store, "job").add(PICTURE, "image/png", {})
    plan = erase_stored(postgres_url, "job", ErasureAsked(), CREW)
    assert plan.counts.edits == 13 and plan.people == (WHO,)
    assert ledger.refresh() and ledger.job.title == "Erased job", "a server that has it open takes it up"
    assert ledger.undo_labels("p1") == {"undo": None, "redo": None}
    for words, says in (
        (["verify", "job", "--store", postgres_url], "by Tess Wirewright: 13 edits"),
        (["erase", "job", "--store", postgres_url], "Nothing personal is left in it."),
        (["erase", "job", "--store", postgres_url, "--yes", "--by", CREW], "Nothing personal is left in it."),
        (["disclose", "job", "--store", postgres_url, "--out", str(tmp_path / "held")], "0 personal texts"),
    ):
        code, said = run(capsys, *words)
        assert code == 0 and says in said, said
    for table in ("job", "edit", "notice", "snapshot", "remark", "person", "device", "picture", "happening"):
        rows = store.database.run(f"SELECT * FROM {table}")
        assert not [word for word in WORDS if word in str(rows)], table
    ledger.submit("p1", edit_from_data(edit_data(ledger.revision, change("wall", "w1", height_m=2.4))))
    people.close()
    store.close()


def test_the_real_command(path: Path) -> None:
    command = [sys.executable, "-m", "rehaul", "erase", str(path), "--yes", "--by", CREW]
    ended = subprocess.run(command, capture_output=True, text=True, check=False)
    assert ended.returncode == 0 and "Erased for good by Tess Wirewright" in ended.stdout, ended.stderr
    assert naming(path.parent) == []
    assert zipfile.is_zipfile(path.parent / "others.backup")
    assert planned(path, ErasureAsked()).anything is False


def test_a_long_list_is_cut_short(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = small_job()
    (reading,) = job.readings
    readings = [reading.model_copy(update={"id": f"y{n}", "note": f"note {n} of it"}) for n in range(400)]
    save_job(tmp_path / NAME, job.model_copy(update={"readings": tuple(readings)}))
    _, said = run(capsys, "erase", tmp_path / NAME)
    assert "and 104 fields more; --json lists them all" in said and "note 399" not in said
    assert len(json.loads(run(capsys, "erase", tmp_path / NAME, "--json")[1])["found"]) == 404


@pytest.mark.parametrize("old", [False, True])
def test_the_id_of_an_edit_of_the_file_tells_nothing_of_it(old: bool, path: Path) -> None:
    """It is made from the digest of the document, which whoever knows all but a name could try."""
    if old:
        for file in (SAMPLES / "format2").glob("house.*"):
            shutil.copy(file, path.parent)
        connection = sqlite3.connect(log_path(path))  # as if its last edit had come in from the file
        row = connection.execute("SELECT link FROM edit WHERE revision = 8").fetchone()
        raw = Store(connect(log_path(path))).raw_rows("job", 8)[0]
        known = job_digest(open_job(path))[:24]
        raw = chained(replace(raw, edit=f"file-{known}-8"), row[0])
        connection.execute("UPDATE edit SET edit = ?, link = ? WHERE revision = 9", (raw.edit, raw.link))
        connection.execute("UPDATE job SET link = ?", (raw.link,))
        connection.commit()
        connection.close()
        log_path(path).with_name("house.rehaul-log-head").unlink()
        assert verified(path).health.faults == ()
    else:
        save_job(path, open_job(path).model_copy(update={"notes": "Odo, in the file"}))
        known = job_digest(open_job(path))[:24]
        LogBeside(path).close()
        LogBeside(path).close()
        assert verified(path).health.edits == 16, "taken in twice, or not at all"
    erase(path, ErasureAsked(), CREW)
    assert known.encode() not in b"".join(everything(path.parent).values())
    assert verified(path).health.faults == () and naming(path.parent) == []
    save_job(path, open_job(path).model_copy(update={"notes": "later"}))
    LogBeside(path).close()
    assert verified(path).health.faults == ()
