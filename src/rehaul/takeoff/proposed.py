"""What a new plan would change of the one that is signed: a proposal, in words, until it is accepted."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from rehaul.design.results import AccessPoint, FrontPoint
from rehaul.house import Job, Model
from rehaul.takeoff.results import Quote, QuoteOption
from rehaul.takeoff.signed import SignedPlan
from rehaul.takeoff.ticking import ticked
from rehaul.units import format_money

MOST_NAMED = 3


class ProposedChange(Model):
    """One thing that a new plan says otherwise."""

    what: Literal["access point", "outlet", "router", "device", "switch", "channels", "price", "steps"]
    words: str
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
            words = f"An access point in {point.name}, at {place}, would come in: {point.equipment}."
            yield ProposedChange(what="access point", words=words, about=(place,))
    for place, point in old.items():
        if place not in new:
            words = f"{point.id} in {point.name}, at {place}, would fall away."
            yield ProposedChange(what="access point", words=words, about=(point.id, place))
            continue
        other = new[place]
        if other.equipment != point.equipment:
            words = f"{point.id} in {point.name} would be another box: {other.equipment}."
            yield ProposedChange(what="access point", words=words, about=(point.id, place))
        if _fed_by(other) != _fed_by(point):
            words = (
                f"{point.id} in {point.name} would be fed by {_fed_by(other)} instead of {_fed_by(point)}."
            )
            yield ProposedChange(what="access point", words=words, about=(point.id, place))


def _by_place(points: Sequence[AccessPoint]) -> dict[str, AccessPoint]:
    return {point.site.id: point for point in points}


def _fed_by(point: AccessPoint) -> str:
    site = point.site
    if site.run:
        return f"the old cable {site.run}"
    return "a new cable" if site.new_pull_m else "the place itself or by radio"


def _outlets(signed: SignedPlan, fresh: SignedPlan) -> Iterator[ProposedChange]:
    old = {outlet.id: outlet for outlet in signed.choice.outlets}
    new = {outlet.id: outlet for outlet in fresh.choice.outlets}
    for name, outlet in new.items():
        if name not in old:
            words = f"A wired outlet in {outlet.name} would come in."
            yield ProposedChange(what="outlet", words=words, about=(name,))
    for name, outlet in old.items():
        if name not in new:
            words = f"The wired outlet {name} in {outlet.name} would fall away."
            yield ProposedChange(what="outlet", words=words, about=(name,))


def _router(signed: SignedPlan, fresh: SignedPlan) -> Iterator[ProposedChange]:
    old, new = signed.choice.router, fresh.choice.router
    if (old.box, old.do, old.storey, old.position) != (new.box, new.do, new.storey, new.position):
        words = f"The router: {new.words or new.do}, instead of: {old.words or old.do}."
        yield ProposedChange(what="router", words=words, about=(new.box or old.box,))


def _devices(signed: SignedPlan, fresh: SignedPlan) -> Iterator[ProposedChange]:
    old = {device.id: device for device in signed.choice.devices}
    new = {device.id: device for device in fresh.choice.devices}
    for name, device in new.items():
        if name not in old:
            words = f"The {device.was} in {device.name} would be given a new radio."
            yield ProposedChange(what="device", words=words, about=(device.room,))
    for name, device in old.items():
        if name not in new:
            words = f"The new radio for the {device.was} in {device.name} would fall away."
            yield ProposedChange(what="device", words=words, about=(device.room,))


def _set_afresh(signed: SignedPlan, fresh: SignedPlan) -> Iterator[ProposedChange]:
    old = {row.box: row for row in signed.choice.set_afresh}
    new = {row.box: row for row in fresh.choice.set_afresh}
    for box in sorted(set(old) ^ set(new)):
        row = new.get(box) or old[box]
        does = "would be set afresh" if box in new else "would be left as it is set"
        yield ProposedChange(what="router", words=f"The radio of {row.name} {does}.", about=(box,))


def _switch(signed: SignedPlan, fresh: SignedPlan) -> Iterator[ProposedChange]:
    old, new = signed.network.switch, fresh.network.switch
    if old != new:
        words = f"The switch would be {new or 'none'} instead of {old or 'none'}."
        yield ProposedChange(what="switch", words=words)


def _channels(signed: SignedPlan, fresh: SignedPlan) -> Iterator[ProposedChange]:
    """Only where the same boxes stand: others have other channels anyway."""
    if set(_by_place(signed.choice.access_points)) != set(_by_place(fresh.choice.access_points)):
        return
    names = {point.id: point.site.id for point in fresh.choice.access_points}
    mine = {point.id: point.site.id for point in signed.choice.access_points}
    old = {(mine.get(c.access_point, c.access_point), c.band): c for c in signed.channels.channels}
    new = {(names.get(c.access_point, c.access_point), c.band): c for c in fresh.channels.channels}
    moved = [
        f"{old[key].access_point} at {key[1].value} GHz on {new[key].channel} instead of {old[key].channel}"
        for key in old
        if key in new and (old[key].channel, old[key].width_mhz) != (new[key].channel, new[key].width_mhz)
    ]
    if moved:
        yield ProposedChange(what="channels", words=f"Channels: {', '.join(moved)}.")


def _price(signed: SignedPlan, fresh: SignedPlan) -> Iterator[ProposedChange]:
    old, new = signed.takeoff.quote, fresh.takeoff.quote
    if (old.currency, round(old.total, 2)) != (new.currency, round(new.total, 2)):
        words = (
            f"The price would be {format_money(new.total, new.currency)} instead of "
            f"{format_money(old.total, old.currency)} as signed."
        )
        yield ProposedChange(what="price", words=words)


def _steps(job: Job, signed: SignedPlan, fresh: SignedPlan) -> Iterator[ProposedChange]:
    old = {task.key: task for task in signed.timetable.tasks}
    new = {task.key: task for task in fresh.timetable.tasks}
    come = [key for key in new if key not in old]
    go = [key for key in old if key not in new]
    done = [key for key in go if key in ticked(job)]
    if come:
        words = f"{_count(len(come), 'step')} would come in: {_named([new[key].title for key in come])}."
        yield ProposedChange(what="steps", words=words, about=tuple(come))
    if go:
        words = f"{_count(len(go), 'step')} would fall away: {_named([old[key].title for key in go])}."
        if done:
            words += f" {_count(len(done), 'of them is', 'of them are')} ticked off already."
        yield ProposedChange(what="steps", words=words, about=tuple(go))


def _named(titles: Sequence[str]) -> str:
    more = len(titles) - MOST_NAMED
    return "; ".join(titles[:MOST_NAMED]) + (f"; and {more} more" if more > 0 else "")


def _count(number: int, noun: str, plural: str = "") -> str:
    return f"{number} {noun if number == 1 else plural or noun + 's'}"
