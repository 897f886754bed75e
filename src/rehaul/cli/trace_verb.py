"""`rehaul trace`"""

from __future__ import annotations

from pathlib import Path

import click

from rehaul.cli.common import job_argument, json_option, print_json


@click.command("trace")
@job_argument
@click.option("--at", "meeting_point", help="The meeting point; the first of the job by default.")
@click.option(
    "--people", type=click.IntRange(1, 2), default=1, show_default=True, help="Who walks, who reads."
)
@click.option("--plugs", type=click.IntRange(0), default=8, show_default=True, help="Strap plugs in the bag.")
@json_option
def command(job_file: Path, meeting_point: str | None, people: int, plugs: int, as_json: bool) -> None:
    """Which plug goes in which outlet, the shortest walk, and what the readings typed in so far say.

    \b
    Example:
      rehaul trace mill.rehaul.json --people 2 --plugs 6
    """
    from rehaul.cli.tracing import print_tracing, tracing_data
    from rehaul.jobs import current_job

    job = current_job(job_file)
    if as_json:
        print_json(tracing_data(job, meeting_point, people, plugs))
    else:
        print_tracing(job, meeting_point, people, plugs)
