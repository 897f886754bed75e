"""What it costs to bring an access point to a place: parts and minutes of the fact tables, in money."""

from __future__ import annotations

from dataclasses import dataclass

from rehaul.facts.work import allowances, labour, prices
from rehaul.house import Job

REUSE_TASKS = ("qualify", "jack", "panel_port", "plate", "test", "access_point")


@dataclass(frozen=True)
class Cost:
    """Money expected, and not exceeded in nine jobs of ten (tasks added up as if they failed together)."""

    middle: float
    high_90: float


def reuse_cost(job: Job, *, repair: bool, break_chain: int, small_switch: bool = False) -> Cost:
    """An old cable put to use: qualified, terminated at both ends, mended where it must be.

    `break_chain` counts the boxes where a chain is joined or cut off; `small_switch` adds one at a box.
    """
    tasks = [*REUSE_TASKS, *(["repair"] if repair else []), *(["break_chain"] * break_chain)]
    parts = 2 * prices()["jack"].unit_price + prices()["plate"].unit_price
    if small_switch:
        tasks.append("box_switch")
        parts += prices()["switch_small"].unit_price
    return task_cost(job, tasks, parts)


def beside_closet_cost(job: Job) -> Cost:
    """An access point where the cables meet: a patch cord and its mounting."""
    return task_cost(job, ["access_point"], prices()["cord_200"].unit_price)


def hour_price(job: Job) -> float:
    """The job's own price of an hour, else the invented one of the fact table."""
    own = job.choices.labour_per_h
    return allowances()["labour_per_h"] if own is None else own


def task_cost(job: Job, tasks: list[str], parts: float) -> Cost:
    """Money for tasks of the labour table and their parts."""
    per_minute = hour_price(job) / 60
    middle = sum(labour()[task].minutes for task in tasks) * per_minute + parts
    high = sum(labour()[task].minutes_90 for task in tasks) * per_minute + parts
    return Cost(round(middle, 2), round(high, 2))
