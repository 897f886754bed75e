"""The auditor's sample plan with a thing or two set otherwise: what one rule says of it."""

from __future__ import annotations

import copy
from collections.abc import Callable, Iterator
from typing import Any

from rehaul.auditor.finding import PlanFinding
from rehaul.auditor.reading import RowView
from rehaul.house import Job
from sample_plan_data import sample_job, sample_plan_data

JOB = sample_job()
GONE = "(gone)"  # set to this, it is taken out
NAMED_BY = ("id", "room", "run", "to", "name", "item", "drop", "access_point", "norm")
Rule = Callable[[Job, RowView], Iterator[PlanFinding]]
Set = tuple[str, Any]


def plan(*sets: Set) -> dict[str, Any]:
    """The sound plan with each place set: `after.rG0.met`; `+` at the end of a list puts one more in.

    In a list a word stands for the first row that it names, a number for a place.
    """
    data: dict[str, Any] = sample_plan_data()
    for path, value in copy.deepcopy(sets):
        *way, last = path.split(".")
        here: Any = data
        for key in way:
            here = here[_place(here, key)]
        if last == "+":
            here.append(value)
        elif value == GONE:
            del here[_place(here, last)]
        else:
            here[_place(here, last) if isinstance(here, list) else last] = value
    return data


def _place(here: Any, key: str) -> Any:
    if not isinstance(here, list):
        return key
    if key.isdigit():
        return int(key)
    return next(n for n, row in enumerate(here) if any(row.get(name) == key for name in NAMED_BY))


def job(**changes: Any) -> Job:
    return JOB.model_copy(update=changes)


def house(**changes: Any) -> Job:
    return job(house=JOB.house.model_copy(update=changes))


def choosing(**changes: Any) -> Job:
    return job(choices=JOB.choices.model_copy(update=changes))


def found(rule: Rule, *sets: Set, job: Job = JOB) -> list[PlanFinding]:
    return list(rule(job, RowView(plan(*sets))))


def about(rule: Rule, *sets: Set, job: Job = JOB) -> list[tuple[str, ...]]:
    """What each finding is about."""
    return [one.about for one in found(rule, *sets, job=job)]


STEPS: list[dict[str, Any]] = plan()["order"]
PLACE = {(step["norm"], step["because"][0] if step["because"] else ""): n for n, step in enumerate(STEPS)}


def step(norm: str, because: str = "") -> str:
    """Where a step stands in the order."""
    return f"order.{PLACE[norm, because]}."


def name(norm: str, because: str = "") -> str:
    """The id of a step."""
    return str(STEPS[PLACE[norm, because]]["id"])
