"""Delay under load: the queue at the narrowest link, and the wait for a turn on the air."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from rehaul.facts.delay import DelayGrade, DelayQueue, delay_classes, delay_queues
from rehaul.facts.prediction import prediction_number
from rehaul.house import Job
from rehaul.predict.neighbours import air_left
from rehaul.predict.results import Delay, RoomRate
from rehaul.predict.together import Hanging, grouped
from rehaul.wlan import Mode, turn_us
from rehaul.words import Saying, say, term

LINE = "line"
AIR = ("air", "wireless hop")
MOST_STATIONS = 12  # beyond so many that all send at once nothing is said more exactly


@dataclass(frozen=True)
class DelaySpan:
    """A range of delays [ms]."""

    low_ms: float
    high_ms: float

    def __add__(self, other: DelaySpan) -> DelaySpan:
        return DelaySpan(self.low_ms + other.low_ms, self.high_ms + other.high_ms)


def delays(job: Job, hanging: Sequence[Hanging]) -> dict[str, Delay]:
    """Delay under load of each room, by room.

    Load fills the queue at the narrowest link of whoever loads: a room's own way, down or up; the air,
    where it holds back any room on the same box and band; the line, where it holds back any room of the
    house. To that come the line's own delay and a turn on the air each way: with the air to itself at
    best, else with one other sender, and with all rooms on the box where it is the air that is full.
    Neighbours lengthen the turns. The worst of the places counts.

    **Validity**: a class with a range, no promise; as far as the provider; queues of usual boxes, which
    may be short or long where nobody said. **Source**: the table of queues; `turn_us`; `air_share`.
    """
    fills_line = {LINE} & {_queue_at(one, up=up) for one in hanging for up in (False, True)}
    found = {}
    for group in grouped(hanging, lambda one: (one.radiator.id, one.air.band)):
        own = {one.room: {_queue_at(one, up=up) for up in (False, True)} for one in group}
        fills_air = {place for places in own.values() for place in places if place in AIR}
        modes = {one.room: mode for one in group for mode in [one.mode] if mode is not None}
        left = air_left(job, group[0].radiator, group[0].air.band)
        for one in group:
            if one.room in modes:
                turns = _turns(modes[one.room], list(modes.values()), left)
                found[one.room] = _delay(job, one, own[one.room] | fills_air | fills_line, turns)
    return found


def delay_notes(rooms: Sequence[RoomRate]) -> tuple[Saying, ...]:
    """What delay under load is like in the house, where it is not low, and in each room that asks: sentences.

    Empty where no room's delay is known. **Validity**: ranges of the trade, no promise. **Source**: the
    fact tables `delay_queues` and `delay_classes`.
    """
    known = [(row, row.delay) for row in rooms if row.delay is not None]
    if not known:
        return ()
    notes = []
    _, worst = max(known, key=lambda pair: pair[1].high_ms)
    if worst.grade != delay_classes()[0].name:
        says = next(row.says for row in delay_classes() if row.name == worst.grade)
        least_ms = min(delay.low_ms for _, delay in known)
        while_busy = say(
            "predict.delay_while_busy",
            least_ms=least_ms,
            high_ms=worst.high_ms,
            grade=worst.grade,
            says=says,
            at=worst.at,
        )
        remedy = [say("predict.delay_remedy", remedy=worst.remedy)] if worst.remedy else []
        notes.append(say("words.sentences", parts=[while_busy, *remedy, say("predict.delay_range")]))
    notes += [_asked_note(row.name, delay) for row, delay in known if delay.asked_ms is not None]
    return tuple(notes)


def _asked_note(room: str, delay: Delay) -> Saying:
    gets = say(
        "predict.delay_asked",
        room=room,
        asked_ms=delay.asked_ms,
        span=delay.span,
        verdict=delay.verdict,
    )
    return say("predict.delay_asked_remedy", gets=gets, remedy=delay.remedy) if delay.remedy else gets


def grade_of(high_ms: float) -> DelayGrade:
    """The class of a delay under load [ms]: low, medium or high; an edge belongs to the lower class.

    **Source**: the fact table `delay_classes` (ITU-T G.114 as quoted).

    >>> grade_of(5.0), grade_of(5000.0)
    ('low', 'high')
    """
    rows = delay_classes()
    return next(row.name for row in rows if row.up_to_ms is None or high_ms <= row.up_to_ms)


def _queue_at(one: Hanging, *, up: bool) -> str:
    """What the narrowest link of a room's way is: the line, or a kind of queue in the house."""
    rates = [link.rate_up_mbps if up else link.rate_mbps for link in one.links]
    place = rates.index(min(rates))
    if place == len(rates) - 1:
        return "wireless hop" if one.radiator.hop_mbps > 0 else "air"
    return LINE if place == 0 else "wire"


def _turns(own: Mode, all_modes: Sequence[Mode], left: float) -> tuple[DelaySpan, DelaySpan]:
    """A turn up and a turn down: where the air is not full, and where it is."""
    alone_ms, pair_ms = (2 * turn_us((own,) * stations) / 1000 for stations in (1, 2))
    crowd = tuple(sorted([*all_modes, own], key=lambda mode: mode.rate_mbps)[:MOST_STATIONS])
    crowd_ms = 2 * turn_us(crowd) / 1000
    return DelaySpan(alone_ms, pair_ms / left), DelaySpan(pair_ms, max(crowd_ms, pair_ms) / left)


def _delay(job: Job, one: Hanging, places: Iterable[str], turns: tuple[DelaySpan, DelaySpan]) -> Delay:
    line = delay_queues()[job.service.medium]
    idle = DelaySpan(line.idle_low_ms, line.idle_high_ms)
    calm, full = turns
    rest = {place: idle + (full if place in AIR else calm) for place in sorted(places)}
    spans = {place: rest[place] + _queue(job, place) for place in rest}
    short = {place: rest[place] + _managed(line) if place == LINE else span for place, span in spans.items()}
    now, mended = _worst(spans.values()), _worst(short.values())
    longest = max(spans, key=lambda place: spans[place].high_ms)
    asked_ms = one.need.delay_ms if one.need else None
    remedy, free = _remedy(job, now, mended, asked_ms)
    return Delay(
        grade=grade_of(now.high_ms),
        low_ms=round(now.low_ms),
        high_ms=round(now.high_ms),
        at=term(_row(job, longest).words),
        asked_ms=asked_ms,
        verdict=_verdict(now, asked_ms),
        remedy=remedy,
        remedy_free=free,
    )


def _worst(spans: Iterable[DelaySpan]) -> DelaySpan:
    """Only one queue is full at a time, since behind it nothing fills another: the longest counts."""
    rows = list(spans)
    return DelaySpan(max(row.low_ms for row in rows), max(row.high_ms for row in rows))


def _row(job: Job, place: str) -> DelayQueue:
    return delay_queues()[job.service.medium if place == LINE else place]  # type: ignore[index]


def _queue(job: Job, place: str) -> DelaySpan:
    """A queue as it is known: kept short, long, or either."""
    row = _row(job, place)
    managed = job.service.managed_queue if place == LINE else None
    if managed is None:
        return DelaySpan(row.managed_low_ms, row.plain_high_ms)
    return _managed(row) if managed else DelaySpan(row.plain_low_ms, row.plain_high_ms)


def _managed(row: DelayQueue) -> DelaySpan:
    return DelaySpan(row.managed_low_ms, row.managed_high_ms)


def _verdict(now: DelaySpan, asked_ms: float | None) -> Literal["", "met", "at risk", "not met"]:
    if asked_ms is None:
        return ""
    if now.high_ms <= asked_ms:
        return "met"
    return "not met" if now.low_ms > asked_ms else "at risk"


def _remedy(job: Job, now: DelaySpan, mended: DelaySpan, asked_ms: float | None) -> tuple[str, bool]:
    """The cheapest thing that helps, in words, and whether it is free.

    Nothing where nothing is wanted or all is well.
    """
    wanted_ms = asked_ms if asked_ms is not None else delay_classes()[0].up_to_ms
    if wanted_ms is None or now.high_ms <= wanted_ms:
        return "", False
    steps = []
    if mended.high_ms < now.high_ms:
        share = prediction_number("shaper_share")
        down, up = (share * rate for rate in (job.service.down_mbps, job.service.up_mbps))
        steps.append(say("predict.set_the_queue", percent=share * 100, down_mbps=down, up_mbps=up))
    wires = asked_ms is not None and mended.high_ms > asked_ms
    if wires:
        steps.append(say("predict.wire_the_device"))
    return (say("predict.delay_steps", steps=steps), not wires) if steps else ("", False)
