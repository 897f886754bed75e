"""The jobs one server works on: the job files of a folder, one job file, or all jobs of a database."""

from __future__ import annotations

import contextlib
import datetime
import logging
import os
import stat
import threading
from pathlib import Path
from typing import Protocol

from rehaul.errors import BadInput, Refusal
from rehaul.house import LARGEST_DOCUMENT_BYTES, Job, dump_job
from rehaul.jobs.beside import LogBeside, serving
from rehaul.jobs.files import open_job, save_job
from rehaul.jobs.ledger import Ledger
from rehaul.jobs.logs import SUFFIX
from rehaul.jobs.outputs import is_copy
from rehaul.jobs.people import People
from rehaul.jobs.sql import connect
from rehaul.jobs.store import Store
from rehaul.saving import reason_of
from rehaul.words import say

PEOPLE_FILE = ".rehaul-people"
Stamp = tuple[int, int, int]
FoundJob = tuple[str, str] | Refusal
log = logging.getLogger("rehaul.jobs")


class Desk(Protocol):
    """Jobs by key. A key names a job in addresses; it is looked up, never made into a path."""

    people: People
    unreadable: dict[str, Refusal]  # files that are no jobs, by name

    def jobs(self) -> list[tuple[str, str, int]]:
        """Key, title and revision of every job that can be read, by key.

        The revision is 0 for a file that nobody has open. Files that are no jobs are in `unreadable`
        afterwards.
        """
        ...

    def ledger(self, key: str) -> Ledger:
        """The log of a job, opened where nobody has it open; the same one for all who ask.

        Raises NoJob for a key that no job has, BadInput where another server has it, Damaged, CannotSave.
        """
        ...

    def add(self, job: Job) -> str:
        """Take in a new job under an id that is free; its key. On the disk when it returns.

        It may get another id than it came with. Raises BadInput where this desk takes none, CannotSave;
        nothing is then added.
        """
        ...

    def export(self, key: str) -> None:
        """Bring the file of an open job up to its log; a job of a database has none, and nothing is done.

        Raises Refusal where it cannot be: the log holds everything, and the file stays as it was.
        """
        ...

    def rest(self, key: str) -> None:
        """Let go of a job that nobody works on, its file written first. Raises Refusal where it cannot be."""
        ...

    def close(self) -> None:
        """Write every file, let go of every job and of the people.

        A file that cannot be written raises nothing: it stays behind its log until the next start.
        """
        ...


class FolderDesk:
    """Job files in a folder, each with its log beside it; or one job file."""

    def __init__(self, place: Path) -> None:
        self._only = place if place.is_file() else None
        self._folder = place.parent if self._only else place
        if not self._folder.is_dir():
            raise BadInput(
                say("refused_jobs.no_such_folder_job"),
                where=str(place),
                remedy=say("refused_jobs.start_job_rehaul_new", place=place)
                if place.suffix
                else say("refused_jobs.make_folder_jobs_mkdir", place=place),
            )
        self.people = _people(self._folder / PEOPLE_FILE)
        self._paths: dict[str, Path] = {}
        self._open: dict[str, LogBeside] = {}
        self._held: dict[str, contextlib.ExitStack] = {}
        self._titles: dict[Path, tuple[Stamp, FoundJob]] = {}
        self._lock = threading.RLock()
        self.unreadable: dict[str, Refusal] = {}

    def jobs(self) -> list[tuple[str, str, int]]:
        with self._lock:
            self._look()
            rows = [self._row(key) for key in sorted(self._paths)]
            return [row for row in rows if row is not None]

    def ledger(self, key: str) -> Ledger:
        with self._lock:
            if key not in self._open:
                if key not in self._paths:
                    self._look()
                if key not in self._paths:
                    raise _no_job(key)
                path = self._paths[key]
                require_regular(path)
                with contextlib.ExitStack() as held:
                    held.enter_context(serving(path))
                    self._open[key] = LogBeside(path, name_of=self.people.name_of)
                    self._held[key] = held.pop_all()
            return self._open[key].ledger

    def add(self, job: Job) -> str:
        """Save a new job as `job-DATE` in the folder; its key, which is its id and the file's name too.

        Today's date is this machine's; a number follows where that name is taken. Whole on the disk when it
        returns. Raises BadInput where one job file is served, CannotSave.
        """
        with self._lock:
            if self._only:
                raise BadInput(
                    say("refused_jobs.server_has_one_job"),
                    where="jobs",
                    remedy=say("refused_jobs.serve_folder_add_jobs"),
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
        beside = self._open[key]
        if beside.path.exists():
            require_regular(beside.path)
        beside.export()

    def rest(self, key: str) -> None:
        """Let go of a job that nobody works on, its file written first; others may serve it then.

        Raises Refusal where the file cannot be written; the job then stays open.
        """
        with self._lock:
            if key in self._open:
                self.export(key)
                self._let_go(key)

    def close(self) -> None:
        """Leave every file as its log has it, and let others serve them.

        A file that cannot be written stays behind its log, and the server's own log says so.
        """
        with self._lock:
            for key in list(self._open):
                try:
                    self.export(key)
                except Refusal as refusal:  # the log holds it; the next start writes it
                    log.warning("the file of job %s stays behind its log: %s", key, refusal)
                self._let_go(key)
        self.people.close()

    def _let_go(self, key: str) -> None:
        beside = self._open.pop(key)
        with contextlib.suppress(Refusal):  # only the next opening takes longer
            beside.ledger.keep_snapshot()
        beside.close()
        self._held.pop(key).close()

    def _path(self, name: str) -> Path:
        return self._folder / f"{name}{SUFFIX}"

    def _look(self) -> None:
        """Keys of the files that are there now; a key once given stays."""
        known = {path: key for key, path in self._paths.items()}
        paths = [self._only] if self._only else sorted(self._folder.glob(f"*{SUFFIX}"))
        self.unreadable = {}
        for path in paths:
            if known.get(path) in self._open or (is_copy(path) and path != self._only):
                continue
            found = self._found(path)
            if isinstance(found, Refusal):
                self.unreadable[path.name] = found
            elif path not in known:
                number, unique = 1, found[0]
                while unique in self._paths:
                    number += 1
                    unique = f"{found[0]}~{number}"
                self._paths[unique] = path

    def _found(self, path: Path) -> FoundJob:
        """Id and title of a job file, or why it is none; read again only where it changed."""
        try:
            stamp = require_regular(path)
        except Refusal as refusal:
            return refusal
        kept = self._titles.get(path)
        if kept is None or kept[0] != stamp:
            self._titles[path] = kept = (stamp, _opened(path))
        return kept[1]

    def _row(self, key: str) -> tuple[str, str, int] | None:
        if key in self._open:
            ledger = self._open[key].ledger
            return key, ledger.job.title, ledger.revision
        found = self._found(self._paths[key])
        return None if isinstance(found, Refusal) else (key, found[1], 0)


def require_regular(path: Path) -> Stamp:
    """When a file was changed, its length and number; refused where it is none, or too large to be a job.

    Nothing is opened: a pipe would wait for somebody to write to it, a device may never end.
    """
    try:
        found = path.stat()
    except OSError as error:
        raise BadInput(
            say("refused_common.cannot_be_read", reason=reason_of(error)),
            where=path.name,
            remedy=say("refused_jobs.give_file_you_may"),
        ) from None
    if not stat.S_ISREG(found.st_mode):
        kind = (
            say("refused_jobs.a_folder")
            if stat.S_ISDIR(found.st_mode)
            else say("refused_jobs.a_pipe_or_device")
        )
        raise BadInput(
            say("refused_jobs.is_no_file", kind=kind),
            where=path.name,
            remedy=say("refused_jobs.take_out_folder"),
        )
    if found.st_size > LARGEST_DOCUMENT_BYTES:
        raise BadInput(
            say("refused_jobs.larger_than_mb", most_mb=LARGEST_DOCUMENT_BYTES / 1e6),
            where=path.name,
            remedy=say("refused_jobs.take_out_folder_job"),
        )
    return found.st_mtime_ns, found.st_size, found.st_ino


def _opened(path: Path) -> FoundJob:
    """Id and title of a job that can be read, kept and sent, or why it cannot."""
    try:
        job = open_job(path)
        dump_job(job).encode("utf-8")
    except Refusal as refusal:
        return refusal
    except UnicodeEncodeError:
        problem = say("refused_jobs.holds_half_character_surrogate")
    except (MemoryError, RecursionError):
        problem = say("refused_jobs.needs_more_memory_than")
    except Exception as error:  # a reader's bug must not keep everybody out
        log.exception("%s could not be read", path.name)
        problem = say("refused_jobs.cannot_be_made_sense_of", kind=type(error).__name__)
    else:
        return job.id, job.title
    return BadInput(problem, where=path.name, remedy=say("refused_jobs.take_last_good_copy"))


def _people(path: Path) -> People:
    """The people of a folder, in files that only this user reads or writes."""
    if os.name == "nt":
        return People(Store(connect(path)), Store(connect(path)))
    old = os.umask(0o077)
    try:
        people = People(Store(connect(path)), Store(connect(path)))
    finally:
        os.umask(old)
    for part in path.parent.glob(f"{path.name}*"):  # made by an earlier version
        with contextlib.suppress(OSError):
            part.chmod(0o600)
    return people


class StoreDesk:
    """All jobs of one database, shared with every other server that works on it."""

    def __init__(self, where: str, password: str | None = None) -> None:
        self._store = Store(connect(where, password))
        lines = [Store(connect(where, password)) for _ in range(2)]  # of their own: they wait for no edit
        self.people = People(*lines)
        self.unreadable: dict[str, Refusal] = {}
        self._open: dict[str, Ledger] = {}
        self._lock = threading.RLock()

    def jobs(self) -> list[tuple[str, str, int]]:
        return self._store.jobs()

    def ledger(self, key: str) -> Ledger:
        with self._lock:
            if key not in self._open:
                if key not in {row[0] for row in self._store.jobs()}:
                    raise _no_job(key)
                self._open[key] = Ledger(self._store, key, name_of=self.people.name_of)
            return self._open[key]

    def add(self, job: Job) -> str:
        """Start a log for a job; its key, which is its id: that gets a number where another has it.

        On the disk when it returns. Raises BadInput where somebody else took that id meanwhile, CannotSave.
        """
        taken = {row[0] for row in self._store.jobs()}
        names = (job.id[:28] + (f"-{number}" if number > 1 else "") for number in range(1, 10_000))
        name = next(n for n in names if n not in taken)
        self._store.create(job.model_copy(update={"id": name}))
        return name

    def export(self, key: str) -> None:
        """There is no file to bring up to date."""

    def rest(self, key: str) -> None:
        with self._lock:
            ledger = self._open.pop(key, None)
        if ledger is not None:
            with contextlib.suppress(Refusal):  # only the next opening takes longer
                ledger.keep_snapshot()

    def close(self) -> None:
        for key in list(self._open):
            self.rest(key)
        with contextlib.suppress(Refusal):
            self.people.close()
        self._store.close()


class NoJob(BadInput):
    """A key that no job has."""

    code = "absent"


def _no_job(key: str) -> NoJob:
    return NoJob(
        say("refused_common.no_job", job=key[:40]), where="jobs", remedy=say("refused_jobs.go_back_list")
    )


def open_desk(place: Path, store: str | None = None, password: str | None = None) -> Desk:
    """The desk of a folder or a job file at `place`, or of a database by its URL `store`, which comes first.

    `password`: of the database's user, where the address does not say it. Raises BadInput where there is no
    such folder or file, CannotSave where the database does not answer.
    """
    return StoreDesk(store, password) if store else FolderDesk(place)
