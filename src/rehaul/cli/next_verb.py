"""`rehaul next`"""

from __future__ import annotations

from pathlib import Path

import click

from rehaul.cli.common import job_argument, json_option, print_json, print_table, progress, tell
from rehaul.cli.held import memory_option
from rehaul.words import term


@click.command("next")
@job_argument
@click.option("--plan", "with_plan", is_flag=True, help="Make the plan too, and ask whether its sites hold.")
@memory_option
@json_option
def command(job_file: Path, with_plan: bool, as_json: bool) -> None:
    """Where to stand for the next reading, or that no reading would change anything.

    \b
    Examples:
      rehaul next mill.rehaul.json
      rehaul next mill.rehaul.json --plan
    """
    from rehaul.cli.reading import for_people
    from rehaul.jobs import current_job
    from rehaul.planning import plan
    from rehaul.predict import standing_radiators
    from rehaul.proof import next_reading, surveyed

    job = current_job(job_file)
    with progress("Next") as step:
        planned = plan(job, progress=step).radiators if with_plan else ()
        found = next_reading(surveyed(job), standing_radiators(job), planned)
    if as_json:
        print_json(found.model_dump(mode="json"))
        return
    found = for_people(job, found)
    tell(found.sentence)
    print_table(
        ["question", "now", "chance", "may turn"],
        [
            (v.question, term("yes" if v.yes else "no"), f"{v.chance:.0%}", f"{v.may_turn:.0%}")
            for v in found.verdicts
        ],
    )
