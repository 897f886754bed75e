"""The log on disk: rows of edits, notices, snapshots, people and pictures of a job.

A row is in the log exactly when `append` returned. Rows are numbered by revision, never by the
clock, so a clock that is set back changes nothing but the times shown.
"""

from __future__ import annotations

import contextlib
import json
import sqlite3
from collections.abc import Iterator, Sequence
from dataclasses import astuple
from typing import Any

from rehaul.errors import BadInput
from rehaul.house import Job
from rehaul.jobs.chain import ERASE, ERASED, GONE, RawRow, chained, first_link, new_salt, salted, seal, whole
from rehaul.jobs.databases import Database
from rehaul.jobs.formats import bring_up, has_salts, require_format
from rehaul.jobs.sql import damaged
from rehaul.jobs.state import JobState, LogRow, dump_state, replay, revision_of
from rehaul.words import say

KEPT_SNAPSHOTS = 2
ERASING = "erasing"  # remark: an erasure that has not come to its end, and when it began
KEY = "key"  # remark: what ids of edits of the file are made with
WRITTEN = "written"  # remark: revision and digest of what the job's file last got from the log
TABLES = """
CREATE TABLE IF NOT EXISTS stamp (format BIGINT NOT NULL);
CREATE TABLE IF NOT EXISTS job (id TEXT PRIMARY KEY, head BIGINT NOT NULL, title TEXT NOT NULL,
  link TEXT NOT NULL DEFAULT '');
CREATE TABLE IF NOT EXISTS edit (
  job TEXT NOT NULL, revision BIGINT NOT NULL, edit TEXT NOT NULL, person TEXT NOT NULL, at TEXT NOT NULL,
  label TEXT NOT NULL, way TEXT NOT NULL, undoes BIGINT, changes TEXT NOT NULL, inverse TEXT NOT NULL,
  told TEXT NOT NULL, digest TEXT NOT NULL, schema_version BIGINT NOT NULL,
  parts TEXT NOT NULL DEFAULT '', link TEXT NOT NULL DEFAULT '', salt TEXT NOT NULL DEFAULT '',
  PRIMARY KEY (job, revision), UNIQUE (job, edit));
CREATE TABLE IF NOT EXISTS notice (
  job TEXT NOT NULL, person TEXT NOT NULL, number BIGINT NOT NULL, body TEXT NOT NULL,
  seal TEXT NOT NULL DEFAULT '', PRIMARY KEY (job, person, number));
CREATE TABLE IF NOT EXISTS snapshot (
  job TEXT NOT NULL, revision BIGINT NOT NULL, body TEXT NOT NULL, seal TEXT NOT NULL DEFAULT '',
  PRIMARY KEY (job, revision));
CREATE TABLE IF NOT EXISTS remark (job TEXT NOT NULL, name TEXT NOT NULL, body TEXT NOT NULL,
  seal TEXT NOT NULL DEFAULT '', PRIMARY KEY (job, name));
CREATE TABLE IF NOT EXISTS person (id TEXT PRIMARY KEY, name TEXT NOT NULL, folded TEXT NOT NULL UNIQUE,
  seal TEXT NOT NULL DEFAULT '');
CREATE TABLE IF NOT EXISTS device (
  id TEXT PRIMARY KEY, token TEXT NOT NULL UNIQUE, person TEXT NOT NULL, mark TEXT NOT NULL UNIQUE,
  since TEXT NOT NULL, forgotten BIGINT NOT NULL DEFAULT 0, seal TEXT NOT NULL DEFAULT '');
CREATE TABLE IF NOT EXISTS picture (
  job TEXT NOT NULL, id TEXT NOT NULL, type TEXT NOT NULL, about TEXT NOT NULL, body {blob} NOT NULL,
  seal TEXT NOT NULL DEFAULT '', PRIMARY KEY (job, id));
"""
TABLE_NAMES = {"job", "edit", "notice", "snapshot", "remark", "person", "device", "picture"}
ROW_COLUMNS = (
    "revision, edit, person, at, label, way, undoes, changes, inverse, told, digest, schema_version, "
    "parts, link, salt"
)


class Behind(Exception):
    """Another writer has added rows since; look again and try again."""


class Store:
    """All jobs of one database."""

    def __init__(self, database: Database) -> None:
        self.database = database
        self._salts = False
        there = database.tables()
        if "stamp" in there:
            require_format(database)
        if not there >= TABLE_NAMES or "stamp" not in there:
            if "stamp" not in there and "edit" not in there and (there or not database.may_be_empty):
                raise damaged(self.where, say("refused_log.no_log_of_rehaul"))
            with database.writing():
                database.run(database.alone)
                for statement in TABLES.format(blob=database.blob).split(";"):
                    if statement.strip():
                        database.run(statement)
                bring_up(database)

    def bring_up(self) -> None:
        """Bring a log of an earlier format up to this one, within a transaction.

        Left until something is written to it, which nobody does to one that is damaged.
        """
        if not self._has_salts():
            self.database.run(self.database.alone)
            bring_up(self.database)

    def _has_salts(self) -> bool:
        self._salts = self._salts or has_salts(self.database)
        return self._salts

    @property
    def where(self) -> str:
        """The file, or what is said of a database."""
        return str(getattr(self.database, "path", "store"))

    def jobs(self) -> list[tuple[str, str, int]]:
        """Id, title and revision of every job, by id."""
        return [tuple(row) for row in self.database.run("SELECT id, title, head FROM job ORDER BY id")]

    def create(self, job: Job) -> None:
        """Start a log with `job` as revision 0; on the disk when it returns.

        Raises BadInput where a job of that id is there, also where somebody else was quicker.
        """
        try:
            with self.database.writing():
                self.begin(job)
        except sqlite3.IntegrityError:
            raise BadInput(
                say("refused_store.job_stands_there", id=job.id),
                where="store",
                remedy=say("refused_store.give_one_another_id"),
            ) from None

    def begin(self, job: Job) -> None:
        """The same within `writing`, so that more may be put into the same transaction.

        Raises `sqlite3.IntegrityError` where a job of that id is there.
        """
        sql = "INSERT INTO job VALUES (%s, 0, %s, %s)"
        self.database.run(sql, (job.id, job.title, first_link(job.id)))
        self._insert_snapshot(job.id, JobState(0, job))

    def head(self, job: str) -> int:
        """The newest revision of a job. Raises BadInput where there is no such job."""
        rows = self.database.run("SELECT head FROM job WHERE id = %s", (job,))
        if not rows:
            raise BadInput(
                say("refused_common.no_job", job=job[:40]),
                where="store",
                remedy=say("refused_store.name_one"),
            )
        return int(rows[0][0])

    def head_link(self, job: str) -> tuple[int, str]:
        """The newest revision of a job and its link. Raises BadInput where there is no such job.

        Two questions: where others may add rows meanwhile, ask within `writing`.
        """
        head = self.head(job)
        rows = self.database.run("SELECT link FROM job WHERE id = %s", (job,))
        return head, str(rows[0][0])

    def append(
        self, job: str, row: LogRow, title: str, notices: Sequence[tuple[str, dict[str, Any]]]
    ) -> None:
        """Add one row with the notices it causes, in one transaction: on the disk when it returns.

        Parameters
        ----------
        row : numbered one above the newest revision
        title : of the job, as the list of jobs shows it from now on
        notices : person, and what that person is told when next here

        Raises Behind where another writer was quicker or the edit's id is there already, CannotSave where
        the disk did not take it; then nothing was added, unless the connection broke while committing: look
        again. **Source**: docs/sharing.md, "What is kept".
        """
        try:
            with self.database.writing():
                self.bring_up()
                found = self.database.run("SELECT head, link FROM job WHERE id = %s", (job,))
                if not found or found[0][0] != row.revision - 1:
                    raise Behind
                raw = raw_row(row, str(found[0][1]))
                moved = self.database.count(
                    "UPDATE job SET head = %s, title = %s, link = %s WHERE id = %s AND head = %s",
                    (row.revision, title, raw.link, job, row.revision - 1),
                )
                if moved != 1:
                    raise Behind
                insert_row(self.database, job, raw)
                for person, note in notices:
                    self._insert_notice(job, person, note)
        except sqlite3.IntegrityError:
            raise Behind from None  # the same edit came in through another writer
        if self.database.witness:
            self.database.witness.saw(job, row.revision, raw.link)

    def rows(self, job: str, after: int) -> list[LogRow]:
        """Rows with a revision above `after`, in order. Raises Damaged where one is not what was written."""
        return [self._read(raw) for raw in self.raw_rows(job, after)]

    def raw_rows(self, job: str, after: int) -> list[RawRow]:
        """The same as they stand, in the order of revisions, not looked at.

        A damaged row is among them: for checking, repairing and copying.
        """
        sql = f"SELECT {self._columns()} FROM edit WHERE job = %s AND revision > %s ORDER BY revision"
        return [RawRow(*values) for values in self.database.run(sql, (job, after))]

    def row(self, job: str, revision: int) -> LogRow | None:
        """The row of a revision; None where there is none. Raises Damaged where it is not what was written.

        Its texts are empty where they were made small or erased (`gone`).
        """
        return self._one(job, "revision", revision)

    def row_of_edit(self, job: str, edit: str) -> LogRow | None:
        """The row that an edit id made; None where that never arrived. Raises Damaged.

        By it an edit that is sent again does nothing a second time.
        """
        return self._one(job, "edit", edit)

    def _one(self, job: str, column: str, value: int | str) -> LogRow | None:
        sql = f"SELECT {self._columns()} FROM edit WHERE job = %s AND {column} = %s"
        return next((self._read(RawRow(*values)) for values in self.database.run(sql, (job, value))), None)

    def _columns(self) -> str:
        return ROW_COLUMNS if self._has_salts() else ROW_COLUMNS.replace("salt", "'' AS salt")

    def _read(self, raw: RawRow) -> LogRow:
        if not whole(raw):
            raise damaged(self.where, say("refused_log.edit_not_written", edit=raw.revision))
        return row_of(raw)

    def snapshot(self, job: str, *, at_most: int | None = None) -> str:
        """The newest snapshot as text, or the newest that is not later than revision `at_most`.

        The text is what `jobs.state.dump_state` makes.

        Raises BadInput where nothing that early is kept, Damaged where none is left or its seal does not
        fit.
        """
        limit = self.head(job) if at_most is None else at_most
        rows = self.database.run(
            "SELECT revision, body, seal FROM snapshot WHERE job = %s AND revision <= %s "
            "ORDER BY revision DESC LIMIT 1",
            (job, limit),
        )
        if not rows:
            if at_most is not None and self.head(job) >= at_most:
                raise BadInput(
                    say("refused_store.what_job_at_edit", at_most=at_most),
                    where="log",
                    remedy=say("refused_store.look_at_later_one"),
                )
            raise damaged(self.where, say("refused_log.no_state"))
        revision, body, kept = rows[0]
        if seal(job, revision, body) != kept:
            raise damaged(self.where, say("refused_log.state_not_written", edit=revision))
        return str(body)

    def put_snapshot(self, job: str, state: JobState) -> None:
        """Keep the state, with the snapshot before it and the first one; older ones go.

        One transaction, on the disk when it returns. No edit depends on it: only opening is quicker.
        **Source**: docs/sharing.md, "Where it is kept": every 500 edits.
        """
        with self.database.writing():
            self.keep_state(job, state)
            kept = self.database.run(
                "SELECT revision FROM snapshot WHERE job = %s ORDER BY revision DESC", (job,)
            )
            for (revision,) in kept[KEPT_SNAPSHOTS:-1]:
                self.database.run("DELETE FROM snapshot WHERE job = %s AND revision = %s", (job, revision))

    def state_at(self, job: str, revision: int) -> JobState:
        """The job as it was after an edit: the snapshot before that with the rows after it played on it.

        Raises BadInput where that is no longer kept (texts were made small or erased), Damaged.
        """
        snapshot = self.snapshot(job, at_most=revision)
        rows = self.rows(job, revision_of(snapshot))
        return replay(snapshot, [row for row in rows if row.revision <= revision])

    def keep_state(self, job: str, state: JobState) -> None:
        """Put a state in, in place of one of the same revision; within `writing`."""
        self.database.run("DELETE FROM snapshot WHERE job = %s AND revision = %s", (job, state.revision))
        self._insert_snapshot(job, state)

    def _insert_snapshot(self, job: str, state: JobState) -> None:
        body = dump_state(state)
        self.database.run(
            "INSERT INTO snapshot VALUES (%s, %s, %s, %s)",
            (job, state.revision, body, seal(job, state.revision, body)),
        )

    def _insert_notice(self, job: str, person: str, note: dict[str, Any]) -> None:
        sql = "SELECT COALESCE(MAX(number), 0) + 1 FROM notice WHERE job = %s AND person = %s"
        number = self.database.run(sql, (job, person))[0][0]
        body = _text(note)
        self.database.run(
            "INSERT INTO notice VALUES (%s, %s, %s, %s, %s)",
            (job, person, number, body, seal(job, person, number, body)),
        )

    def notices(self, job: str, person: str) -> list[dict[str, Any]]:
        """Notices a person has not seen yet, oldest first."""
        rows = self.database.run(
            "SELECT number, body, seal FROM notice WHERE job = %s AND person = %s AND body <> '' "
            "ORDER BY number",
            (job, person),
        )
        if any(seal(job, person, number, body) != kept for number, body, kept in rows):
            raise damaged(self.where, say("refused_log.notice_not_written"))
        return [{"notice": number, **json.loads(body)} for number, body, _ in rows]

    def seen(self, job: str, person: str, up_to: int) -> None:
        """Notices up to a number have been shown: their texts go, their numbers are not used again.

        On the disk when it returns; of two devices that say it at once, the higher number stands.
        """
        with self.database.writing():
            self.database.run(
                "UPDATE notice SET body = '', seal = '' WHERE job = %s AND person = %s AND number <= %s",
                (job, person, up_to),
            )

    def remark(self, job: str, name: str) -> str | None:
        """A small text kept with the job, such as what its file last got; None where there is none.

        `job` may be empty, for what concerns the whole store. Raises Damaged where it is not what was
        written.
        """
        rows = self.database.run("SELECT body, seal FROM remark WHERE job = %s AND name = %s", (job, name))
        if rows and seal(job, name, rows[0][0]) != rows[0][1]:
            raise damaged(self.where, say("refused_log.last_written_to_file"))
        return str(rows[0][0]) if rows else None

    def put_remark(self, job: str, name: str, body: str) -> None:
        """Keep a small text with the job, in place of the one of that name; an empty text takes it away.

        On the disk when it returns; of two at once the later one stands.
        """
        with self.database.writing():
            self.set_remark(job, name, body)

    def set_remark(self, job: str, name: str, body: str) -> None:
        """The same, within `writing`; an empty text takes it away."""
        self.database.run("DELETE FROM remark WHERE job = %s AND name = %s", (job, name))
        if body:
            values = (job, name, body, seal(job, name, body))
            self.database.run("INSERT INTO remark VALUES (%s, %s, %s, %s)", values)

    @contextlib.contextmanager
    def writing(self) -> Iterator[Database]:
        """One transaction for the modules that keep people and pictures here."""
        with self.database.writing():
            yield self.database

    def close(self) -> None:
        self.database.close()


def _text(data: object) -> str:
    return json.dumps(data, ensure_ascii=False, separators=(",", ":"))


def raw_row(row: LogRow, before: str) -> RawRow:
    """A row as it is written where it continues the link `before`, with a salt of its own.

    The same row made twice has other digests each time, for the salt is drawn anew.
    """
    salt = new_salt()
    bare = RawRow(
        row.revision, row.edit, row.person, row.at, row.label, row.way, row.undoes,
        _text(row.changes), _text(row.inverse), _text(row.told), digest_in(row.digest, salt),
        row.schema_version, "", "", salt,
    )  # fmt: skip
    return chained(bare, before)


def row_of(raw: RawRow) -> LogRow:
    """A row as it is read; what was taken away for good reads as nothing, its person as "erased".

    Not looked at: `jobs.chain.whole` says whether it is what was written.
    """
    return LogRow(
        raw.revision, raw.edit, raw.person or ERASED, raw.at, raw.label, raw.way, raw.undoes,
        _listed(raw.changes), _listed(raw.inverse), _listed(raw.told), raw.digest, raw.schema_version,
        raw.changes == GONE or raw.way == ERASE, raw.salt,
    )  # fmt: skip


def digest_in(digest: str, salt: str) -> str:
    """The digest of an edit as its row keeps it: nobody can try a guess of the edit by it."""
    return salted(salt.partition(":")[0], digest)


def _listed(text: str) -> list[dict[str, Any]]:
    return json.loads(text) if text != GONE else []


def insert_row(database: Database, job: str, raw: RawRow) -> None:
    """Add a row as it stands."""
    values = astuple(raw)
    marks = ", ".join(["%s"] * (len(values) + 1))
    database.run(f"INSERT INTO edit (job, {ROW_COLUMNS}) VALUES ({marks})", (job, *values))
