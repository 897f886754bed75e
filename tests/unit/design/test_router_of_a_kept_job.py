"""Where an edit leaves the router as it was, what was kept of the job before holds another copy of it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from rehaul.house import Box, Job
from rehaul.jobs import open_job
from rehaul.planning import plan_data, weigh
from rehaul.predict.kept import KeptHouse

HOUSE = Path(__file__).parents[3] / "examples" / "2001-eight-home-runs.rehaul.json"
AWAY = {"BX1": (8.1, 5.6), "BX2": (12.4, 1.6)}  # from where the cables meet
KEPT = {"BX1": True, "BX2": True, "BX3": False}


def stood_away(box: Box) -> Box:
    """The old router stays and the new one need not."""
    return box.model_copy(update={"position": AWAY.get(box.id, box.position), "keep": KEPT[box.id]})


@pytest.mark.parametrize("ups_minutes", [0.0, 20.0])
def test_its_own_ports_hang_on_the_battery_whichever_copy_of_it_is_asked(ups_minutes: float) -> None:
    job = open_job(HOUSE)
    choices = job.choices.model_copy(update={"ups_minutes": ups_minutes})
    job = job.model_copy(update={"boxes": tuple(map(stood_away, job.boxes)), "choices": choices})
    again = Job.model_validate_json(job.model_dump_json())
    assert again == job and again.boxes[1] is not job.boxes[1]
    kept = KeptHouse()
    first = weigh(job, kept=kept).fresh
    assert any(
        " own ports " in way and "router in" in " ".join(point.ways)
        for point in first.choice.front
        for way in point.ways
    ), "the front has a point at which a router that moves is the switch as well"
    assert json.dumps(plan_data(weigh(again, kept=kept).fresh)) == json.dumps(plan_data(first))
