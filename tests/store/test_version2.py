"""A document and a log of version 2, in which a floor had one outline: both open with it as one of several.

The files in `samples/version2` were written by the code of that version and left by a hard stop: a floor
whose outline was drawn anew, one that was put and taken away, one that was taken away as it stood, and one
that was left without. The file never got any of it.
"""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any

import pytest
from replica import change, edit_data

from rehaul.house import SCHEMA_VERSION, dump_job, migrate, parse_job
from rehaul.jobs import LogBeside, edit_from_data, open_job

SAMPLES = Path(__file__).parent / "samples" / "version2"
WHOLE = ((0.0, 0.0), (8.0, 0.0), (8.0, 6.0), (0.0, 6.0))
SHORT = ((0.0, 0.0), (8.0, 0.0), (8.0, 5.0), (0.0, 5.0))
TOP = ((0.0, 0.0), (4.0, 0.0), (4.0, 6.0), (0.0, 6.0))


@pytest.fixture
def floors(tmp_path: Path) -> Path:
    for name in ("floors.rehaul.json", "floors.rehaul-log"):
        shutil.copy(SAMPLES / name, tmp_path)
    return tmp_path / "floors.rehaul.json"


def outlines(job: Any) -> dict[str, tuple[Any, ...]]:
    return {storey.id: storey.floor.outlines for storey in job.house.storeys}


def test_an_outline_becomes_the_only_one(tmp_path: Path) -> None:
    alone = Path(shutil.copy(SAMPLES / "floors.rehaul.json", tmp_path))
    assert json.loads(alone.read_text(encoding="utf-8"))["schema_version"] == 2, (
        "no longer a sample of version 2"
    )
    job = open_job(alone)
    assert job.schema_version == SCHEMA_VERSION
    assert outlines(job) == {"g": (), "u": (WHOLE,), "t": (TOP,)}
    assert job.house.storeys[1].floor.voids == (((1, 1), (2, 1), (2, 3), (1, 3)),)
    assert job.house.storeys[1].floor.construction == "timber-floor"
    assert parse_job(dump_job(job)) == job


def test_a_log_opens_with_every_outline_drawn_in_it(floors: Path) -> None:
    beside = LogBeside(floors)
    assert beside.ledger.revision == 5
    assert outlines(beside.ledger.job) == {"g": (), "u": (SHORT,)}
    gone = {name: dropped.entity.floor.outlines for name, dropped in beside.ledger.state.dropped.items()}
    assert gone == {"t": (TOP,), "l": (((0, 0), (3, 0), (3, 3), (0, 3)),)}
    first = beside.ledger.at_revision(0)
    assert outlines(first.job) == {"g": (), "u": (WHOLE,), "t": (TOP,)}
    beside.close()


def test_edits_of_version_2_are_turned_back(floors: Path) -> None:
    """Undo writes what stood before, in the words of this version."""
    beside = LogBeside(floors)
    beside.ledger.undo("ann", "undo-ground-01")
    assert beside.ledger.job.house.storeys[0].floor.construction == "unknown"
    beside.ledger.undo("ann", "undo-upper-001")
    assert outlines(beside.ledger.job)["u"] == (WHOLE,)
    beside.ledger.redo("ann", "redo-upper-001")
    assert outlines(beside.ledger.job)["u"] == (SHORT,)
    beside.ledger.undo("ben", "undo-top-00001")
    assert outlines(beside.ledger.job)["t"] == (TOP,)
    beside.export()
    job = beside.ledger.job
    beside.close()
    again = LogBeside(floors)
    assert again.ledger.job == job == open_job(floors)
    again.close()


def test_a_log_goes_on_with_a_floor_in_two_parts(floors: Path) -> None:
    beside = LogBeside(floors)
    parts = [[[0, 0], [3, 0], [3, 5], [0, 5]], [[5, 0], [8, 0], [8, 5], [5, 5]]]
    edit = edit_data(beside.ledger.revision, change("storey", "u", floor={"outlines": parts}))
    beside.ledger.submit("ben", edit_from_data({**edit, "edit": "edit-two-parts"}))
    beside.close()
    again = LogBeside(floors)
    assert [len(again.ledger.job.house.storeys[1].floor.outlines)] == [2]
    again.close()


@pytest.mark.parametrize(
    "house",
    [
        None,
        5,
        {},
        {"storeys": None},
        {"storeys": [5]},
        {"storeys": [{"floor": 5}]},
        {"storeys": [{"floor": {}}]},
    ],
)
def test_what_is_no_house_is_left_for_the_loader_to_refuse(house: object) -> None:
    data = {"schema_version": 2, "house": house}
    assert migrate(data, to=3) == {**data, "schema_version": 3}
