"""Moments that are rare and were once wrong: each as a case of its own."""

from __future__ import annotations

import asyncio
import contextlib
import shutil
import socket
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest
from server import Running, Talker, running
from websockets.exceptions import ConnectionClosed

from rehaul.errors import CannotSave
from rehaul.facts.server import server_number
from rehaul.house import Job
from rehaul.jobs import Edit, edit_from_data, open_desk, save_job
from rehaul.web.hub import Hub
from rehaul.web.plans import Plans
from rehaul.web.sitting import Sitting
from rehaul.web.visitors import Visitors


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    save_job(tmp_path / "small.rehaul.json", Job(id="small", title="Small"))
    return tmp_path


@pytest.fixture
def server(folder: Path) -> Iterator[Running]:
    with running(folder) as found:
        yield found


def note(words: str, number: int = 1) -> Edit:
    change = {"do": "set", "kind": "job", "fields": {"notes": words}}
    return edit_from_data({"edit": f"edit-{number:06d}", "base": 0, "changes": [change]})


def test_a_job_asked_for_while_it_is_put_away_is_opened_anew(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk = open_desk(folder)
    rest, asked_for = desk.rest, threading.Event()

    def slow(key: str) -> None:
        asked_for.wait(5)
        time.sleep(0.2)  # whoever asks for the job now gets to the desk first
        rest(key)

    monkeypatch.setattr(desk, "rest", slow)

    async def story() -> str:
        hub = Hub(desk)
        first = await hub.sitting("small")
        first.used_s = -1e9
        resting = asyncio.create_task(hub._rest(first))
        while hub.open_sittings():
            await asyncio.sleep(0.001)
        asked_for.set()
        again = await hub.sitting("small")
        await resting
        await asyncio.to_thread(again.change, again.ledger.submit, "ann", note("kept"))
        assert await hub._written(again) is None, "its file follows"
        await hub.close()
        return again.ledger.job.notes

    assert asyncio.run(story()) == "kept"


def test_edits_put_into_words_while_another_comes_in(folder: Path) -> None:
    desk = open_desk(folder)
    sitting = Sitting("small", desk.ledger("small"))

    class Emptied(dict[Any, Any]):
        """As a thread empties it right after something was put in."""

        def __setitem__(self, key: Any, value: Any) -> None:
            super().__setitem__(key, value)
            self.clear()

    sitting.change(sitting.ledger.submit, "ann", note("one"))
    sitting._edits = Emptied()
    found = sitting.edits_since(0)
    assert found is not None and '"notes":"one"' in found[0]
    desk.close()


def test_edits_kept_for_those_who_come_back_are_bounded(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("rehaul.web.sitting.MOST_CHARACTERS", 10_000)
    desk = open_desk(folder)
    sitting = Sitting("small", desk.ledger("small"))
    for number in range(20):
        sitting.change(sitting.ledger.submit, "ann", note("x" * 1900, number))
    assert sum(len(text) for _, text in sitting._texts) <= 10_000
    assert sitting.edits_since(2) is None, "who was away that long starts from the document"
    found = sitting.edits_since(18)
    assert found is not None and found[0].count('"revision":') == 2
    desk.close()


def test_a_name_of_many_bytes_closes_a_socket_in_words(server: Running) -> None:
    ann = server.paired("Ann")
    for path in ("live", "field"):
        with server.socket(ann, f"/api/jobs/{'%F0%9F%8F%A0' * 50}/{path}") as found:
            with pytest.raises(ConnectionClosed) as end:
                found.recv(timeout=5)
            assert end.value.rcvd is not None and end.value.rcvd.code == 4404
            assert end.value.rcvd.reason.startswith("there is no job")


def test_a_stranger_learns_nothing_of_a_store_that_is_away(
    server: Running, monkeypatch: pytest.MonkeyPatch
) -> None:
    def away(**_: object) -> None:
        raise CannotSave(
            "the log could not be used: disk I/O error", where="/home/ann/jobs/secret.rehaul-people"
        )

    monkeypatch.setattr(server.desk.people, "refresh", away)
    monkeypatch.setattr(server.desk.people, "is_fresh", lambda: False)
    stranger = server.stranger(cookie=f"{server.settings.cookie}={'a' * 43}")
    answer = stranger.get("/api/me")
    assert answer.status_code == 503
    assert "secret" not in answer.text and "disk" not in answer.text


def test_a_plan_that_cannot_even_begin_has_failed(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    desk = open_desk(folder)

    def none_left() -> None:
        raise OSError(11, "no more processes")

    async def story() -> tuple[dict[str, Any], bool]:
        plans, sitting = Plans(), Sitting("small", desk.ledger("small"))
        monkeypatch.setattr(plans.worker, "_start", none_left)
        plans.start(sitting, "plan")
        await asyncio.sleep(0.2)
        found = plans.state(sitting), plans.is_working(sitting)
        await plans.close()
        return found

    state, is_working = asyncio.run(story())
    assert state["state"] in ("failed", "stopped") and state["refusal"] and not is_working
    desk.close()


def test_results_of_jobs_long_left_are_let_go(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    desk = open_desk(folder)

    async def done(*_: object, **__: object) -> str:
        return "made"

    async def story() -> list[str]:
        plans = Plans()
        monkeypatch.setattr(plans.worker, "run", done)
        sittings = [Sitting(f"job-{number}", desk.ledger("small")) for number in range(60)]
        for sitting in sittings:
            plans.start(sitting, "plan")
            await asyncio.sleep(0.01)
        found = [plans.piece(sitting, "plan").state for sitting in sittings]
        await plans.close()
        return found

    states = asyncio.run(story())
    assert states[-1] == "done" and states[0] == "none"
    assert 10 <= states.count("done") <= 40
    desk.close()


def test_uploads_go_on_when_what_cleans_up_took_their_folder(
    server: Running, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    place = tmp_path / "sent"
    place.mkdir()
    monkeypatch.setattr("rehaul.web.uploads.ON_DISK", place)
    ann = server.paired("Ann")
    rooms = b"Ground floor\nKitchen 4 x 3\n"
    said = [ann.post("/api/jobs/small/read", params={"kind": "rooms"}, content=rooms).status_code]
    for left in place.iterdir():
        shutil.rmtree(left)
    said.append(ann.post("/api/jobs/small/read", params={"kind": "rooms"}, content=rooms).status_code)
    assert said[0] == said[1] and said[0] in (200, 422)


def test_strangers_of_many_addresses_push_nobody_out() -> None:
    async def story() -> list[str]:
        visitors, gone = Visitors(), []

        def come(address: str) -> None:
            visitors.come(address, lambda: gone.append(address))

        for number in range(int(server_number("strangers"))):
            come(f"10.0.{number // 250}.{number % 250}")
        for _ in range(6):  # a browser
            come("192.168.1.5")
        return gone

    gone = asyncio.run(story())
    assert len(gone) == 6 and "192.168.1.5" not in gone


def test_one_address_with_very_many_goes_first() -> None:
    async def story() -> list[str]:
        visitors, gone = Visitors(), []
        for _ in range(20):
            visitors.come("192.168.1.5", lambda: gone.append("192.168.1.5"))
        for _ in range(400):
            visitors.come("10.0.0.1", lambda: gone.append("10.0.0.1"))
        return gone

    gone = asyncio.run(story())
    assert gone and "192.168.1.5" not in gone


def test_what_watches_the_door_goes_on_after_a_fault(
    server: Running, monkeypatch: pytest.MonkeyPatch
) -> None:
    ann, ben = server.paired("Ann"), server.paired("Ben")
    people = server.desk.people
    refresh, faults = people.refresh, [0]

    def faulty(**options: bool) -> frozenset[str]:
        faults[0] += 1
        if faults[0] <= 2:
            raise RuntimeError("a bug")
        return refresh(**options)

    with server.socket(ben, "/api/jobs/small/live") as found:
        Talker(found).hear("snapshot")
        device = ben.get("/api/me").json()["device"]
        monkeypatch.setattr(people, "refresh", faulty)
        time.sleep(2.0)
        people.forget(device)  # as another server of the same people would
        with pytest.raises(ConnectionClosed) as end:
            for _ in range(20):
                found.recv(timeout=5)
        assert end.value.rcvd is not None and end.value.rcvd.code == 4401
    assert ann.get("/api/me").status_code == 200


def test_paired_people_get_in_when_many_of_them_and_all_strangers_are_there(server: Running) -> None:
    name, host = server.settings.cookie, f"127.0.0.1:{server.settings.port}"
    clients = [server.paired(f"Person {number}") for number in range(8)]

    def connection(cookie: str) -> socket.socket:
        found = socket.create_connection(("127.0.0.1", server.settings.port), timeout=10)
        found.sendall(f"GET /api/me HTTP/1.1\r\nHost: {host}\r\nCookie: {cookie}\r\n\r\n".encode())
        assert found.recv(100).startswith(b"HTTP/1.1 200")
        return found

    with contextlib.ExitStack() as stack:
        for number in range(400):
            client = clients[number % 8]
            stack.enter_context(connection(f"{name}={client.cookies[name]}"))
        for _ in range(300):
            found = socket.create_connection(("127.0.0.1", server.settings.port), timeout=10)
            found.sendall(b"GET / HTTP/1.1\r\n")
            stack.enter_context(found)
        with httpx.Client(base_url=server.url, cookies=clients[0].cookies, timeout=10) as fresh:
            assert fresh.get("/api/me").status_code == 200
