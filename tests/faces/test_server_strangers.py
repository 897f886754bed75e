"""What somebody who is not paired can do to those who are: nothing."""

from __future__ import annotations

import contextlib
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
from rehaul.web.pairing import Codes


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Running]:
    save_job(tmp_path / "small.rehaul.json", Job(id="small", title="Small"))
    with running(tmp_path) as found:
        yield found


def half(server: Running, words: str, source: str = "127.0.0.1") -> socket.socket:
    """A connection that says something and then nothing."""
    found = socket.create_connection(("127.0.0.1", server.settings.port), source_address=(source, 0))
    found.sendall(words.replace("{host}", f"127.0.0.1:{server.settings.port}").encode())
    return found


def closed_within(connection: socket.socket, seconds: float) -> bool:
    connection.settimeout(seconds)
    try:
        while connection.recv(4096):
            pass
    except TimeoutError:
        return False
    except ConnectionError:
        pass
    return True


HALVES = [
    "",
    "GET / HTTP/1.1\r\nHost: {host}\r\n",
    "POST /api/pair HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nContent-Length: 100\r\n\r\n{",
    "POST /api/codes HTTP/1.1\r\nHost: {host}\r\nContent-Length: 1000000\r\n\r\n{",
    "GET / HTTP/1.1\r\nHost: {host}\r\n\r\nGET / HT",
]


@pytest.mark.parametrize("words", HALVES, ids=["nothing", "header", "body", "refused body", "second"])
def test_half_a_request_is_closed(server: Running, words: str) -> None:
    with half(server, words) as found:
        assert closed_within(found, 14)


def test_a_byte_now_and_then_is_not_enough(server: Running) -> None:
    with half(server, "GET / HTTP/1.1\r\nHost: {host}\r\nX: ") as found:
        ends, gone = time.monotonic() + 15, False
        while time.monotonic() < ends and not gone:
            try:
                found.sendall(b"x")
                found.settimeout(0.5)
                gone = found.recv(100) == b""
            except TimeoutError:
                continue
            except ConnectionError:
                gone = True
        assert gone


@pytest.mark.parametrize("source", ["127.0.0.1", "127.0.0.9"])
def test_paired_people_get_in_however_many_strangers_hang_on(server: Running, source: str) -> None:
    ann = server.paired("Ann")
    with contextlib.ExitStack() as stack:
        for _ in range(500):
            stack.enter_context(half(server, "GET / HTTP/1.1\r\nHost: {host}\r\n", source))
        for _ in range(5):
            started = time.monotonic()
            with httpx.Client(base_url=server.url, cookies=ann.cookies, timeout=5) as fresh:
                assert fresh.get("/api/me").status_code == 200
            assert time.monotonic() - started < 2
        with server.socket(ann, "/api/jobs/small/live", open_timeout=5) as live:
            live.send('{"type": "hello", "seen": null}')
            assert "snapshot" in str(live.recv(timeout=5))


def test_a_slow_upload_of_a_paired_device_is_not_cut(server: Running) -> None:
    ann = server.paired("Ann")
    name = server.settings.cookie
    head = (
        "POST /api/jobs HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\n"
        f"Cookie: {name}={ann.cookies[name]}\r\nContent-Length: 14\r\n\r\n"
    )
    with half(server, head) as found:
        for byte in b'{"demo": 1234}':
            time.sleep(1.2)
            found.sendall(bytes([byte]))
        assert b" 422 " in found.recv(200)


def pair(server: Running, code: str, name: str = "Ann", source: str = "127.0.0.1") -> httpx.Response:
    transport = httpx.HTTPTransport(local_address=source)
    with httpx.Client(
        base_url=server.url, transport=transport, headers={"origin": server.url}, timeout=30
    ) as one:
        return one.post("/api/pair", json={"code": code, "name": name})


def test_wrong_codes_burn_nobodys_code(server: Running) -> None:
    code = server.codes.new().code
    answers = [pair(server, "AAAAAAAA", source="127.0.0.9") for _ in range(12)]
    assert {answer.status_code for answer in answers} == {401, 429}
    assert pair(server, code).status_code == 200


def test_each_wrong_code_makes_the_next_try_wait_longer(server: Running) -> None:
    server.codes.new()
    assert pair(server, "AAAAAAAA", source="127.0.0.9").status_code == 401
    early = pair(server, "AAAAAAAA", source="127.0.0.9")
    assert (early.status_code, early.json()["code"]) == (429, "busy")
    assert pair(server, "AAAAAAAA", source="127.0.0.8").status_code == 401, "another address has its own wait"


def test_waits_double_up_to_a_minute_and_early_tries_do_not_count() -> None:
    now = [1000.0]
    codes = Codes(clock=lambda: now[0])
    code = codes.new().code
    waits = []
    for _ in range(9):
        with pytest.raises(Exception, match="not the code"):
            codes.use("AAAAAAAA", "10.0.0.1")
        waited = 0.0
        while codes.wait_s("10.0.0.1") > 0:
            with pytest.raises(Exception, match="too many"):
                codes.use(code, "10.0.0.1")
            now[0] += 0.5
            waited += 0.5
        waits.append(waited)
        code = codes.new().code
    assert waits == [1, 2, 4, 8, 16, 32, 60, 60, 60]
    codes.use(code, "10.0.0.1")


def test_many_addresses_are_slowed_together() -> None:
    """Guessing on from new addresses: every wrong try at one code holds back the next answer."""
    codes = Codes()
    codes.new()
    for number in range(60):
        with pytest.raises(Exception, match="not the code"):
            codes.use("AAAAAAAA", f"10.0.0.{number}")
    assert codes.hold_s() == 1.0
    codes.new()
    assert codes.hold_s() == 0.0


def test_addresses_remembered_are_bounded() -> None:
    codes = Codes()
    codes.new()
    for number in range(5000):
        with pytest.raises(Exception, match="not the code"):
            codes.use("AAAAAAAA", f"10.0.{number // 250}.{number % 250}")
    assert codes.remembered <= 2000


@pytest.mark.parametrize("name", ["", "  ", "x" * 41])
def test_a_name_that_is_none_leaves_the_code(server: Running, name: str) -> None:
    code = server.codes.new().code
    assert pair(server, code, name).status_code == 422
    assert pair(server, code).status_code == 200
    assert pair(server, code).status_code in (401, 429), "but a success uses it up"


def test_two_at_once_with_one_code(server: Running) -> None:
    code = server.codes.new().code
    found: list[int] = []
    threads = [
        threading.Thread(target=lambda: found.append(pair(server, code).status_code)) for _ in range(8)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert found.count(200) == 1


def test_made_up_cookies_cost_the_store_nothing(server: Running) -> None:
    asked = []
    database = server.desk.people._store.database
    run = database.run
    database.run = lambda sql, values=(): (asked.append(sql), run(sql, values))[1]  # type: ignore[method-assign]
    with server.stranger() as stranger:
        started = time.monotonic()
        for number in range(100):
            cookie = f"{server.settings.cookie}={str(number).zfill(43)}"
            assert stranger.get("/api/me", headers={"cookie": cookie}).status_code in (401, 429)
        seconds = time.monotonic() - started
    assert len(asked) <= 4 * (seconds + 2)
