"""Small parts of the server by themselves: its names, what it refuses with, headers, pages, maps, doors."""

from __future__ import annotations

import asyncio
import gzip
import json
import random
import struct
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from starlette.requests import ClientDisconnect

from rehaul.errors import BadInput, CannotSave, OutOfRange, Refusal
from rehaul.predict.moving import RoomNow
from rehaul.web import asking, handshakes, hub, live, offer_routes, settings
from rehaul.web.answers import (
    Absent,
    BadText,
    Busy,
    Json,
    TooLarge,
    body_of,
    is_plain,
    json_of,
    object_from,
    our_fault,
    refused,
)
from rehaul.web.app import make_app
from rehaul.web.gate import HEADERS, SAFE_METHODS, DoorKeeper, _headers, _with_headers
from rehaul.web.handshakes import Knock, Loop
from rehaul.web.pages import NOT_BUILT, Pages, _page
from rehaul.web.rasters import Maps, Raster, StoreyMaps, map_raster
from rehaul.web.settings import Settings

thing: Any = SimpleNamespace
FOREIGN_NAME = ("that name is not this server's", "Use the address the server shows")
FOREIGN_PAGE = ("another page asked for this", "Open the server's own page")


def test_the_names_that_a_server_answers_to() -> None:
    own = Settings(port=8720)
    assert own.hosts == {"127.0.0.1:8720", "localhost:8720"} and own.scheme == "http"
    assert own.origins == {"http://127.0.0.1:8720", "http://localhost:8720"}
    assert (own.url, own.cookie) == ("http://127.0.0.1:8720/", "rehaul-8720")
    lan = Settings(port=443, address="192.0.2.7", lan=True, tls=True)
    assert lan.hosts == {"192.0.2.7:443", "192.0.2.7"} and lan.url == "https://192.0.2.7:443/"
    assert lan.origins == {"https://192.0.2.7:443", "https://192.0.2.7"}
    assert Settings(port=80, address="192.0.2.7").hosts == {"192.0.2.7:80", "192.0.2.7"}
    assert Settings(port=80, address="192.0.2.7", tls=True).hosts == {"192.0.2.7:80"}
    assert Settings(port=443, address="192.0.2.7").hosts == {"192.0.2.7:443"}
    six = Settings(port=1, address="::1")
    assert six.hosts == {"[::1]:1", "localhost:1", "127.0.0.1:1"} and six.url == "http://[::1]:1/"
    assert (own.lan, own.tls) == (False, False)


@pytest.mark.parametrize("reached", [True, False])
def test_the_address_on_the_local_network(monkeypatch: pytest.MonkeyPatch, reached: bool) -> None:
    """Asked of a datagram socket towards an address that nobody has (RFC 5737); nothing is sent."""
    asked: list[Any] = []

    class Probe:
        def __init__(self, *kind: Any) -> None:
            asked.append(kind)

        def __enter__(self) -> Probe:
            return self

        def __exit__(self, *_: Any) -> None: ...

        def connect(self, where: Any) -> None:
            asked.append(where)
            if not reached:
                raise OSError

        def getsockname(self) -> tuple[str, int]:
            return ("198.51.100.4", 7) if len(asked) > 1 else ("0.0.0.0", 0)

    real = settings.socket
    fake = thing(socket=Probe, AF_INET=real.AF_INET, SOCK_DGRAM=real.SOCK_DGRAM)
    monkeypatch.setattr(settings, "socket", fake)
    assert settings.lan_address() == ("198.51.100.4" if reached else "127.0.0.1")
    assert asked == [(real.AF_INET, real.SOCK_DGRAM), ("192.0.2.1", 9)]


@pytest.mark.parametrize(
    ("refusal", "status"),
    [
        (BadInput("x"), 422),
        (OutOfRange("x"), 422),
        (CannotSave("x"), 503),
        (Absent("x"), 404),
        (Busy("x"), 429),
        (TooLarge("x"), 413),
        (Refusal("x"), 422),
        (Refusal("x", code="unpaired"), 401),
        (Refusal("x", code="wrong-code"), 401),
        (Refusal("x", code="foreign"), 403),
        (Refusal("x", code="taken"), 409),
        (Refusal("x", code="held"), 409),
        (Refusal("x", code="out-of-order"), 409),
        (Refusal("x", code="overtaken"), 409),
        (Refusal("x", code="nothing-to-undo"), 409),
    ],
)
def test_each_refusal_has_its_number(refusal: Refusal, status: int) -> None:
    answer = asyncio.run(refused(thing(), refusal))
    assert answer.status_code == status
    told = json.loads(bytes(answer.body))
    assert told["code"] == refusal.code and told["problem"] == "x"


def test_a_fault_of_ours_tells_no_detail() -> None:
    answer = asyncio.run(our_fault(thing(), ValueError("secret")))
    told = json.loads(bytes(answer.body))
    assert answer.status_code == 500 and told["code"] == "fault" and b"secret" not in bytes(answer.body)
    assert bytes(Json({"a": [1, "é"]}).body) == '{"a":[1,"é"]}'.encode()
    with pytest.raises(ValueError, match="JSON"):
        Json({"a": float("nan")})


def sent(*parts: bytes, announced: str | None = None, leaves: bool = False) -> Any:
    async def stream() -> Any:
        for part in parts:
            yield part
        if leaves:
            raise ClientDisconnect

    return thing(headers={} if announced is None else {"content-length": announced}, stream=stream)


def test_a_body_is_read_up_to_its_limit_and_no_further() -> None:
    assert asyncio.run(body_of(sent(b"abc", b"de"), 5)) == b"abcde"
    for request in (sent(b"abc", b"def"), sent(announced="6"), sent(b"abcdef", announced="lots")):
        with pytest.raises(TooLarge):
            asyncio.run(body_of(request, 5))
    assert asyncio.run(body_of(sent(b"abcde", announced="5"), 5)) == b"abcde"
    with pytest.raises(BadInput):
        asyncio.run(body_of(sent(b"abc", leaves=True), 5))
    big = b'{"a":"' + b"x" * 999_992 + b'"}'
    assert len(big) == 1_000_000 and asyncio.run(json_of(sent(big)))["a"][0] == "x"
    with pytest.raises(TooLarge, match="1 MB"):
        asyncio.run(json_of(sent(big + b" ")))


@pytest.mark.parametrize("text", ["[1]", "7", "{", b"\xff", '{"a": NaN}', '{"a": Infinity}', "[" * 9999])
def test_what_is_no_object_is_refused(text: str | bytes) -> None:
    with pytest.raises(BadInput) as refusal:
        object_from(text)
    assert not isinstance(refusal.value, BadText)


@pytest.mark.parametrize("text", [r'{"a": "\ud800"}', r'{"a": "\u0000"}', '{"a": 1e999}', r'{"\udfff": 1}'])
def test_what_could_be_neither_kept_nor_sent_on_is_refused_with_what_it_says(text: str) -> None:
    with pytest.raises(BadText) as refusal:
        object_from(text)
    assert len(refusal.value.data) == 1


def test_plain_data() -> None:
    assert object_from(b'{"a": "\\u00e9 1e9"}') == {"a": "é 1e9"}
    for words in ("\\u0000", "C:\\\\u0000"):  # a backslash and what follows it, as somebody may type them
        assert object_from(json.dumps({"a": words})) == {"a": words} and is_plain({"a": words})
    assert not is_plain({"a": "\\\0"}) and not is_plain({"\0": 1})
    assert is_plain({"a": ["é", 1.5]}) and not is_plain({"a": "\0"}) and not is_plain({"a": float("inf")})


def answered(path: str, cookie: tuple[bytes, bytes] | None, *own: tuple[bytes, bytes]) -> list[Any]:
    told: list[Any] = []

    async def send(message: Any) -> None:
        told.append(message)

    guarded = _with_headers({"path": path}, send, cookie)
    asyncio.run(guarded({"type": "http.response.start", "status": 200, "headers": list(own)}))  # type: ignore[arg-type]
    asyncio.run(guarded({"type": "http.response.body", "body": b"x"}))  # type: ignore[arg-type]
    assert told[1] == {"type": "http.response.body", "body": b"x"}
    return told[0]["headers"]  # type: ignore[no-any-return]


def test_every_answer_has_the_headers_that_guard_it() -> None:
    token = (b"set-cookie", b"t")
    assert answered("/", None) == list(HEADERS) and len(HEADERS) == 7
    assert answered("/api/x", token) == [*HEADERS, (b"cache-control", b"no-store"), token]
    own = ((b"X-Frame-Options", b"SAMEORIGIN"), (b"Cache-Control", b"max-age=1"), (b"Set-Cookie", b"u"))
    rest = [row for row in HEADERS if row[0] != b"x-frame-options"]
    assert answered("/api/x", token, *own) == [*own, *rest]
    policy = dict(HEADERS)[b"content-security-policy"].decode()
    assert policy.startswith("default-src 'none'; ") and "unsafe" not in policy and "http" not in policy
    assert {"GET", "HEAD"} == SAFE_METHODS


def test_a_header_that_matters_may_come_once() -> None:
    for name in ("host", "origin", "cookie", "sec-fetch-site"):
        assert _headers({"headers": [(name.encode(), b"a"), (name.encode(), b"b")]}) is None
    rest = [(b"accept", b"a"), (b"accept", b"b"), (b"host", b"h")]
    assert _headers({"headers": rest}) == {"accept": "b", "host": "h"}


def offer(name: str) -> Any:
    return thing(id=name, model_dump=lambda **how: {"id": name, "left_out": sorted(how["exclude"])})


def test_the_last_offer_accepted_is_in_force(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(offer_routes, "is_intact", lambda one: one.id == "A1")
    monkeypatch.setattr(offer_routes, "how_kept", lambda one: f"kept {one.id}")
    offers = (offer("A1"), offer("A2"))
    rows = [offer_routes._row(one, offers) for one in offers]
    assert [row["in_force"] for row in rows] == [False, True] and [row["intact"] for row in rows] == [
        True,
        False,
    ]
    assert rows[0]["kept"] == "kept A1" and rows[0]["left_out"] == ["offer", "plan"]
    sitting = thing(ledger=thing(job=thing(accepted_offers=offers)))
    assert offer_routes._offer(sitting, "A2") is offers[1]
    with pytest.raises(Absent):
        offer_routes._offer(sitting, "A3")


def test_connections_are_taken_few_at_a_time_and_counted_before_they_shake_hands(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    given: list[dict[str, Any]] = []
    made: list[Any] = []
    listened: list[int] = []

    async def create(self: Any, factory: Any, *arguments: Any, **options: Any) -> str:
        given.append(options)
        made.append(factory())
        return "server"

    monkeypatch.setattr(asyncio.SelectorEventLoop, "create_server", create)
    loop = Loop()
    try:
        inner = thing(visitors=thing())
        sock = thing(listen=listened.append)
        for more in ({"backlog": 2048}, {"backlog": 7}, {}, {"ssl": "tls", "sock": sock, "backlog": 300}):
            assert loop.run_until_complete(loop.create_server(lambda: inner, **more)) == "server"
    finally:
        loop.close()
    assert [options["backlog"] for options in given] == [100, 7, 100, 100] and listened == [300]
    assert made[:3] == [inner] * 3 and isinstance(made[3], Knock) and "ssl" not in given[3]
    assert (made[3]._loop, made[3]._inner, made[3]._context) == (loop, inner, "tls")


def test_how_long_is_waited() -> None:
    """What docs/security.md and the browser's patience rest on, in seconds."""
    assert (asking.OPENING_S, asking.MOST_AT_ONCE, handshakes.HANDSHAKE_S) == (60.0, 24, 10.0)
    assert (hub.REFRESH_S, hub.EXPORT_S, hub.EXPORT_AGAIN_S, hub.LOOK_EVERY_S) == (0.5, 1.0, 3.0, 20.0)
    assert (live.LARGEST_HERE, live.HERE_EVERY_S, live.SLOWEST_S, live.MOST_WAITING) == (2000, 0.1, 30.0, 100)


def test_a_limit_that_is_reached_is_told_with_the_address() -> None:
    told: list[Any] = []
    visitors = thing(limit_reached=None)
    desk = thing(people=thing(record=lambda *said: told.append(said)))
    make_app(desk, Settings(port=1), visitors=visitors)
    visitors.limit_reached("192.0.2.1", "too many")
    assert told == [("limit", "192.0.2.1", "too many")]


def maps() -> Maps:
    down = np.array([[5.0, np.nan], [7.0, 8.0]], dtype=np.float32)
    power = np.array([[[-50, -60], [-70, -80]], [[-40, -90], [-75, -30]]], dtype=np.float32)
    sd = np.array([[[1, 2], [3, 4]], [[5, 6], [7, 8]]], dtype=np.float32)
    return Maps(("2.4", "5"), (StoreyMaps("0", 0.5, 1.5, 0.25, 1.2, {"down_mbps": down}, power, sd),))


def test_rasters_of_a_map() -> None:
    found = map_raster(maps(), "0", "power_dbm", None)
    assert found.values[1].tolist() == [-70.0, -30.0] and found.values[0, 0] == -40.0
    assert np.isnan(found.values[0, 1]), "outside the house"
    spread = map_raster(maps(), "0", "power_sd_db", None)
    assert [spread.values[0, 0], *spread.values[1]] == [5.0, 3.0, 8.0], "of the strongest by its median"
    assert map_raster(maps(), "0", "power_sd_db", "2.4").values[1].tolist() == [3.0, 4.0]
    assert map_raster(maps(), "0", "down_mbps", None).values[1].tolist() == [7.0, 8.0]
    for storey, quantity, band in (("9", "down_mbps", None), ("0", "noise", None), ("0", "power_dbm", "6")):
        with pytest.raises(BadInput):
            map_raster(maps(), storey, quantity, band)


def test_a_raster_as_bytes() -> None:
    values = np.array([[1.5, 2.5, 3.5]], dtype=np.float32)
    rooms = (RoomNow("R1", 1.0, 2.0, 3.0, 9.5),)
    framed = Raster("0", "down_mbps", None, 0.5, 1.5, 0.25, 1.2, values, rooms).framed(revision=7)
    (length,) = struct.unpack("<I", framed[:4])
    assert length % 4 == 0 and len(framed) == 4 + length + 12
    header = json.loads(framed[4 : 4 + length])
    assert header == {
        "revision": 7, "storey": "0", "quantity": "down_mbps", "band": None, "rows": 1, "cols": 3,
        "x0_m": 0.5, "y0_m": 1.5, "step_m": 0.25, "z_m": 1.2, "rooms": {"R1": [1.0, 2.0, 3.0, 9.5]},
    }  # fmt: skip
    assert struct.unpack("<3f", framed[4 + length :]) == (1.5, 2.5, 3.5)


def page(pages: Pages, path: str, **headers: str) -> tuple[int, bytes, dict[str, str]]:
    answer = asyncio.run(pages.answer(thing(url=thing(path=path), headers=headers)))
    return answer.status_code, bytes(answer.body), dict(answer.headers)


def test_text_goes_packed_to_browsers_that_take_it(tmp_path: Path) -> None:
    (tmp_path / "assets").mkdir()
    long, noise = "let a = 1;\n" * 200, bytes(random.Random(5).randrange(256) for _ in range(2000))
    (tmp_path / "index.html").write_text("home")
    (tmp_path / "assets" / "a.js").write_text(long)
    (tmp_path / "assets" / "a.woff2").write_bytes(noise)
    pages, takes = Pages(tmp_path), {"accept-encoding": "gzip, br"}
    status, body, headers = page(pages, "/assets/a.js", **takes)
    assert status == 200 and headers["content-encoding"] == "gzip" and len(body) < len(long) / 10
    assert gzip.decompress(body).decode() == long and int(headers["content-length"]) == len(body)
    assert page(pages, "/assets/a.js", **takes, **{"if-none-match": headers["etag"]})[:2] == (304, b"")
    _, plain, bare = page(pages, "/assets/a.js")
    assert plain.decode() == long and "content-encoding" not in bare
    assert bare["etag"] != headers["etag"] and bare["vary"] == headers["vary"] == "accept-encoding"
    for path, body in (("/", b"home"), ("/assets/a.woff2", noise)):  # too little, and packed already
        assert page(pages, path, **takes)[1] == body


def test_pages_are_found_by_their_address(tmp_path: Path) -> None:
    (tmp_path / "assets").mkdir()
    for name, text in (("index.html", "home"), ("assets/a.js", "let a"), (".hidden", "no"), ("x.bin", "b")):
        (tmp_path / name).write_text(text)
    pages = Pages(tmp_path)
    status, body, headers = page(pages, "/jobs/j1")
    assert (status, body, headers["cache-control"]) == (200, b"home", "no-cache")
    assert headers["content-type"] == "text/html; charset=utf-8" and len(headers["etag"]) == 26
    status, body, headers = page(pages, "/assets/a.js")
    assert (status, body) == (200, b"let a") and headers["cache-control"].endswith("immutable")
    assert page(pages, "/assets/a.js", **{"if-none-match": headers["etag"]})[:2] == (304, b"")
    for path, status in (("/assets/b", 404), ("/nothing.js", 404), ("/.hidden", 404), ("/x.bin", 200)):
        assert page(pages, path)[0] == status
    assert page(Pages(tmp_path / "none"), "/")[1] == NOT_BUILT
    types = {name: _page(name, b"").type for name in ("/a.json", "/a.woff2", "/a.png", "/a.zzzq", "/a.css")}
    assert types == {
        "/a.json": "application/json; charset=utf-8", "/a.woff2": "font/woff2", "/a.png": "image/png",
        "/a.zzzq": "application/octet-stream", "/a.css": "text/css; charset=utf-8",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("scope", "headers", "words"),
    [
        ({"method": "GET"}, {"host": "127.0.0.1:1"}, None),
        ({"method": "HEAD"}, {"host": "localhost:1", "origin": "http://localhost:1"}, None),
        ({"method": "GET"}, None, "name"),
        ({"method": "GET"}, {}, "name"),
        ({"method": "GET"}, {"host": "127.0.0.1:2"}, "name"),
        ({"method": "POST"}, {"host": "127.0.0.1:1"}, "page"),
        ({"method": "POST"}, {"host": "127.0.0.1:1", "origin": "http://127.0.0.1:1"}, None),
        ({"method": "GET"}, {"host": "127.0.0.1:1", "origin": "https://127.0.0.1:1"}, "page"),
        ({"method": "GET", "type": "websocket"}, {"host": "127.0.0.1:1"}, "page"),
        ({"method": "GET"}, {"host": "127.0.0.1:1", "sec-fetch-site": "cross-site"}, "page"),
        ({"method": "GET"}, {"host": "127.0.0.1:1", "sec-fetch-site": "same-origin"}, None),
        ({"method": "GET"}, {"host": "127.0.0.1:1", "sec-fetch-site": "none"}, None),
        ({"method": "GET", "path": "/"}, {"host": "127.0.0.1:1", "sec-fetch-site": "cross-site"}, None),
    ],
)
def test_who_is_foreign_and_what_is_said(
    scope: dict[str, str], headers: dict[str, str] | None, words: str | None
) -> None:
    keeper = DoorKeeper(thing(), Settings(port=1), thing())
    found = keeper._why_foreign({"type": "http", "path": "/api/x", **scope}, headers)
    if words is None:
        assert found is None
        return
    told = {"name": FOREIGN_NAME, "page": FOREIGN_PAGE}[words]
    assert found is not None and (found.code, found.problem, found.remedy) == ("foreign", *told)
