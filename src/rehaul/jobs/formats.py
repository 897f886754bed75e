"""The format of a log: refused where a later program wrote it, brought up where an earlier one did."""

from __future__ import annotations

from dataclasses import replace

from rehaul.errors import BadInput
from rehaul.jobs.chain import RawRow, chained, first_link, new_salt, salted, seal
from rehaul.jobs.databases import Database
from rehaul.jobs.sql import FORMAT, damaged
from rehaul.words import say

# what format 2 added: the chain of edits, and seals of what stands beside them; format 3: salts, and seals of
# people and devices
ADDED = (
    ("edit", "salt"),
    ("person", "seal"),
    ("device", "seal"),
    ("job", "link"),
    ("edit", "parts"),
    ("edit", "link"),
    ("notice", "seal"),
    ("snapshot", "seal"),
    ("remark", "seal"),
    ("picture", "seal"),
)


def require_format(database: Database) -> None:
    """Refuse a log of a later format than this program writes.

    Raises BadInput for a later one, Damaged where what it says is no number. An earlier one is read as it
    is, and so is one whose stamp holds no row at all. **Source**: docs/sharing.md, "What was written is what
    is read": a log of an earlier format.
    """
    rows = database.run("SELECT MAX(format) FROM stamp")
    found, where = rows[0][0] if rows else None, str(getattr(database, "path", "store"))
    if found is not None and not isinstance(found, int):  # a damaged value changes its type too
        raise damaged(where, say("refused_log.format_no_number"))
    if found is not None and found > FORMAT:
        raise BadInput(
            say("refused_store.later_rehaul_wrote_log", found=found, format=FORMAT),
            where=where,
            remedy=say("refused_store.use_that_version_or_newer"),
        )


def bring_up(database: Database) -> None:
    """Bring the tables of an earlier format up to this one, within a transaction: rows get their digests.

    Rows of format 2 keep the digests they have. **Source**: docs/sharing.md, "What was written is what is
    read": a log of an earlier format.
    """
    old = [(table, column) for table, column in ADDED if column not in database.columns(table)]
    for table, column in old:
        database.run(f"ALTER TABLE {table} ADD COLUMN {column} TEXT NOT NULL DEFAULT ''")
    if ("edit", "link") in old:
        for (job,) in database.run("SELECT id FROM job"):
            _chain(database, str(job))
    for table, columns in (
        ("notice", "job, person, number, body"),
        ("snapshot", "job, revision, body"),
        ("remark", "job, name, body"),
        ("picture", "job, id, type, about, body"),
        ("person", "id, name, folded"),
        ("device", "id, token, person, mark, since, forgotten"),
    ):
        if (table, "seal") in old:
            _seal(database, table, columns)
    if not database.count("UPDATE stamp SET format = %s", (FORMAT,)):
        database.run("INSERT INTO stamp VALUES (%s)", (FORMAT,))


def _chain(database: Database, job: str) -> None:
    columns = "revision, edit, person, at, label, way, undoes, changes, inverse, told, digest, schema_version"
    link = first_link(job)
    rows = database.run(f"SELECT {columns} FROM edit WHERE job = %s ORDER BY revision", (job,))
    for values in rows:
        bare = RawRow(*(*values, "", "", new_salt()))
        row = chained(replace(bare, digest=salted(bare.salt.partition(":")[0], bare.digest)), link)
        link = row.link
        database.run(
            "UPDATE edit SET digest = %s, parts = %s, link = %s, salt = %s WHERE job = %s AND revision = %s",
            (row.digest, row.parts, row.link, row.salt, job, row.revision),
        )
    database.run("UPDATE job SET link = %s WHERE id = %s", (link, job))


def _seal(database: Database, table: str, columns: str) -> None:
    keys = columns.split(", ")[:-1]
    where = " AND ".join(f"{key} = %s" for key in keys)
    for values in database.run(f"SELECT {columns} FROM {table}"):
        database.run(f"UPDATE {table} SET seal = %s WHERE {where}", (seal(*values), *values[:-1]))


def has_salts(database: Database) -> bool:
    """Whether the log was brought up to format 3, whose rows have salts.

    Asked of the columns of the table, not of the stamp.
    """
    return "salt" in database.columns("edit")
