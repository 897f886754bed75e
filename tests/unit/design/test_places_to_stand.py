"""Where a box may stand, be screwed or drilled for: what forbids each, one thing at a time."""

from __future__ import annotations

from typing import Any

import pytest

from rehaul.design.places import closet_places, may_screw, outlet_places, room_places, shelf_places
from rehaul.design.routerplaces import router_places
from rehaul.design.works import Works
from rehaul.house import (
    Body,
    Box,
    Choices,
    Gate,
    Hazard,
    House,
    Job,
    MeetingPoint,
    Outlet,
    Room,
    Run,
    Service,
    SignOff,
    Storey,
    Wall,
)

CLOSET = MeetingPoint(id="M1", name="Closet", storey="1", kind="closet", position=(0.3, 3.0))
PLATE = Outlet(id="1-01", storey="1", position=(5.9, 3.0), room="r2", mains=True)
ROUTER = Box(id="BX1", name="Router", equipment="router HE 2x2", storey="1", position=(1.0, 5.0))
SIGNED = SignOff(by="Invented owner", date="2026-03-01")


def room(name: str, x0: float, x1: float, **more: Any) -> Room:
    ring = ((x0, 0.0), (x1, 0.0), (x1, 6.0), (x0, 6.0))
    return Room(id=name, name=f"Room {name}", storey="1", polygon=ring, lived_in=True, **more)


def wall(name: str, x_m: float, **more: Any) -> Wall:
    return Wall(id=name, **{"storey": "1", "start": (x_m, 0.0), "end": (x_m, 6.0), **more})


def job(*, east: dict[str, Any] | None = None, room_2: dict[str, Any] | None = None, **more: Any) -> Job:
    """Two rooms side by side; the closet on the western wall of the one, a plate on the eastern of the other.

    `east`: what is said of that wall; `room_2`: of the room before it.
    """
    house = {
        "storeys": (Storey(id="1", name="Ground", elevation_m=0.0, ceiling="solid"),),
        "rooms": (room("r1", 0.0, 3.0), room("r2", 3.0, 6.0, **(room_2 or {}))),
        "walls": (wall("w0", 0.0), wall("w1", 3.0), wall("w2", 6.0, **(east or {}))),
        "outlets": (PLATE,),
        "meeting_points": (CLOSET,),
        **more.pop("house", {}),
    }
    return Job(id="j", title="Invented", house=House(**house), boxes=(ROUTER,), **more)


def at_the_plate(of: Job) -> tuple[str, str]:
    (place,) = outlet_places(of)
    return place.mounting, place.fixing


def test_a_plain_wall_takes_a_screw_and_a_new_cable() -> None:
    assert at_the_plate(job()) == ("wall", "screws")
    assert {place.room for place, _ in room_places(job())} == {"r1", "r2"}
    assert {place.room for place in shelf_places(job())} == {"r1", "r2"}


@pytest.mark.parametrize(
    "east",
    [{"drilling": "forbidden"}, {"fire_rated": True}],
    ids=["nobody may drill into it", "it holds back fire"],
)
def test_no_screw_goes_into_a_wall_that_may_not_be_drilled(east: dict[str, Any]) -> None:
    shut = job(east=east)
    assert at_the_plate(shut) == ("shelf", "reversible")
    assert not may_screw(shut, "1", (5.75, 3.0)) and may_screw(shut, "1", (0.25, 3.0))


@pytest.mark.parametrize("shut", [{"drilling": "forbidden"}, {"fire_rated": True}])
def test_no_new_cable_ends_on_a_wall_that_may_not_be_drilled(shut: dict[str, Any]) -> None:
    """It would end on the wall nearest to the closet, the ceiling being solid."""
    between = job(house={"walls": (wall("w0", 0.0), wall("w1", 3.0, **shut), wall("w2", 6.0))})
    assert "r2" not in {place.room for place, _ in room_places(between)}


def test_a_wall_of_another_storey_forbids_nothing_and_a_corner_has_two() -> None:
    storeys = (
        Storey(id="1", name="Ground", elevation_m=0.0),
        Storey(id="2", name="Upper", elevation_m=2.8),
    )
    above = wall("w9", 6.0, storey="2", drilling="forbidden")
    assert may_screw(job(house={"storeys": storeys, "walls": (wall("w2", 6.0), above)}), "1", (5.75, 3.0))
    south = wall("w8", 0.0, start=(0.0, 0.0), end=(6.0, 0.0), fire_rated=True)
    corner = job(house={"walls": (wall("w2", 6.0), south)})
    assert not may_screw(corner, "1", (5.75, 0.3)) and may_screw(corner, "1", (5.75, 3.0))


@pytest.mark.parametrize(
    ("more", "screws"),
    [
        ({"house": {"tenure": "rented"}, "gate": Gate(landlord_agrees=False)}, False),
        ({"house": {"tenure": "rented"}, "gate": Gate(landlord_agrees=None)}, True),  # held, not forbidden
        ({"house": {"tenure": "owned"}, "gate": Gate(landlord_agrees=False)}, True),
        ({"choices": Choices(fixing="reversible")}, False),
    ],
    ids=["the owner refuses", "the owner was not asked", "an owned house", "nothing may leave a mark"],
)
def test_whose_word_forbids_screws_and_holes(more: dict[str, Any], screws: bool) -> None:
    found = job(**more)
    assert at_the_plate(found) == (("wall", "screws") if screws else ("shelf", "reversible"))
    assert bool(room_places(found)) is screws


@pytest.mark.parametrize("refused", [False, True])
def test_no_hole_goes_into_a_ceiling_either_where_the_owner_refuses(refused: bool) -> None:
    """Under an open attic a cable ends in the middle of the ceiling, far from any wall."""
    attic = Storey(id="1", name="Ground", elevation_m=0.0, ceiling="hollow", access="open above")
    found = job(house={"storeys": (attic,), "tenure": "rented"}, gate=Gate(landlord_agrees=not refused))
    assert {place.mounting for place, _ in room_places(found)} == (set() if refused else {"ceiling"})


def test_no_cable_is_pulled_where_none_is_wished() -> None:
    assert not room_places(job(choices=Choices(new_pulls=False)))


@pytest.mark.parametrize(
    "what",
    [{"household": "lodgers"}, {"bathroom": True}, {"outside": True}],
    ids=lambda what: next(iter(what)),
)
def test_no_box_stands_where_none_may(what: dict[str, Any]) -> None:
    found = job(room_2=what)
    assert not outlet_places(found)
    assert {place.room for place, _ in room_places(found)} == {"r1"}
    assert {place.room for place in shelf_places(found)} == {"r1"}


def test_a_room_with_a_bath_is_a_bathroom_whatever_it_is_called() -> None:
    bath = Body(id="b1", kind="bath", storey="1", corner=(4.0, 2.0), width_m=0.7, depth_m=1.7, height_m=0.6)
    assert not outlet_places(job(house={"bodies": (bath,)}))


@pytest.mark.parametrize(
    ("state", "sign_off", "open_"),
    [
        ("suspected", None, True),
        ("present", SIGNED, True),
        ("tested clear", None, True),
        ("tested clear", SIGNED, False),
    ],
)
def test_no_hole_goes_into_asbestos_that_nobody_signed_away(
    state: str, sign_off: SignOff | None, open_: bool
) -> None:
    hazard = Hazard(id="H1", kind="asbestos", state=state, room="r2", sign_off=sign_off)
    rooms = {place.room for place, _ in room_places(job(house={"hazards": (hazard,)}))}
    assert rooms == ({"r1"} if open_ else {"r1", "r2"})


THREE = tuple(
    Storey(id=name, name=name, elevation_m=level_m, ceiling="solid")
    for name, level_m in (("0", -2.6), ("1", 0.0), ("2", 2.8))
)


@pytest.mark.parametrize(
    ("where", "rooms"),
    [
        ({"storey": "0"}, set()),
        ({"storey": "1"}, {"r0"}),
        ({"storey": "2"}, {"r0", "r1"}),
        ({}, set()),
        ({"room": "r1"}, {"r0", "r2"}),
    ],
    ids=["cellar", "ground floor", "upper floor", "whole house", "one room"],
)
def test_no_new_cable_goes_through_a_storey_of_asbestos(where: dict[str, str], rooms: set[str]) -> None:
    """From the cellar to the upper floor it would be drilled through the ground floor too."""
    cellar = CLOSET.model_copy(update={"storey": "0"})
    each = [
        room(f"r{storey.id}", 0.0, 3.0).model_copy(update={"storey": storey.id, "name": storey.name})
        for storey in THREE
    ]
    house = {"storeys": THREE, "rooms": tuple(each), "meeting_points": (cellar,), "walls": (), "outlets": ()}
    assert {p.room for p, _ in room_places(job(house=house))} == {"r0", "r1", "r2"}
    hazard = Hazard(id="H1", kind="asbestos", **where)
    found = room_places(job(house={**house, "hazards": (hazard,)}))
    assert {place.room for place, _ in found} == rooms


@pytest.mark.parametrize(
    ("enclosure", "kind", "holds"),
    [
        ("open wall", "closet", True),
        ("flush metal can", "panel", False),
        ("attic", "closet", False),
        ("open wall", "junction box", False),
    ],
)
def test_what_a_closet_must_be_to_hold_a_radio(enclosure: str, kind: str, holds: bool) -> None:
    point = CLOSET.model_copy(update={"enclosure": enclosure})
    point = MeetingPoint(**{**point.model_dump(), "kind": kind})
    assert bool(closet_places(job(house={"meeting_points": (point,)}))) is holds


LINE = Run(id="C1", ends=("M1", "1-01"), kind="quad")


def moved_to(of: Job) -> set[str]:
    router = of.boxes[0]
    return {place.id for place in router_places(of, Works(of), router)} - {"here"}


def on_the_line(**more: Any) -> Job:
    house = {"runs": (LINE,), **more.pop("house", {})}
    service = Service(medium="dsl", modem="BX1", run="C1")
    return job(house=house, service=service, **more)


def test_a_router_goes_where_its_line_and_its_cord_lead() -> None:
    assert moved_to(on_the_line()) == {"M1", "1-01", "in r1", "in r2"}


def test_a_router_goes_into_no_metal_can() -> None:
    can = CLOSET.model_copy(update={"enclosure": "flush metal can"})
    assert "M1" not in moved_to(on_the_line(house={"meeting_points": (can,)}))


def test_a_router_goes_into_nobody_elses_room() -> None:
    assert moved_to(on_the_line(room_2={"household": "lodgers"})) == {"M1", "in r1"}


@pytest.mark.parametrize(
    ("box", "choices"),
    [({"movable": False}, Choices()), ({"keep": False}, Choices()), ({}, Choices(move_router=False))],
    ids=["it cannot", "it goes", "it must not"],
)
def test_a_router_that_stays_stays(box: dict[str, Any], choices: Choices) -> None:
    found = on_the_line(choices=choices)
    assert moved_to(found.model_copy(update={"boxes": (ROUTER.model_copy(update=box),)})) == set()
