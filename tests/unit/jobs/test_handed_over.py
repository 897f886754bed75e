"""What is given out of a job and what is taken from it for good, thing by thing; in one folder, no server."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from rehaul.errors import BadInput, CannotSave
from rehaul.house import Contacts, Reading
from rehaul.jobs import (
    LogBeside,
    People,
    Shelf,
    Store,
    connect,
    edit_from_data,
    log_path,
    open_job,
    save_job,
    serving,
)
from rehaul.jobs.companions import Known, companions
from rehaul.jobs.disclosing import Disclosed, index_of, of_job, of_log, put_under, require_new, write_private
from rehaul.jobs.disclosure import disclose
from rehaul.jobs.erasing import ErasureAsked, erase, planned
from rehaul.jobs.outputs import write_out
from small_log import change, edit_data, note, small_job

ANN = Contacts(household="Ann Miller", address="1 Mill Lane", technician="Tess", firm="Wires")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A job of Ann's with three edits, a photo of a step, and two who paired, one of them hers."""
    path = tmp_path / "jobs" / "small.rehaul.json"
    path.parent.mkdir()
    read = Reading.model_validate({"id": "R1", "quantity": "down_mbps", "value": 40, "room": "r1"})
    save_job(path, small_job().model_copy(update={"contacts": ANN, "readings": (read,)}))
    people = People(Store(connect(path.parent / ".rehaul-people")))
    _, tess = people.pair("Tess")
    people.pair("Ann Miller")
    people.pair("Otto")
    people.record("paired", "10.0.0.1", "a device of Tess")
    people.record("paired", "10.0.0.2", "a device of Otto")
    people.write_events()
    people.close()
    beside = LogBeside(path)
    note(beside.ledger, "Ann's brick", person=tess.person)
    beside.ledger.submit(tess.person, edit_from_data(edit_data(1, {"do": "drop", "kind": "run", "id": "c1"})))
    Shelf(beside.store, "job").add(b"photo", "image/jpeg", {"width_px": 1}, "step")
    beside.export()
    beside.close()
    return path


def test_everything_of_a_log_is_in_files_that_the_index_names(path: Path) -> None:
    store, people = Store(connect(log_path(path))), Store(connect(path.parent / ".rehaul-people"))
    found = of_log(store, "job", people)
    data = {name: json.loads(body) for name, body in found.files.items() if name.endswith(".json")}
    picture = data["pictures.json"][0]["picture"]
    assert sorted(found.files) == sorted(
        ["job.json", "edits.json", "taken-away.json", "states/edit-0.json", "pictures.json", "people.json",
         "happenings.json", f"pictures/{picture}.jpg"]
    )  # fmt: skip
    assert [(one["revision"], one["name"], one["texts"]) for one in data["edits.json"]] == [
        (1, "Tess", "kept"), (2, "Tess", "kept"),
    ]  # fmt: skip
    assert data["edits.json"][0]["before"][0]["fields"] == {"note": ""} and list(data["taken-away.json"]) == [
        "c1"
    ]
    assert (
        data["pictures.json"][0]["type"] == "image/jpeg"
        and found.files[f"pictures/{picture}.jpg"] == b"photo"
    )
    assert [one["name"] for one in data["people.json"]] == ["Tess", "Ann Miller"] and found.others == 1
    assert [len(one["devices"]) for one in data["people.json"]] == [1, 1]
    assert (
        data["people.json"][0]["devices"][0]["let_in"] is True
        and data["people.json"][0]["devices"][0]["mark"] == "a"
    )
    assert [one["words"] for one in data["happenings.json"]] == ["a device of Tess"]
    personal = {one.at for one in found.personal}
    assert {"title", "contacts.household", "contacts.address", "house.walls[w1].note"} <= personal
    index = index_of(found)
    assert all(f"  {name}: " in index for name in data) and "contacts.address: 1 Mill Lane" in index
    alone = of_log(store, "job", None)
    assert "happenings.json" not in alone.files and alone.others == 0
    assert json.loads(alone.files["people.json"])[0]["id"] is None
    assert of_log(store, "job", people, ["Otto"]).others == 0
    store.close()
    people.close()


def test_an_index_of_what_there_is() -> None:
    found = Disclosed("a\nb")
    assert index_of(found).splitlines()[-1] == "  nothing" and index_of(found).endswith("\n")
    assert "a\nb" not in index_of(found)
    long = of_job(small_job().model_copy(update={"notes": "x" * 2001}))
    assert "  notes: 2001 letters, in job.json" in index_of(long)
    short = of_job(small_job().model_copy(update={"notes": "x" * 2000}))
    assert "x" * 2000 in index_of(short) and "letters" not in index_of(short)
    put_under(found, "copies/a", short, "a copy")
    assert found.lines == ["copies/a/: a copy"]
    assert set(found.files) == {"copies/a/job.json", "copies/a/index.txt"}
    found.add_bytes("x", b"1")
    found.add_bytes("y", b"2", "two")
    assert found.lines[1:] == ["y: two"] and found.files["x"] == b"1"
    with pytest.raises(ValueError, match="not JSON compliant"):
        found.add("z", float("nan"), "none")


def test_files_are_written_for_their_owner_alone_and_where_nothing_stands(tmp_path: Path) -> None:
    out = tmp_path / "a" / "held"
    write_private(out, {"x": b"1", "in/y": b"2"})
    assert (out / "in" / "y").read_bytes() == b"2"
    assert [oct(one.stat().st_mode & 0o777) for one in (out, out / "in", out / "x")] == [
        "0o700",
        "0o700",
        "0o600",
    ]
    assert [one.name for one in out.parent.iterdir()] == ["held"]
    for odd in (out, out / "x"):
        with pytest.raises(BadInput):
            require_new(odd)
    empty = tmp_path / "empty"
    empty.mkdir()
    require_new(empty)
    write_private(empty, {"x": b"1"})
    link = tmp_path / "link"
    link.symlink_to(tmp_path / "nowhere")
    with pytest.raises(BadInput):
        require_new(link)


def test_a_copy_is_the_job_s_by_its_edits_whatever_it_is_called_now(path: Path, tmp_path: Path) -> None:
    data = path.read_bytes()
    write_out(path, data, replace=True)  # the log goes with the copy
    copy = path.with_name("small.previous-1.rehaul.json")
    store = Store(connect(log_path(copy)))
    links = frozenset(row.link for row in store.raw_rows("job", 0))
    store.close()
    other = small_job().model_copy(update={"id": "else", "title": "Else"})
    goes, left = companions(path, Known(other, links))
    assert [one.words for one in goes] == ["previous copy 1"] and left == ()
    assert {file.name for file in goes[0].files} >= {copy.name, log_path(copy).name}
    goes, left = companions(path, Known(other, frozenset()))
    assert goes == () and left[0].words == "previous copy 1 of another job, 'Small'"
    given = disclose(path, tmp_path / "held")
    assert (tmp_path / "held" / "copies" / copy.name / "edits.json").exists()
    assert given.left == () and given.title == "Small" and given.files > 5


def test_what_is_disclosed_of_a_file_with_its_log(path: Path, tmp_path: Path) -> None:
    given = disclose(path, tmp_path / "held", ["Otto"])
    held = tmp_path / "held"
    assert (held / "file" / path.name).read_bytes() == path.read_bytes()
    names = [file for file in held.rglob("*") if file.is_file()]
    assert (given.files, given.others, given.left) == (len(names), 0, ())
    assert "Everything held about the job 'Small'" in (held / "index.txt").read_text()


def test_what_would_go_and_what_stays(path: Path) -> None:
    plan = planned(path, ErasureAsked())
    assert plan.anything and (plan.job, plan.title) == ("job", "Small")
    counts = plan.counts
    assert (counts.edits, counts.pictures, counts.notices) == (2, 1, 0) and counts.fields == len(plan.found)
    assert plan.people == ("Ann Miller",) and plan.names == ("Ann Miller", "1 Mill Lane", "Small")
    assert plan.ids == () and plan.in_file == () and not plan.unfinished
    assert any(line.startswith("1 readings: ") for line in plan.stays)
    assert "Who worked: Tess. Say --name for one who is of the household." in plan.stays
    assert "Who paired: Tess, Otto. Say --name for one who is of the household." in plan.stays
    more = planned(path, ErasureAsked(names=("Otto", "small")))
    assert more.people == ("Ann Miller", "Otto") and path.name in more.ids
    lying = open_job(path).model_copy(update={"notes": "typed by Ann"})
    save_job(path, lying)
    beyond = planned(path, ErasureAsked())
    assert [one.at for one in beyond.in_file] == ["notes"] and "notes" not in {one.at for one in beyond.found}
    with serving(path), pytest.raises(CannotSave):
        planned(path, ErasureAsked())


def test_what_was_erased_is_gone_and_said_by_whom(path: Path) -> None:
    steps: list[str] = []
    done = erase(path, ErasureAsked(), " Tess  W ", step=steps.append)
    assert (done.still, done.elsewhere, done.all_searched) == ((), (), True) and done.searched > 0
    assert steps == [
        "the file and the log brought together", "what stands about the job", "people and devices",
        "the texts of the log", "the job's file", "the log's file", "the end",
    ]  # fmt: skip
    job = open_job(path)
    assert job.contacts == Contacts(technician="Tess", firm="Wires") and job.title == "Erased job"
    assert job.house.walls[0].note == "" and job.readings[0].value == 40.0
    people = People(Store(connect(path.parent / ".rehaul-people")))
    assert [one.name for one in people.devices()] == ["Tess", "Otto"]
    people.close()
    again = LogBeside(path)
    assert (
        again.ledger.revision == 3
        and again.ledger.job == job
        and again.store.remark("job", "erasing") in (None, "")
    )
    row = again.store.rows("job", 2)[0]
    assert (row.way, row.person, row.label) == ("erase", "Tess W", "Personal data erased")
    assert Shelf(again.store, "job").list() == []
    assert again.ledger.undo_labels("p1") == {"undo": None, "redo": None}
    again.close()
    everything = b"".join(file.read_bytes() for file in path.parent.iterdir() if file.is_file())
    for word in (b"Ann", b"Mill Lane", b"brick"):
        assert word not in everything
    assert not planned(path, ErasureAsked()).anything


def test_a_job_without_a_log_gets_one_that_says_who_erased_it(tmp_path: Path) -> None:
    path = tmp_path / "a.rehaul.json"
    save_job(path, small_job().model_copy(update={"contacts": ANN}))
    stray = tmp_path / "letter.txt"
    stray.write_text("Dear Ann Miller")
    done = erase(path, ErasureAsked(), "Tess")
    assert done.elsewhere == (stray,) and done.plan.people == () and log_path(path).exists()
    beside = LogBeside(path)
    assert beside.ledger.revision == 1 and beside.ledger.job == open_job(path)
    beside.close()
    with pytest.raises(BadInput):
        erase(path, ErasureAsked(), "  ")


def test_changes_of_one_thing_alone_name_nothing_else() -> None:
    one: dict[str, Any] = change("wall", "w1", note="x")
    assert edit_from_data(edit_data(0, one)).digest() == edit_from_data(edit_data(5, one, label="y")).digest()
    assert (
        edit_from_data(edit_data(0, one)).digest()
        != edit_from_data(edit_data(0, change("wall", "w1", note="y"))).digest()
    )
