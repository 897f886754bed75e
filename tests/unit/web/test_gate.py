"""The gate alone, with sessions and a page behind it made by hand."""

from __future__ import annotations

import asyncio
import contextlib
import json
from collections.abc import Callable, Iterator
from types import SimpleNamespace
from typing import Any

import pytest

from rehaul.errors import CannotSave
from rehaul.facts.server import server_number
from rehaul.web.gate import HEADERS, DoorKeeper, address_of, session_cookie
from rehaul.web.settings import Settings

SETTINGS = Settings(port=8720)
TOKEN, FRESH = "t" * 43, "f" * 43
HOST = (b"host", b"127.0.0.1:8720")
COOKIE = (b"cookie", f"rehaul-8720={TOKEN}".encode())
PAGE = (b"origin", b"http://127.0.0.1:8720")
Header = tuple[bytes, bytes]


class People:
    """Stands for the sessions: knows one token, renews it, and tells what it wrote down."""

    def __init__(self, *, fresh: str | None = None, away: bool = False) -> None:
        self.fresh, self.away, self.told = fresh, away, list[tuple[str, ...]]()
        self.people = SimpleNamespace(record=lambda *words: self.told.append(words))
        self.end: Callable[[], None] = lambda: None

    async def device(self, token: str) -> Any:
        if self.away:
            raise CannotSave("the disk /secret/place is gone", where="store", remedy="Mount it")
        return SimpleNamespace(id="D1") if token == TOKEN else None

    async def next_token(self, token: str) -> str | None:
        return self.fresh

    @contextlib.contextmanager
    def ending(self, device: str, end: Callable[[], None]) -> Iterator[None]:
        assert device == "D1"
        self.end = end
        yield


def asked_of(
    people: People,
    path: str,
    *headers: Header,
    method: str = "GET",
    own: tuple[Header, ...] = (),
    state: dict[str, Any] | None = None,
) -> tuple[int, list[Header], bytes]:
    """Status, headers and body of an answer; `own`: headers that the page behind the gate gives itself."""
    sent: list[dict[str, Any]] = []

    async def page(scope: Any, receive: Any, send: Any) -> None:
        await send({"type": "http.response.start", "status": 200, "headers": list(own)})
        await send({"type": "http.response.body", "body": b"the page"})

    async def send(message: Any) -> None:
        sent.append(message)

    scope: dict[str, Any] = {
        "type": "http", "method": method, "path": path, "headers": [HOST, *headers],
        "client": ("10.0.0.7", 4000), "state": state or {},
    }  # fmt: skip
    asyncio.run(DoorKeeper(page, SETTINGS, people)(scope, None, send))  # type: ignore[arg-type]
    start, body = sent
    return start["status"], start["headers"], body["body"]


def values(headers: list[Header], name: bytes) -> list[bytes]:
    return [value for key, value in headers if key == name]


@pytest.mark.parametrize("path", ["/api/me", "/"])
def test_every_answer_has_the_guarding_headers_once_and_only_the_api_is_never_kept(path: str) -> None:
    _, headers, body = asked_of(People(), path, COOKIE)
    assert body == b"the page"
    assert all(values(headers, name) == [value] for name, value in HEADERS)
    assert values(headers, b"cache-control") == ([b"no-store"] if path == "/api/me" else [])
    assert not values(headers, b"set-cookie")


def test_what_the_page_says_itself_stays_as_it_is() -> None:
    own = (
        (b"Cache-Control", b"max-age=60"),
        (b"X-Frame-Options", b"SAMEORIGIN"),
        (b"Set-Cookie", b"rehaul-8720=; Max-Age=0"),
    )
    _, headers, _ = asked_of(People(fresh=FRESH), "/api/me", COOKIE, own=own)
    assert headers[:3] == list(own)
    names = [name.lower() for name, _ in headers]
    assert sorted(names) == sorted({name for name, _ in HEADERS} | {b"cache-control", b"set-cookie"})


def test_an_old_token_is_renewed_by_the_api_alone() -> None:
    people = People(fresh=FRESH)
    _, headers, _ = asked_of(people, "/api/me", COOKIE)
    assert values(headers, b"set-cookie") == [session_cookie(SETTINGS, FRESH)[1]]
    for path, more in (("/", (COOKIE,)), ("/api/me", ())):
        assert not values(asked_of(people, path, *more)[1], b"set-cookie"), (path, more)
    foreign = asked_of(people, "/api/me", COOKIE, (b"origin", b"http://example.org"))
    assert foreign[0] == 403 and not values(foreign[1], b"set-cookie")


def test_a_cookie_is_sent_back_over_tls_alone_where_it_came_so() -> None:
    life_s = int(server_number("session_life"))
    plain = f"rehaul-8720={FRESH}; HttpOnly; Max-Age={life_s}; Path=/; SameSite=strict"
    assert session_cookie(SETTINGS, FRESH) == (b"set-cookie", plain.encode())
    tls = session_cookie(Settings(port=8720, tls=True), FRESH)
    assert tls == (b"set-cookie", f"{plain}; Secure".encode())


def test_a_store_that_is_away_shuts_the_api_and_says_nothing_of_itself() -> None:
    status, _, body = asked_of(People(away=True), "/api/me", COOKIE)
    assert (status, json.loads(body)["code"]) == (503, "cannot-save")
    assert b"secret" not in body and b"does not answer" in body
    people = People(away=True)
    assert asked_of(people, "/", COOKIE)[0] == 200, "the page itself holds nothing"
    assert asked_of(people, "/api/me")[0] == 401, "without a token nobody asks the store"


def test_a_token_that_lets_nobody_in_is_written_down_with_its_address() -> None:
    people = People()
    wrong = (b"cookie", f"rehaul-8720={'w' * 43}".encode())
    assert asked_of(people, "/api/me", wrong)[0] == 401
    assert [told[:2] for told in people.told] == [("refused", "10.0.0.7")]
    asked_of(people, "/api/me")
    asked_of(people, "/api/me", (b"cookie", b"rehaul-8720=short"))
    asked_of(people, "/api/me", wrong, (b"origin", b"http://example.org"))
    assert len(people.told) == 1, "no token, none of ours, and what another page sent are no news"


@pytest.mark.parametrize("name", [b"host", b"origin", b"cookie", b"sec-fetch-site"])
def test_a_header_that_matters_is_said_once(name: bytes) -> None:
    said = {b"host": HOST, b"origin": PAGE, b"cookie": COOKIE, b"sec-fetch-site": (name, b"none")}[name]
    once = () if name == b"host" else (said,)
    assert asked_of(People(), "/", *once)[0] == 200
    assert asked_of(People(), "/", *once, said)[0] == 403
    assert asked_of(People(), "/", (b"accept", b"a"), (b"accept", b"b"))[0] == 200


@pytest.mark.parametrize(
    ("method", "path", "headers", "status"),
    [
        ("GET", "/api/me", (), 401),
        ("HEAD", "/", (), 200),
        ("POST", "/", (), 403),
        ("POST", "/api/pair", (PAGE,), 200),
        ("POST", "/api/me", (PAGE,), 401),
        ("POST", "/api/me", (PAGE, COOKIE), 200),
        ("GET", "/", ((b"sec-fetch-site", b"cross-site"),), 200),
        ("GET", "/api/me", (COOKIE, (b"sec-fetch-site", b"cross-site")), 403),
        ("GET", "/api/me", (COOKIE, (b"sec-fetch-site", b"none")), 200),
    ],
)
def test_who_may_ask_what(method: str, path: str, headers: tuple[Header, ...], status: int) -> None:
    assert asked_of(People(), path, *headers, method=method)[0] == status


def visitor(*, device: str | None = None, asks: bool = True, known: bool = True) -> Any:
    aborted: list[int] = []
    return SimpleNamespace(
        device=device, may_ask=lambda: asks, is_known=lambda _: known, abort=lambda: aborted.append(1),
        aborted=aborted,
    )  # fmt: skip


def test_too_many_requests_and_too_many_connections_are_busy_and_hang_up() -> None:
    for one, cookie in ((visitor(asks=False), ()), (visitor(known=False), (COOKIE,))):
        status, headers, body = asked_of(People(), "/api/me", *cookie, state={"visitor": one})
        assert (status, json.loads(body)["code"]) == (429, "busy")
        assert values(headers, b"connection") == [b"close"]
        assert values(headers, b"content-length") == [str(len(body)).encode()]
    status, headers, _ = asked_of(People(), "/api/me", state={"visitor": visitor()})
    assert status == 401 and not values(headers, b"connection")
    known = visitor(device="D1", asks=False)
    assert asked_of(People(), "/", state={"visitor": known})[0] == 200, "a paired one's page is not counted"


def talked(people: People, *headers: Header, work: Any = None, state: Any = None) -> list[dict[str, Any]]:
    """What a socket is sent; `work` is the page behind the gate."""
    sent: list[dict[str, Any]] = []

    async def send(message: Any) -> None:
        sent.append(message)

    async def receive() -> dict[str, Any]:
        return {"type": "websocket.connect"}

    scope = {"type": "websocket", "path": "/api/jobs/x/live", "headers": [HOST, *headers],
             "client": None, "state": state if state is not None else {}}  # fmt: skip
    asyncio.run(DoorKeeper(work, SETTINGS, people)(scope, receive, send))  # type: ignore[arg-type]
    return sent


@pytest.mark.parametrize(
    ("headers", "away", "code"),
    [((PAGE,), False, 4401), ((), False, 4403), ((PAGE, COOKIE), True, 1013)],
)
def test_a_refused_socket_is_taken_first_so_that_the_page_learns_why(
    headers: tuple[Header, ...], away: bool, code: int
) -> None:
    accept, close = talked(People(away=away), *headers)
    assert accept["type"] == "websocket.accept"
    assert (close["type"], close["code"]) == ("websocket.close", code) and close["reason"]


def test_a_stranger_who_asks_too_often_gets_no_handshake() -> None:
    one = visitor(asks=False)
    talked(People(), PAGE, state={"visitor": one})
    assert one.aborted == [1]


def test_a_forgotten_device_hears_it_once_and_then_nothing_more() -> None:
    people, one = People(), visitor()

    async def page(scope: Any, receive: Any, send: Any) -> None:
        assert scope["state"]["device"].id == "D1"
        await send({"type": "websocket.send", "text": "before"})
        people.end()
        people.end()
        await send({"type": "websocket.send", "text": "after"})
        await asyncio.sleep(0.05)

    before, close = talked(people, PAGE, COOKIE, work=page, state={"visitor": one})
    assert before["text"] == "before"
    assert (close["type"], close["code"]) == ("websocket.close", 4401)
    assert one.aborted == [], "it was told in time"


def test_where_no_address_is_known_all_are_one() -> None:
    assert address_of({"client": None}) == address_of({}) == ""
    assert address_of({"client": ("10.0.0.7", 4000)}) == "10.0.0.7"
