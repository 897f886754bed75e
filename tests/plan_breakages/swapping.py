"""Plans broken in what they give old devices."""

from __future__ import annotations

from plan_breakages.how import breaks, changed, part_of, room
from rehaul.house import Job
from sample_plan_data import Data

RULE = "device-swap-told"


def swapped(job: Job, data: Data) -> Job:
    """The sample plan with a new radio for an old laptop in the kitchen, told as it should be."""
    name = "device rG2"
    data["choice"]["devices"] = [
        {
            "id": name,
            "room": "rG2",
            "name": room(data, "rG2")["name"],
            "was": "old laptop",
            "becomes": "plug-in adapter",
            "item": "radio_adapter",
            "way": name,
            "words": "",
            "cost": 28.0,
            "by": "household",
        }
    ]
    data["choice"]["ways"] = [*data["choice"]["ways"], name]
    data["takeoff"]["parts"].append(
        {
            "item": "radio_adapter",
            "need": 1,
            "quantity": 1,
            "unit": "each",
            "unit_price": 28.0,
            "price": 28.0,
            "because": [name, "rG2"],
        }
    )
    last = data["order"][-1]
    data["order"].insert(
        0,
        dict(
            last,
            id="T00",
            norm="swap_device",
            title="Plug it in",
            needs=[],
            because=["rG2", name],
            by="household",
        ),
    )
    return job.model_copy(update={"needs": changed(job.needs, "N-rG2", client="old laptop")})


@breaks(RULE, "a new radio for a device that no need names")
def _(job: Job, data: Data) -> Job:
    swapped(job, data)
    return job


@breaks(RULE, "a new radio that nobody buys")
def _(job: Job, data: Data) -> Job:
    found = swapped(job, data)
    data["takeoff"]["parts"].pop()
    return found


@breaks(RULE, "a new radio that nobody plugs in")
def _(job: Job, data: Data) -> Job:
    found = swapped(job, data)
    data["order"].pop(0)
    return found


@breaks(RULE, "a new radio that is nobody's step at no pay")
def _(job: Job, data: Data) -> Job:
    found = swapped(job, data)
    data["order"][0]["by"] = "us"
    return found


@breaks(RULE, "a new radio in a room that is met today")
def _(job: Job, data: Data) -> Job:
    found = swapped(job, data)
    room(data, "rG2", "before")["met"] = True
    return found


@breaks(RULE, "a new radio that is not what the part makes")
def _(job: Job, data: Data) -> Job:
    found = swapped(job, data)
    data["choice"]["devices"][0]["becomes"] = "new phone"
    return found


@breaks(RULE, "a new radio that was not chosen")
def _(job: Job, data: Data) -> Job:
    found = swapped(job, data)
    data["choice"]["devices"][0]["way"] = "device rU0"
    return found


@breaks(RULE, "a new radio although none is wanted")
def _(job: Job, data: Data) -> Job:
    return part_of(swapped(job, data), "choices", swap_devices=False)


@breaks(RULE, "a new radio beside a router that moves")
def _(job: Job, data: Data) -> Job:
    found = swapped(job, data)
    data["choice"]["router"].update(do="move", position=[1.0, 1.0])
    return found


@breaks(RULE, "our own work left to the household")
def _(job: Job, data: Data) -> None:
    data["order"][-1]["by"] = "household"


@breaks(RULE, "a radio plugged in that is not in the plan")
def _(job: Job, data: Data) -> Job:
    found = swapped(job, data)
    data["choice"]["devices"] = []
    return found
