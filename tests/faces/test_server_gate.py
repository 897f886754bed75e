"""The gate: who is let in, from which page, under which name."""

from __future__ import annotations

import json
import socket

import httpx
import pytest
from server import Running
from websockets.exceptions import ConnectionClosedError

from rehaul.errors import BadInput
from rehaul.web.pairing import Codes, WrongCode, qr_svg
from rehaul.web.serving import listening
from rehaul.web.settings import Settings, lan_address


@pytest.fixture(scope="module")
def server(small_server: Running) -> Running:
    return small_server


@pytest.fixture
def ann(server: Running) -> httpx.Client:
    return server.paired("Ann")


API = ["/api/me", "/api/devices", "/api/schema", "/api/facts", "/api/jobs/small", "/api/jobs/small/plan",
       "/api/jobs/small/pictures", "/api/meter/x", "/api/jobs/nowhere", "/api/nothing", "/api/"]  # fmt: skip


@pytest.mark.parametrize("path", API)
def test_nothing_without_pairing(server: Running, path: str) -> None:
    answer = server.stranger().get(path)
    assert answer.status_code == 401
    assert answer.json()["code"] == "unpaired"
    assert "small" not in answer.text.lower().replace("this device", "")


@pytest.mark.parametrize("path", ["/api/codes", "/api/jobs", "/api/jobs/small/edits", "/api/meter"])
def test_nothing_is_changed_without_pairing(server: Running, path: str) -> None:
    assert server.stranger().post(path, json={}).status_code == 401


@pytest.mark.parametrize("cookie", ["", "x", "rehaul={}; ; =", 'a="', "\x80"])
def test_made_up_cookies(server: Running, cookie: str) -> None:
    name = server.settings.cookie
    for value in (cookie, f"{name}={cookie}", f"{name}=a; {name}=b"):
        answer = server.stranger().get("/api/me", headers=[("cookie", value.encode("latin-1"))])
        assert answer.status_code == 401


@pytest.mark.parametrize(
    "host",
    [
        "example.org",
        "localhost",
        "127.0.0.1",
        "127.0.0.1:1",
        "localhost.example.org:{port}",
        "",
        "[::1]:{port}",
    ],
)
def test_unknown_names_are_refused_even_with_a_cookie(server: Running, ann: httpx.Client, host: str) -> None:
    """A page elsewhere may make its own name lead here; the Host header gives it away."""
    answer = ann.get("/api/me", headers={"host": host.format(port=server.settings.port)})
    assert (answer.status_code, answer.json()["code"]) == (403, "foreign")
    page = ann.get("/", headers={"host": "example.org"})
    assert page.status_code == 403


def test_localhost_is_another_name_of_loopback(server: Running, ann: httpx.Client) -> None:
    assert ann.get("/api/me", headers={"host": f"localhost:{server.settings.port}"}).status_code == 200


@pytest.mark.parametrize(
    "origin",
    ["http://example.org", "http://127.0.0.1:1", "https://127.0.0.1:{port}", "null", "http://localhost"],
)
def test_other_pages_are_refused_even_with_a_cookie(server: Running, ann: httpx.Client, origin: str) -> None:
    origin = origin.format(port=server.settings.port)
    assert ann.post("/api/codes", headers={"origin": origin}).status_code == 403
    assert ann.get("/api/me", headers={"origin": origin}).status_code == 403
    with (
        pytest.raises(ConnectionClosedError) as caught,
        server.socket(ann, "/api/jobs/small/live", origin=origin) as live,
    ):
        live.recv(timeout=5)
    assert caught.value.rcvd is not None
    assert caught.value.rcvd.code == 4403


def test_a_page_must_say_who_it_is(server: Running, ann: httpx.Client) -> None:
    bare = httpx.Client(base_url=server.url, cookies=ann.cookies)
    assert bare.post("/api/codes").status_code == 403
    assert bare.get("/api/me").status_code == 200, "browsers send no Origin with a plain GET"
    assert bare.get("/api/me", headers={"sec-fetch-site": "same-site"}).status_code == 403
    assert bare.get("/api/me", headers={"sec-fetch-site": "same-origin"}).status_code == 200
    with (
        pytest.raises(ConnectionClosedError),
        server.socket(ann, "/api/jobs/small/live", origin=None) as live,
    ):
        live.recv(timeout=5)


@pytest.mark.parametrize("kind", ["live", "field"])
def test_sockets_without_pairing(server: Running, kind: str) -> None:
    with (
        pytest.raises(ConnectionClosedError) as caught,
        server.socket(server.stranger(), f"/api/jobs/small/{kind}") as live,
    ):
        live.recv(timeout=5)
    assert caught.value.rcvd is not None
    assert caught.value.rcvd.code == 4401


def test_headers_said_twice(server: Running, ann: httpx.Client) -> None:
    cookie = f"{server.settings.cookie}={ann.cookies[server.settings.cookie]}"
    with socket.create_connection(("127.0.0.1", server.settings.port)) as raw:
        raw.sendall(
            f"GET /api/me HTTP/1.1\r\nHost: 127.0.0.1:{server.settings.port}\r\nCookie: {cookie}\r\n"
            "Origin: http://example.org\r\n"
            f"Origin: {server.url}\r\nConnection: close\r\n\r\n".encode()
        )
        assert b" 403 " in raw.recv(100)


def test_the_cookie(server: Running) -> None:
    answer = server.stranger().post("/api/pair", json={"code": server.codes.new().code, "name": "Ann"})
    words = {part.strip().split("=")[0].lower() for part in answer.headers["set-cookie"].split(";")}
    assert {"httponly", "samesite", "path", "max-age"} <= words
    assert "samesite=strict" in answer.headers["set-cookie"].lower()
    assert answer.headers["cache-control"] == "no-store"
    assert answer.json()["jobs"] == [{"id": "small", "title": "Small", "revision": 0}]


def test_a_code_is_good_once(server: Running) -> None:
    code = server.codes.new().code
    spaced = f" {code[:4].lower()} - {code[4:]} "
    assert server.stranger().post("/api/pair", json={"code": spaced, "name": "Ann"}).status_code == 200
    again = server.stranger().post("/api/pair", json={"code": code, "name": "Eve"})
    assert (again.status_code, again.json()["code"]) == (401, "wrong-code")


def test_five_minutes_whatever_the_wall_clock_does() -> None:
    now = [1000.0]
    codes = Codes(clock=lambda: now[0])
    codes.use(codes.new().code)
    late = codes.new()
    now[0] += 301
    with pytest.raises(WrongCode):
        codes.use(late.code)
    first = codes.new().code
    codes.new()
    with pytest.raises(WrongCode):
        codes.use(first)


@pytest.mark.parametrize(
    "body", [{}, {"code": 5, "name": "x"}, {"code": "x"}, [], "text", {"code": "é" * 8, "name": "x"}]
)
def test_pairing_with_nonsense(server: Running, body: object) -> None:
    server.codes.new()
    assert server.stranger().post("/api/pair", json=body).status_code in (401, 422, 429)


def test_codes_for_other_devices_and_letting_them_out(server: Running) -> None:
    ann = server.paired("Ann")
    made = ann.post("/api/codes").json()
    assert made["url"] == f"{server.url}/#pair={made['code']}"
    assert made["qr_svg"].startswith("<svg")
    ben = server.stranger()
    assert ben.post("/api/pair", json={"code": made["code"], "name": "Ben"}).status_code == 200
    to_a_job = ann.post("/api/codes", params={"job": "mill house/2"}).json()
    assert to_a_job["url"] == f"{server.url}/jobs/mill%20house%2F2#pair={to_a_job['code']}"
    rows = ann.get("/api/devices").json()
    assert [row["here"] for row in rows].count(True) == 1
    device = next(row["device"] for row in rows if row["name"] == "Ben")
    with server.socket(ben, "/api/jobs/small/live") as live:
        live.send(json.dumps({"type": "hello", "seen": None}))
        live.recv(timeout=5)
        assert ann.post(f"/api/devices/{device}/forget").status_code == 200
        with pytest.raises(ConnectionClosedError) as caught:
            while True:
                live.recv(timeout=5)
        assert caught.value.rcvd is not None
        assert caught.value.rcvd.code == 4401
    assert ben.get("/api/me").status_code == 401


def test_security_headers_on_every_answer(server: Running, ann: httpx.Client) -> None:
    for client, path in ((ann, "/"), (ann, "/api/me"), (server.stranger(), "/api/me"), (ann, "/no.such")):
        headers = client.get(path).headers
        policy = headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
        assert "http" not in policy.replace("https", ""), "an outside host is named"
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["x-frame-options"] == "DENY"
        assert headers["referrer-policy"] == "no-referrer"
        assert "server" not in headers
        assert "access-control-allow-origin" not in headers


@pytest.mark.parametrize(
    "path",
    ["/../etc/passwd", "/..%2f..%2fetc%2fpasswd", "/%2e%2e/%2e%2e/etc/passwd", "/assets/../../app.py",
     "/assets/%2e%2e/%2e%2e/app.py", "/small.rehaul.json", "/.rehaul-people", "//etc/passwd.txt"],
)  # fmt: skip
def test_no_path_reaches_the_disk(server: Running, path: str) -> None:
    with socket.create_connection(("127.0.0.1", server.settings.port)) as raw:
        raw.sendall(
            f"GET {path} HTTP/1.1\r\nHost: 127.0.0.1:{server.settings.port}\r\n"
            "Connection: close\r\n\r\n".encode()
        )
        text = b""
        while part := raw.recv(65536):
            text += part
    assert b"root:" not in text
    assert b"import" not in text.split(b"\r\n\r\n", 1)[1][:200]
    assert b" 404 " in text[:20] or b"<!doctype html>" in text.lower()


def test_what_is_not_there(ann: httpx.Client) -> None:
    for path in ("/api/", "/api/nothing", "/api/jobs/small/nothing"):
        assert ann.get(path).status_code == 404, path
    assert ann.get("/api/jobs/nowhere").json()["code"] == "absent"
    assert ann.post("/api/me").status_code in (404, 405)


def test_loopback_is_the_default_and_a_taken_port_is_said() -> None:
    assert Settings(port=1).address == "127.0.0.1"
    with listening("127.0.0.1", 0) as taken, pytest.raises(BadInput, match="cannot be opened"):
        listening("127.0.0.1", taken.getsockname()[1])


def test_names_of_a_server_on_the_network() -> None:
    settings = Settings(port=8720, address="192.168.1.20", lan=True, tls=True)
    assert settings.hosts == {"192.168.1.20:8720"}
    assert settings.origins == {"https://192.168.1.20:8720"}
    assert lan_address().count(".") == 3
    assert Settings(port=80).hosts >= {"localhost", "127.0.0.1", "127.0.0.1:80"}


def test_a_qr_code_refers_to_nothing_outside() -> None:
    svg = qr_svg("http://192.168.1.20:8720/#pair=ABCDEFGH")
    assert svg.count("http") == svg.count("http://www.w3.org/2000/svg")
    assert "style=" not in svg
