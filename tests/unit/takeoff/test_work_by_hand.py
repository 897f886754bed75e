"""Steps of single cables, and what is not known priced, on two rooms made by hand."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any, cast

import pytest

from rehaul.errors import BadInput
from rehaul.facts.pulls import pull_ways
from rehaul.house import UNKNOWN, House, Job, MeetingPoint, Outlet, Room, Run, Storey
from rehaul.house.job import Choices
from rehaul.takeoff import signature
from rehaul.takeoff.pull_steps import hole_log, pull
from rehaul.takeoff.results import Task
from rehaul.takeoff.scope import Pull, Scope
from rehaul.takeoff.steps import TaskList
from rehaul.takeoff.unknowns import priced_unknowns

ROOMS = tuple(
    Room(id=f"r{storey}", name=name, storey=str(storey), polygon=((0, 0), (3, 0), (3, 3), (0, 3)))
    for storey, name in ((0, "Hall"), (1, "Study"), (2, "Loft"))
)
CLOSET = MeetingPoint(id="M1", name="Closet", storey="0", position=(1, 1))


def scope(*, runs: tuple[Run, ...] = (), switch: bool = True, pulls: tuple[Pull, ...] = ()) -> Scope:
    house = House(
        storeys=tuple(Storey(id=str(n), name=f"Storey {n}", elevation_m=3.0 * n) for n in range(3)),
        rooms=ROOMS,
        outlets=tuple(Outlet(id=f"{n}-01", storey=str(n), position=(2, 2)) for n in range(3)),
        meeting_points=(CLOSET,),
        runs=runs,
    )
    job = Job(id="j", title="Invented", house=house, choices=Choices(labour_per_h=60.0))
    nothing: Any = SimpleNamespace(access_points=(), outlets=(), candidates=())
    network: Any = SimpleNamespace(switch="S1" if switch else "", rack=())
    return Scope(job, nothing, network, cast(Any, None), (), (), pulls, (), (), CLOSET, ())


def new_cable(way: str, storey: int = 1, **more: Any) -> Pull:
    given = {"hard": False, "floors_crossed": storey, "length_m": 12.0, **more}
    room = ROOMS[storey]
    return Pull("P1", f"{storey}-01", room.name, room.id, str(storey), way=pull_ways()[way], **given)


def steps_of(new: Pull, *, runs: tuple[Run, ...] = (), switch: bool = True) -> dict[str, Task]:
    """Steps of a new cable by their norm; the stops are those before holes in rooms."""
    steps = TaskList(scope(runs=runs, switch=switch))
    stops: Any = SimpleNamespace(
        before_hole=lambda storey, room: [f"hole {storey} {room}".strip()],
        before_run=lambda run: [f"stop {run}"],
    )
    steps.board = "board"
    pull(steps, stops, new, {run.id: f"tone {run.id}" for run in runs}, {"": "shot", new.outlet: "box shot"})
    return {task.norm: task for task in steps.tasks}


def names(tasks: dict[str, Task], norm: str) -> set[str]:
    """Norms, or names from before, that a step waits for."""
    by_id = {task.id: task.norm for task in tasks.values()}
    return {by_id.get(need, need) for need in tasks[norm].needs}


def test_a_cable_comes_in_and_is_ended_at_both_sides_before_it_is_tested() -> None:
    found = steps_of(new_cable("fished"))
    assert set(found) == {"fire_seal", "fish_easy", "jack", "plate", "panel_port", "test"}
    assert names(found, "jack") <= {"fish_easy", "fire_seal"}
    assert names(found, "plate") == {"jack"}
    assert "board" in names(found, "panel_port") and len(names(found, "panel_port")) == 2
    assert names(found, "test") == {"jack", "plate", "panel_port"}
    assert {"shot", "hole 1 r1", "hole 0"} <= names(found, "fish_easy") | names(found, "fire_seal")
    assert found["fish_easy"].hole and found["fire_seal"].hole and not found["jack"].hole
    assert found["fire_seal"].passes == ("0",), "what lies on the way is passed, the room is its place"
    assert not found["fish_easy"].photo and not found["fish_easy"].touches
    assert found["panel_port"].place == "Closet, Storey 0" and found["plate"].place == "Study"
    assert "at the panel" in found["panel_port"].title
    assert "in a jack where" in steps_of(new_cable("fished"), switch=False)["panel_port"].title


def test_a_cable_that_draws_another_in_is_looked_at_and_photographed_first() -> None:
    old = Run(id="C1", ends=("M1", "1-01"), kind="quad", state="dead", in_conduit=True)  # type: ignore[arg-type]
    found = steps_of(new_cable("pull cord", spends="C1"), runs=(old,))
    assert {"shot", "box shot", "tone C1", "stop C1", "conduit"} <= names(found, "pull_cord")
    assert found["pull_cord"].touches == ("C1",) and found["pull_cord"].photo
    assert "measure its bore first" in found["conduit"].title
    assert names(found, "conduit") == {"tone C1"}
    assert "hole 0" not in names(found, "pull_cord"), "it goes where the old one went"


@pytest.mark.parametrize(
    ("way", "storey", "hot"),
    [("open attic", 1, True), ("fished", 2, True), ("fished", 1, False), ("surface", 2, False)],
)
def test_work_under_the_roof_may_be_hot(way: str, storey: int, hot: bool) -> None:
    """From an open attic, and fished into the top storey; trunking stays in the room."""
    found = steps_of(new_cable(way, storey))
    tasks = [task for task in found.values() if task.stage == "run"]
    assert tasks and any("54 °C" in text for task in tasks for text in task.cautions) is hot


def test_a_fibre_gets_its_converters_and_no_plate() -> None:
    found = steps_of(new_cable("fibre", 0))
    assert set(found) == {"fibre", "switch", "test"}
    assert names(found, "switch") == {"fibre"} and names(found, "test") == {"switch"}
    assert found["switch"].because == ("conv-0-01", "P1")


def test_a_cable_beside_another_waits_for_that_one_s_hole() -> None:
    steps = TaskList(scope())
    stops: Any = SimpleNamespace(before_hole=lambda *_: [], before_run=lambda _: [])
    first, second = new_cable("fished"), new_cable("fished", beside="P1")
    second = Pull(**{**second.__dict__, "id": "P2"})
    pull(steps, stops, first, {}, {"": "shot"})
    holes = [task for task in steps.tasks if task.hole]
    pull(steps, stops, second, {}, {"": "shot"})
    assert [task for task in steps.tasks if task.hole] == holes, "no second hole"
    jack = next(task for task in steps.tasks if task.norm == "jack" and "P2" in task.because)
    assert jack.needs == (holes[-1].id,)
    rows = hole_log(tuple(steps.tasks))
    assert [row.id for row in rows] == [f"H{n:02d}" for n in range(1, len(holes) + 1)]
    assert {row.cable for row in rows} == {"P1"} and all(row.through and row.seal for row in rows)


def test_prices_of_what_is_not_known() -> None:
    """A lost end: one more search, 15 minutes at 60 an hour, is 15.00. A fished cable may fail: 0.1."""
    lost = Run(id="C9", ends=("M1", UNKNOWN), kind="quad", state="dead")  # type: ignore[arg-type]
    found = priced_unknowns(scope(runs=(lost,), pulls=(new_cable("fished"), new_cable("surface"))))
    rows = {row.about: row for row in found}
    assert rows[("C9",)].cost == 15.0 and rows[("C9",)].chance is None
    assert rows[("P1",)].chance == pytest.approx(0.1) and rows[("P1",)].cost > 70.0  # an hour and more
    assert len(found) == 2, "on the surface nothing is left to chance"


@pytest.mark.parametrize(
    ("by", "words", "good"),
    [("A", "", True), ("A" * 80, "w" * 2000, True), ("A" * 81, "", False), ("  ", "", False),
     ("A", "w" * 2001, False)],
)  # fmt: skip
def test_a_sign_off_has_a_name_and_not_too_many_words(by: str, words: str, good: bool) -> None:
    if good:
        assert signature(by, "2026-11-20", words).by == by
    else:
        with pytest.raises(BadInput, match="no name, or too many words"):
            signature(by, "2026-11-20", words)


def test_where_a_step_is() -> None:
    steps = TaskList(scope())
    assert (steps.room("r1").name, steps.room("r1").storey) == ("Study", "1")
    assert (steps.outlet("2-01").storey, steps.closet.storey) == ("2", "0")
    first = steps.add("photo", "One", steps.closet, because=["x"])
    again = steps.add("photo", "Two", steps.closet, because=["x"], needs=[first, "", first])
    other = steps.add("photo", "Three", steps.closet)
    assert [task.key for task in steps.tasks] == ["photo:x", "photo:x#2", "photo:Closet, Storey 0"]
    assert [first, again, other] == ["T01", "T02", "T03"] and steps.tasks[1].needs == ("T01",)
    ours, theirs = (TaskList(scope()) for _ in range(2))
    ours.add("rack", "Ours", ours.closet)
    theirs.add("rack", "Theirs", theirs.closet, household=True)
    assert [t.tasks[0].by for t in (ours, theirs)] == ["us", "household"]
    assert ours.tasks[0].visit == 2 and theirs.tasks[0].visit == 0 and steps.tasks[0].visit == 1


@pytest.mark.parametrize(
    ("true_of_it", "stage_of", "words"),
    [
        ("telephone", "tone", "90 V ac"),
        ("alarm", "tone", "monitoring centre"),
        ("high", "access_point", "Set a ladder"),
        ("hole", "fire_seal", "hole log"),
        ("attic", "fish_easy", "54 °C"),
        ("poe", "rack", "24 powered cables"),
        ("coax", "tone", "shield of a coax"),
    ],
)
def test_each_circumstance_brings_its_own_caution(true_of_it: str, stage_of: str, words: str) -> None:
    steps = TaskList(scope())
    steps.add(stage_of, "With", steps.closet, **{true_of_it: True})
    steps.add(stage_of, "Without", steps.closet)
    told, untold = ([words in text for text in task.cautions] for task in steps.tasks)
    assert any(told) and not any(untold)
