"""Plans broken in marks in the house."""

from __future__ import annotations

from plan_breakages.how import SIGNED, breaks, house, inside, part_of, task
from rehaul.house import Hazard, HazardKind, Job
from sample_plan_data import Data


@breaks("screws-allowed", "screws into a wall that must not be drilled")
def _(job: Job, data: Data) -> Job:
    return inside(job, "walls", "wU3", drilling="forbidden")


@breaks("screws-allowed", "screws into a fire wall")
def _(job: Job, data: Data) -> Job:
    return inside(job, "walls", "wG1", fire_rated=True)


@breaks("screws-allowed", "screws where nothing may leave a mark")
def _(job: Job, data: Data) -> Job:
    return part_of(job, "choices", fixing="reversible")


@breaks("no-marks-left", "holes although the owner said no")
def _(job: Job, data: Data) -> Job:
    return part_of(house(job, tenure="rented"), "gate", landlord_agrees=False)


@breaks("landlord-first", "holes in a rented house before its owner is asked")
def _(job: Job, data: Data) -> Job:
    return house(job, tenure="rented")


@breaks("hazards-first", "a hole where asbestos is suspected")
def _(job: Job, data: Data) -> Job:
    return house(job, hazards=(Hazard(id="Z1", kind=HazardKind.ASBESTOS, room="rU1"),))


@breaks("licence-first", "fixed cables worked on without the licence that the country asks for")
def _(job: Job, data: Data) -> Job:
    return job.model_copy(update={"country": "AU"})


@breaks("no-copper-outdoors", "copper to a shed")
def _(job: Job, data: Data) -> Job:
    return inside(job, "rooms", "rU1", outbuilding=True)


@breaks("hazards-first", "a hole on a storey with open mains wiring")
def _(job: Job, data: Data) -> Job:
    return house(job, hazards=(Hazard(id="Z1", kind=HazardKind.KNOB_AND_TUBE, storey="U", state="present"),))


@breaks("hazards-first", "a hole through a storey with asbestos all over it")
def _(job: Job, data: Data) -> Job:
    return house(job, hazards=(Hazard(id="Z1", kind=HazardKind.ASBESTOS, storey="G"),))


@breaks("hazards-first", "a hazard called clear that nobody signed for")
def _(job: Job, data: Data) -> Job:
    return house(job, hazards=(Hazard(id="Z1", kind=HazardKind.LEAD_PAINT, state="tested clear"),))


def _all_held_but(data: Data, norms: tuple[str, ...]) -> None:
    """Every step waits for somebody, but for those of these kinds."""
    for row in data["order"]:
        if row["norm"] not in norms:
            row["held"] = "Held: the owner was asked."


@breaks("landlord-first", "a hole in a rented house, everything else held")
def _(job: Job, data: Data) -> Job:
    _all_held_but(data, ("fish_hard",))
    return house(job, tenure="rented")


@breaks("landlord-first", "an access point screwed on in a rented house, everything else held")
def _(job: Job, data: Data) -> Job:
    _all_held_but(data, ("access_point",))
    return house(job, tenure="rented")


@breaks("landlord-first", "a board screwed on in a rented house, everything else held")
def _(job: Job, data: Data) -> Job:
    _all_held_but(data, ("rack",))
    return house(job, tenure="rented")


def _refused(job: Job) -> Job:
    return part_of(house(job, tenure="rented"), "gate", landlord_agrees=False)


@breaks("no-marks-left", "a hole although the owner said no, and no board")
def _(job: Job, data: Data) -> Job:
    data["order"] = [row for row in data["order"] if row["norm"] != "rack"]
    return _refused(job)


@breaks("no-marks-left", "a board although the owner said no, and no hole")
def _(job: Job, data: Data) -> Job:
    data["order"] = [row for row in data["order"] if not row["hole"]]
    return _refused(job)


@breaks("licence-first", "a hole without the licence, everything else held")
def _(job: Job, data: Data) -> Job:
    _all_held_but(data, ("fire_seal",))
    return job.model_copy(update={"country": "AU"})


@breaks("licence-first", "an old cable terminated without the licence, everything else held")
def _(job: Job, data: Data) -> Job:
    _all_held_but(data, ("jack",))
    return job.model_copy(update={"country": "AU"})


@breaks("licence-first", "a licence that was asked for and is not there")
def _(job: Job, data: Data) -> Job:
    return part_of(job.model_copy(update={"country": "AU"}), "gate", licence_checked=False)


@breaks("hazards-first", "a hazard signed for that is still there")
def _(job: Job, data: Data) -> Job:
    there = Hazard(id="Z1", kind=HazardKind.LEAD_PAINT, state="present", sign_off=SIGNED)
    return house(job, hazards=(there,))


def _stopped(job: Job, data: Data, about: str, *, stop: bool) -> Job:
    """Suspected asbestos where a cable is pulled to, and a step before the holes that is about something."""
    row = dict(task(data, "gate"), id="T00", norm="stop", title="Stop", needs=[], stop=stop, because=[about])
    data["order"].insert(1, row)
    for each in data["order"]:
        if each["hole"]:
            each["needs"] = [*each["needs"], "T00"]
    return house(job, hazards=(Hazard(id="Z1", kind=HazardKind.ASBESTOS, room="rU1"),))


@breaks("hazards-first", "a hole in suspected asbestos after a stop for something else")
def _(job: Job, data: Data) -> Job:
    return _stopped(job, data, "Z9", stop=True)


@breaks("hazards-first", "a hole in suspected asbestos after a step about it that stops nobody")
def _(job: Job, data: Data) -> Job:
    return _stopped(job, data, "Z1", stop=False)
