"""Where a job stands now: one sentence, the one thing to do next, each stage, and the figures that matter."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Literal

from rehaul.house import Job, Model, RunState, held_on
from rehaul.planning.standing_now import Standing
from rehaul.planning.standing_words import Page, next_words, sentence_of
from rehaul.words import say
from rehaul.words.fields import Words

State = Literal["done", "under way", "to do", "held"]


class Next(Model):
    """The one next action, as the words of a button, and why it comes first."""

    words: Words
    page: Page
    why: Words


class Stage(Model):
    """How far one stage of the job is."""

    stage: Page
    state: State
    words: Words = ""  # a short word or a count: "6 of 7"


class Figures(Model):
    """The numbers of a job. None where no plan says, or nothing is measured in such a number."""

    rooms: int  # that need something
    served_today: int | None
    served_after: int | None
    worst_today_mbps: float | None  # the middling rate of the poorest room that asks for one
    worst_after_mbps: float | None
    price: float | None  # as accepted, where an offer is
    currency: str
    visits: int | None
    minutes: float | None  # of work that is paid for
    held: int  # cables that are not to be cut


class Now(Model):
    """Where a job stands."""

    sentence: Words
    next: Next
    stages: tuple[Stage, ...]
    figures: Figures


def now_of(job: Job, plan: Mapping[str, Any] | None, refusal: str = "") -> Now:
    """Where a job stands, of what is on record and of its plan.

    Parameters: `job`, whole; `plan`, what `plan --json` prints (docs/plan.schema.json), None where there is
    none; `refusal`, why none could be made. Nothing is worked out anew: what a room gets is what the plan
    says it gets, and before there is a plan nothing is said of it. **Source**: the plan and the job alone.
    """
    standing = Standing(job, plan, refusal)
    words, page, why = next_words(standing)
    return Now(
        sentence=sentence_of(standing),
        next=Next(words=words, page=page, why=why),
        stages=_stages(standing),
        figures=_figures(standing),
    )


def _figures(now: Standing) -> Figures:
    return Figures(
        rooms=len(now.rooms),
        served_today=now.served_today,
        served_after=now.served_after,
        worst_today_mbps=now.worst_mbps("before"),
        worst_after_mbps=now.worst_mbps("after"),
        price=now.price,
        currency=now.currency,
        visits=max((task["visit"] for task in now.order), default=0) if now.plan else None,
        minutes=sum(task["minutes"] for task in now.order if task.get("by", "us") == "us")
        if now.plan
        else None,
        held=sum(bool(held_on(now.job, run.id)) for run in now.job.house.runs),
    )


def _stages(now: Standing) -> tuple[Stage, ...]:
    return (_house(now), _cables(now), _coverage(now), _quote(now), _work(now), _tests(now), _handover(now))


def _counted(stage: Page, done: int, of: int) -> Stage:
    state: State = "done" if done >= of else "under way" if done else "to do"
    return Stage(stage=stage, state=state, words=say("now.of", done=done, all=of))


def _house(now: Standing) -> Stage:
    house = now.job.house
    if not house.rooms:
        return Stage(stage="house", state="under way" if house.storeys and house.walls else "to do")
    state: State = "done" if now.job.service.modem else "under way"
    return Stage(stage="house", state=state, words=say("now.rooms", rooms=len(house.rooms)))


def _cables(now: Standing) -> Stage:
    runs = now.job.house.runs
    if not runs:
        return Stage(stage="cables", state="to do", words=say("now.no_cables"))
    return _counted("cables", sum(run.state is not RunState.UNKNOWN for run in runs), len(runs))


def _coverage(now: Standing) -> Stage:
    if now.refusal:
        return Stage(stage="coverage", state="held", words=say("now.no_plan"))
    if now.served_after is None or not now.rooms:
        return Stage(stage="coverage", state="under way" if now.rooms else "to do")
    return _counted("coverage", now.served_after, len(now.rooms))


def _quote(now: Standing) -> Stage:
    if now.accepted:
        return Stage(stage="quote", state="done", words=say("now.accepted"))
    if now.plan is None:
        return Stage(stage="quote", state="to do")
    if now.needs_nothing:
        return Stage(stage="quote", state="done", words=say("now.nothing"))
    return Stage(stage="quote", state="under way", words=say("now.ready"))


def _work(now: Standing) -> Stage:
    if now.plan is None:
        done = len(now.job.ticks)
        return Stage(stage="work", state="under way" if done else "to do")
    if not now.order:
        return Stage(stage="work", state="done", words=say("now.nothing"))
    if now.open_steps and all(task.get("held") for task in now.open_steps):
        return Stage(stage="work", state="held", words=say("now.of", done=now.done, all=len(now.order)))
    return _counted("work", now.done, len(now.order))


def _tests(now: Standing) -> Stage:
    if now.failed:
        return Stage(stage="tests", state="held", words=say("now.failed", failed=len(now.failed)))
    if not now.rooms:
        return Stage(stage="tests", state="to do")
    return _counted("tests", len(now.measured), len(now.rooms))


def _handover(now: Standing) -> Stage:
    ready = now.work_done and not now.to_measure
    words = say("now.ready") if ready else ""
    return Stage(stage="handover", state="under way" if ready else "to do", words=words)
