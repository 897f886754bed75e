"""Steps ticked off: in their order, never past a hold, and kept when the plan no longer has them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from rehaul.errors import BadInput, Held
from rehaul.house import Job, Tick, entities, thing_from
from rehaul.takeoff.holds import held_now
from rehaul.takeoff.results import Task
from rehaul.words import Saying, say

LONGEST_DESPITE = 2000
MOST_NAMED = 4


class OutOfOrder(BadInput):
    """A step was ticked off before those that come first."""

    code = "out-of-order"


@dataclass(frozen=True)
class TickRow:
    """A tick with its step; None where the plan has no such step any more."""

    tick: Tick
    task: Task | None


def _lasting_name(task: Task) -> str:
    """What a tick calls a step."""
    return task.key or task.id


def ticked(job: Job) -> dict[str, Tick]:
    """Ticks by the lasting name of their step; of two for one step the later in the document.

    Also those whose step the plan no longer has.
    """
    return {tick.task: tick for tick in job.ticks}


def tick_rows(job: Job, order: Sequence[Task]) -> tuple[TickRow, ...]:
    """Every tick with its step, in the order of work; those whose step is gone (None) stand last.

    **Source**: docs/work.md, "Ticking off".
    """
    places = {_lasting_name(task): number for number, task in enumerate(order)}
    rows = [
        TickRow(tick, order[places[tick.task]] if tick.task in places else None)
        for tick in ticked(job).values()
    ]
    return tuple(sorted(rows, key=lambda row: places.get(row.tick.task, len(places))))


def open_needs(done: Mapping[str, Any], order: Sequence[Task], task: Task) -> tuple[Task, ...]:
    """The steps that come right before a step and are not ticked off; those before these are not asked.

    `done`: by lasting name of the step; only its keys count. **Source**: docs/work.md, "Ticking off".
    """
    by_id = {one.id: one for one in order}
    return tuple(
        by_id[need] for need in task.needs if need in by_id and _lasting_name(by_id[need]) not in done
    )


def despite_words(waits: Sequence[Task]) -> str:
    """The open steps as a tick records them: as many as fit, then how many more.

    Empty where there are none. **Validity**: stays below the longest text that `Tick.despite` takes.
    """
    steps = tuple(say("takeoff_lists.step", step=task.id, title=task.title) for task in waits)
    fit = length = 0
    for step in steps:
        length += len(step) + 2 * (length > 0)
        if length > LONGEST_DESPITE - 20:
            break
        fit += 1
    if fit < len(steps):
        return say("takeoff_lists.some_steps", steps=steps[:fit], more=len(steps) - fit)
    return say("takeoff_lists.all_steps", steps=steps)


def _require_ready(
    job: Job, order: Sequence[Task], task: Task, *, despite: bool, done: Mapping[str, Any]
) -> None:
    """Raise Held where nobody may do the step yet; OutOfOrder where others come first, unless `despite`.

    What holds it is asked of the job anew, not only of the plan. `done`: ticks by lasting name of their
    step.
    """
    hold = task.held or held_now(job, task)
    if hold:
        raise Held(
            say("refused_takeoff.step_held", id=task.id, title=task.title, hold=hold),
            where="work",
            remedy=say("refused_takeoff.record_sign_off"),
        )
    waits = open_needs(done, order, task)
    if waits and not despite:
        raise OutOfOrder(
            _comes_after(task, waits),
            where="work",
            remedy=say("refused_takeoff.tick_first"),
        )


def _comes_after(task: Task, waits: Sequence[Task]) -> Saying:
    before = [say("refused_takeoff.step", id=one.id, title=one.title) for one in waits[:MOST_NAMED]]
    said = {"id": task.id, "title": task.title, "before": before}
    if len(waits) > MOST_NAMED:
        return say("refused_takeoff.out_of_order_more", more=len(waits) - MOST_NAMED, **said)
    return say("refused_takeoff.out_of_order", **said)


def tick_off(
    job: Job,
    order: Sequence[Task],
    name: str,
    *,
    by: str,
    time: str = "",
    note: str = "",
    despite: bool = False,
) -> Job:
    """The job with a step ticked off, named by its number or its lasting name.

    Raises BadInput where there is no such step, it is held, or others come first and `despite` is not said.
    **Source**: docs/work.md, "Ticking off".
    """
    task = _step(order, name)
    done = ticked(job)
    if _lasting_name(task) in done:
        by = done[_lasting_name(task)].by
        raise BadInput(
            say("refused_takeoff.ticked_by", id=task.id, title=task.title, by=by)
            if by
            else say("refused_takeoff.ticked_by_somebody", id=task.id, title=task.title),
            where="work",
            remedy=say("refused_takeoff.look_at_work"),
        )
    _require_ready(job, order, task, despite=despite, done=done)
    said = {
        "id": _free_id(job),
        "task": _lasting_name(task),
        "by": by,
        "time": time,
        "note": note,
        "despite": despite_words(open_needs(done, order, task)),
    }
    tick = thing_from(Tick, said, where=say("refused_takeoff.where_step", id=task.id))
    return job.model_copy(update={"ticks": (*job.ticks, tick)})


def tick_back(job: Job, order: Sequence[Task], name: str) -> Job:
    """The job without the tick of a step, by its number or its lasting name; the job itself stays.

    Raises BadInput where the step has no tick. Steps after it keep theirs.
    """
    lasting = next((_lasting_name(task) for task in order if name in (task.id, task.key)), name)
    if lasting not in ticked(job):
        raise BadInput(
            say("refused_takeoff.not_ticked", name=name[:40]),
            where="work",
            remedy=say("refused_takeoff.look_at_work"),
        )
    return job.model_copy(update={"ticks": tuple(tick for tick in job.ticks if tick.task != lasting)})


def require_ticks_ready(job: Job, order: Sequence[Task], changes: Sequence[Mapping[str, Any]]) -> None:
    """The same rule for the changes of an edit, one after the other: a tick counts for those after it.

    Parameters
    ----------
    order : steps of the plan; ticks of steps that it does not have are not looked at
    changes : as in `Edit`; others than of ticks are passed over

    Raises Held or OutOfOrder for the first that may not be; nothing is then to be taken of the edit.
    **Source**: docs/work.md, "Ticking off".
    """
    steps = {_lasting_name(task): task for task in order}
    done: dict[str, Any] = dict(ticked(job))
    by_id = {tick.id: tick for tick in job.ticks}
    for change in changes:
        if change.get("kind") != "tick":
            continue
        if change["do"] == "drop":
            gone = by_id.get(change["id"])
            if gone:
                done.pop(gone.task, None)
            continue
        fields = change["entity"] if change["do"] == "put" else change["fields"]
        name = fields.get("task")
        if isinstance(name, str) and name in steps:
            _require_ready(job, order, steps[name], despite=bool(fields.get("despite")), done=done)
            done[name] = True


def _step(order: Sequence[Task], name: str) -> Task:
    found = next((task for task in order if name in (task.id, task.key)), None)
    if found is None:
        raise BadInput(
            say("refused_takeoff.no_step", name=name[:40]),
            where="work",
            remedy=say("refused_takeoff.steps_are", first=order[0].id, last=order[-1].id)
            if order
            else say("refused_takeoff.steps_none"),
        )
    return found


def _free_id(job: Job) -> str:
    used = {thing.id for _, thing in entities(job)}  # type: ignore[attr-defined]
    return next(name for number in range(1, len(used) + 2) if (name := f"TK{number}") not in used)
