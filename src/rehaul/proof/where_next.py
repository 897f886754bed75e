"""Where to stand next, so that what is to be decided gets certain soonest; and when to stop."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from rehaul.arrays import Reals
from rehaul.facts.calibration import calibration_number
from rehaul.facts.wlan_equipment import client_radios
from rehaul.house import Job, Model
from rehaul.predict import Radiator
from rehaul.predict.air import DEFAULT_CLIENT
from rehaul.predict.doubts import Sender, ways_to
from rehaul.predict.residual import ResidualView
from rehaul.proof.decisions import Surveyed, decisions_of
from rehaul.proof.reading_worth import Margin, change_chance, worth
from rehaul.words import Saying, say
from rehaul.words.fields import Words

SHOWN = 6  # verdicts


class OpenVerdict(Model):
    """One thing to be decided, and how surely it is known now."""

    room: str
    question: Words
    yes: bool
    chance: float  # that it is a yes
    may_turn: float  # chance that the best single reading turns the verdict over


class NextReading(Model):
    """Where to stand, or that no reading is worth a walk."""

    stop: bool
    sentence: Words
    room: str = ""
    storey: str = ""
    position: tuple[float, float] | None = None
    box: str = ""
    band: str = ""
    device: str = ""
    verdicts: tuple[OpenVerdict, ...] = ()  # the likeliest to turn first


@dataclass(frozen=True, eq=False)
class _Stand:
    """All places of the house, with one box to be read there in one band."""

    box: Radiator
    band: str
    view: ResidualView


def next_reading(
    surveyed: Surveyed, standing: Sequence[Radiator], planned: Sequence[Radiator] = ()
) -> NextReading:
    """The reading that makes the decisions at hand certain soonest.

    Parameters: `standing`, boxes that can be read now; `planned`, boxes of a plan, whose sites are then
    among the decisions. Where no box stands, one of the planned is put at its place for the reading.
    **Validity**: one reading ahead. **Source**: `worth` and `change_chance`.
    """
    decisions = tuple(decisions_of(surveyed, standing, planned))
    device, reading_sd_db = _device(surveyed.job)
    stands = _stands(surveyed, standing or planned, device)
    turn, beyond = np.zeros(len(decisions)), calibration_number("turn_beyond")
    for stand in stands if decisions else ():
        moves = worth(surveyed.calibration, stand.view, reading_sd_db, decisions).moves_db
        turn = np.maximum(turn, change_chance(decisions, moves, beyond).max(axis=0))
    verdicts = _verdicts(decisions, turn)
    still_open = [
        one for one, may in zip(decisions, turn, strict=True) if may >= calibration_number("stop_chance")
    ]
    if not still_open:
        return NextReading(stop=True, sentence=_stop_words(decisions, stands), verdicts=verdicts)
    found = [worth(surveyed.calibration, s.view, reading_sd_db, still_open) for s in stands]
    best = int(np.argmax([one.gain_db.max() for one in found]))
    place = int(np.argmax(found[best].gain_db))
    chances = change_chance(still_open, found[best].moves_db[place : place + 1], beyond)[0]
    question = still_open[int(np.argmax(chances))].question
    lent = stands[best].box if not standing else None
    where = stands[best].view.basis.points_m[place]
    return _spot(surveyed, stands[best], where, device, question, verdicts, lent)


def _stands(surveyed: Surveyed, boxes: Sequence[Radiator], device: str) -> list[_Stand]:
    """Every box and band that the device can read, over all places in rooms."""
    client = next((d.client for d in surveyed.job.devices if d.id == device), DEFAULT_CLIENT)
    points = surveyed.receivers.grid.points_m()[(surveyed.receivers.room >= 0).ravel()]
    found = []
    for box in boxes if len(points) else ():
        ways = ways_to(surveyed.scene.scene, box.position_m, points)
        for band in box.bands():
            if (client, band) in client_radios():
                basis = surveyed.calibration.doubts.basis(ways, Sender(box.id, band), client, device)
                found.append(_Stand(box, band, surveyed.calibration.view(basis)))
    return found


def _device(job: Job) -> tuple[str, float]:
    """The device read with most so far, and what a reading of power wanders [dB]."""
    used = Counter(reading.device for reading in job.readings if reading.device and not reading.wired)
    own_db = calibration_number("power_reading_sd")
    if not used:
        return "", own_db
    return min(used, key=lambda name: (-used[name], name)), own_db


def _verdicts(decisions: Sequence[Margin], turn: Reals) -> tuple[OpenVerdict, ...]:
    order = sorted(range(len(decisions)), key=lambda i: (-turn[i], i))[:SHOWN]
    return tuple(
        OpenVerdict(
            room=decisions[i].about,
            question=decisions[i].question,
            yes=decisions[i].yes,
            chance=round(decisions[i].chance, 3),
            may_turn=round(float(turn[i]), 3),
        )
        for i in order
    )


def _stop_words(decisions: Sequence[Margin], stands: Sequence[_Stand]) -> Saying:
    if not decisions:
        return say("proof.nothing_to_read")
    if not stands:
        return say("proof.no_box_to_read")
    return say("proof.stop_reading", chance_pct=100 * calibration_number("stop_chance"))


def _spot(
    surveyed: Surveyed,
    stand: _Stand,
    place: Reals,
    device: str,
    question: str,
    verdicts: tuple[OpenVerdict, ...],
    lent: Radiator | None,
) -> NextReading:
    grid, job = surveyed.receivers.grid, surveyed.job
    level = int(np.argmin(np.abs(np.array(grid.z_m) - place[2])))
    column = round((place[0] - grid.x0_m) / grid.step_m)
    row = round((place[1] - grid.y0_m) / grid.step_m)
    room = job.house.rooms[int(surveyed.receivers.room[level, row, column])]
    name = next((d.name for d in job.devices if d.id == device), say("proof.same_device"))
    said = {
        "room": room.name,
        "at_m": (float(place[0]), float(place[1])),
        "box": stand.box.name,
        "band_ghz": float(stand.band),
        "device": name,
        "question": question,
    }
    return NextReading(
        stop=False,
        sentence=say("proof.put_and_stand", lent=lent.name, **said) if lent else say("proof.stand", **said),
        room=room.id,
        storey=room.storey,
        position=(round(float(place[0]), 2), round(float(place[1]), 2)),
        box=stand.box.id,
        band=stand.band,
        device=device,
        verdicts=verdicts,
    )
