"""A planned access point dragged elsewhere in a real browser: tried, put back, kept for the next plan."""

from __future__ import annotations

from typing import Any

import pytest
from browsing import Tab, barriers, paired_tab
from playwright.sync_api import Browser, Locator, expect
from server import Running

from rehaul.jobs import demo_job

pytestmark = pytest.mark.browser

DEMO = demo_job()
LONG_MS = 90_000  # a plan on a busy machine


def choices(server: Running, tab: Tab) -> dict[str, Any]:
    tab.page.locator("[data-link=live]", has_text="all saved").wait_for(state="attached")
    found: dict[str, Any] = server.paired("Reader").get(f"/api/jobs/{DEMO.id}").json()["job"]["choices"]
    return found


def drag(tab: Tab, mark: Locator, by_px: tuple[float, float]) -> None:
    box = mark.bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    mouse = tab.page.mouse
    mouse.move(x, y)
    mouse.down()
    mouse.move(x + by_px[0] / 2, y + by_px[1] / 2, steps=4)
    mouse.move(x + by_px[0], y + by_px[1], steps=4)
    mouse.up()


def test_a_tried_access_point_is_put_back_or_kept_at_the_nearest_site(
    browser: Browser, server: Running
) -> None:
    tab = paired_tab(browser, server, f"/jobs/{DEMO.id}/coverage", viewport={"width": 1366, "height": 1100})
    page = tab.page
    bar = page.get_by_role("region", name="The plan")
    expect(bar).to_contain_text("Made of edit", timeout=LONG_MS)
    sheet = page.get_by_role("application")
    mark = sheet.locator("[data-planned] path.solid").first
    tried = page.get_by_role("region", name="Tried elsewhere")

    before = mark.bounding_box()
    drag(tab, mark, (60, 40))
    expect(tried).to_be_visible()
    expect(tried.get_by_role("status")).to_contain_text("Kept there, the price", timeout=LONG_MS)
    answered = tried.get_by_role("status").inner_text()
    assert barriers(page) == []
    tried.get_by_role("button", name="Put it back").click()
    expect(tried).to_have_count(0)
    assert mark.bounding_box() == before
    assert choices(server, tab)["pinned_sites"] == [], "trying saves nothing"

    drag(tab, mark, (60, 40))
    site = tried.locator(".id").inner_text()
    expect(tried.get_by_role("status")).to_have_text(answered, timeout=LONG_MS)
    tried.get_by_role("button", name="Keep it").click()
    expect(tried).to_have_count(0)
    assert choices(server, tab)["pinned_sites"] == [site]
    expect(page.get_by_label(f"Site {site}", exact=True)).to_have_value("pinned")
    expect(bar).to_contain_text("Made of edit 1", timeout=LONG_MS)
    expect(page.get_by_role("row", name=site).filter(has_text="stands here")).to_have_count(1)
    price = (
        server.paired("Reader").get(f"/api/jobs/{DEMO.id}/plan").json()["plan"]["takeoff"]["quote"]["total"]
    )
    assert f"{price:,.0f}" in answered, "what was said before it was kept is what the plan of it says"
    page.get_by_role("button", name="Undo").click()
    assert choices(server, tab)["pinned_sites"] == []
    assert (tab.faults, tab.strays) == ([], [])
