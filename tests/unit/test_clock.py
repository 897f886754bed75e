"""Limits of time on work: what the thread works counts, what passes on the wall only at a multiple of it."""

from __future__ import annotations

import math
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass

import pytest

from rehaul import clock as clocks
from rehaul.clock import LONGEST_WAIT, LOOK_S, Clock


@dataclass
class Times:
    """Two times that pass as they are told to."""

    worked_s: float = 100.0
    wall_s: float = 5000.0

    def thread_time(self) -> float:
        return self.worked_s

    def monotonic(self) -> float:
        return self.wall_s

    def work(self, seconds: float) -> None:
        self.worked_s += seconds
        self.wall_s += seconds

    def wait(self, seconds: float) -> None:
        self.wall_s += seconds


@pytest.fixture
def times(monkeypatch: pytest.MonkeyPatch) -> Times:
    told = Times()
    monkeypatch.setattr(clocks, "time", told)
    return told


def test_what_the_thread_works_counts_and_what_it_waits_does_not(times: Times) -> None:
    clock = Clock(4.0)
    times.wait(7.0)
    assert clock.left_s == 4.0 and not clock.is_up()
    times.work(3.0)
    assert clock.left_s == 1.0 and not clock.is_up()
    times.work(1.0)
    assert clock.left_s == 0.0 and clock.is_up()
    times.work(1.0)
    assert clock.left_s == 0.0, "never below nought"


def test_on_the_wall_it_ends_at_a_multiple_of_the_limit(times: Times) -> None:
    clock = Clock(4.0)
    times.work(1.0)
    times.wait(LONGEST_WAIT * 4.0 - 1.0 - 0.01)
    assert clock.left_s == 3.0 and not clock.is_up()
    times.wait(0.01)
    assert clock.left_s == 0.0 and clock.is_up()
    assert 3.0 <= LONGEST_WAIT <= 6.0, "well above the limit where two share a processor; no wait without end"


def test_a_part_ends_with_the_whole_by_work_and_on_the_wall(times: Times) -> None:
    whole = Clock(4.0)
    times.work(3.0)
    part = Clock(2.0, within=whole)
    assert part.left_s == 1.0 == Clock(1.5, within=part).left_s
    assert Clock(0.5, within=whole).left_s == 0.5
    times.wait(LONGEST_WAIT * 4.0 - 3.0)
    late = Clock(2.0, within=whole)
    assert whole.is_up() and part.is_up() and late.is_up()
    assert Clock(2.0).left_s == 2.0


def test_no_limit_is_never_up_and_its_parts_are(times: Times) -> None:
    looked: list[float] = []
    whole = Clock(math.inf, look=lambda: looked.append(times.wall_s))
    part = Clock(1.0, within=whole)
    times.work(1e6)
    assert not whole.is_up() and whole.left_s == math.inf and part.is_up()


def test_it_looks_now_and_then_and_parts_look_as_the_whole(times: Times) -> None:
    looked: list[float] = []
    whole = Clock(math.inf, look=lambda: looked.append(times.wall_s))
    parts = [whole, Clock(1000.0, within=whole), Clock(1000.0, within=Clock(1000.0, within=whole))]
    began_s = times.wall_s
    for turn in range(40):
        times.wait(0.3 * LOOK_S)
        parts[turn % 3].is_up()
    assert len(looked) == 10, "seldom, however many ask"
    assert looked[0] - began_s >= LOOK_S
    own: list[int] = []
    times.wait(LOOK_S)
    Clock(1.0, within=whole, look=lambda: own.append(1)).is_up()
    assert own == [], "not before the time has come"
    mine = Clock(9.0, within=whole, look=lambda: own.append(1))
    times.wait(LOOK_S)
    assert not mine.is_up() and own == [1]


def test_who_looks_may_break_off(times: Times) -> None:
    class Left(Exception):
        pass

    def leave() -> None:
        raise Left

    clock = Clock(1.0, look=leave)
    assert not clock.is_up()
    times.wait(LOOK_S)
    with pytest.raises(Left):
        clock.is_up()


def test_no_other_thread_reads_it() -> None:
    clock, said = Clock(1.0), []

    def read(ask: Callable[[], object]) -> None:
        try:
            ask()
        except RuntimeError as error:
            said.append(str(error))

    for ask in (clock.is_up, lambda: clock.left_s):
        thread = threading.Thread(target=read, args=(ask,))
        thread.start()
        thread.join()
    assert len(said) == 2 and not clock.is_up()


def test_of_the_real_clock_sleep_takes_nothing_and_work_takes_it_all() -> None:
    asleep = Clock(2.0)
    time.sleep(0.4)
    assert asleep.left_s > 1.8
    busy, began_s = Clock(0.05), time.thread_time()
    while not busy.is_up():
        assert time.thread_time() - began_s < 1.0
    waited = Clock(0.02)
    time.sleep(LONGEST_WAIT * 0.02 + 0.01)
    assert waited.is_up()
