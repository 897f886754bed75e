"""`rehaul repair`"""

from __future__ import annotations

from pathlib import Path

import click

from rehaul.cli.common import job_argument, json_option, print_json, say

MOST_SHOWN = 30


@click.command("repair")
@job_argument
@click.option("--write", is_flag=True, help="Make the log anew from what can be saved.")
@json_option
def command(job_file: Path, write: bool, as_json: bool) -> None:
    """What can be saved of a damaged log: its longest whole beginning, what comes after, what the file holds.

    Nothing is written without --write; then the damaged log keeps another name beside the new one.

    \b
    Example:
      rehaul repair mill.rehaul.json
      rehaul repair mill.rehaul.json --write
    """
    from rehaul.jobs.mending import mend
    from rehaul.jobs.salvage import salvage

    found = salvage(job_file)
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
    if write:
        aside = mend(job_file, found)
        if not as_json:
            say("The log was made anew." + (f" The damaged one is {aside.name}." if aside else ""))
    elif not as_json:
        say("Nothing was written; say --write to make the log anew from this.")


def _tell(found: object) -> None:
    from rehaul.jobs.salvage import Salvage

    assert isinstance(found, Salvage)
    say(f"{found.state.job.title}: the state after edit {found.state.revision} can be saved.")
    for line in found.lost:
        say(f"  Lost: {line}.")
    for row in found.after[:MOST_SHOWN]:
        label = row.label or "a change"
        say(f"  Readable, but not what continues it: edit {row.revision} of {row.at}, {label}.")
    if found.file_is_behind:
        say("  The job's file holds an earlier state of it; the log counts.")
    for change in found.from_file[:MOST_SHOWN]:
        what = " ".join(str(change.get(key, "")) for key in ("do", "kind", "id")).strip()
        names = ", ".join(sorted(change.get("fields", change.get("entity", {}))))
        say(f"  In the job's file beyond it: {what}{f' ({names[:80]})' if names else ''}.")
    more = len(found.from_file) - MOST_SHOWN
    if more > 0:
        say(f"  And {more} differences more.")
    if found.from_file:
        say("  They come in as one edit of the file when the job is next opened.")
