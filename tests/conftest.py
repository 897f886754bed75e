"""Shared fixtures: where the outside data lies, and a skip that says so where it does not."""

from __future__ import annotations

import gc
import os
import sys
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from counts import LONG, counted

ROOT = Path(__file__).parents[1]
SHARED_DATA = ROOT.parent / "shared" / "data"
sys.path.insert(0, str(ROOT / "tests" / "published"))
# Two workers share the cores: threads of the linear algebra that wait for work there only burn time.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
# A law that fails because the machine is busy says nothing: time is measured in benchmarks/ only.
settings.register_profile(
    "untimed",
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
    max_examples=counted(40, 100),  # other ones in each run
)
settings.load_profile("untimed")
os.environ.setdefault("REHAUL_LANGUAGE", "en")  # whatever the machine speaks
gc.set_threshold(50_000, 50, 50)  # thousands of tests stay in memory: walking them all again costs a tenth


@pytest.fixture(scope="session", autouse=True)
def _plans_of_this_run(tmp_path_factory: pytest.TempPathFactory) -> None:
    """Where `plans_once` keeps them: one folder for all workers of this run, and of no other."""
    base = tmp_path_factory.getbasetemp()
    folder = (base.parent if "PYTEST_XDIST_WORKER" in os.environ else base) / "plans"
    folder.mkdir(exist_ok=True)
    os.environ["REHAUL_PLANS_OF_THIS_RUN"] = str(folder)


@pytest.fixture
def plans_put_ready(monkeypatch: pytest.MonkeyPatch) -> None:
    """For what asks for plans but is not about making them: `plan` and `weigh` give those of this run."""
    import plans_once
    import rehaul.planning

    monkeypatch.setattr(rehaul.planning, "plan", plans_once.made_plan)
    monkeypatch.setattr(rehaul.planning, "weigh", plans_once.made_weighed)


@pytest.fixture
def shared_data() -> Path:
    """The folder of outside data; the test skips, saying so, where it is absent."""
    if not SHARED_DATA.is_dir():
        pytest.skip(f"outside data is absent: {SHARED_DATA}")
    return SHARED_DATA


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """What takes many minutes waits to be asked for."""
    for item in items:
        if item.get_closest_marker("long") and not LONG:
            item.add_marker(pytest.mark.skip(reason="takes many minutes; set REHAUL_LONG=1 for it"))


def pytest_collection_finish() -> None:
    """Modules and tests stay to the end: no search for garbage walks them again."""
    gc.collect()
    gc.freeze()
