"""Rules on the order of work: it can be followed, it waits where it must, and it ends."""

from __future__ import annotations

from collections.abc import Iterator

from rehaul.auditor.finding import PlanFinding, finding
from rehaul.auditor.reading import RowView
from rehaul.auditor.views import before_each, tasks, unique
from rehaul.house import Job
from rehaul.words import say

SURVEY = ("gate", "baseline", "trace", "qualify")


def needs_exist(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """Every step has a name of its own, and what it needs are steps.

    Broken by an id that two steps bear and by a need that no step has for its id. **Source**:
    docs/auditor.md, `needs-exist`.
    """
    steps = tasks(plan)
    names = [task.id for task in steps]
    for name in unique(names):
        yield finding(say("audit_work.two_steps", name=name), name)
    for task in steps:
        for need in task.needs:
            if need not in names:
                yield finding(say("audit_work.needs_no_step", step=task.id, need=need), task.id, need)


def goes_forward(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """No step needs itself in the end, and none stands before what it needs.

    Broken by a step that comes before itself over what it needs, and by one that stands in the list before
    something it needs directly. **Source**: docs/auditor.md, `order-goes-forward`.
    """
    steps = tasks(plan)
    earlier = before_each(steps)
    places = {task.id: number for number, task in enumerate(steps)}
    for task in steps:
        if task.id in earlier[task.id]:
            yield finding(say("audit_work.needs_itself", step=task.id), task.id)
            continue
        for need in task.needs:
            if places.get(need, -1) > places[task.id]:
                yield finding(say("audit_work.stands_before", step=task.id, need=need), task.id, need)


def waiting_is_held(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """A step right after a stop point is held, and nothing held or behind it has a time.

    Broken by a step that needs a stop point and is neither held nor one itself, and by a time for a step
    that is held or comes after one that is.

    **Validity**: whether there is a stop point where one is due is asked by the rules on marks and on what
    is touched. **Source**: docs/auditor.md, `waiting-is-held`.
    """
    steps = tasks(plan)
    by_id = {task.id: task for task in steps}
    earlier = before_each(steps)
    for task in steps:
        stops = [need for need in task.needs if need in by_id and by_id[need].stop]
        if stops and not task.held and not task.stop:
            yield finding(say("audit_work.waits_not_held", step=task.id, stop=stops[0]), task.id, stops[0])
        held = [name for name in earlier[task.id] if name in by_id and by_id[name].held]
        if task.timed and (task.held or held):
            yield finding(say("audit_work.waits_with_time", step=task.id), task.id, *sorted(held)[:1])


def ends_with_everything(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """The last step needs, in the end, every step that is not survey alone.

    Survey is the stages `gate`, `baseline`, `trace` and `qualify`. A stop point that no step needs is passed
    over: it is a warning that nothing comes near.

    **Validity**: nothing is said of an order without steps. **Source**: docs/auditor.md,
    `ends-with-everything`.
    """
    steps = tasks(plan)
    if not steps:
        return
    last = steps[-1]
    reached = before_each(steps)[last.id]
    needed = {name for task in steps for name in task.needs}
    for task in steps[:-1]:
        if task.stop and task.id not in needed:  # a warning that no step comes near
            continue
        if task.stage not in SURVEY and task.id not in reached:
            yield finding(say("audit_work.last_does_not_wait", step=task.id, title=task.title), task.id)
