"""The tables in docs/copper.md are those the program gives today."""

from __future__ import annotations

import importlib.util
from pathlib import Path

from rehaul.copper import SMALL, USUAL, margin_db, run_line
from rehaul.facts.ethernet import Ethernet

ROOT = Path(__file__).parents[2]


def test_the_table_of_verdicts_is_in_step() -> None:
    path = ROOT / "benchmarks" / "copper_verdicts.py"
    spec = importlib.util.spec_from_file_location("copper_verdicts", path)
    assert spec and spec.loader
    benchmark = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(benchmark)
    assert benchmark.table() in (ROOT / "docs" / "copper.md").read_text(encoding="utf-8")


def test_the_margins_of_30_m_are_in_step() -> None:
    page = (ROOT / "docs" / "copper.md").read_text(encoding="utf-8")
    rates: tuple[Ethernet, ...] = ("100BASE-TX", "1000BASE-T", "2.5GBASE-T")
    for name, taps_m in (("none", ()), ("2 m", (2.0,)), ("10 m", (10.0,))):
        line = run_line("cat5e", 30.0, taps_m=taps_m)
        cells = [
            ", ".join(f"{margin_db(line, rate, port):.0f}" for port in (USUAL, SMALL, None)) for rate in rates
        ]
        assert f"| {name} | {' | '.join(cells)} |" in page
