"""A room of a job as a case for diagnosis: what should be, and what the readings found."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable
from statistics import median

from rehaul.errors import BadInput
from rehaul.facts.wlan_equipment import access_point_radios, client_radios
from rehaul.house import Job, Quantity, Reading, Room
from rehaul.house.geometry import room_at, room_centre, storey_of
from rehaul.predict import Air, HouseScene, Listener, Radiator, air_of, scene_of, standing_radiators
from rehaul.predict.air import DEFAULT_CLIENT
from rehaul.predict.observations import place_of
from rehaul.printable import short
from rehaul.proof.causes import Case, Test
from rehaul.wlan import RadioLink, link_between
from rehaul.words import say

BESIDE_M = 2.0  # from the access point
HELD_M = 1.2
GOOD_CLIENT = "laptop"
LOOKED_AT = ("cord", "run", "wireless")  # feeds that tell a hop from a cable
OLD_CLIENTS = ("old laptop", "television", "small device")


def room_named(job: Job, name: str) -> Room:
    """A room by its id or its name. Raises BadInput with the known names.

    Parameters: `name`, an id, or a room's name in any case of letters. The first room of the job that fits
    is given.
    """
    for room in job.house.rooms:
        if name == room.id or name.casefold() == room.name.casefold():
            return room
    known = ", ".join(room.name for room in job.house.rooms)
    raise BadInput(
        say("refused_proof.no_room", name=short(name)),
        where="room",
        remedy=say("refused_proof.use_room", known=short(known, 400)),
    )


def room_case(
    job: Job, room: Room, stage: str = "before", scene: HouseScene | None = None
) -> tuple[Case, dict[Test, tuple[float, ...]]]:
    """What the room should get from the box that serves it best, and what each test has read, once or more.

    Raises BadInput where no box stands that could serve the room. **Source**: docs/proof.md, "Why a room is
    slow".
    """
    scene = scene or scene_of(job.house, job.country)
    readings = [reading for reading in job.readings if reading.stage == stage]
    here = [r for r in readings if not r.wired and _room_of(job, r) == room.id]
    device = _slow_device(here)
    client = _client(job, device)
    best = _best_air(job, scene, room, client)
    equipment, band = best.radiator.equipment, best.band
    test_link = link_between(equipment, GOOD_CLIENT, band) or best.link
    slow = link_between(equipment, client, "2.4") if band != "2.4" else None
    near_dbm, near_link = _beside(job, scene, best.radiator)
    case = Case(
        plan_down_mbps=job.service.down_mbps,
        plan_up_mbps=job.service.up_mbps,
        link_mbps=float(min(1000, access_point_radios()[equipment, band].wired_port_mbps)),
        near_dbm=near_dbm,
        near_link=near_link,
        room_dbm=round(float(best.power_dbm[0]), 1),
        room_sd_db=round(float(best.sd_db[0]), 1),
        test_link=test_link,
        device_link=best.link,
        old_links=tuple(_old_links(equipment)),
        slow_band_link=slow,
    )
    return case, _reads(job, readings, here, device, best)


def best_air(job: Job, scene: HouseScene, room: Room, stage: str) -> Air:
    """What the slow device of a room gets in its middle from the box that serves it best.

    Raises BadInput where no box stands that could serve the room.
    """
    here = [r for r in job.readings if r.stage == stage and not r.wired and _room_of(job, r) == room.id]
    return _best_air(job, scene, room, _client(job, _slow_device(here)))


def _client(job: Job, device: str | None) -> str:
    return next((d.client for d in job.devices if d.id == device), DEFAULT_CLIENT)


def _best_air(job: Job, scene: HouseScene, room: Room, client: str) -> Air:
    place = (*room_centre(room), storey_of(job.house, room.storey).elevation_m + HELD_M)
    airs = [
        air
        for box in standing_radiators(job)
        for air in air_of(scene, box, [place], job.country, Listener(client), dfs=job.choices.dfs)
    ]
    if not airs:
        raise BadInput(say("refused_proof.no_box"), where=room.name, remedy=say("refused_proof.add_router"))
    return max(airs, key=lambda air: float(air.range_mbps()[1][0]))


def _beside(job: Job, scene: HouseScene, box: Radiator) -> tuple[float, RadioLink]:
    """Power two metres from the box where nothing stands between, and the link there, of a good device."""
    x, y, z = box.position_m
    steps = ((BESIDE_M, 0.0), (-BESIDE_M, 0.0), (0.0, BESIDE_M), (0.0, -BESIDE_M))
    places = [(x + dx, y + dy, z) for dx, dy in steps]
    airs = air_of(scene, box, places, job.country, Listener(GOOD_CLIENT), dfs=job.choices.dfs)
    fastest = max(airs, key=lambda air: float(air.range_mbps()[1].max()))
    return round(float(fastest.power_dbm.max()), 1), fastest.link


def _old_links(equipment: str) -> Iterable[RadioLink]:
    for client in OLD_CLIENTS:
        for name, band in client_radios():
            link = link_between(equipment, name, band) if name == client else None
            if link is not None:
                yield link


def _reads(
    job: Job, readings: list[Reading], here: list[Reading], device: str | None, best: Air
) -> dict[Test, tuple[float, ...]]:
    """What each test has read, as often as it was read."""
    found: dict[Test, list[float]] = defaultdict(list)
    for reading in readings:
        test = _wired_test(job, reading) if reading.wired else _air_test(job, reading, here, device, best)
        if test is not None:
            found[test].append(reading.value)
    fed = {box.id: float(box.fed_by != "wireless") for box in job.boxes if box.fed_by in LOOKED_AT}
    told = [r for r in here if r.device == device and r.box and r.band]
    if best.radiator.id in fed:
        found["fed by cable"] = [fed[best.radiator.id]]
    if told:
        right = [r.box == best.radiator.id and r.band == best.band for r in told]
        found["right radio"] = [float(sum(right) * 2 > len(right))]
    busy = [heard.busy_pct for heard in job.heard if heard.band == best.band and heard.busy_pct is not None]
    if busy:
        found["channel busy"] = [max(busy)]
    delay = _run_delay(job, readings)
    if delay is not None:
        found["run delay"] = [delay]
    return {test: tuple(float(value) for value in values) for test, values in found.items()}


def _run_delay(job: Job, readings: list[Reading]) -> float | None:
    """What the way from the modem to the access point adds to the delay [ms], read by cable at both."""
    at: dict[bool, list[float]] = defaultdict(list)
    for reading in readings:
        if reading.wired and reading.quantity is Quantity.DELAY_MS:
            at[_at_modem(job, reading)].append(reading.value)
    return max(0.0, median(at[False]) - median(at[True])) if len(at) > 1 else None


def _at_modem(job: Job, reading: Reading) -> bool:
    modem = next((box for box in job.boxes if box.id == job.service.modem), None)
    if modem is None or reading.box is not None:
        return modem is not None and reading.box == modem.id
    return _room_of(job, reading) == _room_at(job, modem.storey, modem.position)


def _wired_test(job: Job, reading: Reading) -> Test | None:
    at_modem = _at_modem(job, reading)
    tests: dict[Quantity, tuple[Test, Test]] = {
        Quantity.DOWN_MBPS: ("modem down", "run down"),
        Quantity.UP_MBPS: ("modem up", "run up"),
    }
    if reading.quantity is Quantity.LINK_MBPS:
        return None if at_modem else "run link"
    return tests[reading.quantity][0 if at_modem else 1] if reading.quantity in tests else None


def _air_test(job: Job, reading: Reading, here: list[Reading], device: str | None, best: Air) -> Test | None:
    if reading in here:
        if reading.device != device:
            others: dict[Quantity, Test] = {
                Quantity.DOWN_MBPS: "other device down",
                Quantity.LINK_MBPS: "other device link",
            }
            return others.get(reading.quantity)
        tests: dict[Quantity, Test] = {
            Quantity.DOWN_MBPS: "room down",
            Quantity.UP_MBPS: "room up",
            Quantity.POWER_DBM: "room power",
            Quantity.LINK_MBPS: "room link",
        }
        return tests.get(reading.quantity)
    box = next(box for box in job.boxes if box.id == best.radiator.id)
    if _room_of(job, reading) == _room_at(job, box.storey, box.position):
        own = device is not None and reading.device == device
        beside: dict[Quantity, Test] = {
            Quantity.DOWN_MBPS: "device near down" if own else "near down",
            Quantity.POWER_DBM: "near power",
        }
        if own:
            beside[Quantity.LINK_MBPS] = "device near link"
        return beside.get(reading.quantity)
    return None


def _slow_device(here: list[Reading]) -> str | None:
    """The device that was read most in the room; of equals the one that got least."""
    down = [r for r in here if r.quantity is Quantity.DOWN_MBPS]
    if not down:
        return here[0].device if here else None
    counts = Counter(reading.device for reading in down)
    return min(down, key=lambda r: (-counts[r.device], r.value, r.id)).device


def _room_of(job: Job, reading: Reading) -> str | None:
    if reading.room is not None or reading.position is None or place_of(job, reading) is None:
        return reading.room
    return _room_at(job, reading.storey or "", reading.position)


def _room_at(job: Job, storey: str, position: tuple[float, float]) -> str | None:
    room = room_at(job.house, storey, position)
    return room.id if room else None
