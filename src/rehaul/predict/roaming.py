"""Where a device that moves through the house would cling to a box although another is much stronger."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from rehaul.facts.prediction import prediction_number
from rehaul.facts.wlan_numbers import wlan_number
from rehaul.house import Job
from rehaul.predict.air import Air, through_mbps
from rehaul.predict.receivers import HEIGHT_M
from rehaul.predict.results import RoomRate
from rehaul.predict.rooms import PredictedField
from rehaul.wlan import BANDS, holds, sticks, walk
from rehaul.words import Saying, say

MOST_NOTES = 6


def roaming_notes(job: Job, field: PredictedField, rooms: Sequence[RoomRate]) -> tuple[Saying, ...]:
    """Sentences on rooms where a device may cling to a box that gives too little, and on walks between boxes.

    **Validity**: one band, the fastest that all boxes have; devices differ, the levels at which they look
    about are common practice. **Source**: `holds`, `sticks`, `walk`.
    """
    airs = _one_band(field.airs)
    if len(airs) < 2:
        return ()
    notes = [*_clinging(job, field, airs, rooms), *_walks(job, field, airs)]
    return tuple(notes[:MOST_NOTES])


def _one_band(airs: Sequence[Air]) -> list[Air]:
    """One air of each box, in the fastest band that all have."""
    boxes = {air.radiator.id for air in airs}
    for band in reversed(BANDS):
        here = [air for air in airs if air.band == band]
        if boxes and {air.radiator.id for air in here} == boxes:
            return here
    return []


def _clinging(
    job: Job, field: PredictedField, airs: Sequence[Air], rooms: Sequence[RoomRate]
) -> list[Saying]:
    power_dbm = np.array([air.power_dbm for air in airs])  # (box, storey, y, x)
    if not sticks(power_dbm).any():
        return []
    gain_db = wlan_number("roam_gain_db")
    stays = holds(power_dbm) & (power_dbm + gain_db <= power_dbm.max(axis=0))
    index = {room.id: number for number, room in enumerate(job.house.rooms)}
    notes = []
    for row in rooms:
        here = field.receivers.room == index[row.room]
        for number, air in enumerate(airs):
            if row.need_mbps <= 0 or np.mean(stays[number][here]) < prediction_number("sticks_share"):
                continue
            middle = through_mbps(air.radiator, air.at(np.flatnonzero(here & stays[number])).range_mbps()[1])
            gets_mbps = float(np.median(middle))
            if gets_mbps < row.need_mbps:
                notes.append(
                    say(
                        "predict.clings",
                        room=row.name,
                        box=air.radiator.name,
                        gets_mbps=gets_mbps,
                        stronger=row.source_name,
                        gain_db=gain_db,
                    )
                )
    return notes


def _walks(job: Job, field: PredictedField, airs: Sequence[Air]) -> list[Saying]:
    """Straight from box to box on one storey: where the device changes over, and what it clung to before."""
    notes = []
    for a, b in combinations(range(len(airs)), 2):
        path = _path(field, airs[a], airs[b])
        if path is None:
            continue
        places, step_m = path
        for start, end, way in ((a, b, places), (b, a, places[::-1])):
            done = walk([air.power_dbm.ravel()[way] for air in airs])
            clung_m = float(np.count_nonzero(done.stuck & (done.serving == start))) * step_m
            if clung_m < prediction_number("clinging"):
                continue
            room = _room_at(job, field, int(way[int(np.flatnonzero(done.stuck)[-1])]))
            notes.append(
                say(
                    "predict.clings_on_the_way",
                    start=airs[start].radiator.name,
                    end=airs[end].radiator.name,
                    clung_m=clung_m,
                    room=room,
                )
            )
    return notes


def _path(field: PredictedField, a: Air, b: Air) -> tuple[NDArray[np.intp], float] | None:
    """Receivers under the straight line between two boxes of one storey, and their distance [m]."""
    grid = field.receivers.grid
    levels = [_level(grid.z_m, air.radiator.position_m[2]) for air in (a, b)]
    if levels[0] != levels[1]:
        return None
    (xa, ya, _), (xb, yb, _) = a.radiator.position_m, b.radiator.position_m
    steps = max(2, math.ceil(math.dist((xa, ya), (xb, yb)) / grid.step_m) + 1)
    columns = np.clip(np.rint((np.linspace(xa, xb, steps) - grid.x0_m) / grid.step_m), 0, grid.nx - 1)
    rows = np.clip(np.rint((np.linspace(ya, yb, steps) - grid.y0_m) / grid.step_m), 0, grid.ny - 1)
    flat = np.ravel_multi_index(
        (np.full(steps, levels[0]), rows.astype(int), columns.astype(int)), grid.shape
    )
    return flat, grid.step_m


def _level(heights_m: Sequence[float], z_m: float) -> int:
    """The storey a box is on: the highest whose receivers lie no more than their own height above it."""
    below = [number for number, height_m in enumerate(heights_m) if height_m - HEIGHT_M <= z_m]
    return below[-1] if below else 0


def _room_at(job: Job, field: PredictedField, place: int) -> str:
    number = int(field.receivers.room.ravel()[place])
    return job.house.rooms[number].name if number >= 0 else say("predict.wall_between")
