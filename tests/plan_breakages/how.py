"""How a plan is broken on purpose: what a breakage is, and the words to say one with."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from rehaul.house import Job, Model, SignOff
from sample_plan_data import Data, sample_job, sample_plan_data

Change = Callable[[Job, Data], Job | None]
SIGNED = SignOff(by="Owner", date="2026-03-01", words="agreed")


@dataclass(frozen=True)
class Breakage:
    """One way to break the sample plan, and the rule that must see it."""

    rule: str
    what: str
    change: Change

    def broken(self) -> tuple[Job, Data]:
        job, data = sample_job(), sample_plan_data()
        return self.change(job, data) or job, data


BREAKAGES: list[Breakage] = []


def breaks(rule: str, what: str) -> Callable[[Change], Change]:
    def keep(change: Change) -> Change:
        BREAKAGES.append(Breakage(rule, what, change))
        return change

    return keep


# the words


def pick(rows: list[Data], name: str, key: str = "id") -> Data:
    return next(row for row in rows if row[key] == name)


def drop(rows: list[Data], name: str, key: str = "id") -> None:
    rows.remove(pick(rows, name, key))


def node(data: Data, name: str) -> Data:
    return pick(data["graph"]["after"]["nodes"], name)


def link(data: Data, name: str) -> Data:
    return pick(data["graph"]["after"]["links"], name)


def path(data: Data, name: str) -> Data:
    return pick(data["paths"], name, "to")


def step(data: Data, to: str, name: str) -> Data:
    return pick(path(data, to)["links"], name)


def ap(data: Data, name: str) -> Data:
    return pick(data["choice"]["access_points"], name)


def task(data: Data, norm: str, about: str = "") -> Data:
    return next(
        row for row in data["order"] if row["norm"] == norm and (not about or about in row["because"])
    )


def part(data: Data, item: str) -> Data:
    return pick(data["takeoff"]["parts"], item, "item")


def room(data: Data, name: str, state: str = "after") -> Data:
    return pick(data[state], name, "room")


def option(data: Data, name: str) -> Data:
    return pick(data["takeoff"]["quote"]["options"], name, "name")


def changed(items: tuple[Any, ...], name: str, **update: Any) -> tuple[Any, ...]:
    return tuple(item.model_copy(update=update) if item.id == name else item for item in items)


def house(job: Job, **update: Any) -> Job:
    return job.model_copy(update={"house": job.house.model_copy(update=update)})


def inside(job: Job, field: str, name: str, **update: Any) -> Job:
    """The job with one thing of its house changed."""
    return house(job, **{field: changed(getattr(job.house, field), name, **update)})


def part_of(job: Job, field: str, **update: Any) -> Job:
    """The job with its choices, gate or service changed."""
    model: Model = getattr(job, field)
    return job.model_copy(update={field: model.model_copy(update=update)})
