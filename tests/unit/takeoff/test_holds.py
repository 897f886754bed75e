"""What may not be done yet: each thing that holds a step, by itself, and what the tags of what stays say."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from rehaul.facts.promises import licences
from rehaul.house import (
    Decision,
    Gate,
    Hazard,
    House,
    Job,
    MeetingPoint,
    Obligation,
    Outlet,
    Room,
    Run,
    SignOff,
    Storey,
)
from rehaul.jobs import open_job
from rehaul.planning import plan
from rehaul.takeoff.holds import cabling_hold, hazard_words, held_now, hole_hold, run_hold, screw_hold
from rehaul.takeoff.kept_steps import tag_words
from rehaul.takeoff.results import Task

EXAMPLES = Path(__file__).parents[3] / "examples"
SIGNED = SignOff(by="Invented owner", date="2026-03-01", words="Yes")
ROOMS = tuple(
    Room(id=name, name=words, storey="1", polygon=((x, 0), (x + 3, 0), (x + 3, 3), (x, 3)))
    for name, words, x in (("r1", "Hall", 0), ("r2", "Study", 3))
)


def job(*, run: dict[str, Any] | None = None, house: dict[str, Any] | None = None, **more: Any) -> Job:
    cable = {"id": "C1", "ends": ("M1", "1-01"), "kind": "quad", "state": "dead", **(run or {})}
    built = House(
        storeys=(Storey(id="1", name="Ground", elevation_m=0.0),),
        rooms=ROOMS,
        outlets=(Outlet(id="1-01", storey="1", position=(2, 2)),),
        meeting_points=(MeetingPoint(id="M1", name="Closet", storey="1", position=(1, 1)),),
        runs=(Run(**cable),),
        **(house or {}),
    )
    return Job(id="j", title="Invented", house=built, **more)


def test_nothing_holds_a_dead_cable_in_a_house_of_ones_own() -> None:
    free = job()
    assert run_hold(free, "C1") == hole_hold(free, "1", "r1") == screw_hold(free) == ""


@pytest.mark.parametrize(
    ("tenure", "agrees", "held"),
    [
        ("rented", None, True),
        ("rented", False, True),
        ("rented", True, False),
        ("owned", None, False),
        ("owned", False, False),
    ],
)
def test_screws_and_holes_wait_for_the_owner_of_a_rented_house(
    tenure: str, agrees: bool | None, held: bool
) -> None:
    """Not asked yet is no yes."""
    found = job(house={"tenure": tenure}, gate=Gate(landlord_agrees=agrees))
    assert bool(screw_hold(found)) is held and bool(hole_hold(found, "1", "r1")) is held


@pytest.mark.parametrize(("seen", "held"), [(None, True), (False, True), (True, False)])
def test_cabling_waits_for_the_licence_where_a_country_asks_for_one(seen: bool | None, held: bool) -> None:
    """Asked and not there is no licence either."""
    country = next(iter(licences()))
    words = cabling_hold(job(country=country, gate=Gate(licence_checked=seen)))
    assert bool(words) is held
    if held:
        assert f"no licence of a {licences()[country].trade} is on record" in words
    free = next(name for name in ("US", "DE", "GB") if name not in licences())
    assert cabling_hold(job(country=free, gate=Gate(licence_checked=seen))) == ""


def test_old_mains_answered_yes_at_the_door_hold_every_hole() -> None:
    said = job(gate=Gate(knob_and_tube=True))
    assert "electrician" in hole_hold(said, "1", "r1") and "electrician" in hole_hold(said, "1", "r2")
    assert hole_hold(job(gate=Gate(knob_and_tube=False)), "1", "r1") == ""
    safe = Hazard(id="H1", kind="knob and tube", state="made safe", sign_off=SIGNED)
    assert hole_hold(job(gate=Gate(knob_and_tube=True), house={"hazards": (safe,)}), "1", "r1") == ""


@pytest.mark.parametrize("kind", ["asbestos", "lead paint", "knob and tube", "other"])
def test_a_hazard_holds_the_holes_of_its_own_room_until_somebody_signs(kind: str) -> None:
    for state, sign_off, held in (
        ("suspected", None, True),
        ("made safe", None, True),
        ("made safe", SIGNED, False),
    ):
        hazard = Hazard(id="H1", kind=kind, state=state, room="r2", sign_off=sign_off)
        found = job(house={"hazards": (hazard,)})
        assert bool(hole_hold(found, "1", "r2")) is held, (state, sign_off)
        assert hole_hold(found, "1", "r1") == ""


def step(**more: Any) -> Task:
    told = {
        "id": "T01",
        "key": "k",
        "title": "A step",
        "stage": "install",
        "visit": 2,
        "place": "Study",
        "storey": "1",
        "minutes": 5,
        "minutes_90": 10,
        "norm": "jack",
    }
    return Task.model_validate({**told, **more})


def test_a_step_is_asked_again_of_the_cable_it_touches_and_the_room_it_drills_in() -> None:
    alarm = Obligation(id="O1", kind="monitored alarm", run="C1")
    hazard = Hazard(id="H1", kind="asbestos", room="r2")
    found = job(obligations=(alarm,), house={"hazards": (hazard,)})
    assert "alarm" in held_now(found, step(touches=("C1",)))
    assert "asbestos" in held_now(found, step(hole=True))
    assert held_now(found, step(hole=True, place="Hall")) == held_now(found, step()) == ""
    both = held_now(found, step(touches=("C1",), hole=True))
    assert both.count("Held: ") == 2


def test_a_step_that_drills_is_asked_again_of_the_storeys_on_its_way() -> None:
    """Found after the plan was made: in the ceilings of a storey between."""
    found = job(house={"hazards": (Hazard(id="H1", kind="asbestos", storey="0"),)})
    assert held_now(found, step(hole=True)) == ""
    assert "asbestos" in held_now(found, step(hole=True, passes=("0",)))
    assert held_now(found, step(passes=("0",))) == ""


def test_holes_wait_for_what_is_all_over_a_storey_on_the_way() -> None:
    """The closet is downstairs: what has to be tested there holds the cable that is drilled up from there."""
    house = open_job(EXAMPLES / "2003-cable-television.rehaul.json")
    for storey, held in (("1", True), ("2", True), (None, False)):
        hazards = (Hazard(id="H1", kind="lead paint", storey=storey),) if storey else ()
        found = house.model_copy(update={"house": house.house.model_copy(update={"hazards": hazards})})
        holes = [task for task in plan(found).order if task.hole]
        assert holes and {task.storey for task in holes} == {"2"}
        assert all(bool(task.held) is held for task in holes), storey


@pytest.mark.parametrize(("agrees", "held"), [(None, True), (True, False)])
def test_a_box_is_screwed_on_in_a_rented_house_only_once_its_owner_agreed(
    agrees: bool | None, held: bool
) -> None:
    house = open_job(EXAMPLES / "2003-cable-television.rehaul.json")
    rented = house.house.model_copy(update={"tenure": "rented"})
    gate = house.gate.model_copy(update={"landlord_agrees": agrees})
    found = plan(house.model_copy(update={"house": rented, "gate": gate}))
    screwed = {ap.id for ap in found.choice.access_points if ap.site.fixing == "screws"}
    mounting = [t for t in found.order if t.norm == "access_point" and screwed & set(t.because)]
    stops = {t.id for t in found.order if t.stop and house.id in t.because}
    assert mounting and bool(stops) is held
    for task in mounting:
        assert ("owner" in task.held) is held and bool(stops & set(task.needs)) is held


@pytest.mark.parametrize(
    ("run", "more", "says"),
    [
        ({}, {}, "out of use"),
        ({"kind": "cat5e"}, {}, "spare"),
        ({"state": "unknown"}, {}, "do not cut"),
        ({"state": "damaged"}, {}, "do not cut"),
        ({"state": "alarm"}, {}, "do not cut"),
        ({"state": "live telephone"}, {}, "do not cut"),
        ({"kind": "cat5e", "state": "unknown"}, {}, "do not cut"),
        ({}, {"obligations": (Obligation(id="O1", kind="pendant alarm", run="C1"),)}, "do not cut"),
        ({"state": "unknown"}, {"decisions": (Decision(id="E1", run="C1", sign_off=SIGNED),)}, "out of use"),
        ({"ends": ("M1", "unknown")}, {}, "leave it whole"),
    ],
)  # fmt: skip
def test_a_tag_never_calls_a_held_cable_out_of_use(
    run: dict[str, Any], more: dict[str, Any], says: str
) -> None:
    found = job(run=run, **more)
    words = tag_words(found, found.house.runs[0])
    assert says in words
    assert ("out of use" in words or "spare" in words) is (says in ("out of use", "spare"))


@pytest.mark.parametrize(
    ("hazard", "words"),
    [
        ({"where": "ceiling", "room": "r2"}, "asbestos (H1), ceiling, is present"),
        ({"room": "r2", "storey": "1"}, "asbestos (H1), Study, is present"),
        ({"storey": "1"}, "asbestos (H1), Ground, is present"),
        ({}, "asbestos (H1), whole house, is present"),
        ({"state": "suspected"}, "asbestos (H1), whole house, is suspected"),
        ({"state": "made safe"}, "asbestos (H1), whole house, is not signed for"),
        ({"id": "gate", "kind": "knob and tube"}, "knob and tube, whole house, is present"),
    ],
)
def test_a_hazard_is_told_with_its_place_and_how_it_stands(hazard: dict[str, str], words: str) -> None:
    row = Hazard.model_validate({"id": "H1", "kind": "asbestos", "state": "present", **hazard})
    said = hazard_words(job(), row)
    assert said.startswith(f"{words}: ") and said.endswith(" and record the sign-off")
    who = "a licensed electrician" if row.kind.value == "knob and tube" else "a licensed firm"
    assert who in said
