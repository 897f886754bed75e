"""In which language each request is answered: what its page asks for, else what the browser reads."""

from __future__ import annotations

import re
from urllib.parse import parse_qs

from starlette.types import ASGIApp, Receive, Scope, Send

from rehaul.house import Job
from rehaul.words import LANGUAGES, Language, Reader, reader, speaking

_TAG = re.compile(r"\s*([A-Za-z]{2,3})(?:-[A-Za-z0-9-]{1,20})?\s*(?:;\s*q=([01](?:\.\d{0,3})?))?\s*")
LONGEST_HEADER = 1000


class Spoken:
    """Whatever an application says is said in the language of who asked."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        with speaking(Reader(language_of(scope))):
            await self._app(scope, receive, send)


def language_of(scope: Scope) -> Language:
    """The language of a request: `?language=`, which a socket has, else the best of `accept-language`.

    English where it names none that is spoken here.
    """
    asked = parse_qs(scope.get("query_string", b"").decode("latin-1")).get("language", [""])[0]
    header = dict(scope["headers"]).get(b"accept-language", b"").decode("latin-1")[:LONGEST_HEADER]
    for name in (asked, *_by_liking(header)):
        for language in LANGUAGES:
            if name.lower() == language:
                return language
    return "en"


def reader_of(job: Job) -> Reader:
    """Who asked, reading lengths in the job's units."""
    return Reader(reader().language, job.units)


def _by_liking(header: str) -> list[str]:
    """The languages of a header, the best liked first (RFC 9110, 12.5.4); malformed ones are passed over."""
    found = [match for part in header.split(",") if (match := _TAG.fullmatch(part))]
    liked = [(float(match[2] or 1), match[1]) for match in found]
    return [name for liking, name in sorted(liked, key=lambda pair: -pair[0]) if liking > 0]
