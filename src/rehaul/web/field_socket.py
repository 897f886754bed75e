"""The field socket: the newest request is answered, those it overtook are not."""

from __future__ import annotations

import asyncio
from typing import Any

from anyio import to_thread
from starlette.routing import WebSocketRoute
from starlette.websockets import WebSocket

from rehaul.errors import Refusal
from rehaul.web.answers import compact, object_from, said
from rehaul.web.context import context_of, sitting_of
from rehaul.web.fields import Ask, Sketch, ask_from
from rehaul.web.sitting import Sitting
from rehaul.web.sockets import close, socket_text, until_one_ends

MOST_SPOTS_WAITING = 8


async def field(socket: WebSocket) -> None:
    """`WS /api/jobs/{job}/field`"""
    await socket.accept()
    try:
        sitting = await sitting_of(socket)
    except Refusal as refusal:
        await close(socket, 4404, refusal.problem)
        return
    talk = _Talk(socket, sitting)
    with sitting.held():
        await until_one_ends(socket, talk.listen(), talk.tell())


class _Talk:
    """A listener that keeps the newest request, a teller that computes it."""

    def __init__(self, socket: WebSocket, sitting: Sitting) -> None:
        self._socket = socket
        self._sitting = sitting
        self._plans = context_of(socket).plans
        self._sketch = Sketch(sitting.still)
        self._frame: dict[str, Any] | None = None
        self._spots: list[dict[str, Any]] = []
        self._wake = asyncio.Event()

    async def listen(self) -> None:
        while True:
            data = object_from(await socket_text(self._socket))
            if "spot" in data:
                self._spots = [*self._spots[-MOST_SPOTS_WAITING + 1 :], data]
            else:
                self._frame = data
            self._wake.set()

    async def tell(self) -> None:
        while True:
            await self._wake.wait()
            self._wake.clear()
            frame, self._frame = self._frame, None
            spots, self._spots = self._spots, []
            for data in [*([frame] if frame else []), *spots]:
                await self._answer(data)

    async def _answer(self, data: dict[str, Any]) -> None:
        number = data.get("n")
        try:
            answer = await to_thread.run_sync(self._compute, ask_from(data))
        except Refusal as refusal:
            number = number if isinstance(number, int) else None
            answer = {"n": number, "refusal": said(refusal)}
        if isinstance(answer, bytes):
            await self._socket.send_bytes(answer)
        else:
            await self._socket.send_text(compact(answer))

    def _compute(self, ask: Ask) -> bytes | dict[str, Any]:
        planned = self._plans.radiators_of(self._sitting)
        return self._sketch.answer(ask, self._sitting.ledger.state, planned)


ROUTES = [WebSocketRoute("/api/jobs/{job}/field", field)]
