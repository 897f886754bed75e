"""A page whose session ends, or that meets a limit: told in a sentence, and nothing typed is lost."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from browsing import Tab, paired_tab
from playwright.sync_api import Browser, expect
from server import Running, running

from rehaul.jobs import demo_job, save_job

pytestmark = pytest.mark.browser

DEMO = demo_job()
ROOM = next(room for room in DEMO.house.rooms if room.storey == DEMO.house.storeys[0].id)


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Running]:
    save_job(tmp_path / "demo.rehaul.json", DEMO)
    with running(tmp_path) as found:
        yield found


def sheet(browser: Browser, server: Running) -> Tab:
    tab = paired_tab(browser, server, f"/jobs/{DEMO.id}/house", "Ann")
    tab.page.get_by_role("application").wait_for()
    all_saved(tab)
    return tab


def all_saved(tab: Tab) -> None:
    tab.page.locator("[data-link=live]", has_text="all saved").wait_for(state="attached", timeout=20_000)


def room_of(server: Running) -> dict[str, Any]:
    rooms = server.paired("Reader").get(f"/api/jobs/{DEMO.id}").json()["job"]["house"]["rooms"]
    return next(room for room in rooms if room["id"] == ROOM.id)


def test_a_forgotten_device_pairs_again_and_goes_on_where_it_was(browser: Browser, server: Running) -> None:
    ann = sheet(browser, server)
    ann.page.get_by_role("button", name=f"{ROOM.id} ", exact=False).first.click()
    field = ann.page.get_by_label("Name, used everywhere")
    field.fill("Half a na")

    ben = server.paired("Ben")
    devices = ben.get("/api/devices").json()
    device = next(row["device"] for row in devices if row["name"] == "Ann")
    assert ben.post(f"/api/devices/{device}/forget").status_code == 200

    told = ann.page.get_by_role("alert").filter(has_text="lets this device in no more")
    expect(told).to_contain_text("What you drew and typed is kept here")
    ann.page.get_by_label("Code").fill(server.codes.new().code)
    ann.page.get_by_label("Your name, as the others will see it").fill("Ann")
    ann.page.get_by_role("button", name="Pair", exact=True).click()

    expect(field).to_be_visible()
    expect(field).to_have_value("Half a na")
    all_saved(ann)
    field.fill("Half a name")
    field.press("Enter")
    expect(ann.page.get_by_role("button", name=f"{ROOM.id} Half a name")).to_be_visible()
    all_saved(ann)
    assert room_of(server)["name"] == "Half a name"


def test_a_pairing_address_opens_the_job_that_it_was_made_in(browser: Browser, server: Running) -> None:
    ann = paired_tab(browser, server, f"/jobs/{DEMO.id}/people", "Ann")
    with ann.page.expect_response("**/api/codes*") as answered:
        ann.page.get_by_role("button", name="Make a code").click()
    ben = browser.new_context().new_page()
    ben.goto(answered.value.json()["url"])
    ben.get_by_label("Your name, as the others will see it").fill("Ben")
    ben.get_by_role("button", name="Pair", exact=True).click()
    expect(ben.get_by_text(DEMO.title).first).to_be_visible()
    assert ben.url == f"{server.url}/jobs/{DEMO.id}"


def test_a_limit_is_told_and_not_knocked_at_for_ever(
    browser: Browser, server: Running, monkeypatch: pytest.MonkeyPatch
) -> None:
    ann = sheet(browser, server)
    sockets: list[str] = []
    ann.page.on("websocket", lambda one: sockets.append(one.url))
    know = "rehaul.web.visitors.Visitors.know"
    with monkeypatch.context() as full:
        full.setattr(know, lambda *_: False)
        ann.page.context.set_offline(True)
        ann.page.locator("[data-link=away]").wait_for(state="attached")
        ann.page.context.set_offline(False)
        told = ann.page.get_by_text("Too many connections of this device")
        expect(told).to_contain_text("What you draw is kept here and sent when it is back")
        sockets.clear()
        ann.page.wait_for_timeout(6000)
        tries = [url for url in sockets if "/live?" in url]
        assert 1 <= len(tries) <= 6, "it waits longer each time"
        expect(told).to_be_visible()
    all_saved(ann)
    expect(told).to_be_hidden()


def test_more_than_the_server_takes_at_once_is_told_and_holds_nothing_up(
    browser: Browser, server: Running
) -> None:
    ann = sheet(browser, server)
    ann.page.get_by_role("button", name=f"{ROOM.id} ", exact=False).first.click()
    field = ann.page.get_by_label("Name, used everywhere")
    ann.page.evaluate(
        "JSON.small = JSON.stringify; JSON.stringify = (...a) => JSON.small(...a) + ' '.repeat(8e6)"
    )
    field.fill("Too much")
    field.press("Enter")
    expect(ann.page.get_by_text("more than the server takes at once")).to_be_visible()
    ann.page.evaluate("JSON.stringify = JSON.small")
    field.fill("Just right")
    field.press("Enter")
    all_saved(ann)
    assert room_of(server)["name"] == "Just right"
