"""What is to be decided about a house's rooms, each as one margin at one deciding place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from rehaul.house import Job, Room
from rehaul.predict import (
    SERVED_SHARE,
    Air,
    Asked,
    Calibration,
    HouseScene,
    Listener,
    Radiator,
    Receivers,
    asked,
    calibration_of,
    corrected_air,
    least_dbm,
    receivers_of,
    scene_of,
    standing_radiators,
)
from rehaul.predict.terms import Source, ways_to
from rehaul.proof.worth import Decision
from rehaul.wlan import receiver_sd_db

STEP_M = 0.5  # nobody stands more exactly than that


@dataclass(frozen=True, eq=False)
class Surveyed:
    """A house with what its readings say, ready to be asked."""

    job: Job
    scene: HouseScene
    receivers: Receivers
    calibration: Calibration
    _airs: dict[tuple[Radiator, str, str], tuple[Air, ...]] = field(default_factory=dict)

    def places(self, room: Room) -> NDArray[np.float64]:
        """Where one can stand in a room (k, 3) [m]."""
        here = self.receivers.room == self.job.house.rooms.index(room)
        return np.asarray(self.receivers.grid.points_m()[here.ravel()], dtype=np.float64)

    def airs(self, radiator: Radiator, room: Room, client: str) -> tuple[Air, ...]:
        """The air of a box in a room, corrected; worked out once."""
        key = radiator, room.id, client
        if key not in self._airs:
            places = self.places(room)
            self._airs[key] = corrected_air(
                self.job, self.scene, radiator, places, Listener(client), self.calibration
            )
        return self._airs[key]


def surveyed(job: Job, step_m: float = STEP_M) -> Surveyed:
    """A job with its readings taken in; places are `step_m` apart."""
    scene, boxes = scene_of(job.house, job.country), standing_radiators(job)
    return Surveyed(job, scene, receivers_of(job.house, step_m), calibration_of(job, scene, boxes))


def decisions_of(
    surveyed: Surveyed, standing: Sequence[Radiator], planned: Sequence[Radiator] = ()
) -> Iterator[Decision]:
    """Every yes or no that a reading could help with.

    Is each room served today; do the planned boxes serve it; would they without any one of them. A room
    that wires alone keep from what it needs is no question for the air.
    """
    rooms = {room.id: room for room in surveyed.job.house.rooms}
    needs = [need for need in asked(surveyed.job) if need.rated]
    asking: list[tuple[str, Sequence[Radiator]]] = [("Is {room} served today?", standing)]
    if planned:
        asking.append(("Do the chosen places serve {room}?", planned))
        fixed = {box.id for box in standing}
        asking += [
            (
                f"Would {{room}} be served without {out.name}'s access point?",
                [b for b in planned if b is not out],
            )
            for out in planned
            if out.id not in fixed
        ]
    for words, boxes in asking:
        for need in needs:
            found = _decision(surveyed, need, rooms[need.room], boxes, words)
            if found is not None:
                yield found


def _decision(
    surveyed: Surveyed, need: Asked, room: Room, boxes: Sequence[Radiator], words: str
) -> Decision | None:
    """The margin at the place that decides: nine tenths of the room are served at least as surely."""
    airs = [
        air
        for box in boxes
        for air in surveyed.airs(box, room, need.client)
        if np.isfinite(least_dbm(air, need))
    ]
    places = surveyed.places(room)
    if not airs or not len(places):
        return None
    least = [least_dbm(air, need) for air in airs]
    sds = [np.hypot(air.sd_db, receiver_sd_db()) for air in airs]
    margins = np.array([(air.power_dbm - dbm) / sd for air, dbm, sd in zip(airs, least, sds, strict=True)])
    order = np.argsort(margins.max(axis=0), kind="stable")
    place = int(order[int(len(order) * (1 - SERVED_SHARE))])
    best = int(np.argmax(margins[:, place]))
    air = airs[best]
    ways = ways_to(surveyed.scene.scene, air.radiator.position_m, places[place : place + 1])
    return Decision(
        about=room.id,
        question=words.format(room=room.name),
        basis=surveyed.calibration.terms.basis(ways, Source(air.radiator.id, air.band), air.client),
        margin_db=float(air.power_dbm[place]) - least[best],
        sd_db=float(sds[best][place]),
        asked=need.probability,
    )
