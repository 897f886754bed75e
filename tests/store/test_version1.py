"""Documents and logs that version 1 left behind: every one opens with all that was in it, and goes on.

The files in `samples/version1` were written by the code of that version. `served` is a job that two people
worked on through a server that was stopped hard: its log holds two edits that its file never got, an offer
that was accepted, ticks, an undo and a wall that was taken away. `served.expected.json` is what the old code
made of that log.
"""

from __future__ import annotations

import hashlib
import json
import shutil
from pathlib import Path
from typing import Any

import pytest
from replica import change, edit_data, put

from rehaul.house import SCHEMA_VERSION, Job, dump_job, job_from_data
from rehaul.house.readers import read_house
from rehaul.jobs import (
    FolderDesk,
    LogBeside,
    current_job,
    demo_job,
    edit_from_data,
    edit_job,
    log_path,
    open_job,
)
from rehaul.takeoff import is_intact

SAMPLES = Path(__file__).parent / "samples" / "version1"
NAMES = sorted(path.name for path in SAMPLES.glob("*.rehaul.json"))
EXPECTED = json.loads((SAMPLES / "served.expected.json").read_text(encoding="utf-8"))
for _storey in EXPECTED["job"]["house"]["storeys"]:  # null said nothing; version 3 has a list of outlines
    assert _storey["floor"].pop("outline") is None


def lost(old: Any, new: Any, path: str = "") -> list[str]:
    """Everything of the old data that the new data does not say in the same words, numbers and order."""
    if isinstance(old, dict):
        gone = [f"{path}.{name}" for name in old if name not in new]
        both = [name for name in old if name in new]
        return gone + [line for name in both for line in lost(old[name], new[name], f"{path}.{name}")]
    if isinstance(old, list):
        if len(old) != len(new):
            return [f"{path}: {len(old)} became {len(new)}"]
        return [
            line
            for n, pair in enumerate(zip(old, new, strict=True))
            for line in lost(*pair, path=f"{path}[{n}]")
        ]
    return [] if old == new else [f"{path}: {old!r} became {new!r}"]


def raw(path: Path) -> dict[str, Any]:
    data: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    return data


def content(data: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in data.items() if name != "schema_version"}


@pytest.mark.parametrize("name", NAMES)
def test_a_kept_file_opens_is_edited_saved_and_opened_again(name: str, tmp_path: Path) -> None:
    path = Path(shutil.copy(SAMPLES / name, tmp_path))
    before = raw(path)
    assert before["schema_version"] == 1, "no longer a sample of version 1"
    job = open_job(path)
    assert lost(content(before), job.model_dump(mode="json")) == []

    room = job.house.rooms[0].id

    def measured(old: Job) -> Job:
        reading = {"id": "Qz1", "quantity": "down_mbps", "value": 31.5, "room": room}
        readings = (*old.readings, type(old).model_validate(raw_with(reading)).readings[-1])
        return old.model_copy(update={"readings": readings, "notes": "edited under version 2"})

    edit_job(path, measured)
    again = open_job(path)
    assert raw(path)["schema_version"] == SCHEMA_VERSION
    assert again == measured(job)
    expected = {**content(before), "notes": "edited under version 2"}
    after = again.model_dump(mode="json")
    assert after["readings"].pop()["value"] == 31.5
    assert lost(expected, after) == []
    assert open_job(path) == job_from_data(json.loads(dump_job(again)))


def raw_with(reading: dict[str, Any]) -> dict[str, Any]:
    house = {
        "storeys": [{"id": "g", "name": "Ground", "elevation_m": 0}],
        "rooms": [{"id": reading["room"], "name": "R", "storey": "g", "polygon": [[0, 0], [1, 0], [1, 1]]}],
    }
    return {"id": "j", "title": "J", "house": house, "readings": [reading]}


@pytest.mark.parametrize("name", NAMES)
def test_a_kept_file_is_served_and_edited_through_its_log(name: str, tmp_path: Path) -> None:
    path = Path(shutil.copy(SAMPLES / name, tmp_path))
    before = open_job(path)
    desk = FolderDesk(tmp_path)
    ledger = desk.ledger(before.id)
    storey = before.house.storeys[0].id
    ledger.submit("ann", edit_from_data(edit_data(0, put("outlet", id="9-99", storey=storey, mains=True))))
    desk.export(before.id)
    desk.close()
    assert open_job(path).house.outlets == (*before.house.outlets, ledger.job.house.outlets[-1])
    assert current_job(path) == ledger.job


@pytest.mark.parametrize("name", NAMES)
def test_a_kept_file_gives_its_house_to_another_job(name: str) -> None:
    assert read_house(SAMPLES / name).house == open_job(SAMPLES / name).house


def test_the_invented_house_keeps_its_version_1() -> None:
    """The demo may gain what version 2 asks; what version 1 said of it stays."""
    assert {room["id"] for room in raw(SAMPLES / "side-garage.rehaul.json")["house"]["rooms"]} <= {
        room.id for room in demo_job().house.rooms
    }


@pytest.fixture
def served(tmp_path: Path) -> Path:
    """The file and the log as the stopped server left them."""
    for name in ("served.rehaul.json", "served.rehaul-log"):
        shutil.copy(SAMPLES / name, tmp_path)
    return tmp_path / "served.rehaul.json"


def test_a_kept_log_opens_with_every_edit(served: Path) -> None:
    beside = LogBeside(served)
    state = beside.ledger.state
    assert state.revision == EXPECTED["revision"], "the file was taken for somebody's change"
    assert lost(content(EXPECTED["job"]), state.job.model_dump(mode="json")) == []
    assert sorted(state.dropped) == EXPECTED["dropped"] == ["Wb9"]
    touched = sorted([*key, touch.revision, touch.person] for key, touch in state.touched.items())
    assert touched == EXPECTED["touched"]
    assert [hazard.id for hazard in state.job.house.hazards] == ["HZ1"], (
        "they came in as a field of the house"
    )
    assert [reading.value for reading in state.job.readings][-2:] == [18.5, 7.25]
    assert beside.ledger.rows_since(0) is None, "old rows are not for a client of the new version"
    rows = beside.ledger.store.rows("served", 0)
    from_file = next(row.revision for row in rows if row.label == "Changed in the file")
    for revision in range(state.revision + 1):
        then = beside.ledger.at_revision(revision)
        assert then.revision == revision
        assert bool(then.job.house.hazards) is (revision >= from_file)
    beside.close()


def test_a_kept_log_goes_on(served: Path) -> None:
    """Edits under version 2 on top, the undo of an old one, the file brought up, and all of it read again."""
    beside = LogBeside(served)
    revision = beside.ledger.revision
    hazard = change("hazard", "HZ1", state="present")
    splitter = put("splitter", id="SP1", name="Loft", storey=beside.ledger.job.house.storeys[0].id)
    beside.ledger.submit("ben", edit_from_data(edit_data(revision, hazard, splitter)))
    beside.ledger.undo("ann", "undo-version-2")
    assert beside.ledger.job.notes == "", "ann's last edit under version 1"
    beside.export()
    beside.ledger.keep_snapshot()
    job = beside.ledger.job
    beside.close()
    again = LogBeside(served)
    assert again.ledger.job == job == open_job(served)
    assert [one.state for one in again.ledger.job.house.hazards] == ["present"]
    again.close()


def test_a_kept_offer_keeps_its_words_price_and_digest(served: Path) -> None:
    old = EXPECTED["job"]["accepted_offers"]
    (offer,) = current_job(served).accepted_offers
    assert lost(old[0], offer.model_dump(mode="json")) == []
    assert hashlib.sha256(offer.offer.encode()).hexdigest() == offer.sha256 == old[0]["sha256"]
    assert is_intact(offer)
    assert (offer.plan, offer.plan_sha256) == ("", "")


def test_a_kept_log_without_its_file(served: Path) -> None:
    served.unlink()
    beside = LogBeside(served)
    beside.export()
    assert lost(content(EXPECTED["job"]), open_job(served).model_dump(mode="json")) == []
    assert log_path(served).exists()
    beside.close()


def test_a_file_that_version_1_was_killed_before_writing_is_not_taken_for_a_change(served: Path) -> None:
    """Killed between noting what it would write and writing it; digests of version 1 fit nothing any more."""
    beside = LogBeside(served)
    (written, _), *_ = beside._written()
    beside._put_written([(beside.ledger.revision, "0" * 64), (written, "1" * 64)])
    beside.close()
    again = LogBeside(served)
    assert again.ledger.revision == EXPECTED["revision"], "two edits were taken back"
    again.close()
