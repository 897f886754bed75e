"""The way of a cable drawn on the plan in a real browser: by mouse, by keyboard, by touch, over storeys."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from browsing import COLOURS, Tab, barriers
from playwright.sync_api import Browser, expect
from server import Running, running
from sheet_places import at
from two_storeys import job_of, opened, save_two_storeys

pytestmark = pytest.mark.browser

NEAR = pytest.approx


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Running]:
    save_two_storeys(tmp_path)
    with running(tmp_path) as found:
        yield found


def route_of(server: Running, tab: Tab, run: str) -> list[list[float]]:
    runs = job_of(server, tab)["house"]["runs"]
    return next(one["route"] for one in runs if one["id"] == run)  # type: ignore[no-any-return]


def choose(tab: Tab, run: str) -> None:
    below = tab.page.get_by_role("button", name="What is chosen, and all there is")
    if below.is_visible():  # on a tablet it comes from below
        below.click()
    tab.page.get_by_role("toolbar").get_by_role("button", name="Cable route").click()
    tab.page.get_by_role("combobox", name="Cable", exact=True).select_option(run)


def test_a_route_by_mouse_with_a_point_taken_back_undone_and_redone(
    browser: Browser, server: Running
) -> None:
    tab = opened(browser, server)
    page, sheet = tab.page, tab.page.get_by_role("application")
    choose(tab, "C1")
    page.get_by_role("textbox", name="It runs above the floor at").fill("2.3")
    page.get_by_role("textbox", name="It runs above the floor at").press("Enter")
    for place in ((1, 1), (5, 3), (9, 1)):
        sheet.click(position=at(sheet, *place))
    sheet.press("Backspace")
    expect(page.get_by_text("2 points,")).to_be_visible()
    sheet.press("Backspace")
    for place in ((9, 1), (9, 5)):
        sheet.click(position=at(sheet, *place))
    sheet.press("Enter")
    drawn = [[1, 1, 1.2], [1, 1, 2.3], [9, 1, 2.3], [9, 5, 2.3], [9, 5, 0.3]]
    assert [value for stop in route_of(server, tab, "C1") for value in stop] == NEAR(
        [value for stop in drawn for value in stop], abs=0.03
    ), "it ends on the closet and the plate, at their heights"
    expect(page.get_by_text("Its route is 15.10 m long")).to_be_visible()
    expect(sheet.locator("[data-run=C1] polyline.routed")).to_have_count(1)
    page.get_by_role("button", name="Undo").click()
    assert route_of(server, tab, "C1") == []
    page.get_by_role("button", name="Redo").click()
    assert len(route_of(server, tab, "C1")) == 5
    page.get_by_role("button", name="Take its route away").click()
    assert route_of(server, tab, "C1") == []
    assert (tab.faults, tab.strays) == ([], [])


def test_a_route_by_keyboard(browser: Browser, server: Running) -> None:
    tab = opened(browser, server)
    page, sheet = tab.page, tab.page.get_by_role("application")
    choose(tab, "C1")
    sheet.focus()
    page.keyboard.press("Enter")
    for _ in range(5):
        page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    for _ in range(5):
        page.keyboard.press("ArrowUp")
    page.keyboard.press("Enter")
    page.keyboard.press("Enter")
    first, *others = route_of(server, tab, "C1")
    assert [[x - first[0], y - first[1]] for x, y, _ in others] == [
        NEAR([1, 0], abs=0.03),
        NEAR([1, 1], abs=0.03),
    ]


def test_a_route_by_touch_to_the_storey_above(browser: Browser, server: Running) -> None:
    tab = opened(browser, server, viewport={"width": 820, "height": 1180}, has_touch=True)
    page, sheet = tab.page, tab.page.get_by_role("application")
    choose(tab, "C2")
    for place in ((1, 1), (1, 3)):
        sheet.tap(position=at(sheet, *place))
    page.get_by_role("group", name="Storey").get_by_role("button", name="Upper").tap()
    page.get_by_role("application", name="Plan sheet of Upper").wait_for()
    sheet.tap(position=at(sheet, 9, 3))
    page.get_by_role("button", name="End the route").tap()
    route = route_of(server, tab, "C2")
    assert [[round(x), round(y), z] for x, y, z in route] == [
        [1, 1, 1.2],
        [1, 1, 0.3],
        [1, 3, 0.3],
        [1, 3, 3.0],
        [9, 3, 3.0],
    ]


def test_the_form_of_a_route_has_no_barriers(browser: Browser, server: Running) -> None:
    """In light, and once the device turns dark: then the rules that hold or not by colour."""
    tab = opened(browser, server, color_scheme="light")
    choose(tab, "C1")
    tab.page.get_by_role("button", name="End the route").wait_for()
    assert barriers(tab.page) == []
    tab.page.emulate_media(color_scheme="dark")
    assert barriers(tab.page, COLOURS) == []
