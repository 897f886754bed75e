"""Work beside one's own that nobody waits for where one's own is broken off."""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from concurrent.futures import TimeoutError as FutureTimeout
from typing import TypeVar

LOOK_S = 0.03
T = TypeVar("T")


@contextlib.contextmanager
def unwaited() -> Iterator[ThreadPoolExecutor]:
    """A thread that is not waited for at the end: what it does then ends in its own time, for nobody."""
    beside = ThreadPoolExecutor(1)
    try:
        yield beside
    finally:
        beside.shutdown(wait=False, cancel_futures=True)


def result_of(work: Future[T], look: Callable[[], None]) -> T:
    """What work beside comes to; `look` is called while it lasts, and may raise to break off."""
    while True:
        try:
            return work.result(LOOK_S)
        except FutureTimeout:
            if work.done():  # its own: it was not ours
                raise
            look()
