"""Every link between the pages of the repository leads to a file that is there, and to a heading in it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest
from markdown_it import MarkdownIt
from markdown_it.token import Token

ROOT = Path(__file__).parents[2]
PAGES = sorted([*ROOT.glob("*.md"), *(ROOT / "docs").glob("*.md")])
PARSER = MarkdownIt("commonmark").enable("table")


def inline(page: Path) -> Iterator[tuple[str, Token]]:
    """Every inline token of a page, with the tag of the block it stands in."""
    tag = ""
    for token in PARSER.parse(page.read_text(encoding="utf-8")):
        tag = token.tag if token.nesting == 1 else tag
        if token.type == "inline":
            yield tag, token


def anchors(page: Path) -> set[str]:
    """What a link may name after `#`, as repository hosts make it of a heading."""
    found: dict[str, int] = {}
    named = set()
    for tag, token in inline(page):
        if re.fullmatch(r"h[1-6]", tag):
            text = "".join(
                part.content for part in token.children or () if part.type in ("text", "code_inline")
            )
            slug = re.sub(r"[^\w\- ]", "", text.strip().lower()).replace(" ", "-")
            count = found.get(slug, 0)
            found[slug] = count + 1
            named.add(f"{slug}-{count}" if count else slug)
    return named


def links(page: Path) -> list[str]:
    parts = (part for _, token in inline(page) for part in token.children or ())
    found = [
        part.attrGet("href") or part.attrGet("src") for part in parts if part.type in ("link_open", "image")
    ]
    return [str(link) for link in found]


def fault(page: Path, link: str) -> str:
    """Why a link leads nowhere; empty where it leads somewhere or out of the repository."""
    parts = urlsplit(link)
    if parts.scheme:
        return "" if parts.scheme in ("http", "https", "mailto") else f"{link}: what is {parts.scheme}:?"
    target = (page.parent / unquote(parts.path)).resolve() if parts.path else page
    if not target.is_relative_to(ROOT) or not target.exists():
        return f"{link}: there is no such file"
    if parts.fragment and (target.suffix != ".md" or parts.fragment not in anchors(target)):
        return f"{link}: there is no such heading"
    return ""


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_every_link_leads_somewhere(page: Path) -> None:
    assert not [words for link in links(page) if (words := fault(page, link))]


def test_links_are_looked_at(tmp_path: Path) -> None:
    """The check itself: headings with marks, twice the same, a file and a heading that are not there."""
    page = ROOT / "docs" / "security.md"
    assert "files-of-strangers-read-apart" in anchors(page)
    assert sum(len(links(path)) for path in PAGES) > 60
    assert fault(page, "nowhere.md") and fault(page, "radio.md#nowhere") and fault(page, "#nowhere")
    assert fault(page, "../../outside.md") and fault(page, "file:///etc/hosts")
    two = tmp_path / "two.md"
    two.write_text("# A `b`, c\n## A b c\n## [A b c](x.md)\n| a |\n|---|\n| [d](e.md) |\n", encoding="utf-8")
    assert anchors(two) == {"a-b-c", "a-b-c-1", "a-b-c-2"}
    assert links(two) == ["x.md", "e.md"]
