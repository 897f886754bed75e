"""Who may work on the jobs of a store: people by name, and the devices they paired.

Only digests of a device's tokens are kept: a copied store lets nobody in. Whoever asks whether a token
is good is answered from a look at the store that is at most a second old, so that a device forgotten on
one server is out on all, and a made-up token costs the store nothing.
"""

from __future__ import annotations

import contextlib
import hashlib
import logging
import secrets
import string
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, replace

from rehaul.errors import BadInput, Refusal
from rehaul.facts.server import server_number
from rehaul.jobs import roll
from rehaul.jobs.happenings import Event, Events, erase_names
from rehaul.jobs.ledger import utc_now
from rehaul.jobs.store import ERASING, Store
from rehaul.words import say

LONGEST_NAME = 40
log = logging.getLogger("rehaul.jobs")


@dataclass(frozen=True)
class Browser:
    """One browser of one person."""

    id: str
    person: str
    name: str
    mark: str  # letters for ids made up on this device, its own for ever
    since: str


@dataclass(frozen=True)
class Pass:
    """What lets a device in: digests of its token, of the one on its way to it, and of the one before."""

    device: Browser
    token: str
    next: str
    before: str
    began_s: float
    changed_s: float  # when the token became the present one, or the next was given out
    used_s: float


@dataclass(frozen=True)
class Look:
    """All passes at one moment."""

    at_s: float
    by_digest: dict[str, Pass]
    ids: frozenset[str]


class People:
    """People and devices of a store; `door` is a line of its own for events: nobody waits for those."""

    def __init__(self, store: Store, door: Store | None = None) -> None:
        self._store = store
        self._door = door or store
        self._names: dict[str, str] = {}
        self._lock = threading.Lock()
        self._look: Look | None = None
        self._begun: dict[str, int] = {}  # devices whose new token has come and when, to be written down
        self._used: dict[str, int] = {}  # and when devices were here
        self.clock = time.time
        self._told: set[str] = set()  # damage that was told of
        with store.writing() as database:
            store.bring_up()
            roll.prepare(database, int(self.clock()))
        self._events = Events(self._door)

    def name_of(self, person: str) -> str:
        """The name a person gave; the id itself where it is unknown.

        Asked of the store once, then remembered until names are erased here. Raises CannotSave.
        """
        if person not in self._names:
            rows = self._store.database.run("SELECT name FROM person WHERE id = %s", (person,))
            if not rows:
                return person
            self._names[person] = str(rows[0][0])
        return self._names[person]

    def person(self, name: str) -> str:
        """The id of the person of that name, made if new; on the disk when it returns.

        Case and the number of blanks do not count. Two who ask for one new name at once get one id. Raises
        BadInput for an empty or long name, CannotSave.
        """
        name = good_name(name)
        folded = name.casefold()
        with self._store.writing() as database:
            database.run(database.alone)  # the number counts those before
            rows = database.run("SELECT id FROM person WHERE folded = %s", (folded,))
            if rows:
                return str(rows[0][0])
            number = int(database.run("SELECT COUNT(*) FROM person")[0][0]) + 1
            roll.put(database, "person", f"p{number}", name, folded)
        return f"p{number}"

    def pair(self, name: str) -> tuple[str, Browser]:
        """A new device of the person of that name: its token, which is kept nowhere, and the device.

        The store holds only the token's digest, and has it on the disk when this returns. Raises BadInput
        for an empty or long name, CannotSave; then nobody is let in by it.
        """
        person = self.person(name)
        token = secrets.token_urlsafe(32)
        now = int(self.clock())
        with self._store.writing() as database:
            database.run(database.alone)
            number = int(database.run("SELECT COUNT(*) FROM device")[0][0])
            device = Browser(secrets.token_hex(6), person, self.name_of(person), _mark(number), utc_now())
            digest = digest_of(token)
            roll.put(database, "device", device.id, digest, person, device.mark, device.since, 0)
            roll.put(database, "pass", device.id, digest, "", "", now, now, now)
        self._look = None
        return token, device

    def device(self, token: str) -> Browser | None:
        """The device that holds a token; None where the token is made up, forgotten, or too long unused.

        Looks at the store where the last look is old, so it may wait for it and raise CannotSave; `known`
        never does.
        """
        self.refresh()
        found = self.known(token)
        return found.device if found else None

    def is_fresh(self) -> bool:
        """Whether the last look at the store is recent enough to let anybody in by.

        **Source**: half of `check_age` of fact table `server_numbers`.
        """
        return self._look is not None and time.monotonic() - self._look.at_s < server_number("check_age") / 2

    def refresh(self, *, now: bool = False) -> frozenset[str]:
        """Look at the store unless that was done just now; ids of all devices that may come in.

        `now`: look in any case. Writes down first which tokens came into use and who was here. Raises
        CannotSave; the last look then stands.
        """
        with self._lock:
            if now or not self.is_fresh() or self._look is None:
                at_s = time.monotonic()  # before the question: the answer is at least that new
                self._note_down()
                self._look = self._read(at_s)
            return self._look.ids

    def known(self, token: str) -> Pass | None:
        """The pass of a token by the last look; None where it lets nobody in. Nothing is asked of the store.

        A token that was on its way to the device counts from now on, and the one before it for
        `token_grace` seconds more; both are written down at the next `refresh`.

        **Source**: `token_grace` and `use_noted` of fact table `server_numbers`; docs/security.md.
        """
        look, digest = self._look, digest_of(token)
        found = look.by_digest.get(digest) if look else None
        if found is None or look is None:
            return None
        now = self.clock()
        if digest == found.before:
            return found if now - found.changed_s <= server_number("token_grace") else None
        if digest == found.next and found.device.id not in self._begun:
            self._begun[found.device.id] = int(now)
            arrived = replace(found, token=found.next, next="", before=found.token, changed_s=now)
            look.by_digest.update(dict.fromkeys((arrived.token, arrived.before), arrived))
        elif now - found.used_s >= server_number("use_noted"):
            self._used[found.device.id] = int(now)
        return found

    def next_token(self, token: str) -> str | None:
        """A new token for the device, where the one it shows is older than `token_age`; else None.

        On the disk when it returns. The one it shows lasts until the new one is first shown; of two
        requests at once only one gets a new token. Raises CannotSave.

        **Source**: `token_age` of fact table `server_numbers`.
        """
        with self._lock:
            found, digest = self.known(token), digest_of(token)
            now = self.clock()
            if found is None or digest != found.token or now - found.changed_s < server_number("token_age"):
                return None
            fresh = secrets.token_urlsafe(32)
            with self._store.writing() as database:
                sql = "SELECT device FROM pass WHERE device = %s AND token = %s AND changed = %s"
                given = bool(database.run(sql, (found.device.id, digest, int(found.changed_s))))
                if given:
                    new = {"next": digest_of(fresh), "before": "", "changed": int(now)}
                    given = bool(roll.change(database, "pass", found.device.id, **new))
            self._look = None
            return fresh if given else None

    def devices(self) -> list[Browser]:
        """All devices that are let in, oldest first, by a look at the store just now.

        Forgotten ones and those too long unused are left out. Raises CannotSave.
        """
        self.refresh(now=True)
        look = self._look
        found = {one.device.id: one.device for one in look.by_digest.values()} if look else {}
        return sorted(found.values(), key=lambda one: (one.since, len(one.mark), one.mark))

    def forget(self, device: str) -> Browser | None:
        """Let a device in no more; its mark is not given out again. The device as it was, or None.

        None where no device of that id was let in.

        On the disk when it returns; other servers of the store see it with their next look, within a second
        or so. Raises CannotSave.
        """
        found = next((one for one in self.devices() if one.id == device), None)
        with self._store.writing() as database:
            roll.change(database, "device", device, forgotten=1)
        self.refresh(now=True)
        return found

    def erase(self, is_meant: Callable[[str], bool]) -> list[str]:
        """Take away the names of those that are meant, here and in what was written down; who they were.

        Their devices are let in no more, and the store's file is written anew.
        """
        self._events.write()
        self._store.database.overwriting()
        with self._store.writing() as database:
            names = roll.erase_people(database, is_meant)
            erase_names(database, names)
            self._store.set_remark("", ERASING, utc_now())
        self._names.clear()
        self.refresh(now=True)
        self._store.database.scrub()
        self._store.put_remark("", ERASING, "")
        return names

    def record(self, kind: str, address: str, words: str) -> None:
        """Write down something that concerns who is let in; never waits for the store.

        `kind` is one of `jobs.happenings.KINDS`. It reaches the store with the next `write_events`; a kill
        before that loses it.
        """
        self._events.add(kind, address, words)

    def write_events(self) -> None:
        """Bring what was recorded to the store."""
        self._events.write()

    def events(self) -> list[Event]:
        """What was written down, newest first, with what waited until now.

        At most 200 of a kind. Raises CannotSave.
        """
        self._events.write()
        return self._events.newest()

    def close(self) -> None:
        """Write down what waits, and let go of the store."""
        with contextlib.suppress(Refusal):
            self._events.write()
        self._door.close()
        self._store.close()

    def _note_down(self) -> None:
        """Tokens that came into use, and devices that were here."""
        begun, used = dict(self._begun), dict(self._used)
        if not begun and not used:
            return
        with self._store.writing() as database:
            passes, _ = roll.rows_of(database, "pass")
            for device, at_s in begun.items():
                old = passes.get(device, {})
                if old.get("next"):
                    new = {"before": old["token"], "token": old["next"], "next": "", "changed": at_s}
                    roll.change(database, "pass", device, **new, used=at_s)
            for device, at_s in used.items():
                if passes.get(device, {}).get("used", at_s) < at_s:
                    roll.change(database, "pass", device, used=at_s)
        for noted, kept in ((begun, self._begun), (used, self._used)):
            for device in noted:
                kept.pop(device, None)

    def _read(self, at_s: float) -> Look:
        database = self._store.database
        (people, bad), (devices, bad_devices), (passes, bad_passes) = (
            roll.rows_of(database, table) for table in roll.COLUMNS
        )
        self._tell_of({*bad, *bad_devices, *bad_passes})
        now = self.clock()
        by_digest: dict[str, Pass] = {}
        ids = set()
        for row in devices.values():
            person = people.get(row["person"])
            if row["forgotten"] or person is None:
                continue
            device = Browser(row["id"], row["person"], person["name"], row["mark"], row["since"])
            kept = passes.get(device.id)
            if kept is None:
                continue
            token, following, before = kept["token"], kept["next"], kept["before"]
            found = Pass(device, token, following, before, kept["began"], kept["changed"], kept["used"])
            if now - found.began_s > server_number("session_life"):
                continue
            if now - found.used_s > server_number("session_idle"):
                continue
            ids.add(device.id)
            by_digest.update({digest: found for digest in (token, following, before) if digest})
        return Look(at_s, by_digest, frozenset(ids))

    def _tell_of(self, bad: set[str]) -> None:
        """Say once of each row that is not what was written; nobody is let in by it."""
        for name in sorted(bad - self._told):
            log.warning("of people and devices the row %s is not what was written: pair again", name[:40])
            self.record("refused", "store", say("told.row_altered", row=name[:40]))
        self._told |= bad


def good_name(name: str) -> str:
    """A name as it is kept: blanks at its ends gone, one blank for several.

    Raises BadInput for one that is empty, longer than 40 letters, or holds what cannot be printed.

    >>> good_name("  Ada   Example ")
    'Ada Example'
    """
    name = " ".join(name.split())
    if not 1 <= len(name) <= LONGEST_NAME or not name.isprintable():
        raise BadInput(
            say("refused_store.name_1_letters", longest_name=LONGEST_NAME),
            where="name",
            remedy=say("refused_store.give_name_you_go"),
        )
    return name


def digest_of(token: str) -> str:
    """What is kept of a token: the 64 hexadecimal digits of its SHA-256.

    No salt is wanted: a token is 256 random bits that nobody can guess. **Source**: SHA-256;
    docs/api.md, "Being let in".
    """
    return hashlib.sha256(token.encode("utf-8", "replace")).hexdigest()


def _mark(number: int) -> str:
    """a, b, ... z, aa, ab, ..."""
    letters = string.ascii_lowercase
    mark = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        mark = letters[rest] + mark
    return mark
