"""Limits of time on work: what it may take of the processor, and how long whoever waits for it waits at most.

A limit counts the processor time of the thread that works, as the system tells it, and not the time on the
wall: beside other work a search comes as far as it does alone. On a machine that gives it next to nothing
it ends all the same, at a multiple of the limit on the wall.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable

LONGEST_WAIT = 5.0  # times the limit, on the wall: a processor shared with four others
LOOK_S = 0.05  # on the wall, between two looks whether anybody still waits


class Clock:
    """What is left of a limit on the work of one thread: that which makes the clock.

    Parameters
    ----------
    limit_s : processor time of this thread [s]; on the wall it may take `LONGEST_WAIT` times that
    within : a longer limit that this is a part of: it ends with that, and looks as that does
    look : called now and then as somebody asks whether time is up; it may raise to break off the work

    What other threads work for this one, such as those of a library, is not counted, but waited for.

    **Validity**: processor time is told in steps of a clock tick on some systems, 16 ms at most; a virtual
    machine may count what its host took from it. **Source**: Python's `time.thread_time`.

    >>> reasons = Clock(10.0)
    >>> one = Clock(2.0, within=reasons)
    >>> one.is_up(), one.left_s <= 2.0
    (False, True)
    """

    def __init__(
        self, limit_s: float, *, within: Clock | None = None, look: Callable[[], None] | None = None
    ) -> None:
        self._thread = threading.get_ident()
        self._work_ends_s = time.thread_time() + limit_s
        self._wait_ends_s = time.monotonic() + LONGEST_WAIT * limit_s
        self._looks = None if look is None else _Looks(look)
        if within is not None:
            self._work_ends_s = min(self._work_ends_s, within._work_ends_s)
            self._wait_ends_s = min(self._wait_ends_s, within._wait_ends_s)
            self._looks = self._looks or within._looks

    @property
    def left_s(self) -> float:
        """Processor time that is left [s]; nought once it is up, or the wait is."""
        if threading.get_ident() != self._thread:
            raise RuntimeError("a clock tells the time of the thread that made it, and of no other")
        if time.monotonic() >= self._wait_ends_s:
            return 0.0
        return max(self._work_ends_s - time.thread_time(), 0.0)

    def is_up(self) -> bool:
        """Whether nothing is left; looks first whether anybody still waits."""
        if self._looks is not None:
            self._looks.seldom()
        return self.left_s <= 0.0


class _Looks:
    """A look that is asked for often and taken seldom."""

    def __init__(self, look: Callable[[], None]) -> None:
        self._look = look
        self._last_s = time.monotonic()

    def seldom(self) -> None:
        now_s = time.monotonic()
        if now_s - self._last_s >= LOOK_S:
            self._last_s = now_s
            self._look()
