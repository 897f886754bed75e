"""The Meter page in a real browser: measured, saved to the room, and honest about who the limit is."""

from __future__ import annotations

from typing import Any

import pytest
from browsing import Tab, barriers, paired_tab
from playwright.sync_api import Browser
from server import Running

from rehaul.jobs import demo_job
from rehaul.web import meter

pytestmark = pytest.mark.browser

JOB = demo_job()
ROOM = JOB.house.rooms[-1]
DOWN_MBPS, UP_MBPS, DELAY_MS = 10.0, 6.0, 10.0  # what the browser is throttled to
QUANTITIES = ["down_mbps", "up_mbps", "delay_ms", "loaded_delay_ms"]


def throttle(tab: Tab) -> None:
    """The browser's own slow network, as its developer tools have it: a peer for what is measured."""
    session = tab.page.context.new_cdp_session(tab.page)
    # Its events are not asked for: the tests would be told of every piece that comes.
    bytes_per_s = {"downloadThroughput": DOWN_MBPS * 1e6 / 8, "uploadThroughput": UP_MBPS * 1e6 / 8}
    session.send("Network.emulateNetworkConditions", {"offline": False, "latency": DELAY_MS, **bytes_per_s})


def meter_tab(browser: Browser, server: Running, **context: Any) -> Tab:
    tab = paired_tab(browser, server, f"/jobs/{JOB.id}/meter", **context)
    tab.page.get_by_label("Room you stand in").select_option(ROOM.id)
    return tab


def readings(server: Running) -> list[dict[str, Any]]:
    before = {reading.id for reading in JOB.readings}
    found = server.paired("Ben").get(f"/api/jobs/{JOB.id}").json()["job"]["readings"]
    return [reading for reading in found if reading["id"] not in before]


def test_a_room_is_measured_and_saved(browser: Browser, server: Running) -> None:
    phone = {"viewport": {"width": 390, "height": 844}, "has_touch": True, "is_mobile": True}
    tab = meter_tab(browser, server, **phone)
    page = tab.page
    page.get_by_label("This device").select_option(label="A device not listed")
    page.get_by_label("Its name").fill("Ladder phone")
    page.get_by_label("Connected").select_option("air")
    page.get_by_label("Band").select_option("5")
    assert barriers(page) == []
    wide = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    assert wide <= 0, f"the sheet is {wide} px wider than a phone"
    throttle(tab)
    page.get_by_role("button", name=f"Measure in {ROOM.name}").tap()
    page.get_by_role("button", name="Stop").wait_for()
    page.get_by_text("Measured.", exact=True).wait_for(timeout=60_000)
    shown = page.locator("[data-quantity]")
    assert [line.get_attribute("data-quantity") for line in shown.all()] == QUANTITIES
    assert page.locator(".server").count() == 0, "a throttled browser leaves the server time"
    figures = {q: float(page.locator(f"[data-quantity={q}] b").inner_text()) for q in QUANTITIES}
    assert figures["down_mbps"] == pytest.approx(DOWN_MBPS, rel=0.1)
    assert figures["up_mbps"] == pytest.approx(UP_MBPS, rel=0.1)
    assert figures["delay_ms"] >= DELAY_MS
    assert figures["loaded_delay_ms"] >= DELAY_MS
    assert "94 %" in page.locator("main").inner_text(), "five rounds hold the median with 15 of 16"
    assert barriers(page) == []
    page.get_by_role("button", name=f"Save to {ROOM.name}").tap()
    page.get_by_text(f"Saved to {ROOM.name}.").wait_for()
    page.locator("[data-link=live]", has_text="all saved").wait_for(state="attached")
    found = readings(server)
    assert [reading["quantity"] for reading in found] == QUANTITIES
    device = {reading["device"] for reading in found}
    assert len(device) == 1
    for reading in found:
        assert (reading["room"], reading["storey"], reading["band"]) == (ROOM.id, ROOM.storey, "5")
        assert not reading["wired"]
        assert reading["value"] == pytest.approx(figures[reading["quantity"]], rel=0.01)
        assert reading["spread"] > 0
    rates = [reading for reading in found if reading["quantity"].endswith("mbps")]
    assert all(reading["repeats"] == 5 for reading in rates)
    devices = server.paired("Cem").get(f"/api/jobs/{JOB.id}").json()["job"]["devices"]
    assert [one["name"] for one in devices if one["id"] in device] == ["Ladder phone"]
    assert page.locator("tbody tr").count() == len(found)
    page.get_by_role("button", name=f"Drop reading {found[0]['id']}").tap()
    page.get_by_role("button", name=f"Drop reading {found[0]['id']}").wait_for(state="detached")
    page.locator("[data-link=live]", has_text="all saved").wait_for(state="attached")
    assert [reading["quantity"] for reading in readings(server)] == QUANTITIES[1:]
    assert (tab.faults, tab.strays) == ([], [])


@pytest.mark.long
def test_a_busy_server_keeps_its_figures_out_of_the_room(
    browser: Browser, server: Running, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(meter, "NETWORK_WAITS", 1.1)  # as if the server had never waited
    tab = meter_tab(browser, server, color_scheme="dark")
    throttle(tab)
    page = tab.page
    page.get_by_role("button", name=f"Measure in {ROOM.name}").click()
    page.get_by_text("Down, round 2 of 5").wait_for(timeout=30_000)
    page.get_by_role("button", name="Stop").click()
    page.get_by_text("Stopped after 1 full round").wait_for()
    assert page.get_by_text("The server was the limit").count() == 3
    assert barriers(page) == []
    page.get_by_role("button", name=f"Save to {ROOM.name}").click()
    page.get_by_text(f"Saved to {ROOM.name}.").wait_for()
    page.locator("[data-link=live]", has_text="all saved").wait_for()
    assert [reading["quantity"] for reading in readings(server)] == ["delay_ms"]
    assert (tab.faults, tab.strays) == ([], [])


def test_what_the_server_refuses_is_said(browser: Browser, server: Running) -> None:
    for number in range(meter.MOST_RUNS):
        assert server.paired(f"P{number}").post("/api/meter").status_code == 201
    tab = meter_tab(browser, server)
    tab.page.get_by_role("button", name=f"Measure in {ROOM.name}").click()
    tab.page.get_by_role("alert").wait_for()
    assert "Others are measuring" in tab.page.get_by_role("alert").inner_text().replace("Meter: o", "O")
    assert tab.page.get_by_role("button", name=f"Measure in {ROOM.name}").is_enabled()
