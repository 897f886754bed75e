"""What a process may take, and how a system is told so.

Linux holds all of it. macOS holds processor time, open files and what is written, not memory. Windows holds
none: there only the time limit of whoever waits, and what is estimated beforehand, stand.
"""

from __future__ import annotations

import contextlib
import os
import sys
from dataclasses import dataclass

from rehaul.errors import Refusal
from rehaul.words import say

MEMORY_BY_NAME = "REHAUL_MEMORY_BYTES"  # what this process was given, for systems that do not hold it
M_ARENA_MAX = -8  # of mallopt
DEFAULT_MEMORY_BYTES = 2_000_000_000


class TooMuchMemory(Refusal):
    """Work that cannot end in the memory it was given."""

    code = "memory"


@dataclass(frozen=True)
class Limits:
    """The most that one piece of work takes."""

    seconds: float  # by the clock, and of processor time
    memory_bytes: int  # of address space, libraries and all
    answer_bytes: int
    open_files: int = 64


def hold(limits: Limits) -> None:
    """Set the limits on this process, as far as the system has them; they cannot be raised again.

    Processor time is rounded up to whole seconds; no file may be written and no core left. On Windows
    nothing is set, on macOS all but the memory. **Source**: docs/security.md, "Files of strangers, read
    apart".
    """
    if sys.platform == "win32":
        return
    import resource

    hold_memory(limits.memory_bytes)
    seconds = int(limits.seconds) + 1
    rows = (
        (resource.RLIMIT_CPU, seconds),
        (resource.RLIMIT_NOFILE, limits.open_files),
        (resource.RLIMIT_FSIZE, 0),  # the answer goes through a pipe, which this does not count
        (resource.RLIMIT_CORE, 0),
    )
    for what, most in rows:
        _lower(what, most)


def hold_memory(memory_bytes: int) -> None:
    """Let this process have so much address space and no more, and remember how much that is.

    It is remembered in the environment, for `memory_given_bytes` here and in processes that are started
    from here; only Linux holds it. Libraries count, so that a few hundred megabytes are gone before any
    work begins. **Source**: docs/security.md, "Files of strangers, read apart".
    """
    os.environ[MEMORY_BY_NAME] = str(memory_bytes)
    if sys.platform == "linux":
        import ctypes
        import resource

        with contextlib.suppress(OSError, AttributeError):  # a C library without it has one pool anyway
            ctypes.CDLL(None).mallopt(M_ARENA_MAX, 1)  # else each thread reserves a pool it may never fill
        _lower(resource.RLIMIT_AS, memory_bytes)


def _lower(what: int, most: int) -> None:
    """Both limits at `most`, or where they were if that is less."""
    if sys.platform == "win32":
        return
    import resource

    hard = resource.getrlimit(what)[1]
    least = most if hard == resource.RLIM_INFINITY else min(most, hard)
    with contextlib.suppress(OSError, ValueError):
        resource.setrlimit(what, (least, least))


def memory_given_bytes() -> int:
    """What this process may take [bytes]: as `hold_memory` or the environment says, else 2 GB.

    **Validity**: what was given, not what the machine has free.
    """
    given = os.environ.get(MEMORY_BY_NAME, "")
    return int(given) if given.isascii() and given.isdigit() else DEFAULT_MEMORY_BYTES


def require_memory(wanted_bytes: float, *, where: str, remedy: str) -> None:
    """Refuse work that is estimated to need more than this process was given.

    `where` and `remedy` go into the refusal. Raises TooMuchMemory. **Validity**: as good as the estimate;
    where that was too small, `short_of_memory` says so afterwards.
    """
    given_bytes = memory_given_bytes()
    if wanted_bytes > given_bytes:
        raise TooMuchMemory(
            say(
                "refused_common.takes_more_memory_than_given",
                size=size_words(wanted_bytes),
                given=size_words(given_bytes),
            ),
            where=where,
            remedy=remedy,
        )


def short_of_memory(memory_bytes: int) -> TooMuchMemory:
    """What is said where the estimate was too small and the limit was hit; to be raised by whoever caught it.

    `memory_bytes` is what was given.
    """
    return TooMuchMemory(
        say("refused_common.needed_more_memory_than_given", size=size_words(memory_bytes)),
        remedy=say("refused_common.give_more_memory"),
    )


def size_words(size_bytes: float) -> str:
    """A size for people: whole MB below 1e9 bytes, else GB with three digits.

    >>> size_words(2e9), size_words(64e6)
    ('2 GB', '64 MB')
    """
    return f"{size_bytes / 1e9:.3g} GB" if size_bytes >= 1e9 else f"{size_bytes / 1e6:.0f} MB"
