"""The invented house served by the program itself, for benchmarks in a browser."""

from __future__ import annotations

import contextlib
import os
import socket
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from playwright.sync_api import Browser, Page, Playwright

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))
sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "faces"))
from browsing import QUIET, browser_program

from rehaul.jobs import demo_job, save_job


def launched(tools: Playwright) -> Browser:
    """A browser as the tests have it: the Chromium that is on PATH."""
    return tools.chromium.launch(executable_path=browser_program(), args=list(QUIET))


def free_port() -> int:
    with socket.create_server(("127.0.0.1", 0)) as probe:
        return int(probe.getsockname()[1])


@contextlib.contextmanager
def served() -> Iterator[tuple[str, int]]:
    """The address with its code, and the process of the server."""
    with tempfile.TemporaryDirectory() as folder:
        save_job(Path(folder) / "demo.rehaul.json", demo_job())
        command = [sys.executable, "-m", "rehaul", "serve", folder, "--port", str(free_port())]
        environment = {**os.environ, "PYTHONUNBUFFERED": "1"}
        with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=environment) as server:
            try:
                assert server.stdout is not None
                yield server.stdout.readline().split()[1], server.pid
            finally:
                server.terminate()


def opened(page: Page, address: str) -> None:
    """Pair a page and open the house in it."""
    page.goto(address)
    page.get_by_label("Your name").fill("Bench")
    page.get_by_role("button", name="Pair").click()
    page.get_by_role("link", name=demo_job().title).click()
    stages = page.get_by_role("navigation", name="Stages of the work")
    stages.locator('a[href$="/house"]').click()
    page.get_by_role("application").wait_for()
