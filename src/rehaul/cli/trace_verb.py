"""`rehaul trace`"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from rehaul.cli.common import job_argument, json_option, print_json, tell
from rehaul.words import say


@click.command("trace")
@job_argument
@click.option("--at", "meeting_point", help="The meeting point; the first of the job by default.")
@click.option(
    "--people", type=click.IntRange(1, 2), default=1, show_default=True, help="Who walks, who reads."
)
@click.option("--plugs", type=click.IntRange(0), default=8, show_default=True, help="Strap plugs in the bag.")
@click.option(
    "--check",
    type=click.Choice(["who", "voltage", "sync", "disconnected", "reconnected", "withdrawn"]),
    help="Record a line check: nothing is tied before who, voltage and sync are on record.",
)
@click.option("--run", help="The cable it is about; every cable there where left out.")
@click.option("--plate", "outlet", help="With voltage or sync: tried at this plate instead.")
@click.option("--nobody/--somebody", default=None, help="With who: whether anybody depends on the lines.")
@click.option("--dc", "dc_v", type=float, help="With voltage: the highest dc volts on any pair.")
@click.option("--ac", "ac_v", type=float, help="With voltage: the highest ac volts on any pair.")
@click.option("--syncs/--no-sync", "synchronises", default=None, help="With sync: whether a modem does.")
@click.option("--agreed", help="With disconnected, reconnected: the occupant who agreed, or tested it.")
@click.option("--words", help="In what words they agreed, or what was tested.")
@click.option("--other", help="With withdrawn: the check that was a mistake.")
@click.option("--by", help="Who made the check.")
@click.option("--note", help="Anything else about it.")
@json_option
def command(
    job_file: Path,
    meeting_point: str | None,
    people: int,
    plugs: int,
    check: str | None,
    as_json: bool,
    **said: Any,
) -> None:
    """Which plug goes in which outlet, the shortest walk, and what the readings typed in so far say.

    Nothing is tied before it is on record who depends on the lines, which volts are on them and whether a
    modem synchronises. What is live, held, foreign or a coax is left alone.

    \b
    Examples:
      rehaul trace mill.rehaul.json --people 2 --plugs 6
      rehaul trace mill.rehaul.json --check who --nobody --by "A. Person"
      rehaul trace mill.rehaul.json --check voltage --dc 0.2 --ac 0.1 --by "A. Person"
      rehaul trace mill.rehaul.json --check sync --no-sync --by "A. Person"
    """
    from rehaul.cli.line_checks import add_line_check
    from rehaul.cli.tracing import print_tracing, tracing_data
    from rehaul.jobs import current_job

    added = add_line_check(job_file, check, meeting_point, said)
    job = current_job(job_file)
    if as_json:
        print_json(tracing_data(job, meeting_point, people, plugs))
        return
    if added:
        tell(say("cli.recorded", check=added.id, what=added.what))
    print_tracing(job, meeting_point, people, plugs)
