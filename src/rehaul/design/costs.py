"""What it costs to bring an access point to a place: parts and minutes of the fact tables, in money."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rehaul.facts.work import allowances, labour, prices
from rehaul.house import Job

REUSE_TASKS = ("qualify", "jack", "panel_port", "plate", "test", "access_point")
NEW_TASKS = ("jack", "panel_port", "plate", "test", "access_point")


@dataclass(frozen=True)
class Cost:
    """Money expected, and not exceeded in nine jobs of ten (tasks added up as if they failed together)."""

    middle: float
    high_90: float


def reuse_cost(job: Job, *, repair: bool, break_chain: int) -> Cost:
    """An old cable put to use: qualified, terminated at both ends, mended where it must be."""
    tasks = [*REUSE_TASKS, *(["repair"] if repair else []), *(["break_chain"] * break_chain)]
    parts = 2 * prices()["jack"].unit_price + prices()["plate"].unit_price
    return _cost(job, tasks, parts)


def new_pull_cost(job: Job, length_m: float, floors_crossed: int) -> Cost:
    """A new cable fished to a place."""
    fish = ["fish_hard"] * max(1, math.ceil(floors_crossed / 2)) if floors_crossed else ["fish_easy"]
    parts = (
        (length_m + allowances()["closet_slack"] + allowances()["outlet_slack"])
        * prices()["cable_cat6"].unit_price
        + 2 * prices()["jack"].unit_price
        + prices()["plate"].unit_price
        + prices()["box_low_voltage"].unit_price
    )
    return _cost(job, [*fish, *NEW_TASKS, *(["fire_seal"] * floors_crossed)], parts)


def beside_closet_cost(job: Job) -> Cost:
    """An access point where the cables meet: a patch cord and its mounting."""
    return _cost(job, ["access_point"], prices()["cord_200"].unit_price)


def hour_price(job: Job) -> float:
    """The job's own price of an hour, else the invented one of the fact table."""
    own = job.choices.labour_per_h
    return allowances()["labour_per_h"] if own is None else own


def _cost(job: Job, tasks: list[str], parts: float) -> Cost:
    per_minute = hour_price(job) / 60
    middle = sum(labour()[task].minutes for task in tasks) * per_minute + parts
    high = sum(labour()[task].minutes_90 for task in tasks) * per_minute + parts
    return Cost(round(middle, 2), round(high, 2))
