"""What a new plan would change of a signed one, each kind of change by itself; steps laid out in days."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from rehaul.facts.work import allowances
from rehaul.house import Band, Job, Tick
from rehaul.takeoff.crew import Roster, walk_min
from rehaul.takeoff.proposed import _named, counterpart, proposed_changes
from rehaul.takeoff.results import Task
from rehaul.takeoff.stints import Stint
from rehaul.takeoff.timetabling import _in_days, _numbered, _stops_first, _waiting, timetable

JOB = Job(id="j", title="Invented")
thing = SimpleNamespace


def point(place: str = "P1", name: str = "AP1", **more: Any) -> Any:
    site = thing(id=place, run=more.pop("run", ""), new_pull_m=more.pop("new_pull_m", 0.0))
    return thing(id=name, name="Hall", equipment=more.pop("equipment", "box"), site=site)


def channel(name: str = "AP1", number: int = 36, width: int = 80) -> Any:
    return thing(access_point=name, band=Band("5"), channel=number, width_mhz=width)


def plan(**more: Any) -> Any:
    """As much of a signed plan as is held against another."""
    router = thing(box="RT1", do="stays", storey="0", position=(1.0, 1.0), words="stays in the Hall")
    given: dict[str, Any] = {
        "points": (point(),), "outlets": (thing(id="O1", name="Study"),), "router": router, "devices": (),
        "afresh": (), "switch": "switch 8", "channels": (channel(),), "total": 900.0, "steps": ("k1", "k2"),
        "currency": "EUR", **more,
    }  # fmt: skip
    tasks = tuple(thing(key=key, title=f"Do {key}") for key in given["steps"])
    return thing(
        choice=thing(
            access_points=given["points"],
            outlets=given["outlets"],
            router=given["router"],
            devices=given["devices"],
            set_afresh=given["afresh"],
        ),
        network=thing(switch=given["switch"]),
        channels=thing(channels=given["channels"]),
        takeoff=thing(quote=thing(currency=given["currency"], total=given["total"])),
        timetable=thing(tasks=tasks),
    )


def said(old: Any, new: Any, job: Job = JOB) -> list[tuple[str, str, tuple[str, ...]]]:
    return [(row.what, row.words, row.about) for row in proposed_changes(job, old, new)]


def test_the_same_plan_proposes_nothing() -> None:
    assert said(plan(), plan()) == []
    assert said(plan(total=900.001), plan()) == [], "not a cent"


def test_access_points_come_and_go_and_change() -> None:
    two = plan(points=(point(), point("P2", "AP2", equipment="other")))
    assert said(plan(), two) == [
        ("access point", "An access point in Hall, at P2, would come in: other.", ("P2",))
    ]
    assert said(two, plan()) == [("access point", "AP2 in Hall, at P2, would fall away.", ("AP2", "P2"))]
    better = plan(points=(point(equipment="better"),))
    assert said(plan(), better) == [
        ("access point", "AP1 in Hall would be another box: better.", ("AP1", "P1"))
    ]
    feeds = {"the old cable C1": {"run": "C1"}, "a new cable": {"new_pull_m": 4.0}}
    for words, fed in feeds.items():
        ((_, told, _),) = said(plan(), plan(points=(point(**fed),)))
        assert told == f"AP1 in Hall would be fed by {words} instead of the place itself or by radio."


def test_outlets_the_router_devices_and_the_switch() -> None:
    more = plan(outlets=(thing(id="O1", name="Study"), thing(id="O2", name="Den")))
    assert said(plan(), more) == [("outlet", "A wired outlet in Den would come in.", ("O2",))]
    assert said(more, plan()) == [("outlet", "The wired outlet O2 in Den would fall away.", ("O2",))]
    moved = plan(router=thing(box="RT1", do="move", storey="0", position=(2.0, 1.0), words=""))
    assert said(plan(), moved) == [("router", "The router: move, instead of: stays in the Hall.", ("RT1",))]
    there = plan(router=thing(box="RT1", do="keep", storey="0", position=(2.0, 1.0), words="w"))
    assert [row[0] for row in said(plan(), there)] == ["router"], "elsewhere is enough"
    television = plan(devices=(thing(id="D1", was="television", name="Den", room="r2"),))
    assert said(plan(), television) == [
        ("device", "The television in Den would be given a new radio.", ("r2",))
    ]
    assert said(television, plan()) == [
        ("device", "The new radio for the television in Den would fall away.", ("r2",))
    ]
    afresh = plan(afresh=(thing(box="RT1", name="Hall"),))
    assert said(plan(), afresh) == [("router", "The radio of Hall would be set afresh.", ("RT1",))]
    assert said(afresh, plan()) == [("router", "The radio of Hall would be left as it is set.", ("RT1",))]
    assert said(plan(), plan(switch="")) == [("switch", "The switch would be none instead of switch 8.", ())]


def test_channels_are_held_against_each_other_where_the_same_boxes_stand() -> None:
    """By place: the new plan may number its access points otherwise."""
    old = plan(points=(point(), point("P2", "AP2")), channels=(channel(), channel("AP2", 52)))
    new = plan(
        points=(point("P2", "AP1"), point("P1", "AP2")), channels=(channel("AP1", 52), channel("AP2", 36))
    )
    assert said(old, new) == []
    other = plan(points=old.choice.access_points, channels=(channel(), channel("AP2", 100)))
    assert said(old, other) == [("channels", "Channels: AP2 at 5 GHz on 100 instead of 52.", ())]
    wide = plan(channels=(channel(width=40),))
    assert [row[0] for row in said(plan(), wide)] == ["channels"]
    fewer = plan(channels=(channel(number=100),))
    assert {row[0] for row in said(old, fewer)} == {"access point"}, "other boxes, other channels"


def test_price_and_steps() -> None:
    ((what, words, _),) = said(plan(), plan(total=950.5))
    assert what == "price" and "950.50" in words.split("instead")[0] and "900" in words.split("instead")[1]
    assert [row[0] for row in said(plan(), plan(currency="GBP"))] == ["price"]
    ((_, words, about),) = said(plan(), plan(steps=("k1", "k2", "k3")))
    assert (words, about) == ("1 step would come in: Do k3.", ("k3",))
    ((_, words, about),) = said(plan(), plan(steps=()))
    assert (words, about) == ("2 steps would fall away: Do k1; Do k2.", ("k1", "k2"))
    ticked = JOB.model_copy(update={"ticks": (Tick(id="t", task="k2"),)})
    ((_, words, _),) = said(plan(), plan(steps=("k1",)), ticked)
    assert words == "1 step would fall away: Do k2. 1 of them is ticked off already."
    assert [_named(list("abcd")[:n]) for n in (1, 3, 4)] == ["a", "a; b; c", "a; b; c; and 1 more"]


def test_a_signed_offer_is_held_against_the_one_for_the_same_rooms_or_of_its_name() -> None:
    front: Any = (thing(rooms=("Hall",), ways="w1"), thing(rooms=("Hall", "Den"), ways="w2"))
    first = thing(ways="w1", name="Only what is needed", chosen=False)
    second = thing(ways="w2", name="Good", chosen=True)
    quote: Any = thing(options=(first, second))

    def held(fullest: bool, served: tuple[str, ...], option: str) -> Any:
        signed: Any = thing(fullest=fullest, served=served, option=option)
        return counterpart(signed, front, quote)

    assert held(True, ("Hall",), "Good") is None, "what the plan itself chose"
    assert held(False, ("Hall",), "Good") is first
    assert held(False, ("Den", "Hall"), "x") is None, "the chosen one is the plan's own"
    assert held(False, ("Attic",), "Only what is needed") is first
    assert held(False, ("Attic",), "gone") is None


def task(name: str, *needs: str, minutes: float = 60.0, place: str = "Hall", **more: Any) -> Task:
    given = {"held": "", "stop": False, "by": "us", "start_min": None, "person": None, "visit": 1, **more}
    return Task.model_construct(
        id=name, key=name, needs=needs, minutes=minutes, place=place, storey="0", **given
    )


def test_what_is_held_holds_what_needs_it_and_stops_come_first() -> None:
    rows = [task("a"), task("b", held="not signed"), task("c", "b"), task("d", "a"), task("e", "c", "d")]
    assert _waiting(rows) == {"b", "c", "e"}
    first = _stops_first([task("a"), task("s", stop=True), task("b", "a")])
    assert [(row.id, row.needs) for row in first] == [("s", ()), ("a", ("s",)), ("b", ("a", "s"))]


def laid(
    stints: list[Stint], starts: tuple[int, ...], people: tuple[int, ...], crew: int
) -> dict[str, tuple[Any, ...]]:
    found = Roster(starts, people, 0, 0, 0, True)
    rows = _in_days(stints, found, crew, {"0": 0.0})
    return {row.id: (row.visit, row.start_min, row.person) for row in rows}


def test_a_task_that_would_run_over_the_day_s_end_starts_the_next_one() -> None:
    day = allowances()["visit_minutes"]
    stint = Stint("Hall", "0", (task("a", minutes=day - 50), task("b", minutes=50), task("c", minutes=1)), ())
    assert laid([stint], (0,), (1,), 1) == {
        "a": (1, 0.0, 1),
        "b": (1, day - 50, 1),  # to the minute
        "c": (2, 0.0, 1),
    }
    long = Stint("Hall", "0", (task("x", minutes=2 * day),), ())
    assert laid([long], (0,), (1,), 1)["x"] == (1, 0.0, 1), "longer than any day: it starts one"


def test_somebody_walks_and_waits_for_the_other_one_and_for_the_place() -> None:
    walk = allowances()["walk_room"]
    hall, study = (
        Stint("Hall", "0", (task("a", minutes=30),), ()),
        Stint("Study", "0", (task("b", minutes=10, place="Study"),), ()),
    )
    assert laid([hall, study], (0, 40), (1, 1), 1)["b"] == (1, 30.0 + round(walk), 1)
    needing = Stint("Study", "0", (task("b", "a", minutes=10, place="Study"),), (0,))
    assert laid([hall, needing], (0, 30), (1, 2), 2)["b"] == (1, 30.0, 2), "what it needs is done"
    same = Stint("Hall", "0", (task("b", minutes=10),), ())
    assert laid([hall, same], (0, 30), (1, 2), 2)["b"] == (1, 30.0, 2), "one at a time at a place"
    assert laid([hall, study], (0, 0), (1, 2), 2)["b"] == (1, 0.0, 2), "elsewhere at once"


def test_walks_count_rooms_and_storeys() -> None:
    levels = {"0": 0.0, "2": 6.0, "1": 3.0}
    room, storey = allowances()["walk_room"], allowances()["walk_storey"]

    def at(place: str, level: str) -> Stint:
        return Stint(place, level, (), ())

    assert walk_min(at("Hall", "0"), at("Hall", "0"), levels) == 0
    assert walk_min(at("Hall", "0"), at("Study", "0"), levels) == round(room)
    assert walk_min(at("Hall", "0"), at("Hall", "2"), levels) == round(room + 2 * storey)
    assert walk_min(at("Hall", "2"), at("Hall", "1"), levels) == round(room + storey)
    assert walk_min(at("Hall", "0"), at("door", ""), levels) == round(room)


@pytest.mark.parametrize("order", [(0, 1, 2, 3, 4), (4, 3, 2, 1, 0)])
def test_steps_are_numbered_by_their_times(order: tuple[int, ...]) -> None:
    rows = [
        task("late", "early", start_min=5.0, visit=2, person=1),
        task("early", "ours", start_min=90.0, visit=1, person=1),
        task("other", start_min=90.0, visit=1, person=2),
        task("waits", "late"),
        task("ours", by="household"),
    ]
    found = _numbered([rows[number] for number in order])
    assert [(row.id, row.key, row.needs) for row in found] == [
        ("T01", "ours", ()),
        ("T02", "early", ("T01",)),
        ("T03", "other", ()),
        ("T04", "late", ("T02",)),
        ("T05", "waits", ("T04",)),
    ]


def test_the_survey_is_the_first_visit_and_the_work_goes_on_from_the_next() -> None:
    """A day of survey, more than a day of work, and what waits comes after all that has a time."""
    day = allowances()["visit_minutes"]
    rows = [
        task("ours", by="household", stage="gate"),
        task("gate", minutes=20.0, stage="gate"),
        task("look", "gate", minutes=30.0, stage="trace"),
        task("run", "look", minutes=day - 60, stage="run"),
        task("end", "run", minutes=90.0, stage="terminate"),
        task("held", "run", stage="terminate", held="not signed"),
        task("after", "held", stage="prove"),
    ]
    found = timetable(JOB, rows, people=1)
    times = {row.key: (row.visit, row.start_min, row.person) for row in found.tasks}
    assert times["gate"] == (1, 0.0, 1) and times["look"] == (1, 20.0, 1)
    assert times["run"] == (2, 0.0, 1) and times["end"] == (3, 0.0, 1)
    assert times["held"] == times["after"] == (4, None, None)
    assert [row.key for row in found.tasks] == ["ours", "gate", "look", "run", "end", "held", "after"]
    assert (found.visits, found.waiting, found.people, found.walks) == (3, 2, 1, 0)
    assert found.working_min == found.least_working_min == round(20 + 30 + day - 60 + 90)
    assert found.proven and found.gap_pct == 0.0
    needs = {row.key: row.needs for row in found.tasks}
    names = {row.key: row.id for row in found.tasks}
    assert needs["end"] == (names["run"],) and needs["gate"] == ()
    assert found.words == (
        f"1 person, 3 visits, {found.working_min} min of work, 0 walks (proven shortest for its stints); "
        "2 tasks wait for a sign-off."
    )
    kept = {name: field.default for name, field in Task.model_fields.items()}  # what older records leave out
    assert (kept["minutes_90"], kept["photo"], kept["stop"], kept["hole"]) == (0.0, False, False, False)
    open_gap = found.model_copy(update={"people": 2, "proven": False, "gap_pct": 2.5, "waiting": 0})
    assert open_gap.words.startswith("2 people, ")
    assert open_gap.words.endswith("0 walks (within 2.5 % of the shortest).")
