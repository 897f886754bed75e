"""What both sockets need: bounded messages, and an end with a code a client can act on."""

from __future__ import annotations

import asyncio
import contextlib
from collections.abc import Coroutine
from typing import Any

from starlette.websockets import WebSocket, WebSocketDisconnect

from rehaul.errors import Refusal
from rehaul.words import again

LARGEST_MESSAGE = 8_000_000
LONGEST_REASON = 123  # bytes, of RFC 6455, section 5.5
TOO_LARGE, NOT_UNDERSTOOD, LATER = 1009, 1008, 1013


async def socket_text(socket: WebSocket) -> str:
    """The next message. Raises WebSocketDisconnect where it is too large, not text, or the end."""
    message = await socket.receive()
    if message["type"] == "websocket.disconnect":
        raise WebSocketDisconnect(message.get("code", 1005))
    text = message.get("text")
    if not isinstance(text, str):
        raise WebSocketDisconnect(1003, "text was expected")
    if len(text) > LARGEST_MESSAGE:
        raise WebSocketDisconnect(TOO_LARGE, "message too large")
    return text


async def until_one_ends(socket: WebSocket, *talks: Coroutine[Any, Any, None]) -> None:
    """Run several halves of a conversation until one ends, then close with the reason."""
    tasks = [asyncio.ensure_future(talk) for talk in talks]
    try:
        done, _ = await asyncio.wait(tasks, return_when=asyncio.FIRST_COMPLETED)
        for task in done:
            task.result()
    except WebSocketDisconnect as end:
        await close(socket, end.code, end.reason)
    except Refusal as refusal:
        await close(socket, LATER if refusal.code == "cannot-save" else NOT_UNDERSTOOD, refusal.problem)
    finally:
        for task in tasks:
            task.cancel()
        await asyncio.gather(*tasks, return_exceptions=True)


async def close(socket: WebSocket, code: int, reason: str | None) -> None:
    """Close, if the other side has not done so already."""
    with contextlib.suppress(RuntimeError, WebSocketDisconnect):
        await socket.close(code, reason_of(again(reason or "")))


def reason_of(text: str) -> str:
    """As much of a text as a socket's end may say."""
    return text.encode()[:LONGEST_REASON].decode("utf-8", "ignore")
