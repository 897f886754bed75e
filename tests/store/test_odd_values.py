"""What no reading can be is written by nobody, whichever way; what was saved with it opens and is told of."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from replica import change, drop, edit_data, put, small_job

from rehaul.errors import BadInput
from rehaul.facts.reading_ranges import ReadingRange
from rehaul.facts.table import load
from rehaul.house import Box, Job, Learnt, LearntTerm, Quantity, Reading, dump_job, entities, odd_values
from rehaul.house.audit import audit
from rehaul.jobs import (
    JobState,
    LogBeside,
    Store,
    connect,
    demo_job,
    edit_from_data,
    edit_job,
    open_job,
    save_job,
    tried,
)
from rehaul.jobs.ledger import Ledger
from rehaul.predict import calibration_of, scene_of, standing_radiators

TERM = {"term": "brick", "shift_db": 5000, "sd_db": 1, "houses": 1, "readings": 3}
ODD_READING = Reading(id="x9", quantity="down_mbps", value=-50, room="r2")
ODD = {
    "a rate below nothing": put("reading", id="x9", quantity="down_mbps", value=-50, room="r2"),
    "a power of a lightning stroke": put("reading", id="x9", quantity="power_dbm", value=5000, room="r2"),
    "a rate of no port": put("reading", id="x9", quantity="up_mbps", value=99_999, room="r2"),
    "a delay below nothing": put("reading", id="x9", quantity="delay_ms", value=-1, room="r2"),
    "taken above every roof": put("reading", id="x9", quantity="down_mbps", value=5, room="r2", height_m=900),
    "repeated for years": put("reading", id="x9", quantity="down_mbps", value=5, room="r2", repeats=10**9),
    "one that stands made odd": change("reading", "x1", value=-50),
    "one that stands called another": change("reading", "x1", quantity="power_dbm"),
    "a plate in the sky": change("outlet", "0-01", height_m=400),
    "a box in the sky": put(
        "box", id="b9", name="B", equipment="router-4x4", storey="g", position=[1, 1], height_m=400
    ),
    "taken in no month": put("reading", id="x9", quantity="down_mbps", value=5, room="r2", time="2026-13-45"),
    "taken when the sun has gone out": change("reading", "x1", time="9999999-01-01"),
    "tested before there was a telephone": change("run", "c1", tests=[{"date": "1066-10-14"}]),
    "learnt beyond all houses": change("job", "", learnt={"terms": [TERM]}),
}


def odd_job() -> Job:
    """As an earlier version let it be saved."""
    job = small_job()
    return job.model_copy(update={"readings": (*job.readings, ODD_READING)})


def write_as_before(path: Path, job: Job) -> None:
    path.write_text(dump_job(job), encoding="utf-8")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "small.rehaul.json"
    save_job(path, small_job())
    return path


@pytest.fixture
def old(tmp_path: Path) -> Path:
    """A file of before, with a value that cannot be."""
    path = tmp_path / "old.rehaul.json"
    write_as_before(path, odd_job())
    return path


@pytest.mark.parametrize("what", ODD)
def test_no_edit_stores_it(path: Path, what: str) -> None:
    beside = LogBeside(path)
    with pytest.raises(BadInput, match=r"is outside|is no date between 1990 and 2100"):
        beside.ledger.submit("ann", edit_from_data(edit_data(0, ODD[what])))
    assert beside.ledger.job == small_job() and beside.ledger.revision == 0
    beside.close()


QUANTITIES = [row for row in load(ReadingRange) if row.field in {quantity.value for quantity in Quantity}]


@pytest.mark.parametrize("row", QUANTITIES, ids=lambda row: row.field)
def test_the_edges_of_every_range_are_taken(row: ReadingRange) -> None:
    state = JobState(0, small_job())
    for value in (row.low, row.high):
        entity = put("reading", id="x9", quantity=row.field, value=value, room="r2")
        assert tried(state, [entity]).readings[-1].value == value
    for value in (row.low - 1, row.high + 1):
        with pytest.raises(BadInput):
            tried(state, [put("reading", id="x9", quantity=row.field, value=value, room="r2")])


def with_odd(job: Job) -> Job:
    return job.model_copy(update={"readings": (*job.readings, ODD_READING)})


def with_a_term(job: Job) -> Job:
    term = LearntTerm(term="brick", shift_db=-900, sd_db=1, houses=1, readings=3)
    return job.model_copy(update={"learnt": Learnt(terms=(term,))})


def with_a_box(job: Job) -> Job:
    box = Box(id="b9", name="B", equipment="router-4x4", storey="g", position=(1, 1), height_m=400)
    return job.model_copy(update={"boxes": (box,)})


@pytest.mark.parametrize("make", [with_odd, with_a_term, with_a_box])
@pytest.mark.parametrize("logged", [False, True])
def test_no_function_writes_it(path: Path, make: Callable[[Job], Job], logged: bool) -> None:
    if logged:
        LogBeside(path).close()
    was = path.read_bytes()
    with pytest.raises(BadInput, match="is outside"):
        edit_job(path, make)
    with pytest.raises(BadInput, match="is outside"):
        save_job(path, make(small_job()))
    with pytest.raises(BadInput, match="is outside"):
        save_job(path.with_name("new.rehaul.json"), make(small_job()))
    assert path.read_bytes() == was and not path.with_name("new.rehaul.json").exists()


def test_a_file_of_before_opens_and_is_told_of(old: Path) -> None:
    job = open_job(old)
    assert job == odd_job()
    found = [row for row in audit(job) if row.code == "reading-improbable"]
    assert [row.where for row in found] == [("x9",)] and "-50 is outside 0 to" in found[0].sentence


def test_what_stands_odd_may_stay_be_mended_or_go_and_not_be_made_anew(old: Path) -> None:
    save_job(old, open_job(old).model_copy(update={"notes": "seen"}))
    edit_job(old, lambda job: job.model_copy(update={"notes": "seen twice"}))
    beside = LogBeside(old)
    ledger = beside.ledger

    def edit(*changes: dict[str, Any]) -> None:
        ledger.submit("ann", edit_from_data(edit_data(ledger.revision, *changes)))

    edit(change("reading", "x9", note="by hand"))
    edit(change("reading", "x9", value=-50, note="as it was"))
    with pytest.raises(BadInput):
        edit(change("reading", "x9", value=-60))
    beside.export()
    assert open_job(old).readings[-1].value == -50
    edit(drop("room", "r2"), drop("need", "n1"))  # the reading loses its room
    edit(drop("reading", "x9"))
    ledger.undo("ann", "undo-00001")
    assert ledger.job.readings[-1].id == "x9"  # nothing of theirs is lost by a deletion
    edit(change("reading", "x9", value=50))
    with pytest.raises(BadInput):
        ledger.undo("ann", "undo-00002")
    beside.close()
    assert not odd_values(LogBeside(old).ledger.job.readings[-1])


def test_a_file_changed_elsewhere_opens_as_saved(path: Path) -> None:
    LogBeside(path).close()
    write_as_before(path, odd_job())
    beside = LogBeside(path)
    assert beside.ledger.job.readings[-1] == ODD_READING
    beside.close()


def test_a_date_that_was_saved_stays_and_a_new_one_does_not(path: Path) -> None:
    job = small_job()
    early = job.readings[0].model_copy(update={"time": "0026-03-01"})
    write_as_before(path, job.model_copy(update={"readings": (early, *job.readings[1:])}))
    beside = LogBeside(path)
    beside.ledger.submit("ann", edit_from_data(edit_data(0, change("reading", "x1", note="upstairs"))))
    assert beside.ledger.job.readings[0].time == "0026-03-01"
    later = edit_from_data(edit_data(0, change("reading", "x1", time="0027-03-01"), edit="edit-later"))
    with pytest.raises(BadInput, match="is no date"):
        beside.ledger.submit("ann", later)
    beside.close()


def test_a_log_of_before_opens(tmp_path: Path) -> None:
    store = Store(connect(tmp_path / "log"))
    store.create(small_job())
    ledger = Ledger(store, "job")
    odd = edit_from_data(edit_data(0, ODD["a rate below nothing"]))
    ledger.submit("ann", odd, from_file=True)  # as an earlier version let it in
    assert Ledger(store, "job").job.readings[-1] == ODD_READING
    store.close()


def test_the_sample_and_the_demo_hold_nothing_odd() -> None:
    sample = Path(__file__).parent / "samples" / "version-3.rehaul.json"
    for job in (open_job(sample), demo_job()):
        assert [odd for _, thing in entities(job) for odd in odd_values(thing)] == []


def test_predictions_are_not_fitted_to_it() -> None:
    job = demo_job()
    odd = Reading(id="odd", quantity="power_dbm", value=-125, room=job.house.rooms[0].id)
    with_it = job.model_copy(update={"readings": (*job.readings, odd)})
    scene, boxes = scene_of(job.house, job.country), standing_radiators(job)
    without = calibration_of(job, scene, boxes)
    found = calibration_of(with_it, scene, boxes)
    assert ("odd", "it cannot be true") in found.left_out
    assert found.used == without.used
