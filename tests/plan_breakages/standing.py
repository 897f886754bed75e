"""Plans broken in places."""

from __future__ import annotations

from plan_breakages.how import ap, breaks, inside
from rehaul.house import Job
from sample_plan_data import Data


@breaks("room-fit-for-a-box", "an access point in a bathroom")
def _(job: Job, data: Data) -> Job:
    return inside(job, "rooms", "rU0", bathroom=True)


@breaks("room-fit-for-a-box", "an access point in the garden")
def _(job: Job, data: Data) -> Job:
    return inside(job, "rooms", "rG1", outside=True)


@breaks("room-fit-for-a-box", "a new outlet in another household's room")
def _(job: Job, data: Data) -> Job:
    return inside(job, "rooms", "rU1", household="lodgers")


@breaks("room-fit-for-a-box", "the router moved into a bathroom")
def _(job: Job, data: Data) -> None:
    data["choice"]["router"].update(do="move", storey="U", position=[6.0, 5.0])


@breaks("in-its-room", "an access point drawn in the next room")
def _(job: Job, data: Data) -> None:
    ap(data, "AP1")["site"]["position"] = [5.0, 3.0]


@breaks("clear-of-openings", "an access point before a window")
def _(job: Job, data: Data) -> None:
    ap(data, "AP1")["site"]["position"] = [0.25, 4.8]


@breaks("clear-of-openings", "an access point over a door")
def _(job: Job, data: Data) -> None:
    ap(data, "AP2")["site"].update(position=[8.75, 3.0], height_m=2.3)


@breaks("solid-ceilings", "an access point on a concrete ceiling")
def _(job: Job, data: Data) -> Job:
    ap(data, "AP1")["site"]["mounting"] = "ceiling"
    return inside(job, "storeys", "U", ceiling="solid")


@breaks("metal-cans", "a radio and a battery in a metal can")
def _(job: Job, data: Data) -> Job:
    return inside(job, "meeting_points", "MP1", enclosure="flush metal can")


@breaks("metal-cans", "an access point in the can itself")
def _(job: Job, data: Data) -> Job:
    data["network"]["rack"] = []
    ap(data, "AP1")["site"].update(id="MP1", storey="G", position=[0.3, 0.3], room="rG0", run="")
    return inside(job, "meeting_points", "MP1", enclosure="flush metal can")


@breaks("rack-fits", "a rack wider than its cupboard")
def _(job: Job, data: Data) -> Job:
    return inside(job, "meeting_points", "MP1", enclosure="cupboard", inside_m=(0.4, 0.6, 0.3))


@breaks("outlets-found", "an access point at a plate nobody has found")
def _(job: Job, data: Data) -> None:
    ap(data, "AP1")["site"]["id"] = "U-09"
