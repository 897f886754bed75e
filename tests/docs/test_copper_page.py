"""The table of verdicts in docs/copper.md is the one the program gives today."""

from __future__ import annotations

import importlib.util
from pathlib import Path

ROOT = Path(__file__).parents[2]


def test_the_table_of_verdicts_is_in_step() -> None:
    path = ROOT / "benchmarks" / "copper_verdicts.py"
    spec = importlib.util.spec_from_file_location("copper_verdicts", path)
    assert spec and spec.loader
    benchmark = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(benchmark)
    assert benchmark.table() in (ROOT / "docs" / "copper.md").read_text(encoding="utf-8")
