"""Everything held about a job on a disk or in a database: the job, its copies and its backups together."""

from __future__ import annotations

import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from rehaul.errors import Refusal
from rehaul.house import parse_job
from rehaul.jobs.backups import is_backup, unpack
from rehaul.jobs.beside import store_to_read
from rehaul.jobs.companions import Companion, Known, companions
from rehaul.jobs.desk import PEOPLE_FILE
from rehaul.jobs.disclosing import (
    INDEX,
    Disclosed,
    index_of,
    of_job,
    of_log,
    put_under,
    require_new,
    write_private,
)
from rehaul.jobs.files import open_job
from rehaul.jobs.logs import LOG, log_path
from rehaul.jobs.sql import connect
from rehaul.jobs.store import Store


@dataclass(frozen=True)
class Given:
    """What was written, and what was not."""

    title: str
    files: int
    personal: int  # texts of the job as it stands
    others: int  # people who paired and have nothing to do with the job
    left: tuple[Companion, ...]  # not in it, each with the reason


def disclose(path: Path, out: Path, names: Sequence[str] = (), folders: Sequence[Path] = ()) -> Given:
    """Write everything held about the job at `path` into the new folder `out`; also while it is served.

    Raises Damaged for a log that is not what was written, BadInput where something stands at `out`.
    **Source**: docs/security.md, "A household's data, handed over".
    """
    require_new(out)
    with store_to_read(log_path(path)) as store, store_to_read(path.parent / PEOPLE_FILE) as people:
        jobs = store.jobs() if store else []
        if store and jobs:
            found = of_log(store, jobs[0][0], people, names)
            job = store.state_at(*jobs[0][::2]).job
            links = frozenset(row.link for row in store.raw_rows(job.id, 0))
        else:
            job, links = open_job(path), frozenset()
            found = of_job(job, names)
    if path.exists():
        found.add_bytes(f"file/{path.name}", path.read_bytes(), "the job's file as it lies on the disk")
    goes, left = companions(path, Known(job, links), folders)
    unread = [one for one in goes if not _put(found, one)]
    return _write(out, found, (*unread, *left))


def disclose_stored(address: str, job: str, out: Path, names: Sequence[str] = ()) -> Given:
    """The same for a job of a database, by its address and the job's id; there are no files beside it.

    The new folder is whole when it returns, or is not there. Raises Damaged for a log that is not what was
    written, BadInput where something stands at `out`, CannotSave.
    """
    require_new(out)
    store = Store(connect(address))
    try:
        return _write(out, of_log(store, job, store, names), ())
    finally:
        store.close()


def _write(out: Path, found: Disclosed, left: tuple[Companion, ...]) -> Given:
    files = {INDEX: index_of(found).encode(), **found.files}
    write_private(out, files)
    return Given(found.title, len(files), len(found.personal), found.others, left)


def _put(found: Disclosed, companion: Companion) -> bool:
    """Add a copy or backup of the job; whether it could be read."""
    file = companion.files[0]
    folder = f"copies/{file.name}"
    try:
        if is_backup(file):
            part = _of_backup(file)
        elif file.suffix == ".json" and not companion.words.startswith("what"):
            part = _of_copy(companion)
        else:
            found.add_bytes(folder, file.read_bytes(), f"{companion.words}, as it lies on the disk")
            return True
    except (Refusal, OSError):
        return False
    put_under(found, folder, part, companion.words)
    return True


def _of_backup(file: Path) -> Disclosed:
    made, document, log = unpack(file)
    if not log:
        return of_job(parse_job(document, where=file.name))
    with tempfile.TemporaryDirectory(prefix="rehaul-disclose-") as folder:
        place = Path(folder) / "log"
        place.write_bytes(log)
        with store_to_read(place) as store:
            assert store
            return of_log(store, made.job, None)


def _of_copy(companion: Companion) -> Disclosed:
    file = companion.files[0]
    log = next((one for one in companion.files if one.name.endswith(LOG)), None)
    if log is not None:
        with store_to_read(log) as store:
            if store and (jobs := store.jobs()):
                return of_log(store, jobs[0][0], None)
    return of_job(open_job(file))
