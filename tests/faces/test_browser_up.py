"""The way up in a real browser: its map, its needs, and an area outside that may ask for signal."""

from __future__ import annotations

from typing import Any

import pytest
from browsing import Tab, barriers, paired_tab
from playwright.sync_api import Browser, expect
from server import Running

from rehaul.jobs import demo_job

pytestmark = pytest.mark.browser

DEMO = demo_job()
LONG_MS = 240_000  # a plan on a busy machine


def job_of(server: Running, tab: Tab) -> dict[str, Any]:
    tab.page.locator("[data-link=live]", has_text="all saved").wait_for(state="attached")
    found: dict[str, Any] = server.paired("Reader").get(f"/api/jobs/{DEMO.id}").json()["job"]
    return found


def test_the_map_is_turned_to_the_way_up_and_back(browser: Browser, server: Running) -> None:
    tab = paired_tab(browser, server, f"/jobs/{DEMO.id}/coverage", viewport={"width": 1366, "height": 1100})
    page = tab.page
    way = page.get_by_role("group", name="Way")
    legend = page.locator("figcaption")
    expect(legend).to_have_text("Rate at a spot, middling, Mb/s")
    way.get_by_role("button", name="Up").click()
    expect(legend).to_have_text("Rate up at a spot, middling, Mb/s")
    expect(way.get_by_role("button", name="Up")).to_have_attribute("aria-pressed", "true")
    page.get_by_role("combobox", name="Map").select_option("low_mbps")
    expect(legend).to_have_text("Rate up at the least (5 %), Mb/s")
    way.get_by_role("button", name="Down").click()
    expect(legend).to_have_text("Rate at the least (5 %), Mb/s")
    page.get_by_role("combobox", name="Map").select_option("power_dbm")
    expect(way).to_have_count(0)
    page.get_by_role("application").click(position={"x": 300, "y": 200})
    spot = page.get_by_role("region", name="What this spot gets")
    expect(spot).to_contain_text("up")
    expect(spot).to_contain_text("plan")
    assert barriers(page) == []
    assert (tab.faults, tab.strays) == ([], [])


def test_up_and_delay_are_asked_and_judged(browser: Browser, server: Running) -> None:
    tab = paired_tab(browser, server, f"/jobs/{DEMO.id}/coverage", viewport={"width": 1366, "height": 1100})
    page = tab.page
    room = next(room for room in DEMO.house.rooms if any(need.room == room.id for need in DEMO.needs))
    too_much = DEMO.service.up_mbps * 2
    for label, value in (
        (f"Mb/s up in {room.name}", f"{too_much:g}"),
        (f"Delay under load asked in {room.name}, ms", "1"),
    ):
        box = page.get_by_label(label, exact=True)
        box.fill(value)
        box.blur()
    need = next(need for need in job_of(server, tab)["needs"] if need["room"] == room.id)
    assert (need["up_mbps"], need["delay_ms"]) == (too_much, 1)
    bar = page.get_by_role("region", name="The plan")
    expect(bar).to_contain_text("Made of edit", timeout=LONG_MS)
    row = page.get_by_role("row").filter(has=page.get_by_role("rowheader", name=room.name))
    expect(row.first).to_contain_text("falls short")
    expect(row.first).to_contain_text("not met")
    lacks = page.get_by_role("listitem").filter(has_text=room.name)
    expect(lacks.filter(has_text=" up, as surely as asked").first).to_be_visible()
    expect(lacks.filter(has_text="delay under load").first).to_be_visible()
    expect(page.get_by_text("A range, not a promise.")).to_have_count(1)
    assert (tab.faults, tab.strays) == ([], [])


def test_an_outside_area_is_drawn_and_asks(browser: Browser, server: Running) -> None:
    tab = paired_tab(browser, server, f"/jobs/{DEMO.id}/house", viewport={"width": 1366, "height": 1100})
    page = tab.page
    page.get_by_role("button", name="Outside area").click()
    sheet = page.get_by_role("application")
    size = sheet.bounding_box()
    assert size is not None
    standing = {room.id for room in DEMO.house.rooms}
    sheet.click(position={"x": 8, "y": size["height"] / 2})
    outside = page.get_by_role("checkbox", name="It lies outside")
    expect(outside).to_be_checked()
    (area,) = [room for room in job_of(server, tab)["house"]["rooms"] if room["id"] not in standing]
    assert area["outside"] is True
    assert area["lived_in"] is False and len(area["polygon"]) == 4
    assert barriers(page) == []
    page.goto(f"{server.url}/jobs/{DEMO.id}/coverage")
    box = page.get_by_label(f"Mb/s down in {area['name']}", exact=True)
    box.fill("5")
    box.blur()
    assert [need["room"] for need in job_of(server, tab)["needs"] if need["room"] == area["id"]] == [
        area["id"]
    ]
    expect(page.get_by_role("row", name=area["name"])).to_contain_text("outside")
    assert (tab.faults, tab.strays) == ([], [])
