"""How far each finding of the audit reaches: a centimetre on this side is nothing, beyond it is told."""

from __future__ import annotations

import pytest

from rehaul.facts.constructions import constructions
from rehaul.house import (
    Box,
    Device,
    House,
    Job,
    Layer,
    Need,
    Opening,
    Outlet,
    Room,
    Run,
    Slab,
    Splitter,
    Storey,
    Wall,
)
from rehaul.house.audit import audit
from rehaul.house.audit.rooms import room_findings
from rehaul.house.audit.survey import survey_findings
from rehaul.house.audit.walls import thickness_m
from sound_house import MIDDLE, ROUND, sound_house, sound_job


def told(house_or_job: House | Job, code: str) -> list[tuple[tuple[str, ...], str]]:
    """What a finding is about and how it reads, of every finding of that code."""
    job = house_or_job if isinstance(house_or_job, Job) else sound_job(house_or_job)
    return [(one.where, str(one.sentence)) for one in audit(job) if one.code == code]


def with_openings(*openings: Opening, **wall: object) -> House:
    return sound_house(walls=(*ROUND, MIDDLE.model_copy(update=wall)), openings=openings)


def door(name: str = "d1", **fields: object) -> Opening:
    return Opening(**({"id": name, "wall": "w5", "kind": "door", "offset_m": 1, "width_m": 0.8} | fields))


@pytest.mark.parametrize(
    ("wall", "opening", "over"),
    [
        ({}, {"height_m": 2.415}, None),  # to a ceiling of 2.40 m, and 2 cm are let pass
        ({}, {"height_m": 2.43}, "0.03 m"),
        ({}, {"height_m": 1.5, "sill_m": 0.93}, "0.03 m"),  # from the sill up
        ({"height_m": 2.0}, {"height_m": 2.0}, None),
        ({"height_m": 1.9}, {"height_m": 2.0}, "0.10 m"),
        ({"height_m": 1.5, "base_m": 0.5}, {"height_m": 2.015}, None),  # walls may begin above the floor
        ({"height_m": 1.5, "base_m": 0.5}, {"height_m": 2.5}, "0.50 m"),
    ],
)
def test_an_opening_ends_below_the_top_of_its_wall(wall: dict, opening: dict, over: str | None) -> None:
    found = told(with_openings(door(**opening), **wall), "opening-too-high")
    assert found == (
        [(("d1", "w5"), f"Door, Living / Kitchen (d1) rises {over} over its wall.")] if over else []
    )


@pytest.mark.parametrize(
    ("second", "shared"),
    [
        ({"offset_m": 1.8}, None),  # edge to edge
        ({"offset_m": 1.785}, None),
        ({"offset_m": 1.775}, "0.03 m"),
        ({"offset_m": 1.4}, "0.40 m"),
        ({"offset_m": 1.4, "sill_m": 1.985, "height_m": 0.3}, None),  # over the door, that ends at 2.00 m
        ({"offset_m": 1.4, "sill_m": 1.9, "height_m": 0.4}, "0.40 m"),
        ({"offset_m": 1.4, "sill_m": 0.5, "height_m": 0.4}, "0.40 m"),
        ({"offset_m": 1.4, "height_m": 0.015}, None),
        ({"offset_m": 1.4, "wall": "w1"}, None),
    ],
)
def test_two_openings_stand_side_by_side_or_one_above_the_other(second: dict, shared: str | None) -> None:
    said = f"Door, Living / Kitchen (d1) and door, Living / Kitchen (d2) overlap by {shared} in one wall."
    found = told(with_openings(door("d2", **second), door("d1")), "openings-overlap")
    assert found == ([(("d1", "d2"), said)] if shared else [])


def test_of_openings_each_is_told_that_no_table_lists() -> None:
    openings = (door(construction="beads"), door("d2", offset_m=3, construction="door-hollow"))
    assert told(with_openings(*openings), "construction-not-listed") == [
        (("d1",), "Door, Living / Kitchen (d1) is said to be 'beads', which no table lists.")
    ]


def square(room: str, x0: float, x1: float, **fields: object) -> Room:
    corners = ((x0, 0), (x1, 0), (x1, 5), (x0, 5))
    return Room(**({"id": room, "name": room, "storey": "1", "polygon": corners} | fields))


def test_rooms_that_share_a_hand_of_floor_overlap() -> None:
    def two(right: float, *more: Room) -> House:
        return sound_house(rooms=(square("r1", 0, right), square("r2", 4, 8), *more))

    assert told(two(4.0), "rooms-overlap") == []
    assert told(two(4.008), "rooms-overlap") == []  # 5 m by 8 mm: 0.04 m²
    assert told(two(4.012), "rooms-overlap") == [(("r1", "r2"), "r1 and r2 overlap by 0.1 m².")]
    inside = square("r3", 5, 6)
    assert told(two(4.0, inside), "rooms-overlap") == [(("r2", "r3"), "r2 and r3 overlap by 5.0 m².")]
    assert told(two(4.0, inside.model_copy(update={"outside": True})), "rooms-overlap") == []


def test_a_room_is_walled_from_three_fifths_of_its_edge_on() -> None:
    """Walls stand at y = 0 and 5 m as far as x = 8 m, and at x = 0; half a metre round them counts."""
    walls = tuple(wall for wall in ROUND if wall.id != "w2")

    def from_x(left: float, **fields: object) -> list[tuple[tuple[str, ...], str]]:
        rooms = (square("r1", 0, left), square("r2", left, 8, **fields))
        return told(sound_house(walls=walls, rooms=rooms, openings=()), "room-without-walls")

    assert from_x(2.9) == []  # twice 5.1 m, and the ends of either side: 12.2 of 20.2 m
    assert from_x(3.5) == [(("r2",), "r2 has walls along 58% of its edge.")]  # 11 of 19 m
    assert from_x(3.5, outside=True) == []


def test_walls_of_another_storey_are_no_walls_here() -> None:
    upper = Storey(id="2", name="Upper", elevation_m=2.7)
    rooms = (square("r1", 0, 4), square("r2", 4, 8, storey="2"))
    house = sound_house(storeys=(*sound_house().storeys, upper), rooms=rooms)
    assert told(house, "room-without-walls") == [(("r2",), "r2 has walls along 0% of its edge.")]


def test_a_house_with_storeys_has_rooms() -> None:
    said = "No room is drawn; needs, readings and labels are by room."
    bare = sound_house(rooms=())
    assert [str(one.sentence) for one in room_findings(sound_job(bare, needs=()))] == [said]
    assert [one.code for one in room_findings(sound_job())] == []
    assert list(room_findings(Job(id="j", title="Empty"))) == []


def test_what_has_no_breadth_has_no_walls() -> None:
    line = Room(id="r2", name="Line", storey="1", polygon=((4, 1), (5, 1), (6, 1)))
    assert told(sound_house(rooms=(square("r1", 0, 4), line)), "room-without-walls") == [
        (("r2",), "Line has walls along 0% of its edge.")
    ]


def test_rooms_of_one_name_are_told_once_by_the_first() -> None:
    rooms = (square("r1", 0, 2, name="Bed"), square("r2", 2, 4), square("r3", 4, 8, name="bed"))
    said = "2 rooms are called Bed; labels could not tell them apart."
    assert told(sound_house(rooms=rooms), "room-name-twice") == [(("r1", "r3"), said)]


def test_a_door_leads_into_what_lies_within_half_a_metre() -> None:
    """The door stands in the wall at x = 4 m, from y = 1.0 to 1.8 m."""

    def rooms(left: float, **door_fields: object) -> list[tuple[str, ...]]:
        house = sound_house(
            rooms=(square("r1", 0, 4), square("r2", left, 8)), openings=(door(**door_fields),)
        )
        return [where for where, _ in told(house, "room-without-door")]

    assert rooms(4.4) == []
    assert rooms(4.6) == [("r2",)]
    assert rooms(4.4, kind="gap") == []
    single = sound_house(rooms=(square("r1", 0, 4),), openings=(door(kind="window"),))
    job = sound_job(single, needs=sound_job().needs[:1])
    assert told(job, "storey-without-doors") == []  # of a single room nobody asks
    windows = sound_house(openings=(door(kind="window"),))
    assert told(windows, "storey-without-doors") == [(("r1", "r2"), "None of 2 rooms of Ground has a door.")]


def test_only_names_that_no_table_holds_are_told() -> None:
    """Boxes by either table of boxes; devices and needs by that of devices; of a need only what it names."""
    boxes = (
        Box(id="b1", name="Modem", equipment="dsl modem", storey="1", position=(7.5, 0.3)),
        Box(id="b2", name="Black box", equipment="dsl modm", storey="1", position=(7.5, 0.3)),
    )
    devices = (
        Device(id="v1", name="Telephone", client="phone"),
        Device(id="v2", name="Slate", client="tablett"),
    )
    needs = (
        Need(id="n1", room="r1", uses=("stream 4K",), client="tablett"),
        Need(id="n2", room="r2", uses=("stream 4K", "stream 5K"), client="phone"),
    )
    job = sound_job(boxes=boxes, devices=devices, needs=needs)
    codes = ("equipment-unknown", "client-unknown", "use-unknown")
    found = [one for code in codes for one in audit(job) if one.code == code]
    assert [(one.where, str(one.proposed_fix)) for one in found] == [
        (("b2",), "Write 'dsl modem', if that is meant."),
        (("v2",), "Write 'tablet', if that is meant."),
        (("n1",), "Write 'tablet', if that is meant."),
        (("n2",), "Write 'stream 4K', if that is meant."),
    ]
    assert "The device noted for Living is noted as 'tablett'" in str(found[2].sentence)


THICK = tuple(wall.model_copy(update={"thickness_m": 0.2}) for wall in ROUND)
THIN = MIDDLE.model_copy(update={"thickness_m": 0.1})


@pytest.mark.parametrize(
    ("end", "stops"),
    [
        ((4, 4.95), None),  # within the other's thickness
        ((4, 4.885), None),  # 2 cm are let pass
        ((4, 4.85), "0.05 m short of the wall Living / outside (w3) at 4.00, 4.85"),
        ((4, 4.61), "0.29 m short of the wall Living / outside (w3) at 4.00, 4.61"),
        ((4, 4.59), None),  # it ends in the room
        ((7.85, 4), "0.05 m short of the wall Kitchen / outside (w2) at 7.85, 4.00"),
        ((7.0, 4.75), None),  # it passes along the other, at an angle of hardly more than the square
    ],
)
def test_a_wall_that_stops_a_little_short(end: tuple[float, float], stops: str | None) -> None:
    walls = (*THICK, THIN.model_copy(update={"start": (0, 4) if end[0] > 4 else (4, 0), "end": end}))
    found = told(sound_house(walls=walls, openings=()), "walls-nearly-meet")
    assert [said for _, said in found] == (
        [f"The wall Living / Kitchen (w5) stops {stops}."] if stops else []
    )


def test_the_start_of_a_wall_is_an_end_too() -> None:
    walls = (*THICK, THIN.model_copy(update={"start": (4, 0.15)}))
    assert told(sound_house(walls=walls), "walls-nearly-meet") == [
        (
            ("w5", "w1"),
            (
                "The wall Living / Kitchen (w5) stops 0.05 m short of the wall Living / outside (w1) "
                "at 4.00, 0.15."
            ),
        )
    ]


@pytest.mark.parametrize(
    ("changes", "shared"),
    [
        ({}, "2.00 m"),
        ({"start": (4.04, 3), "end": (4.04, 1)}, "2.00 m"),  # the other way round
        ({"start": (4.06, 1), "end": (4.06, 3)}, None),  # over half of 0.1 m apart
        ({"start": (4.06, 1), "end": (4.06, 3), "thickness_m": 0.2}, "2.00 m"),
        ({"start": (4.04, -2), "end": (4.04, 0.24)}, None),  # under a quarter of a metre of both
        ({"start": (4.04, -2), "end": (4.04, 0.26)}, "0.26 m"),
        ({"start": (4.04, -2), "end": (4.04, 9)}, "5.00 m"),
        ({"end": (4.04, 1.5)}, "0.50 m"),
        ({"start": (3, 2), "end": (5, 2)}, None),
        ({"start": (4.04, 1), "end": (3.96, 3)}, "2.00 m"),
        ({"start": (4.04, 1), "end": (3.96, 2)}, None),  # turned by more than three degrees
        ({"base_m": 1.97, "height_m": 0.4}, "2.00 m"),
        ({"base_m": 1.99, "height_m": 0.4}, None),  # upon it
    ],
)
def test_two_walls_in_one_place(changes: dict, shared: str | None) -> None:
    other = THIN.model_copy(update={"id": "w6", "start": (4.04, 1), "end": (4.04, 3)} | changes)
    low = THIN.model_copy(update={"height_m": 2.0})
    found = told(sound_house(walls=(*THICK, low, other), openings=()), "walls-overlap")
    rooms = "Ground" if other.start == (4.04, -2) and other.end[1] < 1 else "Living / Kitchen"
    words = (
        f"The walls Living / Kitchen (w5) and {rooms} (w6) stand in one place over {shared}: "
        "a path would be charged for both."
    )
    assert found == ([(("w5", "w6"), words)] if shared else [])


def test_how_thick_a_wall_is_taken_to_be() -> None:
    layers = (Layer(material="brick", thickness_m=0.1), Layer(material="plaster", thickness_m=0.02))
    bare = {"id": "w", "storey": "1", "start": (0, 0), "end": (1, 0)}
    assert thickness_m(Wall(**bare, thickness_m=0.3, layers=layers)) == 0.3
    assert thickness_m(Wall(**bare, layers=layers, construction="brick-solid")) == pytest.approx(0.12)
    known = constructions()["brick-solid"].thickness_m
    assert thickness_m(Wall(**bare, construction="brick-solid")) == known != 0.1
    assert thickness_m(Wall(**bare)) == thickness_m(Wall(**bare, construction="straw bale")) == 0.1


def test_unknown_walls_are_counted_once_and_listed_ones_not_at_all() -> None:
    layers = (Layer(material="brick", thickness_m=0.1),)
    walls = (
        *(wall.model_copy(update={"construction": "unknown"}) for wall in ROUND[:2]),
        ROUND[2].model_copy(update={"construction": "unknown", "layers": layers}),
        ROUND[3].model_copy(update={"construction": "straw", "layers": layers}),
        MIDDLE,
    )
    house = sound_house(walls=walls)
    assert told(house, "construction-unknown") == [
        (("w1", "w2"), "2 of 5 walls of Ground are of unknown construction.")
    ]
    assert told(house, "construction-not-listed") == []


@pytest.mark.parametrize(
    ("elevation_m", "code", "said"),
    [
        (2.385, None, ""),
        (2.37, "storeys-overlap", "Ground reaches 0.03 m above the floor of Upper."),
        (3.89, None, ""),
        (3.91, "storeys-apart", "There are 1.51 m between Ground and Upper."),
    ],
)
def test_storeys_stand_one_on_the_other(elevation_m: float, code: str | None, said: str) -> None:
    upper = Storey(id="2", name="Upper", elevation_m=elevation_m, floor=Slab(thickness_m=0.25))
    job = sound_job(sound_house(storeys=(upper, *sound_house().storeys)))  # the lowest comes first
    found = [one for one in audit(job) if one.code in ("storeys-overlap", "storeys-apart")]
    assert [(one.code, one.where, str(one.sentence)) for one in found] == (
        [(code, ("1", "2"), said)] if code else []
    )
    if code == "storeys-overlap":  # up to the slab: 2.37 m without its 0.25 m
        assert str(found[0].proposed_fix).startswith("Set the height of Ground to 2.12 m,")


def test_no_storey_ends_below_its_own_floor() -> None:
    upper = Storey(id="2", name="Upper", elevation_m=0.1)
    (found,) = [
        one
        for one in audit(sound_job(sound_house(storeys=(*sound_house().storeys, upper))))
        if one.code == "storeys-overlap"
    ]
    assert "to 0.00 m" in str(found.proposed_fix)


def test_floors_of_which_nothing_is_known_but_for_the_lowest() -> None:
    def floor(name: str, elevation_m: float, **fields: object) -> Storey:
        return Storey(id=name, name=f"Storey {name}", elevation_m=elevation_m, floor=Slab(**fields))

    layers = (Layer(material="concrete", thickness_m=0.2),)
    house = sound_house(
        storeys=(
            *sound_house().storeys,
            floor("2", 2.7),
            floor("3", 5.4, construction="brick-solid"),  # a wall's, no floor's
            floor("4", 8.1, construction="unknown", layers=layers),
            floor("5", 10.8, construction="concrete-slab"),
        )
    )
    assert told(house, "floor-unknown") == [
        (("2",), "What the floor of Storey 2 is made of is not known."),
        (
            ("3",),
            (
                "What the floor of Storey 3 is made of is not known: 'brick-solid' is not in "
                "the table of floors."
            ),
        ),
    ]


@pytest.mark.parametrize(
    ("spot", "gap"),
    [((2, 0.39), None), ((2, 0.41), "0.31 m"), ((2, 2.5), "1.90 m"), ((3.7, 2.5), None), ((0.0, -0.3), None)],
)
def test_an_outlet_is_on_a_wall_within_three_tenths_of_its_face(
    spot: tuple[float, float], gap: str | None
) -> None:
    outlet = Outlet(id="1-01", storey="1", kind="telephone", position=spot)
    other = THIN.model_copy(update={"id": "u1", "storey": "2", "start": (0, 2.5), "end": (3, 2.5)})
    upper = Storey(id="2", name="Upper", elevation_m=2.7)
    house = sound_house(
        walls=(*THICK, THIN, other), storeys=(*sound_house().storeys, upper), outlets=(outlet,)
    )
    said = f"The outlet in Living (1-01) is {gap} away from any wall."
    assert told(house, "outlet-off-wall") == ([(("1-01",), said)] if gap else [])


@pytest.mark.parametrize(
    ("runs", "said"),
    [
        ([("m1", "1-01")], None),
        ([("m1", "1-01"), ("m1", "1-01")], "There is 1 more end of cables than outlets (2 ends, 1 outlet)."),
        ([("m1", "1-01", "a", "b")], "There are 2 more ends of cables than outlets (3 ends, 1 outlet)."),
        ([("m1", "s1"), ("s1", "1-01")], None),  # between two places where cables meet none ends
        ([("m1", "s1")], "There is 1 more outlet than ends of cables (0 ends, 1 outlet)."),
        ([("1-01", "unknown")], None),  # one end is where cables meet, wherever that is
        ([], None),
    ],
)
def test_ends_of_cables_and_outlets_are_as_many(runs: list[tuple[str, ...]], said: str | None) -> None:
    cables = tuple(Run(id=f"C{n}", ends=ends) for n, ends in enumerate(runs))
    blank = Outlet(id="1-02", storey="1", kind="blank plate", position=(0.1, 3))
    house = sound_house(
        runs=cables,
        outlets=(*sound_house().outlets, blank),
        splitters=(Splitter(id="s1", name="Loft", storey="1"),),
    )
    found = [str(one.sentence) for one in survey_findings(sound_job(house)) if one.code == "counts-differ"]
    assert found == ([said] if said else [])
