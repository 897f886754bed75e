"""A hand at the House page of a blank job: presses, tools, and what was saved."""

from __future__ import annotations

from typing import Any

from browsing import Tab
from playwright.sync_api import Locator
from server import Running
from sheet_places import at

Fields = dict[str, Any]


def job_of(server: Running, tab: Tab, key: str = "blank") -> Fields:
    """The job as its own person's page has it saved, once everything drawn is there."""
    tab.page.locator("[data-link=live]", has_text="all saved").wait_for(state="attached")
    answer = tab.page.request.get(f"{server.url}/api/jobs/{key}")
    job: Fields = answer.json()["job"]
    return job


def draw(tab: Tab, *places: tuple[float, float]) -> Locator:
    """Press these places of the sheet in turn."""
    sheet = tab.page.get_by_role("application")
    for place in places:
        sheet.click(position=at(sheet, *place))
    return sheet


def take(tab: Tab, tool: str) -> None:
    """Take up a tool by its button."""
    tab.page.get_by_role("toolbar").get_by_role("button", name=tool).click()
