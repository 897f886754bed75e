"""A house drawn as a tape measures, in a browser: lengths on walls, keys alone, several things at once."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot
from pathlib import Path
from typing import Any

import pytest
from browsing import COLOURS, Tab, barriers, paired_tab
from drawn_by_hand import draw, job_of, take
from playwright.sync_api import Browser, Locator, expect
from server import Running, running
from sheet_places import at

from rehaul.house import Job, Need
from rehaul.jobs import save_job

pytestmark = pytest.mark.browser
SQUARE = ((1, 1), (7, 1), (7, 5), (1, 5), (1, 1))


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Running]:
    save_job(tmp_path / "blank.rehaul.json", Job(id="blank", title="Blank"))
    with running(tmp_path) as found:
        yield found


@pytest.fixture
def tab(browser: Browser, server: Running) -> Tab:
    found = paired_tab(browser, server, "/jobs/blank/house", viewport={"width": 1366, "height": 900})
    found.page.get_by_role("button", name="Add the first storey").click()
    found.page.get_by_role("application").wait_for()
    return found


def lengths(job: dict[str, Any], storey: str = "1") -> list[float]:
    walls = [wall for wall in job["house"]["walls"] if wall["storey"] == storey]
    return [round(hypot(*(b - a for a, b in zip(w["start"], w["end"], strict=True))), 3) for w in walls]


def typed(tab: Tab, *keys: str) -> None:
    for key in keys:
        tab.page.keyboard.press(key)


def test_by_keyboard_alone_from_the_first_press(server: Running, tab: Tab) -> None:
    """The sheet has the focus, the mark follows what is typed, a corner ends it, Escape keeps the tool."""
    page = tab.page
    expect(page.get_by_role("application")).to_be_focused()
    typed(tab, "Enter")
    for arrow, length in (("Right", "4.5"), ("Up", "3.2"), ("Left", "4.5"), ("Down", "3.2")):
        typed(tab, f"Arrow{arrow}", *length)
        expect(page.get_by_label("Length of the wall being drawn")).to_have_value(length)
        typed(tab, "Enter")
    typed(tab, "Escape")
    expect(page.get_by_role("toolbar").get_by_role("button", name="Wall")).to_have_attribute(
        "aria-pressed", "true"
    )
    typed(tab, "Escape")
    expect(page.get_by_role("toolbar").get_by_role("button", name="Select")).to_have_attribute(
        "aria-pressed", "true"
    )
    walls = job_of(server, tab)["house"]["walls"]
    assert lengths(job_of(server, tab)) == [4.5, 3.2, 4.5, 3.2]
    assert walls[-1]["end"] == walls[0]["start"]
    assert (tab.faults, tab.strays) == ([], [])


def test_a_typed_length_that_closes_ends_the_chain_and_doubles_no_wall(server: Running, tab: Tab) -> None:
    sheet = draw(tab, (1, 1))
    for towards, length in (((4, 1), "6"), ((7, 3), "4"), ((4, 5), "6"), ((1, 3), "4")):
        sheet.hover(position=at(sheet, *towards))
        typed(tab, length, "Enter")
    sheet.hover(position=at(sheet, 4, 3))
    typed(tab, "2")  # nothing is in hand: no field
    expect(tab.page.get_by_label("Length of the wall being drawn")).to_have_count(0)
    assert lengths(job_of(server, tab)) == [6, 4, 6, 4]


def test_inside_faces_are_kept_with_the_device(server: Running, tab: Tab) -> None:
    page = tab.page
    page.get_by_role("combobox", name="Lengths run").select_option("inside")
    sheet = draw(tab, (1, 1))
    for towards, length in (((4, 1), "6"), ((7, 3), "4"), ((4, 5), "6"), ((1, 3), "4")):
        sheet.hover(position=at(sheet, *towards))
        typed(tab, length, "Enter")
    assert lengths(job_of(server, tab)) == [6.1, 4.1, 6.1, 4.1], "walls of no known make are 10 cm thick"
    page.reload()
    take(tab, "Wall")
    expect(page.get_by_role("combobox", name="Lengths run")).to_have_value("inside")


def test_the_length_of_a_chosen_wall_is_typed_where_it_stands(server: Running, tab: Tab) -> None:
    page = tab.page
    draw(tab, *SQUARE)
    take(tab, "Room")
    draw(tab, (4, 3))
    typed(tab, "Escape", "v")
    sheet = draw(tab, (2.5, 1))  # in the middle a corner of the chosen room would be added
    field = page.get_by_label("How long the chosen wall is")
    expect(field).to_have_value("6.00 m")
    sheet.focus()
    typed(tab, *"6.5", "Enter")
    expect(field).to_have_value("6.50 m")
    job = job_of(server, tab)
    assert lengths(job) == [6.5, 4, 6.5, 4], "what meets its far end went along, square as it was"
    assert max(x for x, _ in job["house"]["rooms"][0]["polygon"]) == pytest.approx(7.5, abs=0.06)
    page.get_by_role("button", name="Move the other end instead").click()
    field.fill("7")
    field.press("Enter")
    expect(field).to_have_value("7.00 m")
    wall = job_of(server, tab)["house"]["walls"][0]
    assert wall["end"][0] == pytest.approx(7.5, abs=0.06)
    field.fill("a dozen")
    field.press("Enter")
    expect(page.get_by_text("Type a length like")).to_be_visible()
    assert barriers(page) == []
    page.emulate_media(color_scheme="dark")
    assert barriers(page, COLOURS) == []


def test_a_chain_starts_so_far_from_a_corner(server: Running, tab: Tab) -> None:
    page = tab.page
    sheet = draw(tab, *SQUARE)
    sheet.hover(position=at(sheet, 2, 1))
    typed(tab, *"1.25")
    expect(page.get_by_label("Start, from the nearest corner")).to_have_value("1.25")
    typed(tab, "Enter")
    sheet.hover(position=at(sheet, 2.25, 3))
    typed(tab, "2", "Enter", "Escape")
    draw(tab, (5, 5))
    start = page.get_by_label("Start, from the corner")
    expect(start).to_have_value("2.00 m")
    start.fill("1.8")
    start.press("Enter")
    sheet.hover(position=at(sheet, 5.2, 3))
    typed(tab, "1", "Enter")
    walls = job_of(server, tab)["house"]["walls"]
    corner = walls[0]["start"]
    drawn = [
        wall
        for wall in walls
        if wall["start"][0] == wall["end"][0] and abs(wall["start"][1] - wall["end"][1]) < 3
    ]
    assert [round(wall["start"][0] - corner[0], 3) for wall in drawn] == [1.25, 4.2]


def test_a_second_storey_over_the_first(server: Running, tab: Tab) -> None:
    """Its walls snap to those shown below or are copied, and the sheet stays where it was."""
    page = tab.page
    sheet = draw(tab, *SQUARE)
    draw(tab, (4, 1), (4, 5))
    for _ in range(2):
        page.get_by_role("button", name="Nearer").click()
    before = page.locator(".scalebar path").get_attribute("d")
    page.get_by_title("Add a storey on top").click()
    expect(page.locator(".ghost line")).to_have_count(7)
    expect(sheet).to_be_focused()
    page.get_by_role("button", name="Copy the outer walls of Ground floor").click()
    job = job_of(server, tab)
    above = job["house"]["storeys"][1]["id"]
    assert sorted(lengths(job, above)) == [4, 4, 6, 6]
    assert page.locator(".scalebar path").get_attribute("d") == before
    page.get_by_role("group", name="Storey").get_by_role("button", name="Ground floor").click()
    assert page.locator(".scalebar path").get_attribute("d") == before
    page.get_by_role("button", name="Undo").click()
    page.get_by_role("group", name="Storey").get_by_role("button", name=f"Storey {above}").click()
    page.get_by_role("button", name="Copy all walls of Ground floor").click()
    assert sorted(lengths(job_of(server, tab), above)) == sorted(lengths(job, "1"))


def test_rooms_are_named_where_they_are_pressed(server: Running, tab: Tab) -> None:
    page = tab.page
    draw(tab, *SQUARE)
    draw(tab, (4, 1), (4, 5))
    typed(tab, "Escape", "r")
    draw(tab, (2, 3))
    name = page.get_by_label("Name of this room")
    expect(name).to_be_focused()
    typed(tab, "k")
    expect(name).to_have_value("Kitchen")
    typed(tab, "Enter")
    expect(name).to_have_count(0)
    draw(tab, (6, 3))
    page.keyboard.type("Parlour")
    typed(tab, "Enter")
    expect(page.get_by_role("application")).to_be_focused()
    rooms = job_of(server, tab)["house"]["rooms"]
    assert [room["name"] for room in rooms] == ["Kitchen", "Parlour"]


def test_several_things_at_once(server: Running, tab: Tab) -> None:
    page = tab.page
    sheet = draw(tab, *SQUARE)
    typed(tab, "Escape", "o")
    draw(tab, (2, 1.2))
    draw(tab, (5, 1.2))  # the plate stays in hand
    typed(tab, "Escape")
    drag_with_shift(tab, sheet, (0.2, 0.2), (7.6, 2))
    panel = page.get_by_role("region", name="What is chosen")
    expect(panel).to_contain_text("3 things chosen")
    panel.get_by_label("All these walls made of").select_option(index=1)
    before = job_of(server, tab)
    sheet.focus()
    typed(tab, "ArrowDown")
    after = job_of(server, tab)
    assert after["house"]["walls"][0]["construction"] != "unknown"
    assert after["house"]["walls"][0]["start"][1] == pytest.approx(
        before["house"]["walls"][0]["start"][1] - 0.2
    )
    assert [
        round(b["position"][1] - a["position"][1], 3)
        for a, b in zip(before["house"]["outlets"], after["house"]["outlets"], strict=True)
    ] == [-0.2, -0.2]
    sheet.click(position=at(sheet, 4, 5), modifiers=["Shift"])
    expect(panel).to_contain_text("4 things chosen")
    assert barriers(page) == []
    panel.get_by_role("button", name="Delete all of them").click()
    house = job_of(server, tab)["house"]
    assert (len(house["walls"]), house["outlets"]) == (2, [])
    page.get_by_role("button", name="Undo").click()
    assert len(job_of(server, tab)["house"]["walls"]) == 4, "one edit"


def drag_with_shift(tab: Tab, sheet: Locator, start: tuple[float, float], end: tuple[float, float]) -> None:
    tab.page.keyboard.down("Shift")
    sheet.drag_to(sheet, source_position=at(sheet, *start), target_position=at(sheet, *end))
    tab.page.keyboard.up("Shift")


def test_sizes_and_the_hand_of_a_door(server: Running, tab: Tab) -> None:
    page = tab.page
    draw(tab, *SQUARE)
    typed(tab, "Escape", "d")
    draw(tab, (2, 1))
    page.get_by_role("textbox", name="Width").fill("0.73")
    page.get_by_role("textbox", name="Width").press("Enter")
    page.get_by_role("textbox", name="Height").fill("1.98")
    page.get_by_role("textbox", name="Height").press("Enter")
    draw(tab, (5, 1))
    page.get_by_role("button", name="Hinges on the other side").click()
    page.get_by_role("button", name="Opens the other way").click()
    first, second = job_of(server, tab)["house"]["openings"]
    assert (second["width_m"], second["height_m"]) == (first["width_m"], first["height_m"]) == (0.73, 1.98)
    assert (first["hinge"], first["swing"]) == ("unknown", "unknown")
    assert (second["hinge"], second["swing"]) == ("far", "right")
    page.get_by_role("application").focus()
    typed(tab, "h")
    assert job_of(server, tab)["house"]["openings"][1]["hinge"] == "near"


def test_a_storey_goes_whole_and_comes_back_and_its_number_is_not_skipped(server: Running, tab: Tab) -> None:
    page = tab.page
    draw(tab, *SQUARE)
    job_of(server, tab)
    page.get_by_title("Add a storey on top").click()
    job = job_of(server, tab)
    assert [storey["name"] for storey in job["house"]["storeys"]] == ["Ground floor", "Storey 2"]
    page.get_by_role("button", name="Undo").click()
    job_of(server, tab)
    page.get_by_title("Add a storey on top").click()
    assert [storey["name"] for storey in job_of(server, tab)["house"]["storeys"]][1] == "Storey 2"
    page.get_by_role("button", name="Copy all walls of Ground floor").click()
    typed(tab, "Escape", "o")
    draw(tab, (2, 1.2))
    full = job_of(server, tab)["house"]
    page.get_by_role("group", name="Panel").get_by_role("button", name="Storey").click()
    page.get_by_role("button", name="Delete this storey").click()
    expect(page.get_by_text("Storey 2 is gone with 5 things")).to_be_visible()
    left = job_of(server, tab)["house"]
    assert (len(left["storeys"]), len(left["walls"]), left["outlets"]) == (1, 4, [])
    page.get_by_role("button", name="Undo").click()
    back = job_of(server, tab)["house"]
    assert {one["id"] for kind in ("storeys", "walls", "outlets") for one in back[kind]} == {
        one["id"] for kind in ("storeys", "walls", "outlets") for one in full[kind]
    }
    assert (tab.faults, tab.strays) == ([], [])


def test_what_is_wrong_with_one_storey_is_not_said_of_the_next(server: Running, tab: Tab) -> None:
    page = tab.page
    draw(tab, (1, 1), (7, 1))
    page.get_by_title("Add a storey on top").click()
    height = page.get_by_role("textbox", name="Floor to ceiling")
    height.fill("0.2")
    height.press("Enter")
    expect(page.get_by_role("alert").get_by_text("at least", exact=False)).to_be_visible()
    page.get_by_role("group", name="Storey").get_by_role("button", name="Ground floor").click()
    expect(page.get_by_role("alert").get_by_text("at least", exact=False)).to_have_count(0)
    expect(height).to_have_value("2.40 m")


def test_wired_outlets_that_are_asked_for_are_on_the_plan(browser: Browser, tmp_path: Path) -> None:
    from two_storeys import house

    job = Job(id="asked", title="Asked", house=house(), needs=(Need(id="N1", room="R1", wired_outlets=2),))
    save_job(tmp_path / "asked.rehaul.json", job)
    with running(tmp_path) as server:
        tab = paired_tab(browser, server, "/jobs/asked/house")
        asked = tab.page.locator("[data-asked=R1]")
        expect(asked).to_contain_text("2 wired outlets asked for")
        expect(asked.locator("rect")).to_have_count(2)
        tab.page.get_by_role("group", name="Storey").get_by_role("button", name="Upper").click()
        expect(tab.page.locator("[data-asked]")).to_have_count(0)
