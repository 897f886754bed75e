"""`rehaul serve --lan` from a second host on the same cable: who gets in, and who does not."""

from __future__ import annotations

import time
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import httpx
import pytest
from browsing import PATIENCE_MS, chromium
from playwright.sync_api import Page
from trusting import home_that_trusts
from two_hosts import LAPTOP_ADDRESS, PORT, TABLET_ADDRESS, Hosts, on, serving, two_hosts
from websockets.exceptions import ConnectionClosedError
from websockets.sync.client import connect
from websockets.typing import Origin

from rehaul.jobs import demo_job, save_job
from rehaul.web.tls import certificates

DEMO = demo_job()
ORIGIN = f"http://{LAPTOP_ADDRESS}:{PORT}"
LIVE = f"/api/jobs/{DEMO.id}/live"


@pytest.fixture(scope="module")
def hosts() -> Iterator[Hosts]:
    with two_hosts() as found:
        yield found


@pytest.fixture(scope="module")
def jobs(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("jobs")
    save_job(folder / "demo.rehaul.json", DEMO)
    return folder


@pytest.fixture(scope="module")
def url(hosts: Hosts, jobs: Path) -> Iterator[str]:
    """What a server on the laptop prints, with a code that one test types."""
    with serving(hosts, jobs) as found:
        yield found


@pytest.fixture(scope="module")
def cookie(hosts: Hosts, url: str) -> str:
    """That of the tablet, once it has typed the code."""
    ((name, value),) = pair(hosts, code_in(url)).cookies.items()
    return f"{name}={value}"


def ask(hosts: Hosts, method: str, path: str, body: object = None, **headers: str) -> httpx.Response:
    """One request from the tablet."""

    def work() -> httpx.Response:
        with httpx.Client(base_url=ORIGIN, timeout=60, trust_env=False) as client:
            return client.request(method, path, json=body, headers={"origin": ORIGIN, **headers})

    return on(hosts.tablet, work)


def pair(hosts: Hosts, code: str) -> httpx.Response:
    answer = ask(hosts, "POST", "/api/pair", {"code": code, "name": "Ann"})
    while answer.status_code == 429:  # a test before typed a wrong one
        time.sleep(0.1)
        answer = ask(hosts, "POST", "/api/pair", {"code": code, "name": "Ann"})
    return answer


def code_in(url: str) -> str:
    return urlsplit(url).fragment.removeprefix("pair=")


def closed_with(hosts: Hosts, origin: str, cookie: str) -> int | None:
    """What the live socket says to one who should not have it."""

    def work() -> int | None:
        address = ORIGIN.replace("http", "ws") + LIVE
        headers = {"cookie": cookie}
        with connect(address, origin=Origin(origin), additional_headers=headers, proxy=None) as socket:
            with pytest.raises(ConnectionClosedError) as closed:
                socket.recv(timeout=60)
            return closed.value.rcvd.code if closed.value.rcvd else None

    return on(hosts.tablet, work)


def walk_in(page: Page, url: str) -> None:
    """Open what the laptop shows, give a name, open the job."""
    page.goto(url)
    page.get_by_label("Your name").fill("Ann")
    page.get_by_role("button", name="Pair").click()
    page.get_by_role("link", name=DEMO.title).first.click()
    page.locator(f'nav a[href="/jobs/{DEMO.id}/house"]').click()
    page.get_by_role("application").wait_for(timeout=PATIENCE_MS)
    page.locator("[data-link=live]").wait_for(state="attached", timeout=PATIENCE_MS)


@pytest.mark.browser
def test_a_tablet_opens_the_address(hosts: Hosts, url: str, cookie: str) -> None:
    """Before anybody types a wrong code, after which a server lets one wait."""
    made = ask(hosts, "POST", "/api/codes", cookie=cookie).json()
    with chromium(host=hosts.tablet) as browser:
        page = browser.new_page()
        walk_in(page, f"{url.partition('#')[0]}#pair={made['code']}")
        assert page.evaluate("isSecureContext") is False, "plain http from elsewhere keeps no pages"


def test_a_code_lets_one_device_in(hosts: Hosts, url: str, cookie: str) -> None:
    assert url.startswith(ORIGIN), "the address that is printed is the one in the network"
    assert ask(hosts, "GET", "/").status_code == 200
    assert ask(hosts, "GET", "/api/me", cookie=cookie).json()["lan"] is True
    assert ask(hosts, "GET", f"/api/jobs/{DEMO.id}", cookie=cookie).status_code == 200
    assert pair(hosts, code_in(url)).status_code == 401, "a code is good for one device"


def test_who_is_not_paired_is_refused(hosts: Hosts, url: str) -> None:
    for path in ("/api/me", f"/api/jobs/{DEMO.id}", "/api/meter/x/ping"):
        answer = ask(hosts, "GET", path)
        assert (answer.status_code, answer.json()["code"]) == (401, "unpaired")
    assert ask(hosts, "POST", "/api/meter").status_code == 401
    assert pair(hosts, "WRONGONE").status_code == 401
    assert closed_with(hosts, ORIGIN, "") == 4401


def test_an_unknown_name_is_refused(hosts: Hosts, cookie: str) -> None:
    """A name on the network, or one made to lead here, even from a paired device."""
    for name in (f"laptop.local:{PORT}", f"localhost:{PORT}", f"127.0.0.1:{PORT}", LAPTOP_ADDRESS):
        for path in ("/", "/api/me"):
            answer = ask(hosts, "GET", path, cookie=cookie, host=name)
            assert (answer.status_code, answer.json()["code"]) == (403, "foreign"), (name, path)


def test_a_page_of_another_host_is_refused(hosts: Hosts, cookie: str) -> None:
    others = (
        f"http://{TABLET_ADDRESS}:{PORT}",
        f"http://{LAPTOP_ADDRESS}:81",
        f"https://{LAPTOP_ADDRESS}:{PORT}",
    )
    for origin in others:
        answer = ask(hosts, "POST", "/api/codes", cookie=cookie, origin=origin)
        assert (answer.status_code, answer.json()["code"]) == (403, "foreign"), origin
        assert closed_with(hosts, origin, cookie) == 4403


def test_only_the_address_in_the_network_listens(hosts: Hosts, url: str) -> None:
    assert url.startswith(ORIGIN)
    with pytest.raises(httpx.ConnectError):
        on(hosts.laptop, lambda: httpx.get(f"http://127.0.0.1:{PORT}/", trust_env=False))


@pytest.mark.browser
def test_a_tablet_that_trusts_the_laptop_reloads_without_it(hosts: Hosts, tmp_path: Path) -> None:
    """On a port of its own, and with jobs of its own, as the other server goes on."""
    (tmp_path / "jobs").mkdir()
    save_job(tmp_path / "jobs" / "demo.rehaul.json", DEMO)
    config = tmp_path / "config"
    files = certificates(config / "rehaul", LAPTOP_ADDRESS)
    home = home_that_trusts(files.authority, tmp_path / "home")
    with chromium(host=hosts.tablet, home=home) as browser:
        page = browser.new_page()
        with serving(hosts, tmp_path / "jobs", "--tls", config=config, port=PORT + 1) as url:
            walk_in(page, url)
            page.locator("html[data-kept=yes]").wait_for(state="attached", timeout=PATIENCE_MS)
        page.locator("[data-link=away]").wait_for(state="attached", timeout=PATIENCE_MS)
        page.reload()
        page.get_by_role("application").wait_for(timeout=PATIENCE_MS)
        with serving(hosts, tmp_path / "jobs", "--tls", config=config, port=PORT + 1):
            page.locator("[data-link=live]").wait_for(state="attached", timeout=PATIENCE_MS)
