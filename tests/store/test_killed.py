"""Real servers under load, killed with SIGKILL at random moments, over and over.

Nothing that was acknowledged is lost, nothing stands twice, and every client ends on the same state.
Killing a process says nothing about the power going out; for that the log relies on the database's
own flushing, which `test_every_commit_is_flushed` checks is switched on.
"""

from __future__ import annotations

import itertools
import json
import os
import random
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import httpx
import pytest
from replica import Replica, change, edit_data, put, small_job
from websockets.exceptions import WebSocketException
from websockets.sync.client import connect as connect_socket
from zygote import FIXED_CODE

from rehaul.jobs import Ledger, Store, connect, log_path, save_job
from rehaul.jobs.sql import Sqlite
from rehaul.web.serving import listening

ZYGOTE = Path(__file__).parent / "zygote.py"
WALLS = ("w1", "w2", "w3", "w4")


class Servers:
    """One server after another on one port."""

    def __init__(self, place: Path, store: str | None) -> None:
        with listening("127.0.0.1", 0) as probe:
            self.port = int(probe.getsockname()[1])
        command = [sys.executable, str(ZYGOTE), str(place), str(self.port), *([store] if store else [])]
        self._zygote = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
        self.pid = 0

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def start(self) -> None:
        assert self._zygote.stdin is not None
        assert self._zygote.stdout is not None
        self._zygote.stdin.write("go\n")
        self._zygote.stdin.flush()
        self.pid = int(self._zygote.stdout.readline())

    def kill(self) -> None:
        assert self._zygote.stdout is not None
        os.kill(self.pid, signal.SIGKILL)
        assert self._zygote.stdout.readline() == "gone\n"

    def close(self) -> None:
        assert self._zygote.stdin is not None
        self._zygote.stdin.close()
        self._zygote.wait(20)


class Client(threading.Thread):
    """Edits as fast as it can, keeps what is not acknowledged; when a server is lost it goes to the next."""

    def __init__(self, servers: Sequence[Servers], name: str, seed: int) -> None:
        super().__init__(daemon=True)
        self.name = name
        self._places = itertools.cycle((*servers[seed % len(servers) :], *servers[: seed % len(servers)]))
        self._servers = next(self._places)
        self._cookies: dict[int, str] = {}
        self._random = random.Random(seed)
        self._numbers = itertools.count()
        self.replica = Replica(name, 0, small_job())
        self.queue: list[dict[str, Any]] = []
        self.acknowledged: list[str] = []
        self.refused: list[str] = []
        self.working = True  # False: no new edits, only get rid of what waits
        self.faults: list[BaseException] = []

    def run(self) -> None:
        while self.working or self.queue:
            try:
                self._pair()
                self._talk()
            except (OSError, WebSocketException, httpx.TransportError, EOFError, TimeoutError):
                self._servers = next(self._places)
                time.sleep(0.003)
            except BaseException as fault:
                self.faults.append(fault)
                return

    def _pair(self) -> None:
        if self._servers.port not in self._cookies:
            body = {"code": FIXED_CODE, "name": self.name}
            answer = httpx.post(
                f"{self._servers.url}/api/pair", json=body, headers={"origin": self._servers.url}
            )
            self._cookies[self._servers.port] = answer.headers["set-cookie"].split(";")[0]

    def _talk(self) -> None:
        address = f"ws://127.0.0.1:{self._servers.port}/api/jobs/job/live"
        headers = {"cookie": self._cookies[self._servers.port]}
        with connect_socket(
            address, origin=self._servers.url, additional_headers=headers, compression=None, close_timeout=0.1
        ) as socket:
            socket.send(json.dumps({"type": "hello", "seen": self.replica.revision}))
            for message in self.queue:
                socket.send(json.dumps(message))
            while self.working or self.queue:
                while self.working and len(self.queue) < 5:
                    self.queue.append(self._edit())
                    socket.send(json.dumps(self.queue[-1]))
                self._hear(json.loads(socket.recv(timeout=5)))

    def _edit(self) -> dict[str, Any]:
        number = next(self._numbers)
        if self._random.random() < 0.3:
            gesture = put("outlet", id=f"{self.name}-{number}", storey="g")
        else:
            gesture = change("wall", self._random.choice(WALLS), note=f"{self.name} {number}")
        data = edit_data(self.replica.revision, gesture, edit=f"{self.name}-edit-{number:06d}")
        return {"type": "edit", **data}

    def _hear(self, message: dict[str, Any]) -> None:
        if message["type"] == "edits":
            for row in message["edits"]:
                self.replica.take(row["revision"], row["changes"])
        elif message["type"] in ("ack", "refused"):
            self.queue = [waiting for waiting in self.queue if waiting["edit"] != message["edit"]]
            (self.acknowledged if message["type"] == "ack" else self.refused).append(message["edit"])
        assert message["type"] != "snapshot", "a client that only fell behind is sent what it missed"


def kill_over_and_over(
    place: Path, store: str | None, kills: int, servers: int = 1
) -> tuple[list[Client], int]:
    """Clients under load while servers are killed; all have got rid of their edits at the end.

    Returns the clients, and how many kills found edits waiting.
    """
    chance = random.Random(20)
    running = [Servers(place, store) for _ in range(servers)]
    clients = [Client(running, name, seed) for seed, name in enumerate(("ann", "ben", "cyd"))]
    in_work = done = 0
    try:
        for server in running:
            server.start()
        for client in clients:
            client.start()
        while done < kills:
            heard = sum(len(client.acknowledged) for client in clients)
            ends = time.monotonic() + 5
            while sum(len(client.acknowledged) for client in clients) == heard and time.monotonic() < ends:
                time.sleep(0.002)
            time.sleep(chance.uniform(0, 0.08))
            both = chance.random() < 0.25 and kills - done >= servers
            struck = running if both else [chance.choice(running)]
            for server in struck:
                server.kill()
            done += len(struck)
            in_work += len(struck) * any(client.queue for client in clients)
            for server in struck:
                server.start()
        for client in clients:
            client.working = False
        for client in clients:
            client.join(30)
            assert not client.is_alive(), "a client does not come to an end"
            assert not client.faults, client.faults
        for server in running:
            server.kill()
    finally:
        for server in running:
            server.close()
    return clients, in_work


def check(ledger: Ledger, clients: list[Client]) -> None:
    logged = [row.edit for row in ledger.store.rows("job", 0)]
    assert len(logged) == len(set(logged)), "an edit stands twice"
    acknowledged = [edit for client in clients for edit in client.acknowledged]
    assert set(acknowledged) <= set(logged), "something acknowledged was lost"
    assert set(logged) == set(acknowledged), "something stands that its author never heard of in the end"
    for client in clients:
        mine = [edit for edit in logged if edit.startswith(client.name)]
        assert mine == sorted(mine), "a client's edits changed their order"
        assert not client.refused
    for client in clients:
        for row in ledger.rows_since(client.replica.revision) or []:
            client.replica.take(row.revision, row.changes)
        assert client.replica.document == ledger.job.model_dump(mode="json")
    standing = {outlet.id for outlet in ledger.job.house.outlets}
    rows = {row.edit: row.changes for row in ledger.store.rows("job", 0)}
    for edit in acknowledged:
        for item in rows[edit]:
            if item["do"] == "put":
                assert item["entity"]["id"] in standing


def told(what: str, kills: int, clients: list[Client], in_work: int, began_s: float) -> None:
    """The figures, and that the servers had something to lose."""
    edits = sum(len(client.acknowledged) for client in clients)
    took_s = time.monotonic() - began_s
    print(
        f"{what}: {kills} kills in {took_s:.0f} s, {edits} edits acknowledged, {in_work} with edits waiting"
    )
    assert edits > 2 * kills
    assert in_work > 0.75 * kills, "the server was hardly ever killed while it had work"


def many(few: int, all_of_them: int) -> pytest.MarkDecorator:
    """How often: some in every run, and the full count in the long ones."""
    return pytest.mark.parametrize("kills", [few, pytest.param(all_of_them, marks=pytest.mark.long)])


@pytest.mark.slow
@many(6, 300)
def test_kills_on_sqlite(kills: int, tmp_path: Path) -> None:
    path = tmp_path / "job.rehaul.json"
    save_job(path, small_job())
    began_s = time.monotonic()
    clients, in_work = kill_over_and_over(tmp_path, None, kills)
    told("SQLite", kills, clients, in_work, began_s)
    store = Store(connect(log_path(path)))
    check(Ledger(store, "job"), clients)
    assert store.database.run("PRAGMA integrity_check") == [("ok",)]
    store.close()


@pytest.mark.slow
@many(4, 100)
@pytest.mark.parametrize("servers", [pytest.param(1, marks=pytest.mark.long), 2])
def test_kills_on_postgres(servers: int, kills: int, postgres_url: str, tmp_path: Path) -> None:
    """With two servers on one store, clients go from the one that was killed to the other."""
    store = Store(connect(postgres_url))
    store.create(small_job())
    began_s = time.monotonic()
    clients, in_work = kill_over_and_over(tmp_path, postgres_url, kills, servers)
    told(f"PostgreSQL, servers: {servers}", kills, clients, in_work, began_s)
    check(Ledger(store, "job"), clients)
    store.close()


def test_every_commit_is_flushed(tmp_path: Path) -> None:
    store = Store(connect(tmp_path / "log"))
    assert isinstance(store.database, Sqlite)
    assert store.database.run("PRAGMA journal_mode") == [("wal",)]
    assert store.database.run("PRAGMA synchronous") == [(2,)], "2 is FULL"
    assert store.database._begin() == "BEGIN IMMEDIATE"
    store.close()
