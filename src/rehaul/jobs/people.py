"""Who may work on the jobs of a store: people by name, and the devices they paired.

Only a digest of a device's token is kept: a copied store lets nobody in.
"""

from __future__ import annotations

import hashlib
import secrets
import string
from dataclasses import dataclass
from typing import Any

from rehaul.errors import BadInput
from rehaul.jobs.ledger import utc_now
from rehaul.jobs.store import Store

LONGEST_NAME = 40


@dataclass(frozen=True)
class Device:
    """One browser of one person."""

    id: str
    person: str
    name: str
    mark: str  # letters for ids made up on this device, its own for ever
    since: str


class People:
    """People and devices of a store."""

    def __init__(self, store: Store) -> None:
        self._store = store
        self._by_token: dict[str, Device] = {}
        self._names: dict[str, str] = {}

    def name_of(self, person: str) -> str:
        """The name a person gave; the id itself where it is unknown."""
        if person not in self._names:
            rows = self._store.database.run("SELECT name FROM person WHERE id = %s", (person,))
            if not rows:
                return person
            self._names[person] = str(rows[0][0])
        return self._names[person]

    def person(self, name: str) -> str:
        """The id of the person of that name, made if new. Raises BadInput for an empty or long name."""
        name = " ".join(name.split())
        if not 1 <= len(name) <= LONGEST_NAME or not name.isprintable():
            raise BadInput(
                f"a name has 1 to {LONGEST_NAME} letters", where="name", remedy="Give the name you go by"
            )
        folded = name.casefold()
        with self._store.writing() as database:
            rows = database.run("SELECT id FROM person WHERE folded = %s", (folded,))
            if rows:
                return str(rows[0][0])
            number = int(database.run("SELECT COUNT(*) FROM person")[0][0]) + 1
            database.run("INSERT INTO person VALUES (%s, %s, %s)", (f"p{number}", name, folded))
        return f"p{number}"

    def pair(self, name: str) -> tuple[str, Device]:
        """A new device of the person of that name: its token, shown once, and the device."""
        person = self.person(name)
        token = secrets.token_urlsafe(32)
        with self._store.writing() as database:
            number = int(database.run("SELECT COUNT(*) FROM device")[0][0])
            device = Device(secrets.token_hex(6), person, self.name_of(person), _mark(number), utc_now())
            database.run(
                "INSERT INTO device VALUES (%s, %s, %s, %s, %s, 0)",
                (device.id, _digest(token), person, device.mark, device.since),
            )
        return token, device

    def device(self, token: str) -> Device | None:
        """The device that holds a token, if it is paired."""
        digest = _digest(token)
        if digest not in self._by_token:
            rows = self._read("device.token = %s AND device.forgotten = 0", (digest,))
            if not rows:
                return None
            self._by_token[digest] = rows[0]
        return self._by_token[digest]

    def devices(self) -> list[Device]:
        """All paired devices, oldest first."""
        return self._read("device.forgotten = 0", ())

    def forget(self, device: str) -> None:
        """Let a device in no more; its mark is not given out again."""
        with self._store.writing() as database:
            database.run("UPDATE device SET forgotten = 1 WHERE id = %s", (device,))
        self._by_token = {digest: kept for digest, kept in self._by_token.items() if kept.id != device}

    def _read(self, condition: str, values: tuple[Any, ...]) -> list[Device]:
        sql = (
            "SELECT device.id, device.person, person.name, device.mark, device.since FROM device "
            f"JOIN person ON person.id = device.person WHERE {condition} ORDER BY device.since, device.mark"
        )
        return [Device(*row) for row in self._store.database.run(sql, values)]


def _digest(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()


def _mark(number: int) -> str:
    """a, b, ... z, aa, ab, ..."""
    letters = string.ascii_lowercase
    mark = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        mark = letters[rest] + mark
    return mark
