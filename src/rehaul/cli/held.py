"""A verb that computes, in a process that takes no more memory than it was given.

The process that was called only waits: whatever ends the other, there is a sentence and an exit code.
"""

from __future__ import annotations

import contextlib
import os
import signal
import subprocess
import sys
from collections.abc import Callable, Sequence
from typing import Any, TypeVar

import click

from rehaul.apart import DEFAULT_MEMORY_BYTES, MEMORY_BY_NAME
from rehaul.cli.common import say

Function = TypeVar("Function", bound=Callable[..., Any])
HELD = ("compare", "map", "papers", "plan", "work")
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


def run_held(arguments: Sequence[str]) -> int:
    """Run the command in a process of its own; its exit code, or 2 with a sentence where it did not live."""
    memory_bytes = memory_said_bytes(arguments)
    environment = os.environ | ENVIRONMENT | {MEMORY_BY_NAME: str(memory_bytes)}
    command = [sys.executable, "-c", CODE, str(memory_bytes), *arguments]
    process = subprocess.Popen(command, env=environment)
    before = [(what, signal.signal(what, _pass_on(process))) for what in _passed_on()]
    try:
        ended = process.wait()
    finally:
        for what, handler in before:
            signal.signal(what, handler)
    if ended < 0 and -ended not in (signal.SIGINT, signal.SIGTERM):
        say(
            f"rehaul: the {arguments[0]} stopped: it may have needed more than the {memory_bytes / 1e9:g} GB "
            "of memory that it was given. Give more with --memory.",
            err=True,
        )
        return 2
    return 128 - ended if ended < 0 else ended


def inside(memory_bytes: int, arguments: list[str]) -> None:
    """The verb itself."""
    from rehaul.apart import hold_memory
    from rehaul.cli.main import main

    hold_memory(memory_bytes)
    main(arguments)


def _passed_on() -> tuple[signal.Signals, ...]:
    return (signal.SIGINT,) if sys.platform == "win32" else (signal.SIGINT, signal.SIGTERM, signal.SIGHUP)


def _pass_on(process: subprocess.Popen[bytes]) -> Callable[[int, Any], None]:
    """Ctrl+C goes to both by itself; what is sent to us alone is for the other, too."""

    def handle(what: int, _: Any) -> None:
        if what != signal.SIGINT:
            process.send_signal(what)

    return handle
