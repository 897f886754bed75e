"""What most tests of the faces stand on: a browser, and a server of the invented house."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from browsing import SOFTWARE_GL, close_browsers, close_tabs, shared
from playwright.sync_api import Browser
from server import LastingWorker, Running, end_workers, running

from rehaul.house import Job
from rehaul.jobs import demo_job, save_job
from rehaul.web.worker import Worker


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_teardown() -> None:
    """Before the servers of the tabs stop."""
    close_tabs()


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item: pytest.Item, nextitem: pytest.Item | None) -> Iterator[None]:
    """Browsers and workers that tests share end with the last of them in a row."""
    done = yield
    if nextitem is None or not nextitem.get_closest_marker("browser"):
        close_browsers()
        end_workers()
    return done


@pytest.fixture(scope="module")
def browser() -> Browser:
    return shared()


@pytest.fixture(scope="module")
def drawing_browser() -> Browser:
    """One that draws in three dimensions, too."""
    return shared(*SOFTWARE_GL)


@pytest.fixture
def server(tmp_path: Path, request: pytest.FixtureRequest) -> Iterator[Running]:
    """A server of its own for each test: none sees what another wrote down."""
    save_job(tmp_path / "demo.rehaul.json", demo_job())
    worker = LastingWorker if request.node.get_closest_marker("browser") else Worker
    with running(tmp_path, worker=worker) as found:
        yield found


@pytest.fixture(scope="module")
def small_server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    """One of a job with nothing in it for all tests of a module."""
    folder = tmp_path_factory.mktemp("jobs")
    save_job(folder / "small.rehaul.json", Job(id="small", title="Small"))
    with running(folder) as found:
        yield found


@pytest.fixture(scope="module")
def demo_server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    """One of the invented house for the tests of a module that mostly look."""
    folder = tmp_path_factory.mktemp("jobs")
    save_job(folder / "demo.rehaul.json", demo_job())
    with running(folder, worker=LastingWorker) as found:
        yield found
