"""`rehaul demo`"""

from __future__ import annotations

from pathlib import Path
from typing import Literal

import click

from rehaul.cli.common import json_option, out_option, print_json, progress, tell
from rehaul.cli.held import memory_option
from rehaul.words import say


@click.command("demo")
@out_option("The folder to write into.", required=True)
@click.option("--paper", type=click.Choice(["A4", "Letter"]), help="Paper size; the job's own by default.")
@memory_option
@json_option
def command(out: Path, replace: bool, paper: Literal["A4", "Letter"] | None, as_json: bool) -> None:
    """Plan an invented house with a garage at its side, and put it on paper.

    \b
    Example:
      rehaul demo --out out/demo
    """
    from rehaul.cli.reading import for_people
    from rehaul.cli.words import print_plan
    from rehaul.house import dump_job
    from rehaul.jobs import demo_job, require_folder, write_folder
    from rehaul.planning import plan
    from rehaul.sheets import papers

    require_folder(out)
    job = demo_job()
    with progress("Demo") as step:
        found = plan(job, progress=step)
        step("papers")
        contents = papers(found, paper or job.paper) | {"demo.rehaul.json": dump_job(job)}
        files = write_folder(out, contents, replace=replace)
    if as_json:
        print_json({"files": [str(path) for path in files], "page": str(out / "index.html")})
        return
    print_plan(for_people(job, found))
    tell("", say("cli.demo_open", page=out / "index.html"))
