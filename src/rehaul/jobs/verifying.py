"""A log and its job's file looked at together."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Literal, NoReturn

from rehaul.errors import Refusal
from rehaul.jobs.beside import is_served, job_digest
from rehaul.jobs.files import open_job
from rehaul.jobs.integrity import Health, health_of
from rehaul.jobs.logs import log_path
from rehaul.jobs.sql import connect, damaged
from rehaul.jobs.store import WRITTEN, Store

Follows = Literal["follows", "behind", "changed", "unreadable", "absent"]
WORDS: dict[str, str] = {
    "follows": "The file follows it.",
    "behind": "The file is behind the log; the log counts, and the next opening writes the file.",
    "changed": "The file was changed elsewhere; the next opening takes that in as an edit of the file.",
    "unreadable": "The file itself cannot be read; the log counts.",
    "absent": "There is no file; the log counts, and the next opening writes the file.",
}


@dataclass(frozen=True)
class Verified:
    """What was found of a log and its file."""

    health: Health
    file: Follows
    where: str

    @property
    def words(self) -> str:
        """What is said of the file."""
        return WORDS[self.file]

    def refuse(self) -> NoReturn:
        """Raise Damaged with what is wrong."""
        raise damaged(self.where, "; ".join(self.health.faults))


def verified(path: Path) -> Verified:
    """Look at the log beside a job file, whole. Raises Damaged where not even its tables can be read."""
    log = log_path(path)
    store = Store(connect(log))
    try:
        jobs = store.jobs()
        if not jobs:
            raise damaged(str(log), "no job is in it")
        health = health_of(store, jobs[0][0])
        if health.faults:
            return Verified(health, "unreadable", str(log))
        return Verified(health, _file(path, store, health), str(log))
    finally:
        store.close()


def _file(path: Path, store: Store, health: Health) -> Follows:
    if not path.exists():
        return "absent"
    try:
        digest = job_digest(open_job(path))
    except Refusal:
        return "unreadable"
    if digest == job_digest(store.state_at(health.job, health.head).job):
        return "follows"
    written = (store.remark(health.job, WRITTEN) or "").split()[1::2]
    return "behind" if digest in written or is_served(path) else "changed"
