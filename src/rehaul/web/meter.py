"""Measuring the network between a device and this server: bytes down, bytes up, and delay.

The server notes what share of the time it stood waiting. Where it hardly waited, the number says what
the server can do, not what the air can.
"""

from __future__ import annotations

import asyncio
import contextlib
import secrets
import time
from collections.abc import Iterator
from pathlib import Path

from starlette.requests import ClientDisconnect, Request
from starlette.responses import Response
from starlette.types import Receive, Scope, Send

from rehaul.errors import BadInput
from rehaul.web.answers import Absent, Busy, Json, TooLarge
from rehaul.words import say

CHUNK = secrets.token_bytes(256 * 1024)  # made once, sent over and over; it does not compress
LONGEST_S = 15.0
RUN_LIFE_S = 60.0
MOST_RUNS = 4
MOST_STREAMS = 16
LARGEST_UPLOAD = 64_000_000
MOST_BYTES = 8_000_000_000  # of one run, all streams together
SCHEDULE = Path("/proc/thread-self/schedstat")
NETWORK_WAITS = 0.2  # share of the time spent waiting below which the server is the limit


class Transfer:
    """Bytes in one direction, from the first byte of any stream to the last, and how busy we were.

    While a stream is open the span reaches to now, so that bytes and seconds asked together belong together.
    """

    def __init__(self) -> None:
        self.bytes = 0
        self._open = 0
        self._first: tuple[float, float] | None = None  # the clock, and how long we had worked by then
        self._last = (0.0, 0.0)

    def begin(self) -> None:
        self._open += 1
        if self._first is None:
            self._first = _clock()

    def end(self) -> None:
        self._open -= 1
        self._last = _clock()

    @property
    def seconds(self) -> float:
        return self._length()[0]

    @property
    def waiting_share(self) -> float:
        """Share of the time in which the one thread that does all of this had nothing to do."""
        seconds, worked_s = self._length()
        return max(0.0, 1.0 - worked_s / seconds) if seconds else 1.0

    def _length(self) -> tuple[float, float]:
        if self._first is None:
            return 0.0, 0.0
        upto = _clock() if self._open else self._last
        return upto[0] - self._first[0], upto[1] - self._first[1]


def _clock() -> tuple[float, float]:
    return time.perf_counter(), busy_s()


def busy_s() -> float:
    """Time this thread has worked, or, where Linux tells, stood ready while others had the processor."""
    try:
        worked_ns, queued_ns, _ = SCHEDULE.read_text().split()
    except (OSError, ValueError):
        return time.thread_time()
    return (int(worked_ns) + int(queued_ns)) / 1e9


class MeterRun:
    """One measurement under way."""

    def __init__(self, device: str) -> None:
        self.id = secrets.token_hex(8)
        self.device = device
        self.started_s = time.monotonic()
        self.down = Transfer()
        self.up = Transfer()
        self.streams = 0

    @property
    def bytes(self) -> int:
        return self.down.bytes + self.up.bytes

    def as_dict(self) -> dict[str, float | str]:
        share = min(self.down.waiting_share, self.up.waiting_share)
        return {
            "down_bytes": self.down.bytes,
            "down_seconds": round(self.down.seconds, 4),
            "up_bytes": self.up.bytes,
            "up_seconds": round(self.up.seconds, 4),
            "waiting_share": round(share, 3),
            "limit": "network" if share >= NETWORK_WAITS else "server",
        }

    @contextlib.contextmanager
    def stream(self, span: Transfer) -> Iterator[None]:
        """One of several streams at once. Raises Busy where there are too many."""
        if self.streams >= MOST_STREAMS:
            raise Busy(
                say("refused_web.more_than_streams", most_streams=MOST_STREAMS),
                where="meter",
                remedy=say("refused_web.open_fewer_at_once"),
            )
        self.streams += 1
        span.begin()
        try:
            yield
        finally:
            self.streams -= 1
            span.end()


class Meter:
    """The runs of one server; few at once, and none for long."""

    def __init__(self) -> None:
        self._runs: dict[str, MeterRun] = {}

    def new(self, device: str) -> MeterRun:
        """A new run of a device. Raises Busy where too many are open."""
        now = time.monotonic()
        self._runs = {
            key: run
            for key, run in self._runs.items()
            if now - run.started_s < RUN_LIFE_S and run.device != device
        }
        if len(self._runs) >= MOST_RUNS:
            raise Busy(
                say("refused_web.others_are_measuring"),
                where="meter",
                remedy=say("refused_web.try_again_minute"),
            )
        run = MeterRun(device)
        self._runs[run.id] = run
        return run

    def run(self, run_id: str, device: str) -> MeterRun:
        """An open run. Raises Absent where it is over or another device's."""
        run = self._runs.get(run_id)
        if run is None or run.device != device or time.monotonic() - run.started_s > RUN_LIFE_S:
            raise Absent(
                say("refused_web.measurement_over"), where="meter", remedy=say("refused_web.start_new_one")
            )
        return run


class Down(Response):
    """The one buffer over and over until the time is up."""

    media_type = "application/octet-stream"

    def __init__(self, run: MeterRun, seconds: float) -> None:
        super().__init__()
        del self.headers["content-length"]
        self._run = run
        self._seconds = seconds

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        run, ends_s = self._run, time.perf_counter() + self._seconds
        with run.stream(run.down):
            await send({"type": "http.response.start", "status": 200, "headers": self.raw_headers})
            gone = asyncio.create_task(_disconnected(receive))
            try:
                while time.perf_counter() < ends_s and run.bytes < MOST_BYTES and not gone.done():
                    await send({"type": "http.response.body", "body": CHUNK, "more_body": True})
                    run.down.bytes += len(CHUNK)
                    await asyncio.sleep(0)  # let other streams have their turn
                await send({"type": "http.response.body", "body": b""})
            finally:
                gone.cancel()


async def _disconnected(receive: Receive) -> None:
    while (await receive())["type"] != "http.disconnect":
        pass


def seconds_asked(request: Request) -> float:
    """The `seconds` of a download. Raises BadInput outside 0.1 to 15."""
    try:
        seconds = float(request.query_params.get("seconds", "5"))
    except ValueError:
        seconds = -1.0
    if not 0.1 <= seconds <= LONGEST_S:
        raise BadInput(
            say("refused_web.not_time"),
            where="seconds",
            remedy=say("refused_web.give_seconds_from_to", longest_s=LONGEST_S),
        )
    return seconds


async def count_upload(request: Request, run: MeterRun) -> Response:
    """Take bytes in and count them; they are kept nowhere. A sender who leaves midway has sent what came."""
    started_s = time.perf_counter()
    length = 0
    with run.stream(run.up), contextlib.suppress(ClientDisconnect, TimeoutError):
        async with asyncio.timeout(LONGEST_S):
            async for part in request.stream():
                length += len(part)
                run.up.bytes += len(part)
                if length > LARGEST_UPLOAD or run.bytes > MOST_BYTES:
                    raise TooLarge(
                        say("refused_web.more_than_one_upload"),
                        where="meter",
                        remedy=say("refused_web.send_several"),
                    )
    return Json({"bytes": length, "seconds": round(time.perf_counter() - started_s, 4)})
