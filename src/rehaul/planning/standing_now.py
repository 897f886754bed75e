"""What a job and its plan say of where it stands, counted once for sentence, stages and figures."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import Any

from rehaul.house import Job, Quantity, RunState

Row = Mapping[str, Any]


class Standing:
    """A job and its plan as plain data, or why there is none."""

    def __init__(self, job: Job, plan: Row | None, refusal: str = "") -> None:
        self.job = job
        self.plan = plan
        self.refusal = "" if plan is not None else refusal
        self.rooms = tuple(dict.fromkeys(need.room for need in job.needs))  # ids, those that need something
        self.accepted = job.accepted_offers[-1] if job.accepted_offers else None
        self.order: tuple[Row, ...] = tuple(plan["order"]) if plan else ()
        ticked = {tick.task for tick in job.ticks}
        self.open_steps = tuple(t for t in self.order if (t.get("key") or t["id"]) not in ticked)
        self.done = len(self.order) - len(self.open_steps)

    @cached_property
    def choice(self) -> Row:
        found: Row = self.plan["choice"] if self.plan else {}
        return found

    @cached_property
    def short(self) -> tuple[str, ...]:
        """Names of the rooms that will not get what they need, wired outlets among it."""
        names = {room.id: room.name for room in self.job.house.rooms}
        met = set(self.choice.get("rooms_met", ()))
        return tuple(names[room] for room in self.rooms if room not in met) if self.plan else ()

    @property
    def served_after(self) -> int | None:
        """By the plan's own word on each room."""
        return len(self.rooms) - len(self.short) if self.plan is not None else None

    @cached_property
    def served_today(self) -> int | None:
        """As the choice counts it where everything stays, wired outlets among it; else by rates alone."""
        if self.plan is None:
            return None
        nothing = next((point for point in self.choice["front"] if point.get("nothing")), None)
        if nothing is not None:
            return int(nothing["rooms_served"])
        return sum(bool(row["met"]) for row in self.plan["before"] if row["room"] in self.rooms)

    def worst_mbps(self, when: str) -> float | None:
        """Of the rooms that ask for a rate the least middling one, `before` or `after` the work."""
        rows = self.plan[when] if self.plan else ()
        asked = [row["median_mbps"] for row in rows if row["room"] in self.rooms and row["need_mbps"] > 0]
        return min(asked, default=None)

    @property
    def needs_nothing(self) -> bool:
        """Whether the plan leaves everything as it is, and every room has what it needs."""
        return self.plan is not None and not self.order and not self.short

    @property
    def price(self) -> float | None:
        if self.accepted:
            return self.accepted.total
        return float(self.plan["takeoff"]["quote"]["total"]) if self.plan else None

    @property
    def currency(self) -> str:
        return self.accepted.currency if self.accepted else self.job.currency

    @cached_property
    def unknown_runs(self) -> int:
        return sum(run.state is RunState.UNKNOWN for run in self.job.house.runs)

    @property
    def begun(self) -> bool:
        """Whether the work goes on: an offer is accepted, or a step is ticked off."""
        return self.accepted is not None or self.done > 0

    @property
    def work_done(self) -> bool:
        return self.plan is not None and not self.open_steps and (self.begun or not self.order)

    @cached_property
    def failed(self) -> tuple[str, ...]:
        """Names of rooms and cables of which somebody signed that they fail, the last signature counting."""
        names = {room.id: room.name for room in self.job.house.rooms}
        last = {line.about: line for line in self.job.acceptance}
        return tuple(names.get(about, about) for about, line in last.items() if line.result == "fail")

    @cached_property
    def measured(self) -> tuple[str, ...]:
        """Ids of the rooms in need where a rate was read after the work, or a pass was signed."""
        passed = {line.about for line in self.job.acceptance if line.result == "pass"}
        read = {
            reading.room
            for reading in self.job.readings
            if reading.stage == "after" and reading.quantity is Quantity.DOWN_MBPS
        }
        return tuple(room for room in self.rooms if room in passed or room in read)

    @property
    def to_measure(self) -> int:
        return len(self.rooms) - len(self.measured)
