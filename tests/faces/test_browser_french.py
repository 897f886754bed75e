"""The pages in French: nothing of their own words is left in English, and nothing is cut on a phone."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from string import Formatter

import pytest
from browsing import Tab, lasting, paired_tab, turn_to
from playwright.sync_api import Browser, expect
from server import Running

from rehaul.jobs import demo_job

pytestmark = pytest.mark.browser

DEMO = demo_job()
TABLES = Path(__file__).parents[2] / "src" / "rehaul" / "words" / "tables"
IN_FRENCH = 'localStorage.setItem("rehaul-language", "fr")'
PHONE = {"width": 360, "height": 740}
LONG_MS = 90_000  # a plan on a busy machine
LEAST_LETTERS = 6  # of a sentence: what is shorter may stand in what somebody wrote
LEAST_BESIDE_VALUES = 12
NAMES = {
    one.name for one in (*DEMO.house.storeys, *DEMO.house.rooms, *DEMO.house.meeting_points, *DEMO.boxes)
}

# What a person reads or hears of a page: its texts, and the attributes that are read out.
READ = """() => {
  const found = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode())
    if (!node.parentElement.closest("script, style")) found.push(node.data);
  for (const name of ["aria-label", "title", "placeholder", "alt", "aria-valuetext"])
    for (const one of document.querySelectorAll(`[${name}]`)) found.push(one.getAttribute(name));
  return found.map((one) => one.replace(/\\s+/g, " ").trim()).filter(Boolean);
}"""

# Every text that ever stood on the page, from its first moment on.
WATCH = """; window.everRead = new Set(); new MutationObserver(() => {
  const walker = document.createTreeWalker(document.body ?? document, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode())
    if (!node.parentElement.closest("script, style"))
      window.everRead.add(node.data.replace(/\\s+/g, " ").trim());
}).observe(document, { childList: true, subtree: true, characterData: true })"""
FETCHED = """() => performance.getEntriesByType("resource").map((one) => new URL(one.name).pathname)
  .flatMap((path) => /^\\/assets\\/(en|fr)-[^/]*[.]js$/.exec(path)?.[1] ?? [])"""

# What shows less than it holds, with all that folds open; what only a screen reader says is left out.
CUT = """() => {
  for (const one of document.querySelectorAll("details")) one.open = true;
  for (const one of document.querySelectorAll(".hidden")) one.style.display = "none";
  const all = "button, summary, label, legend, th, h1, h2, h3, nav a, [role=status]";
  return [...document.querySelectorAll(all)]
    .filter((one) => one.checkVisibility() && getComputedStyle(one).display !== "inline")
    .filter((one) => one.scrollWidth > one.clientWidth + 1)
    .map((one) => `${one.tagName} ${one.textContent.trim().slice(0, 50)}: ${one.scrollWidth}`);
}"""


@pytest.fixture(scope="module")
def browser(drawing_browser: Browser) -> Browser:
    return drawing_browser


@pytest.fixture(scope="module")
def server(demo_server: Running) -> Running:
    return demo_server


@pytest.fixture(scope="module")
def planned(browser: Browser, server: Running) -> Iterator[Tab]:
    """A tab that reads French, on a job with a plan."""
    tab = paired_tab(browser, server, f"/jobs/{DEMO.id}/coverage", script=IN_FRENCH)
    bar = tab.page.get_by_role("region", name="Le plan")
    expect(bar).to_contain_text("Fait de la modification", timeout=LONG_MS)
    with lasting(tab):
        yield tab


@cache
def english() -> list[tuple[str, re.Pattern[str]]]:
    """The pages' sentences as they read in English, where French has other words."""
    rows = []
    for path in TABLES.glob("page_*.csv"):
        with path.open(encoding="utf-8", newline="") as file:
            rows += [(f"{path.stem}.{row['code']}", row["en"], row["fr"]) for row in csv.DictReader(file)]
    french = {fr for _, _, fr in rows}
    return [
        (code, _pattern(en))
        for code, en, fr in rows
        if en != fr and en not in french | NAMES
        if _letters(en) >= (LEAST_BESIDE_VALUES if "{" in en else LEAST_LETTERS)
    ]


def _letters(words: str) -> int:
    return sum(letter.isalpha() for text, *_ in Formatter().parse(words) for letter in text)


def _pattern(words: str) -> re.Pattern[str]:
    parts = ((re.escape(text), name) for text, name, _, _ in Formatter().parse(words.strip()))
    return re.compile("".join(text + (".*" if name is not None else "") for text, name in parts))


def open_page(tab: Tab, page: str) -> None:
    turn_to(tab.page, f"/jobs/{DEMO.id}/{page}")
    tab.page.locator("[data-link=live]", has_text="à jour").wait_for(state="attached")
    tab.page.wait_for_load_state("networkidle")


@pytest.mark.parametrize(
    "page", ["house", "cables", "coverage", "quote", "work", "tests", "handover", "model", "meter", "people"]
)
def test_no_sentence_of_a_page_is_left_in_english(planned: Tab, page: str) -> None:
    planned.page.set_viewport_size({"width": 1280, "height": 900})
    open_page(planned, page)
    if page == "cables":
        planned.page.get_by_role("button", name="Ouvrir").first.click()
    read = planned.page.evaluate(READ)
    assert len(read) > 40, "the page did not come up"
    left = sorted({f"{code}: {text}" for text in read for code, way in english() if way.fullmatch(text)})
    assert not left, "\n".join(left)
    assert planned.page.evaluate("document.documentElement.lang") == "fr"


def test_english_would_be_found(browser: Browser, server: Running) -> None:
    """The same search on the page in English finds plenty: it can fail."""
    tab = paired_tab(browser, server, f"/jobs/{DEMO.id}/tests")
    tab.page.get_by_role("heading", level=1, name="Tests").wait_for()
    read = tab.page.evaluate(READ)
    assert len({code for text in read for code, way in english() if way.fullmatch(text)}) > 20


@pytest.mark.parametrize("page", ["house", "cables", "coverage", "quote", "work", "tests"])
def test_nothing_is_cut_on_a_phone(planned: Tab, page: str) -> None:
    planned.page.set_viewport_size(PHONE)  # type: ignore[arg-type]
    open_page(planned, page)
    if page == "cables":
        planned.page.get_by_role("button", name="Ouvrir").first.click()
    assert not planned.page.evaluate(CUT)
    assert planned.page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]


def test_the_language_is_chosen_before_pairing_and_kept(browser: Browser, server: Running) -> None:
    page = browser.new_context().new_page()
    page.goto(server.url)
    page.get_by_role("heading", name="Pair this device").wait_for()
    page.get_by_label("Language of this device").select_option("Français")
    page.get_by_role("heading", name="Appairer cet appareil").wait_for()
    page.reload()
    expect(page.get_by_label("Langue de cet appareil")).to_have_value("fr")
    page.get_by_label("Langue de cet appareil").select_option("English")
    page.get_by_role("heading", name="Pair this device").wait_for()
    assert page.evaluate("document.documentElement.lang") == "en"


def test_a_device_reads_what_its_browser_asks_for(browser: Browser, server: Running) -> None:
    tab = paired_tab(browser, server, "/", locale="fr-FR")
    tab.page.get_by_role("heading", name="Dossiers").wait_for()
    assert tab.faults == []


@pytest.mark.parametrize(
    ("locale", "language"), [("fr-CA", "fr"), pytest.param("en-GB", "en", marks=pytest.mark.long)]
)
def test_one_language_is_fetched(browser: Browser, server: Running, locale: str, language: str) -> None:
    tab = paired_tab(browser, server, f"/jobs/{DEMO.id}/house", locale=locale)
    tab.page.locator("html[data-kept=yes]").wait_for(state="attached")  # with all that is fetched later
    assert set(tab.page.evaluate(FETCHED)) == {language}


def test_no_other_language_is_shown_on_the_way(browser: Browser, server: Running) -> None:
    tab = paired_tab(browser, server, f"/jobs/{DEMO.id}/cables", script=IN_FRENCH + WATCH)
    open_page(tab, "tests")
    read = tab.page.evaluate("[...window.everRead]")
    assert len(read) > 40, "nothing was watched"
    left = sorted({f"{code}: {text}" for text in read for code, way in english() if way.fullmatch(text)})
    assert not left, "\n".join(left)


def test_a_device_keeps_its_language_without_a_connection(browser: Browser, server: Running) -> None:
    tab = paired_tab(browser, server, "/", locale="fr-FR")
    page = tab.page
    page.locator("html[data-kept=yes]").wait_for(state="attached")
    page.context.set_offline(True)
    page.reload()
    page.get_by_role("heading", name="Dossiers").wait_for()
    page.get_by_label("Langue de cet appareil").select_option("English")  # never fetched
    expect(page.get_by_role("alert")).to_contain_text("Cette langue n'a pas pu être chargée.")
    expect(page.get_by_label("Langue de cet appareil")).to_have_value("fr")
    page.context.set_offline(False)
    page.reload()
    page.get_by_label("Langue de cet appareil").select_option("English")
    page.get_by_role("heading", name="Jobs").wait_for()
    page.context.set_offline(True)
    page.reload()
    page.get_by_role("heading", name="Jobs").wait_for()  # kept as it was picked


def test_an_edit_is_named_in_the_language_of_who_made_it(browser: Browser, server: Running) -> None:
    tab = paired_tab(browser, server, f"/jobs/{DEMO.id}/tests", script=IN_FRENCH)
    asked = []
    tab.page.on("request", lambda request: asked.append(request.headers.get("accept-language", "")))
    tab.page.get_by_role("combobox", name="Accepté :").first.select_option("pass")
    undo = tab.page.get_by_role("button", name="Annuler")
    expect(undo).to_have_attribute("title", re.compile(r"^Annuler\s: Acceptation de "))
    undo.click()
    tab.page.get_by_role("link", name="Câbles").first.click()
    tab.page.get_by_role("heading", level=1, name="Câbles").wait_for()
    tab.page.get_by_role("button", name="Ouvrir").first.click()
    tab.page.get_by_text("Avant de couper").wait_for()
    assert "fr" in asked
