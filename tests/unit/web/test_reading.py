"""Each request is answered in the language of who asked."""

from __future__ import annotations

import ast
import asyncio
from pathlib import Path
from typing import Any

import pytest

from rehaul import planning
from rehaul.web.reading import Spoken, language_of
from rehaul.words import REFERENCE, Reader, Saying, reader, say, term


def scope(header: str = "", query: str = "", kind: str = "http") -> dict[str, Any]:
    headers = [(b"accept-language", header.encode("latin-1"))] if header else []
    return {"type": kind, "headers": headers, "query_string": query.encode("latin-1")}


@pytest.mark.parametrize(
    ("header", "query", "language"),
    [
        ("", "", "en"),
        ("fr", "", "fr"),
        ("fr-CA,fr;q=0.9,en;q=0.8", "", "fr"),
        ("de-DE,de;q=0.9,en;q=0.7,fr;q=0.8", "", "fr"),
        ("en-GB,fr;q=0.9", "", "en"),
        ("fr;q=0, en;q=0.1", "", "en"),
        ("de", "", "en"),
        ("en", "language=fr", "fr"),
        ("fr", "language=xx", "fr"),
        ("fr;q=nan, ;;;, \xff", "", "en"),
        ("FR", "", "fr"),
    ],
)
def test_what_is_asked_for_is_what_is_spoken(header: str, query: str, language: str) -> None:
    assert language_of(scope(header, query)) == language


@pytest.mark.parametrize("kind", ["http", "websocket"])
def test_two_who_ask_at_once_are_each_answered_in_their_own(kind: str) -> None:
    said = []

    async def app(asked: Any, receive: Any, send: Any) -> None:
        await asyncio.sleep(0)
        said.append(str(say("words.count_cables", n=2)))

    async def both() -> None:
        spoken: Any = Spoken(app)
        await asyncio.gather(*(spoken(scope(one, kind=kind), None, None) for one in ("fr", "en", "fr")))

    asyncio.run(both())
    assert said == ["2 câbles", "2 cables", "2 câbles"]
    assert reader() == REFERENCE


def _stages() -> list[str]:
    """The words with which the planning tells how far it is, written out or under a name of their own."""
    found: set[str] = set()
    for path in Path(planning.__file__).parent.glob("*.py"):
        nodes = list(ast.walk(ast.parse(path.read_text(encoding="utf-8"))))
        named = {
            node.targets[0].id: node.value.value
            for node in nodes
            if isinstance(node, ast.Assign)
            and isinstance(node.targets[0], ast.Name)
            and isinstance(node.value, ast.Constant)
        }
        for node in nodes:
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "progress":
                said = node.args[0]
                found.add(said.value if isinstance(said, ast.Constant) else named[said.id])  # type: ignore[attr-defined]
    return sorted(found)


@pytest.mark.parametrize("words", [*_stages(), "waiting", "papers", "record"])
def test_how_far_long_work_is_comes_as_plain_text_and_is_known_again(words: str) -> None:
    """The worker's process sends the words alone; what a page is told of them is `term` of that."""
    known = term(words)
    assert isinstance(known, Saying) and known == words
    assert known.to(Reader("fr")) != words


def test_the_planning_tells_its_stages() -> None:
    assert len(_stages()) >= 8
