"""Where places of a house lie on a plan sheet in a browser, in pixels from its upper left corner."""

from __future__ import annotations

from playwright.sync_api import Locator, Position


def at(sheet: Locator, x_m: float, y_m: float) -> Position:
    """Where a place lies on a sheet as it stands."""
    scale, left_m, top_m = (float(part) for part in (sheet.get_attribute("data-view") or "").split())
    return {"x": (x_m - left_m) * scale, "y": (top_m - y_m) * scale}
