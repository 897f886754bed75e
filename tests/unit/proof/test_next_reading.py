"""Where to stand next on the demo house, and that the asking ends."""

from __future__ import annotations

import pytest

from rehaul.house import Job, Quantity, Reading
from rehaul.house.geometry import room_at
from rehaul.jobs import demo_job
from rehaul.predict import calibration_of, receivers_of, scene_of, standing_radiators
from rehaul.proof import NextReading, Surveyed, next_reading


def ask(job: Job) -> NextReading:
    scene, standing = scene_of(job.house, job.country), standing_radiators(job)
    surveyed = Surveyed(job, scene, receivers_of(job.house, 0.5), calibration_of(job, scene, standing))
    return next_reading(surveyed, standing)


@pytest.fixture(scope="module")
def job() -> Job:
    return demo_job()


def test_it_names_a_place_in_a_room_and_a_box_that_stands(job: Job) -> None:
    found = ask(job)
    assert not found.stop and found.position is not None
    room = next(room for room in job.house.rooms if room.id == found.room)
    assert room_at(job.house, found.storey, found.position) == room
    assert found.box in {box.id for box in job.boxes}
    assert room.name in found.sentence and found.band in found.sentence
    names = {device.id: device.name for device in job.devices}
    assert f"with {names.get(found.device, 'the same device as ever')}." in found.sentence
    turns = [verdict.may_turn for verdict in found.verdicts]
    assert turns == sorted(turns, reverse=True) and turns[0] >= 0.05


def test_following_it_comes_to_an_end(job: Job) -> None:
    """A walk that reads what is asked for, in a house as predicted, stops within a dozen readings."""
    for count in range(12):
        found = ask(job)
        if found.stop:
            break
        assert found.position is not None
        value = predicted_dbm(job, found)
        reading = Reading(
            id=f"N{count}",
            quantity=Quantity.POWER_DBM,
            value=value,
            room=found.room,
            storey=found.storey,
            position=found.position,
            device=found.device or None,
            box=found.box,
            band=found.band,
        )
        job = job.model_copy(update={"readings": (*job.readings, reading)})
    assert found.stop and found.sentence.startswith("Stop")
    assert all(verdict.may_turn < 0.05 for verdict in found.verdicts)


def predicted_dbm(job: Job, found: NextReading) -> float:
    from rehaul.predict import Listener, air_of
    from rehaul.predict.observations import place_of

    probe = Reading(
        id="P", quantity=Quantity.POWER_DBM, value=0, storey=found.storey, position=found.position
    )
    box = next(box for box in standing_radiators(job) if box.id == found.box)
    client = next(device.client for device in job.devices if device.id == found.device)
    airs = air_of(
        scene_of(job.house, job.country), box, [place_of(job, probe)], job.country, Listener(client)
    )
    return round(float(next(air for air in airs if air.band == found.band).power_dbm[0]), 1)


def test_without_needs_there_is_nothing_to_settle(job: Job) -> None:
    found = ask(job.model_copy(update={"needs": ()}))
    assert found.stop and "No room asks" in found.sentence
