"""Before and after: room by room, the same device on both sides, in words that do not flatter."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from typing import Literal

import numpy as np

from rehaul.house import Job, Model, Quantity, Reading
from rehaul.normal import quantile
from rehaul.proof.medians import Interval, median_interval, ratio_interval
from rehaul.words import Saying, say
from rehaul.words.fields import Words

Turned = Literal["better", "no different", "worse", "cannot tell"]
COMPARED = (Quantity.DOWN_MBPS, Quantity.UP_MBPS, Quantity.DELAY_MS, Quantity.LOADED_DELAY_MS)
LESS_IS_BETTER = (Quantity.DELAY_MS, Quantity.LOADED_DELAY_MS)
QUANTITY_WORDS = {  # codes
    Quantity.DOWN_MBPS: "proof_comparing.down",
    Quantity.UP_MBPS: "proof_comparing.up",
    Quantity.DELAY_MS: "proof_comparing.delay",
    Quantity.LOADED_DELAY_MS: "proof_comparing.loaded_delay",
}
COUNTED: dict[Turned, str] = {
    "better": "proof_comparing.n_better",
    "no different": "proof_comparing.n_no_different",
    "worse": "proof_comparing.n_worse",
    "cannot tell": "proof_comparing.n_cannot_tell",
}

LEAST = 1e-3  # keeps a reading of nothing out of a division

PairKey = tuple[str, str, bool, Quantity]  # room, device, wired, quantity


class StageReadings(Model):
    """Readings of one stage."""

    low: float
    median: float
    high: float
    readings: int


class BeforeAfter(Model):
    """One room with one device, before and after."""

    room: str
    room_name: str
    device: str
    device_name: Words
    wired: bool
    quantity: Quantity
    before: StageReadings
    after: StageReadings
    times: float  # after over before
    times_low: float
    times_high: float
    chance: float  # that the interval of `times` holds, at least
    outcome: Turned
    sentence: Words


class Comparison(Model):
    """What changed, and what cannot be compared."""

    pairs: tuple[BeforeAfter, ...]
    unpaired: tuple[Words, ...]  # sentences: read on one side only
    sentence: Words


def comparison(job: Job) -> Comparison:
    """Pair every reading before with those after in the same room, with the same device, on the same medium.

    **Validity**: readings of one pair are independent; another phone, another hour or an open door is
    not seen here but named where it is noted. **Source**: `median_interval`, `ratio_interval`.
    """
    before, after = _grouped(job, "before"), _grouped(job, "after")
    order = {room.id: index for index, room in enumerate(job.house.rooms)}
    both = sorted(
        before.keys() & after.keys(), key=lambda k: (order.get(k[0], -1), k[1], k[2], COMPARED.index(k[3]))
    )
    pairs = tuple(_pair(job, key, before[key], after[key]) for key in both)
    return Comparison(pairs=pairs, unpaired=tuple(_unpaired(job, before, after)), sentence=_summary(pairs))


def _grouped(job: Job, stage: str) -> dict[PairKey, list[Reading]]:
    found: dict[PairKey, list[Reading]] = defaultdict(list)
    for reading in job.readings:
        if reading.stage == stage and reading.quantity in COMPARED and reading.room:
            found[reading.room, reading.device or "", reading.wired, reading.quantity].append(reading)
    return found


def _pair(job: Job, key: PairKey, before: Sequence[Reading], after: Sequence[Reading]) -> BeforeAfter:
    room, device, wired, quantity = key
    room_name = next((r.name for r in job.house.rooms if r.id == room), room)
    device_name = next((d.name for d in job.devices if d.id == device), say("proof_comparing.not_named"))
    values = [[value for reading in side for value in _repeats(reading)] for side in (before, after)]
    times = ratio_interval(*values)
    outcome = _outcome(times, quantity)
    sides = [median_interval(side) for side in values]
    doors = {reading.doors for reading in (*before, *after)}
    words = _words(room_name, device_name, quantity, sides, times, outcome)
    if {"open", "shut"} <= doors:
        words = say("proof_comparing.doors", said=words)
    return BeforeAfter(
        room=room,
        room_name=room_name,
        device=device,
        device_name=device_name,
        wired=wired,
        quantity=quantity,
        before=_side(sides[0], len(values[0])),
        after=_side(sides[1], len(values[1])),
        times=round(times.middle, 3),
        times_low=round(times.low, 3),
        times_high=round(times.high, 3),
        chance=round(times.chance, 4),
        outcome=outcome,
        sentence=words,
    )


def _repeats(reading: Reading) -> list[float]:
    """A reading kept as a mean of repeats stands for that many, spread about it as its spread says."""
    if reading.repeats == 1 or reading.spread is None:
        return [max(reading.value, LEAST)]
    places = quantile((np.arange(reading.repeats) + 0.5) / reading.repeats)
    scaled = places / np.std(places, ddof=1) * reading.spread
    return [max(float(value), LEAST) for value in reading.value + scaled]


def _side(found: Interval, readings: int) -> StageReadings:
    return StageReadings(low=found.low, median=found.middle, high=found.high, readings=readings)


def _outcome(times: Interval, quantity: Quantity) -> Turned:
    if not times.holds:
        return "cannot tell"
    if times.low <= 1.0 <= times.high:
        return "no different"
    return "better" if (times.low > 1.0) != (quantity in LESS_IS_BETTER) else "worse"


def _words(
    room: str,
    device: str,
    quantity: Quantity,
    sides: Sequence[Interval],
    times: Interval,
    outcome: Turned,
) -> Saying:
    before, after = (_value(side.middle, quantity) for side in sides)
    start = say(
        "proof_comparing.sides",
        room=room,
        device=device,
        quantity=say(QUANTITY_WORDS[quantity]),
        before=before,
        after=after,
    )
    if outcome == "cannot tell":
        return say("proof_comparing.too_few", sides=start)
    if outcome == "no different":
        return say("proof_comparing.no_better", sides=start, low=times.low, high=times.high)
    if outcome == "worse":
        return say("proof_comparing.worse", sides=start, low=times.low, high=times.high)
    return say("proof_comparing.better", sides=start, low=times.low, high=times.high)


def _value(value: float, quantity: Quantity) -> Saying:
    if quantity in LESS_IS_BETTER:
        return say("proof.delay", delay_ms=value)
    return say("proof.rate", rate_mbps=value)


def _unpaired(
    job: Job, before: dict[PairKey, list[Reading]], after: dict[PairKey, list[Reading]]
) -> list[Saying]:
    names = {room.id: room.name for room in job.house.rooms}
    devices = {device.id: device.name for device in job.devices}

    def told(code: str, room: str, device: str, quantity: Quantity) -> Saying:
        who = devices.get(device) or say("proof_comparing.not_named")
        return say(code, room=names.get(room, room), device=who, quantity=say(QUANTITY_WORDS[quantity]))

    found = []
    for mine, other, code in (
        (before, after, "proof_comparing.only_before"),
        (after, before, "proof_comparing.only_after"),
    ):
        for room, device, _, quantity in mine:
            if not any(k[0] == room and k[1] == device and k[3] == quantity for k in other):
                found.append(told(code, room, device, quantity))
    for room, device, wired, quantity in before.keys() - after.keys():
        turned = room, device, not wired, quantity
        if turned in after and turned not in before:
            code = "proof_comparing.cable_then_air" if wired else "proof_comparing.air_then_cable"
            found.append(told(code, room, device, quantity))
    return sorted(set(found))


def _summary(pairs: Sequence[BeforeAfter]) -> Saying:
    if not pairs:
        return say("proof_comparing.nothing")
    counts = {code: sum(pair.outcome == word for pair in pairs) for word, code in COUNTED.items()}
    parts = tuple(say(code, n=count) for code, count in counts.items() if count)
    return say("proof_comparing.summary", n=len(pairs), counts=parts)
