"""A phone held upright: no button stands on a drawing, and tables of cables need no scrolling sideways."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from browsing import Tab, barriers, lasting, paired_tab, turn_to
from playwright.sync_api import Browser, expect
from server import Running

from rehaul.jobs import demo_job

pytestmark = pytest.mark.browser

DEMO = demo_job()
PHONE = {"width": 360, "height": 740}
LONG_MS = 90_000  # a plan on a busy machine

# Words and buttons of a sheet that stand on one another, as far as the paper shows the words.
COVERED = """() => {
  const sheet = document.querySelector("[role=application]");
  const paper = sheet.getBoundingClientRect();
  const apart = (a, b) => a.right <= b.left || b.right <= a.left || a.bottom <= b.top || b.bottom <= a.top;
  const words = [...sheet.querySelectorAll("text")]
    .map((one) => [one.textContent, one.getBoundingClientRect()]);
  const buttons = ["Nearer", "Farther", "Show all of it"].map((name) =>
    document.querySelector(`main button[aria-label="${name}"]`));
  const shown = words.filter(([, at]) => !apart(at, paper));
  const found = buttons.flatMap((button) => {
    const own = button.getBoundingClientRect();
    return shown.filter(([, at]) => !apart(at, own) && !apart(paper, own)).map(([said]) => said);
  });
  return { words: shown.length, found };
}"""

WIDER = """() => [...document.querySelectorAll("main .scroll")]
  .filter((one) => one.scrollWidth > one.clientWidth)
  .map((one) => `${one.getAttribute("aria-label")}: ${one.scrollWidth} in ${one.clientWidth}`)"""


@pytest.fixture(scope="module")
def browser(drawing_browser: Browser) -> Browser:
    return drawing_browser


@pytest.fixture(scope="module")
def server(demo_server: Running) -> Running:
    return demo_server


@pytest.fixture(scope="module")
def planned(browser: Browser, server: Running) -> Iterator[Tab]:
    with lasting(
        paired_tab(browser, server, f"/jobs/{DEMO.id}/coverage", viewport=PHONE, has_touch=True)
    ) as tab:
        bar = tab.page.get_by_role("region", name="The plan")
        expect(bar).to_contain_text("Made of edit", timeout=LONG_MS)
        yield tab


@pytest.mark.parametrize("page", ["house", "coverage"])
def test_no_button_stands_on_the_words_of_a_drawing(planned: Tab, page: str) -> None:
    turn_to(planned.page, f"/jobs/{DEMO.id}/{page}")
    planned.page.locator("[role=application] text").first.wait_for()
    seen = planned.page.evaluate(COVERED)  # all of it is to be seen
    assert seen["words"] > 3
    assert seen["found"] == []
    assert planned.page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]


def test_the_tables_of_cables_are_read_without_scrolling_sideways(planned: Tab) -> None:
    turn_to(planned.page, f"/jobs/{DEMO.id}/cables")
    first = DEMO.house.runs[0].id
    name = planned.page.get_by_role("rowheader", name=first, exact=True)
    row = planned.page.get_by_role("row").filter(has=name)
    expect(row.get_by_role("cell").nth(4)).to_contain_text("likely")  # the plan has come
    assert planned.page.evaluate(WIDER) == []
    planned.page.get_by_role("button", name=f"Open cable {first}").click()
    planned.page.get_by_text("By rate").first.wait_for()
    assert planned.page.evaluate(WIDER) == []
    assert barriers(planned.page) == []
