"""Tracing in a real browser: cards before the first plug, plugs only where they may go, lines given back."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from browsing import Tab, barriers, paired_tab
from playwright.sync_api import Browser, Locator, Page, expect
from server import Running, running

from rehaul.house import House, Job, MeetingPoint, Obligation, Outlet, Run, Storey
from rehaul.jobs import save_job

pytestmark = pytest.mark.browser

PLATES = ("1-01", "1-02", "1-03")


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Running]:
    save_job(tmp_path / "lines.rehaul.json", house())
    with running(tmp_path) as found:
        yield found


@pytest.fixture
def job(server: Running) -> Callable[[], dict[str, Any]]:
    reader = server.paired("Reader")
    return lambda: dict(reader.get("/api/jobs/lines").json()["job"])


def house() -> Job:
    """Three cables that nobody knows the ends of, an alarm line that is known, and three plates."""
    places = {"1-01": (1.0, 1.0), "1-02": (4.0, 1.0), "1-03": (4.0, 4.0), "1-04": (1.0, 4.0)}
    return Job(
        id="lines",
        title="Lines",
        house=House(
            storeys=(Storey(id="1", name="Ground floor", elevation_m=0.0),),
            outlets=tuple(Outlet(id=name, storey="1", position=place) for name, place in places.items()),
            meeting_points=(MeetingPoint(id="MP1", name="Closet", storey="1", position=(0.5, 0.5)),),
            runs=(
                *(Run(id=name, ends=("MP1", "unknown"), kind="cat5", pairs=4) for name in ("C1", "C2", "C3")),
                Run(id="C4", ends=("MP1", "1-04"), kind="quad", state="alarm"),
            ),
        ),
        obligations=(Obligation(id="O1", kind="monitored alarm", run="C4"),),
    )


def opened(browser: Browser, server: Running, **context: Any) -> Tab:
    tab = paired_tab(browser, server, "/jobs/lines/cables", **context)
    tab.page.get_by_role("heading", level=1).wait_for()
    return tab


def plugs(page: Page) -> Locator:
    """All that may be put in, in the list under what is to be done now."""
    page.locator("details.all").evaluate_all("lists => lists.forEach(one => (one.open = true))")
    return page.get_by_role("region", name="Tracing").locator(".all button.big", has_text="put in")


def all_saved(page: Page) -> None:
    page.locator("[data-link=live]", has_text="all saved").wait_for(state="attached")


def make_the_checks(page: Page) -> None:
    checks = page.get_by_role("region", name="Line checks")
    checks.get_by_role("button", name="Nobody").click()
    checks.get_by_label("Highest dc, V").fill("0.2")
    checks.get_by_label("Highest ac, V").fill("0.1")
    checks.get_by_role("button", name="Record the volts").click()
    checks.get_by_role("button", name="None does").click()
    expect(checks.get_by_text("Before anything is tied")).to_have_count(0)


def measure(page: Page, about: str, dc: str) -> None:
    checks = page.get_by_role("region", name="Line checks")
    more = checks.get_by_text("Measure again, or one cable or plate by itself")
    if not checks.get_by_label("Highest dc, V").is_visible():
        more.click()
    checks.get_by_label("Volts on every pair: about which cable").select_option(about)
    checks.get_by_label("Highest dc, V").fill(dc)
    checks.get_by_label("Highest ac, V").fill("0")
    checks.get_by_role("button", name="Record the volts").click()
    all_saved(page)


def test_cards_come_first_and_plugs_only_after_they_are_recorded(
    browser: Browser, server: Running, job: Callable[[], dict[str, Any]]
) -> None:
    tab = opened(browser, server)
    page = tab.page
    page.get_by_role("button", name="Plan the tracing").click()
    cards = page.get_by_role("region", name="Line checks").get_by_role("heading", level=4)
    expect(cards).to_have_text(
        ["Who depends on the lines", "Volts on every pair", "Does a modem synchronise"]
    )
    expect(page.get_by_text("Nothing is tied yet")).to_be_visible()
    expect(plugs(page)).to_have_count(0)
    expect(page.get_by_label("Pattern at C1")).to_have_count(0)
    expect(page.get_by_role("region", name="Left alone")).to_contain_text("Cable C4 and plate 1-04")

    make_the_checks(page)
    expect(plugs(page)).to_have_count(len(PLATES))
    for plate in PLATES:
        expect(page.get_by_role("button", name=f"{plate} plug")).to_be_visible()
    expect(page.get_by_role("button", name="1-04 plug")).to_have_count(0)
    expect(page.get_by_label("Pattern at C1")).to_be_visible()
    expect(page.get_by_label("Pattern at C4")).to_have_count(0)
    all_saved(page)
    told = [(one["what"], one["run"], one["by"]) for one in job()["line_checks"]]
    assert told == [(what, None, "Ann") for what in ("who depends", "voltage", "modem sync")]
    assert (tab.faults, tab.strays) == ([], [])


def test_a_voltage_takes_the_plugs_away_until_each_plate_is_tried(
    browser: Browser, server: Running, job: Callable[[], dict[str, Any]]
) -> None:
    tab = opened(browser, server)
    page = tab.page
    page.get_by_role("button", name="Plan the tracing").click()
    make_the_checks(page)
    expect(plugs(page)).to_have_count(len(PLATES))

    measure(page, "run:C1", "49")
    expect(plugs(page)).to_have_count(0)
    alone = page.get_by_role("region", name="Left alone")
    expect(alone).to_contain_text(
        "Plates 1-01, 1-02, 1-03: C1 may end here, and 49 V dc (like a telephone line at rest)"
    )
    page.get_by_role("button", name="Note C1 as live telephone").click()
    expect(page.get_by_role("button", name="Note C1 as live telephone")).to_have_count(0)
    all_saved(page)
    assert job()["house"]["runs"][0]["state"] == "live telephone"

    measure(page, "plate:1-02", "0.1")
    checks = page.get_by_role("region", name="Line checks")
    checks.get_by_label("Does a modem synchronise: about which cable").select_option("plate:1-02")
    checks.get_by_role("button", name="None does").click()
    expect(plugs(page)).to_have_count(1)
    expect(page.get_by_role("button", name="1-02 plug")).to_be_visible()
    assert (tab.faults, tab.strays) == ([], [])


def test_a_line_taken_off_is_said_first_until_it_is_given_back(
    browser: Browser, server: Running, job: Callable[[], dict[str, Any]]
) -> None:
    signed = {"by": "Alarm firm", "date": "2026-11-20", "words": "test signal came by radio"}
    free = {
        "do": "set",
        "kind": "obligation",
        "id": "O1",
        "fields": {"state": "released", "sign_off": signed},
    }
    body = {"edit": "alarm-moved-1", "base": 0, "label": "Alarm moved", "changes": [free]}
    server.paired("Other").post("/api/jobs/lines/edits", json=body).raise_for_status()
    tab = opened(browser, server)
    page = tab.page
    page.get_by_role("button", name="Plan the tracing").click()
    expect(page.get_by_text("Take the line off while you trace")).to_have_count(0)
    make_the_checks(page)
    measure(page, "run:C1", "49")

    page.get_by_text("Take the line off while you trace").click()
    form = page.get_by_role("form", name="Take the line off")
    form.get_by_label("The occupant who agrees").fill("Invented owner")
    form.get_by_role("button").click()
    off = page.get_by_role("alert").filter(has_text="disconnected at the demarcation")
    expect(off).to_be_visible()
    expect(plugs(page)).to_have_count(1)  # of the alarm's old cable, whose ends are known
    measure(page, "run:C1", "0.1")
    expect(plugs(page)).to_have_count(len(PLATES) + 1)
    expect(off).to_be_visible()

    back = page.get_by_role("region", name="Give the line back")
    back.get_by_label("Tested with").fill("Invented owner")
    back.get_by_label("What was tested").fill("dial tone in the kitchen")
    back.get_by_role("button", name="It is connected and works").click()
    expect(off).to_have_count(0)
    expect(back).to_have_count(0)
    expect(plugs(page)).to_have_count(0)
    all_saved(page)
    assert [one["what"] for one in job()["line_checks"]][-1] == "reconnected"
    assert (tab.faults, tab.strays) == ([], [])


def test_the_cards_bar_nobody(browser: Browser, server: Running) -> None:
    """Wide in light, and on a phone in dark."""
    tab = opened(browser, server, color_scheme="light")
    page = tab.page

    def bar_nobody() -> None:
        for scheme, wide in (("light", 1280), ("dark", 390)):
            page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
            page.set_viewport_size({"width": wide, "height": 850})
            width = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
            assert (barriers(page), page.evaluate(width)) == ([], 0), scheme

    page.get_by_role("button", name="Plan the tracing").click()
    expect(page.get_by_role("region", name="Line checks").get_by_role("heading", level=4)).to_have_count(3)
    bar_nobody()
    make_the_checks(page)
    expect(plugs(page)).to_have_count(len(PLATES))
    measure(page, "run:C1", "49")
    expect(page.get_by_role("button", name="Note C1 as live telephone")).to_be_visible()
    bar_nobody()
