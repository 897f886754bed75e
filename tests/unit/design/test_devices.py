"""An old device given a new radio: when it is offered, what it serves, and what it is worth."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest

from plans_once import made_weighed
from rehaul.design.devices import helps, with_new_radios
from rehaul.design.placing import Placing, placing_of
from rehaul.facts.wlan_equipment import access_point_radios, client_radios, device_swaps
from rehaul.facts.work import prices
from rehaul.house import Job
from rehaul.jobs import open_job
from rehaul.planning import plan
from rehaul.predict import SERVED_SHARE, coverage, receivers_of, scene_of, standing_radiators
from rehaul.wlan import link_between, power_needed_dbm

EXAMPLES = Path(__file__).parents[3] / "examples"


def flat(**need: Any) -> Job:
    """The flat with the old laptop, its bedroom asking otherwise."""
    job = open_job(EXAMPLES / "1974-flat-old-laptop.rehaul.json")
    needs = tuple(n.model_copy(update=need) if n.room == "r5" else n for n in job.needs)
    return job.model_copy(update={"needs": needs})


def choosing(job: Job, **choices: Any) -> Job:
    return job.model_copy(update={"choices": job.choices.model_copy(update=choices)})


def placed(job: Job) -> Placing:
    return placing_of(job, scene_of(job.house, job.country), receivers_of(job.house))


def devices(found: Placing) -> list[str]:
    return [option.id for option in found.offering.options if option.what == "device"]


def test_it_is_offered_for_a_room_short_only_for_its_old_device() -> None:
    found = placed(flat())
    assert devices(found) == ["device r5"]
    option = found.option("device r5")
    assert option.needs == ("device r5", "router here")
    assert found.offering.works.cost("device r5").middle == prices()["radio_adapter"].unit_price


@pytest.mark.parametrize(
    "job",
    [
        flat(client=None),  # a good device
        flat(client="camera"),  # an old one that takes no new radio
        flat(down_mbps=5.0),  # served as it is
        flat(down_mbps=390.0, probability=0.999),  # short with the new radio too
        choosing(flat(), swap_devices=False),
    ],
    ids=["good device", "no plug", "served", "short all the same", "not wanted"],
)
def test_it_is_not_offered(job: Job) -> None:
    assert devices(placed(job)) == []


def test_it_serves_what_the_boxes_that_stay_serve_the_new_radio() -> None:
    """The same share by another road: the prediction of the house with the new radio, over its rooms."""
    job = flat()
    found = placed(job)
    row = [option.id for option in found.offering.options].index("device r5")
    index = [need.room for need in found.needs].index("r5")
    places = found.problem.requirements[index].places
    share = found.problem.serves[row][places].mean()
    needs = tuple(
        n.model_copy(update={"client": "plug-in adapter"}) if n.room == "r5" else n for n in job.needs
    )
    rooms = coverage(job.model_copy(update={"needs": needs}), standing_radiators(job)).rooms
    said = next(room for room in rooms if room.room == "r5").served_pct
    assert 100 * share == pytest.approx(said, abs=0.06)
    assert not np.delete(found.problem.serves[row], places).any()


def test_the_new_radio_is_never_worse_than_the_old_one() -> None:
    """What a new box serves the old device it serves the new one too: the choice adds both up."""
    for swap in device_swaps().values():
        for name, band in access_point_radios():
            old = link_between(name, swap.old, band)
            new = link_between(name, swap.becomes, band)
            if old is None:
                continue
            assert new is not None, (swap.becomes, band)
            gain_db = (
                client_radios()[swap.becomes, band].antenna_dbi - client_radios()[swap.old, band].antenna_dbi
            )
            for rate_mbps in (1.0, 5.0, 20.0, 50.0, 100.0):
                needed = power_needed_dbm(rate_mbps, old)
                assert power_needed_dbm(rate_mbps, new) <= needed + gain_db + 1e-6, (name, band, rate_mbps)


def test_the_router_that_moves_and_the_new_radio_are_not_chosen_together() -> None:
    works = placed(flat()).offering.works
    moved = [
        work for work in works.known.values() if work.id.startswith("router ") and work.id != "router here"
    ]
    assert moved and all(work.excludes == works.known["router here"].excludes for work in moved)


def test_whole_rooms_weigh_it_too() -> None:
    found = plan(choosing(flat(), whole_rooms=True))
    assert [device.room for device in found.choice.devices] == ["r5"]
    chance = next(row.chance for row in found.choice.room_chances if row.room == "r5")
    assert chance >= 0.9 and found.findings == ()


def test_every_offer_of_the_front_has_its_own_devices() -> None:
    weighed = made_weighed(flat())
    front = weighed.chosen.choice.front
    assert [point.devices for point in front] == [(), ("Bedroom",)]
    assert with_new_radios(weighed.survey.job, ()) is weighed.survey.job


def test_helps_only_across_the_share_that_is_asked() -> None:
    short, enough = np.arange(100) < 80, np.arange(100) < 100 * SERVED_SHARE
    assert helps(short, enough)
    assert not helps(enough, enough) and not helps(short, short)
