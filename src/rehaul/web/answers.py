"""Answers in JSON, and refusals in the one shape every face shows."""

from __future__ import annotations

import json
import re
from collections.abc import AsyncIterator
from typing import Any

from starlette.requests import ClientDisconnect, Request
from starlette.responses import Response

from rehaul.errors import BadInput, CannotSave, OutOfRange, Refusal
from rehaul.words import again, say

# what may be half a character, a NUL, or a number that becomes infinite, in JSON as it is written
SUSPECT = re.compile(r"\\u(?:[dD][89a-fA-F]|0000)|\d[eE]\+?\d{3}|\d{300}|(?:[\[{]\s*){100}")
NUL = re.compile(r"(?<!\\)(?:\\\\)*\\u0000")  # as JSON writes it; a backslash of its own is written twice
STATUS = {
    "unpaired": 401,
    "wrong-code": 401,
    "foreign": 403,
    "absent": 404,
    "taken": 409,
    "nothing-to-undo": 409,
    "overtaken": 409,
    "held": 409,
    "out-of-order": 409,
    "too-large": 413,
    BadInput.code: 422,
    OutOfRange.code: 422,
    "busy": 429,
    CannotSave.code: 503,
}


class TooLarge(Refusal):
    code = "too-large"


class BadText(BadInput):
    """JSON with text or numbers that could be neither kept nor sent on."""

    def __init__(self, data: dict[str, Any]) -> None:
        super().__init__(
            say("refused_web.holds_half_character_nul"),
            where="request",
            remedy=say("refused_web.send_whole_characters_finite"),
        )
        self.data = data


class Absent(Refusal):
    code = "absent"


class Busy(Refusal):
    code = "busy"


class Json(Response):
    """Compact JSON; NaN and infinity are never sent."""

    media_type = "application/json"

    def render(self, content: Any) -> bytes:
        return compact(again(content)).encode("utf-8")  # what was kept from an earlier asker too


def compact(content: Any) -> str:
    return json.dumps(content, ensure_ascii=False, allow_nan=False, separators=(",", ":"))


def said(refusal: Refusal) -> dict[str, str]:
    """A refusal as it is sent, in the language of who asked; its code and fields are the same in all."""
    return again(dict(refusal.as_dict()))


async def refused(_: Request, refusal: Exception) -> Response:
    """The answer to a refusal."""
    assert isinstance(refusal, Refusal)
    return Json(said(refusal), status_code=STATUS.get(refusal.code, 422))


def fault() -> dict[str, str]:
    """What is said of a bug."""
    words = Refusal(
        say("refused_web.something_went_wrong_inside"),
        remedy=say("refused_web.try_again_servers_log"),
        code="fault",
    )
    return dict(words.as_dict())


async def our_fault(_: Request, __: Exception) -> Response:
    """The answer to a bug: no detail leaves the server; the log has it."""
    return Json(fault(), status_code=500)


async def body_of(request: Request, most_bytes: int) -> bytes:
    """The request's body. Raises TooLarge as soon as it grows past the limit, whatever it announced."""
    require_announced(request, most_bytes)
    parts: list[bytes] = []
    length = 0
    async for part in parts_of(request):
        length += len(part)
        if length > most_bytes:
            raise too_large(most_bytes)
        parts.append(part)
    return b"".join(parts)


async def parts_of(request: Request) -> AsyncIterator[bytes]:
    """The request's body as it comes. Raises BadInput where its sender leaves midway."""
    try:
        async for part in request.stream():
            yield part
    except ClientDisconnect:  # nobody is there to be answered, and it is no fault of ours
        raise BadInput(
            say("refused_web.rest_never_came"), where="request", remedy=say("refused_web.send_again")
        ) from None


def require_announced(request: Request, most_bytes: int) -> None:
    """Raise TooLarge where the request itself says that it is."""
    announced = request.headers.get("content-length", "0")
    if announced.isdigit() and int(announced) > most_bytes:
        raise too_large(most_bytes)


async def json_of(request: Request, most_bytes: int = 1_000_000) -> dict[str, Any]:
    """The request's JSON object. Raises BadInput where it is none."""
    return object_from(await body_of(request, most_bytes))


def object_from(text: str | bytes) -> dict[str, Any]:
    """A JSON object from text. Raises BadInput where it is none, BadText where it cannot be sent on."""
    try:
        if isinstance(text, bytes):
            text = text.decode("utf-8")  # json itself would let half a character through
        data = json.loads(text, parse_constant=_no_number)
    except (ValueError, RecursionError):
        raise BadInput(
            say("refused_web.not_json"), where="request", remedy=say("refused_web.send_one_json_object")
        ) from None
    if not isinstance(data, dict):
        raise BadInput(
            say("refused_web.not_json_object"),
            where="request",
            remedy=say("refused_web.send_one_json_object"),
        )
    if SUSPECT.search(text) and not is_plain(data):
        raise BadText(data)
    return data


def is_plain(data: Any) -> bool:
    """Whether data can be kept and sent on: whole characters, no NUL, finite numbers, not nested too deep."""
    try:
        text = compact(data)
        text.encode("utf-8")
    except (ValueError, RecursionError):
        return False
    return NUL.search(text) is None


def _no_number(words: str) -> float:
    raise ValueError(f"{words} is not a number")


def too_large(most_bytes: int) -> TooLarge:
    return TooLarge(
        say("refused_web.more_than_mb", most_mb=most_bytes / 1e6),
        where="request",
        remedy=say("refused_web.send_something_smaller"),
    )
