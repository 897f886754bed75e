"""One job that somebody has open: its seats, and what they are all told, put into words once."""

from __future__ import annotations

import asyncio
import contextlib
import threading
import time
from collections import Counter, deque
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any, TypeVar

from rehaul.errors import Refusal
from rehaul.jobs import Browser, Ledger, LogRow
from rehaul.web.answers import compact
from rehaul.web.still import StillMaps

TEXTS_KEPT = 1000
MOST_CHARACTERS = 32_000_000  # of them: an edit may be a whole house
TOGETHER_S = 0.05  # edits of one such moment go out to the others in one message
ON_PAPER = "on paper"  # or in a file: whoever holds it may have seen what it says
T = TypeVar("T")


@dataclass(eq=False)
class Seat:
    """One live connection."""

    device: Browser
    wake: asyncio.Event = field(default_factory=asyncio.Event)
    at: dict[str, Any] = field(default_factory=dict)  # where the person is looking
    follows: bool = False  # shows what a plan says


@dataclass(frozen=True)
class FileState:
    """Whether the job's file holds what the log holds, as clients are told."""

    behind: bool = False
    since: str | None = None
    refusal: dict[str, str] | None = None
    caught_up: str | None = None


class Sitting:
    """One open job. Methods that ask the ledger are for threads; the others for the event loop."""

    def __init__(self, key: str, ledger: Ledger, name_of: Callable[[str], str] = str) -> None:
        self.key = key
        self.ledger = ledger
        self.seats: set[Seat] = set()
        self.holders = 0  # others that need it open: map sockets
        self.still = StillMaps()
        self.used_s = time.monotonic()
        self.people_version = 0
        self.pictures_version = 0
        self.plan_version = 0
        self.file = FileState()
        self.changed = asyncio.Event()  # the log is ahead of the file
        self.exported = ledger.revision
        self.told: Counter[str] = Counter()  # by person: grows when something is for them alone
        self._opened = ledger.revision
        self._seen: dict[str, int] = {}
        self._name_of = name_of
        self._lock = threading.Lock()
        self._texts: deque[tuple[int, str]] = deque()
        self._characters = 0
        self._newest = ledger.revision
        self._notices: dict[str, int] = {}
        self._edits: dict[tuple[int, int], str] = {}
        self._people_text = (-1, "")
        self._woken_s = 0.0
        self._waking: asyncio.TimerHandle | None = None

    @property
    def newest(self) -> int:
        """The revision up to which everybody can be told."""
        return self._newest

    def wake(self, seat: Seat | None = None) -> None:
        """Wake everybody: `seat` at once, the others with what else comes within a moment."""
        self.used_s = time.monotonic()
        if self._newest != self.exported:
            self.changed.set()
        if seat:
            seat.wake.set()
        if self._waking is None:
            wait_s = max(0.0, self._woken_s + TOGETHER_S - self.used_s)
            self._waking = asyncio.get_running_loop().call_later(wait_s, self._wake_all)

    def wake_now(self) -> None:
        """Wake everybody at once: somebody waits for it."""
        self.used_s = time.monotonic()
        for seat in self.seats:
            seat.wake.set()

    def _wake_all(self) -> None:
        self._waking = None
        self._woken_s = time.monotonic()
        for seat in self.seats:
            seat.wake.set()

    @contextlib.contextmanager
    def held(self) -> Iterator[None]:
        """Keep it open for as long as the block lasts."""
        self.holders += 1
        try:
            yield
        finally:
            self.holders -= 1
            self.used_s = time.monotonic()

    def saw(self, who: str) -> None:
        """Note that a person, or paper, has what the log holds now."""
        self._seen[who] = self.ledger.revision

    def unseen(self, person: str, revision: int) -> bool:
        """Whether nobody but this person can have been told of an edit: it came since the job was opened, and
        nobody else sits here or has asked for anything since."""
        alone = all(seat.device.person == person for seat in list(self.seats))
        newest = max((seen for who, seen in list(self._seen.items()) if who != person), default=self._opened)
        return alone and revision > max(newest, self._opened)

    def change(self, question: Callable[..., T], *arguments: Any) -> T:
        """Ask the ledger for a change, then put what it holds into words. For threads."""
        answer = question(*arguments)
        self.gather()
        return answer

    def recall(self) -> None:
        """Put into words what a client that was away may have missed. For threads, before anybody sits."""
        with self._lock:
            rows = self.ledger.rows_since(max(0, self._newest - TEXTS_KEPT)) or []
            for row in rows:
                if row.revision <= self._newest:
                    self._keep(row)

    def gather(self) -> None:
        """Put into words what the log holds and nobody was told yet. For threads."""
        with self._lock:
            rows = self.ledger.rows_since(self._newest)
            if rows is None:  # far ahead, or of another schema version: everybody starts from the document
                self._texts.clear()
                self._characters = 0
                self._newest = self.ledger.revision
                return
            for row in rows:
                self._keep(row)
                self.told[row.person] += 1
            self._tell_of_notices()
            if rows:
                self._newest = rows[-1].revision
                self._edits.clear()

    def _keep(self, row: LogRow) -> None:
        text = compact(person_row(row, self._named(row.person)))
        self._texts.append((row.revision, text))
        self._characters += len(text)
        while len(self._texts) > 1 and (len(self._texts) > TEXTS_KEPT or self._characters > MOST_CHARACTERS):
            self._characters -= len(self._texts.popleft()[1])

    def _named(self, person: str) -> str:
        try:
            return self._name_of(person)
        except Refusal:
            return person

    def _tell_of_notices(self) -> None:
        sql = "SELECT person, MAX(number) FROM notice WHERE job = %s GROUP BY person"
        with contextlib.suppress(Refusal):  # asked again with the next edit
            newest = dict(self.ledger.store.database.run(sql, (self.ledger.job_id,)))
            for person, number in newest.items():
                if self._notices.get(person) != number:
                    self.told[person] += 1
            self._notices = newest

    def edits_since(self, seen: int) -> tuple[str, int] | None:
        """One message with all edits after a revision, and the newest; None where a document is needed."""
        newest = self._newest
        if seen == newest:
            return "", newest
        texts = list(self._texts)
        if not texts or not texts[0][0] - 1 <= seen < newest:
            return None
        message = self._edits.get((seen, newest))
        if message is None:
            fresh = ",".join(text for revision, text in texts if seen < revision <= newest)
            message = f'{{"type":"edits","edits":[{fresh}]}}'
            if len(self._edits) > 100:
                self._edits.clear()
            self._edits[seen, newest] = message  # a thread may clear them at any moment
        return message, newest

    def people(self) -> list[dict[str, Any]]:
        """Who is here, for the people message."""
        rows = [(seat.device.person, seat.device.name, seat.device.id, seat.at) for seat in self.seats]
        names = ("person", "name", "device", "at")
        return [dict(zip(names, row, strict=True)) for row in sorted(rows, key=lambda row: row[2])]

    def people_text(self) -> str:
        """The people message, put into words once for all."""
        if self._people_text[0] != self.people_version:
            self._people_text = self.people_version, compact({"type": "people", "people": self.people()})
        return self._people_text[1]


def person_row(row: LogRow, name: str) -> dict[str, Any]:
    """A row of the log as clients get it."""
    return {
        "revision": row.revision,
        "edit": row.edit,
        "person": row.person,
        "name": name,
        "at": row.at,
        "label": row.label,
        "changes": row.changes,
        "undoes": row.undoes,
    }
