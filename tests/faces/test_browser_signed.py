"""An offer is accepted in a real browser: frozen with its plan, in force, and what is new is a proposal."""

from __future__ import annotations

import hashlib
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from browsing import COLOURS, barriers, paired_tab
from playwright.sync_api import Browser, Page, expect
from server import LastingWorker, Running, running

pytestmark = pytest.mark.browser

FILE = Path(__file__).parents[2] / "examples" / "1934-brick-pendant-alarm.rehaul.json"
PLAN_MS = 240_000  # a plan on a busy machine


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Running]:
    shutil.copy(FILE, tmp_path / "house.rehaul.json")
    with running(tmp_path, worker=LastingWorker) as found:
        yield found


def sideways_px(page: Page) -> int:
    return int(page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth"))


def test_an_offer_is_accepted_stays_in_force_and_new_plans_are_proposals(
    browser: Browser, server: Running
) -> None:
    reader = server.paired("Reader")
    key = reader.get("/api/me").json()["jobs"][0]["id"]

    def offers() -> list[dict[str, Any]]:
        found: list[dict[str, Any]] = reader.get(f"/api/jobs/{key}").json()["job"]["accepted_offers"]
        return found

    tab = paired_tab(browser, server, f"/jobs/{key}/quote", viewport={"width": 1366, "height": 850})
    page = tab.page
    page.set_default_timeout(PLAN_MS)
    bar = page.get_by_role("region", name="The plan", exact=True)
    expect(bar).to_contain_text("Made of edit", timeout=PLAN_MS)
    form = page.get_by_role("form", name="Accept an offer")
    form.get_by_label("Offer").select_option(label=form.get_by_text("Only what is needed, ").inner_text())
    form.get_by_label("Accepted by").fill("Invented owner")
    form.get_by_label("Day").fill("2026-11-20")
    form.get_by_label("In what words").fill("as talked over")
    form.get_by_role("button", name="Freeze as accepted").press("Enter")
    row = page.get_by_role("region", name="Accepted offers").get_by_role("row").nth(1)
    expect(row).to_contain_text("Invented owner, 2026-11-20", timeout=PLAN_MS)
    expect(row).to_contain_text("Steps, parts and price are kept as signed.")
    expect(row).to_contain_text("in force")
    (signed,) = offers()
    assert signed["sha256"] == hashlib.sha256(signed["offer"].encode()).hexdigest()
    expect(row).to_contain_text(signed["sha256"])
    for link, text in (("Save A1", signed["offer"]), ("Save its plan", signed["plan"])):
        with page.expect_download() as caught:
            row.get_by_role("link", name=link).click()
        assert Path(caught.value.path()).read_text(encoding="utf-8") == text
    proposed = page.get_by_role("region", name="What a new plan would change")
    expect(proposed).to_contain_text("A new plan would change nothing of it.", timeout=PLAN_MS)
    total = page.get_by_role("row", name="Total").first
    expect(total).to_contain_text(f"£{signed['total']:,.0f}")

    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_role("region", name="Refused")).to_contain_text("not altered", timeout=PLAN_MS)
    page.get_by_role("button", name="I have read it").click()

    page.get_by_label("Margin, %").fill("41")
    page.get_by_label("Margin, %").press("Tab")
    expect(proposed).to_contain_text("The price would be", timeout=PLAN_MS)
    expect(proposed).to_contain_text("not in force before an offer of it is accepted")
    expect(total).to_contain_text(f"£{signed['total']:,.0f}")
    assert offers() == [signed]
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)
        rules = () if scheme == "light" else COLOURS
        assert (barriers(page, rules), sideways_px(page)) == ([], 0)

    form.get_by_label("Offer").select_option(index=2)
    form.get_by_label("Day").fill("2026-11-28")
    form.get_by_role("button", name="Freeze as accepted").press("Enter")
    second = page.get_by_role("region", name="Accepted offers").get_by_role("row").nth(2)
    expect(second).to_contain_text("in force", timeout=PLAN_MS)
    expect(row).to_contain_text("A later one has taken its place.")
    expect(proposed).to_contain_text("A new plan would change nothing of it.", timeout=PLAN_MS)
    assert [one["id"] for one in offers()] == ["A1", "A2"]
    page.goto(f"{server.url}/jobs/{key}/work")
    expect(page.get_by_role("main")).to_contain_text("In force: offer A2", timeout=PLAN_MS)
    assert (tab.faults, tab.strays) == ([], [])
