"""Over TLS a tablet that trusts our authority keeps the pages, and reloads while offline."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path
from typing import Any

import pytest
from browsing import PATIENCE_MS, Tab, chromium, paired_tab
from playwright.sync_api import Browser, Error, expect
from server import Running, running
from trusting import home_that_trusts

from rehaul.jobs import demo_job, save_job
from rehaul.web.pairing import pairing_url
from rehaul.web.settings import lan_address
from rehaul.web.tls import certificates, is_private

pytestmark = pytest.mark.browser

DEMO = demo_job()
GROUND = DEMO.house.storeys[0].id  # the sheet opens on it
ROOM = next(room for room in DEMO.house.rooms if room.storey == GROUND)
PATH = f"/jobs/{DEMO.id}/house"
IN_THE_DATABASE = """edits => new Promise(resolve => {
    const asked = indexedDB.open("rehaul");
    asked.onsuccess = () => {
        const counted = asked.result.transaction("waiting").objectStore("waiting").count();
        counted.onsuccess = () => { asked.result.close(); resolve(counted.result === edits); };
    };
})"""


@pytest.fixture(scope="module")
def address() -> str:
    """This machine's address in its network where that is a private one, else its own."""
    found = lan_address()
    return found if is_private(found) else "127.0.0.1"


@pytest.fixture(scope="module")
def secrets(tmp_path_factory: pytest.TempPathFactory, address: str) -> Path:
    """The authority of this user, made by the first start of a server."""
    folder = tmp_path_factory.mktemp("config") / "rehaul"
    certificates(folder, address)
    return folder


@pytest.fixture
def browser(tmp_path: Path, secrets: Path) -> Iterator[Browser]:
    home = home_that_trusts(secrets / "authority.pem", tmp_path / "home")
    with chromium(home=home) as found:
        yield found


@pytest.fixture
def jobs(tmp_path: Path) -> Path:
    folder = tmp_path / "jobs"
    folder.mkdir()
    save_job(folder / "demo.rehaul.json", DEMO)
    return folder


def tablet(browser: Browser, server: Running) -> Tab:
    """A paired tab on the house, its pages kept."""
    tab = paired_tab(browser, server, PATH)
    all_saved(tab)
    tab.page.locator("html[data-kept=yes]").wait_for(state="attached", timeout=PATIENCE_MS)
    return tab


def all_saved(tab: Tab) -> None:
    tab.page.locator("[data-link=live]", has_text="all saved").wait_for(state="attached", timeout=PATIENCE_MS)


def rename(tab: Tab, name: str) -> None:
    tab.page.get_by_role("button", name=f"{ROOM.id} ", exact=False).first.click()
    field = tab.page.get_by_label("Name, used everywhere")
    field.fill(name)
    field.press("Enter")


def waits(tab: Tab, edits: int) -> None:
    """So many edits wait, shown and kept where a reload does not reach them."""
    away = tab.page.locator("[data-link=away]")
    expect(away).to_contain_text(f"{edits} waiting", timeout=PATIENCE_MS)
    tab.page.wait_for_function(IN_THE_DATABASE, arg=edits, timeout=PATIENCE_MS)


def room_of(server: Running) -> dict[str, Any]:
    rooms = server.paired("Reader").get(f"/api/jobs/{DEMO.id}").json()["job"]["house"]["rooms"]
    found: dict[str, Any] = next(room for room in rooms if room["id"] == ROOM.id)
    return found


def test_a_reload_while_offline(browser: Browser, jobs: Path, secrets: Path, address: str) -> None:
    with running(jobs, address=address, secrets=secrets) as server:
        tab = tablet(browser, server)
        assert tab.page.evaluate("isSecureContext")
        tab.page.context.set_offline(True)
        rename(tab, "Before the reload")
        waits(tab, 1)
        tab.page.reload()
        tab.page.get_by_role("application").wait_for(timeout=PATIENCE_MS)
        expect(tab.page.get_by_role("button", name="Before the reload")).to_be_visible(timeout=PATIENCE_MS)
        rename(tab, "After the reload")
        waits(tab, 2)
        tab.page.context.set_offline(False)
        all_saved(tab)
        assert room_of(server)["name"] == "After the reload"


def test_the_laptop_leaves_and_comes_back(browser: Browser, jobs: Path, secrets: Path, address: str) -> None:
    """The server ends and starts again, with another certificate by the same authority."""
    with ExitStack() as first:
        server = first.enter_context(running(jobs, address=address, secrets=secrets))
        tab = tablet(browser, server)
        first.close()
        tab.page.locator("[data-link=away]").wait_for(state="attached", timeout=PATIENCE_MS)
        tab.page.reload()
        tab.page.get_by_role("application").wait_for(timeout=PATIENCE_MS)
        rename(tab, "Drawn alone")
        waits(tab, 1)
        for sheet in ("Cables", "Meter", "House in 3-D"):  # none of them was looked at before
            tab.page.get_by_role("link", name=sheet).first.click()
            expect(tab.page.get_by_role("heading", level=1)).to_be_visible(timeout=PATIENCE_MS)
            tab.page.reload()
            expect(tab.page.get_by_role("heading", level=1)).to_be_visible(timeout=PATIENCE_MS)
    with running(jobs, address=address, port=server.settings.port, secrets=secrets) as again:
        all_saved(tab)
        assert room_of(again)["name"] == "Drawn alone"


def test_a_code_pairs_the_tablet(browser: Browser, jobs: Path, secrets: Path, address: str) -> None:
    with running(jobs, address=address, secrets=secrets) as server:
        context = browser.new_context()
        page = context.new_page()
        page.goto(pairing_url(server.settings.url, server.codes.new().code))
        page.get_by_label("Your name").fill("Ann")
        page.get_by_role("button", name="Pair").click()
        page.get_by_role("link", name=DEMO.title).first.wait_for(timeout=PATIENCE_MS)
        (cookie,) = context.cookies()
        assert (cookie.get("secure"), cookie.get("httpOnly"), cookie.get("sameSite")) == (
            True,
            True,
            "Strict",
        )


def test_who_does_not_trust_the_authority_is_kept_out(jobs: Path, secrets: Path, address: str) -> None:
    with running(jobs, address=address, secrets=secrets) as server, chromium(home=jobs) as stranger:
        page = stranger.new_page()
        with pytest.raises(Error, match="ERR_CERT_AUTHORITY_INVALID"):
            page.goto(server.url)
