"""A headless Chromium on a page of a running server, paired, and listening for what goes wrong in it."""

from __future__ import annotations

import contextlib
import os
import shutil
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

from axe_playwright_python.base import AXE_FILE_PATH
from playwright.sync_api import (
    Browser,
    BrowserContext,
    ConsoleMessage,
    Page,
    Playwright,
    expect,
    sync_playwright,
)
from server import Running

from needing import absent
from rehaul.web import pages

NAMES = ("chromium-headless-shell", "chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
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
DRIVERS: list[Playwright] = []
RUNNING: list[Browser] = []
LASTING: list[BrowserContext] = []
OPEN = contextlib.ExitStack()
WCAG = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa")  # tags of axe
COLOURS = ("color-contrast", "link-in-text-block")  # its rules that hold or not by colour
CHECK = """options => axe.run({...options, resultTypes: ["violations"]}).then(found =>
  found.violations.flatMap(rule => rule.nodes.map(node => `${rule.id}: ${node.html.slice(0, 160)}`)))"""
SOFTWARE_GL = ("--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader")


@dataclass
class Tab:
    """A page, what it complained of, and what it asked of other hosts."""

    page: Page
    faults: list[str] = field(default_factory=list)
    strays: list[str] = field(default_factory=list)


def open_all(page: Page) -> None:
    """Every part of the page that is folded away, opened."""
    page.evaluate("document.querySelectorAll('main details').forEach(one => (one.open = true))")


@contextlib.contextmanager
def chromium(*more: str, home: Path | None = None, host: str | None = None) -> Iterator[Browser]:
    """A browser; the test skips, saying so, where there is none or the pages are not built.

    With `home` it is another user's, who may trust other authorities; with `host` it runs in that network
    namespace.
    """
    program = browser_program()
    if not files("rehaul.web").joinpath(*pages.APP_FOLDER, "index.html").is_file():
        absent("needs the built pages; python3 run.py sets everything up")
    with driver() as playwright, tempfile.TemporaryDirectory() as folder:
        if host:
            program = _started_in(host, program, Path(folder) / "browser")
        env: dict[str, str | float | bool] = {**os.environ, **({"HOME": str(home)} if home else {})}
        browser = playwright.chromium.launch(executable_path=program, args=[*QUIET, *more], env=env)
        RUNNING.append(browser)
        try:
            yield browser
        finally:
            RUNNING.remove(browser)
            browser.close()


@contextlib.contextmanager
def driver() -> Iterator[Playwright]:
    """What drives all browsers of this process, while there are any: a second one beside it would fail."""
    DRIVERS.append(DRIVERS[-1] if DRIVERS else sync_playwright().start())
    try:
        yield DRIVERS[-1]
    finally:
        ended = DRIVERS.pop()
        if not DRIVERS:
            ended.stop()


@cache
def shared(*more: str) -> Browser:
    """The browser that tests share which need nothing else of it than these switches."""
    return OPEN.enter_context(chromium(*more))


def close_browsers() -> None:
    """Those that are shared: left alone, their driver would stop tests that have a loop of their own."""
    OPEN.close()
    shared.cache_clear()


def close_tabs() -> None:
    """Those that a test opened for itself: left open they would go on asking, drawing and connecting."""
    for browser in RUNNING:
        for context in browser.contexts:
            if context not in LASTING:
                context.close()


@contextlib.contextmanager
def lasting(tab: Tab) -> Iterator[Tab]:
    """A tab that several tests look at."""
    context = tab.page.context
    LASTING.append(context)
    try:
        yield tab
    finally:
        LASTING.remove(context)
        context.close()


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
    """A tab of a new device on one page, past the pairing; `script` runs before those of the page.

    What moves on the pages stands still in it, as its user asked: drawing it again and again is costly here.
    """
    usual = {"viewport": {"width": 1280, "height": 900}, "reduced_motion": "reduce"}
    fresh = browser.new_context(**{**usual, **context})
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


def turn_to(page: Page, path: str) -> None:
    """Go to a page of the app as its own links do, without loading it anew; its heading is there then."""
    page.evaluate(
        """path => {
            if (location.pathname === path) return;
            for (const one of document.querySelectorAll("h1")) one.dataset.before = "yes";
            history.pushState(null, "", path);
            dispatchEvent(new PopStateEvent("popstate"));
        }""",
        path,
    )
    page.locator("h1:not([data-before])").first.wait_for(state="attached")


def barriers(page: Page, rules: Sequence[str] = (), tags: Sequence[str] = WCAG) -> list[str]:
    """What WCAG 2.2 A and AA rules of axe find on a page, each with where; or what these rules find.

    A page that was looked at in light need only be asked for `COLOURS` in dark. Without tags, all rules.
    """
    if not page.evaluate("'axe' in window"):
        page.evaluate(AXE_FILE_PATH.read_text(encoding="utf-8"))
    only = {"type": "rule", "values": list(rules)} if rules else {"type": "tag", "values": list(tags)}
    found: list[str] = page.evaluate(CHECK, {"runOnly": only} if rules or tags else {})
    return found
