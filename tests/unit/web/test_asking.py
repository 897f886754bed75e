"""A store that hangs is given up in time, and takes no more than its share of threads."""

from __future__ import annotations

import asyncio
import threading
import time

import pytest

from rehaul.errors import CannotSave
from rehaul.web import asking
from rehaul.web.asking import MOST_AT_ONCE, asked


def test_the_answer_and_what_the_question_was_asked_with() -> None:
    assert asyncio.run(asked(divmod, 17, 5)) == (3, 2)


@pytest.mark.parametrize(("wait_s", "own_s"), [(0.05, None), (30.0, 0.05)])
def test_a_store_that_hangs_is_given_up(
    monkeypatch: pytest.MonkeyPatch, wait_s: float, own_s: float | None
) -> None:
    """After the time of the table, or after the question's own, whichever was asked for."""
    monkeypatch.setattr(asking, "server_number", {"store_wait": wait_s}.__getitem__)
    free = threading.Event()

    async def ask() -> None:
        with pytest.raises(CannotSave, match="does not answer"):
            await asked(free.wait, 5.0, seconds=own_s)

    begun = time.monotonic()
    try:
        asyncio.run(asyncio.wait_for(ask(), 4.0))
        assert time.monotonic() - begun < 4.0
    finally:
        free.set()


@pytest.mark.parametrize(("wait_s", "own_s"), [(5.0, None), (0.01, 5.0)])
def test_a_slow_store_is_waited_for(
    monkeypatch: pytest.MonkeyPatch, wait_s: float, own_s: float | None
) -> None:
    monkeypatch.setattr(asking, "server_number", {"store_wait": wait_s}.__getitem__)

    def slow() -> str:
        time.sleep(0.15)
        return "at last"

    assert asyncio.run(asked(slow, seconds=own_s)) == "at last"


def test_questions_beyond_the_share_wait_for_a_place() -> None:
    """All places of the store taken, the next question is answered as soon as one is free, not before."""
    free, busy, lock = threading.Event(), [0, 0], threading.Lock()

    def question() -> None:
        with lock:
            busy[0] += 1
            busy[1] = max(busy)
        free.wait(10.0)
        with lock:
            busy[0] -= 1

    async def talk() -> None:
        asking_now = [asyncio.create_task(asked(question, seconds=20.0)) for _ in range(MOST_AT_ONCE + 5)]
        for _ in range(200):
            await asyncio.sleep(0.02)
            if busy[0] >= MOST_AT_ONCE:
                break
        await asyncio.sleep(0.1)
        assert busy[0] == MOST_AT_ONCE < 40
        free.set()
        await asyncio.gather(*asking_now)

    asyncio.run(talk())
    assert busy == [0, MOST_AT_ONCE]
