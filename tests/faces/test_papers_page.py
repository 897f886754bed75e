"""The page of a plan: one file, nothing fetched, nothing run, readable by everyone."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path

import pytest
from browsing import COLOURS, barriers
from playwright.sync_api import Browser

import sample_plan
from rehaul.sheets import page_html, write_papers
from rehaul.sheets.ratemap import map_svg

ADDRESSES = re.compile(r"""(?:src|href|url|action|data|poster)\s*[=(]\s*["']?([^"')\s>]+)""")


class Outline(HTMLParser):
    """Ids, links to them, headings, tables without heads."""

    def __init__(self) -> None:
        super().__init__()
        self.ids: list[str] = []
        self.links: list[str] = []
        self.headings: list[int] = []
        self.tags: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = dict(attrs)
        self.tags.append(tag)
        if found.get("id"):
            self.ids.append(str(found["id"]))
        if tag == "a" and found.get("href"):
            self.links.append(str(found["href"]))
        if re.fullmatch(r"h[1-6]", tag):
            self.headings.append(int(tag[1]))


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("page")
    write_papers(sample_plan.plan(), made)
    return made


@pytest.fixture(scope="module")
def html(folder: Path) -> str:
    return (folder / "index.html").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def outline(html: str) -> Outline:
    parser = Outline()
    parser.feed(html)
    return parser


def test_nothing_is_fetched_from_anywhere(html: str) -> None:
    for address in ADDRESSES.findall(html):
        assert not re.match(r"(?:[a-z]+:)?//", address), address
    assert "@import" not in html


def test_nothing_runs(outline: Outline, html: str) -> None:
    assert "script" not in outline.tags
    assert not re.search(r"<[^>]+\son[a-z]+=", html)


def test_links_lead_somewhere(outline: Outline, folder: Path) -> None:
    assert len(set(outline.ids)) == len(outline.ids)
    for link in outline.links:
        if link.startswith("#"):
            assert link[1:] in outline.ids
        else:
            assert (folder / link).is_file(), link


def test_headings_do_not_skip_a_level(outline: Outline) -> None:
    assert outline.headings.count(1) == 1
    assert all(b <= a + 1 for a, b in pairwise(outline.headings))


def test_every_storey_has_its_sheet_and_both_maps(html: str) -> None:
    plan = sample_plan.plan()
    for storey in plan.job.house.storeys:
        assert html.count(map_svg(plan, storey.id, "before")) == 1
        assert html.count(map_svg(plan, storey.id, "after")) == 1


def test_a_held_task_is_locked_on_the_page_too(html: str) -> None:
    assert html.count('<li class="locked">') == 1
    assert "HELD, do not start." in html


def test_the_page_of_a_plan_alone_has_no_links_beside_it() -> None:
    assert 'class="files"' not in page_html(sample_plan.plan())


@pytest.mark.browser
def test_an_accessibility_checker_finds_nothing(browser: Browser, folder: Path) -> None:
    """In light, and once the device turns dark: then the rules that hold or not by colour."""
    # the checker is a script of its own: the page's policy would keep it out, as it should
    page = browser.new_page(bypass_csp=True, color_scheme="light")
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto((folder / "index.html").as_uri())
    assert barriers(page, tags=()) == []
    page.emulate_media(color_scheme="dark")
    assert barriers(page, COLOURS) == []
    assert asked == [(folder / "index.html").as_uri()]


@pytest.mark.browser
@pytest.mark.parametrize("width", [360, 820, 1280])
def test_the_page_itself_never_scrolls_sideways(browser: Browser, folder: Path, width: int) -> None:
    page = browser.new_page(viewport={"width": width, "height": 800})
    page.goto((folder / "index.html").as_uri())
    assert page.evaluate("document.documentElement.scrollWidth") <= width
