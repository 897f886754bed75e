"""Rows of people, their devices and passes, each under a seal, and the roll: how many there are.

People and devices are never taken out of their tables, for their numbers count them. The roll says of all of
them together what their seals come to; it stands among the remarks and changes in the same transaction.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from rehaul.jobs.chain import ERASED, seal
from rehaul.jobs.databases import Database
from rehaul.words import say

COLUMNS: Mapping[str, tuple[str, ...]] = {
    "person": ("id", "name", "folded"),
    "device": ("id", "token", "person", "mark", "since", "forgotten"),
    "pass": ("device", "token", "next", "before", "began", "changed", "used"),
}
PASSES = """
CREATE TABLE IF NOT EXISTS pass (
  device TEXT PRIMARY KEY, token TEXT NOT NULL, next TEXT NOT NULL, before TEXT NOT NULL,
  began BIGINT NOT NULL, changed BIGINT NOT NULL, used BIGINT NOT NULL, seal TEXT NOT NULL DEFAULT '')
"""
ROLL = ("", "people")  # job and name of the remark; no job has an empty id
RollData = dict[str, Any]


def prepare(database: Database, now_s: int) -> None:
    """Make the table of passes, and give those of an earlier program their seals; within a transaction.

    Devices that were paired before there were passes get theirs now. **Source**: docs/sharing.md, "What was
    written is what is read": people, devices and their passes.
    """
    database.run(database.alone)
    fresh = "pass" not in database.tables()
    database.run(PASSES)
    old = "seal" not in database.columns("pass")
    if old:
        database.run("ALTER TABLE pass ADD COLUMN seal TEXT NOT NULL DEFAULT ''")
        for values in database.run(f"SELECT {', '.join(COLUMNS['pass'])} FROM pass"):
            database.run("UPDATE pass SET seal = %s WHERE device = %s", (seal(*values), values[0]))
    for row in rows_of(database, "device")[0].values() if fresh else ():
        put(database, "pass", row["id"], row["token"], "", "", now_s, now_s, now_s)
    if fresh or old:
        _call(database)


def rows_of(database: Database, table: str) -> tuple[dict[str, RollData], list[str]]:
    """Rows that are what was written, by their first column, and the first columns of those that are not.

    `table` is one of `COLUMNS`; a row is a dictionary by column, without its seal. **Source**:
    docs/sharing.md, "What was written is what is read": people, devices and their passes.
    """
    names = COLUMNS[table]
    found: dict[str, RollData] = {}
    bad = []
    for *values, kept in database.run(f"SELECT {', '.join(names)}, seal FROM {table}"):
        if _sealed(values, kept):
            found[str(values[0])] = dict(zip(names, values, strict=True))
        else:
            bad.append(str(values[0]))
    return found, bad


def put(database: Database, table: str, *values: object) -> None:
    """Add a row with its seal, its values in the order of `COLUMNS`; within a transaction.

    For people and devices the roll is written anew in the same transaction. Raises `sqlite3.IntegrityError`
    where that key is there. **Source**: docs/sharing.md, "What was written is what is read": people, devices
    and their passes.
    """
    marks = ", ".join(["%s"] * (len(values) + 1))
    names = ", ".join(COLUMNS[table])
    database.run(f"INSERT INTO {table} ({names}, seal) VALUES ({marks})", (*values, seal(*values)))
    if table != "pass":
        _call(database)


def change(database: Database, table: str, key: str, **fields: object) -> int:
    """Change fields of a row and its seal; how many rows changed, 1 or 0. Within a transaction.

    0 where there is no such row, it is not what was written (its fault would get a seal that fits), or
    somebody else was quicker. **Source**: docs/sharing.md, "What was written is what is read": people,
    devices and their passes.
    """
    names = COLUMNS[table]
    sql = f"SELECT {', '.join(names)}, seal FROM {table} WHERE {names[0]} = %s"
    for *values, kept in database.run(sql, (key,)):
        if not _sealed(values, kept):
            return 0
        new = [fields.get(name, value) for name, value in zip(names, values, strict=True)]
        sets = ", ".join(f"{name} = %s" for name in names[1:])
        changed = database.count(
            f"UPDATE {table} SET {sets}, seal = %s WHERE {names[0]} = %s AND seal = %s",
            (*new[1:], seal(*new), key, kept),
        )
        if changed and table != "pass":
            _call(database)
        return changed
    return 0


def named_people(database: Database, is_meant: Callable[[str], bool]) -> list[str]:
    """Names of those people that are meant, in the order of their ids.

    Whether their rows are what was written is not asked.
    """
    return [
        str(name) for (name,) in database.run("SELECT name FROM person ORDER BY id") if is_meant(str(name))
    ]


def erase_people(database: Database, is_meant: Callable[[str], bool]) -> list[str]:
    """Take away the names of those that are meant, and let their devices in no more; within a transaction.

    Their numbers stay, as edits say who made them by these. **Source**: docs/sharing.md, "What was written is
    what is read": people, devices and their passes.
    """
    people, _ = rows_of(database, "person")
    devices, _ = rows_of(database, "device")
    gone = [row for row in people.values() if is_meant(row["name"])]
    for row in gone:
        name = f"{ERASED} {row['id']}"
        change(database, "person", row["id"], name=name, folded=name)
        for device in devices.values():
            if device["person"] == row["id"]:
                change(database, "device", device["id"], forgotten=1)
                database.run("DELETE FROM pass WHERE device = %s", (device["id"],))
    return [str(row["name"]) for row in gone]


def faults(database: Database) -> list[str]:
    """What of people, devices and passes is not as it was written, in words.

    None where nobody ever paired here.

    Looked at are the seals, whether every device that is let in has a pass, and the roll of how many there
    are.

    **Validity**: who copies a whole older file back has an older roll, which looks whole (docs/sharing.md).
    """
    if "pass" not in database.tables() or "seal" not in database.columns("pass"):
        return []
    found: list[str] = []
    tables = {table: rows_of(database, table) for table in COLUMNS}
    for table, (_, bad) in tables.items():
        found += [say("refused_log.row_not_written", table=_words(table), name=name[:40]) for name in bad]
    let_in = {name for name, row in tables["device"][0].items() if not row["forgotten"]}
    found += [
        say("refused_log.device_without_pass", name=name[:40])
        for name in let_in - set(tables["pass"][0])
        if not found
    ]
    sql = "SELECT body, seal FROM remark WHERE job = %s AND name = %s"
    kept = database.run(sql, ROLL)
    if not kept or seal(*ROLL, kept[0][0]) != kept[0][1]:
        found.append(say("refused_log.roll_not_written"))
    elif not found and kept[0][0] != _roll(database):
        found.append(_missing(str(kept[0][0]), _roll(database)))
    return found


def _missing(said: str, now: str) -> str:
    counts = [tuple(int(word) for word in text.split()[:2]) for text in (said, now)]
    (people, devices), (people_now, devices_now) = counts
    if (people, devices) == (people_now, devices_now):
        return say("refused_log.another_person")
    return say(
        "refused_log.people_missing",
        people=people,
        devices=devices,
        people_now=people_now,
        devices_now=devices_now,
    )


def _words(table: str) -> str:
    return "the pass of device" if table == "pass" else table


def _call(database: Database) -> None:
    """Write down how many there are and what their seals come to.

    The row is written first, which makes a second writer wait until it can see what the first one put in.
    """
    if not database.count("UPDATE remark SET body = body WHERE job = %s AND name = %s", ROLL):
        database.run("INSERT INTO remark VALUES (%s, %s, '', '')", ROLL)
    body = _roll(database)
    database.run(
        "UPDATE remark SET body = %s, seal = %s WHERE job = %s AND name = %s",
        (body, seal(*ROLL, body), *ROLL),
    )


def _roll(database: Database) -> str:
    """How many people and devices there are, and the digest of all their seals."""
    people, devices = (
        sorted(str(row[0]) for row in database.run(f"SELECT seal FROM {table}"))
        for table in ("person", "device")
    )
    return f"{len(people)} {len(devices)} {seal('roll', *people, *devices)}"


def _sealed(values: Any, kept: object) -> bool:
    try:
        return seal(*values) == kept
    except (TypeError, ValueError, UnicodeError):
        return False
