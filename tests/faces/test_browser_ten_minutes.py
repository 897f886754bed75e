"""Eight rooms on two storeys, sixteen openings, nine outlets, ten cables: the presses and keys they take.

Counted by the page itself, as they arrive there; nothing is set but by pressing and typing. Alone it prints
the table of docs/web.md: `pytest -s tests/faces/test_browser_ten_minutes.py`.
"""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from pathlib import Path

import pytest
from browsing import Tab, paired_tab
from drawn_by_hand import draw, job_of
from playwright.sync_api import Browser, expect
from server import Running, running
from sheet_places import at

from rehaul.house import Job
from rehaul.jobs import save_job

pytestmark = pytest.mark.browser
MOST_CLICKS, MOST_KEYS = 100, 120
LEFT, RIGHT, BELOW, ABOVE = 1.0, 10.6, 1.0, 8.2  # the outer walls on the sheet, metres
MIDDLE_X, MIDDLE_Y = 5.8, 4.6
QUARTERS = ((3.4, 2.8), (8.2, 2.8), (3.4, 6.4), (8.2, 6.4))
DOORS = ((MIDDLE_X, 2.2), (MIDDLE_X, 7.0), (2.6, MIDDLE_Y), (8.8, MIDDLE_Y))
WINDOWS = ((3.4, BELOW), (8.2, BELOW), (3.4, ABOVE), (8.2, ABOVE))
PLATES = ((1.15, 2.0), (10.45, 2.0), (1.15, 7.0), (10.45, 7.0), (4.6, 1.15))
COUNTING = """
  window.counted = { clicks: 0, keys: 0 };
  addEventListener("pointerdown", (event) => { if (event.isTrusted) window.counted.clicks += 1; }, true);
  addEventListener("keydown", (event) => { if (event.isTrusted) window.counted.keys += 1; }, true);
"""


class Hands:
    """A mouse and a keyboard, and what each task took of them."""

    def __init__(self, tab: Tab) -> None:
        self.tab = tab
        self.taken: dict[str, tuple[int, int]] = {}

    def counted(self) -> tuple[int, int]:
        found = self.tab.page.evaluate("[window.counted.clicks, window.counted.keys]")
        return found[0], found[1]

    @contextlib.contextmanager
    def at_work(self, task: str) -> Iterator[None]:
        before = self.counted()
        yield
        after, so_far = self.counted(), self.taken.get(task, (0, 0))
        self.taken[task] = (so_far[0] + after[0] - before[0], so_far[1] + after[1] - before[1])

    def press(self, name: str) -> None:
        self.tab.page.get_by_role("button", name=name).click()

    def keys(self, *keys: str) -> None:
        for key in keys:
            self.tab.page.keyboard.press(key)

    def points(self, x_m: float, y_m: float) -> None:
        sheet = self.tab.page.get_by_role("application")
        sheet.hover(position=at(sheet, x_m, y_m))

    def field(self, name: str, text: str) -> None:
        self.tab.page.get_by_role("textbox", name=name).click()
        self.keys(*text, "Enter")


def test_a_house_of_eight_rooms_in_few_presses(browser: Browser, tmp_path: Path) -> None:
    save_job(tmp_path / "blank.rehaul.json", Job(id="blank", title="Blank"))
    with running(tmp_path) as server:
        wide = {"width": 1366, "height": 900}
        tab = paired_tab(browser, server, "/jobs/blank/house", script=COUNTING, viewport=wide)
        hands = Hands(tab)
        ground_floor(hands)
        upper_floor(hands)
        cables(hands)
        require_it_all(server, tab)
        clicks, keys = map(sum, zip(*hands.taken.values(), strict=True))
        rows = [f"| {task} | {c} | {k} |" for task, (c, k) in hands.taken.items()]
        print("\n| task | clicks | keys |\n|---|---|---|", *rows, f"| all | {clicks} | {keys} |", sep="\n")
        assert (clicks <= MOST_CLICKS, keys <= MOST_KEYS) == (True, True), (clicks, keys)
        assert (tab.faults, tab.strays) == ([], [])


def ground_floor(hands: Hands) -> None:
    with hands.at_work("storeys"):
        hands.press("Add the first storey")
        expect(hands.tab.page.get_by_role("application")).to_be_focused()
    with hands.at_work("walls"):
        draw(hands.tab, (LEFT, BELOW))
        for towards, length in (((6, BELOW), "9.6"), ((RIGHT, 4), "7.2"), ((6, ABOVE), "9.6")):
            hands.points(*towards)
            hands.keys(*length, "Enter")
        draw(hands.tab, (LEFT, BELOW))
        for start, offset, end in (
            ((3, BELOW), "4.8", (MIDDLE_X, ABOVE)),
            ((LEFT, 3), "3.6", (RIGHT, MIDDLE_Y)),
        ):
            hands.points(*start)
            hands.keys(*offset, "Enter")
            draw(hands.tab, end)
            hands.keys("Escape")
    name_rooms(hands, "l", "k", "h", "d")
    openings(hands, first=True)
    outlets(hands, 5)
    with hands.at_work("closet"):
        hands.keys("m")
        draw(hands.tab, (2.2, 7.4))


def upper_floor(hands: Hands) -> None:
    with hands.at_work("storeys"):
        hands.tab.page.get_by_title("Add a storey on top").click()
        hands.press("Copy all walls of Ground floor")
        expect(hands.tab.page.get_by_role("application")).to_be_focused()
    name_rooms(hands, "b", "b", "bat", "s")
    openings(hands, first=False)
    outlets(hands, 4)


def name_rooms(hands: Hands, *begun: str) -> None:
    """Each press makes a room of what walls enclose, and its name is typed as far as it is not guessed."""
    with hands.at_work("rooms and their names"):
        hands.keys("r")
        for place, letters in zip(QUARTERS, begun, strict=True):
            draw(hands.tab, place)
            expect(hands.tab.page.get_by_label("Name of this room")).to_be_focused()
            hands.keys(*letters, "Enter")


def openings(hands: Hands, *, first: bool) -> None:
    """The size of the first one is typed; the others have it, on the next storey too."""
    for task, key, places, width in (("doors", "d", DOORS, "0.76"), ("windows", "n", WINDOWS, "1.5")):
        with hands.at_work(task):
            hands.keys(key)
            draw(hands.tab, places[0])
            if first:
                hands.field("Width", width)
            draw(hands.tab, *places[1:])


def outlets(hands: Hands, many: int) -> None:
    with hands.at_work("outlets"):
        hands.keys("o")
        draw(hands.tab, *PLATES[:many])


def cables(hands: Hands) -> None:
    """One row says what all are made of and ends nobody knows where; the others go to the plates."""
    page = hands.tab.page
    with hands.at_work("cables"):
        page.get_by_role("link", name="Cables").click()
        hands.press("Enter several at once")
        expect(page.get_by_label("Cable 1: Id or name")).to_be_focused()
        hands.keys("Tab", *"cat3")
        hands.press("One to each outlet that has none (9)")
        expect(page.get_by_label("Cable 11: To")).to_be_focused()
        hands.keys("Control+Enter")


def require_it_all(server: Running, tab: Tab) -> None:
    house = job_of(server, tab)["house"]
    assert [room["name"] for room in house["rooms"]] == [
        *("Living room", "Kitchen", "Hall", "Dining room"),
        *("Bedroom", "Bedroom 2", "Bathroom", "Study"),
    ]
    assert {wall["storey"] for wall in house["walls"]} == {"1", "2"}
    kinds = [(one["kind"], one["width_m"]) for one in house["openings"]]
    assert sorted(kinds) == [("door", 0.76)] * 8 + [("window", 1.5)] * 8
    assert len(house["outlets"]) == 9
    (closet,) = house["meeting_points"]
    assert len(house["runs"]) == 10
    assert all(run["kind"] == "cat3" and run["ends"][0] == closet["id"] for run in house["runs"])
    ends = {run["ends"][1] for run in house["runs"]}
    assert ends == {one["id"] for one in house["outlets"]} | {"unknown"}
