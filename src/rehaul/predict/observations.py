"""Readings as the calibration takes them: a difference in decibels at a place, with its spread."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from rehaul.facts.calibration import calibration_number
from rehaul.house import Job, Quantity, Reading
from rehaul.house.geometry import room_centre, storey_of
from rehaul.predict.air import DEFAULT_CLIENT, Air, Listener, air_of, wire_mbps
from rehaul.predict.radiators import Radiator
from rehaul.predict.scene import HouseScene
from rehaul.predict.terms import Source, Ways, ways_to
from rehaul.wlan import power_needed_dbm

USED = (Quantity.POWER_DBM, Quantity.DOWN_MBPS)


@dataclass(frozen=True, eq=False)
class Observation:
    """One reading against its prediction."""

    reading: str  # id
    source: Source
    device: str  # id, or `any_device` of its class where it is not known
    client: str  # class of the device
    difference_db: float  # power read, less power predicted
    sd_db: float  # of the reading itself
    ways: Ways  # to its one place
    at_most: bool = False  # nothing was heard: the power is no more than that


def observations(
    job: Job, scene: HouseScene, radiators: Sequence[Radiator], readings: Sequence[Reading]
) -> tuple[tuple[Observation, ...], tuple[tuple[str, str], ...]]:
    """The readings that say something of the air, and the rest with the reason why not."""
    used: list[Observation] = []
    left_out: list[tuple[str, str]] = []
    clients = {device.id: device.client for device in job.devices}
    for reading in readings:
        found = _observation(
            job, scene, radiators, reading, clients.get(reading.device or "", DEFAULT_CLIENT)
        )
        if isinstance(found, Observation):
            used.append(found)
        else:
            left_out.append((reading.id, found))
    return tuple(used), tuple(left_out)


def any_device(client: str) -> str:
    """Stands for the one device of a class that readings without a device are taken to be of."""
    return f"any {client}"


def place_of(job: Job, reading: Reading) -> tuple[float, float, float] | None:
    """Where a reading was taken: its point, else the middle of its room, else None."""
    room = next((room for room in job.house.rooms if room.id == reading.room), None)
    storey = reading.storey or (room.storey if room else None)
    if storey is None or (reading.position is None and room is None):
        return None
    position = reading.position or (room_centre(room) if room else (0.0, 0.0))
    return (*position, storey_of(job.house, storey).elevation_m + reading.height_m)


def _observation(
    job: Job, scene: HouseScene, radiators: Sequence[Radiator], reading: Reading, client: str
) -> Observation | str:
    if reading.wired or reading.quantity not in USED:
        return "it says nothing of the air"
    place = place_of(job, reading)
    if place is None:
        return "it has no place"
    near = [r for r in radiators if reading.box in (None, r.id)]
    airs = [
        air
        for radiator in near
        for air in air_of(scene, radiator, [place], job.country, Listener(client), dfs=job.choices.dfs)
        if reading.band in (None, air.band)
    ]
    if not airs:
        return "nothing that is known sends on its band"
    air = max(airs, key=_heard_best if reading.quantity is Quantity.POWER_DBM else _carries_most)
    read_dbm = _power_dbm(reading, air)
    if isinstance(read_dbm, str):
        return read_dbm
    return Observation(
        reading=reading.id,
        source=Source(air.radiator.id, air.band),
        device=reading.device or any_device(client),
        client=client,
        difference_db=read_dbm - float(air.power_dbm[0]),
        sd_db=spread_db(reading),
        ways=ways_to(scene.scene, air.radiator.position_m, [place]),
        at_most=reading.at_most and reading.quantity is Quantity.POWER_DBM,
    )


def _heard_best(air: Air) -> float:
    return float(air.power_dbm[0])


def _carries_most(air: Air) -> float:
    return float(air.range_mbps()[1][0])


def _power_dbm(reading: Reading, air: Air) -> float | str:
    """The power a reading stands for."""
    if reading.quantity is Quantity.POWER_DBM:
        return reading.value
    most = min(wire_mbps(air.radiator), float(air.range_mbps()[2][0]))
    if reading.value >= calibration_number("ceiling_share") * min(wire_mbps(air.radiator), most):
        return "it is as fast as wire or device allow, so the air is not the limit"
    needed = power_needed_dbm(reading.value, air.link)
    return needed if np.isfinite(needed) else "it is faster than the device can be over the air"


def spread_db(reading: Reading) -> float:
    """Standard deviation of a reading by itself: how it wanders, and where in its room it was taken [dB]."""
    power = reading.quantity is Quantity.POWER_DBM
    own_db = power_sd_db(reading.repeats) if power else calibration_number("rate_reading_sd")
    place_db = 0.0 if reading.position is not None else calibration_number("room_reading_sd")
    return float(np.hypot(own_db, place_db))


def power_sd_db(repeats: int) -> float:
    """Standard deviation of the mean of power readings at one spot [dB].

    Repeats even out what changes with time; the fading of the spot stays.
    """
    lasting = calibration_number("fading_lasts")
    return float(calibration_number("power_reading_sd") * np.sqrt(lasting + (1.0 - lasting) / repeats))
