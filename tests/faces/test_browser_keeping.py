"""What the browser's own database could not keep is told, since an edit might be lost unsaid."""

from __future__ import annotations

import pytest
from browsing import paired_tab
from playwright.sync_api import Browser, expect
from server import Running

from rehaul.jobs import demo_job

pytestmark = pytest.mark.browser
DEMO = demo_job()
FULL = """
  const put = IDBObjectStore.prototype.put;
  IDBObjectStore.prototype.put = function (...given) {
    if (window.full) throw new DOMException("full", "QuotaExceededError");
    return put.apply(this, given);
  };
"""


def test_a_full_disk_is_told_until_there_is_room_again(browser: Browser, server: Running) -> None:
    tab = paired_tab(browser, server, f"/jobs/{DEMO.id}/handover", script=FULL)
    page = tab.page
    saved = page.locator("[data-link=live]", has_text="all saved")
    saved.wait_for(state="attached")
    told = page.get_by_text("This browser could not keep")
    expect(told).to_have_count(0)

    page.evaluate("window.full = true")
    page.context.set_offline(True)
    page.locator("[data-link=away]").wait_for(state="attached")
    household = page.get_by_label("Household")
    household.fill("Ash Lane")
    household.press("Enter")
    expect(told).to_have_text(
        "This browser could not keep your edit, as it has no room left: "
        "leave this page open until it says “all saved”."
    )

    page.evaluate("window.full = false")
    page.context.set_offline(False)
    saved.wait_for(state="attached")
    household.fill("Elm Lane")
    household.press("Enter")
    expect(told).to_have_count(0)
    assert [fault for fault in tab.faults if "ERR_INTERNET_DISCONNECTED" not in fault] == []
