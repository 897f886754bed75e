"""Readings as the calibration takes them: a difference in decibels at a place, with its spread."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from rehaul.facts.calibration import calibration_number
from rehaul.house import Job, Quantity, Reading, odd_values
from rehaul.house.geometry import room_centre, storey_of
from rehaul.predict.air import DEFAULT_CLIENT, Air, Listener, air_of
from rehaul.predict.doubts import Sender, Ways, ways_to
from rehaul.predict.radiators import Radiator
from rehaul.predict.scene import HouseScene
from rehaul.words import say

RATE = Quantity.DOWN_MBPS  # the way up hangs together with it, so that it would count twice


@dataclass(frozen=True, eq=False)
class Observation:
    """One reading against its prediction."""

    reading: str  # id
    source: Sender
    device: str  # id, or `any_device` of its class where it is not known
    client: str  # class of the device
    difference_db: float  # power read, less power predicted
    sd_db: float  # of the reading itself
    ways: Ways  # to its one place
    at_most: bool = False  # nothing was heard: the power is no more than that
    ln_per_db: float = 0.0  # of a reading of Mb/s: what a decibel does to its logarithm; 0: a power


@dataclass(frozen=True, eq=False)
class ReadingOfBox:
    """A reading with the box and band it is of."""

    reading: Reading
    device: str  # id, or `any_device` of its class where it is not known
    air: Air  # at its one place, as predicted
    ways: Ways  # to that place


def heard(
    job: Job, scene: HouseScene, radiators: Sequence[Radiator], readings: Sequence[Reading]
) -> tuple[tuple[ReadingOfBox, ...], tuple[tuple[str, str], ...]]:
    """The readings that say something of the air, and the rest as (id, reason why not).

    Both in the order of `readings`. A reading without a device counts as of the usual class; its box is the
    one noted, else the one that would be heard best, or for Mb/s carry most. **Source**: docs/calibration.md,
    "What may be wrong".
    """
    used: list[ReadingOfBox] = []
    left_out: list[tuple[str, str]] = []
    clients = {device.id: device.client for device in job.devices}
    for reading in readings:
        found = _heard(job, scene, radiators, reading, clients.get(reading.device or "", DEFAULT_CLIENT))
        if isinstance(found, ReadingOfBox):
            used.append(found)
        else:
            left_out.append((reading.id, found))
    return tuple(used), tuple(left_out)


def observation(found: ReadingOfBox) -> Observation:
    """A reading of power as a difference from its prediction [dB]: above 0 more was read.

    For readings of Mb/s see `shares.rate_observation`. **Source**: docs/calibration.md, "What may be wrong".
    """
    reading, air = found.reading, found.air
    return Observation(
        reading=reading.id,
        source=Sender(air.radiator.id, air.band),
        device=found.device,
        client=air.client,
        difference_db=reading.value - float(air.power_dbm[0]),
        sd_db=spread_db(reading),
        ways=found.ways,
        at_most=reading.at_most,
    )


def any_device(client: str) -> str:
    """Id of the one device of a class that readings without a device are taken to be of.

    No device of a job has such an id, as it holds a space.

    >>> any_device("phone")
    'any phone'
    """
    return f"any {client}"


def place_of(job: Job, reading: Reading) -> tuple[float, float, float] | None:
    """Where a reading was taken: x, y on the sheet and z from elevation 0 [m].

    Its point, else the middle of its room, else None.
    """
    room = next((room for room in job.house.rooms if room.id == reading.room), None)
    storey = reading.storey or (room.storey if room else None)
    if storey is None or (reading.position is None and room is None):
        return None
    position = reading.position or (room_centre(room) if room else (0.0, 0.0))
    return (*position, storey_of(job.house, storey).elevation_m + reading.height_m)


def _heard(
    job: Job, scene: HouseScene, radiators: Sequence[Radiator], reading: Reading, client: str
) -> ReadingOfBox | str:
    if reading.wired or reading.quantity not in (Quantity.POWER_DBM, RATE):
        return say("predict.says_nothing_of_air")
    if odd_values(reading):  # as an earlier version let it be saved
        return say("predict.cannot_be_true")
    place = place_of(job, reading)
    if place is None:
        return say("predict.has_no_place")
    near = [r for r in radiators if reading.box in (None, r.id)]
    airs = [
        air
        for radiator in near
        for air in air_of(scene, radiator, [place], job.country, Listener(client), dfs=job.choices.dfs)
        if reading.band in (None, air.band)
    ]
    if not airs:
        return say("predict.nothing_sends")
    power = reading.quantity is Quantity.POWER_DBM
    air = max(airs, key=_heard_best if power else _carries_most)
    ways = ways_to(scene.scene, air.radiator.position_m, [place])
    return ReadingOfBox(reading, reading.device or any_device(client), air, ways)


def _heard_best(air: Air) -> float:
    return float(air.power_dbm[0])


def _carries_most(air: Air) -> float:
    return float(air.range_mbps()[1][0])


def spread_db(reading: Reading) -> float:
    """Standard deviation of a reading of power [dB]: how it wanders, and where in its room it was taken.

    As independent. **Source**: the fact table `calibration_numbers`.
    """
    return float(np.hypot(power_sd_db(reading.repeats), place_sd_db(reading)))


def place_sd_db(reading: Reading) -> float:
    """How far the power where a reading was taken may differ for want of the exact spot [dB].

    0 for a reading with its point. **Source**: `room_reading_sd` of the fact table `calibration_numbers`.
    """
    return 0.0 if reading.position is not None else calibration_number("room_reading_sd")


def power_sd_db(repeats: int) -> float:
    """Standard deviation of the mean of power readings at one spot [dB].

    Repeats even out what changes with time; the fading of the spot stays. **Source**: docs/calibration.md,
    "The update": a mean of repeats evens out half of the variance.
    """
    lasting = calibration_number("fading_lasts")
    return float(calibration_number("power_reading_sd") * np.sqrt(lasting + (1.0 - lasting) / repeats))
