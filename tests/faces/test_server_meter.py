"""The meter: counted right, bounded, and only for paired devices."""

from __future__ import annotations

import logging
import socket
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest
from server import Running, running

from rehaul.house import Job
from rehaul.jobs import save_job
from rehaul.web.meter import MOST_RUNS, Transfer


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Running]:
    save_job(tmp_path / "small.rehaul.json", Job(id="small", title="Small"))
    with running(tmp_path) as found:
        yield found


@pytest.fixture
def ann(server: Running) -> httpx.Client:
    return server.paired("Ann")


def new_run(client: httpx.Client) -> str:
    answer = client.post("/api/meter")
    assert answer.status_code == 201
    return str(answer.json()["run"])


def test_down_is_counted_as_it_arrives(ann: httpx.Client) -> None:
    run = new_run(ann)
    got = 0
    started = time.perf_counter()
    with ann.stream("GET", f"/api/meter/{run}/down", params={"seconds": 0.5}) as answer:
        for part in answer.iter_raw():
            got += len(part)
    took = time.perf_counter() - started
    found = ann.get(f"/api/meter/{run}").json()
    assert found["down_bytes"] == got
    assert 0.5 <= found["down_seconds"] <= took + 0.1
    assert got > 1_000_000


def test_up_is_counted(ann: httpx.Client) -> None:
    run = new_run(ann)
    for _ in range(2):
        assert ann.post(f"/api/meter/{run}/up", content=b"x" * 3_000_000).json()["bytes"] == 3_000_000
    assert ann.get(f"/api/meter/{run}").json()["up_bytes"] == 6_000_000


def test_a_sender_who_leaves_midway_is_no_fault(
    server: Running, ann: httpx.Client, caplog: pytest.LogCaptureFixture
) -> None:
    logging.getLogger("uvicorn.error").addHandler(caplog.handler)
    run = new_run(ann)
    with socket.create_connection(("127.0.0.1", server.settings.port)) as sender:
        cookie = "; ".join(f"{name}={value}" for name, value in ann.cookies.items())
        head = f"POST /api/meter/{run}/up HTTP/1.1\r\nHost: 127.0.0.1:{server.settings.port}\r\n"
        head += f"Origin: {server.url}\r\nCookie: {cookie}\r\nContent-Length: 9000000\r\n\r\n"
        sender.sendall(head.encode() + b"x" * 1_000_000)
        time.sleep(0.3)
    time.sleep(0.2)
    found = ann.get(f"/api/meter/{run}").json()
    assert found["up_bytes"] == 1_000_000
    logging.getLogger("uvicorn.error").removeHandler(caplog.handler)
    assert not caplog.records, "the server took it for a fault of its own"


def test_several_streams_at_once(server: Running, ann: httpx.Client) -> None:
    run = new_run(ann)
    got: list[int] = []

    def pull() -> None:
        with httpx.Client(base_url=server.url, cookies=ann.cookies) as client:
            got.append(len(client.get(f"/api/meter/{run}/down", params={"seconds": 0.4}).content))

    threads = [threading.Thread(target=pull) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    found = ann.get(f"/api/meter/{run}").json()
    assert found["down_bytes"] == sum(got)
    assert found["down_seconds"] < 3


def test_bytes_and_seconds_belong_together_while_it_runs(server: Running, ann: httpx.Client) -> None:
    run = new_run(ann)
    with ann.stream("GET", f"/api/meter/{run}/down", params={"seconds": 1}) as answer:
        parts = answer.iter_raw()
        next(parts)
        with httpx.Client(base_url=server.url, cookies=ann.cookies) as other:
            early = other.get(f"/api/meter/{run}").json()
            for _ in range(20):
                next(parts)
            later = other.get(f"/api/meter/{run}").json()
    assert 0 < early["down_seconds"] < later["down_seconds"] < 1.5
    assert 0 < early["down_bytes"] <= later["down_bytes"]


def test_bounds(server: Running, ann: httpx.Client) -> None:
    run = new_run(ann)
    for seconds in ("0", "16", "nan", "inf", "x", "-1"):
        assert ann.get(f"/api/meter/{run}/down", params={"seconds": seconds}).status_code == 422
    assert ann.post(f"/api/meter/{run}/up", content=b"x" * 65_000_000).status_code == 413
    assert ann.get("/api/meter/none/ping").status_code == 404
    ben = server.paired("Ben")
    assert ben.get(f"/api/meter/{run}/ping").status_code == 404, "another device's run"
    assert new_run(ann) != run
    assert ann.get(f"/api/meter/{run}/ping").status_code == 404, "one run per device"
    others = [server.paired(f"P{number}") for number in range(MOST_RUNS)]
    codes = [other.post("/api/meter").status_code for other in others]
    assert codes == [201] * (MOST_RUNS - 1) + [429]
    assert server.stranger().get(f"/api/meter/{run}/down").status_code == 401


def test_ping_is_quick_and_empty(ann: httpx.Client) -> None:
    answer = ann.get(f"/api/meter/{new_run(ann)}/ping")
    assert (answer.status_code, answer.content) == (204, b"")


def test_who_the_limit_is() -> None:
    idle, busy = Transfer(), Transfer()
    idle.begin()
    time.sleep(0.2)
    idle.end()
    busy.begin()
    ends = time.thread_time() + 0.2
    while time.thread_time() < ends:
        pass
    busy.end()
    assert idle.waiting_share > 0.9
    assert busy.waiting_share < idle.waiting_share
