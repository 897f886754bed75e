"""Work beside one's own that nobody waits for where one's own is broken off."""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor, wait
from typing import TypeVar

LOOK_S = 0.03
T = TypeVar("T")


class BrokenOff(Exception):
    """In work beside: whoever began it waits for it no more."""


class Beside(ThreadPoolExecutor):
    """One thread beside one's own."""

    def __init__(self) -> None:
        super().__init__(1)
        self.broken_off = False

    def look(self) -> None:
        """For the work itself, now and then. Raises BrokenOff where nobody waits for it any more."""
        if self.broken_off:
            raise BrokenOff


@contextlib.contextmanager
def unwaited() -> Iterator[Beside]:
    """A thread that is not waited for at the end.

    Where one's own work is broken off, that beside ends as it looks (`Beside.look`), or in its own time.
    """
    beside = Beside()
    try:
        yield beside
    except BaseException:
        beside.broken_off = True
        raise
    finally:
        beside.shutdown(wait=False, cancel_futures=True)


def result_of(work: Future[T], look: Callable[[], None]) -> T:
    """What work beside comes to; `look` is called while it lasts, and may raise to break off."""
    while not wait((work,), LOOK_S).done:
        look()
    return work.result()
