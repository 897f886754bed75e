"""Sentences on devices that cling: only where two boxes differ enough and the need falls short."""

import sys
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[2]))
from rehaul.house import Job, Need
from rehaul.predict import LinkRate, Radiator, airs_of, coverage, receivers_of, scene_of
from rehaul.predict.air import DEFAULT_LISTENER
from rehaul.wlan import sticks, walk
from sample_house import job as sample_job

EAST = Radiator("AP1", "East", "access point HE 2x2", (9.0, 6.0, 2.4), "ceiling")
WEST = Radiator("AP2", "West", "access point HE 2x2", (0.6, 0.6, 2.4), "ceiling")


@cache
def job(down_mbps: float) -> Job:
    rooms = [room for room in sample_job().house.rooms if room.storey == "G"]
    needs = tuple(Need(id=f"D{i}", room=room.id, down_mbps=down_mbps) for i, room in enumerate(rooms))
    return sample_job().model_copy(update={"needs": needs, "readings": ()})


def test_nothing_is_said_of_one_box() -> None:
    assert not [note for note in coverage(job(700.0), [EAST]).notes if "cling" in note]


def test_a_room_is_named_where_clinging_costs_its_need() -> None:
    """What the sentence says, checked on the field itself."""
    found = coverage(job(850.0), [EAST, WEST])
    clinging = [note for note in found.notes if note.startswith("In ")]
    assert clinging
    house = job(850.0).house
    receivers = receivers_of(house)
    airs = airs_of(job(850.0), scene_of(house), [EAST, WEST], receivers, DEFAULT_LISTENER)
    power = np.array([air.power_dbm for air in airs if air.band == "5"])
    stuck = sticks(power)
    for note in clinging:
        index = next(i for i, room in enumerate(house.rooms) if note.startswith(f"In {room.name} "))
        assert np.mean(stuck[receivers.room == index]) >= 0.5
        assert "AP" not in note and ("East" in note or "West" in note)


def test_a_small_need_is_met_by_the_far_box_too() -> None:
    assert not [note for note in coverage(job(5.0), [EAST, WEST]).notes if note.startswith("In ")]


def test_a_walk_is_told_only_where_the_device_clings_for_some_metres() -> None:
    """In the open, with levels that fall slowly, it changes late; beside each other never."""
    near = Radiator("AP3", "Near", "access point HE 2x2", (8.0, 6.0, 2.4), "ceiling")
    assert not [note for note in coverage(job(5.0), [EAST, near]).notes if "cling" in note]
    long = walk([np.linspace(-45, -70, 60), np.linspace(-70, -45, 60)])
    assert long.stuck.any()


def test_wires_do_not_change_who_is_heard() -> None:
    line = (LinkRate(name="plan", rate_mbps=5),)
    wired = [replace(box, wire=line) for box in (EAST, WEST)]
    assert not [note for note in coverage(job(4.0), wired).notes if note.startswith("In ")]
