"""`rehaul backup`"""

from __future__ import annotations

from pathlib import Path

import click

from rehaul.cli.common import json_option, print_json, tell


@click.command("backup")
@click.argument("job", metavar="JOB")
@click.option("--out", type=click.Path(path_type=Path), required=True, help="The file to write.")
@click.option("--replace", is_flag=True, help="Write over a file that stands there.")
@click.option("--store", help="A database; JOB is then the id of a job in it.")
@json_option
def command(job: str, out: Path, replace: bool, store: str | None, as_json: bool) -> None:
    """One job with its whole history, its photos and who was told what, in one file.

    It may be made while the job is served. A damaged log is not backed up: it would be taken for whole.

    \b
    Example:
      rehaul backup mill.rehaul.json --out mill-2026-11.backup
    """
    from dataclasses import asdict

    from rehaul.jobs import refuse_existing
    from rehaul.jobs.backups import back_up, back_up_stored

    refuse_existing(out, replace=replace, never=() if store else (Path(job),))
    made = back_up_stored(store, job, out) if store else back_up(Path(job), out)
    if as_json:
        print_json(asdict(made))
        return
    history = f"{made.edits} edits" if made.edits else "no edits, the file as it stands"
    tell(f"{made.title}: {history}, in {out}")
