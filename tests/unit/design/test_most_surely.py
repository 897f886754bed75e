"""A need that nothing here can meet says how much of it the best box would surely give."""

from __future__ import annotations

import re

import numpy as np

from rehaul.design.placing import placing_of
from rehaul.jobs import demo_job
from rehaul.planning import plan
from rehaul.predict import SERVED_SHARE, chance_met, receivers_of, scene_of

ROOM = "R01"


def asking(down_mbps: float):
    job = demo_job()
    needs = tuple(
        need.model_copy(update={"down_mbps": down_mbps, "wired_outlets": 0})
        for need in job.needs
        if need.room == ROOM
    )
    return job.model_copy(update={"needs": needs})


def test_the_most_is_reached_and_a_step_more_is_not() -> None:
    job = asking(600.0)
    placing = placing_of(job, scene_of(job.house, job.country), receivers_of(job.house))
    most = placing.served.most_mbps(0)
    assert 20 < most < 600
    boxes = [one for one in placing.served.radiators if one is not None]
    for rate, reached in ((most, True), (most + 5.0, False)):
        need = placing.needs[0].__class__(ROOM, rate, placing.needs[0].probability, placing.needs[0].client)
        shares = []
        for some in placing.served.airs._airs(boxes, need.client):
            airs = [air.at(placing.served.airs._at) for air in some]
            found = [chance_met(air, need) >= need.probability for air in airs]
            shares.append(float(np.logical_or.reduce(found).mean()) if found else 0.0)
        assert (max(shares) >= SERVED_SHARE) == reached


def test_the_plan_says_it_and_asking_for_it_is_served() -> None:
    (short,) = [row for row in plan(asking(600.0)).choice.shortfalls if row.room == ROOM]
    said = re.search(r"the most that one of them gives there, 90 % sure, is ([0-9]+) Mb/s", short.fix)
    assert said
    assert not [row for row in plan(asking(float(said[1]))).choice.shortfalls if row.room == ROOM]
