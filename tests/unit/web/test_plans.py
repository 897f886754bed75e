"""Plans of a server: kept, made anew, followed, stopped; the worker is stood in for."""

from __future__ import annotations

import asyncio
from types import SimpleNamespace
from typing import Any, cast

import pytest

from plan_workers import JOB, OTHER, TICKED, Sat, Slow, Working, looked_at, made, plans_with
from rehaul.errors import BadInput
from rehaul.house import Job
from rehaul.web.plans import MOST_KEPT, SAYS_SO_S, Plans, fits
from rehaul.web.worker import Stopped, WorkerFault


def test_after_an_edit_it_is_made_anew_and_otherwise_it_is_kept() -> None:
    async def talk() -> None:
        worker, sat = Working(), Sat(JOB)
        plans = plans_with(worker)
        first = await made(plans, sat)
        assert (first.state, first.result, first.revision) == ("done", "plan of As it was", 0)
        assert plans.stands(sat) and not plans.state(sat)["stale"]  # type: ignore[arg-type]
        assert (await made(plans, sat)) is first and len(worker.given) == 1
        sat.edit(OTHER, 1)
        assert plans.state(sat)["stale"] and not plans.stands(sat)  # type: ignore[arg-type]
        second = await made(plans, sat)
        assert (second.result, second.revision) == ("plan of Edited", 1)
        assert worker.given == [JOB, OTHER] and not plans.state(sat)["stale"]  # type: ignore[arg-type]

    asyncio.run(talk())


def test_a_tick_leaves_the_plan_good_and_makes_papers_stale() -> None:
    async def talk() -> None:
        worker, sat = Working(), Sat(JOB)
        plans = plans_with(worker)
        await made(plans, sat)
        await made(plans, sat, "papers", "A4")
        told = sat.plan_version
        sat.edit(TICKED, 5)
        plans.follow(sat)  # type: ignore[arg-type]
        assert (plans.piece(sat, "plan").revision, sat.plan_version) == (5, told + 1)  # type: ignore[arg-type]
        plans.follow(sat)  # type: ignore[arg-type]
        assert sat.plan_version == told + 1, "once is enough"
        assert plans.state(sat, "papers")["stale"]  # type: ignore[arg-type]
        sat.edit(OTHER, 6)
        plans.follow(sat)  # type: ignore[arg-type]
        assert plans.piece(sat, "plan").revision == 5, "of an older job"  # type: ignore[arg-type]

    asyncio.run(talk())


async def ended(plans: Plans, sat: Any) -> Any:
    """The plan once nothing is under way any more."""
    while (task := plans.piece(sat, "plan").task) is not None and not task.done():
        await asyncio.wait([task])
    return plans.piece(sat, "plan")


def test_the_plan_follows_every_edit_while_somebody_looks_at_one() -> None:
    async def talk() -> None:
        worker, sat = Working(), Sat(JOB)
        plans = plans_with(worker)
        plans.follow(sat)  # type: ignore[arg-type]
        sat.seats = [SimpleNamespace(follows=False)]
        plans.follow(sat)  # type: ignore[arg-type]
        assert worker.given == [] and plans.state(sat)["state"] == "none", "nobody looks at it"  # type: ignore[arg-type]
        looked_at(sat)
        plans.follow(sat)  # type: ignore[arg-type]
        assert (await ended(plans, sat)).made == 0
        plans.follow(sat)  # type: ignore[arg-type]
        assert worker.given == [JOB], "of that job it is made"
        sat.edit(OTHER, 1)
        plans.follow(sat)  # type: ignore[arg-type]
        state = plans.state(sat)  # type: ignore[arg-type]
        assert (state["state"], state["revision"], state["made"]) == ("working", 1, 0)
        assert plans.piece(sat, "plan").result == "plan of As it was", "what was made stays until then"  # type: ignore[arg-type]
        found = await ended(plans, sat)
        assert (found.result, found.made) == ("plan of Edited", 1)

    asyncio.run(talk())


def test_a_plan_that_an_edit_overtakes_ends_first_and_then_the_next_is_made(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    async def talk() -> None:
        worker, sat = Slow(), Sat(JOB)
        plans = plans_with(worker)
        looked_at(sat)
        plans.follow(sat)  # type: ignore[arg-type]
        await asyncio.sleep(0)
        sat.edit(OTHER, 1)
        plans.follow(sat)  # type: ignore[arg-type]
        await asyncio.sleep(0)
        assert (worker.given, worker.cancelled) == ([JOB], 0)
        worker.go.set()
        found = await ended(plans, sat)
        assert worker.given == [JOB, OTHER] and (found.result, found.made) == ("plan of Edited", 1)
        worker.go.clear()
        sat.edit(TICKED.model_copy(update={"title": "Once more"}), 2)
        plans.follow(sat)  # type: ignore[arg-type]
        await asyncio.sleep(0)
        monkeypatch.setattr("rehaul.web.plans.LET_END_S", -1.0)
        sat.edit(JOB, 3)
        plans.follow(sat)  # type: ignore[arg-type]
        await asyncio.sleep(0)
        await asyncio.sleep(0)
        assert worker.cancelled == 1 and worker.given[-1] == JOB, "one of long ago is left"
        await plans.close()

    asyncio.run(talk())


class Answering(Slow):
    """Says its answer first."""

    async def run(self, kind: str, job: Job, *said: str, seconds: float, progress: Any, part: Any) -> Any:
        part(SimpleNamespace(radiators=(job.title,)))
        return await super().run(kind, job, *said, seconds=seconds, progress=progress, part=part)


def test_the_answer_is_told_first_and_stands_until_the_plan_does() -> None:
    async def talk() -> None:
        worker, sat = Answering(), Sat(JOB)
        plans = plans_with(worker)
        looked_at(sat)
        assert plans.radiators_of(sat) is None  # type: ignore[arg-type]
        plans.follow(sat)  # type: ignore[arg-type]
        told = sat.plan_version
        await asyncio.sleep(0)
        assert plans.radiators_of(sat) == ("As it was",) and plans.plan_of(sat) is None  # type: ignore[arg-type]
        assert sat.plan_version == told + 1 == sat.woken, "the pages hear it"
        state = plans.state(sat)  # type: ignore[arg-type]
        assert (state["state"], state["made"], state["answered"]) == ("working", None, 0)
        sat.edit(OTHER, 1)
        plans.follow(sat)  # type: ignore[arg-type]
        assert plans.radiators_of(sat) == ("As it was",), "until the next is known"  # type: ignore[arg-type]
        assert plans.state(sat)["answered"] == 0  # type: ignore[arg-type]
        await asyncio.sleep(0)
        await asyncio.sleep(0)
        assert worker.cancelled == 1 and worker.given == [JOB, OTHER], "what was to be learnt is known"
        assert plans.radiators_of(sat) == ("Edited",)  # type: ignore[arg-type]
        worker.go.set()
        await ended(plans, sat)
        assert plans.answer_of(sat) is None and plans.state(sat)["made"] == 1  # type: ignore[arg-type]

    asyncio.run(talk())


def test_what_was_stopped_waits_to_be_asked_for_and_what_failed_for_an_edit() -> None:
    class Refusing(Working):
        async def run(self, kind: str, job: Job, *said: str, seconds: float, progress: Any, part: Any) -> Any:
            self.given.append(job)
            raise BadInput("no walls", where="house", remedy="Draw one")

    async def talk() -> None:
        worker, sat = Refusing(), Sat(JOB)
        plans = plans_with(worker)
        looked_at(sat)
        plans.follow(sat)  # type: ignore[arg-type]
        assert (await ended(plans, sat)).state == "failed"
        plans.follow(sat)  # type: ignore[arg-type]
        assert worker.given == [JOB]
        sat.edit(OTHER, 1)
        plans.follow(sat)  # type: ignore[arg-type]
        assert (await ended(plans, sat)).state == "failed" and worker.given == [JOB, OTHER]
        endless = Endless()
        plans.worker = endless  # type: ignore[assignment]
        sat.edit(JOB, 2)
        plans.follow(sat)  # type: ignore[arg-type]
        await asyncio.sleep(0)
        plans.stop(sat, "plan")  # type: ignore[arg-type]
        sat.edit(OTHER, 3)
        plans.follow(sat)  # type: ignore[arg-type]
        assert (plans.state(sat)["state"], endless.given) == ("stopped", [JOB])  # type: ignore[arg-type]
        await plans.close()

    asyncio.run(talk())


def test_a_process_that_ended_costs_one_answer_and_the_next_edit_is_followed() -> None:
    class Ending(Working):
        async def run(self, kind: str, job: Job, *said: str, seconds: float, progress: Any, part: Any) -> Any:
            self.given.append(job)
            raise Stopped("it was stopped")

    async def talk() -> None:
        worker, sat = Ending(), Sat(JOB)
        plans = plans_with(worker)
        looked_at(sat)
        plans.follow(sat)  # type: ignore[arg-type]
        assert (await ended(plans, sat)).state == "stopped"
        plans.follow(sat)  # type: ignore[arg-type]
        assert worker.given == [JOB], "not of the same job again and again"
        sat.edit(OTHER, 1)
        plans.follow(sat)  # type: ignore[arg-type]
        await ended(plans, sat)
        assert worker.given == [JOB, OTHER]

    asyncio.run(talk())


def test_what_else_is_asked_for_is_another_piece_of_work() -> None:
    async def talk() -> None:
        worker, sat = Working(), Sat(JOB)
        plans = plans_with(worker)
        first = await made(plans, sat, "papers", "A4")
        assert await made(plans, sat, "papers", "A4") is first
        assert await made(plans, sat, "papers", "Letter") is not first
        assert len(worker.given) == 2

    asyncio.run(talk())


class Endless(Working):
    """Works until it is cancelled, and tells that it was."""

    def __init__(self) -> None:
        super().__init__()
        self.cancelled, self.stopped = 0, 0

    async def run(self, kind: str, job: Job, *said: str, seconds: float, progress: Any, part: Any) -> Any:
        self.given.append(job)
        progress("halfway")
        try:
            await asyncio.sleep(60.0)
        except asyncio.CancelledError:
            self.cancelled += 1
            raise

    def stop(self) -> None:
        self.stopped += 1


def test_what_is_stopped_works_no_more_and_the_pages_hear_it() -> None:
    async def talk() -> None:
        worker, sat = Endless(), Sat(JOB)
        plans = plans_with(worker)
        plans.start(sat, "plan")  # type: ignore[arg-type]
        await asyncio.sleep(0)
        assert plans.is_working(sat) and plans.state(sat)["words"] == "halfway"  # type: ignore[arg-type]
        task, told = plans.piece(sat, "plan").task, sat.plan_version  # type: ignore[arg-type]
        plans.stop(sat, "plan")  # type: ignore[arg-type]
        assert sat.plan_version == sat.woken == told + 1
        assert task is not None
        await asyncio.wait([task], timeout=5.0)
        assert task.cancelled() and worker.cancelled == 1
        state = plans.state(sat)  # type: ignore[arg-type]
        assert (state["state"], state["words"], state["stale"]) == ("stopped", "", False)
        assert not plans.is_working(sat) and not plans.stands(sat)  # type: ignore[arg-type]
        plans.start(sat, "plan")  # type: ignore[arg-type]
        await asyncio.sleep(0)
        assert len(worker.given) == 2, "it may be begun anew"
        sat.edit(OTHER, 1)
        plans.start(sat, "plan")  # type: ignore[arg-type]
        await asyncio.sleep(0)
        await asyncio.sleep(0)
        assert (worker.cancelled, worker.given[-1]) == (2, OTHER), "the work on the older job ends"
        await asyncio.wait_for(plans.close(), 5.0)
        assert (worker.cancelled, worker.stopped) == (3, 1)

    asyncio.run(talk())


def test_what_was_never_begun() -> None:
    state = plans_with(Working()).state(Sat(JOB))  # type: ignore[arg-type]
    assert state == {
        "state": "none", "revision": 0, "made": None, "answered": None, "stale": False,
        "seconds": 0.0, "words": "", "refusal": None,
    }  # fmt: skip


def test_stopping_what_is_done_changes_nothing() -> None:
    async def talk() -> None:
        sat = Sat(JOB)
        plans = plans_with(Working())
        await made(plans, sat)
        told = sat.plan_version
        plans.stop(sat, "plan")  # type: ignore[arg-type]
        assert (plans.piece(sat, "plan").state, sat.plan_version) == ("done", told)  # type: ignore[arg-type]

    asyncio.run(talk())


@pytest.mark.parametrize(
    ("raised", "state", "code"),
    [
        (BadInput("no walls", where="house", remedy="Draw one"), "failed", "bad-input"),
        (Stopped("it took too long"), "stopped", None),
        (WorkerFault("Traceback ..."), "failed", "fault"),
        (ZeroDivisionError("secret"), "failed", "fault"),
    ],
)
def test_how_work_ends_that_does_not_succeed(raised: Exception, state: str, code: str | None) -> None:
    class Failing(Working):
        async def run(self, kind: str, job: Job, *said: str, seconds: float, progress: Any, part: Any) -> Any:
            raise raised

    async def talk() -> None:
        sat = Sat(JOB)
        plans = plans_with(Failing())
        piece = await made(plans, sat)
        told = plans.state(sat)  # type: ignore[arg-type]
        assert (told["state"], piece.result, told["words"]) == (state, None, "")
        assert told["refusal"] and "secret" not in str(told["refusal"])
        assert code is None or told["refusal"]["code"] == code

    asyncio.run(talk())


def test_what_was_made_longest_ago_is_let_go_first() -> None:
    async def talk() -> None:
        plans, sats = plans_with(Working()), []
        for number in range(MOST_KEPT + 2):
            sat = Sat(JOB)
            sat.key = f"job-{number}"
            sats.append(sat)
            await made(plans, sat)
        kept = [plans.piece(sat, "plan").result is not None for sat in sats]  # type: ignore[arg-type]
        assert kept == [False] + [True] * (MOST_KEPT + 1), "what was begun last is beside those kept"

    asyncio.run(talk())


def test_what_depends_on_ticks() -> None:
    assert fits("plan", JOB, TICKED) and not fits("papers", JOB, TICKED) and fits("papers", JOB, JOB)
    assert not fits("plan", JOB, OTHER) and not fits("plan", None, JOB)


def test_stages_are_told_until_pages_show_the_answer() -> None:
    """Who has no plan yet sees the stages to the end: an answer alone is shown by nobody."""

    class Telling(Working):
        async def run(self, kind: str, job: Job, *said: str, seconds: float, progress: Any, part: Any) -> Any:
            told = []
            piece.started_s -= 10 * SAYS_SO_S
            for step in (lambda: progress("choosing"), lambda: part("answer"), lambda: progress("ordering")):
                before = sat.woken
                step()
                told.append(sat.woken > before)
            self.told = told
            return "plan"

    async def talk(job: Job, revision: int) -> Any:
        nonlocal piece
        sat.edit(job, revision)
        plans.start(sat, "plan")
        piece = plans.piece(sat, "plan")
        await piece.task
        return worker.told

    worker, sat, piece = Telling(), cast(Any, Sat(JOB)), cast(Any, None)
    plans = plans_with(worker)

    async def both() -> None:
        assert await talk(JOB, 0) == [True, True, True]
        assert await talk(OTHER, 1) == [True, True, False]

    asyncio.run(both())
