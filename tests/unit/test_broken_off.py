"""Work beside one's own: broken off it is not waited for, and a fault of its own comes through."""

from __future__ import annotations

import threading
import time
from concurrent.futures import Future

import pytest

from rehaul.beside import Beside, BrokenOff, result_of, unwaited


class Left(Exception):
    pass


def test_who_breaks_off_does_not_wait_and_what_was_not_begun_is_not() -> None:
    go = threading.Event()
    begun: list[str] = []

    def first() -> bool:
        begun.append("first")
        return go.wait(20.0)

    def leave() -> None:
        raise Left

    began_s = time.perf_counter()
    with pytest.raises(Left), unwaited() as beside:
        work = beside.submit(first)
        beside.submit(lambda: begun.append("second"))
        result_of(work, leave)
    assert time.perf_counter() - began_s < 10.0
    go.set()
    assert work.result(20.0) is True
    assert begun == ["first"]


def test_work_that_looks_ends_once_nobody_waits_and_not_before() -> None:
    turns = threading.Semaphore(0)

    def work(beside: Beside) -> str:
        while not turns.acquire(timeout=0.01):
            beside.look()
        return "done"

    with pytest.raises(Left), unwaited() as beside:
        coming = beside.submit(work, beside)
        raise Left
    with pytest.raises(BrokenOff):
        coming.result(20.0)
    with unwaited() as beside:
        coming = beside.submit(work, beside)
    assert not coming.done(), "who got through without it may still ask for it"
    turns.release()
    assert coming.result(20.0) == "done"


def test_what_comes_of_it_or_its_own_fault() -> None:
    looked: list[int] = []
    with unwaited() as beside:
        slow = beside.submit(lambda: str(threading.Event().wait(0.2)))
        assert result_of(slow, lambda: looked.append(1)) == "False" and len(looked) >= 2

        def late() -> None:
            raise TimeoutError("its own")

        with pytest.raises(TimeoutError, match="its own"):
            result_of(beside.submit(late), lambda: None)


def test_what_ends_as_the_look_at_it_does_is_no_fault() -> None:
    class AtTheLastMoment(Future[str]):
        def result(self, timeout: float | None = None) -> str:
            if timeout is not None and not self.done():
                self.set_result("done")
                raise TimeoutError
            return super().result(timeout)

    work = AtTheLastMoment()
    assert result_of(work, lambda: work.set_result("done")) == "done"
