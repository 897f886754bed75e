"""Plans broken in money and in doing nothing."""

from __future__ import annotations

import hashlib
import json

from plan_breakages.how import SIGNED, ap, breaks, changed, drop, link, option, part, part_of, room
from rehaul.house import AcceptedOffer, Job
from sample_plan_data import Data, sample_plan_data


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


@breaks("starts-from-today", "a front that starts with buying")
def _(job: Job, data: Data) -> None:
    del data["choice"]["front"][0]


@breaks("starts-from-today", "doing nothing said to serve less than it does")
def _(job: Job, data: Data) -> None:
    data["choice"]["front"][0].update(rooms=[], rooms_served=0)


@breaks("starts-from-today", "doing nothing said to serve more than it does")
def _(job: Job, data: Data) -> None:
    data["choice"]["front"][0].update(rooms=["Hall", "Library"], rooms_served=2)


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


@breaks("nothing-gets-worse", "a room that is left out after the work")
def _(job: Job, data: Data) -> None:
    drop(data["after"], "rG0", "room")


@breaks("labour-adds-up", "minutes of a kind that nobody knows")
def _(job: Job, data: Data) -> None:
    data["takeoff"]["labour"][0]["norm"] = "wonder"


@breaks("total-adds-up", "nine jobs of ten cheaper than the middle")
def _(job: Job, data: Data) -> None:
    data["takeoff"]["quote"]["total_90"] = 10.0


@breaks("signed-offer-rules", "another offer chosen than was signed")
def _(job: Job, data: Data) -> Job:
    signed = _signed(job, data)
    option(data, "Good")["name"] = "Better"
    return signed
