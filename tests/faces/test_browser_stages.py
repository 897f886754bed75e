"""From the plan to the handover in a real browser; every page by axe, in light and dark, on three widths."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path
from typing import Any, Literal

import httpx
import pypdfium2
import pytest
from browsing import COLOURS, Tab, barriers, open_all, paired_tab, turn_to
from PIL import Image
from playwright.sync_api import Browser, Page, expect
from server import LastingWorker, Running, running

from counts import LONG
from rehaul.jobs import demo_job, save_job

pytestmark = pytest.mark.browser

DEMO = demo_job()
PAGES = (
    "job",
    "house",
    "cables",
    "coverage",
    "quote",
    "work",
    "tests",
    "handover",
    "model",
    "meter",
    "people",
)
SCHEMES: tuple[Literal["light", "dark"], ...] = ("light", "dark")
SIZES = ((390, 844), (820, 1180), (1280, 800), (1366, 850))  # across and down, px
LONG_MS = 90_000  # a plan on a busy machine


@pytest.fixture(scope="module")
def browser(drawing_browser: Browser) -> Browser:
    return drawing_browser


@pytest.fixture(scope="module")
def server(demo_server: Running) -> Running:
    return demo_server


@pytest.fixture(scope="module")
def reader(server: Running) -> httpx.Client:
    return server.paired("Reader")


def job_of(reader: httpx.Client) -> dict[str, Any]:
    found: dict[str, Any] = reader.get(f"/api/jobs/{DEMO.id}").json()["job"]
    return found


def all_saved(tab: Tab) -> None:
    tab.page.locator("[data-link=live]", has_text="all saved").wait_for(state="attached")


def demo_tab(browser: Browser, server: Running, page: str, **context: Any) -> Tab:
    """A tab on a page of the demo, open and read."""
    tab = paired_tab(browser, server, f"/jobs/{DEMO.id}/{page}", **context)
    tab.page.get_by_role("heading", level=1).wait_for(state="attached")
    return tab


def plan_is_made(tab: Tab) -> None:
    """It follows by itself; each test runs alone, on a server that may have none yet."""
    bar = tab.page.get_by_role("region", name="The plan")
    expect(bar).to_contain_text("Made of edit", timeout=LONG_MS)


def test_the_demo_is_two_clicks_away(browser: Browser, server: Running) -> None:
    tab = paired_tab(browser, server, "/")
    tab.page.get_by_role("button", name="Open the demo").click()
    tab.page.get_by_role("application").wait_for()
    assert (tab.faults, tab.strays) == ([], [])


def test_a_plan_is_stopped_made_and_chosen_from(browser: Browser, tmp_path: Path) -> None:
    """On a job that nobody has planned yet: there has to be something to stop."""
    save_job(tmp_path / "demo.rehaul.json", DEMO.model_copy(update={"title": "A plan that is stopped"}))
    with running(tmp_path, worker=LastingWorker) as server:
        stop_make_and_choose(demo_tab(browser, server, "coverage"), server.paired("Reader"))


def stop_make_and_choose(tab: Tab, reader: httpx.Client) -> None:
    page = tab.page
    plan = page.get_by_role("region", name="The plan")
    plan.get_by_role("button", name="Stop").click()
    expect(plan).to_contain_text("Stopped.")
    plan.get_by_role("button", name="Go on").click()
    expect(plan).to_contain_text("Made of edit", timeout=LONG_MS)

    front = page.get_by_role("radiogroup", name="Least cost")
    expect(front.get_by_role("radio", checked=True)).to_have_count(1)
    front.get_by_role("radio", checked=True).focus()
    page.keyboard.press("ArrowLeft")
    page.get_by_role("button", name="Plan for this").click()
    expect(plan).to_contain_text("Made of edit 1", timeout=LONG_MS)
    point = page.get_by_role("radio", checked=True).get_attribute("aria-label")
    asking = len({need["room"] for need in job_of(reader)["needs"]})
    assert point is not None and "as planned" in point and f"of {asking} rooms" in point
    expect(page.get_by_role("region", name="Spot and front")).to_contain_text("before margin and tax")
    assert job_of(reader)["choices"]["budget"] > 0

    page.get_by_label("Site N1", exact=True).select_option("forbidden")
    expect(plan).to_contain_text("Made of edit 2", timeout=LONG_MS)
    assert job_of(reader)["choices"]["forbidden_sites"] == ["N1"]
    expect(page.get_by_role("row", name="N1").first).to_contain_text("forbidden")
    page.get_by_role("button", name="Undo").click()
    page.get_by_role("button", name="Undo").click()
    expect(plan).to_contain_text("Made of edit 4", timeout=LONG_MS)
    assert (tab.faults, tab.strays) == ([], [])


def test_what_a_plan_may_count_on_is_ticked(browser: Browser, server: Running, reader: httpx.Client) -> None:
    tab = demo_tab(browser, server, "coverage")
    for words, field in (
        ("How surely counts for nine places", "whole_rooms"),
        ("Channels shared with radar", "dfs"),
        ("The router may be moved", "move_router"),
        ("An access point may hang on the router by radio", "wireless_hops"),
        ("Data may go over old coax", "coax_adapters"),
        ("An old laptop may get a plug-in radio", "swap_devices"),
    ):
        box = tab.page.get_by_label(words)
        before = job_of(reader)["choices"][field]
        assert box.is_checked() == before
        box.set_checked(not before)
        expect(tab.page.get_by_role("button", name="Undo")).to_be_enabled()
        all_saved(tab)
        assert job_of(reader)["choices"][field] is not before
        tab.page.get_by_role("button", name="Undo").click()
        expect(box).to_be_checked(checked=before)
    all_saved(tab)
    assert (tab.faults, tab.strays) == ([], [])


def test_steps_are_ticked_off(browser: Browser, server: Running, reader: httpx.Client) -> None:
    tab = demo_tab(browser, server, "work")
    plan_is_made(tab)
    tab.page.locator("[data-step=T01]").get_by_role("button", name="Tick it off").click(timeout=LONG_MS)
    expect(tab.page.get_by_text("steps done.")).to_contain_text("1 of ")
    all_saved(tab)
    (tick,) = job_of(reader)["ticks"]
    assert tick["by"] == "Ann"
    printed = tab.page.pdf(prefer_css_page_size=True)
    assert printed.startswith(b"%PDF") and len(printed) > 20_000


def test_a_photo_is_taken_on_its_card(browser: Browser, server: Running, reader: httpx.Client) -> None:
    tab = demo_tab(browser, server, "work")
    plan_is_made(tab)
    page = tab.page
    order = reader.get(f"/api/jobs/{DEMO.id}/plan").json()["plan"]["order"]
    titles = [task["title"] for task in order if task["title"].startswith("Photograph the box of ")]
    title = titles[-1]  # which boxes are opened is the plan's own affair
    open_all(page)
    card = page.get_by_role("listitem").filter(has_text=title).first
    picture = io.BytesIO()
    Image.new("RGB", (2100, 1050), (120, 80, 40)).save(picture, "JPEG")
    due = card.locator("input[type=file]")
    assert due.get_attribute("capture") == "environment"
    due.set_input_files({"name": "box.jpg", "mimeType": "image/jpeg", "buffer": picture.getvalue()})
    shown = card.get_by_role("img", name=f"Photo 1 of: {title}")
    expect(shown).to_be_visible()
    shown.scroll_into_view_if_needed()  # its card stands far down the page, and pictures load as they come up
    expect(shown).to_have_js_property("naturalWidth", 2048)
    assert barriers(page) == []

    other = demo_tab(browser, server, "work").page
    other.locator("[data-step]").first.wait_for()
    open_all(other)
    expect(other.get_by_role("img", name=f"Photo 1 of: {title}")).to_be_visible()
    card.get_by_role("button", name="Take away photo 1").click()
    expect(other.get_by_role("img", name="Photo 1 of")).to_have_count(0)
    assert reader.get(f"/api/jobs/{DEMO.id}/pictures").json() == []
    assert (tab.faults, tab.strays) == ([], [])


def test_the_papers_are_made_and_handed_over(browser: Browser, server: Running) -> None:
    tab = demo_tab(browser, server, "handover")
    page = tab.page
    page.get_by_role("button", name="Make the papers").click()
    link = page.get_by_role("link", name="plan.pdf")
    link.wait_for(timeout=LONG_MS)
    answer = page.context.request.get(server.url + str(link.get_attribute("href")))
    assert answer.ok and answer.body().startswith(b"%PDF")
    page.get_by_label("Where the record is kept").fill("meter cupboard")
    page.get_by_role("button", name="Make the record").click()
    saved = page.get_by_role("link", name="Save the record")
    saved.wait_for(timeout=LONG_MS)
    with page.expect_download() as caught:
        saved.click()
    assert caught.value.suggested_filename == "demo-handover.zip"
    with zipfile.ZipFile(caught.value.path()) as record:
        assert {"handover.pdf", "closet-door.pdf", "plain/READ-ME-FIRST.txt"} <= set(record.namelist())
        door = pypdfium2.PdfDocument(record.read("closet-door.pdf"))[0].get_textpage().get_text_bounded()
        assert "meter cupboard" in door
    expect(page.get_by_label("Where the record is kept")).to_have_value("meter cupboard")
    with page.expect_download() as caught:
        page.get_by_role("link", name="Save the job as a file").click()
    assert caught.value.suggested_filename == "demo.rehaul.json"
    assert (tab.faults, tab.strays) == ([], [])


def unrolled(page: Page) -> None:
    """The whole page in the window: else axe judges whatever the title block happens to lie over by the strip
    that looks out. That nothing is kept under it is asked by itself, below."""
    page.set_viewport_size({"width": 1280, "height": 900})
    long_px = int(page.evaluate("document.documentElement.scrollHeight"))
    page.set_viewport_size({"width": 1280, "height": max(long_px, 900)})


def test_axe_finds_no_barrier_on_any_page(browser: Browser, server: Running) -> None:
    """In light, and once the device turns dark: then the rules that hold or not by colour."""
    page = demo_tab(browser, server, PAGES[-1]).page
    found = {}
    for name in (*PAGES, ""):
        page.emulate_media(color_scheme="light")
        turn_to(page, f"/jobs/{DEMO.id}/{name}" if name else "/")
        if not name:
            page.get_by_role("heading", name="Jobs").wait_for()
        page.wait_for_timeout(500)
        unrolled(page)
        papers = set()
        for scheme in SCHEMES:
            page.emulate_media(color_scheme=scheme)
            papers.add(page.evaluate("getComputedStyle(document.documentElement).backgroundColor"))
            if barred := barriers(page, () if scheme == SCHEMES[0] else COLOURS):
                found[name, scheme] = barred
        assert len(papers) == len(SCHEMES), f"{name} does not follow the device's light and dark"
    assert found == {}


@pytest.mark.parametrize(("wide", "high"), [pytest.param(1280, 800, marks=pytest.mark.long), (390, 844)])
def test_what_has_the_focus_is_never_under_a_bar(
    browser: Browser, server: Running, wide: int, high: int
) -> None:
    """WCAG 2.2 criterion 2.4.11, of every control that the Tab key reaches on two long pages."""
    tab = demo_tab(browser, server, "cables", viewport={"width": wide, "height": high})
    page = tab.page
    for name in ("cables", "tests"):
        if not page.url.endswith(name):
            turn_to(page, f"/jobs/{DEMO.id}/{name}")
        page.wait_for_timeout(500)
        seen = 0
        for _ in range(60):
            page.keyboard.press("Tab")
            shown, what = page.evaluate(
                """() => {
                    const one = document.activeElement, box = one.getBoundingClientRect();
                    if (one === document.body || one.closest("nav, header")) return [null, ""];
                    const y = Math.min(box.bottom, Math.max(box.top, 0) + 40) - 2;
                    const there = document.elementFromPoint(box.left + box.width / 2, y);
                    return [Boolean(there) && !there.closest("nav, header"), one.outerHTML.slice(0, 120)];
                }"""
            )
            assert shown is not False, what
            seen += shown is True
        assert seen > 30, name


def test_axe_finds_no_barrier_at_the_door(browser: Browser, server: Running) -> None:
    page = browser.new_context().new_page()
    page.goto(server.url)
    page.get_by_role("heading", name="Pair this device").wait_for()
    assert barriers(page) == []


def test_no_page_scrolls_sideways(browser: Browser, server: Running) -> None:
    """Opened on a phone, in a wider window, and on the phone again; with --long in all of them in turn."""
    page = demo_tab(browser, server, PAGES[-1]).page
    over = {}
    for turn, name in enumerate(PAGES):
        page.set_viewport_size({"width": SIZES[0][0], "height": SIZES[0][1]})
        turn_to(page, f"/jobs/{DEMO.id}/{name}")
        wider = SIZES[1:] if LONG else (SIZES[1 + turn % 3],)
        for wide, high in (SIZES[0], *wider, SIZES[0]):
            page.set_viewport_size({"width": wide, "height": high})
            page.wait_for_timeout(300)
            more = page.evaluate(
                "document.documentElement.scrollWidth - document.documentElement.clientWidth"
            )
            if more > 0:
                over[name, wide] = more
    assert over == {}


def test_fingers_get_big_targets(browser: Browser, server: Running) -> None:
    """24 CSS pixels at least, WCAG 2.2 criterion 2.5.8; the tools and ticks have 44, criterion 2.5.5."""
    tab = demo_tab(browser, server, "house", viewport={"width": 820, "height": 1180}, has_touch=True)
    tab.page.get_by_role("application").wait_for()
    for button in tab.page.get_by_role("toolbar").get_by_role("button").all():
        box = button.bounding_box()
        assert box is not None and min(box["width"], box["height"]) >= 44, button.inner_text()
