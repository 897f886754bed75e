"""uvicorn's protocols with what they lack: limits of time for half-sent requests, and a count of visitors."""

from __future__ import annotations

import asyncio
import contextlib
import socket
import sys

import h11
from uvicorn.protocols.http.h11_impl import H11Protocol
from uvicorn.protocols.websockets.websockets_sansio_impl import WebSocketsSansIOProtocol

from rehaul.web.visitors import Visitor, Visitors


class Patient(H11Protocol):
    """HTTP/1.1 that says which part of a request a connection is in."""

    visitors: Visitors  # set by `protocol_of`
    visitor: Visitor
    counted: Visitor | None = None  # before now, where a handshake came first

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        super().connection_made(transport)
        send_at_once(transport)
        address = self.client[0] if self.client else ""
        self.visitor = self.counted or self.visitors.come(address, self._abort)
        self.visitor.abort = self._abort
        self.app_state = {**self.app_state, "visitor": self.visitor}

    def _abort(self) -> None:
        self.transport.abort()

    def connection_lost(self, exc: Exception | None) -> None:
        self.visitors.go(self.visitor)
        super().connection_lost(exc)

    def data_received(self, data: bytes) -> None:
        super().data_received(data)
        self._see_stage()

    def on_response_complete(self) -> None:
        super().on_response_complete()
        self.visitor.enter("head")
        self._see_stage()

    def pause_writing(self) -> None:
        super().pause_writing()
        self.visitor.enter("stuck" if self.visitor.device else "answer")

    def resume_writing(self) -> None:
        super().resume_writing()
        self.visitor.enter("answer")

    def _see_stage(self) -> None:
        """Body while it comes in, answer once it is all here; a head that drips in does not start anew."""
        cycle, visitor = self.cycle, self.visitor
        if cycle is None or cycle.response_complete or visitor.stage in ("socket", "stuck"):
            return
        if not cycle.more_body:
            if visitor.stage != "answer":
                visitor.enter("answer")
        elif visitor.stage == "head" or (visitor.device and visitor.stage == "body"):
            visitor.enter("body")

    def handle_websocket_upgrade(self, event: h11.Request) -> None:
        self.visitor.enter("socket")
        super().handle_websocket_upgrade(event)


class PlacedSocket(WebSocketsSansIOProtocol):
    """A WebSocket that keeps the place of the request it grew out of."""

    def connection_lost(self, exc: Exception | None) -> None:
        visitor: Visitor = self.app_state["visitor"]
        visitor.visitors.go(visitor)
        super().connection_lost(exc)


def send_at_once(transport: asyncio.Transport) -> None:
    """Let small messages go out as they are written: else the second of two waits for the receipt of the
    first, which many systems put off for 40 ms. asyncio sees to it only where the listening socket names TCP.
    """
    with contextlib.suppress(OSError):  # gone already
        found = transport.get_extra_info("socket")
        found.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)


def protocol_of(visitors: Visitors) -> type[Patient]:
    """The protocol of one server."""
    return type("Patient", (Patient,), {"visitors": visitors})


def more_files() -> int:
    """Let this process hold as many connections as the system allows it; how many files it may hold."""
    if sys.platform == "win32":
        return 0
    import resource

    with contextlib.suppress(ValueError, OSError):
        soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
        wanted = 4096 if hard == resource.RLIM_INFINITY else min(hard, 4096)
        if soft < wanted:
            resource.setrlimit(resource.RLIMIT_NOFILE, (wanted, hard))
        return max(soft, wanted)
    return 0
