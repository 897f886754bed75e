"""The one door for HTTP and WebSocket: which name was asked, from which page, by which device.

Everything is refused here before any other code of the server sees it.
"""

from __future__ import annotations

import asyncio
import contextlib
import re
from http.cookies import CookieError, SimpleCookie

from starlette.types import ASGIApp, Message, Receive, Scope, Send

from rehaul.errors import CannotSave, Refusal
from rehaul.facts.server import server_number
from rehaul.jobs import Browser
from rehaul.web.answers import STATUS, compact, said
from rehaul.web.asking import away
from rehaul.web.reading import language_of
from rehaul.web.sessions import Sessions
from rehaul.web.settings import Settings
from rehaul.web.sockets import reason_of
from rehaul.web.visitors import Visitor, address_group
from rehaul.words import Language, Reader, again, say, speaking

SAFE_METHODS = frozenset({"GET", "HEAD"})
OPEN_PATHS = frozenset({"/api/pair"})
POLICY = "; ".join(
    (
        "default-src 'none'",
        "object-src 'none'",
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
CLOSE_CODES = {"unpaired": 4401, "foreign": 4403, "busy": 1013, "cannot-save": 1013}
SLOWEST_CLOSE_S = 5.0
TOKEN = re.compile("[A-Za-z0-9_-]{43}")


class DoorKeeper:
    """Lets a request through with its device in `scope["state"]["device"]`, or refuses it."""

    def __init__(self, app: ASGIApp, settings: Settings, sessions: Sessions) -> None:
        self._app = app
        self._settings = settings
        self._sessions = sessions

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        token, device, refusal = await self._judge(scope)
        if scope["type"] == "websocket":
            if refusal or device is None:
                await _close(refusal or unpaired(), language_of(scope), receive, send)
            else:
                await self._socket(device, scope, receive, send)
            return
        fresh = None
        if device is not None and refusal is None and scope["path"].startswith("/api/"):
            fresh = await self._sessions.next_token(token)
        guarded = _with_headers(scope, send, session_cookie(self._settings, fresh) if fresh else None)
        if refusal:
            await _refuse(refusal, language_of(scope), guarded)
        else:
            await self._app(scope, receive, guarded)

    async def _judge(self, scope: Scope) -> tuple[str, Browser | None, Refusal | None]:
        """Token, device, and why not, if it may not."""
        headers = _headers(scope)
        refusal = self._why_foreign(scope, headers)
        token = self._token(headers.get("cookie", "")) if headers and not refusal else ""
        device = None
        try:
            device = await self._sessions.device(token) if token else None
        except CannotSave:  # what it says of the store's place is not for strangers
            refusal = away() if _is_api(scope) else None
        state = scope.setdefault("state", {})
        state["device"] = device
        visitor: Visitor | None = state.get("visitor")
        if device is None:
            if token and refusal is None:
                self._sessions.people.record("refused", address_of(scope), say("told.token_let_nobody_in"))
            if visitor and visitor.device is None and not visitor.may_ask():
                if scope["type"] == "websocket":
                    visitor.abort()  # shaking hands first would cost more than the answer is worth
                return token, None, _busy(say("refused_web.too_many_requests_from"))
            if refusal is None and _is_api(scope) and scope["path"] not in OPEN_PATHS:
                refusal = unpaired()
        elif visitor and not visitor.is_known(device.id):
            return token, None, _busy(say("refused_web.too_many_connections_device"))
        return token, device, refusal

    def _why_foreign(self, scope: Scope, headers: dict[str, str] | None) -> Refusal | None:
        if headers is None or headers.get("host") not in self._settings.hosts:
            return _foreign(
                say("refused_web.not_this_servers_name"), say("refused_web.use_address_server_shows")
            )
        socket = scope["type"] == "websocket"
        origin = headers.get("origin")
        if socket or scope["method"] not in SAFE_METHODS or origin is not None:
            if origin not in self._settings.origins:
                return _foreign(
                    say("refused_web.another_page_asked"), say("refused_web.open_servers_own_page")
                )
        elif scope["path"].startswith("/api/") and headers.get("sec-fetch-site", "none") not in (
            "same-origin",
            "none",
        ):
            return _foreign(say("refused_web.another_page_asked"), say("refused_web.open_servers_own_page"))
        return None

    def _token(self, cookie: str) -> str:
        """The token shown; none where it cannot be one of ours."""
        try:
            morsel = SimpleCookie(cookie).get(self._settings.cookie)
        except CookieError:
            return ""
        return morsel.value if morsel and TOKEN.fullmatch(morsel.value) else ""

    async def _socket(self, device: Browser, scope: Scope, receive: Receive, send: Send) -> None:
        """Run a socket until it ends by itself or its device is let in no more."""
        closing: list[asyncio.Task[None]] = []

        async def guarded(message: Message) -> None:
            if not closing:
                await send(message)

        async def shut() -> None:
            with contextlib.suppress(Exception):
                async with asyncio.timeout(SLOWEST_CLOSE_S):
                    words = {"code": CLOSE_CODES["unpaired"], "reason": "this device was forgotten"}
                    await send({"type": "websocket.close", **words})
                    return
            if visitor := scope["state"].get("visitor"):
                visitor.abort()

        def end() -> None:
            if not closing:
                closing.append(asyncio.create_task(shut()))

        with self._sessions.ending(device.id, end):
            await self._app(scope, receive, guarded)


def unpaired() -> Refusal:
    """What a device is told that nobody has let in."""
    return Refusal(
        say("refused_web.not_paired"),
        remedy=say("refused_web.type_the_code"),
        code="unpaired",
    )


def address_of(scope: Scope) -> str:
    """Who asks, as far as limits go: an IPv4 address, or a network of IPv6 that one host may use whole."""
    return address_group((scope.get("client") or ("",))[0])


def session_cookie(settings: Settings, token: str) -> tuple[bytes, bytes]:
    """The header that hands a token to a browser."""
    age_s = int(server_number("session_life"))
    words = f"{settings.cookie}={token}; HttpOnly; Max-Age={age_s}; Path=/; SameSite=strict"
    return b"set-cookie", (words + ("; Secure" if settings.tls else "")).encode()


def _is_api(scope: Scope) -> bool:
    return scope["type"] == "websocket" or str(scope["path"]).startswith("/api/")


def _busy(problem: str) -> Refusal:
    return Refusal(problem, remedy=say("refused_web.wait_moment"), code="busy")


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


def _with_headers(scope: Scope, send: Send, cookie: tuple[bytes, bytes] | None) -> Send:
    async def guarded(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = list(message.get("headers", []))
            present = {name.lower() for name, _ in headers}
            headers += [(name, value) for name, value in HEADERS if name not in present]
            if scope["path"].startswith("/api/") and b"cache-control" not in present:
                headers.append((b"cache-control", b"no-store"))
            if cookie and b"set-cookie" not in present:
                headers.append(cookie)
            message = {**message, "headers": headers}
        await send(message)

    return guarded


async def _refuse(refusal: Refusal, language: Language, send: Send) -> None:
    with speaking(Reader(language)):
        body = compact(said(refusal)).encode()
    headers = [(b"content-type", b"application/json"), (b"content-length", str(len(body)).encode())]
    if refusal.code == "busy":
        headers.append((b"connection", b"close"))
    await send({"type": "http.response.start", "status": STATUS[refusal.code], "headers": headers})
    await send({"type": "http.response.body", "body": body})


async def _close(refusal: Refusal, language: Language, receive: Receive, send: Send) -> None:
    """Accept, then close: only so does a page's script learn the code."""
    await receive()
    await send({"type": "websocket.accept"})
    reason = reason_of(again(refusal.problem, Reader(language)))
    await send({"type": "websocket.close", "code": CLOSE_CODES[refusal.code], "reason": reason})
