"""`rehaul verify`"""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path

import click

from rehaul.cli.common import job_argument, json_option, print_json, say


@click.command("verify")
@job_argument
@json_option
def command(job_file: Path, as_json: bool) -> None:
    """Whether a job's log is what was written, edit by edit, and whether its file follows it.

    Ends with 2 where it is damaged: nothing is read from such a log, or written over it, until rehaul repair.

    \b
    Example:
      rehaul verify mill.rehaul.json
    """
    from rehaul.jobs import log_path, open_job
    from rehaul.jobs.verifying import verified

    if not log_path(job_file).exists():
        job = open_job(job_file)
        if as_json:
            print_json({"job": job.id, "edits": 0, "faults": [], "file": "alone"})
            return
        say(f"{job.title}: no log stands beside the file; the file itself is whole.")
        return
    found = verified(job_file)
    if as_json:
        print_json({**asdict(found.health), "file": found.file})
    if found.health.faults:
        found.refuse()
    if not as_json:
        texts = f", of {found.health.compacted} who and when alone" if found.health.compacted else ""
        say(f"{found.health.edits} edits{texts}, each what was written. {found.words}")
