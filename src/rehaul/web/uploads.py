"""Files that strangers send: onto the disk as they come, so much at once and no more, then read apart."""

from __future__ import annotations

import contextlib
import shutil
import tempfile
import threading
from asyncio import timeout
from collections.abc import AsyncIterator, Callable
from pathlib import Path
from typing import TypeVar

from anyio import CapacityLimiter, to_thread
from starlette.requests import Request

from rehaul.errors import CannotSave
from rehaul.house.readers import ReadReport, read_apart
from rehaul.saving import reason_of
from rehaul.web.answers import Absent, Busy, TooLarge, parts_of, require_announced, too_large
from rehaul.web.pictures import Picture, picture_apart
from rehaul.words import say

MOST_BYTES_AT_ONCE = 300_000_000  # of all that is being sent or waits to be read
MOST_READERS = 2  # processes at once, each with its own limit of memory
LONGEST_S = 600.0  # for one file to arrive
PIECE_BYTES = 1_000_000  # gathered before it is written
ON_DISK = Path("/var/tmp")  # where there is one: /tmp is often memory

Uploaded = TypeVar("Uploaded")


class Uploads:
    """What is being sent to one server."""

    def __init__(self) -> None:
        self._held_bytes = 0
        self._folder: tempfile.TemporaryDirectory[str] | None = None
        self._turns = CapacityLimiter(MOST_READERS)
        self._stop = threading.Event()
        self._number = 0

    @contextlib.asynccontextmanager
    async def file(self, request: Request, most_bytes: int, suffix: str = "") -> AsyncIterator[Path]:
        """The request's body as a file of a name of ours, gone afterwards.

        Raises TooLarge or Busy as soon as it grows past a limit, whatever it announced; BadInput where its
        sender leaves midway.
        """
        require_announced(request, most_bytes)
        path = self._new(suffix)
        held = 0
        try:
            async with timeout(LONGEST_S):
                async for piece in _pieces(request):
                    if held + len(piece) > most_bytes:
                        raise too_large(most_bytes)
                    if self._held_bytes + len(piece) > MOST_BYTES_AT_ONCE:
                        raise Busy(
                            say("refused_web.too_much_being_sent"),
                            where="request",
                            remedy=say("refused_web.try_again_minute"),
                        )
                    held += len(piece)
                    self._held_bytes += len(piece)
                    await to_thread.run_sync(_append, path, piece)
            yield path
        except TimeoutError:
            raise TooLarge(
                say("refused_web.file_took_too_long"),
                where="request",
                remedy=say("refused_web.send_something_smaller"),
            ) from None
        finally:
            self._held_bytes -= held
            shutil.rmtree(path.parent, ignore_errors=True)

    async def picture(self, file: Path, page: int, longest_px: int) -> Picture:
        """A picture or a page of a PDF, made anew from its pixels."""
        return await self._apart(lambda: picture_apart(file, page, longest_px, stop=self._stop))

    async def house(self, file: Path) -> ReadReport:
        """The house in a file."""
        return await self._apart(lambda: read_apart(file, stop=self._stop))

    def close(self) -> None:
        """End what is under way and leave nothing behind."""
        self._stop.set()
        if self._folder is not None:
            self._folder.cleanup()

    async def _apart(self, work: Callable[[], Uploaded]) -> Uploaded:
        return await to_thread.run_sync(work, limiter=self._turns)

    def _new(self, suffix: str) -> Path:
        if self._stop.is_set():
            raise Absent(say("refused_web.server_being_stopped"), where="request")
        self._number += 1
        try:
            path = self._place() / str(self._number) / f"file{suffix}"  # a house may be named after it
            path.parent.mkdir()
            path.touch(mode=0o600)
        except OSError as error:
            raise _not_taken(error) from None
        return path

    def _place(self) -> Path:
        """A folder of ours; made anew where a cleaner of old files took it."""
        if self._folder is None or not Path(self._folder.name).is_dir():
            place = ON_DISK if ON_DISK.is_dir() else None
            self._folder = tempfile.TemporaryDirectory(
                prefix="rehaul-", dir=place, ignore_cleanup_errors=True
            )
        return Path(self._folder.name)


async def _pieces(request: Request) -> AsyncIterator[bytes]:
    """The body in pieces large enough to be worth a write, and none larger than it came."""
    gathered: list[bytes] = []
    size = 0
    async for part in parts_of(request):
        gathered.append(part)
        size += len(part)
        if size >= PIECE_BYTES:
            yield b"".join(gathered)
            gathered, size = [], 0
    yield b"".join(gathered)


def _append(path: Path, piece: bytes) -> None:
    try:
        with path.open("ab") as file:
            file.write(piece)
    except OSError as error:
        raise _not_taken(error) from None


def _not_taken(error: OSError) -> CannotSave:
    return CannotSave(
        say("refused_web.file_could_not_be_taken_in", reason=reason_of(error)),
        where="request",
        remedy=say("refused_web.make_room"),
    )
