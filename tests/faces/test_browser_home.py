"""The home of a job, addresses that hold what a page shows, and what each room gets, in a real browser."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import httpx
import pytest
from browsing import Tab, barriers, paired_tab
from playwright.sync_api import Browser, Page, expect
from server import Running, running
from sheet_places import at

from rehaul.house import Job
from rehaul.jobs import demo_job, save_job

pytestmark = pytest.mark.browser

DEMO = demo_job()
LONG_MS = 90_000
PHONE = {"width": 390, "height": 844}


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    folder = tmp_path_factory.mktemp("home")
    save_job(folder / "demo.rehaul.json", DEMO)
    save_job(folder / "bare.rehaul.json", Job(id="bare", title="Bare"))
    with running(folder) as found:
        yield found


def opened(browser: Browser, server: Running, path: str, **context: Any) -> Tab:
    tab = paired_tab(browser, server, f"/jobs/{path}", **context)
    tab.page.get_by_role("heading", level=1).wait_for(state="attached")
    return tab


def now_of(server: Running, job: str) -> dict[str, object]:
    reader: httpx.Client = server.paired("Reader")
    found: dict[str, object] = reader.get(f"/api/jobs/{job}/now").json()
    return found


def test_home_says_where_the_job_stands_and_what_comes_next(browser: Browser, server: Running) -> None:
    tab = opened(browser, server, DEMO.id, viewport=PHONE)
    page = tab.page
    headline = page.get_by_role("heading", level=1)
    expect(page.get_by_role("img", name=re.compile("^Plan of"))).to_be_visible()
    expect(page.get_by_role("heading", name="Rooms", exact=True)).to_be_visible(
        timeout=LONG_MS
    )  # there is a plan
    page.wait_for_timeout(1500)
    said = now_of(server, DEMO.id)
    expect(headline).to_have_text(str(said["sentence"]))
    step = said["next"]
    assert isinstance(step, dict)
    follow = page.get_by_role("main").get_by_role("link", name=str(step["words"]))
    stages = page.get_by_role("navigation", name="Stages of the work")
    assert stages.get_by_role("link").count() == 4, "at hand; the others are one press away"
    page.get_by_role("button", name="All pages").click()
    assert stages.get_by_role("link").count() == 11
    page.get_by_role("button", name="Close").click()
    rows = page.get_by_role("table").get_by_role("row")
    assert rows.count() == sum(bool(need.uses or need.down_mbps) for need in DEMO.needs)
    assert barriers(page) == []
    follow.click()
    page.wait_for_url(f"**/{step['page']}*")
    assert (tab.faults, tab.strays) == ([], [])


def test_the_home_of_a_job_with_nothing_in_it_says_what_to_begin_with(
    browser: Browser, server: Running
) -> None:
    tab = opened(browser, server, "bare")
    said = now_of(server, "bare")
    expect(tab.page.get_by_role("heading", level=1)).to_have_text(str(said["sentence"]))
    assert isinstance(said["next"], dict) and said["next"]["page"] == "house"
    assert barriers(tab.page) == []
    assert (tab.faults, tab.strays) == ([], [])


def shown(page: Page) -> tuple[str | None, str]:
    storeys = page.get_by_role("group", name="Storey").get_by_role("button", pressed=True)
    return storeys.text_content(), page.get_by_role("combobox", name="Map").input_value()


def test_an_address_holds_what_a_sheet_shows_and_back_returns_there(
    browser: Browser, server: Running
) -> None:
    tab = opened(browser, server, f"{DEMO.id}/house")
    page = tab.page
    storey = DEMO.house.storeys[-1]
    page.get_by_role("group", name="Storey").get_by_role("button", name=storey.name, exact=True).click()
    page.get_by_role("combobox", name="Map").select_option("power_dbm")
    page.wait_for_url(re.compile(rf"storey={storey.id}&map=power_dbm\.today"))
    before = shown(page)
    page.reload()
    page.get_by_role("application").wait_for()
    assert shown(page) == before == (storey.name, "power_dbm")
    stages = page.get_by_role("navigation", name="Stages of the work")
    stages.get_by_role("link", name="Work").click()
    page.get_by_role("heading", level=1, name="Work").wait_for()
    page.go_back()
    page.get_by_role("application").wait_for()
    assert shown(page) == before
    assert (tab.faults, tab.strays) == ([], [])


def test_a_page_that_there_is_not_says_so(browser: Browser, server: Running) -> None:
    tab = opened(browser, server, f"{DEMO.id}/basement")
    page = tab.page
    expect(page.get_by_role("heading", level=1)).to_have_text("There is no such page")
    page.get_by_role("link", name="To the job").click()
    expect(page.get_by_role("heading", level=1)).not_to_have_text("There is no such page")
    page.goto(f"{server.url}/somewhere/else")
    expect(page.get_by_role("heading", level=1)).to_have_text("There is no such page")
    assert tab.strays == []


def test_rooms_say_what_they_get_and_what_it_was_while_a_box_is_dragged(
    browser: Browser, server: Running
) -> None:
    box = next(one for one in DEMO.boxes if "router" in one.equipment)
    tab = opened(browser, server, f"{DEMO.id}/house?storey={box.storey}&map=down_mbps.today")
    page = tab.page
    sheet = page.get_by_role("application")
    figures = sheet.locator("[data-room] .figure")
    expect(figures.first).to_be_visible(timeout=LONG_MS)
    before = figures.all_text_contents()
    assert all(float(text) > 0 for text in before)
    sheet.hover(position=at(sheet, *box.position))
    page.mouse.down()
    x, y = box.position
    sheet.hover(position=at(sheet, x - 1.2, y + 0.5))
    sheet.hover(position=at(sheet, x - 2.5, y + 1.0))
    expect(sheet.locator("[data-room] .under", has_text="was ").first).to_be_visible()
    assert figures.all_text_contents() != before
    page.mouse.up()
    page.get_by_role("button", name="Undo").click()
    expect(sheet.locator("[data-room] .under", has_text="was ")).to_have_count(0)
    expect(figures).to_have_text(before)
    assert (tab.faults, tab.strays) == ([], [])
