"""What a new plan would change of the one that is signed: a proposal, in words, until it is accepted."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from rehaul.design.results import AccessPoint, FrontPoint, RouterDecision
from rehaul.house import Job, Model
from rehaul.takeoff.results import Quote, QuoteOption
from rehaul.takeoff.signed import SignedPlan
from rehaul.takeoff.ticking import ticked
from rehaul.words import Saying, say
from rehaul.words.fields import Words

MOST_NAMED = 3


class ProposedChange(Model):
    """One thing that a new plan says otherwise."""

    what: Literal["access point", "outlet", "router", "device", "switch", "channels", "price", "steps"]
    words: Words
    about: tuple[str, ...] = ()  # ids: places, boxes, keys of steps


def counterpart(signed: SignedPlan, front: Sequence[FrontPoint], quote: Quote) -> QuoteOption | None:
    """The offer of a new quote to hold what was signed against; None for what the plan itself chose.

    An offer for some rooms only is held against the one for the same rooms, else against the one of its name.
    """
    if signed.fullest:
        return None
    ways = [point.ways for point in front if set(point.rooms) == set(signed.served)]
    same = [option for option in quote.options if option.ways in ways]
    same += [option for option in quote.options if option.name == signed.option]
    return same[0] if same and not same[0].chosen else None


def proposed_changes(job: Job, signed: SignedPlan, fresh: SignedPlan) -> tuple[ProposedChange, ...]:
    """What `fresh`, a plan of the job as it stands, says otherwise; empty where it says the same.

    In the order access points, outlets, router, devices, radios, switch, channels, price, steps. Neither
    plan changes: it is a proposal until an offer is accepted. **Source**: docs/work.md, "What is signed".
    """
    return (
        *_access_points(signed, fresh),
        *_outlets(signed, fresh),
        *_router(signed, fresh),
        *_devices(signed, fresh),
        *_set_afresh(signed, fresh),
        *_switch(signed, fresh),
        *_channels(signed, fresh),
        *_price(signed, fresh),
        *_steps(job, signed, fresh),
    )


def _access_points(signed: SignedPlan, fresh: SignedPlan) -> Iterator[ProposedChange]:
    old, new = _by_place(signed.choice.access_points), _by_place(fresh.choice.access_points)
    for place, point in new.items():
        if place not in old:
            words = say("takeoff_changes.ap_in", room=point.name, place=place, equipment=point.equipment)
            yield ProposedChange(what="access point", words=words, about=(place,))
    for place, point in old.items():
        if place not in new:
            words = say("takeoff_changes.ap_out", box=point.id, room=point.name, place=place)
            yield ProposedChange(what="access point", words=words, about=(point.id, place))
            continue
        other = new[place]
        if other.equipment != point.equipment:
            box = other.equipment
            words = say("takeoff_changes.ap_other", box=point.id, room=point.name, equipment=box)
            yield ProposedChange(what="access point", words=words, about=(point.id, place))
        if _fed_by(other) != _fed_by(point):
            new_feed, old_feed = _fed_by(other), _fed_by(point)
            words = say("takeoff_changes.ap_fed", box=point.id, room=point.name, new=new_feed, old=old_feed)
            yield ProposedChange(what="access point", words=words, about=(point.id, place))


def _by_place(points: Sequence[AccessPoint]) -> dict[str, AccessPoint]:
    return {point.site.id: point for point in points}


def _fed_by(point: AccessPoint) -> Saying:
    site = point.site
    if site.run:
        return say("takeoff_changes.fed_old", run=site.run)
    return say("takeoff_changes.fed_new") if site.new_pull_m else say("takeoff_changes.fed_place")


def _outlets(signed: SignedPlan, fresh: SignedPlan) -> Iterator[ProposedChange]:
    old = {outlet.id: outlet for outlet in signed.choice.outlets}
    new = {outlet.id: outlet for outlet in fresh.choice.outlets}
    for name, outlet in new.items():
        if name not in old:
            words = say("takeoff_changes.outlet_in", room=outlet.name)
            yield ProposedChange(what="outlet", words=words, about=(name,))
    for name, outlet in old.items():
        if name not in new:
            words = say("takeoff_changes.outlet_out", outlet=name, room=outlet.name)
            yield ProposedChange(what="outlet", words=words, about=(name,))


def _router(signed: SignedPlan, fresh: SignedPlan) -> Iterator[ProposedChange]:
    old, new = signed.choice.router, fresh.choice.router
    if (old.box, old.do, old.storey, old.position) != (new.box, new.do, new.storey, new.position):
        words = say("takeoff_changes.router", new=_done_to(new), old=_done_to(old))
        yield ProposedChange(what="router", words=words, about=(new.box or old.box,))


def _done_to(router: RouterDecision) -> str:
    return router.words or say(_ROUTER_DOES[router.do])


_ROUTER_DOES = {
    "none": "takeoff_changes.router_none",
    "keep": "takeoff_changes.router_keep",
    "move": "takeoff_changes.router_move",
    "radio off": "takeoff_changes.router_radio_off",
}


def _devices(signed: SignedPlan, fresh: SignedPlan) -> Iterator[ProposedChange]:
    old = {device.id: device for device in signed.choice.devices}
    new = {device.id: device for device in fresh.choice.devices}
    for name, device in new.items():
        if name not in old:
            words = say("takeoff_changes.device_in", device=device.was, room=device.name)
            yield ProposedChange(what="device", words=words, about=(device.room,))
    for name, device in old.items():
        if name not in new:
            words = say("takeoff_changes.device_out", device=device.was, room=device.name)
            yield ProposedChange(what="device", words=words, about=(device.room,))


def _set_afresh(signed: SignedPlan, fresh: SignedPlan) -> Iterator[ProposedChange]:
    old = {row.box: row for row in signed.choice.set_afresh}
    new = {row.box: row for row in fresh.choice.set_afresh}
    for box in sorted(set(old) ^ set(new)):
        row = new.get(box) or old[box]
        code = "takeoff_changes.afresh_in" if box in new else "takeoff_changes.afresh_out"
        yield ProposedChange(what="router", words=say(code, box=row.name), about=(box,))


def _switch(signed: SignedPlan, fresh: SignedPlan) -> Iterator[ProposedChange]:
    old, new = signed.network.switch, fresh.network.switch
    if old == new:
        return
    if new and old:
        words = say("takeoff_changes.switch", new=new, old=old)
    else:
        words = (
            say("takeoff_changes.switch_in", new=new) if new else say("takeoff_changes.switch_out", old=old)
        )
    yield ProposedChange(what="switch", words=words)


def _channels(signed: SignedPlan, fresh: SignedPlan) -> Iterator[ProposedChange]:
    """Only where the same boxes stand: others have other channels anyway."""
    if set(_by_place(signed.choice.access_points)) != set(_by_place(fresh.choice.access_points)):
        return
    names = {point.id: point.site.id for point in fresh.choice.access_points}
    mine = {point.id: point.site.id for point in signed.choice.access_points}
    old = {(mine.get(c.access_point, c.access_point), c.band): c for c in signed.channels.channels}
    new = {(names.get(c.access_point, c.access_point), c.band): c for c in fresh.channels.channels}
    moved = tuple(
        say(
            "takeoff_changes.channel",
            box=old[key].access_point,
            band_ghz=float(key[1].value),
            new=new[key].channel,
            old=old[key].channel,
        )
        for key in old
        if key in new and (old[key].channel, old[key].width_mhz) != (new[key].channel, new[key].width_mhz)
    )
    if moved:
        yield ProposedChange(what="channels", words=say("takeoff_changes.channels", moved=moved))


def _price(signed: SignedPlan, fresh: SignedPlan) -> Iterator[ProposedChange]:
    old, new = signed.takeoff.quote, fresh.takeoff.quote
    if (old.currency, round(old.total, 2)) != (new.currency, round(new.total, 2)):
        words = say(
            "takeoff_changes.price",
            new=new.total,
            new_currency=new.currency,
            old=old.total,
            old_currency=old.currency,
        )
        yield ProposedChange(what="price", words=words)


def _steps(job: Job, signed: SignedPlan, fresh: SignedPlan) -> Iterator[ProposedChange]:
    old = {task.key: task for task in signed.timetable.tasks}
    new = {task.key: task for task in fresh.timetable.tasks}
    come = [key for key in new if key not in old]
    go = [key for key in old if key not in new]
    done = [key for key in go if key in ticked(job)]
    if come:
        steps = _named([new[key].title for key in come])
        words = say("takeoff_changes.steps_in", n=len(come), steps=steps)
        yield ProposedChange(what="steps", words=words, about=tuple(come))
    if go:
        steps = _named([old[key].title for key in go])
        words = (
            say("takeoff_changes.steps_out_done", n=len(go), steps=steps, done=len(done))
            if done
            else say("takeoff_changes.steps_out", n=len(go), steps=steps)
        )
        yield ProposedChange(what="steps", words=words, about=tuple(go))


def _named(titles: Sequence[str]) -> Saying:
    more = len(titles) - MOST_NAMED
    first = tuple(titles[:MOST_NAMED])
    if more > 0:
        return say("takeoff_changes.titles_more", titles=first, more=more)
    return say("takeoff_changes.titles", titles=first)
