"""Clients that leave midway: the log has no fault of ours, and nothing of them stays."""

from __future__ import annotations

import json
import logging
import socket
import struct
import time
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest
from server import Running, Talker, running

from rehaul.jobs import demo_job, save_job


@pytest.fixture(scope="module")
def sent(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """Where uploads wait."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("rehaul.web.uploads.ON_DISK", folder := tmp_path_factory.mktemp("sent"))
        yield folder


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory, sent: Path) -> Iterator[Running]:
    folder = tmp_path_factory.mktemp("jobs")
    save_job(folder / "small.rehaul.json", demo_job().model_copy(update={"id": "small"}))
    with running(folder) as found:
        yield found


@pytest.fixture(scope="module")
def ann(server: Running) -> httpx.Client:
    return server.paired("Ann")


def leave(server: Running, client: httpx.Client, words: str, body: bytes, *, rudely: bool) -> None:
    """Say a part of a request, then go: with a farewell, or as a cable that is pulled."""
    name = server.settings.cookie
    host = f"127.0.0.1:{server.settings.port}"
    head = f"{words}\r\nHost: {host}\r\nOrigin: http://{host}\r\nCookie: {name}={client.cookies[name]}\r\n"
    with socket.create_connection(("127.0.0.1", server.settings.port)) as found:
        found.sendall(head.encode() + body)
        time.sleep(0.3)
        if rudely:
            found.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))


SMALL = b"Content-Length: 3000000\r\n\r\n" + b"x" * 1000
LARGE = b"Content-Length: 3000000\r\n\r\n" + b"x" * 2_500_000
MIDWAY = {
    "a picture": ("POST /api/jobs/small/pictures HTTP/1.1", SMALL),
    "most of a picture": ("POST /api/jobs/small/pictures HTTP/1.1", LARGE),
    "a house": ("POST /api/jobs/small/read?kind=ifc HTTP/1.1", LARGE),
    "an edit": ("POST /api/jobs/small/edits HTTP/1.1", SMALL),
    "a whole house, read": (
        "POST /api/jobs/small/read?kind=rooms HTTP/1.1",
        b"Content-Length: 31\r\n\r\nGround floor\nKitchen 4 x 3\n    ",
    ),
    "the plan": ("GET /api/jobs/small/plan HTTP/1.1", b"\r\n"),
}


def a_house_is_read(client: httpx.Client) -> None:
    """In a process of its own, which is slow: after the clients that said no farewell, on the same server."""
    rooms = b"Ground floor\nKitchen 4 x 3\n"
    answer = client.post("/api/jobs/small/read", params={"kind": "rooms"}, content=rooms)
    assert answer.status_code in (200, 422)


@pytest.mark.parametrize("rudely", [False, True], ids=["with a farewell", "pulled"])
@pytest.mark.parametrize("what", MIDWAY)
def test_no_traceback_and_nothing_left(
    server: Running,
    ann: httpx.Client,
    sent: Path,
    caplog: pytest.LogCaptureFixture,
    what: str,
    rudely: bool,
) -> None:
    with caplog.at_level(logging.WARNING):
        leave(server, ann, *MIDWAY[what], rudely=rudely)
        time.sleep(0.5)
        assert ann.get("/api/me").status_code == 200
        if rudely:
            a_house_is_read(ann)
    assert [record.getMessage() for record in caplog.records] == []
    for _ in range(50):
        left = [path for path in sent.rglob("*") if path.is_file()]
        if not left:
            break
        time.sleep(0.1)
    assert left == []


@pytest.mark.parametrize("rudely", [False, True], ids=["with a farewell", "pulled"])
@pytest.mark.parametrize("measure", ["down", "up"])
def test_a_measurement_left_midway(
    server: Running, ann: httpx.Client, caplog: pytest.LogCaptureFixture, measure: str, rudely: bool
) -> None:
    with caplog.at_level(logging.WARNING):
        run = ann.post("/api/meter").json()["run"]
        words = (f"GET /api/meter/{run}/down?seconds=5 HTTP/1.1", b"\r\n")
        if measure == "up":
            words = (f"POST /api/meter/{run}/up HTTP/1.1", LARGE)
        leave(server, ann, *words, rudely=rudely)
        time.sleep(0.5)
        assert ann.get(f"/api/meter/{run}").status_code == 200
    assert [record.getMessage() for record in caplog.records] == []


@pytest.mark.parametrize("path", ["live", "field"])
@pytest.mark.parametrize("asks", [0, 1, 30])
def test_sockets_that_are_pulled(
    server: Running, ann: httpx.Client, caplog: pytest.LogCaptureFixture, path: str, asks: int
) -> None:
    storey = demo_job().house.storeys[0].id
    with caplog.at_level(logging.WARNING):
        for _ in range(3):
            talk = server.socket(ann, f"/api/jobs/small/{path}")
            if path == "live":
                Talker(talk)
            for number in range(asks):
                edit = {"do": "set", "kind": "job", "id": "", "fields": {"notes": f"{number} {time.time()}"}}
                live = {"type": "edit", "edit": f"edit-{time.time_ns()}", "base": 0, "changes": [edit]}
                field = {"n": number, "storey": storey}
                talk.send(json.dumps(live if path == "live" else field))
            talk.socket.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
            talk.socket.close()
        time.sleep(1.0)
        assert ann.get("/api/me").status_code == 200
    assert [record.getMessage() for record in caplog.records] == []
