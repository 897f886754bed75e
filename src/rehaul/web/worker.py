"""Long work in a process of its own: it shows progress, can be stopped, and cannot take the server down.

It works on jobs that were looked at on their way in, so its answers come back as objects. Files of strangers
go through `rehaul.apart` instead.
"""

from __future__ import annotations

import asyncio
import contextlib
import multiprocessing
import traceback
from collections.abc import Callable
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from typing import Any

from rehaul.apart import DEFAULT_MEMORY_BYTES, hold_memory, short_of_memory
from rehaul.errors import Refusal
from rehaul.web.tasks import TASKS

Progress = Callable[[str], None]


class Fault(Exception):
    """A bug in the work, or the process died of it."""


class Stopped(Exception):
    """Somebody stopped the work, or it took too long."""


class Worker:
    """One process, started on first use and again after it was stopped; one piece of work at a time."""

    def __init__(self, memory_bytes: int = DEFAULT_MEMORY_BYTES) -> None:
        self._memory_bytes = memory_bytes
        self._process: BaseProcess | None = None
        self._pipe: Connection | None = None
        self._turn = asyncio.Lock()

    async def run(
        self, task: str, *arguments: Any, seconds: float, progress: Progress = lambda words: None
    ) -> Any:
        """The result of a task of `TASKS`. Raises what it refused, Stopped, or Fault."""
        async with self._turn:
            pipe = self._start()
            try:
                await asyncio.to_thread(pipe.send, (task, arguments))
                async with asyncio.timeout(seconds):
                    while True:
                        kind, value = await _next_message(pipe)
                        if kind == "progress":
                            progress(value)
                            continue
                        return _result(kind, value)
            except TimeoutError:
                self.stop()
                raise Stopped(f"it took longer than {seconds:g} s") from None
            except (EOFError, OSError):
                self.stop()
                raise Stopped("it was stopped") from None
            except asyncio.CancelledError:
                self.stop()
                raise

    def stop(self) -> None:
        """End whatever is under way."""
        process, self._process = self._process, None
        pipe, self._pipe = self._pipe, None
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


def serve_tasks(pipe: Connection, memory_bytes: int) -> None:
    """The process: tasks in, progress and a result out, until the server is gone."""
    hold_memory(memory_bytes)
    with contextlib.suppress(EOFError, OSError, KeyboardInterrupt):
        while True:
            task, arguments = pipe.recv()
            try:
                result = TASKS[task](*arguments, progress=lambda words: pipe.send(("progress", words)))
                pipe.send(("done", result))
            except Refusal as refusal:
                pipe.send(("refused", dict(refusal.as_dict())))
            except (EOFError, OSError, KeyboardInterrupt):
                raise
            except MemoryError:
                pipe.send(("refused", dict(short_of_memory(memory_bytes).as_dict())))
            except Exception:
                pipe.send(("fault", traceback.format_exc()))


async def _next_message(pipe: Connection) -> tuple[str, Any]:
    """Wait on the pipe without holding a thread where the system can tell us."""
    while not pipe.poll():
        await asyncio.sleep(0.02)
    message: tuple[str, Any] = await asyncio.to_thread(pipe.recv)
    return message


def _result(kind: str, value: Any) -> Any:
    if kind == "refused":
        fields = ("where", "remedy", "source", "code")
        raise Refusal(value["problem"], **{name: value[name] for name in fields})
    if kind == "fault":
        raise Fault(value)
    return value
