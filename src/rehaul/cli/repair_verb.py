"""`rehaul repair`"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from rehaul.cli.common import FileName, job_argument, json_option, print_json, tell
from rehaul.errors import BadInput
from rehaul.words import say

if TYPE_CHECKING:
    from rehaul.jobs.salvage import Salvage

MOST_SHOWN = 30


@click.command("repair")
@job_argument
@click.option("--write", is_flag=True, help="Make the log anew from what can be saved.")
@click.option("--store", help="A database; JOB is then the id of a job in it.")
@click.option("--aside", type=FileName(), help="With --store and --write: a file for the damaged log.")
@json_option
def command(job_file: Path, write: bool, store: str | None, aside: Path | None, as_json: bool) -> None:
    """What can be saved of a damaged log: its longest whole beginning, what comes after, what the file holds.

    Nothing is written without --write; then the damaged log keeps another name beside the new one, or goes
    from a database into the file that --aside names. Stop the servers that work on it first.

    \b
    Example:
      rehaul repair mill.rehaul.json
      rehaul repair mill.rehaul.json --write
      rehaul repair mill --store postgresql://crew@db/jobs --write --aside mill-damaged.log
    """
    from rehaul.jobs import Store, connect
    from rehaul.jobs.mending import mend, mend_stored
    from rehaul.jobs.salvage import salvage, salvage_stored

    if bool(aside) != bool(store and write):
        raise BadInput(
            say("refused_cli.damaged_log_database_goes"),
            where="--aside",
            remedy=say("refused_cli.say_store_write_aside"),
        )
    opened = Store(connect(store)) if store else None
    try:
        found = salvage_stored(opened, str(job_file)) if opened else salvage(job_file)
        _say_found(found, as_json, write)
        if write and opened and aside:
            mend_stored(opened, found, aside)
        elif write:
            aside = mend(job_file, found)
    finally:
        if opened:
            opened.close()
    if not as_json:
        kept = f" The damaged one is {aside.name}." if aside else ""
        tell(
            f"The log was made anew.{kept}" if write else "Nothing was written; say --write to make it anew."
        )


def _say_found(found: Salvage, as_json: bool, write: bool) -> None:
    if as_json:
        print_json(
            {
                "job": found.job_id,
                "edit": found.state.revision,
                "edits": len(found.rows),
                "lost": list(found.lost),
                "after": [{"edit": row.revision, "at": row.at, "label": row.label} for row in found.after],
                "from_file": [dict(change) for change in found.from_file],
                "file_is_behind": found.file_is_behind,
                "written": write,
            }
        )
    else:
        _tell(found)


def _tell(found: Salvage) -> None:
    tell(f"{found.state.job.title}: the state after edit {found.state.revision} can be saved.")
    for line in found.lost:
        tell(f"  Lost: {line}.")
    for row in found.after[:MOST_SHOWN]:
        label = row.label or "a change"
        tell(f"  Readable, but not what continues it: edit {row.revision} of {row.at}, {label}.")
    if found.file_is_behind:
        tell("  The job's file holds an earlier state of it; the log counts.")
    for change in found.from_file[:MOST_SHOWN]:
        what = " ".join(str(change.get(key, "")) for key in ("do", "kind", "id")).strip()
        names = ", ".join(sorted(change.get("fields", change.get("entity", {}))))
        tell(f"  In the job's file beyond it: {what}{f' ({names[:80]})' if names else ''}.")
    more = len(found.from_file) - MOST_SHOWN
    if more > 0:
        tell(f"  And {more} differences more.")
    if found.from_file:
        tell("  They come in as one edit of the file when the job is next opened.")
