"""A job as one file: opened strictly, saved so that the old file stays whole until the new one is."""

from __future__ import annotations

import datetime
import secrets
from pathlib import Path

from rehaul.errors import BadInput
from rehaul.house import (
    LARGEST_DOCUMENT_BYTES,
    Job,
    parse_job,
    require_no_new_odd_values,
    whole_document,
)
from rehaul.saving import reason_of, write_whole
from rehaul.words import say

ID_LETTERS = "23456789abcdefghjkmnpqrstuvwxyz"  # none that looks like another on tape


def open_job(path: Path | str) -> Job:
    """The job saved at `path`, of this or an earlier schema version; the file stays as it is.

    The log beside it is not looked at: `jobs.current.current_job` gives the job as it stands. Raises
    BadInput with the path of the field where it is no job, cannot be read, or is larger than a document may
    be.
    """
    path = Path(path)
    return parse_job(read_bounded(path, LARGEST_DOCUMENT_BYTES), where=path.name)


def save_job(path: Path | str, job: Job) -> None:
    """Save the job at `path`: what was saved before stays whole until then.

    Raises BadInput for a job that would not open again or says what cannot be (what the file at `path` says
    already may stay), CannotSave where the disk does not take it.
    """
    path = Path(path)
    try:
        require_no_new_odd_values(job, None, where=path.name)
    except BadInput:
        require_no_new_odd_values(job, _standing(path), where=path.name)
    keep_job(path, job)


def keep_job(path: Path, job: Job) -> None:
    """Save a job that stands already, in its log, as it is: whoever wrote it there was asked.

    Whole on the disk when it returns, or the file is as it was; of two at once the later one stands. Raises
    BadInput where it would not open again, CannotSave.
    """
    write_whole(path, whole_document(job, where=path.name)[1], private=True)


def _standing(path: Path) -> Job | None:
    """The job that stands at `path`; None where none does."""
    try:
        return open_job(path)
    except BadInput:
        return None


def read_bounded(path: Path, most_bytes: int) -> bytes:
    """The bytes of a file, refused before they fill the memory if there are more than `most_bytes`.

    Raises BadInput where there is no such file, it cannot be read, or it is larger.
    """
    try:
        with path.open("rb") as file:
            data = file.read(most_bytes + 1)
    except FileNotFoundError:
        raise BadInput(
            say("refused_common.no_such_file"),
            where=str(path),
            remedy=say("refused_common.check_name_and_folder"),
        ) from None
    except OSError as error:
        raise BadInput(
            say("refused_common.cannot_be_read", reason=reason_of(error)),
            where=str(path),
            remedy=say("refused_jobs.give_file_you_may"),
        ) from None
    if len(data) > most_bytes:
        raise BadInput(
            say("refused_jobs.file_larger_than_mb", most_mb=most_bytes / 1e6),
            where=str(path),
            remedy=say("refused_common.give_job_document_photos"),
        )
    return data


def new_job_id() -> str:
    """An id for a new job: today's date here, and four letters at random, so that two of one day differ.

    Nothing of title or household is in it: an id stays when their names are erased.
    """
    letters = "".join(secrets.choice(ID_LETTERS) for _ in range(4))
    return f"job-{datetime.date.today().isoformat()}-{letters}"
