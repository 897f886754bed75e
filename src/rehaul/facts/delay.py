"""Delay under load: how long data wait where the narrowest link is, and what people notice of it."""

from __future__ import annotations

from functools import cache
from typing import ClassVar, Literal

from rehaul.facts.table import FactRow, load

QueueAt = Literal["dsl", "cable", "fibre", "wireless", "unknown", "air", "wireless hop", "wire"]
DelayGrade = Literal["low", "medium", "high"]


class DelayQueue(FactRow):
    """What one kind of link adds to the way there and back, idle and with its queue full."""

    table: ClassVar[str] = "delay_queues"
    decides: ClassVar[str] = "how much delay each kind of link adds, idle and busy"
    at: QueueAt
    words: str
    idle_low_ms: float
    idle_high_ms: float
    plain_low_ms: float  # a long queue, as boxes are sold
    plain_high_ms: float
    managed_low_ms: float  # a queue that is kept short
    managed_high_ms: float


class DelayClass(FactRow):
    """One class of delay under load."""

    table: ClassVar[str] = "delay_classes"
    decides: ClassVar[str] = "whether the delay of a room is called low, medium or high"
    name: DelayGrade
    up_to_ms: float | None = None  # None: no end
    says: str


@cache
def delay_queues() -> dict[QueueAt, DelayQueue]:
    """What each kind of link adds to the way there and back [ms], idle and with its queue full.

    Low and high are the ends of a usual range. **Validity**: the trade's experience, no bound. **Source**:
    the fact table `delay_queues`.
    """
    return {row.at: row for row in load(DelayQueue)}


@cache
def delay_classes() -> tuple[DelayClass, ...]:
    """Classes of delay under load, least first; each holds up to its `up_to_ms`, the last without end.

    **Source**: the fact table `delay_classes` (ITU-T G.114 as quoted, and the trade).
    """
    return load(DelayClass)
