"""A headless Chromium on a page of a running server, paired, and listening for what goes wrong in it."""

from __future__ import annotations

import contextlib
import os
import shutil
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass, field
from importlib.resources import files
from pathlib import Path
from typing import Any

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, ConsoleMessage, Page, expect, sync_playwright
from server import Running

from needing import absent
from rehaul.web import pages

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
QUIET = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
PATIENCE_MS = 60_000  # what should be seen is waited for this long: machines that test are busy ones
expect.set_options(timeout=PATIENCE_MS)
SOFTWARE_GL = ("--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader")


@dataclass
class Tab:
    """A page, what it complained of, and what it asked of other hosts."""

    page: Page
    faults: list[str] = field(default_factory=list)
    strays: list[str] = field(default_factory=list)


@contextlib.contextmanager
def chromium(*more: str, home: Path | None = None, host: str | None = None) -> Iterator[Browser]:
    """A browser; the test skips, saying so, where there is none or the pages are not built.

    With `home` it is another user's, who may trust other authorities; with `host` it runs in that network
    namespace.
    """
    program = browser_program()
    if not files("rehaul.web").joinpath(*pages.APP_FOLDER, "index.html").is_file():
        absent("needs the built pages; python3 run.py sets everything up")
    with sync_playwright() as playwright, tempfile.TemporaryDirectory() as folder:
        if host:
            program = _started_in(host, program, Path(folder) / "browser")
        env: dict[str, str | float | bool] = {**os.environ, **({"HOME": str(home)} if home else {})}
        browser = playwright.chromium.launch(executable_path=program, args=[*QUIET, *more], env=env)
        try:
            yield browser
        finally:
            browser.close()


def browser_program() -> str:
    """The Chromium of this machine; the test skips where there is none."""
    found = next(filter(None, map(shutil.which, NAMES)), None)
    return found or absent("needs a Chromium on PATH; python tools/browser.py FOLDER fetches one")


def _started_in(host: str, program: str, script: Path) -> str:
    script.write_text(f'#!/bin/sh\nexec ip netns exec {host} {program} "$@"\n')
    script.chmod(0o700)
    return str(script)


def paired_tab(
    browser: Browser, server: Running, path: str, name: str = "Ann", script: str = "", **context: Any
) -> Tab:
    """A tab of a new device on one page, past the pairing; `script` runs before those of the page."""
    fresh = browser.new_context(**{"viewport": {"width": 1280, "height": 900}, **context})
    fresh.set_default_timeout(PATIENCE_MS)
    fresh.add_init_script(script)
    tab = Tab(fresh.new_page())

    def console(message: ConsoleMessage) -> None:
        if message.type == "error":
            tab.faults.append(message.text)

    tab.page.on("console", console)
    tab.page.on("pageerror", lambda error: tab.faults.append(str(error)))
    tab.page.on("request", lambda request: _note(tab, server, request.url))
    cookies = server.paired(name).cookies.items()
    fresh.add_cookies([{"name": key, "value": value, "url": server.url} for key, value in cookies])
    tab.page.goto(server.url + path)
    return tab


def _note(tab: Tab, server: Running, url: str) -> None:
    if not url.startswith((server.url, "data:", "blob:")):
        tab.strays.append(url)


def barriers(page: Page) -> list[str]:
    """What WCAG 2.2 A and AA rules of axe find on a page, each with where."""
    tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
    found = Axe().run(
        page, options={"runOnly": {"type": "tag", "values": tags}, "resultTypes": ["violations"]}
    )
    return [
        f"{rule['id']}: {node['html'][:160]}"
        for rule in found.response["violations"]
        for node in rule["nodes"]
    ]
