"""The page on wireless rates: its tables are those of the runs, and its numbers those of the code."""

from __future__ import annotations

import importlib.util
from pathlib import Path
from types import ModuleType

from rehaul.facts.wlan_numbers import wlan_number
from rehaul.wlan import receiver_sd_db

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs" / "wlan.md").read_text(encoding="utf-8")


def tool() -> ModuleType:
    spec = importlib.util.spec_from_file_location("table", ROOT / "tools" / "ns3" / "table.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_tables_are_those_of_the_runs() -> None:
    assert tool().tables() in PAGE


def test_numbers_are_those_of_the_tables() -> None:
    for said in (
        f"{receiver_sd_db():.1f} dB of standard deviation",
        f"swing of {wlan_number('power_wander_db'):g} dB",
        f"{wlan_number('tcp_data_per_turn'):g} data aggregates",
        f"falls below −{-wlan_number('roam_trigger_dbm'):g} dBm",
        f"changes for {wlan_number('roam_gain_db'):g} dB more",
        f"{wlan_number('power_halving_db'):g} dB a halving",
    ):
        assert said in PAGE, said
