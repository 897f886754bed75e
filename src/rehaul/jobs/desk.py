"""The jobs one server works on: the job files of a folder, one job file, or all jobs of a database."""

from __future__ import annotations

import contextlib
import datetime
import threading
from pathlib import Path
from typing import Protocol

from rehaul.errors import BadInput, Refusal
from rehaul.house import Job
from rehaul.jobs.beside import Beside, serving
from rehaul.jobs.files import open_job, save_job
from rehaul.jobs.ledger import Ledger
from rehaul.jobs.logs import SUFFIX
from rehaul.jobs.outputs import is_copy
from rehaul.jobs.people import People
from rehaul.jobs.sql import connect
from rehaul.jobs.store import Store

PEOPLE_FILE = ".rehaul-people"


class Desk(Protocol):
    """Jobs by key. A key names a job in addresses; it is looked up, never made into a path."""

    people: People

    def jobs(self) -> list[tuple[str, str, int]]:
        """Key, title and revision of every job."""
        ...

    def ledger(self, key: str) -> Ledger: ...
    def add(self, job: Job) -> str: ...
    def export(self, key: str) -> None: ...
    def close(self) -> None: ...


class FolderDesk:
    """Job files in a folder, each with its log beside it; or one job file."""

    def __init__(self, place: Path) -> None:
        self._only = place if place.is_file() else None
        self._folder = place.parent if self._only else place
        if not self._folder.is_dir():
            raise BadInput(
                "there is no such folder or job file",
                where=str(place),
                remedy=f"Start a job: rehaul new TITLE --out {place}"
                if place.suffix
                else f"Make a folder for jobs (mkdir {place}), and start one in it with rehaul new",
            )
        self.people = People(Store(connect(self._folder / PEOPLE_FILE)))
        self._paths: dict[str, Path] = {}
        self._open: dict[str, Beside] = {}
        self._held = contextlib.ExitStack()
        self._lock = threading.RLock()
        self.unreadable: dict[str, Refusal] = {}

    def jobs(self) -> list[tuple[str, str, int]]:
        with self._lock:
            self._look()
            return [self._row(key) for key in sorted(self._paths)]

    def ledger(self, key: str) -> Ledger:
        with self._lock:
            if key not in self._open:
                if key not in self._paths:
                    self._look()
                if key not in self._paths:
                    raise no_job(key)
                path = self._paths[key]
                self._held.enter_context(serving(path))
                self._open[key] = Beside(path, name_of=self.people.name_of)
            return self._open[key].ledger

    def add(self, job: Job) -> str:
        """Save a new job under a name of ours, and its key."""
        with self._lock:
            if self._only:
                raise BadInput(
                    "this server works on one job", where="jobs", remedy="Serve a folder to add jobs"
                )
            self._look()
            taken = set(self._paths)
            today = datetime.date.today().isoformat()
            names = (f"job-{today}" + (f"-{number}" if number > 1 else "") for number in range(1, 10_000))
            name = next(n for n in names if n not in taken and not self._path(n).exists())
            save_job(self._path(name), job.model_copy(update={"id": name}))
            self._look()
            return name

    def export(self, key: str) -> None:
        self._open[key].export()

    def close(self) -> None:
        """Leave every file as its log has it, and let others serve them."""
        with self._lock:
            for beside in self._open.values():
                with contextlib.suppress(Refusal):  # the log holds it; the next start writes it
                    beside.ledger.keep_snapshot()
                    beside.export()
                beside.close()
            self._open.clear()
            self._held.close()

    def _path(self, name: str) -> Path:
        return self._folder / f"{name}{SUFFIX}"

    def _look(self) -> None:
        """Keys of the files that are there now; a key once given stays."""
        known = set(self._paths.values())
        for path in [self._only] if self._only else sorted(self._folder.glob(f"*{SUFFIX}")):
            if path in known or (is_copy(path) and path != self._only):
                continue
            try:
                key = open_job(path).id
            except Refusal as refusal:
                self.unreadable[path.name] = refusal
                continue
            self.unreadable.pop(path.name, None)
            number = 1
            unique = key
            while unique in self._paths:
                number += 1
                unique = f"{key}~{number}"
            self._paths[unique] = path

    def _row(self, key: str) -> tuple[str, str, int]:
        if key in self._open:
            ledger = self._open[key].ledger
            return key, ledger.job.title, ledger.revision
        try:
            return key, open_job(self._paths[key]).title, 0
        except Refusal as refusal:
            return key, str(refusal), 0


class StoreDesk:
    """All jobs of one database, shared with every other server that works on it."""

    def __init__(self, where: str) -> None:
        self._store = Store(connect(where))
        self.people = People(self._store)
        self._open: dict[str, Ledger] = {}
        self._lock = threading.RLock()

    def jobs(self) -> list[tuple[str, str, int]]:
        return self._store.jobs()

    def ledger(self, key: str) -> Ledger:
        with self._lock:
            if key not in self._open:
                if key not in {row[0] for row in self._store.jobs()}:
                    raise no_job(key)
                self._open[key] = Ledger(self._store, key, name_of=self.people.name_of)
            return self._open[key]

    def add(self, job: Job) -> str:
        """Start a log for a job; its id gets a number where another has it."""
        taken = {row[0] for row in self._store.jobs()}
        names = (job.id[:28] + (f"-{number}" if number > 1 else "") for number in range(1, 10_000))
        name = next(n for n in names if n not in taken)
        self._store.create(job.model_copy(update={"id": name}))
        return name

    def export(self, key: str) -> None:
        """There is no file to bring up to date."""

    def close(self) -> None:
        for ledger in self._open.values():
            with contextlib.suppress(Refusal):
                ledger.keep_snapshot()
        self._store.close()


class NoJob(BadInput):
    """A key that no job has."""

    code = "absent"


def no_job(key: str) -> NoJob:
    return NoJob(f"there is no job {key[:40]!r}", where="jobs", remedy="Go back to the list")


def open_desk(place: Path, store: str | None = None) -> Desk:
    """The desk of a folder, a job file, or a database by its URL."""
    return StoreDesk(store) if store else FolderDesk(place)
