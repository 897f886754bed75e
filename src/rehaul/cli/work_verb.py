"""`rehaul work`"""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import click

from rehaul.cli.common import job_argument, json_option, out_option, print_json, progress


@click.command("work")
@job_argument
@click.option("--people", type=click.IntRange(1, 2), help="How many work; the job's own by default.")
@click.option("--start", type=click.DateTime(["%Y-%m-%dT%H:%M"]), help="First visit, local time; for --out.")
@out_option("Write a calendar file (.ics).")
@json_option
def command(
    job_file: Path, people: int | None, start: datetime | None, out: Path | None, as_json: bool
) -> None:
    """The order of work with times: shortest finish, fewest walks, stop points, what is held.

    \b
    Example:
      rehaul work mill.rehaul.json --people 2 --start 2026-12-01T08:00 --out work.ics
    """
    from rehaul.cli.words import print_work
    from rehaul.jobs import current_job, write_whole
    from rehaul.plan import plan
    from rehaul.takeoff import calendar_text, first_morning, timetable

    job = current_job(job_file)
    with progress("Work") as step:
        found = plan(job, progress=step)
        step("times")
        times = timetable(job, found.order, people=people, effort=2.0)
    if out:
        morning = start or first_morning(job.date)
        write_whole(out, calendar_text(job.id, job.title, times.tasks, morning).encode())
    if as_json:
        holes = [row.model_dump(mode="json") for row in found.takeoff.holes]
        print_json({**times.model_dump(mode="json"), "words": times.words, "holes": holes})
    else:
        print_work(times)
