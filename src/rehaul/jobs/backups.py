"""A backup of one job in one file, made while it is served, and put back whole or not at all."""

from __future__ import annotations

import hashlib
import io
import json
import tempfile
import zipfile
import zlib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from rehaul.errors import BadInput, CannotSave, Refusal
from rehaul.house import dump_job, parse_job
from rehaul.jobs.beside import is_served, job_digest, remove_log
from rehaul.jobs.copying import copy_job
from rehaul.jobs.files import open_job
from rehaul.jobs.integrity import require_whole_log
from rehaul.jobs.ledger import Ledger, utc_now
from rehaul.jobs.logs import log_path
from rehaul.jobs.sql import FORMAT, connect
from rehaul.jobs.store import WRITTEN, Store
from rehaul.saving import write_whole
from rehaul.words import say

KIND = "a backup of one job"
MEMBERS = ("job.json", "log")
LARGEST_BYTES = 2_000_000_000
UNREADABLE = (
    zipfile.BadZipFile,
    zlib.error,
    KeyError,
    TypeError,
    ValueError,
    OSError,
    EOFError,
    RuntimeError,
)


@dataclass(frozen=True)
class Made:
    """What a backup holds."""

    job: str
    title: str
    edits: int  # 0: the file alone, no log stood beside it
    at: str


def back_up(path: Path, out: Path) -> Made:
    """Write the job at `path`, with its log where it has one, into one file.

    Raises Damaged where the log is not what was written: a backup of that would be taken for whole.
    """
    if log_path(path).exists():
        store = Store(connect(log_path(path)))
        try:
            return _write(store, store.jobs()[0][0], out)
        finally:
            store.close()
    job = open_job(path)
    return _pack(out, dump_job(job).encode(), b"", Made(job.id, job.title, 0, utc_now()))


def back_up_stored(store: str, job: str, out: Path) -> Made:
    """The same for a job of a database, by the database's address and the job's id, into the file `out`.

    `out` is whole when it returns, or as it was. Raises Damaged for a log that is not what was written,
    BadInput where there is no such job, CannotSave.
    """
    opened = Store(connect(store))
    try:
        return _write(opened, job, out)
    finally:
        opened.close()


def _write(store: Store, job: str, out: Path) -> Made:
    require_whole_log(store, job)
    with tempfile.TemporaryDirectory(prefix="rehaul-backup-") as folder:
        place = Path(folder) / "log"
        copy = Store(connect(place))
        try:
            edits = copy_job(store, copy, job)
            state = Ledger(copy, job).state
            copy.put_remark(job, WRITTEN, f"{state.revision} {job_digest(state.job)}")
            copy.database.shrink()
        finally:
            copy.close()
        made = Made(job, state.job.title, edits, utc_now())
        return _pack(out, dump_job(state.job).encode(), place.read_bytes(), made)


def _pack(out: Path, document: bytes, log: bytes, made: Made) -> Made:
    parts = {"job.json": document, **({"log": log} if log else {})}
    about: dict[str, Any] = {
        "kind": KIND,
        "format": FORMAT,
        "job": made.job,
        "title": made.title,
        "edits": made.edits,
        "at": made.at,
        "sha256": {name: hashlib.sha256(data).hexdigest() for name, data in parts.items()},
    }
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("about.json", json.dumps(about, ensure_ascii=False, indent=2))
        for name, data in parts.items():
            packed.writestr(name, data)
    write_whole(out, held.getvalue())
    return made


def put_back(backup: Path, path: Path) -> Made:
    """Put the job of a backup at `path`, where nothing may stand, with its log.

    Raises BadInput where the backup is not whole, CannotSave where the disk does not take it.
    """
    made, document, log = unpack(backup)
    place = log_path(path)
    for part in (path, place):
        if part.exists():
            raise BadInput(
                say("refused_common.something_stands_there"),
                where=str(part),
                remedy=say("refused_store.give_another_name_move"),
            )
    if is_served(path):
        raise CannotSave(
            say("refused_common.server_works_on"),
            where=str(path),
            remedy=say("refused_common.stop_server_first"),
        )
    if log:
        with tempfile.TemporaryDirectory(prefix="rehaul-restore-") as folder:
            copy = Path(folder) / "log"
            copy.write_bytes(log)
            store = Store(connect(copy))
            try:
                require_whole_log(store, made.job)
                state = Ledger(store, made.job).state
                document = dump_job(state.job).encode()  # the same, or as this version writes it
                _put_log(store, made.job, place, f"{state.revision} {job_digest(state.job)}")
            finally:
                store.close()
    try:
        write_whole(path, document)
    except BaseException:
        if log:
            remove_log(place)
        raise
    return made


def _put_log(source: Store, job: str, place: Path, written: str) -> None:
    """A log of its own for a job, whole or not at all."""
    try:
        kept = Store(connect(place))
        try:
            copy_job(source, kept, job)
            kept.put_remark(job, WRITTEN, written)
        finally:
            kept.close()
    except BaseException:
        remove_log(place)
        raise


def is_backup(file: Path) -> bool:
    """Whether a file says that it is a backup of a job; whether it is whole is another question (`unpack`).

    False as well for one that cannot be read, and for no zip file at all.
    """
    try:
        with zipfile.ZipFile(file) as packed:
            return bool(json.loads(packed.read("about.json"))["kind"] == KIND)
    except UNREADABLE:
        return False


def unpack(backup: Path) -> tuple[Made, bytes, bytes]:
    """What a backup says of itself, its document, and its log as bytes, empty where the job had none.

    Nothing is written. Raises BadInput where it is no backup, its digests do not fit, a later program made
    it, or it would unfold to more than `LARGEST_BYTES`.

    **Validity**: the digests show what a fault altered; whoever makes a backup on purpose can make them
    too. **Source**: docs/sharing.md, "What was written is what is read": parts with SHA-256 digests.
    """
    try:
        with zipfile.ZipFile(backup) as packed:
            if sum(one.file_size for one in packed.infolist()) > LARGEST_BYTES:
                raise BadInput(
                    say("refused_store.backup_larger_than_any"),
                    where=str(backup),
                    remedy=say("refused_store.give_another"),
                )
            about = json.loads(packed.read("about.json"))
            parts = {name: packed.read(name) for name in MEMBERS if name in packed.namelist()}
        if about["kind"] != KIND:
            raise KeyError("kind")
        if about["format"] > FORMAT:
            raise BadInput(
                say("refused_store.later_rehaul_made_backup"),
                where=str(backup),
                remedy=say("refused_store.use_that_version"),
            )
        made = Made(str(about["job"]), str(about["title"]), int(about["edits"]), str(about["at"]))
        told = {name: hashlib.sha256(data).hexdigest() for name, data in parts.items()}
        if told != about["sha256"]:
            raise BadInput(
                say("refused_store.backup_not_what_written"),
                where=str(backup),
                remedy=say("refused_store.take_earlier_one"),
            )
        parse_job(parts["job.json"], where=f"{backup.name}, job.json")
    except FileNotFoundError:
        raise BadInput(
            say("refused_common.no_such_file"), where=str(backup), remedy=say("refused_common.check_name")
        ) from None
    except Refusal:
        raise
    except UNREADABLE as error:
        raise BadInput(
            say("refused_store.no_whole_backup", kind=type(error).__name__),
            where=str(backup),
            remedy=say("refused_store.take_earlier_one"),
        ) from None
    return made, parts["job.json"], parts.get("log", b"")
