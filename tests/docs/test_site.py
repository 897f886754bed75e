"""The site built of docs/: every link and anchor leads somewhere, nothing is fetched from elsewhere."""

from __future__ import annotations

import re
import runpy
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest

ROOT = Path(__file__).parents[2]
TOOL = runpy.run_path(str(ROOT / "tools" / "build_site.py"))
LACKING = TOOL["missing"]()

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(bool(LACKING), reason=f"not installed: {', '.join(LACKING)} (requirements-dev.lock)"),
]
FETCHED = {"link": "href", "script": "src", "img": "src", "iframe": "src", "source": "src", "form": "action"}


class Page(HTMLParser):
    """What a page links to, what it fetches, and what may be linked to in it."""

    def __init__(self, path: Path) -> None:
        super().__init__()
        self.links: list[str] = []
        self.fetched: list[str] = []
        self.anchors: set[str] = set()
        self.feed(path.read_text(encoding="utf-8"))

    def handle_starttag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        values = {name: value or "" for name, value in attributes}
        self.anchors |= {values["id"]} if "id" in values else set()
        if tag == "a" and "href" in values:
            self.links.append(values["href"])
        if tag in FETCHED and FETCHED[tag] in values:
            self.fetched.append(values[FETCHED[tag]])


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("site Дом 家") / "site"
    assert TOOL["build"](out) == 0
    return out


def test_every_page_is_in_it(site: Path) -> None:
    pages = {f"docs/{path.stem}.html" for path in (ROOT / "docs").glob("*.md")}
    pages |= {f"{path.stem}.html" for path in ROOT.glob("*.md")}
    assert pages == pages & {path.relative_to(site).as_posix() for path in site.rglob("*.html")}
    sidebar = Page(site / "docs" / "radio.html").links
    assert {"copper.html", "decisions.html", "../README.html"} <= set(sidebar)


def test_every_link_leads_somewhere(site: Path) -> None:
    pages = {path: Page(path) for path in sorted(site.rglob("*.html"))}
    faults, looked = [], 0
    for path, page in pages.items():
        for link in page.links + page.fetched:
            parts = urlsplit(link)
            if parts.scheme:
                continue
            looked += 1
            target = (path.parent / unquote(parts.path)).resolve() if parts.path else path
            if not target.is_relative_to(site) or not target.exists():
                faults.append(f"{path.relative_to(site)}: {link} is not there")
            elif parts.fragment and target in pages and parts.fragment not in pages[target].anchors:
                faults.append(f"{path.relative_to(site)}: {link} names no anchor")
    assert looked > 500 and not faults, "\n".join(faults)


def test_nothing_is_fetched_from_elsewhere(site: Path) -> None:
    """Fonts, scripts, styles and pictures all lie in the folder."""
    fetched = [(path, link) for path in site.rglob("*.html") for link in Page(path).fetched]
    assert len(fetched) > 50
    assert not [(path, link) for path, link in fetched if urlsplit(link).scheme or link.startswith("//")]
    for style in site.rglob("*.css"):
        text = style.read_text(encoding="utf-8")
        assert not re.search(r"(url\(|@import)\s*['\"]?(https?:)?//", text), style
