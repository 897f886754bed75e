"""What is to be decided about a house's rooms, each as one margin at one deciding place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from rehaul.house import Job, Room
from rehaul.normal import quantile
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
    chance_met,
    corrected_air,
    receivers_of,
    scene_of,
    standing_radiators,
)
from rehaul.predict.doubts import Sender, ways_to
from rehaul.predict.needs import air_asked_mbps
from rehaul.proof.reading_worth import Margin
from rehaul.words import Saying, say

STEP_M = 0.5  # nobody stands more exactly than that
LEAST_CHANCE = 1e-6  # keeps a chance within what its score can say
SLOPE_STEP_DB = 1.0  # as apart as the steps of power that chances are worked out at
LEAST_SLOPE = 0.01  # standard deviations a decibel; less than that is nothing


@dataclass(frozen=True, eq=False)
class Surveyed:
    """A house with what its readings say, ready to be asked."""

    job: Job
    scene: HouseScene
    receivers: Receivers
    calibration: Calibration
    _airs: dict[tuple[Radiator, str, str], tuple[Air, ...]] = field(default_factory=dict)

    def places(self, room: Room) -> NDArray[np.float64]:
        """Where one can stand in a room (k, 3) [m].

        Parameters: `room`, one of the job's. Heights are those of the receivers; empty where the room holds
        no receiver of the grid.
        """
        here = self.receivers.of_room(self.job.house.rooms.index(room))
        return np.asarray(self.receivers.grid.points_m()[here], dtype=np.float64)

    def airs(self, radiator: Radiator, room: Room, client: str) -> tuple[Air, ...]:
        """The air of a box in a room, corrected; worked out once.

        Parameters: `radiator`, whatever it is and wherever it stands; `client`, a class of the fact table of
        client radios. Returns one air for each band that both can use, at `places(room)`; empty where there
        is none.
        """
        key = radiator, room.id, client
        if key not in self._airs:
            places = self.places(room)
            self._airs[key] = corrected_air(
                self.job, self.scene, radiator, places, Listener(client), self.calibration
            )
        return self._airs[key]


def surveyed(job: Job, step_m: float = STEP_M) -> Surveyed:
    """A job with its readings taken in; places are `step_m` apart.

    Returns the house ready to be asked by `decisions_of` and `next_reading`.

    **Validity**: the readings taken before the work alone are taken in, against the boxes that stand today.
    **Source**: docs/calibration.md.
    """
    scene, boxes = scene_of(job.house, job.country), standing_radiators(job)
    return Surveyed(job, scene, receivers_of(job.house, step_m), calibration_of(job, scene, boxes))


def decisions_of(
    surveyed: Surveyed, standing: Sequence[Radiator], planned: Sequence[Radiator] = ()
) -> Iterator[Margin]:
    """Every yes or no that a reading could help with.

    Is each room served today; do the planned boxes serve it; would they without any one of them. A room
    that wires alone keep from what it needs is no question for the air. **Source**: docs/proof.md, "The next
    reading".
    """
    rooms = {room.id: room for room in surveyed.job.house.rooms}
    needs = [need for need in asked(surveyed.job) if need.rated]
    asking: list[tuple[str, dict[str, str], Sequence[Radiator]]] = [("proof.served_today", {}, standing)]
    if planned:
        asking.append(("proof.served_chosen", {}, planned))
        fixed = {box.id for box in standing}
        asking += [
            ("proof.served_without", {"box": out.name}, [b for b in planned if b is not out])
            for out in planned
            if out.id not in fixed
        ]
    for code, named, boxes in asking:
        for need in needs:
            room = rooms[need.room]
            found = _decision(surveyed, need, room, boxes, say(code, room=room.name, **named))
            if found is not None:
                yield found


def _decision(
    surveyed: Surveyed, need: Asked, room: Room, boxes: Sequence[Radiator], question: Saying
) -> Margin | None:
    """The margin at the place that decides: nine tenths of the room are served at least as surely."""
    airs = [
        air
        for box in boxes
        for air in surveyed.airs(box, room, need.client)
        if air_asked_mbps(air, need) is not None
    ]
    places = surveyed.places(room)
    if not airs or not len(places):
        return None
    scores = np.array([_score(air, need) for air in airs])
    order = np.argsort(scores.max(axis=0), kind="stable")
    place = int(order[int(len(order) * (1 - SERVED_SHARE))])
    best = int(np.argmax(scores[:, place]))
    air = airs[best]
    margin_db, sd_db = _margin_db(air.at(np.array([place])), need)
    ways = ways_to(surveyed.scene.scene, air.radiator.position_m, places[place : place + 1])
    return Margin(
        about=room.id,
        question=question,
        basis=surveyed.calibration.doubts.basis(ways, Sender(air.radiator.id, air.band), air.client),
        margin_db=margin_db,
        sd_db=sd_db,
        asked=need.probability,
    )


def _score(air: Air, need: Asked) -> NDArray[np.float64]:
    """The chance that the need is met, as standard deviations of a normal (k,)."""
    chance = chance_met(air, need).astype(np.float64)
    return np.asarray(quantile(np.clip(chance, LEAST_CHANCE, 1 - LEAST_CHANCE)), dtype=np.float64)


def _margin_db(air: Air, need: Asked) -> tuple[float, float]:
    """Margin and its spread at one place [dB], such that their ratio is the chance and a decibel moves it.

    The spread holds that of the delivered share, turned into decibels of power by how much one decibel
    does there: where more power would give no more, next to nothing, and a reading of power is worth as
    little.
    """
    lower, here, higher = (
        float(_score(replace(air, power_dbm=air.power_dbm + np.float32(step_db)), need)[0])
        for step_db in (-SLOPE_STEP_DB, 0.0, SLOPE_STEP_DB)
    )
    sd_db = 1.0 / max((higher - lower) / (2 * SLOPE_STEP_DB), LEAST_SLOPE)
    return here * sd_db, sd_db
