"""What a live map says of its rooms is what a plan says of them; and what the air alone would carry."""

from __future__ import annotations

import numpy as np
import pytest

from drawn_houses import drawn_job
from rehaul.house import Job
from rehaul.jobs import demo_job
from rehaul.planning.survey import survey_of
from rehaul.predict import receivers_of, standing_radiators
from rehaul.predict.moving import Moving
from sample_house import job as sample_job

JOBS = {
    "with readings": demo_job(),
    "without readings": sample_job().model_copy(update={"readings": ()}),
    **{f"drawn {seed}": drawn_job(seed) for seed in (3, 8, 21)},
}


@pytest.mark.parametrize("job", JOBS.values(), ids=JOBS)
def test_a_room_gets_by_the_map_what_it_gets_by_the_plan(job: Job) -> None:
    radiators = standing_radiators(job)
    survey = survey_of(job)
    receivers = survey.receivers
    rows = {row.room: row for row in survey.before.rooms}
    moving, seen = Moving(), set()
    for storey in job.house.storeys:
        frame = moving.frame(job, radiators, storey.id, receivers.grid.step_m)
        for down, up in zip(frame.by_room(), frame.by_room(up=True), strict=True):
            assert down.room == up.room
            if down.room not in rows:  # nobody lives there and nothing is asked
                continue
            row = rows[down.room]
            seen.add(down.room)
            assert row.storey == storey.id
            assert down[1:4] == (row.low_mbps, row.median_mbps, row.high_mbps)
            assert up[1:4] == (row.up_low_mbps, row.up_median_mbps, row.up_high_mbps)
            if row.links:  # the last link is the air
                assert down.air_mbps == row.links[-1].rate_mbps
                assert up.air_mbps == row.links[-1].rate_up_mbps
            else:
                assert down.air_mbps == 0.0
    assert seen == set(rows)


def test_the_air_alone_does_not_ask_what_is_paid_for() -> None:
    dear = JOBS["without readings"]
    job = dear.model_copy(update={"service": dear.service.model_copy(update={"down_mbps": 60.0})})
    for storey in job.house.storeys:
        frames = [
            Moving().frame(one, standing_radiators(one), storey.id, receivers_of(one.house).grid.step_m)
            for one in (job, dear)
        ]
        air, rate = frames[0].air_mbps(), frames[0].rate_mbps()
        assert np.array_equal(air, frames[1].air_mbps(), equal_nan=True)
        assert np.array_equal(np.isnan(air), np.isnan(rate))
        assert np.nanmin(air - rate) > -1e-3, "no place gets more than its air carries"
        assert np.nanmax(rate) <= job.service.down_mbps < np.nanmax(air)
