"""Which jobs are open, keeping them at the store's present state, their files at the log's, and closing them.

Nothing is pushed by message: whoever is connected is woken and sends what its client has not yet
got. However late or often a wake-up comes, the client ends at the same state.
"""

from __future__ import annotations

import asyncio
import contextlib
import logging
import time
from collections.abc import AsyncIterator, Callable
from dataclasses import asdict, replace
from weakref import WeakValueDictionary

from anyio import to_thread

from rehaul.errors import Refusal
from rehaul.facts.server import server_number
from rehaul.jobs import Browser, Desk
from rehaul.jobs.ledger import utc_now
from rehaul.web.answers import fault
from rehaul.web.asking import OPENING_S, asked
from rehaul.web.sitting import FileState, Seat, Sitting
from rehaul.words import again

REFRESH_S = 0.5  # how soon edits of another program on the same store are noticed
EXPORT_S = 1.0  # how long after an edit the job's file is brought up to date
EXPORT_AGAIN_S = 3.0  # the same while it cannot be written
IDLE_S = server_number("job_idle")
LOOK_EVERY_S = 20.0  # for jobs that nobody has open
log = logging.getLogger("rehaul.web")


class Hub:
    """All sittings of a server."""

    def __init__(self, desk: Desk, is_busy: Callable[[Sitting], bool] = lambda sitting: False) -> None:
        self.desk = desk
        self._is_busy = is_busy
        self._sittings: dict[str, Sitting] = {}
        self._tasks: dict[str, list[asyncio.Task[None]]] = {}
        self._doors: WeakValueDictionary[str, asyncio.Lock] = WeakValueDictionary()
        self._closer: asyncio.Task[None] | None = None

    def start(self) -> None:
        self._closer = asyncio.create_task(self._close_idle())

    async def sitting(self, key: str) -> Sitting:
        """The sitting of a job, opened on first use. Raises NoJob."""
        if key not in self._sittings:
            async with self._door(key):  # while it is put away it is not opened
                if key not in self._sittings:
                    ledger = await asked(self.desk.ledger, key, seconds=OPENING_S)
                    sitting = Sitting(key, ledger, self.desk.people.name_of)
                    await asked(sitting.recall, seconds=OPENING_S)
                    self._seat_down(sitting)
        sitting = self._sittings[key]
        sitting.used_s = time.monotonic()
        return sitting

    def _door(self, key: str) -> asyncio.Lock:
        """What whoever opens or puts away a job holds meanwhile."""
        found = self._doors.get(key)
        if found is None:
            self._doors[key] = found = asyncio.Lock()
        return found

    def _seat_down(self, sitting: Sitting) -> None:
        self._sittings[sitting.key] = sitting
        self._tasks[sitting.key] = [
            asyncio.create_task(self._watch(sitting)),
            asyncio.create_task(self._export(sitting)),
        ]

    def open_sittings(self) -> list[Sitting]:
        return list(self._sittings.values())

    @contextlib.asynccontextmanager
    async def seat(self, sitting: Sitting, device: Browser) -> AsyncIterator[Seat]:
        """Be in a sitting for as long as the block lasts."""
        seat = Seat(device)
        sitting.seats.add(seat)
        sitting.people_version += 1
        sitting.wake(seat)
        try:
            yield seat
        finally:
            sitting.seats.discard(seat)
            sitting.saw(device.person)
            sitting.people_version += 1
            sitting.wake()

    async def close(self) -> None:
        tasks = [task for pair in self._tasks.values() for task in pair]
        tasks += [self._closer] if self._closer else []
        for task in tasks:
            task.cancel()
        await asyncio.gather(*tasks, return_exceptions=True)
        await to_thread.run_sync(self.desk.close)

    async def _watch(self, sitting: Sitting) -> None:
        """Notice what other programs commit to the same store."""
        while True:
            await asyncio.sleep(REFRESH_S)
            try:
                await asked(sitting.ledger.refresh)
                if sitting.ledger.revision != sitting.newest:
                    await asked(sitting.gather)
                    sitting.wake()
            except Refusal:
                pass  # a store that is away now is asked again
            except Exception:
                log.exception("looking for edits of others on job %s failed; it is tried again", sitting.key)

    async def _export(self, sitting: Sitting) -> None:
        """Let the job's file follow the log, and say so where it does not."""
        while True:
            await sitting.changed.wait()
            await asyncio.sleep(EXPORT_AGAIN_S if sitting.file.behind else EXPORT_S)
            sitting.changed.clear()
            revision = sitting.newest
            refusal = await self._written(sitting)
            if refusal is None:
                sitting.exported = revision
            else:
                sitting.changed.set()  # it is tried again

    async def _written(self, sitting: Sitting) -> dict[str, str] | None:
        """Why the file could not be written, after everybody was told; None where it was."""
        refusal: dict[str, str] | None = None
        try:
            await asked(self.desk.export, sitting.key, seconds=OPENING_S)
        except Refusal as found:
            refusal = dict(found.as_dict())
            words = str(found)
        except Exception:
            log.exception("writing the file of job %s failed", sitting.key)
            refusal, words = fault(), "a fault of ours"
        before = sitting.file
        if refusal is None:
            if before.behind:
                log.warning("the file of job %s caught up with its log", sitting.key)
                sitting.file = FileState(caught_up=utc_now())
        elif before.behind:
            sitting.file = replace(before, refusal=refusal)
        else:
            log.warning("the file of job %s is behind its log: %s", sitting.key, words)
            sitting.file = FileState(behind=True, since=utc_now(), refusal=refusal)
        if sitting.file != before:
            sitting.wake()
        return refusal

    async def _close_idle(self) -> None:
        """Close jobs that nobody has open: their files hold what their logs hold."""
        while True:
            await asyncio.sleep(LOOK_EVERY_S)
            for sitting in self.open_sittings():
                if self._is_idle(sitting):
                    await self._rest(sitting)

    def _is_idle(self, sitting: Sitting) -> bool:
        in_use = sitting.seats or sitting.holders or self._is_busy(sitting)
        return not in_use and time.monotonic() - sitting.used_s > IDLE_S

    async def _rest(self, sitting: Sitting) -> None:
        if await self._written(sitting) is not None or not self._is_idle(sitting):
            return
        async with self._door(sitting.key):
            del self._sittings[sitting.key]
            for task in self._tasks.pop(sitting.key):
                task.cancel()
            try:
                await asked(self.desk.rest, sitting.key, seconds=OPENING_S)
            except Exception as problem:
                log.warning("job %s could not be closed: %s", sitting.key, problem)
                self._seat_down(sitting)


def file_message(state: FileState) -> dict[str, object]:
    """What clients are told of the job's file."""
    return {"type": "file", **again(asdict(state))}
