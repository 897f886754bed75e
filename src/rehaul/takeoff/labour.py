"""Minutes by task and visit, counted from the order of work, with the long tail that old houses have.

What the household does itself is not paid.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from rehaul.facts.work import allowances
from rehaul.facts.work import labour as norms
from rehaul.takeoff.results import LabourLine, Task
from rehaul.takeoff.spread import sum_of
from rehaul.takeoff.steps import SURVEY_STAGES, SURVEY_VISIT, WORK_VISIT
from rehaul.words import term


def labour(tasks: Sequence[Task]) -> tuple[LabourLine, ...]:
    """Every kind of task with its count and minutes; surveying is visit 1, work visit 2.

    In the order of the fact table, the travel of all visits last; none where we do nothing. Minutes of a
    line are of all its repeats together, the 90 % value not the sum of theirs (`spread.sum_of`).

    **Source**: fact table `labour` (trade judgement); docs/work.md.
    """
    tasks = [task for task in tasks if task.by == "us"]
    if not tasks:
        return ()
    counts: dict[str, int] = {}
    because: dict[str, dict[str, None]] = {}
    for task in tasks:
        counts[task.norm] = counts.get(task.norm, 0) + 1
        because.setdefault(task.norm, {}).update(dict.fromkeys(task.because or (task.place,)))
    lines = [_line(norm, counts[norm], list(because[norm])) for norm in norms() if norm in counts]
    return (*lines, _travel(lines))


def _line(task: str, count: float, because: list[str]) -> LabourLine:
    row = norms()[task]
    middle, high = sum_of([(count, row.minutes, row.minutes_90)])
    visit = SURVEY_VISIT if row.stage in SURVEY_STAGES else WORK_VISIT
    return LabourLine(
        task=term(row.title),
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
        task=term(row.title),
        norm=row.task,
        visit=SURVEY_VISIT,
        count=visits,
        minutes=round(middle),
        minutes_90=round(high),
        because=("visits",),
    )


def total_minutes(lines: tuple[LabourLine, ...]) -> tuple[float, float]:
    """Middle and 90 % minutes of the whole job, from every single task.

    Less than the lines' 90 % minutes added up, for not all of them go badly at once.

    **Validity**: tasks independent of each other; a house in which everything is hard exceeds it more
    often. **Source**: `spread.sum_of` over the norms of fact table `labour`.
    """
    return sum_of((line.count, norms()[line.norm].minutes, norms()[line.norm].minutes_90) for line in lines)
