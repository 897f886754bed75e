"""The Meter page on a second host, through a cable that is as slow as was set: it says what was set.

A measurement wants the machine to itself, so these run where REHAUL_MEASURE is set:
`REHAUL_MEASURE=1 python -m pytest tests/faces/test_browser_meter_cable.py`.
"""

from __future__ import annotations

import contextlib
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from browsing import PATIENCE_MS, chromium
from playwright.sync_api import Browser, Page
from two_hosts import serving, two_hosts

from needing import need
from rehaul.jobs import demo_job, save_job

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(
        not os.environ.get("REHAUL_MEASURE"), reason="takes the machine to itself; REHAUL_MEASURE=1 runs it"
    ),
]

JOB = demo_job()
ROOM = JOB.house.rooms[-1]
PAYLOAD = 1448 / 1514  # of a full frame as the kernel counts it: less Ethernet, IPv4, TCP with time stamps
RATE_TOLERANCE = 0.06  # two seconds a round, of which the queue may hold a twentieth back
QUEUE_MS = 50.0
LATE_BY_S = 0.1  # either way: much more than a busy machine takes itself, 16 ms as measured
DELAY_TOLERANCE = 0.12


@pytest.fixture(scope="module")
def jobs(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("jobs")
    save_job(folder / "demo.rehaul.json", JOB)
    return folder


def measured(browser: Browser, url: str) -> Page:
    """The Meter page of a new device, when it has measured."""
    page = browser.new_context().new_page()
    page.set_default_timeout(PATIENCE_MS)
    page.goto(url)
    page.get_by_label("Your name").fill("Ann")
    page.get_by_role("button", name="Pair").click()
    page.get_by_role("link", name=JOB.title).first.click()
    page.get_by_role("link", name="Meter").first.click()
    page.get_by_label("Room you stand in").select_option(ROOM.id)
    page.get_by_role("button", name=f"Measure in {ROOM.name}").click()
    page.get_by_text("Measured.", exact=True).wait_for(timeout=90_000)
    return page


def figure(page: Page, quantity: str) -> float:
    return float(page.locator(f"[data-quantity={quantity}] b").inner_text())


def test_rates_are_those_of_the_cable(jobs: Path) -> None:
    down_mbps, up_mbps = 60.0, 15.0
    with two_hosts() as hosts, serving(hosts, jobs) as url, chromium(host=hosts.tablet) as browser:
        hosts.shape(down_mbps, up_mbps, QUEUE_MS)
        page = measured(browser, url)
        assert figure(page, "down_mbps") == pytest.approx(down_mbps * PAYLOAD, rel=RATE_TOLERANCE)
        assert figure(page, "up_mbps") == pytest.approx(up_mbps * PAYLOAD, rel=RATE_TOLERANCE)
        assert figure(page, "delay_ms") < QUEUE_MS, "nothing queues while nothing else goes"
        assert page.locator(".server").count() == 0, "the cable is the limit"


def test_delay_is_that_of_the_cable(jobs: Path) -> None:
    there_and_back_ms = 2000 * LATE_BY_S
    with (
        two_hosts(late_by_s=LATE_BY_S) as hosts,
        serving(hosts, jobs) as url,
        chromium(host=hosts.tablet) as browser,
    ):
        page = measured(browser, url)
        for quantity in ("delay_ms", "loaded_delay_ms"):
            assert figure(page, quantity) >= there_and_back_ms
        assert figure(page, "delay_ms") <= there_and_back_ms * (1 + DELAY_TOLERANCE)


@contextlib.contextmanager
def busy(cpu: int, hogs: int = 4) -> Iterator[None]:
    """Other work on one processor."""
    need("taskset")
    work = ["taskset", "-c", str(cpu), sys.executable, "-c", "while True: pass"]
    processes = [subprocess.Popen(work) for _ in range(hogs)]
    try:
        yield
    finally:
        for process in processes:
            process.kill()
            process.wait()


def test_it_says_when_the_server_is_the_limit(jobs: Path) -> None:
    """A laptop that has other things to do, and a cable without a limit."""
    with (
        two_hosts() as hosts,
        serving(hosts, jobs, cpu=0) as url,
        chromium(host=hosts.tablet) as browser,
        busy(cpu=0),
    ):
        page = measured(browser, url)
        for quantity in ("down_mbps", "up_mbps"):
            line = page.locator(f"[data-quantity={quantity}]")
            assert "The server was the limit" in line.inner_text()
        page.get_by_role("button", name=f"Save to {ROOM.name}").click()
        page.get_by_text(f"Saved to {ROOM.name}.").wait_for()
