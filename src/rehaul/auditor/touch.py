"""Rules on what the work touches: nothing that somebody depends on, nothing that feeds something."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from rehaul.auditor.finding import PlanFinding, finding
from rehaul.auditor.holds import depends, hold_on
from rehaul.auditor.pieces import ends_of, pieces_of, run_of, runs_of
from rehaul.auditor.reading import RowView
from rehaul.auditor.views import GraphView, LinkView, TaskView, before_each, graph, paths, tasks
from rehaul.facts.auditing import task_kinds
from rehaul.house import Job
from rehaul.words import say

BOXES = {"access point", "router", "modem", "switch", "adapter"}
PUTS_AWAY = ("out of use", "spare", "disconnect", "beyond", "cut off")


def touch_of(norm: str) -> str:
    """What a kind of task does to a cable it names; one that no table lists may do anything.

    Parameters: `norm`, the kind of a step. Returns `work`, `probe` or `none` as the fact table of kinds of
    task says; `work` for a kind that it does not list.
    """
    kind = task_kinds().get(norm)
    return "work" if kind is None else kind.touch


def touched(job: Job, task: TaskView) -> tuple[str, ...]:
    """Old cables that a task lays hands or instruments on.

    Returns ids of the house's cables that the task says it touches, and those among its reasons unless its
    kind touches nothing; each once, in that order.
    """
    runs = {run.id for run in job.house.runs}
    named = () if touch_of(task.norm) == "none" else task.because
    return tuple(name for name in dict.fromkeys((*task.touches, *named)) if name in runs)


def held_left_alone(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """No step touches a cable that is live or that somebody depends on, unless it waits for the sign-off.

    Broken by a step that touches a cable with a hold (`hold_on`), is not held, and comes after no stop point
    or held step for that cable or for whoever depends on it. A probe may go on one that only waits for a
    test. **Source**: docs/auditor.md, `held-left-alone`.
    """
    steps = tasks(plan)
    earlier = before_each(steps)
    for task in steps:
        for run in touched(job, task):
            hold = hold_on(job, run)
            if hold is None or task.held:
                continue
            if hold.untested and touch_of(task.norm) == "probe":
                continue  # that is the test: its place after the live check is a rule of its own
            names = {run, *(o.id for o in depends(job, run))}
            if not any(_stops(other, names) for other in steps if other.id in earlier[task.id]):
                yield finding(
                    say("audit_work.touches_although", step=task.id, run=run, why=hold.why), task.id, run
                )


def _stops(task: TaskView, names: set[str]) -> bool:
    return (task.stop or bool(task.held)) and bool(names & {*task.because, *task.touches})


def touches_said(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """A step that works on an old cable says that it touches it.

    Broken by a step whose kind works on cables and that has an old cable among its reasons but not among
    what it touches. **Source**: docs/auditor.md, `touches-said`.
    """
    runs = {run.id for run in job.house.runs}
    for task in tasks(plan):
        if touch_of(task.norm) == "work":
            for run in sorted(runs & set(task.because) - set(task.touches)):
                yield finding(say("audit_work.touch_not_said", step=task.id, run=run), task.id, run)


def checked_first(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """Before any hand or instrument goes on an old cable, it is checked for life.

    Broken by a step that touches a cable before the step of kind `live_check` that names it, or where there
    is none; the check itself touches nothing.

    **Validity**: asks that the check comes before, not what it showed: `held_left_alone` does. **Source**:
    docs/auditor.md, `checked-before-touched`.
    """
    steps = tasks(plan)
    earlier = before_each(steps)
    checks = {run: task.id for task in steps if task.norm == "live_check" for run in task.because}
    for task in steps:
        for run in touched(job, task):
            if checks.get(run, "") not in earlier[task.id]:
                yield finding(say("audit_work.not_checked", step=task.id, run=run), task.id, run)


def photo_first(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """A box is photographed before anything in it is undone.

    Broken by work that touches a cable and comes after no photograph at all, or opens a located outlet that
    no photograph before it names. **Source**: docs/auditor.md, `photo-before-undone`.
    """
    steps = tasks(plan)
    earlier = before_each(steps)
    found = {o.id for o in job.house.outlets if o.position is not None}
    for task in steps:
        if not task.touches or touch_of(task.norm) != "work":
            continue
        before = [other for other in steps if other.id in earlier[task.id] and other.norm == "photo"]
        seen = {name for other in before for name in other.because}
        for outlet in sorted((found & set(task.because)) - seen):
            yield finding(say("audit_work.not_photographed", step=task.id, outlet=outlet), task.id, outlet)
        if not before:
            yield finding(say("audit_work.no_photograph", step=task.id), task.id)


def feeders_left_in_use(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """A cable that feeds something after the work is not tagged out of use or spare, nor taken off.

    A cable feeds something where it is on a path, carries the provider's line, or lies between the street
    and a box that stays. Broken by a step that tags it out of use or spare, disconnects it, or takes it out
    of its chain.

    **Validity**: what a tag says is read from the title of the step, by its words. **Source**:
    docs/auditor.md, `feeders-left-in-use`.
    """
    after = graph(plan, "after")
    feeding: dict[str, list[LinkView]] = {}
    for link in after.links:
        if link.run and _feeds(link, after, plan, job):
            for name in {link.id, *pieces_of(job, link), *runs_of(job, link)}:
                feeding.setdefault(name, []).append(link)
    for task in tasks(plan):
        if not _puts_away(task.norm, task.title.lower()):
            continue
        named = [name for name in task.because if ends_of(job, name) or name in _runs(job)]
        parts = [name for name in named if run_of(job, name) != name and name not in _runs(job)]
        boxes = {name for name in task.because if after.kind(name) in ("outlet", "splitter")}
        for name in parts or named:  # where a piece is named, it is about that piece alone
            links = [link for link in feeding.get(name, ()) if not boxes or link.a in boxes]
            if links:
                yield finding(
                    say("audit_work.puts_away_feeder", step=task.id, name=name, link=links[0].id),
                    task.id,
                    name,
                )


def _runs(job: Job) -> set[str]:
    return {run.id for run in job.house.runs}


def _puts_away(norm: str, title: str) -> bool:
    if norm not in ("tag", "disconnect", "break_chain"):
        return False
    if norm == "disconnect":
        return True
    if norm == "break_chain":
        return "out of its chain" in title
    return any(words in title for words in PUTS_AWAY) and "do not cut" not in title


def _feeds(link: LinkView, after: GraphView, plan: RowView, job: Job) -> bool:
    """Whether a link is on a path, carries the provider's line or feeds a box that stays.

    It feeds one where data from the street come to its start, and go on over the like of it to the box.
    """
    if any(step.id == link.id for way in paths(plan) for step in way.steps):
        return True
    if link.run == job.service.run or any(box.keep and box.run == link.run for box in job.boxes):
        return True
    streets = [node.id for node in after.nodes if node.kind == "street"]
    if not any(link.a in _beyond(street, after, lambda other: True) for street in streets):
        return False
    alike = _beyond(link.b, after, lambda other: (other.medium == "coax") == (link.medium == "coax"))
    return any(after.kind(node) in BOXES for node in alike)


def _beyond(start: str, after: GraphView, goes: Callable[[LinkView], bool]) -> set[str]:
    """Nodes that links not held lead to from a start, itself among them."""
    seen, left = {start}, [start]
    while left:
        here = left.pop()
        for other in after.links:
            if other.a == here and other.b not in seen and not other.held and goes(other):
                seen.add(other.b)
                left.append(other.b)
    return seen
