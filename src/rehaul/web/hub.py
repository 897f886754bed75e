"""Who is on which job now, and keeping them at the job's present state.

Nothing is pushed by message: whoever is connected is woken and sends what its client has not yet
got. However late or often a wake-up comes, the client ends at the same state.
"""

from __future__ import annotations

import asyncio
import contextlib
from collections.abc import AsyncIterator
from dataclasses import dataclass, field
from typing import Any

from anyio import to_thread

from rehaul.errors import Refusal
from rehaul.jobs import Desk, Device, Ledger

REFRESH_S = 0.5  # how soon edits of another program on the same store are noticed
EXPORT_S = 1.0  # how long after an edit the job's file is brought up to date


@dataclass(eq=False)
class Seat:
    """One live connection."""

    device: Device
    wake: asyncio.Event = field(default_factory=asyncio.Event)
    at: dict[str, Any] = field(default_factory=dict)  # where the person is looking


class Sitting:
    """One job that somebody has open."""

    def __init__(self, key: str, ledger: Ledger) -> None:
        self.key = key
        self.ledger = ledger
        self.seats: set[Seat] = set()
        self.people_version = 0
        self.pictures_version = 0
        self.plan_version = 0
        self.changed = asyncio.Event()

    def wake(self) -> None:
        for seat in self.seats:
            seat.wake.set()
        self.changed.set()

    def people(self) -> list[dict[str, Any]]:
        """Who is here, for the people message."""
        rows = [(seat.device.person, seat.device.name, seat.device.id, seat.at) for seat in self.seats]
        names = ("person", "name", "device", "at")
        return [dict(zip(names, row, strict=True)) for row in sorted(rows, key=lambda row: row[2])]


class Hub:
    """All sittings of a server."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self._sittings: dict[str, Sitting] = {}
        self._tasks: dict[str, list[asyncio.Task[None]]] = {}

    async def sitting(self, key: str) -> Sitting:
        """The sitting of a job, opened on first use. Raises NoJob."""
        if key not in self._sittings:
            ledger = await to_thread.run_sync(self.desk.ledger, key)
            if key not in self._sittings:
                self._sittings[key] = Sitting(key, ledger)
                sitting = self._sittings[key]
                self._tasks[key] = [
                    asyncio.create_task(self._watch(sitting)),
                    asyncio.create_task(self._export(sitting)),
                ]
        return self._sittings[key]

    def open_sittings(self) -> list[Sitting]:
        return list(self._sittings.values())

    @contextlib.asynccontextmanager
    async def seat(self, sitting: Sitting, device: Device) -> AsyncIterator[Seat]:
        """Be in a sitting for as long as the block lasts."""
        seat = Seat(device)
        sitting.seats.add(seat)
        sitting.people_version += 1
        sitting.wake()
        try:
            yield seat
        finally:
            sitting.seats.discard(seat)
            sitting.people_version += 1
            sitting.wake()

    def forget(self, device: str) -> None:
        """Wake the connections of a device that was let out; they find out and close."""
        for sitting in self._sittings.values():
            for seat in sitting.seats:
                if seat.device.id == device:
                    seat.wake.set()

    async def close(self) -> None:
        tasks = [task for pair in self._tasks.values() for task in pair]
        for task in tasks:
            task.cancel()
        await asyncio.gather(*tasks, return_exceptions=True)
        await to_thread.run_sync(self.desk.close)

    async def _watch(self, sitting: Sitting) -> None:
        """Notice what other programs commit to the same store."""
        while True:
            await asyncio.sleep(REFRESH_S)
            with contextlib.suppress(Refusal):  # a store that is away now is asked again
                if await to_thread.run_sync(sitting.ledger.refresh):
                    sitting.wake()

    async def _export(self, sitting: Sitting) -> None:
        """Let the job's file follow the log."""
        while True:
            await sitting.changed.wait()
            await asyncio.sleep(EXPORT_S)
            sitting.changed.clear()
            with contextlib.suppress(Refusal):  # the log has it all; the next change tries again
                await to_thread.run_sync(self.desk.export, sitting.key)
