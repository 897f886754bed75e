"""A verb that computes, in a process that takes no more memory than it was given.

The process that was called only waits: whatever ends the other, there is a sentence and an exit code. On
Linux the other is a copy of it, made while it is small and has one thread, which takes some milliseconds;
elsewhere it is started anew.
"""

from __future__ import annotations

import contextlib
import os
import signal
import subprocess
import sys
import threading
from collections.abc import Callable, Sequence
from functools import partial
from typing import Any

import click

from rehaul.apart import DEFAULT_MEMORY_BYTES, MEMORY_BY_NAME, hold_memory
from rehaul.cli.common import tell

HELD = (
    "accept",
    "compare",
    "demo",
    "handover",
    "learn",
    "map",
    "next",
    "papers",
    "plan",
    "readings",
    "why",
    "work",
)
SMALLEST_GB, LARGEST_GB = 1.0, 1024.0  # libraries alone take most of the first
# One pool of memory for all threads, so that address space is what is used.
ENVIRONMENT = {"MALLOC_ARENA_MAX": "1"}
CODE = "import sys; from rehaul.cli.held import inside; inside(int(sys.argv[1]), sys.argv[2:])"

memory_option = click.option(
    "--memory",
    "memory_gb",
    type=click.FloatRange(SMALLEST_GB, LARGEST_GB),
    default=DEFAULT_MEMORY_BYTES / 1e9,
    show_default=True,
    expose_value=False,
    metavar="GB",
    help="The most memory that this may take; what would not fit is refused before it begins.",
)


def memory_said_bytes(arguments: Sequence[str]) -> int:
    """What `--memory` says; the usual where that cannot be understood, which the verb then refuses."""
    said = str(DEFAULT_MEMORY_BYTES / 1e9)
    for index, word in enumerate(arguments):
        if word == "--memory" and index + 1 < len(arguments):
            said = arguments[index + 1]
        elif word.startswith("--memory="):
            said = word.partition("=")[2]
    with contextlib.suppress(ValueError, OverflowError):
        if SMALLEST_GB <= float(said) <= LARGEST_GB:
            return int(float(said) * 1e9)
    return DEFAULT_MEMORY_BYTES


def run_held(arguments: Sequence[str]) -> int | None:
    """Let a process of its own run the command; its exit code, or 2 with a sentence where it did not live.

    None in that process itself, which goes on with the command.
    """
    memory_bytes = memory_said_bytes(arguments)
    if sys.platform == "linux" and threading.active_count() == 1:
        pid = _forked()
        if pid == 0:
            begin(memory_bytes)
            return None
        ended = _waited(partial(os.kill, pid), lambda: os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1]))
    else:
        environment = os.environ | ENVIRONMENT | {MEMORY_BY_NAME: str(memory_bytes)}
        command = [sys.executable, "-c", CODE, str(memory_bytes), *arguments]
        process = subprocess.Popen(command, env=environment)
        ended = _waited(process.send_signal, process.wait)
    if ended < 0 and -ended not in (signal.SIGINT, signal.SIGTERM):
        tell(
            f"rehaul: the {arguments[0]} stopped: it may have needed more than the {memory_bytes / 1e9:g} GB "
            "of memory that it was given. Give more with --memory.",
            err=True,
        )
        return 2
    return 128 - ended if ended < 0 else ended


def begin(memory_bytes: int) -> None:
    """Hold this process to its memory, and those that it starts to one pool."""
    os.environ.update(ENVIRONMENT)
    hold_memory(memory_bytes)


def inside(memory_bytes: int, arguments: list[str]) -> None:
    """The verb itself, in a process started anew."""
    from rehaul.cli.main import main

    begin(memory_bytes)
    main(arguments)


def _forked() -> int:
    """A copy of this process: 0 in it, its number here. What is sent meanwhile waits for `_waited`."""
    if sys.platform == "win32":
        raise OSError("processes are not copied here")
    sys.stdout.flush()
    sys.stderr.flush()
    signal.pthread_sigmask(signal.SIG_BLOCK, _passed_on())
    pid = os.fork()
    if pid == 0:
        signal.pthread_sigmask(signal.SIG_UNBLOCK, _passed_on())
    return pid


def _waited(send: Callable[[int], None], wait: Callable[[], int]) -> int:
    """How the process ended, after all that was sent to this one was sent on to it."""
    before = [(what, signal.signal(what, _pass_on(send))) for what in _passed_on()]
    if sys.platform != "win32":
        signal.pthread_sigmask(signal.SIG_UNBLOCK, _passed_on())
    try:
        return wait()
    finally:
        for what, handler in before:
            signal.signal(what, handler)


def _passed_on() -> tuple[signal.Signals, ...]:
    if sys.platform == "win32":
        return (signal.SIGINT,)
    return (signal.SIGINT, signal.SIGTERM, signal.SIGHUP)


def _pass_on(send: Callable[[int], None]) -> Callable[[int, Any], None]:
    """Ctrl+C goes to both by itself; what is sent to us alone is for the other, too."""

    def handle(what: int, _: Any) -> None:
        if what != signal.SIGINT:
            with contextlib.suppress(ProcessLookupError):
                send(what)

    return handle
