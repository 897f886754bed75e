"""Minutes by task and visit, with the long tail that old houses have."""

from __future__ import annotations

import math
from collections import defaultdict

from rehaul.facts.work import allowances
from rehaul.facts.work import labour as norms
from rehaul.takeoff.results import LabourLine
from rehaul.takeoff.scope import Scope
from rehaul.takeoff.spread import sum_of

SURVEY_STAGES = ("gate", "baseline", "trace", "qualify")
SURVEY_VISIT, WORK_VISIT = 1, 2


class _Tally:
    """Counts of tasks, remembering what caused each."""

    def __init__(self) -> None:
        self.counts: dict[str, float] = defaultdict(float)
        self.because: dict[str, list[str]] = defaultdict(list)

    def add(self, task: str, count: float, *causes: str) -> None:
        if count > 0:
            self.counts[task] += count
            self.because[task] += [cause for cause in causes if cause not in self.because[task]]


def labour(scope: Scope) -> tuple[LabourLine, ...]:
    """Every task with its count and minutes; surveying is visit 1, work visit 2."""
    tally = _Tally()
    add = tally.add
    job = scope.job
    for task in ("gate", "bond", "configure", "handover"):
        add(task, 1, job.id)
    rooms = [need.room for need in job.needs]
    add("baseline", len(rooms), *rooms)
    add("prove", len(rooms), *rooms)
    for run in job.house.runs:
        add("live_check", 1, run.id)
        add("tone", 1, run.id)
    _per_kept_run(scope, tally)
    for pull in scope.pulls:
        add("fish_hard" if pull.floors_crossed else "fish_easy", 1, pull.id)
        add("fire_seal", pull.floors_crossed, pull.id)
        for task in ("jack", "panel_port", "plate", "test"):
            add(task, 1, pull.id)
    add("photo", 1 + len([o for o in job.house.outlets if o.position]), *[o.id for o in job.house.outlets])
    add("rack", 1, "rack")
    new_items = [item.name for item in scope.network.rack if item.equipment]
    add("switch", len(new_items), *new_items)
    add("access_point", len(scope.access_points), *[ap.id for ap in scope.access_points])
    lines = [_line(task, tally.counts[task], tally.because[task]) for task in norms() if task in tally.counts]
    return (*lines, _travel(lines))


def _per_kept_run(scope: Scope, tally: _Tally) -> None:
    add = tally.add
    for kept in scope.kept:
        add("qualify", 1, kept.run.id)
        add("test", 1, kept.run.id)
        add("jack", max(1, len(kept.outlets)), kept.run.id)
        add("panel_port", max(1, len(kept.ports)), kept.run.id)
        add("plate", len(kept.outlets), kept.run.id)
        if kept.repair:
            add("repair", 1, kept.run.id)
        if kept.break_chain:
            add("break_chain", len(kept.run.ends) - 2, kept.run.id)


def _line(task: str, count: float, because: list[str]) -> LabourLine:
    row = norms()[task]
    middle, high = sum_of([(count, row.minutes, row.minutes_90)])
    visit = SURVEY_VISIT if row.stage in SURVEY_STAGES else WORK_VISIT
    return LabourLine(
        task=row.title,
        norm=row.task,
        visit=visit,
        count=count,
        minutes=round(middle),
        minutes_90=round(high),
        because=tuple(because),
    )


def _travel(lines: list[LabourLine]) -> LabourLine:
    """Visits follow from the minutes of work, rounded up to whole days."""
    work = sum(line.minutes for line in lines if line.visit == WORK_VISIT)
    visits = 1 + max(1, math.ceil(work / allowances()["visit_minutes"]))
    row = norms()["travel"]
    middle, high = sum_of([(visits, row.minutes, row.minutes_90)])
    return LabourLine(
        task=row.title,
        norm=row.task,
        visit=SURVEY_VISIT,
        count=visits,
        minutes=round(middle),
        minutes_90=round(high),
        because=("visits",),
    )


def total_minutes(lines: tuple[LabourLine, ...]) -> tuple[float, float]:
    """Middle and 90 % minutes of the whole job, from every single task."""
    return sum_of((line.count, norms()[line.norm].minutes, norms()[line.norm].minutes_90) for line in lines)
