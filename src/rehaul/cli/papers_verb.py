"""`rehaul papers`"""

from __future__ import annotations

from pathlib import Path
from typing import Literal

import click

from rehaul.cli.common import job_argument, json_option, out_option, print_json, progress, tell
from rehaul.cli.held import memory_option


@click.command("papers")
@job_argument
@out_option("The folder to write into.", required=True)
@click.option("--paper", type=click.Choice(["A4", "Letter"]), help="Paper size; the job's own by default.")
@memory_option
@json_option
def command(
    job_file: Path, out: Path, replace: bool, paper: Literal["A4", "Letter"] | None, as_json: bool
) -> None:
    """Everything on paper: one PDF, tables as CSV and XLSX, label sheets, and a page for the browser.

    \b
    Example:
      rehaul papers mill.rehaul.json --out mill-papers --paper A4
    """
    from rehaul.jobs import current_job, require_folder, write_folder
    from rehaul.planning import plan
    from rehaul.predict.size import require_papers_memory
    from rehaul.sheets import papers

    require_folder(out)
    job = current_job(job_file)
    require_papers_memory(job)
    with progress("Papers") as step:
        found = plan(job, progress=step)
        step("papers")
        files = write_folder(out, papers(found, paper or job.paper), replace=replace, never=[job_file])
    if as_json:
        print_json({"files": [str(path) for path in files]})
        return
    for path in files:
        tell(path)
