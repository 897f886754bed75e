"""New radios for old devices: who plugs them in, when, and in what order; by hand."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from rehaul.house import House, Job, Room, Storey
from rehaul.takeoff.ordering import _new_radios
from rehaul.takeoff.steps import TaskList

thing: Any = SimpleNamespace
ROOMS = tuple(
    Room(id=f"r{n}", name=name, storey="0", polygon=((0, 0), (3, 0), (3, 3), (0, 3)))
    for n, name in enumerate(("Hall", "Study"))
)


def steps_for(*devices: Any) -> tuple[TaskList, str]:
    house = House(storeys=(Storey(id="0", name="Ground", elevation_m=0.0),), rooms=ROOMS)
    steps = TaskList(thing(job=Job(id="j", title="Invented", house=house), choice=thing(devices=devices)))
    return steps, _new_radios(steps)


def test_the_household_plugs_them_in_before_anybody_comes_one_after_the_other() -> None:
    steps, last = steps_for(
        thing(id="D1", room="r1", was="old laptop", name="Study"),
        thing(id="D2", room="r0", was="old tablet", name="Hall"),
    )
    assert last == "T02"
    rows = [(row.id, row.norm, row.by, row.visit, row.place, row.needs, row.because) for row in steps.tasks]
    assert rows == [
        ("T01", "swap_device", "household", 0, "Study", (), ("r1", "D1")),
        ("T02", "swap_device", "household", 0, "Hall", ("T01",), ("r0", "D2")),
    ]
    assert "old laptop" in steps.tasks[0].title and "Study" in steps.tasks[0].title


def test_without_old_devices_there_is_no_step_and_none_to_wait_for() -> None:
    steps, last = steps_for()
    assert steps.tasks == [] and last == ""
