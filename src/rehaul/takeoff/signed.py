"""The plan behind an accepted offer, as it was signed: kept whole, so that nothing of it is chosen again.

What is kept are results: what stands where, what feeds it, parts, price, steps. A later edit, price list or
version of the program changes none of it. What changes by itself are the holds: whether a step may be done is
asked of the job as it stands on the day.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Literal

from pydantic import Field, ValidationError

from rehaul.design.results import ChannelPlan, Choice, Network
from rehaul.design.wanted import DropDecision
from rehaul.errors import BadInput
from rehaul.house import AcceptedOffer, Job, Model
from rehaul.network import Graph, Path
from rehaul.predict import Radiator, RoomRate
from rehaul.takeoff.accepted import is_erased, is_intact
from rehaul.takeoff.checks import SiteCheck
from rehaul.takeoff.holds import cabling_hold, held_now, hole_hold, joined, run_hold, sentences
from rehaul.takeoff.labels import LabelLine
from rehaul.takeoff.offers import name_said
from rehaul.takeoff.results import Takeoff, Task, Timetable
from rehaul.takeoff.timetabling import numbered_as, timetable
from rehaul.words import Saying, say
from rehaul.words.fields import WITH_CODES

Kept = Literal["all", "words and price", "unread", "altered", "erased"]
HoldSource = tuple[Literal["run", "hole", "cabling", "text"], str, str]  # what is asked, of which thing


class SignedPlan(Model):
    """What was signed."""

    form: Literal[1] = 1  # of this record
    option: str  # the offer's name
    fullest: bool  # the offer that the plan itself chose
    served: tuple[str, ...]  # names of the rooms that it serves
    choice: Choice  # without the problem that was solved
    channels: ChannelPlan
    network: Network
    takeoff: Takeoff
    timetable: Timetable
    graph: Graph
    paths: tuple[Path, ...]
    radiators: tuple[Radiator, ...]
    drops: tuple[DropDecision, ...]
    checks: tuple[SiteCheck, ...]
    labels: tuple[LabelLine, ...]
    rooms: tuple[RoomRate, ...]  # what each room was said to get
    holds: Mapping[str, tuple[HoldSource, ...]] = Field(
        default_factory=dict
    )  # by the step's key, beyond its own


class InForce(Model):
    """Which offer is in force, by whose acceptance, and how much of it was kept."""

    offer: str  # id
    option: str
    total: float
    currency: str
    by: str
    date: str
    kept: Kept


_NOT_FOLLOWED = {
    "altered": "takeoff_standing.altered",
    "unread": "takeoff_standing.unread",
    "words and price": "takeoff_standing.words_only",
}


class Standing(InForce):
    """The same, with its sentence for people."""

    @property
    def words(self) -> Saying:
        """One or two sentences for people."""
        offer = say(
            "takeoff_standing.offer",
            offer=self.offer,
            option=name_said(self.option),
            total=self.total,
            currency=self.currency,
        )
        unsigned = say("takeoff_standing.unsigned")
        if self.kept == "erased":
            return say("takeoff_standing.erased", offer=offer, date=self.date, unsigned=unsigned)
        signed = say("takeoff_standing.signed", offer=offer, by=self.by, date=self.date)
        if self.kept == "all":
            return say("takeoff_standing.all", signed=signed)
        return say(_NOT_FOLLOWED[self.kept], signed=signed, unsigned=unsigned)


def signed_plan_text(plan: SignedPlan) -> str:
    """The record as canonical JSON: keys sorted, no spaces, one way to write each number.

    One plan is always the same text, so its digest can be signed. The problem that the design was solved
    from is left out: nothing is chosen again. **Source**: docs/work.md, "What is signed".
    """
    slim = plan.model_copy(update={"choice": plan.choice.model_copy(update={"problem": {}})})
    data = slim.model_dump(mode="json", context=WITH_CODES)  # it can be said again to whoever reads it then
    return json.dumps(data, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)


@lru_cache(maxsize=8)
def read_signed_plan(text: str) -> SignedPlan:
    """The record in canonical JSON, as `signed_plan_text` makes it.

    Whether it is what was signed is not looked at here (`how_kept`). Raises BadInput where it is none that
    this version understands.
    """
    try:
        return SignedPlan.model_validate_json(text)
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        field = ".".join(str(part) for part in first["loc"])
        raise BadInput(
            say("refused_takeoff.signed_unreadable", problem=first["msg"]),
            where=say("refused_takeoff.where_signed", field=field),
            remedy=say("refused_takeoff.open_with_version"),
        ) from None


def standing_of(job: Job) -> tuple[Standing, SignedPlan | None] | None:
    """The offer in force with its plan; no plan where none was kept or it was altered; None where none is.

    In force is the last one accepted. **Source**: docs/work.md, "What is signed".
    """
    if not job.accepted_offers:
        return None
    last = job.accepted_offers[-1]
    kept = how_kept(last)
    standing = Standing(
        offer=last.id,
        option=last.option,
        total=last.total,
        currency=last.currency,
        by=last.sign_off.by,
        date=last.sign_off.date,
        kept=kept,
    )
    return standing, read_signed_plan(last.plan) if kept == "all" else None


def how_kept(offer: AcceptedOffer) -> Kept:
    """Whether an accepted offer has its plan, only its words and price, or was altered or erased.

    "all" where its plan is there.

    "unread" where the plan is as it was signed, and of a form that this version does not know. Never
    raises.
    """
    if is_erased(offer):
        return "erased"
    if not is_intact(offer):
        return "altered"
    if not offer.plan:
        return "words and price"
    try:
        read_signed_plan(offer.plan)
    except BadInput:
        return "unread"
    return "all"


@lru_cache(maxsize=8)
def stands_on(text: str) -> frozenset[str]:
    """Ids of the rooms, places, cables and boxes that a signed plan cannot be carried out without.

    `text` is the plan as it was kept. Raises BadInput where it cannot be read. **Source**: docs/work.md:
    what is in here cannot be taken out of the job.
    """
    plan = read_signed_plan(text)
    found = {plan.choice.router.box}
    for point in plan.choice.access_points:
        site = point.site
        found |= {site.id, site.room, site.storey, site.run, site.spends}
    for outlet in plan.choice.outlets:
        found |= {outlet.id, outlet.room, outlet.storey, outlet.run}
    found |= {device.room for device in plan.choice.devices}
    for port in plan.network.ports:
        found |= {port.run, port.outlet}
    found |= {link.run for link in plan.graph.links if link.age == "old"}
    return frozenset(found - {""})


def hold_sources(job: Job, order: Sequence[Task]) -> dict[str, tuple[HoldSource, ...]]:
    """What holds each step on the day of signing beyond what it touches and drills, by its key.

    Kept with the plan, so that a hold ends when its own reason does. A sentence of unknown reason is kept
    as it stands. Steps without any are left out.
    """
    known: dict[str, HoldSource] = {}
    for room in job.house.rooms:
        known |= dict.fromkeys(
            sentences(hole_hold(job, room.storey, room.id)), ("hole", room.storey, room.id)
        )
    for run in job.house.runs:
        known |= dict.fromkeys(sentences(run_hold(job, run.id)), ("run", run.id, ""))
    known |= dict.fromkeys(sentences(cabling_hold(job)), ("cabling", "", ""))
    found = {}
    for task in order:
        own = sentences(held_now(job, task))
        rest = [sentence for sentence in sentences(task.held) if sentence not in own]
        if rest:
            found[task.key] = tuple(dict.fromkeys(known.get(line, ("text", line, "")) for line in rest))
    return found


def timetable_now(job: Job, plan: SignedPlan) -> Timetable:
    """The signed steps under their numbers, held by what holds them today; times anew where that changed.

    Where no step became held or free the signed times stand. Else the solver is asked again, with as many
    people as were signed. **Source**: docs/work.md, "What is signed".
    """
    signed = plan.timetable
    tasks = tuple(
        task.model_copy(update={"held": _held_today(job, task, plan.holds.get(task.key, ()))})
        for task in signed.tasks
    )
    if [bool(task.held) for task in tasks] == [bool(task.held) for task in signed.tasks]:
        return signed.model_copy(update={"tasks": tasks})
    return numbered_as(signed.tasks, timetable(job, tasks, people=signed.people))


def _held_today(job: Job, task: Task, sources: Sequence[HoldSource]) -> str:
    return joined(held_now(job, task), *(_hold_of(job, source) for source in sources))


def _hold_of(job: Job, source: HoldSource) -> str:
    kind, first, second = source
    if kind == "run":
        return run_hold(job, first) if any(run.id == first for run in job.house.runs) else ""
    if kind == "hole":
        return hole_hold(job, first, second)
    return cabling_hold(job) if kind == "cabling" else first
