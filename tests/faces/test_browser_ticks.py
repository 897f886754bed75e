"""Ticking steps off in a real browser: in their order, or knowingly, and never lost."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest
from browsing import Tab, barriers, open_all, paired_tab
from playwright.sync_api import Browser, Locator, expect
from server import LastingWorker, Running, running

pytestmark = pytest.mark.browser

FILE = Path(__file__).parents[2] / "examples" / "1934-brick-pendant-alarm.rehaul.json"
LONG_MS = 180_000  # a plan on a busy machine


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Running]:
    shutil.copy(FILE, tmp_path / "house.rehaul.json")
    with running(tmp_path, worker=LastingWorker) as found:
        yield found


def working_tab(browser: Browser, server: Running, job: str) -> Tab:
    tab = paired_tab(browser, server, f"/jobs/{job}/work")
    bar = tab.page.get_by_role("region", name="The plan", exact=True)
    expect(bar).to_contain_text("Made of edit", timeout=LONG_MS)
    return tab


def all_saved(tab: Tab) -> None:
    tab.page.locator("[data-link=live]", has_text="all saved").wait_for(state="attached")


def test_a_step_before_its_turn_is_asked_about_and_noted(browser: Browser, server: Running) -> None:
    reader: httpx.Client = server.paired("Reader")
    job = reader.get("/api/me").json()["jobs"][0]["id"]
    lost = {"id": "TKold", "task": "jack:C99", "by": "Ben", "time": "2026-11-24T09:00:00"}
    change = {"do": "put", "kind": "tick", "entity": lost}
    reader.post(f"/api/jobs/{job}/edits", json={"edit": "lost-000001", "base": 0, "changes": [change]})

    def ticks() -> list[dict[str, Any]]:
        found: list[dict[str, Any]] = reader.get(f"/api/jobs/{job}").json()["job"]["ticks"]
        return found[1:]

    tab = working_tab(browser, server, job)
    page = tab.page
    gone = page.get_by_role("region", name="Ticked off, and no longer in the plan")
    expect(gone).to_contain_text("jack:C99, Ben, 2026-11-24 09:00:00")
    order = reader.get(f"/api/jobs/{job}/plan").json()["plan"]["order"]
    first = order[0]
    later = next(task for task in order if task["needs"] == [first["id"]] and not task["held"])

    def step(task: dict[str, Any]) -> Locator:
        return page.locator(f"[data-step={task['id']}]")

    open_all(page)
    step(later).get_by_role("checkbox").click()
    question = step(later).get_by_role("alert")
    expect(question).to_contain_text(f"{first['title']} comes first and is not ticked off.")
    assert barriers(page) == []
    question.get_by_role("button", name="Leave it open").click()
    expect(question).to_have_count(0)
    all_saved(tab)
    assert ticks() == []

    step(later).get_by_role("checkbox").click()
    question.get_by_role("button", name="Done all the same").click()
    expect(page.get_by_role("group").filter(has_text="Done").locator(step(later))).to_have_count(1)
    open_all(page)
    expect(step(later)).to_contain_text(f"although this was open: {first['id']} {first['title']}")
    step(first).get_by_role("button", name="Tick it off").click()
    expect(step(first).get_by_role("checkbox", checked=True)).to_have_accessible_name(
        f"Done by Ann: {first['title']} ({first['id']})"
    )
    all_saved(tab)
    found = {tick["task"]: tick["despite"] for tick in ticks()}
    assert found == {later["key"]: f"{first['id']} {first['title']}", first["key"]: ""}
    expect(page.get_by_role("region", name="The plan", exact=True)).not_to_contain_text("was edited since")
    assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")
    assert (tab.faults, tab.strays) == ([], [])
