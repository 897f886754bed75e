"""`rehaul now`"""

from __future__ import annotations

from pathlib import Path

import click

from rehaul.cli.common import job_argument, json_option, print_json, print_table, progress, tell
from rehaul.cli.held import memory_option
from rehaul.words import say, term


@click.command("now")
@job_argument
@memory_option
@json_option
def command(job_file: Path, as_json: bool) -> None:
    """Where the job stands now, and the one thing to do next. It makes the plan, as `plan` does.

    \b
    Example:
      rehaul now mill.rehaul.json
    """
    from rehaul.cli.reading import for_people
    from rehaul.errors import BadInput
    from rehaul.jobs import current_job
    from rehaul.planning import now_of, plan, plan_data

    job = current_job(job_file)
    data, refusal = None, ""
    try:
        with progress("Plan") as step:
            found = plan(job, progress=step)
    except BadInput as refused:
        refusal = refused.problem
    else:
        data = plan_data(found if as_json else for_people(job, found))
    now = now_of(job, data, refusal)
    if as_json:
        print_json(now.model_dump(mode="json"))
        return
    now = for_people(job, now)
    tell(now.sentence)
    tell(say("cli.now_next", words=now.next.words, why=now.next.why))
    rows = [(term(stage.stage), term(stage.state), stage.words) for stage in now.stages]
    print_table(["stage", "state", "so far"], rows)
