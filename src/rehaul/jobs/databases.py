"""What a log asks of the database it stands in: the face that SQLite in a file and PostgreSQL both show."""

from __future__ import annotations

import contextlib
from collections.abc import Sequence
from typing import Any, Protocol

from rehaul.jobs.witness import Witness

Values = Sequence[Any]


class Database(Protocol):
    """SQL with `%s` for values; one writer at a time."""

    blob: str  # the type of a column of bytes
    may_be_empty: bool  # before anything was put into it
    alone: str  # SQL by which whoever makes tables waits for others who do
    holding: str  # what a SELECT ends in, so that nobody adds to its rows until the transaction ends
    witness: Witness | None  # of the newest revisions, beside the database

    def tables(self) -> set[str]:
        """Names of the tables that are there; none in a database that was just made.

        Raises Damaged where what stands at the place is no database, CannotSave where it cannot be reached.
        """
        ...

    def columns(self, table: str) -> set[str]:
        """Names of the columns of a table; none where there is no such table.

        `table` goes into the SQL as it is: one of our own names, never what somebody typed.
        """
        ...

    def unsound(self) -> str:
        """What is wrong with the pages that the tables lie on, in words; empty where nothing is.

        Reads the whole of a SQLite file, which takes the longer the larger it is. Always empty for
        PostgreSQL, whose server looks after its own pages. What the rows say is checked elsewhere
        (`jobs.integrity`).
        """
        ...

    def size_bytes(self) -> int:
        """How large the log is, in bytes: what the limits of docs/sharing.md are held against.

        SQLite: of all in the file, less what is free in it. PostgreSQL: of the tables of edits and
        snapshots of all jobs together, with their indexes and what is free in them.
        """
        ...

    def shrink(self) -> None:
        """Give back to the disk what was freed; not within `writing`.

        SQLite writes its file anew, which wants room for a second one meanwhile. PostgreSQL does nothing:
        its server does so by itself. Raises CannotSave; the log is then as it was.
        """
        ...

    def overwriting(self) -> None:
        """From now on blank what is taken away instead of only letting go of its place.

        Holds for this connection until it is closed. PostgreSQL does nothing: what the server blanks is its
        own affair, and only `scrub` helps there.
        """
        ...

    def scrub(self) -> None:
        """Write everything anew without what was taken away; not within `writing`.

        Raises CannotSave where somebody else reads the log just then; saying it again brings it to its end.

        **Validity**: of this database alone. Copies, backups, the drive's own spare blocks, and a
        PostgreSQL server's write-ahead log and replicas are beyond reach (docs/security.md).
        """
        ...

    def writing(self) -> contextlib.AbstractContextManager[None]:
        """One transaction: all done within is on the disk when it ends without an exception, else nothing is.

        Other threads of this connection wait. Of two programs one waits for the other in SQLite, up to ten
        seconds; in PostgreSQL they go on side by side, so whoever counts on nobody else writing runs
        `alone` first. Not to be entered twice by one thread.

        Raises CannotSave where it may not have reached the disk: then look what is there before going on.
        """
        ...

    def run(self, sql: str, values: Values = ()) -> list[Any]:
        """Rows of a query as tuples, in its order; an empty list for a statement that gives none.

        Outside `writing` each statement stands alone, and is on the disk when it returns. Raises
        CannotSave, Damaged, or `sqlite3.IntegrityError` (of either database) where a row of that key is
        there already.
        """
        ...

    def count(self, sql: str, values: Values = ()) -> int:
        """How many rows a statement changed; 0 where its condition held for none. Raises as `run` does.

        By it two who change one row know which of them was first: only one of them gets a 1.
        """
        ...

    def close(self) -> None:
        """Let go of the connection; never raises. Whatever is asked afterwards opens another one.

        What was not committed is lost, as after a kill.
        """
        ...
