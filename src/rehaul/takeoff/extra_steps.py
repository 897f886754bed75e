"""Steps that are no cable's: the router put elsewhere, adapters and splitters on the coax."""

from __future__ import annotations

from rehaul.house.geometry import room_at
from rehaul.takeoff.holds import cabling_hold, joined, run_hold
from rehaul.takeoff.scope import Extra
from rehaul.takeoff.steps import StepPlace, TaskList
from rehaul.takeoff.stops import Stops
from rehaul.words import say


def extra_step(steps: TaskList, stops: Stops, extra: Extra, needs: list[str], seen: dict[str, str]) -> str:
    """One more piece of work; returns its last step.

    `seen` holds the steps after which a cable or a box may be touched: its check for life, its photograph.
    """
    job = steps.scope.job
    coax = extra.work.id.startswith("coax ")
    works = coax or extra.touches  # a new splitter where the cables meet names no old cable, and is such work
    held = joined(*(run_hold(job, run) for run in extra.touches), cabling_hold(job) if works else "")
    stop = [step for run in extra.touches for step in stops.before_run(run)]
    names = ("", *extra.about, *extra.work.over) if coax else extra.touches
    before = [*needs, *stop, *(seen[name] for name in names if name in seen)]
    last = ""
    for norm in extra.work.tasks:
        tried = coax and norm == "test"
        last = steps.add(
            norm,
            say("takeoff_steps.try_coax", place=extra.place) if tried else extra.work.words,
            _place(steps, extra),
            needs=[*before, last],
            because=[*extra.work.over, extra.work.id] if tried else [*extra.about, extra.work.id],
            touches=() if tried else extra.touches,
            held=held,
            coax=coax,
        )
    return last


def _place(steps: TaskList, extra: Extra) -> StepPlace:
    if extra.place:
        return steps.outlet(extra.place)
    router = steps.scope.choice.router
    if router.position is None:
        return steps.closet
    room = room_at(steps.scope.job.house, router.storey, router.position)
    return steps.room(room.id) if room else StepPlace(router.box, router.storey)
