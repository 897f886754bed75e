"""A house of three rooms in a row as a case: which reading answers which test, said reading by reading."""

from __future__ import annotations

from typing import Any

import pytest

from rehaul.errors import BadInput
from rehaul.facts.wlan_equipment import access_point_radios
from rehaul.house import Heard, House, Job, Reading, Room, Storey, Wall
from rehaul.house.job import Box, Device, Service
from rehaul.predict import Listener, air_of, scene_of, standing_radiators
from rehaul.proof import room_case, room_named
from rehaul.proof.cases import Test, _slow_device
from rehaul.wlan import link_between

ROOMS = tuple(
    Room(id=f"r{n}", name=name, storey="1", polygon=((5 * n, 0), (5 * n + 5, 0), (5 * n + 5, 4), (5 * n, 4)))
    for n, name in enumerate(("Hall", "Study", "Far room"))
)
STOREYS = (Storey(id="1", name="Ground", elevation_m=0), Storey(id="2", name="Upper", elevation_m=3))
HOUSE = House(storeys=STOREYS, rooms=ROOMS)
MODEM = Box(id="m", name="Modem", equipment="cable modem", storey="1", position=(1, 1))
ROUTER = Box(id="b", name="Router", equipment="router HE 2x2", storey="1", position=(7, 2))
JOB = Job(
    id="j",
    title="j",
    house=HOUSE,
    boxes=(MODEM, ROUTER),
    service=Service(down_mbps=250, up_mbps=30, modem="m"),
    devices=(
        Device(id="p", name="Phone", client="phone"),
        Device(id="l", name="Laptop", client="laptop"),
        Device(id="c", name="Camera", client="camera"),
    ),
)


def read(*rows: dict[str, Any], job: Job = JOB, room: str = "Far room") -> dict[Test, tuple[float, ...]]:
    """What the tests of a room have read, of readings of a download in it with the phone unless said."""
    plain = {"quantity": "down_mbps", "room": "r2", "device": "p"}
    readings = tuple(Reading.model_validate({"id": f"R{n}", **plain, **row}) for n, row in enumerate(rows))
    job = job.model_copy(update={"readings": readings})
    return room_case(job, room_named(job, room))[1]


def cable(**more: Any) -> dict[str, Any]:
    return {"wired": True, "device": None, **more}


def test_a_room_is_named_by_its_id_or_its_name_in_any_letters() -> None:
    assert [room_named(JOB, name).id for name in ("r1", "STUDY", "far Room")] == ["r1", "r1", "r2"]
    with pytest.raises(BadInput) as caught:
        room_named(JOB, "r9")
    assert "Hall, Study, Far room" in caught.value.remedy and caught.value.where == "room"


def test_what_should_be_is_of_the_plan_the_box_and_the_device_that_is_slow() -> None:
    found, reads = room_case(JOB, ROOMS[2])
    assert reads == {}
    assert (found.plan_down_mbps, found.plan_up_mbps, found.link_mbps) == (250.0, 30.0, 1000.0)
    assert access_point_radios()["router HE 2x2", "5"].wired_port_mbps == 1000
    assert found.device_link == link_between("router HE 2x2", "phone", "5"), "nobody read: a phone"
    assert found.test_link == link_between("router HE 2x2", "laptop", "5")
    assert found.slow_band_link == link_between("router HE 2x2", "phone", "2.4")
    bands = [(link.generation.value, link.band) for link in found.old_links]
    assert bands == [("HT", "2.4"), ("HT", "5"), ("HT", "2.4"), ("VHT", "5"), ("HT", "2.4")]
    camera = Reading.model_validate(
        {"id": "A", "quantity": "down_mbps", "value": 5, "room": "r2", "device": "c"}
    )
    slow, _ = room_case(JOB.model_copy(update={"readings": (camera,)}), ROOMS[2])
    assert slow.device_link == link_between("router HE 2x2", "camera", "2.4")
    assert slow.slow_band_link is None, "it is on that band already"
    assert slow.test_link == link_between("router HE 2x2", "laptop", "2.4")


def test_the_power_of_a_room_is_that_held_in_its_middle() -> None:
    found, _ = room_case(JOB, ROOMS[2])
    router = standing_radiators(JOB)[0]
    place = (12.5, 2.0, 1.2)  # the middle, held 1.2 m above its floor
    air = next(a for a in air_of(scene_of(HOUSE, "US"), router, [place], "US") if a.band == "5")
    assert found.room_dbm == pytest.approx(float(air.power_dbm[0]), abs=0.0501)
    assert found.room_sd_db == pytest.approx(float(air.sd_db[0]), abs=0.0501)
    assert (str(found.room_dbm), str(found.room_sd_db)) == (
        f"{found.room_dbm:.1f}",
        f"{found.room_sd_db:.1f}",
    )


def test_beside_the_box_is_two_metres_to_the_side_where_nothing_stands_between() -> None:
    """Walls a metre off on three sides; the fourth is open, so it is as without walls."""
    x, y = ROUTER.position
    router = standing_radiators(JOB)[0]
    east = air_of(scene_of(HOUSE, "US"), router, [(x + 2, y, 1.0)], "US", Listener("laptop"))
    open_dbm = max(float(air.power_dbm[0]) for air in east if air.band == "5")
    corners = ((x - 1, y - 1), (x + 1, y - 1), (x + 1, y + 1), (x - 1, y + 1))
    for free in range(4):
        walls = tuple(
            Wall(id=f"w{n}", storey="1", start=corners[n], end=corners[(n + 1) % 4])
            for n in range(4)
            if n != free
        )
        house = HOUSE.model_copy(update={"walls": walls})
        found, _ = room_case(JOB.model_copy(update={"house": house}), ROOMS[2])
        assert found.near_dbm == pytest.approx(open_dbm, abs=1.0), "echoes may add a little"
    found, _ = room_case(JOB, ROOMS[2])
    assert found.near_dbm == pytest.approx(open_dbm, abs=0.0501)
    assert str(found.near_dbm) == f"{found.near_dbm:.1f}", "said to a tenth"
    assert found.near_link == link_between("router HE 2x2", "laptop", "5")


def test_by_cable_it_is_the_modem_or_the_run() -> None:
    at_modem = read(
        cable(value=240, room="r0"),
        cable(value=28, room="r0", quantity="up_mbps"),
        cable(value=239, room=None, box="m"),
        cable(value=238, room=None, storey="1", position=(2, 2)),
        cable(value=1000, room="r0", quantity="link_mbps"),  # of no run
        cable(value=9, room="r0", quantity="delay_ms"),
    )
    assert at_modem == {"modem down": (240, 239, 238), "modem up": (28,)}
    at_run = read(
        cable(value=94),
        cable(value=27, quantity="up_mbps"),
        cable(value=93, room="r0", box="b"),  # at a box that is not the modem
        cable(value=100, quantity="link_mbps"),
    )
    assert at_run == {"run down": (94, 93), "run up": (27,), "run link": (100,)}
    nowhere = JOB.model_copy(update={"service": Service()})
    assert read(cable(value=94, room="r0"), job=nowhere) == {"run down": (94,)}


@pytest.mark.parametrize(
    ("modem", "run", "delay"),
    [((8, 10, 40), (13, 14, 15), 4.0), ((20,), (12,), 0.0), ((20,), (), None), ((), (12, 14), None)],
)
def test_the_run_adds_what_its_middle_delay_is_above_the_modem_s(
    modem: tuple[float, ...], run: tuple[float, ...], delay: float | None
) -> None:
    rows = [cable(value=v, room="r0", quantity="delay_ms") for v in modem]
    rows += [cable(value=v, quantity="delay_ms") for v in run]
    assert read(*rows) == ({} if delay is None else {"run delay": (delay,)})


def test_over_the_air_it_is_the_slow_device_in_the_room_or_beside_the_box() -> None:
    found = read(
        {"value": 40},
        {"value": 41},
        {"value": 9, "quantity": "up_mbps"},
        {"value": -70, "quantity": "power_dbm"},
        {"value": 65, "quantity": "link_mbps"},
        {"value": 7, "quantity": "delay_ms"},  # answers no test
        {"value": 180, "device": "l"},
        {"value": 390, "device": "l", "quantity": "link_mbps"},
        {"value": -66, "device": "l", "quantity": "power_dbm"},  # nor does another device's power there
        {"value": 200, "room": "r1"},
        {"value": 480, "room": "r1", "quantity": "link_mbps"},
        {"value": -43, "room": "r1", "quantity": "power_dbm"},
        {"value": 230, "room": "r1", "device": "l"},
        {"value": 520, "room": "r1", "device": "l", "quantity": "link_mbps"},  # nor its link beside the box
        {"value": 99, "room": "r0"},  # neither here nor there
        {"value": 98, "stage": "after"},
    )
    assert found == {
        "room down": (40, 41), "room up": (9,), "room power": (-70,), "room link": (65,),
        "other device down": (180,), "other device link": (390,),
        "device near down": (200,), "device near link": (480,), "near power": (-43,), "near down": (230,),
    }  # fmt: skip


def test_a_place_on_the_sheet_is_in_the_room_around_it() -> None:
    here = {"room": None, "storey": "1"}
    found = read({"value": 40, **here, "position": (14.9, 0.1)}, {"value": 200, **here, "position": (6, 3)})
    assert found == {"room down": (40,), "device near down": (200,)}
    assert read({"value": 40}, {"value": 9, "room": None, "storey": "2", "position": (12, 2)}) == {
        "room down": (40,)
    }, "above it is another room"
    assert read({"value": 40}, {"value": 9, "room": None}) == {"room down": (40,)}, "nobody knows where"


def test_of_no_device_beside_the_box_nothing_says_that_it_is_the_slow_one() -> None:
    assert read({"value": 40, "device": None}, {"value": 200, "room": "r1", "device": None}) == {
        "room down": (40,), "near down": (200,)
    }  # fmt: skip


@pytest.mark.parametrize(
    ("rows", "device"),
    [
        ([], None),
        ([("power_dbm", -60, "l"), ("power_dbm", -70, "p")], "l"),  # no speed read: whoever came first
        ([("down_mbps", 10, "p"), ("down_mbps", 90, "l"), ("down_mbps", 95, "l")], "l"),  # read most
        ([("down_mbps", 90, "l"), ("down_mbps", 10, "p")], "p"),  # as often: it got least
        ([("up_mbps", 1, "l"), ("up_mbps", 1, "l"), ("down_mbps", 10, "p")], "p"),
    ],
)
def test_the_slow_device_is_the_one_read_most(rows: list[tuple[str, float, str]], device: str | None) -> None:
    here = [
        Reading.model_validate({"id": f"R{n}", "quantity": q, "value": v, "device": d})
        for n, (q, v, d) in enumerate(rows)
    ]
    assert _slow_device(here) == device


def test_how_busy_the_channel_is_says_the_busiest_hour_heard_on_its_band() -> None:
    heard = tuple(
        Heard(id=f"H{n}", band=band, channel=channel, power_dbm=-70, busy_pct=busy)  # type: ignore[arg-type]
        for n, (band, channel, busy) in enumerate(
            [("5", 36, 20), ("5", 36, 35), ("5", 40, None), ("2.4", 1, 90)]
        )
    )
    assert read(job=JOB.model_copy(update={"heard": heard})) == {"channel busy": (35,)}
    assert read(job=JOB.model_copy(update={"heard": heard[2:]})) == {}


@pytest.mark.parametrize("named", [{}, {"box": "b"}, {"band": "5"}])
def test_which_radio_it_was_on_is_known_only_with_box_and_band(named: dict[str, str]) -> None:
    assert read({"value": 40, **named}) == {"room down": (40,)}
    assert read({"value": 40, "box": "b", "band": "5"})["right radio"] == (1,)
    other = read({"value": 40}, {"value": 90, "device": "l", "box": "b", "band": "2.4"})
    assert "right radio" not in other, "what another device is on says nothing of this one"
