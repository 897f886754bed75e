"""The log on disk: rows of edits, notices, snapshots, people and pictures of a job.

A row is in the log exactly when `append` returned. Rows are numbered by revision, never by the
clock, so a clock that is set back changes nothing but the times shown.
"""

from __future__ import annotations

import contextlib
import json
import sqlite3
from collections.abc import Iterator, Sequence
from typing import Any

from rehaul.errors import BadInput
from rehaul.house import Job
from rehaul.jobs.sql import Database
from rehaul.jobs.state import Row, State, dump_state

KEPT_SNAPSHOTS = 2
TABLES = """
CREATE TABLE IF NOT EXISTS job (id TEXT PRIMARY KEY, head BIGINT NOT NULL, title TEXT NOT NULL);
CREATE TABLE IF NOT EXISTS edit (
  job TEXT NOT NULL, revision BIGINT NOT NULL, edit TEXT NOT NULL, person TEXT NOT NULL, at TEXT NOT NULL,
  label TEXT NOT NULL, way TEXT NOT NULL, undoes BIGINT, changes TEXT NOT NULL, inverse TEXT NOT NULL,
  told TEXT NOT NULL, digest TEXT NOT NULL, schema_version BIGINT NOT NULL,
  PRIMARY KEY (job, revision), UNIQUE (job, edit));
CREATE TABLE IF NOT EXISTS notice (
  job TEXT NOT NULL, person TEXT NOT NULL, number BIGINT NOT NULL, body TEXT NOT NULL,
  PRIMARY KEY (job, person, number));
CREATE TABLE IF NOT EXISTS snapshot (
  job TEXT NOT NULL, revision BIGINT NOT NULL, body TEXT NOT NULL, PRIMARY KEY (job, revision));
CREATE TABLE IF NOT EXISTS remark (job TEXT NOT NULL, name TEXT NOT NULL, body TEXT NOT NULL,
  PRIMARY KEY (job, name));
CREATE TABLE IF NOT EXISTS person (id TEXT PRIMARY KEY, name TEXT NOT NULL, folded TEXT NOT NULL UNIQUE);
CREATE TABLE IF NOT EXISTS device (
  id TEXT PRIMARY KEY, token TEXT NOT NULL UNIQUE, person TEXT NOT NULL, mark TEXT NOT NULL UNIQUE,
  since TEXT NOT NULL, forgotten BIGINT NOT NULL DEFAULT 0);
CREATE TABLE IF NOT EXISTS picture (
  job TEXT NOT NULL, id TEXT NOT NULL, type TEXT NOT NULL, about TEXT NOT NULL, body {blob} NOT NULL,
  PRIMARY KEY (job, id));
"""
ROW_COLUMNS = "revision, edit, person, at, label, way, undoes, changes, inverse, told, digest, schema_version"


class Behind(Exception):
    """Another writer has added rows since; look again and try again."""


class Store:
    """All jobs of one database."""

    def __init__(self, database: Database) -> None:
        self.database = database
        with database.writing():
            for statement in TABLES.format(blob=database.blob).split(";"):
                if statement.strip():
                    database.run(statement)

    def jobs(self) -> list[tuple[str, str, int]]:
        """Id, title and revision of every job, by id."""
        return [tuple(row) for row in self.database.run("SELECT id, title, head FROM job ORDER BY id")]

    def create(self, job: Job) -> None:
        """Start a log with `job` as revision 0."""
        try:
            with self.database.writing():
                self.database.run("INSERT INTO job VALUES (%s, 0, %s)", (job.id, job.title))
                self._insert_snapshot(job.id, State(0, job))
        except sqlite3.IntegrityError:
            raise BadInput(
                f"there is a job {job.id!r} already", where="store", remedy="Give this one another id"
            ) from None

    def head(self, job: str) -> int:
        """The newest revision of a job. Raises BadInput where there is no such job."""
        rows = self.database.run("SELECT head FROM job WHERE id = %s", (job,))
        if not rows:
            raise BadInput(f"there is no job {job[:40]!r}", where="store", remedy="Name one that is there")
        return int(rows[0][0])

    def append(self, job: str, row: Row, title: str, notices: Sequence[tuple[str, dict[str, Any]]]) -> None:
        """Add one row with the notices it causes. Raises Behind, or CannotSave; then nothing was added."""
        try:
            with self.database.writing():
                moved = self.database.count(
                    "UPDATE job SET head = %s, title = %s WHERE id = %s AND head = %s",
                    (row.revision, title, job, row.revision - 1),
                )
                if moved != 1:
                    raise Behind
                marks = ", ".join(["%s"] * 13)
                self.database.run(
                    f"INSERT INTO edit (job, {ROW_COLUMNS}) VALUES ({marks})", (job, *_values(row))
                )
                for person, note in notices:
                    self._insert_notice(job, person, note)
        except sqlite3.IntegrityError:
            raise Behind from None  # the same edit came in through another writer

    def rows(self, job: str, after: int) -> list[Row]:
        """Rows with a revision above `after`, in order."""
        sql = f"SELECT {ROW_COLUMNS} FROM edit WHERE job = %s AND revision > %s ORDER BY revision"
        return [_row(values) for values in self.database.run(sql, (job, after))]

    def row(self, job: str, revision: int) -> Row | None:
        sql = f"SELECT {ROW_COLUMNS} FROM edit WHERE job = %s AND revision = %s"
        return next((_row(values) for values in self.database.run(sql, (job, revision))), None)

    def row_of_edit(self, job: str, edit: str) -> Row | None:
        """The row that an edit id made, if it ever arrived."""
        sql = f"SELECT {ROW_COLUMNS} FROM edit WHERE job = %s AND edit = %s"
        return next((_row(values) for values in self.database.run(sql, (job, edit))), None)

    def snapshot(self, job: str, *, at_most: int | None = None) -> str:
        """The newest snapshot, or the newest that is not later than a revision."""
        limit = self.head(job) if at_most is None else at_most
        rows = self.database.run(
            "SELECT body FROM snapshot WHERE job = %s AND revision <= %s ORDER BY revision DESC LIMIT 1",
            (job, limit),
        )
        return str(rows[0][0])

    def put_snapshot(self, job: str, state: State) -> None:
        """Keep the state, with the snapshot before it and the first one; older ones go."""
        with self.database.writing():
            self.database.run("DELETE FROM snapshot WHERE job = %s AND revision = %s", (job, state.revision))
            self._insert_snapshot(job, state)
            kept = self.database.run(
                "SELECT revision FROM snapshot WHERE job = %s ORDER BY revision DESC", (job,)
            )
            for (revision,) in kept[KEPT_SNAPSHOTS:-1]:
                self.database.run("DELETE FROM snapshot WHERE job = %s AND revision = %s", (job, revision))

    def _insert_snapshot(self, job: str, state: State) -> None:
        self.database.run(
            "INSERT INTO snapshot VALUES (%s, %s, %s)", (job, state.revision, dump_state(state))
        )

    def _insert_notice(self, job: str, person: str, note: dict[str, Any]) -> None:
        sql = "SELECT COALESCE(MAX(number), 0) + 1 FROM notice WHERE job = %s AND person = %s"
        number = self.database.run(sql, (job, person))[0][0]
        self.database.run("INSERT INTO notice VALUES (%s, %s, %s, %s)", (job, person, number, _text(note)))

    def notices(self, job: str, person: str) -> list[dict[str, Any]]:
        """Notices a person has not seen yet, oldest first."""
        rows = self.database.run(
            "SELECT number, body FROM notice WHERE job = %s AND person = %s AND body <> '' ORDER BY number",
            (job, person),
        )
        return [{"notice": number, **json.loads(body)} for number, body in rows]

    def seen(self, job: str, person: str, up_to: int) -> None:
        """Notices up to a number have been shown; their numbers are not used again."""
        with self.database.writing():
            self.database.run(
                "UPDATE notice SET body = '' WHERE job = %s AND person = %s AND number <= %s",
                (job, person, up_to),
            )

    def remark(self, job: str, name: str) -> str | None:
        """A small text kept with the job, such as what was last written to its file."""
        rows = self.database.run("SELECT body FROM remark WHERE job = %s AND name = %s", (job, name))
        return str(rows[0][0]) if rows else None

    def put_remark(self, job: str, name: str, body: str) -> None:
        with self.database.writing():
            self.database.run("DELETE FROM remark WHERE job = %s AND name = %s", (job, name))
            self.database.run("INSERT INTO remark VALUES (%s, %s, %s)", (job, name, body))

    @contextlib.contextmanager
    def writing(self) -> Iterator[Database]:
        """One transaction for the modules that keep people and pictures here."""
        with self.database.writing():
            yield self.database

    def close(self) -> None:
        self.database.close()


def _text(data: object) -> str:
    return json.dumps(data, ensure_ascii=False, separators=(",", ":"))


def _values(row: Row) -> tuple[Any, ...]:
    return (
        row.revision, row.edit, row.person, row.at, row.label, row.way, row.undoes,
        _text(row.changes), _text(row.inverse), _text(row.told), row.digest, row.schema_version,
    )  # fmt: skip


def _row(values: Sequence[Any]) -> Row:
    revision, edit, person, at, label, way, undoes, changes, inverse, told, digest, version = values
    return Row(
        revision, edit, person, at, label, way, undoes,
        json.loads(changes), json.loads(inverse), json.loads(told), digest, version,
    )  # fmt: skip
