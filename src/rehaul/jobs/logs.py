"""Which log belongs to which job file, and the lock of the server that works on it."""

from __future__ import annotations

import contextlib
import hashlib
import os
import sqlite3
from pathlib import Path

from rehaul.errors import BadInput, Refusal
from rehaul.house import dump_job
from rehaul.jobs.files import open_job
from rehaul.printable import short
from rehaul.words import say

SUFFIX = ".rehaul.json"
LOG = ".rehaul-log"
SIDES = ("-wal", "-shm", "-head")  # endings of the files that go with a log
LONGEST_NAME = 255  # bytes, on the file systems in use


class Undecided(BadInput):
    """A log that may be of either of two files."""


def log_path(path: Path) -> Path:
    """The log beside a job file: `house.rehaul.json` has `house.rehaul-log`, `house.json` has
    `house.json.rehaul-log`.

    Before, `house.json` shared the first one: where that log is its own it is found there still. Raises
    BadInput where it cannot be told whose it is. **Source**: docs/sharing.md, "Where it is kept".
    """
    if path.name.endswith(SUFFIX):
        return path.with_name(path.name.removesuffix(SUFFIX) + LOG)
    own = _own(path)
    if len(os.fsencode(own.name)) > LONGEST_NAME:
        raise BadInput(
            say("refused_store.name_too_long_for_its_log", more=len(own.name) - len(path.name)),
            where=short(path.name),
            remedy=say("refused_store.give_file_shorter_name"),
        )
    shared = path.with_name(path.name.removesuffix(".json") + LOG)
    if own.exists() or not shared.exists():
        return own
    return shared if _is_of(shared, path) else own


def _own(path: Path) -> Path:
    return path.with_name(path.name + (LOG if path.name.endswith(".json") else f".file{LOG}"))


def lock_path(path: Path) -> Path:
    """The file beside its log that the one server of a job holds; it may not be there.

    Raises BadInput as `log_path` does.
    """
    return log_path(path).with_suffix(".rehaul-serving")


def require_no_other(path: Path) -> None:
    """Raise BadInput where the log that `house.rehaul.json` would have is the one of `house.json`.

    Logs of an earlier program had one name for both (docs/sharing.md, "Where it is kept"). Nothing is
    changed; where nobody can tell whose it is, nothing is raised here.
    """
    if not path.name.endswith(SUFFIX) or not log_path(path).exists():
        return
    for ending in (".json", ""):
        other = path.with_name(path.name.removesuffix(SUFFIX) + ending)
        if not other.is_file():
            continue
        with contextlib.suppress(Undecided):
            if log_path(other) == log_path(path):
                raise BadInput(
                    say("refused_store.log_is_of_another", name=log_path(path).name, other=other.name),
                    where=str(path),
                    remedy=say(
                        "refused_store.give_another_name_rename", name=path.name, other=_own(other).name
                    ),
                )


def _is_of(log: Path, path: Path) -> bool:
    """Whether a log with the short name is of `path` and not of the `.rehaul.json` beside it."""
    job_id, written = _told(log)
    namesake = log.with_name(log.name.removesuffix(LOG) + SUFFIX)
    mine, theirs = (_agrees(file, job_id, written) for file in (path, namesake))
    if mine == theirs and mine > 0:
        raise Undecided(
            say("refused_store.log_may_be_of_either", name=log.name, other=path.name, third=namesake.name),
            where=str(path),
            remedy=say("refused_store.give_one_two_files"),
        )
    return mine > theirs


def _agrees(file: Path, job_id: str, written: set[str]) -> int:
    """0: another job, or none; 1: the same id, changed since; 2: just what the log wrote last."""
    if not file.is_file():
        return 0
    try:
        job = open_job(file)
    except Refusal:
        return 0
    if job.id != job_id:
        return 0
    return 2 if hashlib.sha256(dump_job(job).encode()).hexdigest() in written else 1


def _told(log: Path) -> tuple[str, set[str]]:
    """The job's id in a log, and the digests of what its file last got from it."""
    try:
        with contextlib.closing(sqlite3.connect(f"{log.resolve().as_uri()}?mode=ro", uri=True)) as connection:
            rows = connection.execute("SELECT id FROM job").fetchall()
            kept = connection.execute("SELECT body FROM remark WHERE name = 'written'").fetchall()
    except sqlite3.Error:
        return "", set()
    digests = {line.split()[-1] for (body,) in kept for line in str(body).splitlines() if line.split()}
    return (str(rows[0][0]) if rows else ""), digests
