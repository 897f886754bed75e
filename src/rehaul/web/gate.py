"""The one door for HTTP and WebSocket: which name was asked, from which page, by which device.

Everything is refused here before any other code of the server sees it.
"""

from __future__ import annotations

from http.cookies import CookieError, SimpleCookie

from starlette.types import ASGIApp, Message, Receive, Scope, Send

from rehaul.errors import Refusal
from rehaul.jobs import Device, People
from rehaul.web.answers import STATUS, compact
from rehaul.web.settings import Settings

SAFE_METHODS = frozenset({"GET", "HEAD"})
OPEN_PATHS = frozenset({"/api/pair"})
POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' blob: data:",
        "font-src 'self'",
        "connect-src 'self'",
        "worker-src 'self'",
        "manifest-src 'self'",
        "base-uri 'none'",
        "form-action 'none'",
        "frame-ancestors 'none'",
    )
)
HEADERS = (
    (b"content-security-policy", POLICY.encode()),
    (b"x-content-type-options", b"nosniff"),
    (b"x-frame-options", b"DENY"),
    (b"referrer-policy", b"no-referrer"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"permissions-policy", b"camera=(self), geolocation=(), microphone=(), payment=(), usb=()"),
)
CLOSE_CODES = {"unpaired": 4401, "foreign": 4403}


class Gate:
    """Lets a request through with its device in `scope["state"]["device"]`, or refuses it."""

    def __init__(self, app: ASGIApp, settings: Settings, people: People) -> None:
        self._app = app
        self._settings = settings
        self._people = people

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        refusal = self._why_not(scope)
        if scope["type"] == "websocket":
            if refusal:
                await _close(refusal, receive, send)
            else:
                await self._app(scope, receive, send)
            return
        guarded = _with_headers(scope, send)
        if refusal:
            await _refuse(refusal, guarded)
        else:
            await self._app(scope, receive, guarded)

    def _why_not(self, scope: Scope) -> Refusal | None:
        headers = _headers(scope)
        if headers is None or headers.get("host") not in self._settings.hosts:
            return _foreign("that name is not this server's", "Use the address the server shows")
        socket = scope["type"] == "websocket"
        origin = headers.get("origin")
        if socket or scope["method"] not in SAFE_METHODS or origin is not None:
            if origin not in self._settings.origins:
                return _foreign("another page asked for this", "Open the server's own page")
        elif scope["path"].startswith("/api/") and headers.get("sec-fetch-site", "none") not in (
            "same-origin",
            "none",
        ):
            return _foreign("another page asked for this", "Open the server's own page")
        device = self._device(headers.get("cookie", ""))
        scope.setdefault("state", {})["device"] = device
        if (
            device is None
            and (socket or scope["path"].startswith("/api/"))
            and scope["path"] not in OPEN_PATHS
        ):
            return Refusal(
                "this device is not paired",
                remedy="Type the code that the server or a paired device shows",
                code="unpaired",
            )
        return None

    def _device(self, cookie: str) -> Device | None:
        try:
            morsel = SimpleCookie(cookie).get(self._settings.cookie)
        except CookieError:
            return None
        return self._people.device(morsel.value) if morsel else None


def _headers(scope: Scope) -> dict[str, str] | None:
    """Headers by lower-case name; None where one that matters here comes twice."""
    found: dict[str, str] = {}
    for name, value in scope["headers"]:
        key = name.decode("latin-1")
        if key in found and key in ("host", "origin", "cookie", "sec-fetch-site"):
            return None
        found[key] = value.decode("latin-1")
    return found


def _foreign(problem: str, remedy: str) -> Refusal:
    return Refusal(problem, remedy=remedy, code="foreign")


def _with_headers(scope: Scope, send: Send) -> Send:
    async def guarded(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = list(message.get("headers", []))
            present = {name.lower() for name, _ in headers}
            headers += [(name, value) for name, value in HEADERS if name not in present]
            if scope["path"].startswith("/api/") and b"cache-control" not in present:
                headers.append((b"cache-control", b"no-store"))
            message = {**message, "headers": headers}
        await send(message)

    return guarded


async def _refuse(refusal: Refusal, send: Send) -> None:
    body = compact(dict(refusal.as_dict())).encode()
    headers = [(b"content-type", b"application/json"), (b"content-length", str(len(body)).encode())]
    await send({"type": "http.response.start", "status": STATUS[refusal.code], "headers": headers})
    await send({"type": "http.response.body", "body": body})


async def _close(refusal: Refusal, receive: Receive, send: Send) -> None:
    """Accept, then close: only so does a page's script learn the code."""
    await receive()
    await send({"type": "websocket.accept"})
    await send({"type": "websocket.close", "code": CLOSE_CODES[refusal.code], "reason": refusal.problem})
