"""Every text of a job is judged: it goes, or a list says why it stays."""

from __future__ import annotations

import contextlib
import json
import tempfile
import typing
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from household import CREW, WHO, job_of
from hypothesis import example, given, settings
from hypothesis import strategies as st
from pydantic import BaseModel
from replica import change, drop, edit_data, put, small_job

from rehaul.errors import Refusal
from rehaul.house import Contacts, Job, Model, job_from_data, whole_document
from rehaul.house.audit import audit
from rehaul.house.obligations import held_on, use_hold
from rehaul.house.trail import Tick
from rehaul.jobs import JobState, LogBeside, demo_job, edit_from_data, open_job, save_job
from rehaul.jobs.erasing import ErasureAsked, erase
from rehaul.jobs.personal import (
    BY_ID,
    DAYS,
    EMPTIED,
    LISTED,
    REPLACED,
    SAFETY,
    SIGNED,
    WHOSE,
    WORKED,
    Household,
    household_of,
    without_personal,
)
from rehaul.jobs.verifying import verified

JUDGED = BY_ID | DAYS | EMPTIED | LISTED | set(REPLACED) | SAFETY | {SIGNED, WHOSE} | WORKED
NO_TEXTS = {"Run.ends"}  # ids, or "unknown"


def text_fields(model: type[BaseModel], seen: set[type]) -> Iterator[str]:
    """`Model.field` of every text that people may type, in a model and all that is in it."""
    seen.add(model)
    for name, field in model.model_fields.items():
        yield from _texts(f"{model.__name__}.{name}", field.annotation, field.metadata, seen)


def _texts(name: str, kind: Any, rules: list[Any], seen: set[type]) -> Iterator[str]:
    origin = typing.get_origin(kind)
    if origin is typing.Annotated:
        inner, *more = typing.get_args(kind)
        more = [part for rule in more for part in (getattr(rule, "metadata", None) or [rule])]
        yield from _texts(name, inner, more, seen)
    elif origin is not None and origin is not typing.Literal:
        for part in typing.get_args(kind):
            yield from _texts(name, part, rules, seen)
    elif isinstance(kind, type) and issubclass(kind, Model) and kind not in seen:
        yield from text_fields(kind, seen)
    elif kind is str and not any(getattr(rule, "pattern", None) for rule in rules):
        yield name


def test_every_text_of_the_document_is_judged() -> None:
    found = set(text_fields(Job, set()))
    assert {"Job.title", "Wall.note", "SignOff.by", "Need.uses"} <= found
    assert found - JUDGED - NO_TEXTS == set(), "say in rehaul.jobs.personal what becomes of it"
    assert JUDGED - found == set(), "no such field is left"


GOES = {name.split(".")[1] for name in EMPTIED | BY_ID | {"Job.title", WHOSE}} - {"offer", "plan"}


def filled(data: Any, mark: Any) -> Any:
    """Plain data of a job with a mark in every text that goes for sure."""
    if isinstance(data, list):
        return [filled(one, mark) for one in data]
    if not isinstance(data, dict):
        return data
    goes = GOES | ({"by", "words"} if set(data) == {"by", "date", "words"} else set())
    return {
        name: mark() if name in goes and isinstance(value, str) else filled(value, mark)
        for name, value in data.items()
    }


@pytest.mark.parametrize("make", [small_job, demo_job, job_of], ids=lambda make: make.__name__)
@settings(max_examples=8, deadline=None)
@given(letters=st.text(st.characters(codec="utf-8", exclude_categories=("Cs", "Cc")), max_size=12))
def test_whatever_stands_there_goes(make: Any, letters: str) -> None:
    numbers = iter(range(1, 10**6))
    marks: list[str] = []

    def mark() -> str:
        marks.append(f"mark{next(numbers)}q{letters}")
        return marks[-1]

    job = job_from_data(filled(make().model_dump(mode="json"), mark))
    state, found = without_personal(JobState(4, job), household_of(job))
    text = json.dumps(state.job.model_dump(mode="json"), ensure_ascii=False)
    assert not [one for one in marks if one[: one.index("q") + 1] in text]
    assert {one.was for one in found} >= set(marks)
    whole_document(state.job)
    again, nothing = without_personal(state, household_of(state.job))
    assert again == state and nothing == ()
    assert state.job.house.walls and [w.start for w in state.job.house.walls] == [
        w.start for w in job.house.walls
    ]


@pytest.mark.parametrize(
    ("name", "goes"),
    [
        (WHO, True),
        ("odo  quillfeather", True),
        ("Odo", True),
        ("Mr Odo Quillfeather", True),
        (CREW, False),
        ("Odoline", False),
        ("", False),
    ],
)
def test_who_worked_goes_where_it_was_the_household(name: str, goes: bool) -> None:
    job = job_of()
    job = job.model_copy(update={"ticks": (Tick(id="t9", task="pull", by=name),)})
    state, _ = without_personal(JobState(0, job), household_of(job))
    assert (state.job.ticks[0].by == "erased") == goes


def test_a_household_that_did_the_work_itself() -> None:
    contacts = Contacts(household=WHO, technician=WHO, firm="Invented Wiring")
    job = job_of().model_copy(update={"contacts": contacts})
    state, _ = without_personal(JobState(0, job), household_of(job))
    assert state.job.contacts == Contacts(technician="erased", firm="Invented Wiring")


def test_households_that_share_a_house_stay_apart() -> None:
    job = small_job()
    rooms = [
        room.model_copy(update={"household": f"{n}'s"}) for n, room in zip("AB", job.house.rooms, strict=True)
    ]
    job = job.model_copy(update={"house": job.house.model_copy(update={"rooms": tuple(rooms)})})
    state, _ = without_personal(JobState(0, job), household_of(job))
    assert [room.household for room in state.job.house.rooms] == ["household 1", "household 2"]
    third = state.job.house.rooms[0].model_copy(update={"household": "C's"})
    house = state.job.house.model_copy(update={"rooms": (third, state.job.house.rooms[1])})
    job = state.job.model_copy(update={"house": house})
    state, _ = without_personal(JobState(0, job), household_of(job))
    assert [room.household for room in state.job.house.rooms] == ["household 1", "household 2"]


def test_a_hazard_stays_where_its_place_names_nobody() -> None:
    household = Household(frozenset({"odo quillfeather"}))
    assert household.is_named_in("eaves over Odo's bed") and not household.is_named_in("eaves, north")


KINDS = ("room", "wall", "outlet", "run", "contacts", "job", "reading", "device", "tick")
steps = st.lists(
    st.tuples(st.sampled_from(("p1", "p2", "Odo")), st.sampled_from((*KINDS, "undo", "redo", "drop"))),
    min_size=1,
    max_size=14,
)


@settings(max_examples=15, deadline=None)
@given(steps=steps, hot=st.booleans())
@example(steps=[("Odo", "room"), ("p1", "room")], hot=False)  # a notice for somebody who never paired
def test_random_logs_keep_no_byte(steps: list[tuple[str, str]], hot: bool) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "house.rehaul.json"
        save_job(path, small_job())
        beside = LogBeside(path)
        for number, (person, what) in enumerate(steps):
            with contextlib.suppress(Refusal):
                _do(beside, person, what, number)
        beside.export()
        revision = beside.ledger.revision
        if not hot:
            beside.close()
        done = erase(path, ErasureAsked(names=("Odo",)), "Tess")
        data = b"".join(file.read_bytes() for file in Path(folder).iterdir() if "people" not in file.name)
        assert b"zquix" not in data and b"Odo" not in data and not done.still
        found = verified(path)
        assert not found.health.faults and found.health.head == revision + 1
        if hot:
            beside.ledger.refresh()
            assert beside.ledger.undo_labels("p1") == {"undo": None, "redo": None}
            beside.close()


def _do(beside: LogBeside, person: str, what: str, number: int) -> None:
    """One step of a random log, with marks wherever it says something."""
    mark, ledger = f"zquix {number} of Odo", beside.ledger
    if what == "undo":
        ledger.undo(person, f"undo-{number:06d}")
    elif what == "redo":
        ledger.redo(person, f"redo-{number:06d}")
    else:
        changes = {
            "room": change("room", "r1", name=mark),
            "wall": change("wall", "w1", note=mark),
            "outlet": change("outlet", "0-01", old_label=mark),
            "run": change("run", "c1", note=mark),
            "contacts": change("contacts", "", address=mark, household=mark),
            "job": change("job", "", title=mark),
            "reading": put("reading", id=f"y{number}", quantity="down_mbps", value=40, room="r2", note=mark),
            "device": put("device", id=f"d{number}", name=mark, client="phone"),
            "tick": put("tick", id=f"t{number}", task="pull", by="Odo", note=mark),
            "drop": drop("need", "n1"),
        }
        data = edit_data(max(0, ledger.revision - 1), changes[what], edit=f"edit-{number:06d}", label=mark)
        ledger.submit(person, edit_from_data(data))


EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.rehaul.json"))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name[:24])
def test_what_is_held_stays_held_and_what_is_released_released(path: Path) -> None:
    """And what each cable can do, and what may be counted on, is as before."""
    job = open_job(path)
    state, _ = without_personal(JobState(0, job), household_of(job))
    for run in job.house.runs:
        before, after = ([reason.obligation for reason in held_on(one, run.id)] for one in (job, state.job))
        assert before == after
        assert bool(use_hold(job, run.id)) == bool(use_hold(state.job, run.id))
    assert [(tick.task, tick.time) for tick in job.ticks] == [(t.task, t.time) for t in state.job.ticks]
    assert [reading.value for reading in job.readings] == [r.value for r in state.job.readings]
    assert len(audit(job)) == len(audit(state.job))
