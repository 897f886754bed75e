"""Many cables entered at once in a real browser: typed by keyboard alone, pasted, proposed for the plates."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from browsing import COLOURS, Tab, barriers, paired_tab
from drawn_by_hand import job_of
from playwright.sync_api import Browser, expect
from server import Running, running
from two_storeys import save_two_storeys

pytestmark = pytest.mark.browser
TABLE = "Id\tKind\tFrom\tTo\tNote\nK1\tcat5e\tCloset\t1-01\tby the stair\nattic feed\tcoax\tMP1\t2-01\t\n"


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Running]:
    save_two_storeys(tmp_path)
    with running(tmp_path) as found:
        yield found


@pytest.fixture
def tab(browser: Browser, server: Running) -> Tab:
    found = paired_tab(browser, server, "/jobs/two/cables")
    found.page.get_by_role("button", name="Enter several at once").click()
    expect(found.page.get_by_label("Cable 1: Id or name")).to_be_focused()
    return found


def runs(server: Running, tab: Tab) -> list[tuple[str, list[str], str]]:
    found = job_of(server, tab, "two")["house"]["runs"]
    return [(run["kind"], run["ends"], run["note"]) for run in found if run["id"] not in ("C1", "C2")]


def test_by_keyboard_alone(server: Running, tab: Tab) -> None:
    page = tab.page
    for key in ("Tab", *"cat3", "Tab", "Tab", *"1-01", "Enter", *"2-01", "Enter", "Enter"):
        page.keyboard.press(key)
    expect(page.get_by_label("Cable 4: To")).to_be_focused()
    for key in (*"nowhere", "Control+Enter"):
        page.keyboard.press(key)
    expect(page.get_by_role("alert")).to_contain_text("called “nowhere”")
    assert runs(server, tab) == []
    assert barriers(page) == []
    page.emulate_media(color_scheme="dark")
    assert barriers(page, COLOURS) == []
    for key in ("Control+a", "?", "ArrowUp", "ArrowDown", "Control+Enter"):
        page.keyboard.press(key)
    expect(page.get_by_role("region", name="Several cables")).to_have_count(0)
    assert runs(server, tab) == [
        ("cat3", ["MP1", "1-01"], ""),
        ("cat3", ["MP1", "2-01"], ""),
        ("cat3", ["MP1", "unknown"], ""),
    ]
    page.get_by_role("button", name="Undo").click()
    assert runs(server, tab) == [], "one edit"
    assert (tab.faults, tab.strays) == ([], [])


def test_pasted_from_another_table(server: Running, tab: Tab) -> None:
    tab.page.evaluate(
        """text => {
            const data = new DataTransfer();
            data.setData("text/plain", text);
            const how = { clipboardData: data, bubbles: true, cancelable: true };
            document.activeElement.dispatchEvent(new ClipboardEvent("paste", how));
        }""",
        TABLE,
    )
    expect(tab.page.get_by_label("Cable 2: Note")).to_have_value("")
    tab.page.get_by_role("button", name="Add 2 cables to the schedule").click()
    found = job_of(server, tab, "two")["house"]["runs"][2:]
    assert found[0]["id"] == "K1"
    assert runs(server, tab) == [
        ("cat5e", ["MP1", "1-01"], "by the stair"),
        ("coax", ["MP1", "2-01"], "attic feed"),
    ]


def test_on_a_phone_its_rows_are_one_under_another(browser: Browser, server: Running) -> None:
    tab = paired_tab(
        browser, server, "/jobs/two/cables", viewport={"width": 390, "height": 844}, has_touch=True
    )
    tab.page.get_by_role("button", name="Enter several at once").tap()
    wide = tab.page.evaluate("document.documentElement.scrollWidth")
    assert wide <= 390
    field = tab.page.get_by_label("Cable 1: Note").bounding_box()
    assert field is not None
    assert field["x"] + field["width"] <= 390
