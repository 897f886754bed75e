"""What people write down beside the plan, and what is missing from it, in a real browser."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import httpx
import pytest
from browsing import Tab, barriers, open_all, paired_tab
from playwright.sync_api import Browser, Page, expect
from server import Running

from line_checks import quiet
from rehaul.house.audit import asks
from rehaul.jobs import demo_job
from rehaul.network import closer_looks

pytestmark = pytest.mark.browser

DEMO = demo_job()
LONG_MS = 90_000  # a busy machine


@pytest.fixture
def job(server: Running) -> Callable[[], dict[str, Any]]:
    """The job as the server has it."""
    reader: httpx.Client = server.paired("Reader")
    return lambda: dict(reader.get(f"/api/jobs/{DEMO.id}").json()["job"])


def opened(browser: Browser, server: Running, page: str, **context: Any) -> Tab:
    tab = paired_tab(browser, server, f"/jobs/{DEMO.id}/{page}", **context)
    tab.page.set_default_timeout(LONG_MS)
    tab.page.get_by_role("heading", level=1).wait_for(state="attached")
    return tab


def all_saved(page: Page) -> None:
    page.locator("[data-link=live]", has_text="all saved").wait_for(state="attached")


def sideways_px(page: Page) -> int:
    """How much wider the page is than its window."""
    return int(page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth"))


def test_networks_heard_are_added_edited_and_removed(
    browser: Browser, server: Running, job: Callable[[], dict[str, Any]]
) -> None:
    tab = opened(browser, server, "coverage")
    form = tab.page.get_by_role("form", name="Add a network heard")
    form.get_by_label("Band").select_option("6")
    form.get_by_label("Channel").select_option("37")
    form.get_by_label("Width").select_option("80 MHz")
    form.get_by_label("Power, dBm").fill("-61.5")
    form.get_by_label("Where").select_option(DEMO.house.rooms[0].name)
    form.get_by_label("When").fill("2026-11-20T09:30")
    form.get_by_label("When").press("Enter")
    all_saved(tab.page)
    added = job()["heard"][-1]
    assert {name: value for name, value in added.items() if name != "id"} == {
        "band": "6",
        "channel": 37,
        "width_mhz": 80,
        "power_dbm": -61.5,
        "room": DEMO.house.rooms[0].id,
        "busy_pct": None,
        "time": "2026-11-20T09:30",
    }

    tab.page.get_by_label(f"Power of {added['id']}, dBm").fill("-55")
    tab.page.get_by_label(f"Power of {added['id']}, dBm").press("Tab")
    tab.page.get_by_label(f"Band of {added['id']}").select_option("5")
    expect(tab.page.get_by_label(f"Channel of {added['id']}")).to_have_value("36")
    tab.page.get_by_label(f"Where {added['id']} was heard").select_option("")
    all_saved(tab.page)
    changed = job()["heard"][-1]
    told = ("band", "channel", "width_mhz", "power_dbm", "room")
    assert [changed[name] for name in told] == ["5", 36, 20, -55, None]

    tab.page.get_by_role("button", name=f"Remove network {added['id']}").click()
    expect(tab.page.get_by_label(f"Band of {added['id']}")).to_have_count(0)
    all_saved(tab.page)
    assert [one["id"] for one in job()["heard"]] == [one.id for one in DEMO.heard]
    assert (tab.faults, tab.strays) == ([], [])


@pytest.mark.parametrize(
    ("scheme", "wide"),
    [
        ("light", 1366),
        ("dark", 390),
        pytest.param("light", 390, marks=pytest.mark.long),
        pytest.param("dark", 1366, marks=pytest.mark.long),
    ],
)
def test_the_networks_heard_bar_nobody(
    browser: Browser, demo_server: Running, scheme: str, wide: int
) -> None:
    window = {"width": wide, "height": 850}
    tab = opened(browser, demo_server, "coverage", color_scheme=scheme, viewport=window)
    expect(tab.page.get_by_label(f"Channel of {DEMO.heard[0].id}")).to_have_value(str(DEMO.heard[0].channel))
    assert (barriers(tab.page), sideways_px(tab.page)) == ([], 0)


def test_what_the_record_lacks_is_shown_and_found(browser: Browser, server: Running) -> None:
    """And bars nobody: wide in light, on a tablet in dark."""
    hole = DEMO.house.openings[0].model_copy(update={"sill_m": 3.0})
    openings = (hole, *DEMO.house.openings[1:])
    broken = DEMO.model_copy(update={"house": DEMO.house.model_copy(update={"openings": openings})})
    before, after = asks(DEMO), asks(broken)
    tab = opened(browser, server, "job", color_scheme="light", viewport={"width": 1366, "height": 850})
    page = tab.page
    todo = page.get_by_role("region", name="To find out or put right")
    expect(todo.get_by_role("status")).to_contain_text(f"{len(before)} questions")

    edit = {"do": "set", "kind": "opening", "id": hole.id, "fields": {"sill_m": 3.0}}
    head = {"edit": "record-lacks-1", "base": 0, "label": "Raise an opening", "changes": [edit]}
    server.paired("Other").post(f"/api/jobs/{DEMO.id}/edits", json=head).raise_for_status()
    expect(todo.get_by_role("status")).to_contain_text(f"{len(after)} questions")
    new = next(one for one in after if one.code == "opening-too-high")
    row = todo.get_by_role("listitem").filter(has_text=new.title)
    row.get_by_text(new.title).first.click()
    expect(row.first).to_contain_text(new.fix)
    row.get_by_role("button", name=f"Show {new.about[0].name} on the plan").first.press("Enter")
    expect(page.get_by_role("button", name=f"{hole.id} ", pressed=True).first).to_be_visible()
    assert (barriers(page), sideways_px(page)) == ([], 0)
    page.emulate_media(color_scheme="dark")
    page.set_viewport_size({"width": 820, "height": 850})
    assert (barriers(page), sideways_px(page)) == ([], 0)
    assert (tab.faults, tab.strays) == ([], [])


def test_cables_are_answered_in_place_one_by_one_and_together(browser: Browser, server: Running) -> None:
    """By keyboard as well; an answer is in the job, the question gone; nobody is barred, phone or desk."""
    one = next(ask for ask in asks(DEMO) if ask.code == "run-state-unknown")
    tab = opened(browser, server, "job", color_scheme="light", viewport={"width": 390, "height": 844})
    page = tab.page
    todo = page.get_by_role("region", name="To find out or put right")
    todo.get_by_text(one.title).press("Enter")
    first, *rest = one.about
    todo.get_by_role("combobox", name=first.name).select_option("dead")
    expect(todo.get_by_text(f"{len(rest)} cables: live or dead?")).to_be_visible()
    everyone = todo.get_by_role("combobox", name=f"All {len(rest)} of them")
    expect(everyone).to_be_visible()
    assert (barriers(page), sideways_px(page)) == ([], 0)
    everyone.select_option("live telephone")
    expect(todo.get_by_text("live or dead?")).to_have_count(0)
    expect(todo.get_by_text("live, but whose?").first).to_be_visible()
    job = server.paired("Other").get(f"/api/jobs/{DEMO.id}").json()["job"]
    states = {run["id"]: run["state"] for run in job["house"]["runs"]}
    assert states[first.id] == "dead"
    assert {states[thing.id] for thing in rest} == {"live telephone"}
    assert (tab.faults, tab.strays) == ([], [])


def test_the_tracing_is_planned_for_the_colours_that_can_be_trusted(
    browser: Browser, server: Running
) -> None:
    asked = [{"do": "put", "kind": "line_check", "entity": c.model_dump(mode="json")} for c in quiet("MP1")]
    body = {"edit": "line-checks-1", "base": 0, "label": "Line checks", "changes": asked}
    server.paired("Other").post(f"/api/jobs/{DEMO.id}/edits", json=body).raise_for_status()
    tab = opened(browser, server, "cables", viewport={"width": 820, "height": 1180})
    page = tab.page
    with page.expect_response(lambda answer: "/tracing?" in answer.url and "twist" in answer.url) as caught:
        page.get_by_label("Colours that can be trusted").select_option("twist only")
    sentence = caught.value.json()["sentence"]
    assert caught.value.json()["rounds"]
    page.locator(".all").wait_for()
    open_all(page)
    expect(page.get_by_text(sentence)).to_be_visible(timeout=LONG_MS)
    for plug in {plug["name"]: plug for placed in caught.value.json()["rounds"] for plug in placed}.values():
        assert "pins" in plug["made"]
        expect(page.get_by_text(f"plug {plug['name']}: {plug['made']}", exact=True)).to_be_visible()
    assert (barriers(page), sideways_px(page)) == ([], 0)
    assert (tab.faults, tab.strays) == ([], [])


def test_an_opened_cable_is_looked_at_closer(browser: Browser, demo_server: Running) -> None:
    told = next(row for row in closer_looks(DEMO) if row.run == "C10")
    assert told.closer
    tab = opened(browser, demo_server, "cables", viewport={"width": 820, "height": 1180})
    page = tab.page
    expect(page.get_by_role("region", name="The plan")).to_contain_text("Made of edit", timeout=LONG_MS)
    page.get_by_role("button", name="Open cable C10").click()
    for said in told.closer:
        expect(page.get_by_role("listitem").filter(has_text=said)).to_be_visible()
    assert (barriers(page), sideways_px(page)) == ([], 0)
    assert (tab.faults, tab.strays) == ([], [])
