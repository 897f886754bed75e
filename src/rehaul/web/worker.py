"""Long work in a process of its own: it shows progress, can be stopped, and cannot take the server down.

What comes back is a line of JSON, then text, then bytes, all looked at before it is used: whatever the
process was made to say, nothing of it can be run. Files of strangers go through `rehaul.apart`.
"""

from __future__ import annotations

import asyncio
import contextlib
import gc
import json
import multiprocessing
import sys
import traceback
from collections.abc import Callable, Iterator, Mapping
from multiprocessing.process import BaseProcess
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from rehaul.apart import DEFAULT_MEMORY_BYTES, hold_memory, short_of_memory
from rehaul.errors import Refusal
from rehaul.house import Job
from rehaul.printable import printable
from rehaul.progress import Progress
from rehaul.web.made import PART_TAKERS, TAKERS, Packed
from rehaul.web.tasks import TASKS
from rehaul.words import REFERENCE, again, as_data, say
from rehaul.words.fields import Words

if sys.platform == "win32":
    from multiprocessing.connection import PipeConnection as Connection
else:
    from multiprocessing.connection import Connection

MOST_BYTES = 300_000_000  # of one answer: maps and papers
LONGEST_HEAD = 80_000
LONGEST_DETAIL = 8000
LOOK_S = 0.02
LEAVE = b"leave"
LEAVING_S = 5.0  # work that nobody waits for ends between two of its stages, or with the process
NOTHING = ""  # the task of an answer that nobody wants


class WorkerFault(Exception):
    """A bug in the work, or the process died of it."""


class Stopped(Exception):
    """Somebody stopped the work, or it took too long."""


class _Left(Exception):
    """In the process: nobody waits for this answer any more."""


class Head(BaseModel):
    """The first line of what the process says."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)

    kind: Literal["progress", "part", "done", "refused", "fault", "left"]
    text_bytes: Annotated[int, Field(ge=0)] = 0
    words: Annotated[str, Field(max_length=200)] = ""
    code: Annotated[str, Field(max_length=40)] = ""
    problem: Annotated[Words, Field(max_length=2000)] = ""
    where: Annotated[Words, Field(max_length=1000)] = ""
    remedy: Annotated[Words, Field(max_length=1000)] = ""
    source: Annotated[str, Field(max_length=400)] = ""
    detail: Annotated[str, Field(max_length=10_000)] = ""


class Worker:
    """One process, started on first use and again after it was stopped; one piece of work at a time."""

    def __init__(self, memory_bytes: int = DEFAULT_MEMORY_BYTES) -> None:
        self._memory_bytes = memory_bytes
        self._process: BaseProcess | None = None
        self._pipe: Connection | None = None
        self._turn = asyncio.Lock()
        self._leaving = False  # the process was told to leave what it does, and has not said that it did
        self._hearing: asyncio.Future[tuple[Head, Any]] | None = None

    async def run(
        self,
        task: str,
        job: Job,
        *words: str,
        seconds: float,
        progress: Progress = lambda words: None,
        part: Callable[[Any], None] = lambda made: None,
    ) -> Any:
        """What the taker of a task makes of its answer. Raises what it refused, Stopped, or Fault.

        `part` is given what is known before the rest, of tasks that say so.
        """
        async with self._turn:
            await self._left()
            pipe = self._start()
            asking = asyncio.ensure_future(asyncio.to_thread(_ask, pipe, task, job, words))
            try:
                async with asyncio.timeout(seconds):
                    await asyncio.shield(asking)
                    while True:
                        head, answer = await self._next_message(pipe, task)
                        if head.kind == "progress":
                            progress(head.words)
                            continue
                        if head.kind == "part":
                            part(answer)
                            continue
                        if head.kind == "left":
                            raise ValueError("it left what it was not told to leave")
                        return _result(head, answer)
            except TimeoutError:
                self.stop()
                raise Stopped(say("refused_web.took_longer", seconds=seconds)) from None
            except (EOFError, OSError):
                self.stop()
                raise Stopped(say("refused_web.was_stopped")) from None
            except ValueError as strange:
                self.stop()  # who says such a thing is not asked again
                said = printable(str(strange)[:LONGEST_DETAIL])
                raise WorkerFault(f"what the worker said is no answer: {said}") from None
            except asyncio.CancelledError:
                self._leaving = True
                asking.add_done_callback(lambda _: self._leave(pipe))  # never into the middle of the question
                raise

    async def _next_message(self, pipe: Connection, task: str) -> tuple[Head, Any]:
        """Wait on the pipe without holding a thread where the system can tell us."""
        await _something(pipe)
        self._hearing = asyncio.ensure_future(asyncio.to_thread(_heard, pipe, task))
        heard = await asyncio.shield(self._hearing)  # who stops waiting leaves no half of a message behind
        self._hearing = None
        return heard

    def _leave(self, pipe: Connection) -> None:
        """Tell the process that nobody waits for this: it stays, warm, for what comes next."""
        with contextlib.suppress(OSError):  # then it is gone already
            pipe.send_bytes(LEAVE)

    async def _left(self) -> None:
        """Wait until the process has left what it was told to leave, or end it."""
        pipe, kind = self._pipe, "progress"
        if not self._leaving or pipe is None:
            return
        try:
            async with asyncio.timeout(LEAVING_S):
                if self._hearing is not None:
                    kind = (await asyncio.shield(self._hearing))[0].kind
                while kind in ("progress", "part"):
                    kind = (await self._next_message(pipe, NOTHING))[0].kind
            self._leaving, self._hearing = False, None
        except (TimeoutError, EOFError, OSError, ValueError):
            self.stop()

    def stop(self) -> None:
        """End whatever is under way."""
        process, self._process = self._process, None
        pipe, self._pipe = self._pipe, None
        self._leaving, self._hearing = False, None
        if process is not None:
            process.kill()
            process.join(5)
        if pipe is not None:
            pipe.close()

    def _start(self) -> Connection:
        if self._process is None or not self._process.is_alive() or self._pipe is None:
            self.stop()
            context = multiprocessing.get_context("spawn")
            self._pipe, theirs = context.Pipe()
            given = (theirs, self._memory_bytes)
            self._process = context.Process(target=serve_tasks, args=given, daemon=True)
            self._process.start()
            theirs.close()
        return self._pipe


async def _something(pipe: Connection) -> None:
    """Until there is something to hear, or the process is gone."""
    if sys.platform == "win32":  # there a loop waits on sockets alone
        while not pipe.poll():
            await asyncio.sleep(LOOK_S)
        return
    loop, said = asyncio.get_running_loop(), asyncio.Event()
    loop.add_reader(pipe.fileno(), said.set)
    try:
        await said.wait()
    finally:
        loop.remove_reader(pipe.fileno())


def serve_tasks(pipe: Connection, memory_bytes: int) -> None:
    """The process: tasks in, progress and an answer out, until the server is gone."""
    hold_memory(memory_bytes)

    def leave_if_told() -> None:
        if pipe.poll():  # nothing else is sent while there is work
            pipe.recv_bytes()
            raise _Left

    last = ""

    def tell(words: str) -> None:
        nonlocal last
        leave_if_told()
        if words != last:  # the same stage may look about often
            last = words
            _say(pipe, "progress", said={"words": words[:200]})

    def part(packed: Packed) -> None:
        leave_if_told()
        _say(pipe, "part", *packed)

    with contextlib.suppress(EOFError, OSError, KeyboardInterrupt), _collecting_between():
        while True:
            if not pipe.poll():
                gc.collect()  # while nobody waits: in the middle of an answer it takes longer than the answer
            head, _, document = pipe.recv_bytes().partition(b"\n")
            if head == LEAVE:
                continue  # it was done already
            try:
                last = ""
                task, words = json.loads(head)
                parts: dict[str, Any] = {"part": part} if task in PART_TAKERS else {}
                job = Job.model_validate_json(document)
                text, beside = TASKS[task](job, *words, progress=tell, **parts)
                _say(pipe, "done", text, beside)
                del text, beside
            except Refusal as refusal:
                _refuse(pipe, refusal)
            except _Left:
                _say(pipe, "left")
            except (EOFError, OSError, KeyboardInterrupt):
                raise
            except MemoryError:
                _refuse(pipe, short_of_memory(memory_bytes))
            except Exception:
                _say(pipe, "fault", said={"detail": traceback.format_exc()[-LONGEST_DETAIL:]})


@contextlib.contextmanager
def _collecting_between() -> Iterator[None]:
    """No garbage is collected but when it is said."""
    before = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if before:
            gc.enable()


def _ask(pipe: Connection, task: str, job: Job, words: tuple[str, ...]) -> None:
    head = json.dumps([task, words]).encode()
    pipe.send_bytes(b"\n".join([head, job.model_dump_json().encode()]))


def _say(
    pipe: Connection, kind: str, text: bytes = b"", beside: bytes = b"", said: Mapping[str, Any] = {}
) -> None:
    head = json.dumps({"kind": kind, "text_bytes": len(text), **said}).encode()
    pipe.send_bytes(b"".join([head, b"\n", text, beside]))


def _refuse(pipe: Connection, refusal: Refusal) -> None:
    words = again(dict(refusal.as_dict()), REFERENCE)
    longest = {"code": 40, "problem": 2000, "where": 1000, "remedy": 1000, "source": 400}
    fit = {name: words[name] for name in longest}
    fit |= {name: fit[name][:most] for name, most in longest.items() if len(fit[name]) > most}
    _say(pipe, "refused", said=as_data(fit))


def _heard(pipe: Connection, task: str) -> tuple[Head, Any]:
    """One message: its head, and what it holds. Raises ValueError where that is not what it ought to be."""
    line, _, rest = pipe.recv_bytes(MOST_BYTES).partition(b"\n")
    head = Head.model_validate_json(line if len(line) <= LONGEST_HEAD else b"")
    takers = {"done": TAKERS, "part": PART_TAKERS}.get(head.kind)
    if takers is None or task == NOTHING:
        return head, None
    if task not in takers:
        raise ValueError("a part of what has none")
    return head, takers[task](rest[: head.text_bytes], rest[head.text_bytes :])


def _result(head: Head, answer: Any) -> Any:
    if head.kind == "refused":
        said = {"where": head.where, "remedy": head.remedy, "source": head.source, "code": head.code}
        raise Refusal(head.problem, **said)
    if head.kind == "fault":
        raise WorkerFault(printable(head.detail, keep="\n"))
    return answer
