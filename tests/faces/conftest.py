"""What most tests of the faces stand on: a browser, and a server of the invented house."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from browsing import chromium
from playwright.sync_api import Browser
from server import Running, running

from rehaul.jobs import demo_job, save_job


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as found:
        yield found


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Running]:
    """A server of its own for each test: none sees what another wrote down."""
    save_job(tmp_path / "demo.rehaul.json", demo_job())
    with running(tmp_path) as found:
        yield found
