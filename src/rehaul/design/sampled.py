"""Sampled fields of a house: its walls wrong together, each time in another way.

What all paths share through the doubts of the house is drawn once for a sample. What is left of the spread
of a place stays with the place, is alike nearby, and is drawn anew for each spot where a box stands. So a
place by itself has the spread that the maps show, and a room has all its places at once.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from rehaul.arrays import Bools, Floats
from rehaul.design.results import RoomChance
from rehaul.errors import BadInput
from rehaul.facts.calibration import calibration_number
from rehaul.facts.spectrum import BandGhz
from rehaul.house import Job
from rehaul.predict import (
    SERVED_SHARE,
    Air,
    Asked,
    Calibration,
    Coverage,
    HouseScene,
    Listener,
    Radiator,
    Receivers,
    asked,
    calibrate,
    chance_met,
    corrected_air,
)
from rehaul.predict.doubts import Basis, Sender, ways_to
from rehaul.predict.needs import air_asked_mbps
from rehaul.predict.paths import SpotXyz
from rehaul.predict.residual import parts, spreads_db
from rehaul.predict.shares import unread_variance
from rehaul.radio import Cells
from rehaul.wlan import Asks, ln_ease, receiver_sd_db
from rehaul.wlan.goodput import LOWEST_DBM, STEPS_PER_DB
from rehaul.words import say

SAMPLES = 400
MOST_PLACES = 240  # of a room; more of them hardly move the chance of the room
HOPELESS = 0.02  # a box that serves a room in fewer samples than this is taken to serve it in none
ROUNDING = np.float32(1e-4)  # keeps a covariance positive in single precision
BAND_HOPELESS = 0.002  # a band that carries the rate at a place with less chance than this is left out


def rooms_met(
    job: Job,
    scene: HouseScene,
    receivers: Receivers,
    radiators: Sequence[Radiator],
    needs: Sequence[Asked],
    calibration: Calibration | None = None,
    *,
    samples: int = SAMPLES,
    seed: int = 1,
) -> Bools:
    """Whether each box alone serves each room as a whole in each sampled field (samples, boxes, rooms).

    **Validity**, **Source** as `sampled_serves`.
    """
    met = np.zeros((samples, len(radiators), len(needs)), dtype=np.bool_)
    for index, need in enumerate(needs):
        places = _thinned(places_of(job, receivers, need.room))
        serves = sampled_serves(job, scene, radiators, need, places, calibration, samples=samples, seed=seed)
        met[:, :, index] = _whole(serves)
    return met


def room_chances(
    job: Job,
    scene: HouseScene,
    receivers: Receivers,
    radiators: Sequence[Radiator],
    calibration: Calibration | None = None,
    *,
    samples: int = SAMPLES,
    seed: int = 2,
) -> tuple[RoomChance, ...]:
    """Chance that all boxes together serve each room that asks as a whole: nine places of ten at once.

    **Validity**, **Source** as `sampled_serves`; a standard error of sqrt(p (1 - p) / samples).
    """
    names = {room.id: room.name for room in job.house.rooms}
    found = []
    for need in (need for need in asked(job) if need.rated):
        places = _thinned(places_of(job, receivers, need.room))
        serves = sampled_serves(job, scene, radiators, need, places, calibration, samples=samples, seed=seed)
        chance = float(_whole(np.asarray(serves.any(axis=1))).mean())
        found.append(
            RoomChance(room=need.room, name=names[need.room], asked=need.probability, chance=round(chance, 3))
        )
    return tuple(found)


def sampled_serves(
    job: Job,
    scene: HouseScene,
    radiators: Sequence[Radiator],
    need: Asked,
    places: Cells,
    calibration: Calibration | None = None,
    *,
    samples: int = SAMPLES,
    seed: int = 1,
) -> Bools:
    """Whether each box serves each place of a room in each sampled field (samples, boxes, places).

    Parameters
    ----------
    radiators : boxes; those at one spot are one radio of several classes, and fare alike
    need, places : what the room asks for, and its places
    samples, seed : how many fields, and which; the doubts of the house are drawn alike for every room

    **Validity** a place's own error is independent between spots, and as alike between two bands of one box
    as the fact table says. A box with next to no chance in the room is taken to have none.
    **Source** spreads and correlations of the prediction: `rehaul.predict.doubts` and `residual`.
    """
    calibration = calibration or calibrate(scene, [], learnt=job.learnt)
    serves = np.zeros((samples, len(radiators), len(places)), dtype=np.bool_)
    hopeful = [
        (row, air)
        for row, radiator in enumerate(radiators)
        for air in _hopeful(
            corrected_air(job, scene, radiator, places, Listener(need.client), calibration), need
        )
    ]
    losses_db = _losses_db(scene, [air for _, air in hopeful], places, calibration, samples, seed)
    shares = _ln_shares([air for _, air in hopeful], places, calibration, samples, seed)
    for row, air in hopeful:
        asked_mbps = air_asked_mbps(air, need)
        if asked_mbps is None:
            continue
        key = air.radiator.position_m, air.band
        level = (air.power_dbm - losses_db[key] - np.float32(LOWEST_DBM)) * np.float32(STEPS_PER_DB)
        ease = ln_ease(air.link, Asks(*asked_mbps))
        times = ease[np.clip(level + np.float32(0.5), 0, len(ease) - 1).astype(np.intp)]
        serves[:, row] |= times + shares[key] >= 0
    return serves


def _ln_shares(
    airs: Sequence[Air], places: Cells, calibration: Calibration, samples: int, seed: int
) -> dict[tuple[SpotXyz, BandGhz], Floats]:
    """Logarithm of the delivered share, by spot and band (samples, places).

    What readings say of boxes and devices is drawn once for a sample, the device's part that nobody read
    too, that of a box once for its spot; what is of place and hour is as alike nearby as what is left of
    the power.
    """
    of_key = {(air.radiator.position_m, air.band): air for air in airs}
    if not of_key:
        return {}
    random, known = np.random.default_rng((seed, 4)), calibration.doubts
    device = random.standard_normal((samples, 1), dtype=np.float32)
    spots = list(dict.fromkeys(spot for spot, _ in of_key))
    box = dict(zip(spots, random.standard_normal((len(spots), samples, 1), dtype=np.float32), strict=True))
    doubts = _shared_doubts(calibration, samples, seed)  # the same as of the losses: they hang together
    own_sd = np.array([[[air.delivered.own_sd]] for air in of_key.values()], dtype=np.float32)
    about_the_room = own_sd, np.zeros_like(own_sd)
    own = _own_errors(places, list(of_key), about_the_room, samples, seed, stream=5)
    found = {}
    for number, ((spot, band), air) in enumerate(of_key.items()):
        box_sd, device_sd = np.sqrt(unread_variance(known, air.radiator.id, air.client, band))
        ln = own[:, number]
        ln += np.float32(box_sd) * box[spot] + np.float32(device_sd) * device
        ln += (doubts @ known.share_row(air.radiator.id, air.client).astype(np.float32))[:, None]
        found[spot, band] = ln + np.float32(air.delivered.ln_mean)
    return found


def _losses_db(
    scene: HouseScene,
    airs: Sequence[Air],
    places: Cells,
    calibration: Calibration,
    samples: int,
    seed: int,
) -> dict[tuple[SpotXyz, BandGhz], Floats]:
    """Loss beyond the predicted, the receiver's error in it, by spot and band (samples, places)."""
    of_key = {(air.radiator.position_m, air.band): air for air in airs}
    if not of_key:
        return {}
    ways = {spot: ways_to(scene.scene, spot, places) for spot, _ in of_key}
    bases = [
        calibration.doubts.basis(ways[spot], Sender(air.radiator.id, band), air.client)
        for (spot, band), air in of_key.items()
    ]
    design = np.concatenate([basis.design for basis in bases], axis=1)
    shape = (samples, len(of_key), len(places))
    loss_db = (_shared_doubts(calibration, samples, seed) @ design).reshape(shape)
    loss_db += _levels_db(bases, samples, seed)
    sd_db = np.array([air.sd_db for air in of_key.values()])
    left = np.maximum(sd_db**2 - np.var(loss_db, axis=0), 0.0)
    loss_db += _own_errors(places, list(of_key), spreads_db(left), samples, seed)
    device = np.random.default_rng((seed, 1)).standard_normal((samples, 1, 1), dtype=np.float32)
    loss_db += np.float32(receiver_sd_db()) * device
    return {key: loss_db[:, number] for number, key in enumerate(of_key)}


def _whole(serves: Bools) -> Bools:
    """Whether the asked-for share of the places, the last axis, is served at once."""
    return np.asarray(serves.mean(axis=-1) >= SERVED_SHARE - 1e-9)


def _thinned(places: Cells) -> Cells:
    """The places, or so many of a room that has more; drawn, since every third may be one column."""
    order = np.random.default_rng(0).permutation(len(places))
    return places[np.sort(order[:MOST_PLACES])]


def room_index(job: Job, room: str) -> int:
    """The place of a room in the house. Raises StopIteration for a room that the house does not have."""
    return next(i for i, candidate in enumerate(job.house.rooms) if candidate.id == room)


def places_of(job: Job, receivers: Receivers, room: str) -> Cells:
    """Receivers of a room. Raises BadInput for a room that holds none.

    Returns them in the order of the grid. Raises StopIteration for a room that the house does not have.
    """
    cells = receivers.in_rooms[np.arange(len(receivers.in_rooms))[receivers.span(room_index(job, room))]]
    if not len(cells):
        raise BadInput(
            say("refused_design.small_room"),
            where=say("refused_common.where_room", name=room),
            remedy=say("refused_design.draw_larger"),
        )
    return cells


def judged_whole(found: Coverage, chances: Sequence[RoomChance]) -> Coverage:
    """The same prediction, its rooms met where the chance of the whole room is what they ask.

    Parameters: `chances`, of `room_chances` for the same boxes. Rooms without one stay as they were; one
    that answers too late is never met. **Source**: docs/choosing.md, "Place by place, or the whole room".
    """
    met = {row.room: row.chance >= row.asked for row in chances}
    rooms = tuple(
        row.model_copy(update={"met": met.get(row.room, row.met) and not row.too_late}) for row in found.rooms
    )
    return replace(found, rooms=rooms)


def _shared_doubts(calibration: Calibration, samples: int, seed: int) -> Floats:
    """Errors of the doubts of the house (samples, doubts), as far as the maps count them."""
    covariance = calibration.correction.covariance
    root = np.linalg.cholesky(covariance + 1e-9 * np.eye(len(covariance)))
    drawn = np.random.default_rng((seed, 0)).standard_normal((samples, len(covariance)))
    return np.asarray(drawn @ root.T, dtype=np.float32)


def _levels_db(bases: Sequence[Basis], samples: int, seed: int) -> Floats:
    """Errors of boxes and of the device that nobody read (samples, keys, 1): alike at all places."""
    random = np.random.default_rng((seed, 3))
    box = np.sqrt([[[basis.box_variance] for basis in bases]]) * random.standard_normal(
        (samples, len(bases), 1)
    )
    device = np.sqrt([[[basis.device_variance] for basis in bases]]) * random.standard_normal((samples, 1, 1))
    return np.asarray(box + device, dtype=np.float32)


def _own_errors(
    places: Cells,
    keys: Sequence[tuple[SpotXyz, BandGhz]],
    spreads: tuple[Floats, Floats],
    samples: int,
    seed: int,
    stream: int = 2,
) -> Floats:
    """Errors that stay with the places, (samples, keys, places).

    `spreads`: of the two parts of what is left over, each (keys, places) or what broadcasts to it.
    """
    random = np.random.default_rng((seed, stream))
    points = places.points_m()
    together = np.float32(calibration_number("bands_alike"))
    spots = list(dict.fromkeys(spot for spot, _ in keys))
    of_spot = [spots.index(spot) for spot, _ in keys]
    shape = (samples, len(keys), len(places))
    found = np.zeros(shape, dtype=np.float32)
    for part, spread in zip(parts(), spreads, strict=True):
        if not np.any(spread):
            continue
        near = part.alike(points, points)
        root = np.linalg.cholesky(near + ROUNDING * np.eye(len(places), dtype=np.float32))
        both = random.standard_normal((samples, len(spots), len(places)), dtype=np.float32)
        own = np.sqrt(1 - together) * random.standard_normal(shape, dtype=np.float32)
        own += np.sqrt(together) * both[:, of_spot]
        own = (own.reshape(-1, len(places)) @ root.T).reshape(shape)
        own += np.sqrt(np.float32(1.0 - part.share)) * random.standard_normal(shape, dtype=np.float32)
        found += spread.reshape(-1, spread.shape[-1]) * own
    return found


def _hopeful(airs: Sequence[Air], need: Asked) -> list[Air]:
    """The airs of one box that have a chance; none where it serves the room in next to no sample.

    By Markov's inequality the share of samples in which nine places of ten are served is at most the mean
    chance of a place over 0.9.
    """
    if not airs:
        return []
    chances = [float(chance_met(air, need).mean()) for air in airs]
    if sum(chances) < SERVED_SHARE * HOPELESS:
        return []
    return [air for air, chance in zip(airs, chances, strict=True) if chance >= BAND_HOPELESS]
