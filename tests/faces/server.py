"""A real server on a free loopback port, and a paired client of it."""

from __future__ import annotations

import contextlib
import json
import ssl
import threading
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from pathlib import Path
from typing import Any, ClassVar
from unittest import mock

import httpx
import ready_worker
import uvicorn
from websockets.sync.client import ClientConnection, connect

from rehaul.jobs import Desk, open_desk
from rehaul.web import plans
from rehaul.web import worker as working
from rehaul.web.app import make_app
from rehaul.web.pairing import Codes
from rehaul.web.serving import door_options, listening, uvicorn_options
from rehaul.web.settings import Settings
from rehaul.web.tls import Certificates, certificates
from rehaul.web.visitors import Visitors
from rehaul.web.worker import Worker


@dataclass
class Running:
    """A server that answers, with the codes it gives out."""

    settings: Settings
    codes: Codes
    desk: Desk
    secrets: Certificates | None = None  # under TLS
    clients: list[httpx.Client] = field(default_factory=list)

    @property
    def url(self) -> str:
        return self.settings.url.rstrip("/")

    @property
    def trust(self) -> ssl.SSLContext | None:
        """What a client must trust to be let talk to this server."""
        return ssl.create_default_context(cafile=str(self.secrets.authority)) if self.secrets else None

    def stranger(self, **headers: str) -> httpx.Client:
        headers = {"origin": self.url, **headers}
        client = httpx.Client(base_url=self.url, headers=headers, timeout=30, verify=self.trust or True)
        self.clients.append(client)
        return client

    def paired(self, name: str = "Ann") -> httpx.Client:
        client = self.stranger()
        code = self.codes.new().code
        answer = client.post("/api/pair", json={"code": code, "name": name})
        while answer.status_code == 429:  # a test before typed wrong ones
            time.sleep(self.codes.wait_s("127.0.0.1") + 0.01)
            answer = client.post("/api/pair", json={"code": code, "name": name})
        answer.raise_for_status()
        return client

    def socket(self, client: httpx.Client, path: str, **more: Any) -> ClientConnection:
        """A live socket; under TLS by version 1.2.

        The client reads in a thread of its own. By 1.3 the server's tickets come after the handshake, and
        what the client writes while its other thread reads them is lost, once in a thousand times.
        """
        trust = self.trust
        if trust:
            trust.maximum_version = ssl.TLSVersion.TLSv1_2
        cookie = "; ".join(f"{name}={value}" for name, value in client.cookies.items())
        return connect(
            self.url.replace("http", "ws", 1) + path,
            origin=more.pop("origin", self.url),
            additional_headers={"cookie": cookie},
            max_size=None,
            ssl=trust,
            compression=more.pop("compression", None),
            **more,
        )


class LastingWorker(Worker):
    """A worker whose process goes on for the next server: it has started, and finds the plans of this run."""

    idle: ClassVar[list[tuple[BaseProcess, Connection, bool]]] = []  # True: told to leave what it does
    _told = False  # whether it was, since the last time it had left

    async def _left(self) -> None:
        if self._process is None and self.idle:
            self._process, self._pipe, self._leaving = self.idle.pop()
        await super()._left()
        self._told = False

    def _start(self) -> Connection:
        with mock.patch.object(working, "serve_tasks", ready_worker.serve_tasks):
            return super()._start()

    def _leave(self, pipe: Connection) -> None:
        super()._leave(pipe)
        self._told = True

    def stop(self) -> None:
        """Keep the process if nothing is under way, or if that was told to be left: the server ends alone."""
        settled = not self._turn.locked() and self._hearing is None and self._leaving == self._told
        if self._process is not None and self._pipe is not None and settled:
            self.idle.append((self._process, self._pipe, self._leaving))
            self._process = self._pipe = None
        super().stop()


def end_workers() -> None:
    for process, pipe, _ in LastingWorker.idle:
        process.kill()
        process.join(5)
        pipe.close()
    LastingWorker.idle.clear()


@contextlib.contextmanager
def running(
    place: Path,
    store: str | None = None,
    *,
    address: str = "127.0.0.1",
    port: int = 0,
    secrets: Path | None = None,
    worker: type[Worker] = Worker,
) -> Iterator[Running]:
    """A server of a folder, a file or a database, in a thread of this process; with `secrets` over TLS.

    Its plans are made by a `worker` of its own, or by a `LastingWorker`.
    """
    with listening(address, port) as socket:
        settings = Settings(port=socket.getsockname()[1], address=address, tls=secrets is not None)
        codes = Codes()
        desk = open_desk(place, store)
        visitors = Visitors()
        app = make_app(desk, settings, codes, visitors)
        files = certificates(secrets, address) if secrets else None
        options = uvicorn_options() | door_options(visitors)
        if files:
            options |= {"ssl_certfile": str(files.chain), "ssl_keyfile": str(files.key)}
        server = uvicorn.Server(uvicorn.Config(app, **options))
        thread = threading.Thread(target=server.run, kwargs={"sockets": [socket]})
        with mock.patch.object(plans, "Worker", worker):
            thread.start()
            while not server.started:
                assert thread.is_alive(), "the server did not start"
                time.sleep(0.01)
        found = Running(settings, codes, desk, files)
        try:
            yield found
        finally:
            for client in found.clients:
                client.close()
            server.should_exit = True
            thread.join(20)
            assert not thread.is_alive(), "the server does not stop"


class Talker:
    """A client on the live socket."""

    def __init__(self, socket: ClientConnection, seen: int | None = None) -> None:
        self.socket = socket
        self.inbox: list[dict[str, Any]] = []
        self.say(type="hello", seen=seen)

    def say(self, **message: Any) -> None:
        self.socket.send(json.dumps(message))

    def hear(self, kind: str, *, seconds: float = 10, **having: Any) -> dict[str, Any]:
        """The next message of a kind, others kept for later."""

        def fits(message: dict[str, Any]) -> bool:
            return message["type"] == kind and all(message.get(k) == v for k, v in having.items())

        ends = time.monotonic() + seconds
        while True:
            for index, message in enumerate(self.inbox):
                if fits(message):
                    return self.inbox.pop(index)
            self.inbox.append(json.loads(self.socket.recv(timeout=max(0.01, ends - time.monotonic()))))

    def rows(self, up_to: int) -> list[dict[str, Any]]:
        """Everybody's edits as they come, until a revision is there."""
        found: list[dict[str, Any]] = []
        while not found or found[-1]["revision"] < up_to:
            found += self.hear("edits")["edits"]
        return found
