"""Ways, lengths, tasks and money of new cables, cords and conduits on two storeys made by hand."""

from __future__ import annotations

from typing import Any

import pytest

from rehaul.design.conduit import ConduitFill, conduit_fill, fill_after_pull
from rehaul.design.cords import cord_item, new_cord
from rehaul.design.costs import task_cost
from rehaul.design.newcable import cord_feeds, place_feed, pull_feed, pull_length_m
from rehaul.design.places import Place
from rehaul.design.pulls import (
    forbids_way,
    hazards_at,
    is_hard,
    mounting_place,
    pull_cost,
    pull_tasks,
    storeys_passed,
    walls_around,
    way_to_room,
)
from rehaul.design.works import Works
from rehaul.errors import OutOfRange
from rehaul.facts.pulls import pull_ways
from rehaul.house import Hazard, House, Job, MeetingPoint, Outlet, Run, SignOff, Wall
from rehaul.house.job import Choices

SIGNED = SignOff(by="Invented owner", date="2026-03-01", words="Yes")
CLOSET = MeetingPoint(id="M1", name="Closet", storey="0", position=(1.0, 1.0), height_m=1.5)


def house(*, construction: str = "stud-plasterboard", access: str | None = None, **more: Any) -> House:
    """Two storeys, a room of 4 by 3 m on each with its four walls."""
    corners = ((0, 0), (4, 0), (4, 3), (0, 3))
    storeys = [
        {
            "id": str(n),
            "name": f"Storey {n}",
            "elevation_m": 3.0 * n,
            **({"access": access} if access else {}),
        }
        for n in (0, 1, 2)
    ]
    walls = [
        {
            "id": f"w{n}{k}",
            "storey": str(n),
            "start": corners[k],
            "end": corners[(k + 1) % 4],
            "construction": construction,
        }
        for n in (0, 1)
        for k in range(4)
    ]
    rooms = [{"id": f"r{n}", "name": f"Room {n}", "storey": str(n), "polygon": corners} for n in (0, 1)]
    return House.model_validate(
        {"storeys": storeys, "walls": walls, "rooms": rooms, "meeting_points": (CLOSET,), **more}
    )


def job(**more: Any) -> Job:
    return Job(id="j", title="Invented", house=house(**more), choices=Choices(labour_per_h=60.0))


@pytest.mark.parametrize(
    ("length_m", "item"),
    [(0.1, "cord_025"), (0.25, "cord_025"), (0.26, "cord_050"), (1.0, "cord_100"), (2.5, "cord_300"),
     (5.0, "cord_500"), (5.01, "cord_long")],
)  # fmt: skip
def test_the_shortest_cord_that_reaches(length_m: float, item: str) -> None:
    assert cord_item(length_m) == item


def test_a_bought_cord_carries_what_its_ports_do() -> None:
    cord = new_cord("x", "a", "b", 940.0, poe_class=4, length_m=2.0)
    assert (cord.low_mbps, cord.rate_mbps, cord.high_mbps, cord.poe_class, cord.length_m) == (
        940,
        940,
        940,
        4,
        2,
    )


def test_how_full_a_conduit_is_by_hand() -> None:
    """One cable of 6.2 mm in 16 mm: 38.44 / 256 = 15.0 %, 53 allowed. With two quads of 4.5 mm: 30.8."""
    one = conduit_fill(0.016, (0.0062,))
    assert one.fill_pct == pytest.approx(15.02, abs=0.01) and one.most_pct == 53 and one.fits
    run = Run(id="C", ends=("M1", "0-01"), conduit_bore_m=0.016, conduit_others=2)
    three = fill_after_pull(run)
    assert three is not None and three.most_pct == 40
    assert three.fill_pct == pytest.approx(100 * (38.44 + 2 * 20.25) / 256, abs=0.01) and three.fits
    two = fill_after_pull(run.model_copy(update={"conduit_others": 1}))
    assert two is not None and two.most_pct == 31 and two.fill_pct == pytest.approx(22.93, abs=0.01)
    tight = conduit_fill(0.010, (0.0062, 0.0045))
    assert tight.fill_pct == pytest.approx(58.69, abs=0.01) and not tight.fits
    assert conduit_fill(0.01, (0.01 * 0.53**0.5,)).fits, "to the limit"
    assert fill_after_pull(Run(id="C", ends=("M1", "0-01"))) is None
    assert ConduitFill(31.0, 31.0).fits and not ConduitFill(31.01, 31.0).fits
    assert conduit_fill(0.005, (0.001,)).fits and conduit_fill(0.5, (0.001,)).fits
    for bore_m in (0.0049, 0.501):
        with pytest.raises(OutOfRange):
            conduit_fill(bore_m, (0.001,))


@pytest.mark.parametrize(
    ("more", "crossed", "way"),
    [
        ({}, 0, "fished"),
        ({"construction": "brick-solid"}, 0, "surface"),
        ({"construction": "lath-plaster"}, 0, "fished"),
        ({"construction": "unknown"}, 0, "fished"),  # nobody knows that it is masonry
        ({"access": "open below"}, 1, "open floor"),
        ({"access": "open below"}, 2, "fished"),
        ({"access": "open above"}, 0, "open attic"),
        ({"access": "open above"}, 2, "fished"),
    ],
)
def test_the_usual_way_to_a_room(more: dict[str, Any], crossed: int, way: str) -> None:
    found = job(**more)
    assert way_to_room(found, found.house.rooms[0], CLOSET, crossed).way == way
    out = found.house.rooms[0].model_copy(update={"outbuilding": True})
    assert way_to_room(found, out, CLOSET, crossed).way == "fibre"


def test_walls_that_bound_a_room() -> None:
    """Those along its edge for 0.8 m at least, on its storey; not one that only meets it at a corner."""
    whole = house()
    extra = (
        Wall(id="meets", storey="0", start=(4.0, 3.0), end=(8.0, 3.0)),
        Wall(id="near", storey="0", start=(1.0, 3.3), end=(1.9, 3.3)),
        Wall(id="short", storey="0", start=(1.0, 3.3), end=(1.7, 3.3)),
        Wall(id="far", storey="0", start=(1.0, 3.6), end=(3.0, 3.6)),
    )
    walls = whole.model_copy(update={"walls": (*whole.walls, *extra)})
    assert {wall.id for wall in walls_around(walls, whole.rooms[0])} == {"w00", "w01", "w02", "w03", "near"}


@pytest.mark.parametrize(
    ("more", "crossed", "hard"),
    [
        ({}, 0, False),
        ({}, 1, True),
        ({"access": "closed"}, 0, True),
        ({"construction": "lath-plaster"}, 0, True),
        ({"construction": "unknown"}, 0, False),
    ],
)
def test_a_hard_pull(more: dict[str, Any], crossed: int, hard: bool) -> None:
    whole = house(**more)
    assert is_hard(whole, whole.rooms[0], pull_ways()["fished"], crossed) is hard
    assert not is_hard(whole, whole.rooms[0], pull_ways()["surface"], crossed)


@pytest.mark.parametrize(
    ("way", "hard", "crossed", "tasks"),
    [
        ("fished", False, 0, ["fish_easy"]),
        ("fished", True, 0, ["fish_hard"]),
        ("fished", True, 1, ["fish_hard", "fire_seal"]),
        ("fished", True, 2, ["fish_hard", "fire_seal", "fire_seal"]),
        ("fished", True, 3, ["fish_hard", "fish_hard", "fire_seal", "fire_seal", "fire_seal"]),
        ("surface", False, 1, ["surface", "surface_floor"]),
        ("fibre", False, 1, ["fibre"]),
    ],
)
def test_tasks_of_a_pull(way: str, hard: bool, crossed: int, tasks: list[str]) -> None:
    assert pull_tasks(pull_ways()[way], hard, crossed) == tasks


def test_money_for_one_new_cable_by_hand() -> None:
    """Fished over 10 m: 13.3 m are cut (3 m in the closet, 0.3 at the plate).

    Parts: two jacks 9.00, a plate 2.80, a bracket 2.20, and 13.3 m of cable. Minutes: 45 to fish, 8 jack,
    6 panel port, 10 plate, 5 test, and the access point; at 60 an hour a minute is 1.00.
    """
    from rehaul.facts.work import labour, prices

    metre, mount = prices()["cable_cat6"].unit_price, labour()["access_point"]
    parts = 9.0 + 2.8 + 2.2 + 13.3 * metre
    found = pull_cost(job(), pull_ways()["fished"], 10.0, False, 0)
    assert found.middle == pytest.approx(parts + 45 + 8 + 6 + 10 + 5 + mount.minutes, abs=0.01)
    high = parts + 110 + 13 + 10 + 20 + 9 + mount.minutes_90
    assert found.high_90 == pytest.approx(high, abs=0.01)
    trunking = pull_cost(job(), pull_ways()["surface"], 10.0, False, 0)
    assert trunking.middle == pytest.approx(
        9.0 + 2.8 + 13.3 * metre + 10 * 2.4 + 70 + 8 + 6 + 10 + 5 + mount.minutes, abs=0.01
    )
    assert task_cost(job(), ["jack", "jack"], 1.5).middle == 17.5


def test_where_a_cable_ends_in_a_room() -> None:
    room = house().rooms[1]
    assert mounting_place(room, pull_ways()["fished"], CLOSET) == (2.0, 1.5)
    assert mounting_place(room, pull_ways()["surface"], CLOSET) in ((0.0, 1.0), (1.0, 0.0))
    away = CLOSET.model_copy(update={"position": (9.0, 2.0)})
    assert mounting_place(room, pull_ways()["surface"], away) == (4.0, 2.0)


def test_length_along_walls_with_a_detour() -> None:
    """From (1, 1) at 1.5 m to (4, 3) at 5.4 m: 3 + 2 + 3.9 = 8.9, with a quarter more 11.125."""
    assert pull_length_m(job(), CLOSET, (4.0, 3.0), 5.4) == pytest.approx(11.125)
    assert pull_length_m(job(), CLOSET, (0.0, 0.0), 0.5) == pytest.approx(3.75)


def test_storeys_that_a_cable_passes() -> None:
    whole = house()
    assert storeys_passed(whole, "0", "0") == () and storeys_passed(whole, "0", "9") == ()
    assert storeys_passed(whole, "0", "1") == storeys_passed(whole, "1", "0") == ("0", "1")
    assert storeys_passed(whole, "2", "0") == ("0", "1", "2")


def hazard(**more: Any) -> Hazard:
    return Hazard.model_validate({"id": "H1", "kind": "asbestos", **more})


@pytest.mark.parametrize(
    ("more", "forbidden"),
    [
        ({"room": "r1"}, True),
        ({"room": "r0"}, False),  # that room is not drilled
        ({"storey": "0"}, True),  # on the way
        ({"storey": "2"}, False),
        ({}, True),  # somewhere in the house
        ({"room": "r1", "state": "tested clear", "sign_off": SIGNED}, False),
        ({"room": "r1", "state": "tested clear"}, True),  # nobody signed
        ({"room": "r1", "kind": "lead paint"}, False),
    ],
)
def test_no_hole_where_asbestos_may_be(more: dict[str, Any], forbidden: bool) -> None:
    whole = house(hazards=(hazard(**more),))
    assert forbids_way(whole, "1", "r1", "0") is forbidden
    if not forbidden and "kind" not in more:
        assert not [row for row in hazards_at(whole, "1", "r1") if more.get("room") == "r1"]


def test_a_new_cable_as_a_feed() -> None:
    works = Works(job())
    place = Place("r1", "Room 1", "1", (4.0, 3.0), 2.4, "ceiling", "screws", room="r1")
    feed = place_feed(job(), works, CLOSET, place, pull_ways()["fished"])
    assert feed.pull_m == pytest.approx(11.1) and feed.way == "fished" and feed.from_core and feed.port
    assert feed.links[0].rate_mbps == feed.links[0].low_mbps and 2300 < feed.links[0].rate_mbps < 2500
    assert (feed.chance, feed.poe_class, feed.links[0].poe_class) == (0.9, 8, 8)
    route, cable = (works.known[name] for name in feed.works)
    assert route.tasks == ("fish_hard", "fire_seal") and route.needs and not route.parts
    assert dict(cable.parts)["cable_cat6"] == pytest.approx(11.125 + 3.3) and dict(cable.parts)["jack"] == 2
    assert cable.tasks == ("jack", "panel_port", "plate", "test"), "mounting belongs to the access point"
    fibre = place_feed(job(), works, CLOSET, place, pull_ways()["fibre"])
    assert not fibre.from_core and fibre.links[0].poe_class == 0 and fibre.links[0].medium == "fibre"


def test_no_new_cable_where_nobody_may_drill_or_no_room_is() -> None:
    plain = job()

    def fed(one: Job, position: tuple[float, float] = (2.0, 2.0)) -> Any:
        return pull_feed(one, Works(one), CLOSET, "0", position, "x")

    assert fed(plain) is not None and fed(plain, (9.0, 9.0)) is None
    assert fed(plain.model_copy(update={"choices": Choices(new_pulls=False)})) is None
    spoilt = plain.model_copy(update={"house": house(hazards=(hazard(room="r0"),))})
    assert fed(spoilt) is None
    gate = plain.gate.model_copy(update={"landlord_agrees": False})
    rented = plain.model_copy(update={"gate": gate, "house": house(tenure="rented")})
    assert fed(rented) is None


@pytest.mark.parametrize(
    ("more", "drawn"),
    [
        ({}, True),
        ({"in_conduit": False}, False),
        ({"in_conduit": None}, False),
        ({"conduit_bore_m": 0.008}, False),  # 60 % full
        ({"conduit_bore_m": 0.02}, True),
        ({"ends": ("0-01", "M1")}, True),
        ({"ends": ("0-01", "0-02")}, False),
        ({"ends": ("M1", "0-01", "0-02")}, False),
        ({"ends": ("M1", "unknown")}, False),
        ({"ends": ("M1", "0-02")}, False),  # nobody knows where that plate is
        ({"state": "live telephone"}, False),
    ],
)
def test_an_old_cable_draws_a_new_one_in_where_it_slides_and_fits(more: dict[str, Any], drawn: bool) -> None:
    run = Run.model_validate(
        {"id": "C1", "ends": ("M1", "0-01"), "kind": "cat5", "state": "dead", "in_conduit": True, **more}
    )
    outlets = (Outlet(id="0-01", storey="0", position=(3, 2)), Outlet(id="0-02", storey="0"))
    one = job(runs=(run,), outlets=outlets)
    found = cord_feeds(one, Works(one), "M1", CLOSET)
    assert [feed.spends for feed in found] == (["C1"] if drawn else [])
    if drawn:
        assert found[0].id == "drawn with C1" and found[0].end == "0-01" and found[0].way == "pull cord"
