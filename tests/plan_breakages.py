"""Sound plans broken on purpose, each in one way that one rule of the auditor has to catch."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from rehaul.house import (
    AcceptedOffer,
    Hazard,
    HazardKind,
    Job,
    LineCheck,
    Model,
    ObligationState,
    RunState,
    SignOff,
)
from sample_plan_data import Data, sample_job, sample_plan_data

Change = Callable[[Job, Data], Job | None]
SIGNED = SignOff(by="Owner", date="2026-03-01", words="agreed")


@dataclass(frozen=True)
class Breakage:
    """One way to break the sample plan, and the rule that must see it."""

    rule: str
    what: str
    change: Change

    def broken(self) -> tuple[Job, Data]:
        job, data = sample_job(), sample_plan_data()
        return self.change(job, data) or job, data


BREAKAGES: list[Breakage] = []


def breaks(rule: str, what: str) -> Callable[[Change], Change]:
    def keep(change: Change) -> Change:
        BREAKAGES.append(Breakage(rule, what, change))
        return change

    return keep


# what the breakages are said with


def pick(rows: list[Data], name: str, key: str = "id") -> Data:
    return next(row for row in rows if row[key] == name)


def drop(rows: list[Data], name: str, key: str = "id") -> None:
    rows.remove(pick(rows, name, key))


def node(data: Data, name: str) -> Data:
    return pick(data["graph"]["after"]["nodes"], name)


def link(data: Data, name: str) -> Data:
    return pick(data["graph"]["after"]["links"], name)


def path(data: Data, name: str) -> Data:
    return pick(data["paths"], name, "to")


def step(data: Data, to: str, name: str) -> Data:
    return pick(path(data, to)["links"], name)


def ap(data: Data, name: str) -> Data:
    return pick(data["choice"]["access_points"], name)


def task(data: Data, norm: str, about: str = "") -> Data:
    return next(
        row for row in data["order"] if row["norm"] == norm and (not about or about in row["because"])
    )


def part(data: Data, item: str) -> Data:
    return pick(data["takeoff"]["parts"], item, "item")


def room(data: Data, name: str, state: str = "after") -> Data:
    return pick(data[state], name, "room")


def option(data: Data, name: str) -> Data:
    return pick(data["takeoff"]["quote"]["options"], name, "name")


def changed(items: tuple[Any, ...], name: str, **update: Any) -> tuple[Any, ...]:
    return tuple(item.model_copy(update=update) if item.id == name else item for item in items)


def house(job: Job, **update: Any) -> Job:
    return job.model_copy(update={"house": job.house.model_copy(update=update)})


def inside(job: Job, field: str, name: str, **update: Any) -> Job:
    """The job with one thing of its house changed."""
    return house(job, **{field: changed(getattr(job.house, field), name, **update)})


def part_of(job: Job, field: str, **update: Any) -> Job:
    """The job with its choices, gate or service changed."""
    model: Model = getattr(job, field)
    return job.model_copy(update={field: model.model_copy(update=update)})


# paths


@breaks("path-for-each", "an access point without a path")
def _(job: Job, data: Data) -> None:
    drop(data["paths"], "AP2", "to")


@breaks("path-for-each", "an outlet without a path")
def _(job: Job, data: Data) -> None:
    drop(data["paths"], "N1", "to")


@breaks("path-from-street", "a path that starts at the switch")
def _(job: Job, data: Data) -> None:
    del path(data, "AP1")["links"][:3]


@breaks("path-from-street", "a path with a gap")
def _(job: Job, data: Data) -> None:
    drop(path(data, "AP1")["links"], "cord-P02")


@breaks("path-from-street", "a path that ends at the plate")
def _(job: Job, data: Data) -> None:
    drop(path(data, "AP1")["links"], "cord-AP1")


@breaks("path-links-stand", "a path over a link that nobody has")
def _(job: Job, data: Data) -> None:
    drop(data["graph"]["after"]["links"], "C02.1")


@breaks("path-links-stand", "a path that counts on more than the link gives")
def _(job: Job, data: Data) -> None:
    step(data, "AP1", "C01")["rate_mbps"] = 2353.0


@breaks("path-links-usable", "an old cable that is held")
def _(job: Job, data: Data) -> None:
    link(data, "C01")["held"] = "an alarm depends on it"


@breaks("path-links-usable", "an old cable that an alarm is on")
def _(job: Job, data: Data) -> Job:
    return job.model_copy(update={"obligations": changed(job.obligations, "O1", run="C01")})


@breaks("path-links-usable", "an old cable whose far end was never found")
def _(job: Job, data: Data) -> None:
    link(data, "C01")["run"] = "C04"


@breaks("path-links-usable", "an old cable through another household")
def _(job: Job, data: Data) -> Job:
    return inside(job, "rooms", "rG1", household="lodgers")


@breaks("path-links-usable", "a cable that is said to stand and does not")
def _(job: Job, data: Data) -> None:
    link(data, "NC1")["age"] = "kept"


@breaks("path-weakest-link", "more promised than the provider's line brings")
def _(job: Job, data: Data) -> None:
    path(data, "AP1")["rate_mbps"] = 800.0


@breaks("path-weakest-link", "surer than its least sure link")
def _(job: Job, data: Data) -> None:
    path(data, "AP1")["chance"] = 1.0


@breaks("path-weakest-link", "another link called the narrowest")
def _(job: Job, data: Data) -> None:
    path(data, "AP1")["narrowest"] = "C01"


@breaks("shared-medium-fits", "two access points promised a coax that holds one")
def _(job: Job, data: Data) -> None:
    for where in (link(data, "C01"), step(data, "AP1", "C01")):
        where["shares"] = "coax C02"


# power


@breaks("power-to-access-points", "power that does not pass an old cable")
def _(job: Job, data: Data) -> None:
    link(data, "C01")["poe_class"] = 0


@breaks("power-to-access-points", "an access point on a wireless hop, without mains")
def _(job: Job, data: Data) -> None:
    link(data, "cord-AP2")["medium"] = "wireless hop"


@breaks("switch-holds", "more watts than the switch has")
def _(job: Job, data: Data) -> None:
    data["network"]["ports"][2]["poe_w"] = 45.0


@breaks("switch-holds", "two plugs in one port")
def _(job: Job, data: Data) -> None:
    data["network"]["ports"][1]["port"] = 1


@breaks("switch-holds", "a budget that the class does not have")
def _(job: Job, data: Data) -> None:
    data["network"]["poe_budget_w"] = 120.0


@breaks("mains-where-needed", "an adapter where there is no socket")
def _(job: Job, data: Data) -> Job:
    return inside(job, "outlets", "G-01", mains=False)


# what is touched


@breaks("held-left-alone", "an alarm's cable drawn out")
def _(job: Job, data: Data) -> None:
    task(data, "tag", "C05")["touches"] = ["C03"]


@breaks("held-left-alone", "a tone on an alarm's cable")
def _(job: Job, data: Data) -> None:
    task(data, "tone", "C05")["because"] = ["C03"]


@breaks("held-left-alone", "a cable with voltage on it terminated")
def _(job: Job, data: Data) -> Job:
    check = LineCheck(id="L1", at="MP1", what="voltage", run="C01", dc_v=48.0)
    return job.model_copy(update={"line_checks": (check,)})


@breaks("held-left-alone", "an untested cable terminated")
def _(job: Job, data: Data) -> Job:
    return inside(job, "runs", "C01", state=RunState.UNKNOWN)


@breaks("held-left-alone", "an alarm signed for without words")
def _(job: Job, data: Data) -> Job:
    moved = changed(
        job.obligations,
        "O1",
        run="C01",
        state=ObligationState.MOVED,
        sign_off=SIGNED.model_copy(update={"words": ""}),
    )
    return job.model_copy(update={"obligations": moved})


@breaks("touches-said", "a jack that hides the cable it cuts")
def _(job: Job, data: Data) -> None:
    task(data, "jack", "C01")["touches"] = []


@breaks("checked-before-touched", "a cable toned before it is proved dead")
def _(job: Job, data: Data) -> None:
    task(data, "tone", "C05")["needs"] = []


@breaks("photo-before-undone", "a box opened before its photograph")
def _(job: Job, data: Data) -> None:
    task(data, "photo", "U-01")["because"] = []


@breaks("feeders-left-in-use", "the cable of an access point tagged out of use")
def _(job: Job, data: Data) -> None:
    task(data, "tag", "C05")["because"] = ["C01"]


@breaks("feeders-left-in-use", "a chain cut off that feeds something beyond")
def _(job: Job, data: Data) -> None:
    link(data, "C05.2")["b"] = "AP2"


@breaks("feeders-left-in-use", "the provider's line disconnected")
def _(job: Job, data: Data) -> Job:
    row = task(data, "tag", "C05")
    row["norm"], row["title"] = "disconnect", "Disconnect C05 at the demarcation point"
    return part_of(job, "service", run="C05")


# continuity


@breaks("graph-whole", "a link that ends nowhere")
def _(job: Job, data: Data) -> None:
    link(data, "NC1")["b"] = "N9"


@breaks("graph-whole", "two cables of one id")
def _(job: Job, data: Data) -> None:
    data["graph"]["after"]["links"].append(dict(link(data, "C01")))


@breaks("drawn-where-it-is", "an access point drawn in another place")
def _(job: Job, data: Data) -> None:
    node(data, "AP1")["position"] = [3.0, 3.0]


@breaks("comes-to-the-panel", "a chain's far piece terminated at the panel")
def _(job: Job, data: Data) -> None:
    task(data, "panel_port", "C01")["because"] = ["C05.2"]


@breaks("comes-to-the-panel", "a cable on the panel that never comes to the closet")
def _(job: Job, data: Data) -> Job:
    return inside(job, "runs", "C01", ends=("G-04", "U-01"))


@breaks("fed-at-an-end", "an access point at a plate its cable does not reach")
def _(job: Job, data: Data) -> None:
    ap(data, "AP1")["site"]["id"] = "U-03"


@breaks("fed-at-an-end", "a link drawn to a plate where the cable does not surface")
def _(job: Job, data: Data) -> None:
    link(data, "C01")["b"] = "U-03"


@breaks("copper-used-once", "one pair used for two links")
def _(job: Job, data: Data) -> None:
    again = dict(link(data, "C05.1")) | {"id": "C05", "b": "U-03"}
    data["graph"]["after"]["links"].append(again)


@breaks("copper-reach", "a new cable too long for copper")
def _(job: Job, data: Data) -> None:
    link(data, "NC1")["length_m"] = 130.0


# old cable


@breaks("verdict-before-promise", "an old pair counted on that is only worth a try")
def _(job: Job, data: Data) -> None:
    data["cabling"][0]["ethernet"][1]["band"] = "try it"


@breaks("verdict-before-promise", "an old pair counted on without a verdict")
def _(job: Job, data: Data) -> None:
    drop(data["cabling"], "C01", "run")


@breaks("unknown-not-fast", "10 Gb/s to be tried on a cable nobody knows")
def _(job: Job, data: Data) -> None:
    pick(data["cabling"], "C04", "run")["ethernet"].append(
        {"rate_mbps": 10000.0, "band": "try it", "chance": 0.2, "lifted_chance": 0.0}
    )


@breaks("coax-fit-for-data", "an adapter at one end only")
def _(job: Job, data: Data) -> None:
    node(data, "AD1")["kind"] = "switch"


@breaks("coax-fit-for-data", "a splitter for television alone")
def _(job: Job, data: Data) -> Job:
    return inside(job, "splitters", "SP1", passes_mhz=1000.0)


@breaks("coax-fit-for-data", "an amplifier on the way")
def _(job: Job, data: Data) -> Job:
    return inside(job, "splitters", "SP1", amplifier=True)


@breaks("coax-fit-for-data", "data that leave the house over the coax")
def _(job: Job, data: Data) -> Job:
    return house(job, entry_filter=False)


# parts and tasks


@breaks("new-is-bought", "adapters that nobody buys")
def _(job: Job, data: Data) -> None:
    drop(data["takeoff"]["parts"], "coax_adapters", "item")
    part(data, "cord_050")["because"] = ["RT1", "SW1"]


@breaks("new-is-bought", "a new cable that nobody buys")
def _(job: Job, data: Data) -> None:
    for row in data["takeoff"]["parts"]:
        row["because"] = [name for name in row["because"] if name not in ("NC1", "N1")]


@breaks("new-is-put-in", "adapters that nobody fits")
def _(job: Job, data: Data) -> None:
    task(data, "switch", "AD1")["because"] = ["C02"]


@breaks("cords-bought", "a cord that nobody buys")
def _(job: Job, data: Data) -> None:
    for row in data["takeoff"]["parts"]:
        row["because"] = [name for name in row["because"] if name not in ("AD2", "AP2")]


@breaks("tasks-have-parts", "a plate without a plate")
def _(job: Job, data: Data) -> None:
    part(data, "plate")["because"] = ["NC1"]


@breaks("tasks-have-parts", "a hole through a floor without sealant")
def _(job: Job, data: Data) -> None:
    drop(data["takeoff"]["parts"], "fire_seal", "item")


@breaks("tasks-priced", "a step that nobody is paid for")
def _(job: Job, data: Data) -> None:
    drop(data["takeoff"]["labour"], "jack", "norm")


@breaks("tasks-priced", "minutes for a step that is not there")
def _(job: Job, data: Data) -> None:
    data["order"].remove(task(data, "bond"))


@breaks("access-points-counted", "three access points bought for two")
def _(job: Job, data: Data) -> None:
    part(data, "access point HE 2x2")["need"] = 3


@breaks("rack-bought", "a battery in the rack that nobody buys")
def _(job: Job, data: Data) -> None:
    drop(data["takeoff"]["parts"], "battery 12 V 9 Ah", "item")


@breaks("nothing-idle", "tags for a cable that is not there")
def _(job: Job, data: Data) -> None:
    part(data, "tag")["because"] = ["C77"]


# ids and labels


@breaks("cut-for-each-cable", "a new cable that nobody cuts")
def _(job: Job, data: Data) -> None:
    drop(data["takeoff"]["cuts"], "NC1")


@breaks("cut-for-each-cable", "a cable cut too short")
def _(job: Job, data: Data) -> None:
    pick(data["takeoff"]["cuts"], "NC1")["length_m"] = 8.0


@breaks("cut-for-each-cable", "one cable with two names")
def _(job: Job, data: Data) -> None:
    pick(data["takeoff"]["cuts"], "NC1")["id"] = "P1"


@breaks("cable-enough", "too little cable bought")
def _(job: Job, data: Data) -> None:
    part(data, "cable_cat6")["quantity"] = 9


@breaks("one-id", "the port map calls the new cable otherwise")
def _(job: Job, data: Data) -> None:
    data["network"]["ports"][3]["run"] = "P1"


@breaks("labels-stand", "a label for something that is not there")
def _(job: Job, data: Data) -> None:
    data["labels"].append({"id": "N2", "on": "plate", "place": "Kitchen"})


@breaks("labels-on-schedule", "a labelled cable that is on no schedule")
def _(job: Job, data: Data) -> None:
    drop(data["cabling"], "C01", "run")


@breaks("labels-on-schedule", "a labelled cable that is terminated and not tested")
def _(job: Job, data: Data) -> None:
    data["order"].remove(task(data, "test", "NC1"))


@breaks("used-is-tested", "a cable put to use without a test")
def _(job: Job, data: Data) -> None:
    task(data, "test", "C02")["because"] = ["C01"]


@breaks("used-is-tested", "a cable put to use without a label")
def _(job: Job, data: Data) -> None:
    drop(data["labels"], "C01")


# money


@breaks("parts-add-up", "a line left out of the sum")
def _(job: Job, data: Data) -> None:
    drop(data["takeoff"]["parts"], "label", "item")


@breaks("parts-add-up", "a line with a wrong price")
def _(job: Job, data: Data) -> None:
    part(data, "jack")["unit_price"] = 9.0


@breaks("labour-adds-up", "labour at another hour")
def _(job: Job, data: Data) -> Job:
    return part_of(job, "choices", labour_per_h=140.0)


@breaks("total-adds-up", "a margin that the job does not ask for")
def _(job: Job, data: Data) -> Job:
    return part_of(job, "choices", margin_pct=10.0)


@breaks("total-adds-up", "tax left out")
def _(job: Job, data: Data) -> None:
    data["takeoff"]["quote"]["tax"] = 0.0


@breaks("one-offer-chosen", "two offers chosen")
def _(job: Job, data: Data) -> None:
    option(data, "Only what is needed")["chosen"] = True


@breaks("one-offer-chosen", "an offer that costs other than the quote")
def _(job: Job, data: Data) -> None:
    option(data, "Good")["total"] += 100.0


@breaks("one-offer-chosen", "doing nothing is not offered")
def _(job: Job, data: Data) -> None:
    drop(data["takeoff"]["quote"]["options"], "Do nothing", "name")


@breaks("offers-serve-what-is-asked", "an offer that serves more rooms than ask")
def _(job: Job, data: Data) -> None:
    option(data, "Only what is needed")["rooms_served"] = 7


@breaks("offers-serve-what-is-asked", "an offer that serves more than the plan meets")
def _(job: Job, data: Data) -> None:
    option(data, "Good")["rooms_served"] = 5


def _signed(job: Job, data: Data, *, total: float | None = None, plan: Data | None = None) -> Job:
    offer = json.dumps({"option": option(data, "Good")})
    accepted = AcceptedOffer(
        id="A1",
        option="Good",
        total=data["takeoff"]["quote"]["total"] if total is None else total,
        currency="USD",
        offer=offer,
        sha256=hashlib.sha256(offer.encode()).hexdigest(),
        sign_off=SIGNED,
        plan="" if plan is None else json.dumps(plan),
    )
    return job.model_copy(update={"accepted_offers": (accepted,)})


@breaks("signed-offer-rules", "a plan that costs other than what was signed")
def _(job: Job, data: Data) -> Job:
    return _signed(job, data, total=99.0)


@breaks("signed-offer-rules", "another access point than was signed for")
def _(job: Job, data: Data) -> Job:
    signed = sample_plan_data()
    ap(signed, "AP2")["site"]["id"] = "G-04"
    return _signed(job, data, plan=signed)


@breaks("signed-offer-rules", "a plan with fewer access points than the signed offer")
def _(job: Job, data: Data) -> Job:
    signed = _signed(job, data)
    drop(data["choice"]["access_points"], "AP2")
    return signed


@breaks("signed-offer-rules", "a signed offer that was changed since")
def _(job: Job, data: Data) -> Job:
    signed = _signed(job, data)
    other = signed.accepted_offers[0].model_copy(update={"offer": "{}"})
    return signed.model_copy(update={"accepted_offers": (other,)})


@breaks("within-budget", "a choice over the budget")
def _(job: Job, data: Data) -> Job:
    return part_of(job, "choices", budget=400.0)


# doing nothing


@breaks("starts-from-today", "a front that starts with buying")
def _(job: Job, data: Data) -> None:
    del data["choice"]["front"][0]


@breaks("starts-from-today", "doing nothing said to serve less than it does")
def _(job: Job, data: Data) -> None:
    data["choice"]["front"][0].update(rooms=[], rooms_served=0)


@breaks("starts-from-today", "doing nothing said to serve more than it does")
def _(job: Job, data: Data) -> None:
    data["choice"]["front"][0].update(rooms=["Hall", "Study"], rooms_served=2)


@breaks("before-is-today", "a cable of the plan drawn as standing today")
def _(job: Job, data: Data) -> None:
    data["graph"]["before"]["links"].append(dict(link(data, "NC1")))


def _all_met(job: Job, data: Data) -> Job:
    """The sample with everything met today; its plan still buys."""
    for row in data["before"]:
        row.update(met=True, served_pct=100.0)
    return job.model_copy(update={"needs": changed(job.needs, "N-rU1", wired_outlets=0)})


@breaks("no-cost-without-need", "things sold to a house that has all it asks for")
def _(job: Job, data: Data) -> Job:
    return _all_met(job, data)


@breaks("no-cost-without-need", "first words that hide that nothing is needed")
def _(job: Job, data: Data) -> Job:
    data["choice"].update(access_points=[], outlets=[], resources=[], cost=0.0, words="A fine house.")
    data["takeoff"]["parts"] = []
    data["takeoff"]["quote"]["total"] = 0.0
    return _all_met(job, data)


@breaks("nothing-chosen-nothing-bought", "tags sold where nothing is chosen")
def _(job: Job, data: Data) -> None:
    data["choice"].update(access_points=[], outlets=[], resources=[], cost=0.0)


@breaks("nothing-gets-worse", "a room that falls short after the work, unsaid")
def _(job: Job, data: Data) -> None:
    room(data, "rG0").update(met=False, served_pct=10.0)


@breaks("nothing-gets-worse", "a room that loses half its rate, unsaid")
def _(job: Job, data: Data) -> None:
    room(data, "rG0")["median_mbps"] = 200.0


# places


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


# marks in the house


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


# order of work


@breaks("needs-exist", "a step that needs one that is not there")
def _(job: Job, data: Data) -> None:
    task(data, "configure")["needs"].append("T99")


@breaks("needs-exist", "two steps of one name")
def _(job: Job, data: Data) -> None:
    data["order"][5]["id"] = data["order"][4]["id"]


@breaks("order-goes-forward", "a round of steps")
def _(job: Job, data: Data) -> None:
    task(data, "gate")["needs"] = [task(data, "handover")["id"]]


@breaks("order-goes-forward", "a step before what it needs")
def _(job: Job, data: Data) -> None:
    rows = data["order"]
    rows.insert(0, rows.pop(rows.index(task(data, "bond"))))


@breaks("waiting-is-held", "a step behind a stop point that is not held")
def _(job: Job, data: Data) -> None:
    task(data, "photo")["stop"] = True


@breaks("waiting-is-held", "a held step with a time")
def _(job: Job, data: Data) -> None:
    task(data, "jack", "C01")["held"] = "the owner has not signed"


@breaks("ends-with-everything", "a handover before the last tag")
def _(job: Job, data: Data) -> None:
    task(data, "handover")["needs"].remove(task(data, "tag", "C05")["id"])


@breaks("installed-not-without", "an access point that is told to go without")
def _(job: Job, data: Data) -> None:
    data["drops"][0].update(steps=[], words="No way is worth trying here: go without a cable.")


@breaks("drops-agree", "a drop about another cable")
def _(job: Job, data: Data) -> None:
    data["drops"][0]["run"] = "C05"


@breaks("drops-agree", "fishing between storeys within one")
def _(job: Job, data: Data) -> None:
    data["drops"][1]["steps"][0].update(way="new cable", title="Fish a new cable between storeys")


# needs


@breaks("met-is-met", "a room said to be met over half its area")
def _(job: Job, data: Data) -> None:
    room(data, "rU0")["served_pct"] = 55.0


@breaks("met-is-met", "a room said to be met that cannot send")
def _(job: Job, data: Data) -> None:
    room(data, "rU0")["up_served_pct"] = 10.0


@breaks("met-is-met", "a whole room less sure than asked")
def _(job: Job, data: Data) -> Job:
    data["choice"]["room_chances"] = [{"room": "rU0", "name": "Study", "asked": 0.9, "chance": 0.6}]
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


# what people decided


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


@breaks("channels-whose", "a channel shared with radar that nobody chose")
def _(job: Job, data: Data) -> None:
    data["channels"]["channels"][0]["dfs"] = True


@breaks("access-points-apart", "two access points at one place")
def _(job: Job, data: Data) -> None:
    ap(data, "AP2")["site"]["id"] = "U-01"


# the choice


@breaks("choice-agrees", "an access point whose way was not chosen")
def _(job: Job, data: Data) -> None:
    ap(data, "AP1")["way"] = "ap1 new"


@breaks("choice-agrees", "a cost that its ways do not have")
def _(job: Job, data: Data) -> None:
    data["choice"].update(cost=500.0, bound=500.0)


@breaks("choice-agrees", "ways that do not fit on one coax")
def _(job: Job, data: Data) -> None:
    pick(data["choice"]["problem"]["ways"], "ap2")["loads"] = [["coax C02", 1.4]]


@breaks("front-is-honest", "a point of the front that is too cheap")
def _(job: Job, data: Data) -> None:
    data["choice"]["front"][1]["cost"] = 150.0


@breaks("front-is-honest", "a point of the front that counts wrongly")
def _(job: Job, data: Data) -> None:
    data["choice"]["front"][1]["rooms_served"] = 4


@breaks("proof-holds", "called proven with a gap")
def _(job: Job, data: Data) -> None:
    data["choice"]["bound"] = 400.0


@breaks("proof-holds", "a bound above the cost")
def _(job: Job, data: Data) -> None:
    data["choice"]["bound"] = 700.0


def _chosen(data: Data, cost: float) -> None:
    for row in data["choice"]["front"]:
        row["chosen"] = row["cost"] == cost
    data["choice"].update(cost=cost, bound=cost)


@breaks("nothing-does-better", "less met than could be")
def _(job: Job, data: Data) -> None:
    _chosen(data, 305.0)


@breaks("nothing-does-better", "doing nothing where more can be met")
def _(job: Job, data: Data) -> None:
    _chosen(data, 0.0)


@breaks("nothing-does-better", "as much for more")
def _(job: Job, data: Data) -> None:
    data["choice"]["front"][3]["ways"] = ["standing", "ap1 new", "ap2", "outlet"]


@breaks("nothing-does-better", "a cheaper choice among many more")
def _(job: Job, data: Data) -> None:
    ways = data["choice"]["problem"]["ways"]
    for number in range(40):  # too many to try all of
        ways.append(
            dict(
                pick(ways, "outlet"), id=f"more{number}", group=f"more{number}", cost=1 + number % 7, ports=0
            )
        )
        data["choice"]["problem"]["counted"][0]["least"] = 12
    data["choice"]["front"][3]["ways"] = ["standing", "ap1", "ap2", *(f"more{n}" for n in range(13))]
