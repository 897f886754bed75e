"""`rehaul verify`"""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import click

from rehaul.cli.common import job_argument, json_option, print_json, tell

if TYPE_CHECKING:
    from rehaul.jobs.verifying import Paired, Verified


@click.command("verify")
@job_argument
@click.option("--store", help="A database; JOB is then the id of a job in it.")
@json_option
def command(job_file: Path, store: str | None, as_json: bool) -> None:
    """Whether a job's log is what was written, edit by edit, and whether its file follows it.

    The people and devices of its folder too, where somebody paired; and what was erased, when and by whom.

    Ends with 2 where it is damaged: nothing is read from such a log, or written over it, until rehaul repair.

    \b
    Example:
      rehaul verify mill.rehaul.json
    """
    from rehaul.jobs import log_path, open_job
    from rehaul.jobs.verifying import paired_beside, verified, verified_stored

    found: Verified | None
    paired: Paired | None
    if store:
        found, paired = verified_stored(store, str(job_file))
    else:
        paired = paired_beside(job_file)
        found = verified(job_file) if log_path(job_file).exists() else None
    if found:
        data, words = {**asdict(found.health), "file": found.file}, _words(found)
    else:
        job = open_job(job_file)
        data = {"job": job.id, "edits": 0, "faults": [], "file": "alone"}
        words = f"{job.title}: no log stands beside the file; the file itself is whole."
    if as_json:
        print_json({**data, "paired": asdict(paired) if paired else None})
    if found and found.health.faults:
        found.refuse()
    if not as_json:
        tell(words, *(found.erased if found else ()))
        _say_people(paired)
    if paired and paired.faults:
        paired.refuse()


def _words(found: Verified) -> str:
    health = found.health
    texts = f", of {health.compacted} who and when alone" if health.compacted else ""
    return f"{health.edits} edits{texts}, each what was written. {found.words}".rstrip()


def _say_people(paired: Paired | None) -> None:
    if paired and not paired.faults and paired.people:
        tell(f"{paired.people} people and {paired.devices} devices, each what was written.")
