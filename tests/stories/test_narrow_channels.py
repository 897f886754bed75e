"""Rooms that the channels as planned leave short are said to be short, with what would mend it."""

from __future__ import annotations

from pathlib import Path

from plans_once import made_plan
from rehaul.jobs import open_job
from rehaul.planning import plan

EXAMPLE = Path(__file__).parents[2] / "examples" / "2001-eight-home-runs.rehaul.json"


def test_every_room_that_is_not_met_is_listed_as_short() -> None:
    job = open_job(EXAMPLE)
    narrow = plan(job.model_copy(update={"choices": job.choices.model_copy(update={"dfs": False})}))
    unmet = {room.room for room in narrow.after.rooms if room.need_mbps and not room.met}
    assert unmet  # three access points cannot all be 80 MHz wide without radar-shared channels here
    assert unmet == {short.room for short in narrow.choice.shortfalls}
    assert all("radar-shared" in short.fix for short in narrow.choice.shortfalls)
    assert not made_plan(job).choice.shortfalls
