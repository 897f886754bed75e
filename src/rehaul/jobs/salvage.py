"""What can be read of a damaged log: its longest whole beginning, and what stands after it."""

from __future__ import annotations

import contextlib
import shutil
import sqlite3
import tempfile
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from rehaul.errors import BadInput, Refusal
from rehaul.house import Job
from rehaul.jobs.beside import job_digest
from rehaul.jobs.chain import GONE, RawRow, first_link, link_of, seal, whole
from rehaul.jobs.copying import BESIDE, rows_of
from rehaul.jobs.differences import difference
from rehaul.jobs.files import open_job
from rehaul.jobs.logs import log_path
from rehaul.jobs.state import JobState, replay
from rehaul.jobs.store import ROW_COLUMNS, WRITTEN, Store, row_of
from rehaul.jobs.witness import Witness
from rehaul.saving import reason_of
from rehaul.words import say


@dataclass(frozen=True)
class Salvage:
    """What a repair would keep."""

    job_id: str
    state: JobState
    rows: tuple[RawRow, ...]  # that continue one another up to the state, oldest first
    base: int  # the edit after which they begin; what was before it is in the state alone
    beside: dict[str, list[tuple[Any, ...]]]
    lost: tuple[str, ...]  # in words
    after: tuple[RawRow, ...]  # that can be read and do not continue them
    from_file: tuple[dict[str, Any], ...] = ()  # what the job's file holds beyond the state
    file_at: int | None = None  # the earlier edit of this very log that the file holds the state of

    @property
    def file_is_behind(self) -> bool:
        """Whether the file holds an earlier state."""
        return self.file_at is not None


@dataclass
class _Read:
    rows: dict[int, RawRow] = field(default_factory=dict)
    beside: dict[str, list[tuple[Any, ...]]] = field(default_factory=dict)
    head: int = 0
    job: str = ""
    trouble: list[str] = field(default_factory=list)


def salvage(path: Path) -> Salvage:
    """Look what can be saved of the log beside a job file; nothing is written.

    Raises BadInput where neither log nor file gives a job. **Source**: docs/sharing.md, "What was written is
    what is read": `rehaul repair`.
    """
    log, file_job = log_path(path), _file_job(path)
    read = _read(log) if log.exists() else _Read(trouble=["there is no log"])
    return _salvage(read, file_job, str(path), log)


def salvage_stored(store: Store, job: str) -> Salvage:
    """The same of a job of a database, with no file beside it; nothing is written.

    Raises BadInput where no state is left, or there is no such job. **Source**: docs/sharing.md, "What was
    written is what is read": `rehaul repair`.
    """
    read = _Read(job=job, head=store.head(job))
    for row in store.raw_rows(job, 0):
        with contextlib.suppress(TypeError, AttributeError, ValueError):
            if whole(row):
                read.rows[row.revision] = row
    for name, columns in BESIDE:
        _keep_sealed(name, rows_of(store.database, name, columns, job), read)
    return _salvage(read, None, store.where, None)


def _salvage(read: _Read, file_job: Job | None, where: str, log: Path | None) -> Salvage:
    job_id = read.job or (file_job.id if file_job else "")
    found = _longest(read, job_id)
    if found is None:
        if file_job is None:
            raise BadInput(
                say("refused_store.neither_log_nor_jobs"),
                where=where,
                remedy=say("refused_store.rehaul_restore_puts_backup"),
            )
        alone = (*read.trouble, "no state of the job can be read from the log; the file alone is left")
        return Salvage(file_job.id, JobState(0, file_job), (), 0, {}, alone, tuple(read.rows.values()))
    state, rows, base = found
    after = tuple(row for number, row in sorted(read.rows.items()) if number > state.revision)
    newest = max([read.head, state.revision, *read.rows, _seen(log, job_id) if log else 0])
    lost = list(read.trouble)
    if newest > state.revision:
        lost.append(f"edits {state.revision + 1} to {newest} are not whole")
    missing = base - sum(number <= base for number in read.rows)
    if base and missing > 0:
        lost.append(f"of the edits up to {base} {missing} cannot be read; what they left is in the state")
    kept = Salvage(job_id, state, rows, base, read.beside, tuple(lost), after)
    return _beside_file(kept, file_job)


def _file_job(path: Path) -> Job | None:
    with contextlib.suppress(Refusal):
        return open_job(path)
    return None


def _seen(log: Path, job: str) -> int:
    return Witness(log.with_name(f"{log.name}-head")).heads().get(job, (0, ""))[0]


def _read(log: Path) -> _Read:
    """Everything in a log that can be read, from a copy, so that the log itself stays as it is."""
    found = _Read()
    with tempfile.TemporaryDirectory(prefix="rehaul-salvage-") as folder:
        copy = Path(folder) / "log"
        try:
            shutil.copyfile(log, copy)
            if (left := log.with_name(f"{log.name}-wal")).exists():
                shutil.copyfile(left, copy.with_name("log-wal"))
        except OSError as error:
            raise BadInput(
                say("refused_store.log_cannot_be_read", reason=reason_of(error)),
                where=str(log),
                remedy=say("refused_store.check_rights"),
            ) from None
        try:
            connection = sqlite3.connect(copy, isolation_level=None)
        except (sqlite3.Error, UnicodeError) as error:
            found.trouble.append(f"the log cannot be opened ({error})")
            return found
        try:
            _read_tables(connection, found)
        finally:
            connection.close()
    return found


def _read_tables(connection: sqlite3.Connection, found: _Read) -> None:
    jobs = list(_each(connection, "SELECT id, head FROM job NOT INDEXED", found))
    for name, head in jobs[:1]:
        if isinstance(name, str) and isinstance(head, int):
            found.job, found.head = name, head
    columns = ROW_COLUMNS if _has_salts(connection) else ROW_COLUMNS.replace("salt", "'' AS salt")
    for job, *values in _each(connection, f"SELECT job, {columns} FROM edit NOT INDEXED", found):
        with contextlib.suppress(TypeError, AttributeError, ValueError):
            row = RawRow(*values)
            if whole(row):
                found.rows[row.revision] = row
                found.job = found.job or str(job)
    for name, columns in BESIDE:
        _keep_sealed(name, _each(connection, f"SELECT {columns} FROM {name} NOT INDEXED", found), found)
    if not found.job and found.beside["snapshot"]:
        found.job = str(found.beside["snapshot"][0][0])


def _keep_sealed(table: str, rows: list[tuple[Any, ...]], found: _Read) -> None:
    found.beside[table] = [row for row in rows if _sealed(table, row)]
    bad = len(rows) - len(found.beside[table])
    if bad and table in ("picture", "notice"):  # states and remarks are made anew
        found.trouble.append(f"{bad} {table}{'s are' if bad > 1 else ' is'} not what was kept")


def _has_salts(connection: sqlite3.Connection) -> bool:
    with contextlib.suppress(sqlite3.Error, UnicodeError):
        return any(row[1] == "salt" for row in connection.execute("PRAGMA table_info(edit)"))
    return True


def _each(connection: sqlite3.Connection, sql: str, found: _Read) -> list[tuple[Any, ...]]:
    """Rows until one cannot be read."""
    rows: list[tuple[Any, ...]] = []
    try:
        for row in connection.execute(sql):
            rows.append(tuple(row))
    except (sqlite3.Error, UnicodeError) as error:
        said = f"a part of the log cannot be read ({error})"
        if said not in found.trouble:
            found.trouble.append(said)
    return rows


def _sealed(table: str, row: tuple[Any, ...]) -> bool:
    """Whether a row beside the chain is what was written."""
    try:
        *values, kept = row
        return bool(seal(*values) == kept or (table == "notice" and kept == ""))
    except (TypeError, ValueError, UnicodeError):
        return False


def _longest(read: _Read, job: str) -> tuple[JobState, tuple[RawRow, ...], int] | None:
    """The state that goes furthest: from a state that is whole, over edits that continue it."""
    best: tuple[JobState, tuple[RawRow, ...], int] | None = None
    for _, revision, body, _ in sorted(read.beside.get("snapshot", []), key=lambda row: -row[1]):
        before = read.rows[revision].link if revision in read.rows else None
        link = first_link(job) if revision == 0 else before
        rows: list[RawRow] = []
        number = revision
        while (row := read.rows.get(number + 1)) is not None:
            if row.changes == GONE or (link is not None and row.link != link_of(link, row)):
                break
            rows.append(row)
            link, number = row.link, number + 1
        if best is not None and number <= best[0].revision:
            continue
        try:
            state = replay(body, [row_of(row) for row in rows])
        except (Refusal, KeyError, ValueError, TypeError):
            continue
        best = state, tuple(rows), revision
    return best and (best[0], _with_history(read, best[2], best[1], job), best[2])


def _with_history(read: _Read, base: int, rows: tuple[RawRow, ...], job: str) -> tuple[RawRow, ...]:
    """The rows, with those before the state where they continue one another from the first."""
    link, earlier = first_link(job), []
    for number in range(1, base + 1):
        row = read.rows.get(number)
        if row is None or row.link != link_of(link, row):
            return rows
        earlier.append(row)
        link = row.link
    return (*earlier, *rows)


def _beside_file(kept: Salvage, file_job: Job | None) -> Salvage:
    """With what the job's file holds beyond the state, or that it is behind."""
    if file_job is None or file_job.id != kept.job_id:
        return kept
    with contextlib.suppress(Refusal):
        changes = tuple(difference(kept.state.job, file_job))
        if not changes:
            return kept
        at = _earlier(kept, file_job)
        if at is not None:
            return replace(kept, file_at=at)
        return replace(kept, from_file=changes)
    return kept


def _earlier(kept: Salvage, file_job: Job) -> int | None:
    """The edit of whose state the file is, where the log has been through it."""
    for _, name, body, _ in kept.beside.get("remark", []):
        pairs = map(str.split, str(body).splitlines()) if name == WRITTEN else ()
        for number, digest in pairs:
            if digest == job_digest(file_job) and int(number) <= kept.state.revision:
                return int(number)
    first = min((row[1] for row in kept.beside.get("snapshot", [])), default=None)
    if first is None:
        return None
    body = next(row[2] for row in kept.beside["snapshot"] if row[1] == first)
    with contextlib.suppress(Refusal, KeyError, ValueError):
        rows = [row for row in kept.rows if row.revision > first]
        for count in range(len(rows), -1, -1):
            state = replay(body, [row_of(row) for row in rows[:count]])
            if state.job == file_job:
                return state.revision
    return None
