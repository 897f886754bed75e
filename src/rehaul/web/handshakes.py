"""Connections from their first moment: who has not shaken hands yet is a stranger as any, and counted as one.

asyncio would tell of a connection once its handshake is done. Until then it would be nobody's, and some
thousands that say nothing would take all the files that this process may hold.
"""

from __future__ import annotations

import asyncio
import ssl
from collections.abc import Callable
from typing import Any

from rehaul.web.protocols import Patient

HANDSHAKE_S = 10.0  # asyncio's own is a minute
ACCEPTED_AT_ONCE = 100  # before who is too many is let go: a flood may not take all the files meanwhile


class Loop(asyncio.SelectorEventLoop):
    """asyncio's loop, whose servers take connections few at a time, and with TLS count them before they shake
    hands.
    """

    async def create_server(self, protocol_factory: Any, *arguments: Any, **options: Any) -> Any:
        context: ssl.SSLContext | None = options.pop("ssl", None)
        make: Callable[[], asyncio.BaseProtocol] = protocol_factory
        if context is not None:
            make = lambda: Knock(self, protocol_factory(), context)  # noqa: E731
        waiting = options.get("backlog", 100)
        options["backlog"] = min(waiting, ACCEPTED_AT_ONCE)  # asyncio's other use of it
        server = await super().create_server(make, *arguments, **options)
        if (listener := options.get("sock")) is not None:
            listener.listen(waiting)
        return server


class Knock(asyncio.Protocol):
    """A connection until its handshake is done; then `inner` has it."""

    def __init__(self, loop: asyncio.AbstractEventLoop, inner: Patient, context: ssl.SSLContext) -> None:
        self._loop = loop
        self._inner = inner
        self._context = context
        self._early: list[bytes] = []  # what came with the end of the handshake
        self._shaking: asyncio.Task[None] | None = None

    def connection_made(self, transport: asyncio.BaseTransport) -> None:
        assert isinstance(transport, asyncio.Transport)
        address = (transport.get_extra_info("peername") or ("",))[0]
        self._visitor = self._inner.counted = self._inner.visitors.come(address, transport.abort)
        if not transport.is_closing():
            self._shaking = self._loop.create_task(self._shake(transport))

    def data_received(self, data: bytes) -> None:
        self._early.append(data)

    def connection_lost(self, exc: Exception | None) -> None:
        self._inner.visitors.go(self._visitor)

    async def _shake(self, transport: asyncio.Transport) -> None:
        try:
            inside = await self._loop.start_tls(
                transport, self, self._context, server_side=True, ssl_handshake_timeout=HANDSHAKE_S
            )
        except (OSError, asyncio.CancelledError):  # gone, too slow, no TLS, or the server ends
            inside = None
        if inside is None or inside.is_closing():
            self._inner.visitors.go(self._visitor)
            transport.abort()
            return
        inside.set_protocol(self._inner)
        self._inner.connection_made(inside)
        if self._early:
            self._inner.data_received(b"".join(self._early))
