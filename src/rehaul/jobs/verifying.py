"""A log and its job's file looked at together."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Literal, NoReturn

from rehaul.errors import Damaged, Refusal
from rehaul.jobs import roll
from rehaul.jobs.beside import is_served, job_digest
from rehaul.jobs.desk import PEOPLE_FILE
from rehaul.jobs.files import open_job
from rehaul.jobs.integrity import Health, health_of
from rehaul.jobs.logs import log_path
from rehaul.jobs.sql import connect, damaged
from rehaul.jobs.store import WRITTEN, Store
from rehaul.jobs.tombstones import ErasedCounts
from rehaul.words import say

Follows = Literal["follows", "behind", "changed", "unreadable", "absent", "none"]
WORDS: dict[str, str] = {
    "follows": "The file follows it.",
    "behind": "The file is behind the log; the log counts, and the next opening writes the file.",
    "changed": "The file was changed elsewhere; the next opening takes that in as an edit of the file.",
    "unreadable": "The file itself cannot be read; the log counts.",
    "absent": "There is no file; the log counts, and the next opening writes the file.",
    "none": "",  # in a database
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

    @property
    def erased(self) -> tuple[str, ...]:
        """What is said of each erasure, and of one that has not come to its end."""
        said = [
            f"Erased for good on {one.at[:10]} by {one.by}: "
            f"{ErasedCounts(one.edits, one.fields, one.pictures, one.notices, one.states).words}."
            for one in self.health.erasures
        ]
        if self.health.unfinished:
            said.append("That was stopped midway: say rehaul erase again, and it comes to its end.")
        return tuple(said)

    def refuse(self) -> NoReturn:
        """Raise Damaged with all that is wrong of the log, and how it may be repaired.

        To be called only where `health` has faults.
        """
        raise damaged(self.where, say("refused_log.faults", names=self.health.faults))


@dataclass(frozen=True)
class Paired:
    """What was found of the people and devices of a folder or database."""

    people: int
    devices: int
    faults: tuple[str, ...]
    where: str

    def refuse(self) -> NoReturn:
        """Raise Damaged with all that is wrong of people and devices, and how to begin anew.

        To be called only where there are `faults`.
        """
        raise Damaged(
            say("refused_store.people_devices", names=self.faults),
            where=self.where,
            remedy=say("refused_store.nobody_let_in_by_such_row"),
        )


def paired_beside(path: Path) -> Paired | None:
    """Look at the people and devices of the folder that a job file stands in; None where nobody paired.

    A file that is no store counts as one fault and nobody: only CannotSave is raised.
    """
    place = path.parent / PEOPLE_FILE
    if not place.exists():
        return None
    try:
        store = Store(connect(place))
    except Damaged as refusal:
        return Paired(0, 0, (refusal.problem,), str(place))
    try:
        return paired_in(store)
    finally:
        store.close()


def paired_in(store: Store) -> Paired:
    """The same for those of an open store: how many people and devices there ever were, and what is wrong.

    Those who were forgotten or erased are counted too, for their rows stay.
    """
    try:
        unsound = store.database.unsound()
        found = (unsound,) if unsound else tuple(roll.faults(store.database))
        people, devices = (
            int(store.database.run(f"SELECT COUNT(*) FROM {name}")[0][0]) for name in ("person", "device")
        )
    except Damaged as refusal:
        return Paired(0, 0, (refusal.problem,), store.where)
    return Paired(people, devices, found, store.where)


def verified_stored(address: str, job: str) -> tuple[Verified, Paired]:
    """Look at a job of a database, by its address and the job's id, and at the people there.

    Faults are told, not raised. Raises BadInput where there is no such job, CannotSave.
    """
    store = Store(connect(address))
    try:
        store.head(job)
        return Verified(health_of(store, job), "none", store.where), paired_in(store)
    finally:
        store.close()


def verified(path: Path) -> Verified:
    """Look at the log beside a job file, whole, and at how the file stands to it.

    Faults are told, not raised; with faults the file is not compared. Raises Damaged where not even the
    log's tables can be read or no job is in it.
    """
    log = log_path(path)
    store = Store(connect(log))
    try:
        jobs = store.jobs()
        if not jobs:
            raise damaged(str(log), say("refused_log.no_job_in_it"))
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
