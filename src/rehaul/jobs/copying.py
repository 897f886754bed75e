"""A job from one store into another, row by row, as it stands: for backups, and for what a repair kept."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from rehaul.jobs.chain import RawRow, first_link
from rehaul.jobs.sql import Database
from rehaul.jobs.store import Store, insert_row

# tables beside the chain: name, columns; all begin with the job
BESIDE = (
    ("snapshot", "job, revision, body, seal"),
    ("notice", "job, person, number, body, seal"),
    ("remark", "job, name, body, seal"),
    ("picture", "job, id, type, about, body, seal"),
)


def copy_job(source: Store, target: Store, job: str) -> int:
    """Copy a job with its whole history into a store that has none of it; the newest edit."""
    with source.database.writing():  # nobody adds to it meanwhile
        head, link = source.head_link(job)
        title = str(source.database.run("SELECT title FROM job WHERE id = %s", (job,))[0][0])
        rows = source.raw_rows(job, 0)
        beside = {name: rows_of(source.database, name, columns, job) for name, columns in BESIDE}
    put_job(target, job, head, title, link, rows, beside)
    return head


def rows_of(database: Database, table: str, columns: str, job: str) -> list[tuple[Any, ...]]:
    """Rows of a table beside the chain."""
    found = database.run(f"SELECT {columns} FROM {table} WHERE job = %s", (job,))
    return [tuple(bytes(v) if isinstance(v, memoryview | bytearray) else v for v in row) for row in found]


def put_job(
    target: Store,
    job: str,
    head: int,
    title: str,
    link: str,
    rows: Iterable[RawRow],
    beside: dict[str, list[tuple[Any, ...]]],
) -> None:
    """Put a job into a store that has none of it, as it stands."""
    with target.writing() as database:
        put_rows(database, job, head, title, link, rows, beside)
    if target.database.witness:
        target.database.witness.reset({job: (head, link)})


def put_rows(
    database: Database,
    job: str,
    head: int,
    title: str,
    link: str,
    rows: Iterable[RawRow],
    beside: dict[str, list[tuple[Any, ...]]],
) -> None:
    """The same, within `writing`."""
    database.run("INSERT INTO job VALUES (%s, %s, %s, %s)", (job, head, title, link or first_link(job)))
    for row in rows:
        insert_row(database, job, row)
    for name, columns in BESIDE:
        for values in beside.get(name, []):
            _insert(database, name, columns, values)


def drop_rows(database: Database, job: str) -> None:
    """Take a job out of a database, all of it, within `writing`."""
    for name, _ in BESIDE:
        database.run(f"DELETE FROM {name} WHERE job = %s", (job,))
    database.run("DELETE FROM edit WHERE job = %s", (job,))
    database.run("DELETE FROM job WHERE id = %s", (job,))


def _insert(database: Database, table: str, columns: str, values: Sequence[Any]) -> None:
    marks = ", ".join(["%s"] * len(values))
    database.run(f"INSERT INTO {table} ({columns}) VALUES ({marks})", values)
