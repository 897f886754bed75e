"""What a job that was stored must never hold, whoever wrote it: one judge for every fuzzer.

Its limits are not those of the readers or the models: they are wider, and say what nothing in a house can be.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from datetime import datetime
from typing import Any

from rehaul.facts.reading_ranges import reading_range
from rehaul.house import Job, dump_job, parse_job
from rehaul.house.geometry import house_bounds

# By the unit that a name ends with: the least and most, and why no more.
UNITS = {
    "mbps": (0.0, 1e6),  # 800 Gb/s is the fastest Ethernet there is (IEEE 802.3df)
    "dbm": (-130.0, 40.0),  # from below the noise of one channel to ten watts
    "db": (-100.0, 100.0),
    "m": (-10_000.0, 10_000.0),
    "ms": (0.0, 100_000.0),
    "s": (0.0, 1e6),
    "v": (0.0, 500.0),
    "va": (0.0, 10_000.0),
    "ohm": (0.0, 1e7),
    "pct": (0.0, 100.0),
    "awg": (0.0, 40.0),
    "mhz": (0.0, 100_000.0),
    "year": (1000.0, 2200.0),
}
NAMES = {
    "thickness_m": (0.0, 1000.0),
    "power_sockets": (0.0, 1000.0),
    "height_m": (0.0, 1000.0),
    "width_m": (0.0, 1000.0),
    "errors": (0.0, 1e15),
}
PLACES = ("position", "polygon", "start", "end", "corner", "route", "outlines", "voids")
FURTHEST_M = 1e7  # where the northings of a country's grid end
WIDEST_M = 20_000.0
MOST = 1e9  # of whatever has no unit: money, counts
YEARS = (1970, 2199)
_DATE = re.compile(r"\s*[+-]?\d{4,}-\d")
_UNKEPT = re.compile(r"\\u0000|\\ud[89a-f]")


def nonsense(job: Job) -> Iterator[str]:
    """Each value that makes no sense, in words."""
    try:
        text = dump_job(job)
    except ValueError as fault:
        yield f"it cannot be written: {fault}"
        return
    if "\0" in text or _UNKEPT.search(text):
        yield "a NUL or half a letter"
    try:
        if parse_job(text) != job:
            yield "it comes back from a file as something else"
    except Exception as fault:
        yield f"it does not open again: {str(fault)[:200]}"
    bounds = house_bounds(job.house)
    if bounds and max(bounds[2] - bounds[0], bounds[3] - bounds[1]) > WIDEST_M:
        yield f"a house from {bounds[:2]} to {bounds[2:]}"
    for path, value in _leaves(job.model_dump(mode="python"), ""):
        yield from (f"{path}: {fault}" for fault in _odd(path, value))
    for reading in job.readings:
        span = reading_range(reading.quantity.value)
        if not span.low <= reading.value <= span.high:
            yield f"{reading.quantity} {reading.value:g}"
        if reading.repeats > reading_range("repeats").high:
            yield f"{reading.repeats} repeats"


def _leaves(node: Any, path: str) -> Iterator[tuple[str, Any]]:
    if isinstance(node, dict):
        for name, value in node.items():
            yield from _leaves(value, f"{path}.{name}")
    elif isinstance(node, list | tuple):
        for value in node:
            yield from _leaves(value, path)
    else:
        yield path, node


def _odd(path: str, value: Any) -> Iterator[str]:
    name = path.rpartition(".")[2]
    if isinstance(value, bool) or value is None:
        return
    if isinstance(value, str):
        if name in ("time", "date") and _DATE.match(value) and not _in_our_time(value):
            yield f"no date of ours: {value[:40]!r}"
        return
    if isinstance(value, int | float):
        if not math.isfinite(value):
            yield "no number"
            return
        low, high = _span(path, name)
        if not low <= value <= high:
            yield f"{value:g} is beyond {low:g} to {high:g}"


def _span(path: str, name: str) -> tuple[float, float]:
    parts = path.split(".")
    if any(part in PLACES for part in parts):
        return -FURTHEST_M, FURTHEST_M
    for part in reversed(parts):  # an estimate's unit is in the name of its field: length_m.low
        if part in NAMES:
            return NAMES[part]
        unit = part.rpartition("_")[2]
        if "_" in part and unit in UNITS:
            return UNITS[unit]
    return -MOST, MOST


def _in_our_time(text: str) -> bool:
    try:
        return YEARS[0] <= datetime.fromisoformat(text.strip()).year <= YEARS[1]
    except ValueError:
        return False
