"""The page on wireless rates: its tables are those of the runs, and its numbers those of the code."""

from __future__ import annotations

import importlib.util
from pathlib import Path
from types import ModuleType

from rehaul.facts.delivered import delivered_shares
from rehaul.facts.wlan_numbers import wlan_number
from rehaul.wlan import receiver_sd_db, usual_share

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


def test_the_delivered_share_is_that_of_the_table() -> None:
    for band in ("2.4", "5", "6"):
        for row in delivered_shares(band):  # type: ignore[arg-type]
            said = f"{row.ln_mean:g}".replace("-", "−")
            line = next(line for line in PAGE.splitlines() if line.startswith(f"| {row.kind}"))
            assert said in line and f"| {row.ln_sd:g} |" in line, row.kind
    usual = usual_share("5")
    for said in (
        f"×{usual.median:.2f} at 5 and 6 GHz, ×{usual_share('2.4').median:.2f} at 2.4 GHz",
        f"ln sd {usual.sd:.2f}, of which {usual.shared_sd:.2f} is shared",
        f"more than {wlan_number('delivered_most'):g} of what",
    ):
        assert said in PAGE, said
