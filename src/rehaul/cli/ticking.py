"""Ticking steps off from the terminal, and the list of what is ticked off."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path

from rehaul.cli.common import tell
from rehaul.errors import BadInput
from rehaul.house import Job
from rehaul.jobs import edit_job
from rehaul.takeoff import Task, tick_back, tick_off, tick_rows
from rehaul.words import say


def tick(
    job_file: Path,
    order: Sequence[Task],
    done: Sequence[str],
    not_done: Sequence[str],
    *,
    by: str,
    note: str,
    despite: bool,
) -> Job:
    """The job with steps ticked off, or their ticks taken back; all of them or none."""
    if done and not by.strip():
        raise BadInput(say("refused_cli.nobody_named"), where="--by", remedy=say("refused_cli.say_who_did"))
    now = datetime.now(UTC).isoformat(timespec="seconds").removesuffix("+00:00")

    def ticked(job: Job) -> Job:
        for name in not_done:
            job = tick_back(job, order, name)
        for name in done:
            job = tick_off(job, order, name, by=by.strip(), time=now, note=note, despite=despite)
        return job

    label = " ".join(filter(None, [f"Done: {', '.join(done)}" if done else "", *not_done]))
    return edit_job(job_file, ticked, label=label[:80])


def print_ticks(job: Job, order: Sequence[Task]) -> None:
    """Every tick: whose, when, what was open then, and those whose step the plan no longer has."""
    for row in tick_rows(job, order):
        gone = say("cli.step_gone", step=row.tick.task)
        step = f"{row.task.id} {row.task.title}" if row.task else gone
        who = row.tick.by or say("cli.somebody")
        done = say("cli.done", step=step, who=who, time=row.tick.time.replace("T", " ")).rstrip()
        despite = say("cli.although_open", steps=row.tick.despite) if row.tick.despite else ""
        tell(" ".join(filter(None, (f"{done}.", despite, row.tick.note))))
