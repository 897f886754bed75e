"""`rehaul work`"""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import click

from rehaul.cli.common import job_argument, json_option, out_option, print_json, progress, tell
from rehaul.cli.held import memory_option
from rehaul.words import say


@click.command("work")
@job_argument
@click.option("--people", type=click.IntRange(1, 2), help="How many work; the job's own by default.")
@click.option("--done", multiple=True, metavar="STEP", help="Tick a step off, by its number. Repeatable.")
@click.option("--not-done", multiple=True, metavar="STEP", help="Take a tick back. Repeatable.")
@click.option("--by", default="", help="Who did it; for --done.")
@click.option("--note", default="", help="What was found; for --done.")
@click.option("--despite", is_flag=True, help="Tick off although steps before it are open; it is recorded.")
@click.option("--start", type=click.DateTime(["%Y-%m-%dT%H:%M"]), help="First visit, local time; for --out.")
@out_option("Write a calendar file (.ics).")
@memory_option
@json_option
def command(
    job_file: Path,
    people: int | None,
    done: tuple[str, ...],
    not_done: tuple[str, ...],
    by: str,
    note: str,
    despite: bool,
    start: datetime | None,
    out: Path | None,
    replace: bool,
    as_json: bool,
) -> None:
    """The order of work with times: shortest finish, fewest walks, stop points, what is held.

    A step is ticked off after those that come first; one that is held is refused.

    \b
    Examples:
      rehaul work mill.rehaul.json --people 2 --start 2026-12-01T08:00 --out work.ics
      rehaul work mill.rehaul.json --done T01 --done T02 --by Ann
    """
    from rehaul.cli.reading import for_people
    from rehaul.cli.ticking import print_ticks, tick
    from rehaul.cli.words import print_standing, print_work
    from rehaul.jobs import current_job, refuse_existing, write_out
    from rehaul.planning import plan
    from rehaul.takeoff import calendar_text, first_morning, numbered_as, timetable
    from rehaul.tracing import off_sentences

    if out:
        refuse_existing(out, replace=replace, never=[job_file])
    job = current_job(job_file)
    with progress("Work") as step:
        found = plan(job, progress=step)
        step("times")
        times = numbered_as(found.order, timetable(job, found.order, people=people, effort=2.0))
    if done or not_done:
        job = tick(job_file, found.order, done, not_done, by=by, note=note, despite=despite)
    if out:
        morning = start or first_morning(job.date)
        text = calendar_text(job.id, job.title, times.tasks, morning)
        write_out(out, text.encode(), replace=replace, never=[job_file])
    if as_json:
        holes = [row.model_dump(mode="json") for row in found.takeoff.holes]
        ticks = [row.model_dump(mode="json") for row in job.ticks]
        print_json(
            {
                "still_off": list(off_sentences(job)),
                **times.model_dump(mode="json"),
                "words": times.words,
                "holes": holes,
                "ticks": ticks,
            }
        )
    else:
        found, times = for_people(job, (found, times))
        for sentence in off_sentences(job):
            tell(say("cli.off", what=sentence))
        print_standing(found)
        print_work(times)
        print_ticks(job, times.tasks)
