"""The job as it stands; of what a log needs nothing is loaded where there is none."""

from __future__ import annotations

from pathlib import Path

from rehaul.house import Job
from rehaul.jobs.files import open_job
from rehaul.jobs.logs import log_path


def current_job(path: Path | str) -> Job:
    """The job as it stands: from the log where there is one, else from the file.

    What was changed in the file elsewhere is taken into the log, unless a server works on it, which does so
    itself. On a disk that may not be written the log is only read. Raises BadInput where neither gives a
    job or the file does not fit the log, Damaged, CannotSave.
    """
    path = Path(path)
    if not log_path(path).exists():
        return open_job(path)
    from rehaul.jobs.beside import job_of_log

    return job_of_log(path)
