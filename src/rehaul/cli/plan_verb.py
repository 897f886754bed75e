"""`rehaul plan`"""

from __future__ import annotations

from pathlib import Path

import click

from rehaul.cli.common import job_argument, json_option, out_option, print_json, progress
from rehaul.cli.held import memory_option


@click.command("plan")
@job_argument
@out_option("Write the plan as JSON.")
@memory_option
@json_option
def command(job_file: Path, out: Path | None, replace: bool, as_json: bool) -> None:
    """Plan the whole job: what is, where access points go, and how to get there.

    \b
    Example:
      rehaul plan mill.rehaul.json
    """
    import json

    from rehaul.cli.reading import for_people
    from rehaul.cli.words import print_plan
    from rehaul.jobs import current_job, refuse_existing, write_out
    from rehaul.planning import plan, plan_data

    if out:
        refuse_existing(out, replace=replace, never=[job_file])
    job = current_job(job_file)
    with progress("Plan") as step:
        found = plan(job, progress=step)
    data = plan_data(found)
    if out:
        text = json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False) + "\n"
        write_out(out, text.encode(), replace=replace, never=[job_file])
    if as_json:
        print_json(data)
    else:
        print_plan(for_people(job, found))
