"""A hand at the House page of a blank job: where places lie on the sheet, presses, and what was saved."""

from __future__ import annotations

from typing import Any

from browsing import Tab
from playwright.sync_api import Locator, Position
from server import Running

Fields = dict[str, Any]


def at(sheet: Locator, x_m: float, y_m: float) -> Position:
    """Where a place lies on a sheet as it stands."""
    scale, left_m, top_m = (float(part) for part in (sheet.get_attribute("data-view") or "").split())
    return {"x": (x_m - left_m) * scale, "y": (top_m - y_m) * scale}


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
