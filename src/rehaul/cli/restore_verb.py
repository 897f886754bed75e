"""`rehaul restore`"""

from __future__ import annotations

from pathlib import Path

import click

from rehaul.cli.common import json_option, print_json, tell


@click.command("restore")
@click.argument("backup", metavar="BACKUP", type=click.Path(path_type=Path))
@click.option("--out", type=click.Path(path_type=Path), required=True, help="The job file to make.")
@json_option
def command(backup: Path, out: Path, as_json: bool) -> None:
    """Put a job back from a backup, with its log. Nothing may stand under that name.

    \b
    Example:
      rehaul restore mill-2026-11.backup --out mill.rehaul.json
    """
    from dataclasses import asdict

    from rehaul.jobs.backups import put_back

    made = put_back(backup, out)
    if as_json:
        print_json(asdict(made))
        return
    tell(f"{made.title}: as it was at {made.at}, after {made.edits} edits, in {out}")
