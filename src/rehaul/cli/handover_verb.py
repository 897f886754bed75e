"""`rehaul handover`"""

from __future__ import annotations

from pathlib import Path
from typing import Literal

import click

from rehaul.cli.common import job_argument, json_option, out_option, print_json, progress, tell
from rehaul.cli.held import memory_option


@click.command("handover")
@job_argument
@out_option("The folder to write into.", required=True)
@click.option("--kept-at", default="", help="Where the record is kept, in words: printed on the closet door.")
@click.option("--paper", type=click.Choice(["A4", "Letter"]), help="Paper size; the job's own by default.")
@memory_option
@json_option
def command(
    job_file: Path,
    out: Path,
    replace: bool,
    kept_at: str,
    paper: Literal["A4", "Letter"] | None,
    as_json: bool,
) -> None:
    """The record that stays with the house: what was done, found, signed and left; it opens without rehaul.

    Sheets, a page for the closet door, labels, an empty form for passwords, photos of the work, and all of it
    once more as plain text and tables. READ-ME-FIRST.txt says what is what.

    \b
    Example:
      rehaul handover mill.rehaul.json --out mill-record --kept-at "meter cupboard"
    """
    from rehaul.house.record_place import require_place
    from rehaul.jobs import current_job, photos_beside, require_folder, write_folder
    from rehaul.planning import plan
    from rehaul.predict.size import require_papers_memory
    from rehaul.sheets import Photo, handover_files

    kept_at = require_place(kept_at, where="--kept-at")
    require_folder(out)
    job = current_job(job_file)
    require_papers_memory(job)
    photos = [Photo(*one) for one in photos_beside(job_file)]
    with progress("Handover record") as step:
        found = plan(job, progress=step)
        step("record")
        contents = handover_files(found, paper, kept_at=kept_at, photos=photos)
        files = write_folder(out, contents, replace=replace, never=[job_file])
    if as_json:
        print_json({"files": [str(path) for path in files], "photos": len(photos)})
        return
    for path in files:
        tell(path)
