"""What happened at the door of a store: who paired, who was refused, which limit was reached.

No code, token or other secret is ever given to it. What repeats is counted within a minute, and of
each kind only the newest are kept, so that a flood of one leaves the others standing.
"""

from __future__ import annotations

import json
import threading
import time
from collections.abc import Sequence
from dataclasses import dataclass, replace

from rehaul.jobs.chain import ERASED
from rehaul.jobs.databases import Database
from rehaul.jobs.ledger import utc_now
from rehaul.jobs.store import Store
from rehaul.jobs.told import door_again, kept_code
from rehaul.words import REFERENCE, Saying, say

KINDS = ("paired", "refused", "forgotten", "wrong-code", "limit")
KEPT_OF_A_KIND = 200
MOST_WAITING = 200
TOGETHER_S = 60.0
TABLE = """
CREATE TABLE IF NOT EXISTS happening (
  number BIGINT PRIMARY KEY, at TEXT NOT NULL, kind TEXT NOT NULL, address TEXT NOT NULL,
  words TEXT NOT NULL, times BIGINT NOT NULL, said TEXT NOT NULL DEFAULT '')
"""


HappeningKey = tuple[str, str, str, str]  # kind, address, words, what they were made from


@dataclass(frozen=True)
class Event:
    """One thing that happened, or several alike within a minute."""

    at: str
    kind: str
    address: str
    words: str
    times: int
    said: str = ""  # what the words were made from; empty where an earlier program wrote them


@dataclass
class _Waiting:
    at: str
    times: int
    number: int | None  # of its row, once it has one
    began_s: float


def events_of(database: Database) -> list[Event]:
    """All that a database keeps of what happened at the door, newest first.

    Several alike within a minute are one, with how many times.
    """
    if "happening" not in database.tables():
        return []
    column = _said_column(database)
    sql = f"SELECT at, kind, address, words, times, {column} FROM happening ORDER BY number DESC"
    return [Event(*row) for row in database.run(sql)]


def _said_column(database: Database) -> str:
    """What the words were made from, as SQL: nothing in a store of before."""
    return "said" if "said" in database.columns("happening") else "''"


def erase_names(database: Database, names: Sequence[str]) -> None:
    """Take the words and the address from what names somebody; within a transaction.

    A name counts wherever its letters stand, also within another one. When it happened and of which kind
    stays. **Source**: docs/security.md, "A household's data, erased for good".
    """
    if "happening" not in database.tables():
        return
    column = _said_column(database)
    for number, words, said in database.run(f"SELECT number, words, {column} FROM happening"):
        if any(name in str(words) or json.dumps(name, ensure_ascii=False)[1:-1] in said for name in names):
            database.run("UPDATE happening SET words = %s, address = '' WHERE number = %s", (ERASED, number))
            if column == "said":
                database.run("UPDATE happening SET said = '' WHERE number = %s", (number,))


class Events:
    """The newest events of each kind."""

    def __init__(self, store: Store) -> None:
        self._store = store
        self._lock = threading.Lock()  # held for moments, never while the store is asked
        self._writing = threading.Lock()
        self._waiting: dict[HappeningKey, _Waiting] = {}
        self._changed: dict[HappeningKey, None] = {}  # in the order in which they happened
        with store.writing() as database:
            database.run(database.alone)
            database.run(TABLE)
            if "said" not in database.columns("happening"):
                database.run("ALTER TABLE happening ADD COLUMN said TEXT NOT NULL DEFAULT ''")

    def add(self, kind: str, address: str, words: str) -> None:
        """Note it in memory: quick, bounded, never waits for the store; `write` brings it there.

        Of a saying its words are kept in the reference language, and its code and values beside them. Alike
        within a minute, or until they are written, are counted as one. Where 200 different ones wait,
        further ones of a kind are counted together, "from many addresses". A kill before `write` loses
        them. **Source**: docs/security.md, "What is written down".
        """
        now_s = time.monotonic()
        with self._lock:
            key = _key(kind, address[:60], words)
            found = self._still(key, now_s)
            if found is None:
                if len(self._waiting) >= MOST_WAITING:
                    self._forget_old(now_s)
                if len(self._waiting) >= MOST_WAITING:
                    key = _key(kind, "many", say("told.many_addresses", kind=kind))
                    found = self._still(key, now_s)
                if found is None:
                    found = self._waiting[key] = _Waiting(utc_now(), 0, None, now_s)
            found.times += 1
            self._changed[key] = None

    def write(self) -> None:
        """Bring what waits to the store, in one transaction; of each kind the newest 200 stay.

        Raises CannotSave; it then waits on. Two at once do it one after the other.
        """
        with self._writing:
            with self._lock:
                changed = {key: self._waiting[key] for key in self._changed if key in self._waiting}
                self._changed.clear()
            if not changed:
                return
            try:
                numbers = self._put(changed)
            except BaseException:
                with self._lock:
                    self._changed = dict.fromkeys(changed) | self._changed
                raise
            for key, given in numbers.items():
                changed[key].number = given

    def _put(self, changed: dict[HappeningKey, _Waiting]) -> dict[HappeningKey, int]:
        """Rows for what changed; the numbers of new ones."""
        numbers: dict[HappeningKey, int] = {}
        with self._store.writing() as database:
            number = int(database.run("SELECT COALESCE(MAX(number), 0) FROM happening")[0][0])
            for key, found in changed.items():
                if found.number is not None and database.count(
                    "UPDATE happening SET times = %s WHERE number = %s", (found.times, found.number)
                ):
                    continue
                number += 1
                numbers[key] = number
                values = (number, found.at, found.times, *key)
                database.run(
                    "INSERT INTO happening (number, at, times, kind, address, words, said)"
                    " VALUES (%s, %s, %s, %s, %s, %s, %s)",
                    values,
                )
            for kind in {key[0] for key in numbers}:
                kept = database.run(
                    "SELECT number FROM happening WHERE kind = %s ORDER BY number DESC LIMIT 1 OFFSET %s",
                    (kind, KEPT_OF_A_KIND),
                )
                for (last,) in kept:
                    database.run("DELETE FROM happening WHERE kind = %s AND number <= %s", (kind, last))
        return numbers

    def newest(self) -> list[Event]:
        """All that is kept, newest first, its words as sayings where they are sentences of ours."""
        kept = events_of(self._store.database)
        return [replace(event, words=door_again(event.words, event.said)) for event in kept]

    def _still(self, key: HappeningKey, now_s: float) -> _Waiting | None:
        """What alike is counted into: for a minute, and until it was written, or it would be lost."""
        found = self._waiting.get(key)
        if found is None or (now_s - found.began_s > TOGETHER_S and key not in self._changed):
            return None
        return found

    def _forget_old(self, now_s: float) -> None:
        for key in [key for key, one in self._waiting.items() if now_s - one.began_s > TOGETHER_S]:
            if key not in self._changed:
                del self._waiting[key]


def _key(kind: str, address: str, words: str) -> HappeningKey:
    text = str(words.to(REFERENCE)) if isinstance(words, Saying) else words
    return kind, address, text[:160], kept_code(words)
