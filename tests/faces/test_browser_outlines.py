"""A room's outline changed corner by corner in a real browser: by mouse, by touch, by keyboard, by typing."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from browsing import COLOURS, Tab, barriers
from playwright.sync_api import Browser, expect
from server import Running, running
from sheet_places import at
from two_storeys import CORNERS, job_of, opened, save_two_storeys

pytestmark = pytest.mark.browser

AS_BUILT = [list(corner) for corner in CORNERS]


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Running]:
    save_two_storeys(tmp_path)
    with running(tmp_path) as found:
        yield found


def outline(server: Running, tab: Tab) -> list[list[float]]:
    rooms = job_of(server, tab)["house"]["rooms"]
    return next(room["polygon"] for room in rooms if room["id"] == "R1")  # type: ignore[no-any-return]


def choose_the_room(tab: Tab) -> None:
    below = tab.page.get_by_role("button", name="What is chosen, and all there is")
    if below.is_visible():  # on a tablet it comes from below
        below.click()
    tab.page.get_by_role("button", name="R1 Room 1").click()
    tab.page.get_by_role("group", name="Corners").wait_for()


def flat(polygon: list[list[float]]) -> list[float]:
    return [value for corner in polygon for value in corner]


def test_corners_by_mouse_moved_added_refused_and_undone(browser: Browser, server: Running) -> None:
    tab = opened(browser, server)
    page, sheet = tab.page, tab.page.get_by_role("application")
    choose_the_room(tab)
    sheet.drag_to(sheet, source_position=at(sheet, 10, 6), target_position=at(sheet, 7, 4))
    moved = outline(server, tab)
    assert flat(moved) == pytest.approx([0, 0, 10, 0, 7, 4, 0, 6], abs=0.06)
    assert len(job_of(server, tab)["house"]["walls"]) == 8, "the walls stand where they stood"
    sheet.drag_to(sheet, source_position=at(sheet, 0, 3), target_position=at(sheet, 2, 3.5))
    assert len(outline(server, tab)) == 5
    page.get_by_text("Corner 5 of 5").wait_for()
    sheet.drag_to(sheet, source_position=at(sheet, 2, 3.5), target_position=at(sheet, 9.5, 4.5))
    expect(page.get_by_text("The outline would cross itself there.")).to_be_visible()
    assert len(outline(server, tab)) == 5
    page.get_by_role("button", name="Undo").click()
    page.get_by_role("button", name="Undo").click()
    assert outline(server, tab) == AS_BUILT
    assert (tab.faults, tab.strays) == ([], [])


def test_corners_by_touch(browser: Browser, server: Running) -> None:
    tab = opened(browser, server, viewport={"width": 820, "height": 1180}, has_touch=True)
    page, sheet = tab.page, tab.page.get_by_role("application")
    choose_the_room(tab)
    sheet.tap(position=at(sheet, 10, 3))
    assert outline(server, tab) == [[0, 0], [10, 0], [10, 3], [10, 6], [0, 6]]
    sheet.tap(position=at(sheet, 10, 6))
    page.get_by_text("Corner 4 of 5").wait_for()
    page.get_by_role("button", name="Take this corner out").tap()
    assert outline(server, tab) == [[0, 0], [10, 0], [10, 3], [0, 6]]


def test_corners_by_keyboard_and_never_fewer_than_three(browser: Browser, server: Running) -> None:
    tab = opened(browser, server)
    page, sheet = tab.page, tab.page.get_by_role("application")
    choose_the_room(tab)
    sheet.focus()
    for key in ("PageDown", "PageDown", "ArrowLeft", "ArrowUp"):
        page.keyboard.press(key)
    assert flat(outline(server, tab)) == pytest.approx([0, 0, 9.8, 0.2, 10, 6, 0, 6])
    page.keyboard.press("Insert")
    page.get_by_text("Corner 3 of 5").wait_for()
    page.keyboard.press("Delete")
    page.keyboard.press("PageDown")
    page.keyboard.press("Delete")
    page.get_by_text("3 corners").wait_for()
    page.keyboard.press("PageDown")
    page.keyboard.press("Delete")
    expect(page.get_by_text("A room has three corners at least.")).to_be_visible()
    assert len(outline(server, tab)) == 3


def test_a_corner_is_typed_and_its_form_has_no_barriers(browser: Browser, server: Running) -> None:
    """In light, and once the device turns dark: then the rules that hold or not by colour."""
    tab = opened(browser, server, color_scheme="light")
    page = tab.page
    choose_the_room(tab)
    page.get_by_role("button", name="Next corner").click()
    place = page.get_by_role("textbox", name="Corner from the left")
    place.fill("11")
    place.press("Enter")
    expect(page.get_by_text("The outline would cross itself there.")).to_be_visible()
    place.fill("0.5")
    place.press("Enter")
    assert outline(server, tab)[0] == [0.5, 0]
    assert barriers(page) == []
    page.emulate_media(color_scheme="dark")
    assert barriers(page, COLOURS) == []
