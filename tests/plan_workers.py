"""What stands for the worker and the sitting of a server whose plans are tested."""

from __future__ import annotations

import asyncio
from types import SimpleNamespace
from typing import Any

from rehaul.house import Job, Tick
from rehaul.web.plans import Plans

JOB = Job(id="j", title="As it was")
OTHER = JOB.model_copy(update={"title": "Edited"})
TICKED = JOB.model_copy(update={"ticks": (Tick(id="t1", task="s"),)})


class Working:
    """Stands for the worker: says at once which job it was given."""

    def __init__(self) -> None:
        self.given: list[Job] = []
        self.told: list[bool] = []

    async def run(self, kind: str, job: Job, *said: str, seconds: float, progress: Any, part: Any) -> Any:
        self.given.append(job)
        progress("halfway")
        return f"{kind} of {job.title}"

    def stop(self) -> None: ...


class Sat:
    """Stands for a sitting: a job at a revision."""

    def __init__(self, job: Job) -> None:
        self.key, self.plan_version, self.woken = "small", 0, 0
        self.seats: list[Any] = []
        self.edit(job, 0)

    def edit(self, job: Job, revision: int) -> None:
        self.ledger: Any = SimpleNamespace(job=job, state=SimpleNamespace(job=job, revision=revision))

    def wake_now(self) -> None:
        self.woken += 1


async def made(plans: Plans, sat: Any, kind: str = "plan", *said: str) -> Any:
    plans.start(sat, kind, *said)
    task = plans.piece(sat, kind).task
    assert task is not None
    await task
    return plans.piece(sat, kind)


def plans_with(worker: Working) -> Plans:
    plans = Plans()
    plans.worker = worker  # type: ignore[assignment]
    return plans


def looked_at(sat: Sat) -> None:
    sat.seats = [SimpleNamespace(follows=False), SimpleNamespace(follows=True)]


class Slow(Working):
    """Ends when it is let, and can be cancelled."""

    def __init__(self) -> None:
        super().__init__()
        self.go = asyncio.Event()
        self.cancelled = 0

    async def run(self, kind: str, job: Job, *said: str, seconds: float, progress: Any, part: Any) -> Any:
        self.given.append(job)
        try:
            await self.go.wait()
        except asyncio.CancelledError:
            self.cancelled += 1
            raise
        return f"{kind} of {job.title}"
