"""Rules on places and marks in the house: where each begins to speak, and what it lets pass."""

from __future__ import annotations

from typing import Any

import pytest

from plan_edges import JOB, STEPS, Set, about, choosing, house, job, name, plan, step
from rehaul.auditor.drilling import (
    hazards_first,
    landlord_first,
    licence_first,
    no_copper_outdoors,
    no_marks_left,
    screws_allowed,
)
from rehaul.auditor.places import (
    clear_of_openings,
    found_outlets,
    hub_of,
    in_its_room,
    metal_cans,
    racks_fit,
    room_fit,
    solid_ceilings,
    wall_behind,
)
from rehaul.auditor.reading import RowView
from rehaul.house import Gate, Hazard, Job, OpeningKind, SignOff

SITE = "choice.access_points.AP1.site."


def walls(**changes: Any) -> Job:
    """The wall behind the access point of the library otherwise."""
    return house(walls=tuple(w.model_copy(update=changes) if w.id == "wU3" else w for w in JOB.house.walls))


def renting(agrees: bool | None) -> Job:
    rented = house(tenure="rented")
    return rented.model_copy(update={"gate": Gate(landlord_agrees=agrees)})


def rooms(which: str, **changes: Any) -> Job:
    return house(rooms=tuple(r.model_copy(update=changes) if r.id == which else r for r in JOB.house.rooms))


def test_the_wall_behind_is_the_nearest_within_six_tenths_of_a_metre() -> None:
    """The library: outer walls at x = 0 and y = 0, a wall at x = 4."""

    def behind(x: float, y: float, storey: str = "U") -> str | None:
        wall = wall_behind(JOB.house, storey, (x, y))
        return wall.id if wall else None

    assert [behind(0.25, 3.0), behind(0.6, 3.0), behind(0.61, 3.0), behind(3.5, 2.0)] == [
        "wU3",
        "wU3",
        None,
        "wU4",
    ]
    assert behind(0.3, 0.5) == "wU3" and behind(0.5, 0.3) == "wU0" and behind(0.3, 0.3) == "wU0"
    assert behind(0.25, 3.0, "G") == "wG3" and behind(0.25, 3.0, "X") is None
    assert behind(-0.6, -0.1) is None or behind(-0.6, -0.1) == "wU0"


def test_screws_go_where_they_may() -> None:
    both = [("AP1",), ("AP2",)]
    assert about(screws_allowed) == [] and about(screws_allowed, job=choosing(fixing="reversible")) == both
    for agrees, told in ((False, both), (None, []), (True, [])):
        assert about(screws_allowed, job=renting(agrees)) == told
    owned = job(gate=Gate(landlord_agrees=False))
    assert about(screws_allowed, job=owned) == []
    for changes in ({"drilling": "forbidden"}, {"fire_rated": True}):
        assert about(screws_allowed, job=walls(**changes)) == [("AP1",)]
        assert about(screws_allowed, (f"{SITE}fixing", "adhesive"), job=walls(**changes)) == []
        assert about(screws_allowed, (f"{SITE}mounting", "ceiling"), job=walls(**changes)) == []
        assert about(screws_allowed, (f"{SITE}position", [2.0, 3.0]), job=walls(**changes)) == []


def test_nothing_that_leaves_a_mark_where_none_may_be_left() -> None:
    whole = choosing(fixing="reversible")
    marks = [name("rack"), name("fish_hard", "NC1"), name("fire_seal", "NC1")]
    assert about(no_marks_left) == [] and [one[0] for one in about(no_marks_left, job=whole)] == marks
    assert [
        one[0] for one in about(no_marks_left, (f"{step('rack')}title", "Put the Shelf up"), job=whole)
    ] == marks[1:]
    assert [one[0] for one in about(no_marks_left, job=renting(False))] == marks
    asked = renting(None)
    screwed = [*marks, name("access_point", "AP1"), name("access_point", "AP2")]
    assert [one[0] for one in about(landlord_first, job=asked)] == screwed
    assert about(landlord_first, job=renting(True)) == about(landlord_first, job=renting(False)) == []
    assert about(landlord_first) == []
    held = (f"{step('rack')}held", "the owner")
    loose = (f"{SITE}fixing", "adhesive")
    assert [one[0] for one in about(landlord_first, held, loose, job=asked)] == [*marks[1:], screwed[-1]]


def hazard(**changes: Any) -> Job:
    plain: dict[str, Any] = {"id": "HZ1", "kind": "asbestos", "room": "rU1", "storey": "U"}
    return house(hazards=(Hazard.model_validate({**plain, **changes}),))


def test_a_hole_waits_for_the_hazard_of_its_room_its_storey_or_its_way() -> None:
    holes = [(name("fish_hard", "NC1"), "HZ1"), (name("fire_seal", "NC1"), "HZ1")]
    assert about(hazards_first) == [] and about(hazards_first, job=hazard()) == holes
    assert about(hazards_first, job=hazard(room="rU0")) == []
    assert about(hazards_first, job=hazard(room=None)) == holes
    assert about(hazards_first, job=hazard(room=None, storey="G")) == holes, "the cable passes there"
    kept = ("graph.after.links.NC1.age", "old")
    assert about(hazards_first, kept, job=hazard(room=None, storey="G")) == []
    assert about(hazards_first, job=hazard(room="rG0", storey="G")) == []
    signed = SignOff(by="Lab", date="2026-01-01")
    for state, by, told in (
        ("made safe", signed, []),
        ("tested clear", signed, []),
        ("made safe", None, holes),
    ):
        assert about(hazards_first, job=hazard(state=state, sign_off=by)) == told
    held = (f"{step('fish_hard', 'NC1')}held", "the lab")
    assert about(hazards_first, held, job=hazard()) == holes[1:]
    stop: list[Set] = [(f"{step('photo')}stop", True), (f"{step('photo')}because", ["HZ1"])]
    assert about(hazards_first, *stop, job=hazard()) == [], "a stop for it comes before"
    assert about(hazards_first, *stop[1:], job=hazard()) == holes


def test_fixed_cables_wait_for_the_licence_where_one_is_asked() -> None:
    australia = job(country="AU")
    told = [one[0] for one in about(licence_first, job=australia)]
    assert name("jack", "C01") in told and name("fish_hard", "NC1") in told
    assert name("tone", "C01") not in told and name("photo") not in told
    assert about(licence_first) == []
    checked = australia.model_copy(update={"gate": Gate(licence_checked=True)})
    assert about(licence_first, job=checked) == []
    held = (f"{step('jack', 'C01')}held", "x")
    assert name("jack", "C01") not in [one[0] for one in about(licence_first, held, job=australia)]


def test_no_new_copper_between_buildings() -> None:
    apart = rooms("rU1", outbuilding=True)
    assert about(no_copper_outdoors, job=apart) == [("NC1",)] and about(no_copper_outdoors) == []
    for sets in (
        ("graph.after.links.NC1.medium", "fibre"), ("graph.after.links.NC1.age", "old"),
        ("graph.after.links.NC1.a", "nowhere"), ("graph.after.nodes.MP1.room", "rU1"),
    ):  # fmt: skip
        assert about(no_copper_outdoors, sets, job=apart) == []
    assert about(no_copper_outdoors, ("graph.after.links.NC1.medium", "coax"), job=apart) == [("NC1",)]


@pytest.mark.parametrize("unfit", [{"bathroom": True}, {"outside": True}, {"household": "Theirs"}])
def test_no_box_where_it_cannot_live(unfit: dict[str, Any]) -> None:
    assert about(room_fit) == []
    assert about(room_fit, job=rooms("rU0", **unfit)) == [("AP1", "rU0")]
    assert about(room_fit, job=rooms("rU1", **unfit)) == [("N1", "rU1")]
    there = ("choice.outlets.N1.id", "U-03")
    assert about(room_fit, there, job=rooms("rU1", **unfit)) == [], "the plate is there already"
    said = (f"{SITE}room", "rU1")
    assert about(room_fit, said, job=rooms("rU1", **unfit)) == [("AP1", "rU1"), ("N1", "rU1")]
    moves = ("choice.router.do", "move"), ("choice.router.position", [5.0, 5.0])
    assert about(room_fit, *moves, job=rooms("rG2", **unfit)) == [("RT1", "rG2")]
    assert about(room_fit, moves[1], job=rooms("rG2", **unfit)) == []


def test_a_box_stands_in_its_room_or_three_tenths_of_a_metre_beside_it() -> None:
    assert about(in_its_room) == []
    for x, told in ((4.29, []), (4.31, [("AP1", "rU0")]), (-0.29, []), (-0.31, [("AP1", "rU0")])):
        assert about(in_its_room, (f"{SITE}position", [x, 3.0])) == told
    assert about(in_its_room, (f"{SITE}position", [4.2, 6.2])) == []
    assert about(in_its_room, (f"{SITE}position", [4.25, 6.25])) == [("AP1", "rU0")]
    assert about(in_its_room, (f"{SITE}storey", "G")) == [("AP1", "rU0")]
    assert about(in_its_room, (f"{SITE}room", "nowhere"), (f"{SITE}storey", "G")) == []


@pytest.mark.parametrize(
    ("y", "height_m", "told"),
    [  # the window: 0.5 to 1.7 m along from the corner at y = 6, 0.9 m above the floor
        (4.17, 1.5, False), (4.19, 1.5, True), (5.61, 1.5, True), (5.63, 1.5, False),
        (5.0, 0.77, False), (5.0, 0.79, True),
    ],
)  # fmt: skip
def test_no_box_before_a_window(y: float, height_m: float, told: bool) -> None:
    sets = (f"{SITE}position", [0.25, y]), (f"{SITE}height_m", height_m)
    assert about(clear_of_openings, *sets) == [("AP1", "oU3")] * told
    assert about(clear_of_openings, *sets, (f"{SITE}mounting", "ceiling")) == []


def test_no_box_over_a_door_at_any_height_but_over_a_window() -> None:
    window = next(one for one in JOB.house.openings if one.id == "oU3")
    top = window.sill_m + window.height_m + 0.12
    over = (f"{SITE}position", [0.25, 5.0]), (f"{SITE}height_m", top + 0.01)
    assert about(clear_of_openings, *over) == []
    assert about(clear_of_openings, over[0], (f"{SITE}height_m", top - 0.01)) == [("AP1", "oU3")]
    door = house(openings=(window.model_copy(update={"kind": OpeningKind.DOOR}),))
    assert about(clear_of_openings, *over, job=door) == [("AP1", "oU3")]
    elsewhere = house(openings=(window.model_copy(update={"wall": "wU0"}),))
    assert about(clear_of_openings, (f"{SITE}position", [0.25, 5.0]), job=elsewhere) == []


def test_a_cable_gets_to_a_solid_ceiling_along_it_or_by_a_cord() -> None:
    storeys = tuple(
        s.model_copy(update={"ceiling": "solid"} if s.id == "U" else {}) for s in JOB.house.storeys
    )
    solid, up = house(storeys=storeys), (f"{SITE}mounting", "ceiling")
    assert about(solid_ceilings, up, job=solid) == [("AP1",)]
    assert about(solid_ceilings, job=solid) == about(solid_ceilings, up) == []
    for way in ("surface", "pull cord"):
        assert about(solid_ceilings, up, (f"{SITE}way", way), job=solid) == []
    assert about(solid_ceilings, up, (f"{SITE}storey", "G"), job=solid) == []


def closet(**changes: Any) -> Job:
    point = JOB.house.meeting_points[0].model_copy(update=changes)
    return house(meeting_points=(point,))


def test_what_may_be_in_a_metal_can() -> None:
    """Of the rack, the router has a radio, the battery none; panel and switch are made for a rack."""
    can = closet(enclosure="flush metal can")
    told = about(metal_cans, job=can)
    assert [one[1] for one in told] == ["Panel", "Switch", "Router", "Router", "Battery"]
    assert about(metal_cans) == [] and about(metal_cans, ("network.stands", "beside"), job=can) == []
    wide = closet(enclosure="flush metal can", inside_m=(0.5, 0.3, 0.1))
    assert [one[1] for one in about(metal_cans, job=wide)] == ["Router", "Battery"], "five units: 0.222 m"
    for x, at in ((0.34, True), (0.36, False)):
        near = [(f"{SITE}storey", "G"), (f"{SITE}position", [x, 0.3])]
        assert (("AP1", "MP1") in about(metal_cans, *near, job=can)) is at
        assert ("AP1", "MP1") not in about(metal_cans, near[1], job=can)
    assert ("AP1", "MP1") in about(metal_cans, (f"{SITE}id", "MP1"), job=can)


@pytest.mark.parametrize(
    ("inside_m", "fits"),
    [((0.483, 0.223, 0.1), True), ((0.482, 0.223, 0.1), False), ((0.483, 0.222, 0.1), False)],
)
def test_a_rack_goes_in_where_width_and_units_do(inside_m: tuple[float, float, float], fits: bool) -> None:
    """Five units of 44.45 mm are 222.25 mm; a front is 482.6 mm wide."""
    names = ("MP1", "Panel", "Switch", "Router", "Battery")
    assert about(racks_fit, job=closet(inside_m=inside_m)) == ([] if fits else [names])
    assert about(racks_fit, ("network.stands", "beside"), job=closet(inside_m=inside_m)) == []
    assert about(racks_fit, job=closet(inside_m=None)) == []


def test_where_the_main_switch_stands() -> None:
    first = JOB.house.meeting_points[0]
    second = first.model_copy(update={"id": "MP2", "name": "Attic", "storey": "U", "position": (5.0, 5.0)})
    both = house(meeting_points=(first, second))

    def hub(*sets: Set, job: Job = both) -> str | None:
        point = hub_of(job, RowView(plan(*sets)))
        return point.id if point else None

    assert hub() == "MP1" and hub(job=house(meeting_points=())) is None
    apart = [(f"graph.after.links.{n}.b", "U-01") for n in ("cord-P02", "cord-P04")]
    assert hub(*apart) == "MP1", "at the same place"
    moved = [*apart, ("graph.after.nodes.SW1.storey", "U"), ("graph.after.nodes.SW1.position", [5.0, 5.0])]
    assert hub(*moved) == "MP2"
    nowhere = [*moved[:-1], ("graph.after.nodes.SW1.position", [1.0, 1.0])]
    assert hub(*nowhere) == "MP1", "where a step mounts it"
    steps = [
        (f"order.{n}.place", "Attic, Upper floor") for n, one in enumerate(STEPS) if one["norm"] == "switch"
    ]
    assert hub(*nowhere, *steps) == "MP2"
    assert about(found_outlets) == [] and about(found_outlets, (f"{SITE}id", "U-09")) == [("AP1", "U-09")]
    assert about(found_outlets, ("choice.outlets.N1.id", "U-09")) == [("U-09",)]
