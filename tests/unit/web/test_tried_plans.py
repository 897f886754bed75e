"""What somebody tries while the plan of a job is worked on; the worker is stood in for."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable
from typing import Any

import pytest

from plan_workers import JOB, OTHER, Sat, Slow, looked_at, plans_with
from rehaul.errors import Refusal
from rehaul.house import Job
from rehaul.web.worker import Stopped


class Trying(Slow):
    """Answers at once what somebody tries, as far as `go_on` lets it."""

    def __init__(self, go_on: Callable[[], Awaitable[None]]) -> None:
        super().__init__()
        self.go_on = go_on

    async def run(self, kind: str, job: Job, *said: str, seconds: float, **how: Any) -> Any:
        if kind != "answer":
            return await super().run(kind, job, *said, seconds=seconds, **how)
        self.given.append(job)
        await self.go_on()
        return f"answer of {job.title}"


async def at_once() -> None: ...


def test_what_somebody_tries_comes_first_and_the_plan_goes_on_after_it() -> None:
    async def talk() -> None:
        worker, sat = Trying(at_once), Sat(JOB)
        plans = plans_with(worker)
        looked_at(sat)
        assert await plans.answer_if(sat, OTHER) == "answer of Edited"  # type: ignore[arg-type]
        assert plans.state(sat)["state"] == "none", "no plan is begun by it"  # type: ignore[arg-type]
        plans.follow(sat)  # type: ignore[arg-type]
        await asyncio.sleep(0)
        assert worker.given == [OTHER, JOB]
        assert await plans.answer_if(sat, OTHER) == "answer of Edited"  # type: ignore[arg-type]
        assert plans.state(sat)["state"] == "working", "nobody is told that it stopped"  # type: ignore[arg-type]
        await asyncio.sleep(0)
        assert worker.cancelled == 1 and worker.given == [OTHER, JOB, OTHER, JOB]
        worker.go.set()
        found = plans.piece(sat, "plan")  # type: ignore[arg-type]
        assert found.task is not None
        await found.task
        assert (found.state, found.result) == ("done", "plan of As it was")
        await plans.close()

    asyncio.run(talk())


def test_two_who_try_at_once_make_the_plan_go_on_once() -> None:
    async def talk() -> None:
        worker, sat = Trying(lambda: asyncio.sleep(0)), Sat(JOB)
        plans = plans_with(worker)
        looked_at(sat)
        plans.follow(sat)  # type: ignore[arg-type]
        await asyncio.sleep(0)
        await asyncio.gather(*(plans.answer_if(sat, OTHER) for _ in range(3)))  # type: ignore[arg-type]
        await asyncio.sleep(0)
        assert worker.given.count(JOB) == 2, "begun, left, and gone on with"
        await plans.close()

    asyncio.run(talk())


def test_a_plan_that_was_stopped_meanwhile_does_not_go_on_after_what_was_tried() -> None:
    async def stopped() -> None:
        plans.stop(sat, "plan")  # type: ignore[arg-type]
        raise Stopped("it was stopped")

    worker, sat = Trying(stopped), Sat(JOB)
    plans = plans_with(worker)

    async def talk() -> None:
        looked_at(sat)
        plans.follow(sat)  # type: ignore[arg-type]
        await asyncio.sleep(0)
        with pytest.raises(Refusal, match="it was stopped"):
            await plans.answer_if(sat, OTHER)  # type: ignore[arg-type]
        await asyncio.sleep(0)
        assert worker.given == [JOB, OTHER]
        await plans.close()

    asyncio.run(talk())
