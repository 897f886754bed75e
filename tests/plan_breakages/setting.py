"""Plans broken in what they set afresh."""

from __future__ import annotations

from plan_breakages.how import breaks, changed, pick
from rehaul.house import Job
from rehaul.house.job import RadioSetting
from sample_plan_data import Data

RULE = "set-afresh-told"
BOX = "RT1"


def afresh(job: Job, data: Data) -> Job:
    """The sample plan with its router set afresh, told as it should be."""
    row = next(
        row for row in data["channels"]["channels"] if row["access_point"] == BOX and row["band"] == "5"
    )
    narrow = (RadioSetting.model_validate({"band": "5", "channel": 36, "width_mhz": 20}),)
    assert row["width_mhz"] > 20
    data["choice"]["set_afresh"] = [{"box": BOX, "name": "Router", "words": "Set the radio of Router afresh"}]
    step = pick(data["order"], "configure", "norm")
    step["because"] = [*step["because"], BOX]
    return job.model_copy(update={"boxes": changed(job.boxes, BOX, set_to=narrow)})


@breaks(RULE, "a box set afresh that is not known to be narrow")
def _(job: Job, data: Data) -> Job:
    found = afresh(job, data)
    return found.model_copy(update={"boxes": changed(found.boxes, BOX, set_to=())})


@breaks(RULE, "a box set afresh that goes")
def _(job: Job, data: Data) -> Job:
    found = afresh(job, data)
    return found.model_copy(update={"boxes": changed(found.boxes, BOX, keep=False)})


@breaks(RULE, "a box set afresh by no step")
def _(job: Job, data: Data) -> Job:
    found = afresh(job, data)
    pick(data["order"], "configure", "norm")["because"] = []
    return found


@breaks(RULE, "channels set where nothing is to be set")
def _(job: Job, data: Data) -> Job:
    data["choice"]["access_points"] = []
    return job
