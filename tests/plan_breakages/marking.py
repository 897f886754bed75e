"""Plans broken in marks in the house."""

from __future__ import annotations

from plan_breakages.how import breaks, house, inside, part_of
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


@breaks("hazards-first", "a hazard called clear that nobody signed for")
def _(job: Job, data: Data) -> Job:
    return house(job, hazards=(Hazard(id="Z1", kind=HazardKind.LEAD_PAINT, state="tested clear"),))
