"""Plans broken in needs and in what people decided."""

from __future__ import annotations

from plan_breakages.how import ap, breaks, changed, drop, link, option, part_of, room
from rehaul.house import Job
from sample_plan_data import Data


@breaks("met-is-met", "a room said to be met over half its area")
def _(job: Job, data: Data) -> None:
    room(data, "rU0")["served_pct"] = 55.0


@breaks("met-is-met", "a room said to be met that cannot send")
def _(job: Job, data: Data) -> None:
    room(data, "rU0")["up_served_pct"] = 10.0


@breaks("met-is-met", "a whole room less sure than asked")
def _(job: Job, data: Data) -> Job:
    data["choice"]["room_chances"] = [{"room": "rU0", "name": "Library", "asked": 0.9, "chance": 0.6}]
    return part_of(job, "choices", whole_rooms=True)


@breaks("asked-is-judged", "a room that asks and is left out")
def _(job: Job, data: Data) -> None:
    drop(data["after"], "rU0", "room")


@breaks("asked-is-judged", "a room judged against less than it asks")
def _(job: Job, data: Data) -> None:
    room(data, "rU0")["need_mbps"] = 10.0


@breaks("unmet-is-said", "a shortfall kept quiet")
def _(job: Job, data: Data) -> None:
    data["choice"]["shortfalls"] = []


@breaks("unmet-is-said", "an outlet too few, kept quiet")
def _(job: Job, data: Data) -> Job:
    return job.model_copy(update={"needs": changed(job.needs, "N-rU1", wired_outlets=2)})


@breaks("unmet-is-said", "what a room lacks told wrongly")
def _(job: Job, data: Data) -> None:
    data["choice"]["shortfalls"][0]["kind"] = "delay"


@breaks("unmet-is-said", "a room that is met called short")
def _(job: Job, data: Data) -> None:
    data["choice"]["shortfalls"].append({"room": "rU0", "kind": "up"})


@breaks("every-room-is-every-room", "every room, and the kitchen is not")
def _(job: Job, data: Data) -> None:
    data["choice"]["what_one_more_buys"] = "Every room is served"


@breaks("every-room-is-every-room", "an offer of four rooms called every room")
def _(job: Job, data: Data) -> None:
    option(data, "Good")["words"] = "Serves every room that asks"


@breaks("names-known", "a router of a class that nobody knows")
def _(job: Job, data: Data) -> Job:
    return job.model_copy(update={"boxes": changed(job.boxes, "RT1", equipment="wonder box")})


@breaks("names-known", "a need for a device that nobody knows")
def _(job: Job, data: Data) -> Job:
    return job.model_copy(update={"needs": changed(job.needs, "N-rU0", client="wonder phone")})


@breaks("choices-kept", "a new cable although none may be pulled")
def _(job: Job, data: Data) -> Job:
    return part_of(job, "choices", new_pulls=False)


@breaks("choices-kept", "data over coax although that is not wanted")
def _(job: Job, data: Data) -> Job:
    return part_of(job, "choices", coax_adapters=False)


@breaks("choices-kept", "an access point on a forbidden site")
def _(job: Job, data: Data) -> Job:
    return part_of(job, "choices", forbidden_sites=("U-01",))


@breaks("choices-kept", "a pinned site left empty")
def _(job: Job, data: Data) -> Job:
    return part_of(job, "choices", pinned_sites=("G-04",))


@breaks("choices-kept", "a pinned site said to be out of reach, and nobody told")
def _(job: Job, data: Data) -> Job:
    data["choice"]["pins_left"] = ["G-04"]
    return part_of(job, "choices", pinned_sites=("G-04",))


@breaks("choices-kept", "a pinned site said to be out of reach where an access point fits")
def _(job: Job, data: Data) -> Job:
    data["choice"]["pins_left"] = ["G-09"]
    data["notes"] = [*data["notes"], "No access point stands at G-09"]
    way = next(way for way in data["choice"]["problem"]["ways"] if way["id"] in data["choice"]["ways"])
    data["choice"]["problem"]["ways"].append(dict(way, id="another", group="place G-09", needs=[], beside=[]))
    return part_of(job, "choices", pinned_sites=("G-09",))


@breaks("router-as-decided", "the router moved although it must stay")
def _(job: Job, data: Data) -> Job:
    data["choice"]["router"].update(do="move", position=[1.0, 1.0])
    return part_of(job, "choices", move_router=False)


@breaks("router-as-decided", "a router moved that cannot be")
def _(job: Job, data: Data) -> Job:
    data["choice"]["router"].update(do="move", position=[1.0, 1.0])
    return job.model_copy(update={"boxes": changed(job.boxes, "RT1", movable=False)})


@breaks("channels-whose", "an access point without a channel")
def _(job: Job, data: Data) -> None:
    drop(data["channels"]["channels"], "AP1", "access_point")


@breaks("channels-whose", "a channel for a box that is not there")
def _(job: Job, data: Data) -> None:
    data["channels"]["channels"].append(dict(data["channels"]["channels"][0], access_point="AP9"))


@breaks("channels-whose", "a channel shared with radar that nobody chose")
def _(job: Job, data: Data) -> None:
    data["channels"]["channels"][0]["dfs"] = True


@breaks("access-points-apart", "two access points at one place")
def _(job: Job, data: Data) -> None:
    ap(data, "AP2")["site"]["id"] = "U-01"


@breaks("asked-is-judged", "a room judged against less than its uses add up to")
def _(job: Job, data: Data) -> Job:
    uses = changed(job.needs, "N-rU0", down_mbps=None, uses=("large downloads", "stream 4K"))
    return job.model_copy(update={"needs": uses})


@breaks("asked-is-judged", "a room judged less surely than it asks")
def _(job: Job, data: Data) -> None:
    room(data, "rU0")["asked"] = 0.5


@breaks("unmet-is-said", "outlets called short that are all there")
def _(job: Job, data: Data) -> None:
    data["choice"]["shortfalls"].append({"room": "rU1", "kind": "outlets"})


@breaks("names-known", "a device of a class that nobody knows")
def _(job: Job, data: Data) -> Job:
    return job.model_copy(update={"devices": changed(job.devices, "D1", client="wonder phone")})


@breaks("names-known", "a use that nobody knows")
def _(job: Job, data: Data) -> Job:
    return job.model_copy(update={"needs": changed(job.needs, "N-rU0", uses=("wonder",))})


@breaks("choices-kept", "a wireless hop although none is wanted")
def _(job: Job, data: Data) -> Job:
    link(data, "cord-AP2")["medium"] = "wireless hop"
    return part_of(job, "choices", wireless_hops=False)


@breaks("router-as-decided", "a router moved that is not there")
def _(job: Job, data: Data) -> None:
    data["choice"]["router"].update(do="radio off", box="RT9")


@breaks("access-points-apart", "two access points of one id")
def _(job: Job, data: Data) -> None:
    ap(data, "AP2")["id"] = "AP1"


@breaks("asked-is-judged", "a room judged against less than it asks to send")
def _(job: Job, data: Data) -> Job:
    room(data, "rU0")["up_need_mbps"] = 5.0
    return job.model_copy(update={"needs": changed(job.needs, "N-rU0", up_mbps=12.0)})
