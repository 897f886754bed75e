"""A job from one store into another, row by row, as it stands: for backups, and for what a repair kept."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

from rehaul.jobs.chain import RawRow, first_link
from rehaul.jobs.databases import Database
from rehaul.jobs.store import Store, insert_row

# tables beside the chain: name, columns; all begin with the job
BESIDE = (
    ("snapshot", "job, revision, body, seal"),
    ("notice", "job, person, number, body, seal"),
    ("remark", "job, name, body, seal"),
    ("picture", "job, id, type, about, body, seal"),
)


def copy_job(source: Store, target: Store, job: str) -> int:
    """Copy a job with its whole history into a store that has none of it; the newest edit's revision.

    In the target it is on the disk when this returns, or nothing of it is. Raises CannotSave, and
    `sqlite3.IntegrityError` where the target has a job of that id.

    Writers of the same job wait until it is read; on PostgreSQL others of the database go on.
    """
    with source.database.writing():  # nobody adds to it meanwhile
        sql = f"SELECT title FROM job WHERE id = %s{source.database.holding}"
        title = str(source.database.run(sql, (job,))[0][0])
        found = job_rows(source, job, title)
    put_job(target, job, found)
    return found.head


class JobRows(NamedTuple):
    """All that a store holds of one job, row by row."""

    head: int  # its newest edit
    title: str
    link: str
    edits: Sequence[RawRow]
    beside: dict[str, list[tuple[Any, ...]]]  # by table


def job_rows(source: Store, job: str, title: str) -> JobRows:
    """What a store holds of a job, as it stands, not looked at; ask within `writing`.

    `title`: of the job, as it should stand in the copy. Raises BadInput where there is no such job.
    """
    head, link = source.head_link(job)
    beside = {name: rows_of(source.database, name, columns, job) for name, columns in BESIDE}
    return JobRows(head, title, link, source.raw_rows(job, 0), beside)


def rows_of(database: Database, table: str, columns: str, job: str) -> list[tuple[Any, ...]]:
    """Rows of a table beside the chain, as tuples of the columns named, bytes as bytes; in no order.

    `table` and `columns` are those of `BESIDE`: they go into the SQL as they are.
    """
    found = database.run(f"SELECT {columns} FROM {table} WHERE job = %s", (job,))
    return [tuple(bytes(v) if isinstance(v, memoryview | bytearray) else v for v in row) for row in found]


def put_job(target: Store, job: str, found: JobRows) -> None:
    """Put a job into a store that has none of it, as it stands.

    All of it is on the disk when it returns, or nothing.

    The witness of the store, where it has one, knows this job alone from now on.
    """
    with target.writing() as database:
        put_rows(database, job, found)
    if target.database.witness:
        target.database.witness.reset({job: (found.head, found.link)})


def put_rows(database: Database, job: str, found: JobRows) -> None:
    """The same within `writing`, and without a word to the witness.

    Raises `sqlite3.IntegrityError` where the database has a job of that id.
    """
    head = (job, found.head, found.title, found.link or first_link(job))
    database.run("INSERT INTO job VALUES (%s, %s, %s, %s)", head)
    for row in found.edits:
        insert_row(database, job, row)
    for name, columns in BESIDE:
        for values in found.beside.get(name, []):
            _insert(database, name, columns, values)


def drop_rows(database: Database, job: str) -> None:
    """Take a job out of a database, all of it, within `writing`; nothing happens where it is not there.

    What was taken out may stay readable in freed pages until `Database.scrub`.
    """
    for name, _ in BESIDE:
        database.run(f"DELETE FROM {name} WHERE job = %s", (job,))
    database.run("DELETE FROM edit WHERE job = %s", (job,))
    database.run("DELETE FROM job WHERE id = %s", (job,))


def _insert(database: Database, table: str, columns: str, values: Sequence[Any]) -> None:
    marks = ", ".join(["%s"] * len(values))
    database.run(f"INSERT INTO {table} ({columns}) VALUES ({marks})", values)
