"""The two databases behind one small face: SQLite in a file, or PostgreSQL by a URL.

A transaction is durable when `writing()` ends without an exception, and only then.
"""

from __future__ import annotations

import contextlib
import os
import secrets
import sqlite3
import threading
from abc import ABC, abstractmethod
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from rehaul.errors import BadInput, CannotSave, Damaged
from rehaul.jobs.addresses import address_of
from rehaul.jobs.databases import Database, Values
from rehaul.jobs.witness import Witness
from rehaul.saving import flush_folder, reason_of
from rehaul.words import Saying, say

FORMAT = 3  # of the tables; a program refuses a log of a later one
SCRUBBED = {"job", "edit", "snapshot", "notice", "remark", "picture", "person", "device", "pass", "happening"}
STAMP = "CREATE TABLE IF NOT EXISTS stamp (format BIGINT NOT NULL)"


def connect(where: str | Path, password: str | None = None) -> Database:
    """The database at a file path, or at `postgresql://user@host:port/name`; nothing is opened or made yet.

    `password`: of a PostgreSQL user, beyond what the address or PGPASSWORD says. Raises BadInput for
    another kind of address.
    """
    text = str(where)
    if text.startswith(("postgresql://", "postgres://")):
        return Postgres(text, password)
    if "://" in text:
        raise BadInput(
            say("refused_store.kind_of_database_not_known"),
            where=text.split("://", 1)[0],
            remedy=say("refused_store.give_file_or_address"),
        )
    return Sqlite(Path(where))


class _Locked(ABC):
    """One connection, used by one thread at a time; opened again after it broke."""

    def __init__(self) -> None:
        self._lock = threading.RLock()
        self._connection: Any = None

    @abstractmethod
    def _open(self) -> Any:
        """A new connection."""

    def _begin(self) -> str:
        return "BEGIN"

    def _execute(self, sql: str, values: Values) -> Any:
        if self._connection is None:
            self._connection = self._open()
        cursor = self._connection.cursor()
        cursor.execute(sql, tuple(values))
        return cursor

    def run(self, sql: str, values: Values = ()) -> list[Any]:
        """Rows of a query; nothing for other statements."""
        with self._lock, self._refusing():
            cursor = self._execute(sql, values)
            return list(cursor.fetchall()) if cursor.description else []

    def count(self, sql: str, values: Values = ()) -> int:
        """How many rows a statement changed."""
        with self._lock, self._refusing():
            return int(self._execute(sql, values).rowcount)

    @contextlib.contextmanager
    def writing(self) -> Iterator[None]:
        """One transaction. Raises CannotSave where it may not have reached the disk."""
        with self._lock, self._refusing():
            self._execute(self._begin(), ())
            try:
                yield
                self._execute("COMMIT", ())
            except BaseException:
                self._roll_back()
                raise

    def _roll_back(self) -> None:
        try:
            self._execute("ROLLBACK", ())
        except Exception:
            self.close()

    @contextlib.contextmanager
    def _refusing(self) -> Iterator[None]:
        yield

    def close(self) -> None:
        with self._lock:
            connection, self._connection = self._connection, None
            if connection is not None:
                with contextlib.suppress(Exception):
                    connection.close()


class Sqlite(_Locked):
    """A log in one file: WAL, synchronous FULL, writes begin immediate.

    The file comes into being with its stamp in it: one that is empty or holds something else was damaged.
    """

    blob = "BLOB"
    may_be_empty = False
    alone = "SELECT 1"  # a transaction that writes is alone from its beginning
    holding = ""  # the transaction is the only one that writes

    def __init__(self, path: Path) -> None:
        super().__init__()
        self.path = path
        self.witness: Witness | None = Witness(path.with_name(f"{path.name}-head"))

    def _open(self) -> sqlite3.Connection:
        if not self.path.exists():
            self._make()
        if not self.path.stat().st_size:
            raise damaged(str(self.path), say("refused_log.empty"))
        connection = sqlite3.connect(self.path, timeout=10, isolation_level=None, check_same_thread=False)
        try:
            connection.execute("PRAGMA journal_mode = WAL")
            connection.execute("PRAGMA synchronous = FULL")
            connection.execute("PRAGMA fullfsync = ON")  # without it macOS only hands data to the drive
        except BaseException:
            connection.close()
            raise
        return connection

    def _make(self) -> None:
        """A new file under its name, whole or not at all."""
        beside = self.path.with_name(f".{self.path.name[:200]}.{secrets.token_hex(4)}.new")
        try:
            os.close(os.open(beside, os.O_RDWR | os.O_CREAT | os.O_EXCL, 0o600))
            fresh = sqlite3.connect(beside, isolation_level=None)
            try:
                fresh.execute("PRAGMA synchronous = FULL")
                fresh.execute(STAMP)
                fresh.execute("INSERT INTO stamp VALUES (?)", (FORMAT,))
            finally:
                fresh.close()
            try:
                os.link(beside, self.path)  # never over one that somebody else made meanwhile
            except FileExistsError:
                return
            except OSError:  # no such links on this disk
                if not self.path.exists():
                    beside.replace(self.path)
            flush_folder(self.path.parent)
        except OSError as error:
            raise CannotSave(
                say("refused_store.log_could_not_be_made", reason=reason_of(error)),
                where=str(self.path),
                remedy=say("refused_store.make_room_on_disk"),
            ) from None
        finally:
            with contextlib.suppress(OSError):
                beside.unlink(missing_ok=True)

    def _begin(self) -> str:
        return "BEGIN IMMEDIATE"

    def _execute(self, sql: str, values: Values) -> Any:
        return super()._execute(sql.replace("%s", "?"), values)

    def tables(self) -> set[str]:
        """Names of the tables that are there."""
        return {str(row[0]) for row in self.run("SELECT name FROM sqlite_master WHERE type = 'table'")}

    def columns(self, table: str) -> set[str]:
        """Names of the columns of a table."""
        return {str(row[1]) for row in self.run(f"PRAGMA table_info({table})")}

    def unsound(self) -> str:
        """What is wrong with the file itself, or nothing."""
        with self._lock:
            try:
                found = [str(row[0]) for row in self.run("PRAGMA integrity_check(3)")]
            except Damaged as refusal:
                return refusal.problem
        return "" if found == ["ok"] else "; ".join(found)[:200]

    def size_bytes(self) -> int:
        """How large the file is, less what is free in it."""
        pages, free, each = (
            int(self.run(f"PRAGMA {name}")[0][0]) for name in ("page_count", "freelist_count", "page_size")
        )
        return (pages - free) * each

    def shrink(self) -> None:
        """Give back what is free in the file."""
        self.run("VACUUM")
        self.run("PRAGMA wal_checkpoint(TRUNCATE)")

    def overwriting(self) -> None:
        """From now on blank what is taken away, in the file itself."""
        self.run("PRAGMA secure_delete = ON")
        self.run("PRAGMA temp_store = MEMORY")

    def scrub(self) -> None:
        """Write the file anew without what was taken away, and empty the write-ahead log.

        Raises CannotSave where somebody else reads the log just then.
        """
        self.overwriting()
        self.run("VACUUM")
        ((busy, *_),) = self.run("PRAGMA wal_checkpoint(TRUNCATE)")
        if busy:
            raise CannotSave(
                say("refused_store.somebody_else_reads_log"),
                where=str(self.path),
                remedy=say("refused_store.close_then_say_same"),
            )

    @contextlib.contextmanager
    def _refusing(self) -> Iterator[None]:
        try:
            yield
        except sqlite3.IntegrityError:
            raise
        except UnicodeError as error:  # what it says of a damaged part has that part in it
            raise damaged(str(self.path), say("refused_log.part_no_text")) from error
        except sqlite3.DatabaseError as error:
            code = getattr(error, "sqlite_errorcode", 0) & 0xFF
            if code in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB) or "malformed" in str(error):
                raise damaged(str(self.path), str(error)) from error
            if code == sqlite3.SQLITE_ERROR and "no such" in str(error):  # a table or column that we made
                raise damaged(str(self.path), str(error)) from error
            raise CannotSave(
                say("refused_store.log_could_not_be_used", error=error),
                where=str(self.path),
                remedy=say("refused_store.make_room_or_check_rights"),
            ) from error


class ReadOnly(Sqlite):
    """A log on a disk that may not be written."""

    def _open(self) -> sqlite3.Connection:
        left = self.path.with_name(f"{self.path.name}-wal")
        if left.exists() and left.stat().st_size:
            raise CannotSave(
                say("refused_store.edits_stand_beside_log"),
                where=str(left),
                remedy=say("refused_store.copy_jobs_file_all"),
            )
        link = f"{self.path.resolve().as_uri()}?mode=ro&immutable=1"
        return sqlite3.connect(link, uri=True, isolation_level=None, check_same_thread=False)


def damaged(where: str, what: str) -> Damaged:
    """The refusal of a log that is not what was written."""
    if not isinstance(what, Saying):
        what = " ".join(what.split())  # a database says more than a line
    return Damaged(
        say("refused_store.log_damaged", what=what),
        where=where,
        remedy=say("refused_store.rehaul_repair_shows_what"),
    )


class Postgres(_Locked):
    """A log in a PostgreSQL database that many crews share."""

    blob = "BYTEA"
    may_be_empty = True
    alone = "SELECT pg_advisory_xact_lock(7283)"  # any number that nobody else takes
    holding = " FOR UPDATE"
    witness: Witness | None = None  # the server keeps its own log of what it acknowledged

    def tables(self) -> set[str]:
        """Names of the tables that are there."""
        sql = "SELECT table_name FROM information_schema.tables WHERE table_schema = current_schema()"
        return {str(row[0]) for row in self.run(sql)}

    def columns(self, table: str) -> set[str]:
        """Names of the columns of a table."""
        sql = (
            "SELECT column_name FROM information_schema.columns "
            "WHERE table_schema = current_schema() AND table_name = %s"
        )
        return {str(row[0]) for row in self.run(sql, (table,))}

    def unsound(self) -> str:
        """Nothing: a PostgreSQL server looks after its own pages."""
        return ""

    def size_bytes(self) -> int:
        """How large the texts of the log are."""
        sql = "SELECT COALESCE(pg_total_relation_size('edit') + pg_total_relation_size('snapshot'), 0)"
        return int(self.run(sql)[0][0])

    def shrink(self) -> None:
        """Nothing: a PostgreSQL server gives back what is free by itself."""

    def overwriting(self) -> None:
        """Nothing: what the server blanks is its own affair."""

    def scrub(self) -> None:
        """Have the tables written anew without what was taken away.

        The server's own write-ahead log, its replicas and backups are beyond reach.
        """
        for table in sorted(self.tables() & SCRUBBED):
            self.run(f"VACUUM FULL {table}")

    def __init__(self, url: str, password: str | None = None) -> None:
        super().__init__()
        self._address = address_of(url, password)

    def _open(self) -> Any:
        import pg8000.dbapi

        at = self._address
        try:
            connection = pg8000.dbapi.connect(
                user=at.user,
                password=at.password,
                host=at.host,
                port=at.port,
                database=at.name,
                timeout=at.timeout_s,
                ssl_context=at.ssl_context,
                application_name="rehaul",
            )
        except AttributeError:  # how the library says that it was asked for a password and has none
            if at.password is not None:
                raise
            raise _wants_password(at.host) from None
        connection.autocommit = True  # transactions are begun by hand, as in SQLite
        return connection

    @contextlib.contextmanager
    def _refusing(self) -> Iterator[None]:
        import pg8000.exceptions

        try:
            yield
        except pg8000.exceptions.DatabaseError as error:
            detail = error.args[0] if error.args else ""
            code = detail.get("C", "") if isinstance(detail, dict) else ""
            words = detail.get("M", "") if isinstance(detail, dict) else str(detail)
            if code.startswith("23"):
                raise sqlite3.IntegrityError(words) from error
            if code.startswith("28"):
                raise _wants_password(self._address.host) from error
            raise self._refusal(words) from error
        except (pg8000.exceptions.InterfaceError, OSError) as error:
            self.close()
            raise self._refusal(str(error)) from error

    def _refusal(self, words: str) -> CannotSave:
        return CannotSave(
            say("refused_store.database_could_not_be_used", words=words),
            where=self._address.host,
            remedy=say("refused_store.check_running_room_then"),
        )


class WantsPassword(CannotSave):
    """The database does not let us in without another password."""


def _wants_password(host: str) -> WantsPassword:
    return WantsPassword(
        say("refused_store.database_wants_password"),
        where=host,
        remedy=say("refused_store.give_pgpassword_password_file"),
    )
