"""Around and on a plan sheet in a real browser: nothing covers it, words keep clear, tabs take one row."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from browsing import barriers
from playwright.sync_api import Browser, Locator, expect
from server import Running, running
from two_storeys import job_of, opened, save_two_storeys

from rehaul.house import Reading

pytestmark = pytest.mark.browser

LAPTOP = {"width": 1366, "height": 850}
TABLET = {"width": 820, "height": 1180}
TOUCH_PX = 44
MIDDLE = ((5.0, 3.0), (4.7, 3.0), (5.4, 3.05), (4.8, 2.8))


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Running]:
    readings = tuple(
        Reading(id=f"Q{i}", quantity="power_dbm", value=-60 - i, storey="1", position=place)
        for i, place in enumerate(MIDDLE)
    )
    save_two_storeys(tmp_path, readings=readings)
    with running(tmp_path) as found:
        yield found


def frame(thing: Locator) -> tuple[float, float, float, float]:
    box = thing.bounding_box()
    assert box is not None
    return box["x"], box["y"], box["x"] + box["width"], box["y"] + box["height"]


def overlap(one: Locator, other: Locator) -> bool:
    a, b = frame(one), frame(other)
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def test_what_lies_over_the_sheet_covers_none_of_the_house(browser: Browser, server: Running) -> None:
    """On a laptop, and on a tablet, while a wall is drawn: bars, tools, legend and form."""
    page = opened(browser, server, viewport=LAPTOP).page
    page.get_by_role("toolbar").get_by_role("button", name="Wall").click()
    page.get_by_role("form", name="The wall being drawn").wait_for()
    for viewport in (LAPTOP, TABLET):
        page.set_viewport_size(viewport)  # type: ignore[arg-type]
        page.get_by_role("button", name="Show all of it").click()
        walls = page.get_by_role("application").locator("line.wall")
        assert walls.count() >= 4
        floating = page.locator("main > .bar > .row, main > .tools, main > .legend > figure, main > aside")
        for thing in floating.all():
            assert not any(overlap(thing, wall) for wall in walls.all()), thing.get_attribute("class")
        assert barriers(page) == []


def test_figures_of_readings_and_names_of_rooms_keep_clear(browser: Browser, server: Running) -> None:
    tab = opened(browser, server, viewport=LAPTOP)
    sheet = tab.page.get_by_role("application")
    figures = sheet.locator("[data-tag^=Q]")
    expect(figures).to_have_count(len(MIDDLE))
    words = [sheet.locator("text.name"), sheet.locator("text.under")]
    for figure in figures.all():
        assert not any(overlap(figure, word) for word in words), figure.inner_html()


def test_the_stages_stand_beside_the_page_on_a_tablet(browser: Browser, server: Running) -> None:
    tab = opened(browser, server, viewport=TABLET, has_touch=True)
    tabs = tab.page.get_by_role("navigation", name="Stages of the work").get_by_role("link").all()
    frames = [frame(one) for one in tabs]
    assert len(frames) == 11
    assert {left for left, _, _, _ in frames} == {frames[0][0]}
    assert min(bottom - top for _, top, _, bottom in frames) >= TOUCH_PX
    assert min(right - left for left, _, right, _ in frames) >= TOUCH_PX
    tabs[-1].tap()
    tab.page.wait_for_url("**/people")
    expect(tabs[-1]).to_be_in_viewport(ratio=0.9)
    assert tab.page.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_a_storey_deleted_and_added_again_gets_a_fresh_id(browser: Browser, server: Running) -> None:
    tab = opened(browser, server, viewport=LAPTOP)
    page = tab.page

    def ids() -> list[str]:
        return [storey["id"] for storey in job_of(server, tab)["house"]["storeys"]]

    page.get_by_role("button", name="+ Storey").click()
    assert ids() == ["1", "2", "3"]
    page.get_by_role("button", name="Delete this storey").click()
    expect(page.get_by_role("button", name="Storey 3", exact=True)).to_have_count(0)
    assert ids() == ["1", "2"]
    page.get_by_role("button", name="+ Storey").click()
    assert ids() == ["1", "2", "4"]
