"""Channel plans of whole houses against a general constraint solver on the same costs."""

from __future__ import annotations

import importlib.util
from pathlib import Path
from types import ModuleType

import pytest

from rehaul.wlan import allowed_channels, assign_channels


def benchmark() -> ModuleType:
    path = Path(__file__).parents[2] / "benchmarks" / "wlan_channels.py"
    spec = importlib.util.spec_from_file_location("wlan_channels", path)
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


MODEL = benchmark()


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize(("country", "band", "widths"), MODEL.CASES)
def test_the_general_solver_finds_nothing_better(
    country: str, band: str, widths: tuple[int, ...], seed: int
) -> None:
    heard = MODEL.house(6, seed)
    channels = allowed_channels(country, band, widths, dfs=False)  # type: ignore[arg-type]
    plan = assign_channels(heard, channels)
    if band == "2.4":
        channels = tuple(channel for channel in channels if channel.number in (1, 6, 11))
    proved, cost, _ = MODEL.general(heard, channels)
    assert plan.proved and proved
    ours = plan.overlap * MODEL.SCALE + plan.doublings_lost
    assert ours == pytest.approx(cost, abs=1e-4)
