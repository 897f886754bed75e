"""Who is let in, asked without ever making the event loop wait for the store.

The store is looked at in a thread of its own, by one question for all who ask at once; where it does not
answer in time, the request is refused and everybody else goes on.
"""

from __future__ import annotations

import asyncio
import contextlib
import logging
from collections.abc import Awaitable, Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from typing import Any, TypeVar

from rehaul.errors import Refusal
from rehaul.facts.server import server_number
from rehaul.jobs import Browser, Event, People
from rehaul.web.asking import away
from rehaul.words import say

LOOK_EVERY_S = 0.4  # how often the store is looked at while sockets are open
WRITE_EVERY_S = 1.0  # events, to the store
T = TypeVar("T")
log = logging.getLogger("rehaul.web")


class Sessions:
    """The devices that are let in, and the sockets that end when theirs is not."""

    def __init__(self, people: People) -> None:
        self.people = people
        self._thread = ThreadPoolExecutor(1, thread_name_prefix="people")
        self._door = ThreadPoolExecutor(1, thread_name_prefix="door")
        self._looking: asyncio.Future[Any] | None = None
        self._ends: dict[str, set[Callable[[], None]]] = {}
        self._guards: list[asyncio.Task[None]] = []

    def start(self) -> None:
        self._guards = [asyncio.create_task(self._guard()), asyncio.create_task(self._write())]

    async def close(self) -> None:
        for task in self._guards:
            task.cancel()
        await asyncio.gather(*self._guards, return_exceptions=True)
        for thread in (self._thread, self._door):
            thread.shutdown(wait=False, cancel_futures=True)

    async def device(self, token: str) -> Browser | None:
        """The device that holds a token, by a look at the store at most a second old. Raises CannotSave."""
        await self.look()
        found = self.people.known(token)
        return found.device if found else None

    async def look(self, *, now: bool = False) -> None:
        """Be sure that the last look at the store is fresh. Raises CannotSave where it does not answer."""
        if self.people.is_fresh() and not now:
            return
        if self._looking is None or self._looking.done():
            loop = asyncio.get_running_loop()
            self._looking = loop.run_in_executor(self._thread, lambda: self.people.refresh(now=now))
        await _in_time(asyncio.shield(self._looking))

    async def next_token(self, token: str) -> str | None:
        """A new token where the one shown is old and the store takes it; else none, and later again."""
        found = self.people.known(token)
        if found is None or self.people.clock() - found.changed_s < server_number("token_age"):
            return None
        with contextlib.suppress(Refusal):
            return await self.ask(self.people.next_token, token)
        return None

    async def ask(self, question: Callable[..., T], *arguments: Any) -> T:
        """The answer of the people's store, or CannotSave after a time."""
        loop = asyncio.get_running_loop()
        return await _in_time(loop.run_in_executor(self._thread, lambda: question(*arguments)))

    async def events(self) -> list[Event]:
        """What happened at the door, newest first."""
        loop = asyncio.get_running_loop()
        return await _in_time(loop.run_in_executor(self._door, self.people.events))

    @contextlib.contextmanager
    def ending(self, device: str, end: Callable[[], None]) -> Iterator[None]:
        """`end` is called when the device is let in no more, as long as the block lasts."""
        self._ends.setdefault(device, set()).add(end)
        try:
            yield
        finally:
            self._ends[device].discard(end)
            if not self._ends[device]:
                del self._ends[device]

    def end(self, device: str) -> None:
        """End the sockets of a device."""
        for end in list(self._ends.get(device, ())):
            end()

    async def _guard(self) -> None:
        """Let revocations of other servers reach the sockets of this one."""
        while True:
            await asyncio.sleep(LOOK_EVERY_S)
            if not self._ends:
                continue
            with _on_in_spite_of("looking who is let in no more"):
                await self.look()
                ids = await self.ask(self.people.refresh)
                for device in [one for one in self._ends if one not in ids]:
                    self.people.record("refused", "", say("told.sockets_closed"))
                    self.end(device)

    async def _write(self) -> None:
        loop = asyncio.get_running_loop()
        while True:
            await asyncio.sleep(WRITE_EVERY_S)
            with _on_in_spite_of("writing down what happened at the door"):
                await loop.run_in_executor(self._door, self.people.write_events)


@contextlib.contextmanager
def _on_in_spite_of(work: str) -> Iterator[None]:
    """A store that is away is asked again, and a bug is written down: what watches the door does not end."""
    try:
        yield
    except Refusal:
        pass
    except Exception:
        log.exception("%s failed; it is tried again", work)


async def _in_time(asked: Awaitable[T]) -> T:
    try:
        async with asyncio.timeout(server_number("store_wait")):
            return await asked
    except TimeoutError:
        raise away() from None
