"""What falls short of what is asked once everything is predicted, by how much, and what would mend it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from rehaul.design.results import Choice, FrontPoint, RoomShortfall, told_beaten
from rehaul.house import Job
from rehaul.predict import Coverage, RoomRate
from rehaul.words import say

NeedKind = Literal["down", "up", "delay", "outlets"]


def with_gets(job: Job, choice: Choice, after: Coverage) -> Choice:
    """The choice with its shortfalls as predicted: what each room lacks, and what the choice could not see.

    The choice knows neither the channels as planned nor queues; what they leave short is added.
    """
    asking = {need.room for need in job.needs}
    rows = {row.room: row for row in after.rooms if row.room in asking}
    found = [
        short.model_copy(update={"says": _outlets_say(short)})
        if short.kind == "outlets"
        else short.model_copy(update={"gets_mbps": 0.0, "says": say("design_why.not_predicted")})
        for short in choice.shortfalls
        if short.kind == "outlets" or short.room not in rows
    ]
    air = [short for short in choice.shortfalls if short.kind != "outlets"]
    for row in rows.values():
        for kind in _lacks(row):
            mine = [short for short in air if short.room == row.room]
            same = next((short for short in mine if short.kind == kind), mine[0] if mine else None)
            fix, cost = (same.fix, same.fix_cost) if same and kind != "delay" else _fix(job, row, kind)
            found.append(_short(row, kind, fix, cost))
    return choice.model_copy(update={"shortfalls": tuple(found)})


def pin_words(choice: Choice) -> tuple[str, ...]:
    """What is said of pinned sites that the plan does without.

    In the order in which the job pins them; empty where each has its access point.
    """
    return tuple(say("design_why.pin_left", place=name) for name in choice.pins_left)


def _lacks(row: RoomRate) -> Iterator[NeedKind]:
    """What a room falls short of; the rate down where only all at once is not met."""
    if row.met:
        return
    kinds: list[NeedKind] = [] if row.down_met else ["down"]
    kinds += [] if row.up_met else ["up"]
    kinds += ["delay"] if row.too_late else []
    yield from kinds or ["up" if row.need_mbps == 0 else "down"]


def _short(row: RoomRate, kind: NeedKind, fix: str, cost: float | None) -> RoomShortfall:
    up = kind == "up"
    return RoomShortfall(
        room=row.room,
        name=row.name,
        need_mbps=0.0 if kind == "delay" else row.up_need_mbps if up else row.need_mbps,
        gets_mbps=0.0 if kind == "delay" else row.up_median_mbps if up else row.median_mbps,
        served_pct=row.up_served_pct if up else row.served_pct,
        fix=fix,
        fix_cost=cost,
        kind=kind,
        says=_says(row, kind),
    )


def _says(row: RoomRate, kind: NeedKind) -> str:
    if kind == "delay" and row.delay is not None:
        return say("design_why.lacks_delay", span=row.delay.span, asked_ms=row.delay.asked_ms)
    gets, needs, part = (
        (row.up_median_mbps, row.up_need_mbps, row.up_served_pct)
        if kind == "up"
        else (row.median_mbps, row.need_mbps, row.served_pct)
    )
    code = "design_why.lacks_up" if kind == "up" else "design_why.lacks_down"
    return say(code, gets_mbps=gets, needs_mbps=needs, served_pct=part)


def _outlets_say(short: RoomShortfall) -> str:
    return say("design_why.lacks_outlets", gets=short.gets_mbps, needs=short.need_mbps)


def _fix(job: Job, row: RoomRate, kind: NeedKind) -> tuple[str, float | None]:
    """What helps where the choice itself saw nothing amiss."""
    if kind == "delay":
        if row.delay is None or not row.delay.remedy:
            return say("design_why.wire_device"), None
        return row.delay.remedy, 0.0 if row.delay.remedy_free else None
    if kind == "up" and row.up_need_mbps > job.service.up_mbps:
        return say("design_why.up_less", paid_mbps=job.service.up_mbps), None
    if job.choices.dfs:
        return say("design_why.narrow_ask_less"), None
    return say("design_why.narrow_allow_dfs"), 0.0


def as_it_turns_out(choice: Choice, before: Coverage) -> Choice:
    """The front and the first words without the rooms that fall short for what the choice cannot see.

    Delay no choice can mend, so no point serves such a room. What the planned channels leave short is known
    of the chosen point alone. Doing nothing serves what is met today, and no room besides.
    """
    late = {short.name for short in choice.shortfalls if short.kind == "delay"}
    short = {row.name for row in choice.shortfalls}
    unmet = {row.name for row in before.rooms if not row.met}
    front = tuple(
        _without(point, (short if point.chosen else late) | (unmet if point.nothing else set()))
        for point in choice.front
    )
    words = "" if choice.shortfalls and not (choice.devices or choice.set_afresh) else choice.words
    return choice.model_copy(update={"front": told_beaten(front), "words": words})


def _without(point: FrontPoint, rooms: set[str]) -> FrontPoint:
    left = tuple(room for room in point.rooms if room not in rooms)
    return point.model_copy(update={"rooms": left, "rooms_served": len(left)})
