"""How long a device stays let in, on every server of one store, and what is written down of it."""

from __future__ import annotations

import contextlib
import json
import time
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest
from server import Running, Talker, running
from websockets.exceptions import ConnectionClosedError

from rehaul.house import Job
from rehaul.jobs import save_job

DAY_S = 24 * 3600.0
WITHIN_S = 1.5  # a second, and what two slow cores take


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    save_job(tmp_path / "small.rehaul.json", Job(id="small", title="Small"))
    return tmp_path


@pytest.fixture
def server(folder: Path) -> Iterator[Running]:
    with running(folder) as found:
        yield found


def token(server: Running, client: httpx.Client) -> str:
    return client.cookies[server.settings.cookie]


def ask_with(server: Running, held: str) -> int:
    return server.stranger(cookie=f"{server.settings.cookie}={held}").get("/api/me").status_code


def out_within(server: Running, held: str, seconds: float = WITHIN_S) -> bool:
    ends = time.monotonic() + seconds
    while time.monotonic() < ends:
        if ask_with(server, held) == 401:
            return True
        time.sleep(0.05)
    return False


def device_of(client: httpx.Client) -> str:
    return str(client.get("/api/me").json()["device"])


def test_forgotten_on_one_server_is_out_on_every_other(folder: Path) -> None:
    with running(folder) as one, running(folder) as other:
        ann, ben = one.paired("Ann"), one.paired("Ben")
        held = token(one, ben)
        assert ask_with(other, held) == 200, "both work on one folder"
        assert ann.post(f"/api/devices/{device_of(ben)}/forget").status_code == 200
        assert ask_with(one, held) == 401, "at once where it was said"
        assert out_within(other, held)


@pytest.mark.parametrize("kind", ["live", "field"])
def test_sockets_on_other_servers_end_too(folder: Path, kind: str) -> None:
    with running(folder) as one, running(folder) as other:
        ann, ben = other.paired("Ann"), one.paired("Ben")
        with one.socket(ben, f"/api/jobs/small/{kind}") as live:
            live.send(json.dumps({"type": "hello", "seen": None} if kind == "live" else {"n": 1}))
            live.recv(timeout=5)
            ann.post(f"/api/devices/{device_of(ben)}/forget").raise_for_status()
            with pytest.raises(ConnectionClosedError) as caught:
                ends = time.monotonic() + WITHIN_S + 0.5
                while time.monotonic() < ends:
                    live.recv(timeout=WITHIN_S + 0.5)
            assert caught.value.rcvd is not None
            assert caught.value.rcvd.code == 4401


def later(server: Running, seconds: float) -> None:
    """Set the clock of the people of a server on, as if so long had passed."""
    server.desk.people.clock = lambda: time.time() + seconds  # type: ignore[method-assign,unused-ignore]
    time.sleep(1.1)


def test_a_device_that_stays_away_is_let_in_no_more(server: Running) -> None:
    held = token(server, server.paired("Ann"))
    later(server, 29 * DAY_S)
    assert ask_with(server, held) == 200
    later(server, (29 + 31) * DAY_S)
    assert ask_with(server, held) == 401


def test_coming_back_counts_as_use(server: Running) -> None:
    ann = server.paired("Ann")
    for day in range(20, 101, 20):
        later(server, day * DAY_S)
        assert ann.get("/api/me").status_code == 200, day


def test_no_device_is_in_for_ever(server: Running) -> None:
    ann = server.paired("Ann")
    for day in (25, 50, 75, 100, 125, 150, 175):
        later(server, day * DAY_S)
        assert ann.get("/api/me").status_code == 200, day
    later(server, 181 * DAY_S)
    assert ann.get("/api/me").status_code == 401


def test_tokens_change_and_the_old_one_ends(server: Running) -> None:
    ann = server.paired("Ann")
    first = token(server, ann)
    assert "set-cookie" not in ann.get("/api/me").headers, "not at every call"
    later(server, 2 * DAY_S)
    answer = ann.get("/api/me")
    words = answer.headers["set-cookie"].lower()
    assert "httponly" in words and "samesite=strict" in words
    second = token(server, ann)
    assert second != first
    assert ask_with(server, first) == 200, "until the new one has arrived"
    assert ann.get("/api/me").status_code == 200
    assert ask_with(server, first) == 200, "what was on its way then is answered"
    later(server, 2 * DAY_S + 3600)
    assert ann.get("/api/me").status_code == 200
    assert ask_with(server, first) == 401


def test_a_socket_outlives_the_change_of_token(server: Running) -> None:
    ann = server.paired("Ann")
    with server.socket(ann, "/api/jobs/small/live") as live:
        talker = Talker(live)
        talker.hear("snapshot")
        later(server, 2 * DAY_S)
        ann.get("/api/me")
        ann.get("/api/me")
        later(server, 2 * DAY_S + 3600)
        talker.say(type="undo", edit="edit-000001")
        assert talker.hear("refused")["refusal"]["code"] == "nothing-to-undo"


def test_pairing_again_ends_what_this_browser_had(server: Running) -> None:
    ann = server.paired("Ann")
    first = token(server, ann)
    body = {"code": server.codes.new().code, "name": "Ann"}
    assert ann.post("/api/pair", json=body).status_code == 200
    assert token(server, ann) != first
    assert ask_with(server, first) == 401


def test_what_happened_is_written_down_without_secrets(server: Running, folder: Path) -> None:
    code = server.codes.new().code
    stranger = server.stranger()
    stranger.post("/api/pair", json={"code": "AAAAAAAA", "name": "Eve"})
    time.sleep(1.2)
    ann = server.stranger()
    for _ in range(40):
        if ann.post("/api/pair", json={"code": code, "name": "Ann"}).status_code == 200:
            break
        time.sleep(0.1)
    ben = server.paired("Ben")
    ann.post(f"/api/devices/{device_of(ben)}/forget").raise_for_status()
    ask_with(server, token(server, ben))
    time.sleep(1.5)
    rows = ann.get("/api/security").json()["events"]
    kinds = {row["kind"] for row in rows}
    assert {"paired", "wrong-code", "forgotten", "refused"} <= kinds
    assert all(row["address"] == "127.0.0.1" and row["at"] and row["words"] for row in rows)
    assert next(row for row in rows if row["kind"] == "forgotten")["words"].count("Ben") == 1
    said = json.dumps(rows)
    for secret in (code, "AAAAAAAA", token(server, ann), token(server, ben)):
        assert secret not in said
    assert server.stranger().get("/api/security").status_code == 401
    for path in folder.glob(".rehaul-people*"):
        assert path.stat().st_mode & 0o777 == 0o600, path.name


def test_a_flood_does_not_push_out_what_matters(server: Running) -> None:
    server.paired("Ann")
    for number in range(3000):
        server.desk.people.record("wrong-code", f"10.0.{number // 250}.{number % 250}", "a wrong code")
    with contextlib.suppress(AttributeError):
        server.desk.people.write_events()
    rows = server.desk.people.events()
    assert len(rows) <= 1500
    assert any(row.kind == "paired" for row in rows)
