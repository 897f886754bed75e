"""`rehaul learn`"""

from __future__ import annotations

from pathlib import Path

import click

from rehaul.cli.common import FileName, json_option, out_option, print_json, print_table, tell
from rehaul.cli.held import memory_option
from rehaul.words import say, term


@click.command("learn")
@click.argument("job_files", nargs=-1, required=True, type=FileName(), metavar="JOB...")
@out_option("Keep what was learnt in a file of its own (JSON).")
@click.option(
    "--into",
    "into",
    type=FileName(),
    help="A job whose predictions start from it; its plan says so.",
)
@memory_option
@json_option
def command(
    job_files: tuple[Path, ...], out: Path | None, replace: bool, into: Path | None, as_json: bool
) -> None:
    """What the readings of earlier houses say of walls, floors, distance and devices.

    The same file of an earlier run may be given in place of jobs, to put it into another job.

    \b
    Example:
      rehaul learn houses/*.rehaul.json --out learnt.json --into mill.rehaul.json
    """
    from rehaul.jobs import edit_job, refuse_existing, write_out
    from rehaul.jobs.learnt import learnt_from_files

    never = (*job_files, *((into,) if into else ()))
    if out:
        refuse_existing(out, replace=replace, never=never)
    found = learnt_from_files(job_files, leave_out=into)
    if out:
        write_out(out, (found.model_dump_json(indent=2) + "\n").encode(), replace=replace, never=never)
    if into:
        edit_job(into, lambda job: job.model_copy(update={"learnt": found}), label="Earlier houses taken in")
    if as_json:
        print_json(found.model_dump(mode="json"))
        return
    tell(say("cli.learnt", readings=found.readings, houses=found.houses, date=found.date))
    rows = [
        (term(row.term), f"{row.shift_db:+.1f}", f"{row.sd_db:.1f}", row.houses, row.readings)
        for row in found.terms
    ]
    print_table(["what", "more loss, dB", "known to, dB", "houses", "readings"], rows)
