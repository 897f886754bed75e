"""Who is let in, with a people's store made by hand: when it is asked, and whose sockets end."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from types import SimpleNamespace
from typing import Any

import pytest

from rehaul.errors import CannotSave
from rehaul.web import sessions
from rehaul.web.sessions import Sessions


class People:
    """Stands for the store: counts who asks it, and knows the devices that are left."""

    def __init__(self, *devices: str) -> None:
        self.devices, self.asked, self.told = set(devices), 0, list[tuple[str, ...]]()
        self.away = False

    def is_fresh(self) -> bool:
        return False

    def refresh(self, *, now: bool = False) -> set[str]:
        self.asked += 1
        if self.away:
            raise CannotSave("gone", where="store", remedy="Mount it")
        return self.devices

    def record(self, *words: str) -> None:
        self.told.append(words)

    def write_events(self) -> None:
        pass


@pytest.fixture(autouse=True)
def _quick(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sessions, "LOOK_EVERY_S", 0.005)


async def until(what: Callable[[], bool]) -> None:
    async with asyncio.timeout(20):
        while not what():
            await asyncio.sleep(0.005)


def test_the_store_is_left_alone_while_no_socket_is_open() -> None:
    people: Any = People("D1")

    async def day() -> None:
        doors = Sessions(people)
        doors.start()
        await asyncio.sleep(0.2)  # forty looks, if it looked
        assert people.asked == 0
        with doors.ending("D1", lambda: None):
            await until(lambda: people.asked >= 4)
        await asyncio.sleep(0.05)  # what was under way
        asked = people.asked
        await asyncio.sleep(0.2)
        assert people.asked == asked, "and again once the last one is closed"
        await doors.close()

    asyncio.run(day())
    assert people.told == []


def test_sockets_end_whose_device_is_let_in_no_more_and_no_others() -> None:
    people: Any = People("D1", "D2")
    ended: list[str] = []

    async def day() -> None:
        doors = Sessions(people)
        doors.start()
        with (
            doors.ending("D1", lambda: ended.append("D1")),
            doors.ending("D2", lambda: ended.append("D2 here")),
            doors.ending("D2", lambda: ended.append("D2 there")),
        ):
            await until(lambda: people.asked >= 4)
            assert ended == []
            people.away = True
            asked = people.asked
            await until(lambda: people.asked >= asked + 4)
            assert ended == [], "a store that is away ends nobody"
            people.away = False
            people.devices = {"D1"}
            await until(lambda: len(ended) >= 2)
        await doors.close()

    asyncio.run(day())
    assert set(ended) == {"D2 here", "D2 there"}
    assert people.told and all(words[:2] == ("refused", "") for words in people.told)


def test_a_socket_that_is_closed_is_ended_no_more() -> None:
    ended: list[str] = []
    doors = Sessions(SimpleNamespace())  # type: ignore[arg-type]
    with doors.ending("D1", lambda: ended.append("first")):
        with doors.ending("D1", lambda: ended.append("second")):
            doors.end("D1")
        assert sorted(ended) == ["first", "second"]
        doors.end("D1")
        assert ended.count("first") == 2 and ended.count("second") == 1
    doors.end("D1")
    doors.end("nobody")
    assert len(ended) == 3
