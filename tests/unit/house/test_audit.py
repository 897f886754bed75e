"""Each finding of the audit is found where it should be, and not where it should not."""

from __future__ import annotations

import pytest

from rehaul.house import (
    CableKind,
    House,
    Job,
    Layer,
    Need,
    Opening,
    Outlet,
    Room,
    Run,
    RunState,
    Slab,
    Storey,
    Topology,
    Wall,
)
from rehaul.house.audit import audit
from sound_house import MIDDLE, ROUND, found, sound_house, sound_job


def test_a_sound_job_has_no_findings() -> None:
    assert audit(sound_job()) == ()


def test_an_empty_job_is_audited_too() -> None:
    codes = found(Job(id="j", title="Empty"))
    assert {"no-storey", "modem-not-placed", "alarms-not-asked", "no-before-reading"} <= set(codes)


HOUSE_CASES = {
    "walls-nearly-meet": (
        {"walls": (*ROUND, MIDDLE.model_copy(update={"end": (4, 4.7)}))},
        ("w5", "w3"),
    ),
    "walls-overlap": (
        {
            "walls": (
                *ROUND,
                MIDDLE,
                MIDDLE.model_copy(update={"id": "w6", "start": (4.02, 1), "end": (4.02, 3)}),
            )
        },
        ("w5", "w6"),
    ),
    "construction-unknown": (
        {"walls": (*ROUND, MIDDLE.model_copy(update={"construction": "unknown"}))},
        ("w5",),
    ),
    "construction-not-listed": (
        {"walls": (*ROUND, MIDDLE.model_copy(update={"construction": "straw bale"}))},
        ("w5",),
    ),
    "material-unknown": (
        {
            "walls": (
                *ROUND,
                MIDDLE.model_copy(update={"layers": (Layer(material="Mycelium", thickness_m=0.1),)}),
            )
        },
        ("w5",),
    ),
    "storey-empty": (
        {
            "storeys": (
                Storey(id="1", name="Ground", elevation_m=0, height_m=2.4),
                Storey(
                    id="2", name="Attic", elevation_m=2.7, height_m=2, floor=Slab(construction="timber-floor")
                ),
            )
        },
        ("2",),
    ),
    "outlet-never-located": ({"outlets": (Outlet(id="1-01", storey="1", kind="telephone"),)}, ("1-01",)),
    "outlet-off-wall": (
        {"outlets": (Outlet(id="1-01", storey="1", kind="telephone", position=(2, 2)),)},
        ("1-01",),
    ),
    "outlet-kind-unknown": ({"outlets": (Outlet(id="1-01", storey="1", position=(0.1, 2)),)}, ("1-01",)),
    "rooms-overlap": (
        {
            "rooms": (
                Room(id="r1", name="Living", storey="1", polygon=((0, 0), (5, 0), (5, 5), (0, 5))),
                Room(id="r2", name="Kitchen", storey="1", polygon=((4, 0), (8, 0), (8, 5), (4, 5))),
            )
        },
        ("r1", "r2"),
    ),
    "room-without-walls": (
        {
            "rooms": (
                Room(id="r1", name="Living", storey="1", polygon=((0, 0), (4, 0), (4, 5), (0, 5))),
                Room(id="r2", name="Kitchen", storey="1", polygon=((10, 0), (14, 0), (14, 5), (10, 5))),
            )
        },
        ("r2",),
    ),
    "room-name-twice": (
        {
            "rooms": (
                Room(id="r1", name="Bed", storey="1", polygon=((0, 0), (4, 0), (4, 5), (0, 5))),
                Room(id="r2", name="bed", storey="1", polygon=((4, 0), (8, 0), (8, 5), (4, 5))),
            )
        },
        ("r1", "r2"),
    ),
    "storey-without-doors": ({"openings": ()}, ("r1", "r2")),
    "glass-unknown": (
        {
            "openings": (
                Opening(id="d1", wall="w5", kind="door", offset_m=1, width_m=0.8),
                Opening(id="win1", wall="w1", kind="window", offset_m=1, width_m=1, height_m=1, sill_m=1),
            )
        },
        ("win1",),
    ),
    "opening-too-high": (
        {"openings": (Opening(id="d1", wall="w5", kind="door", offset_m=1, width_m=0.8, height_m=2.6),)},
        ("d1", "w5"),
    ),
    "openings-overlap": (
        {
            "openings": tuple(
                Opening(id=f"d{i}", wall="w5", kind="door", offset_m=0.5 * i, width_m=0.8) for i in (1, 2)
            )
        },
        ("d1", "d2"),
    ),
    "no-meeting-point": (
        {
            "meeting_points": (),
            "runs": (
                Run(
                    id="C01",
                    ends=("1-01", "unknown"),
                    kind=CableKind.CAT5E,
                    topology=Topology.HOME_RUN,
                    state=RunState.DEAD,
                ),
            ),
        },
        ("house.meeting_points",),
    ),
    "year-unknown": ({"built_year": None}, ("house.built_year",)),
    "landlord-not-asked": ({"tenure": "rented"}, ("gate.landlord_agrees",)),
}


@pytest.mark.parametrize("code", HOUSE_CASES)
def test_findings_of_the_house(code: str) -> None:
    changes, where = HOUSE_CASES[code]
    assert found(sound_job(sound_house(**changes)))[code] == where


def test_storeys_that_overlap_or_hang_apart() -> None:
    def storeys(elevation_m: float) -> House:
        upper = Storey(
            id="2",
            name="Upper",
            elevation_m=elevation_m,
            height_m=2.4,
            floor=Slab(construction="timber-floor"),
        )
        walls = tuple(w.model_copy(update={"id": f"u{w.id}", "storey": "2"}) for w in ROUND)
        return sound_house(
            storeys=(Storey(id="1", name="Ground", elevation_m=0, height_m=2.4), upper),
            walls=(*ROUND, MIDDLE, *walls),
        )

    assert found(sound_job(storeys(2.2)))["storeys-overlap"] == ("1", "2")
    assert found(sound_job(storeys(5.0)))["storeys-apart"] == ("1", "2")
    assert found(sound_job(storeys(2.7))) == {}


def test_a_floor_of_unknown_construction_is_asked_for_above_the_lowest() -> None:
    walls = tuple(w.model_copy(update={"id": f"u{w.id}", "storey": "2"}) for w in ROUND)
    house = sound_house(
        storeys=(
            Storey(id="1", name="Ground", elevation_m=0, height_m=2.4),
            Storey(id="2", name="Upper", elevation_m=2.7, height_m=2.4),
        ),
        walls=(*ROUND, MIDDLE, *walls),
    )
    assert found(sound_job(house)) == {"floor-unknown": ("2",), "ceiling-unknown": ("1",)}


def test_a_room_without_a_door_where_others_have_one() -> None:
    third = Room(id="r3", name="Box room", storey="1", polygon=((6, 3), (7.9, 3), (7.9, 4.9), (6, 4.9)))
    kitchen = Room(
        id="r2",
        name="Kitchen",
        storey="1",
        polygon=((4.1, 0.1), (7.9, 0.1), (7.9, 3), (6, 3), (6, 4.9), (4.1, 4.9)),
    )
    rooms = (sound_house().rooms[0], kitchen, third)
    walls = (
        *ROUND,
        MIDDLE,
        Wall(id="w6", storey="1", start=(6, 3), end=(8, 3), construction="stud-plasterboard"),
        Wall(id="w7", storey="1", start=(6, 3), end=(6, 5), construction="stud-plasterboard"),
    )
    needs = tuple(Need(id=f"n{i}", room=f"r{i}", uses=("stream 4K",)) for i in (1, 2, 3))
    assert found(sound_job(sound_house(rooms=rooms, walls=walls), needs=needs)) == {
        "room-without-door": ("r3",)
    }
