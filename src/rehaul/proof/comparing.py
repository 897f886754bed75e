"""Before and after: room by room, the same device on both sides, in words that do not flatter."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from typing import Literal

import numpy as np
from scipy.special import ndtri

from rehaul.house import Job, Model, Quantity, Reading
from rehaul.proof.medians import Interval, median_interval, ratio_interval
from rehaul.units import format_rate

Turned = Literal["better", "no different", "worse", "cannot tell"]
COMPARED = (Quantity.DOWN_MBPS, Quantity.UP_MBPS, Quantity.DELAY_MS, Quantity.LOADED_DELAY_MS)
LESS_IS_BETTER = (Quantity.DELAY_MS, Quantity.LOADED_DELAY_MS)
QUANTITY_WORDS = {
    Quantity.DOWN_MBPS: "down",
    Quantity.UP_MBPS: "up",
    Quantity.DELAY_MS: "delay",
    Quantity.LOADED_DELAY_MS: "delay under load",
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
    device_name: str
    wired: bool
    quantity: Quantity
    before: StageReadings
    after: StageReadings
    times: float  # after over before
    times_low: float
    times_high: float
    chance: float  # that the interval of `times` holds, at least
    outcome: Turned
    sentence: str


class Comparison(Model):
    """What changed, and what cannot be compared."""

    pairs: tuple[BeforeAfter, ...]
    unpaired: tuple[str, ...]  # sentences: read on one side only
    sentence: str


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
    device_name = next((d.name for d in job.devices if d.id == device), "a device not named")
    values = [[value for reading in side for value in _repeats(reading)] for side in (before, after)]
    times = ratio_interval(*values)
    outcome = _outcome(times, quantity)
    sides = [median_interval(side) for side in values]
    doors = {reading.doors for reading in (*before, *after)}
    words = _words(f"{room_name}, {device_name}", quantity, sides, times, outcome)
    if {"open", "shut"} <= doors:
        words += " Doors were not the same on both sides."
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
    places = ndtri((np.arange(reading.repeats) + 0.5) / reading.repeats)
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


def _words(who: str, quantity: Quantity, sides: Sequence[Interval], times: Interval, outcome: Turned) -> str:
    unit = format_rate if quantity not in LESS_IS_BETTER else _milliseconds
    start = f"{who}: {QUANTITY_WORDS[quantity]} {unit(sides[0].middle)} before, {unit(sides[1].middle)} after"
    if outcome == "cannot tell":
        return f"{start}. Too few readings to call it a change: take three or more on each side."
    span = f"{times.low:.1f} to {times.high:.1f} times"
    if outcome == "no different":
        return f"{start} ({span}). It got no better, as far as the readings can tell."
    if outcome == "worse":
        return f"{start} ({span}). It got worse, and should not be left so."
    return f"{start} ({span}). It got better."


def _milliseconds(value: float) -> str:
    return f"{value:.0f} ms"


def _unpaired(
    job: Job, before: dict[PairKey, list[Reading]], after: dict[PairKey, list[Reading]]
) -> list[str]:
    names = {room.id: room.name for room in job.house.rooms}
    devices = {device.id: device.name for device in job.devices}
    found = []
    for mine, other, side, missing in (
        (before, after, "before", "after"),
        (after, before, "after", "before"),
    ):
        for room, device, _, quantity in mine:
            if not any(k[0] == room and k[1] == device and k[3] == quantity for k in other):
                who = devices.get(device, "a device not named")
                found.append(
                    f"{names.get(room, room)}: read {side} with {who} ({QUANTITY_WORDS[quantity]}), "
                    f"but not {missing}."
                )
    return sorted(set(found))


def _summary(pairs: Sequence[BeforeAfter]) -> str:
    if not pairs:
        return "Nothing was read with the same device in the same room before and after."
    counts = {
        word: sum(pair.outcome == word for pair in pairs)
        for word in ("better", "no different", "worse", "cannot tell")
    }
    parts = [f"{count} {word}" for word, count in counts.items() if count]
    return f"Of {len(pairs)} comparisons: {', '.join(parts)}."
