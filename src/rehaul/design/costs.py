"""What it costs to bring an access point to a place: parts and minutes of the fact tables, in money."""

from __future__ import annotations

from dataclasses import dataclass

from rehaul.facts.work import allowances, labour
from rehaul.house import Job

REUSE_TASKS = ("qualify", "jack", "panel_port", "plate", "test", "access_point")


@dataclass(frozen=True)
class Cost:
    """Money expected, and not exceeded in nine jobs of ten (tasks added up as if they failed together)."""

    middle: float
    high_90: float


def hour_price(job: Job) -> float:
    """The job's own price of an hour, else the invented one of the fact table.

    In the job's currency, before margin and tax. **Source**: fact table of allowances (invented until the
    job has its own).
    """
    own = job.choices.labour_per_h
    return allowances()["labour_per_h"] if own is None else own


def task_cost(job: Job, tasks: list[str], parts: float) -> Cost:
    """Money for tasks of the labour table and their parts.

    Parameters: `tasks`, kinds of the labour table, each as often as it is done; `parts`, money for their
    parts.

    Returns money to a hundredth, before margin and tax. **Validity**: the ninety per cent value adds up
    those of the tasks, which is dear: they do not all take long on one day. **Source**: fact table of
    labour.
    """
    per_minute = hour_price(job) / 60
    middle = sum(labour()[task].minutes for task in tasks) * per_minute + parts
    high = sum(labour()[task].minutes_90 for task in tasks) * per_minute + parts
    return Cost(round(middle, 2), round(high, 2))
