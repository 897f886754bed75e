"""The closed forms against ns-3: the committed runs everywhere, and a few runs again where it is built.

The CSV is written by tools/ns3/run_goodput.py. Point NS3_GOODPUT at the program it builds to run a
few of its rows again (same program, same seed, same number).
"""

from __future__ import annotations

import csv
import importlib.util
import os
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest

from link_rates import contending_each_mbps
from rehaul.wlan import Generation, Mode

ROOT = Path(__file__).parents[2]
Row = dict[str, str]


def tool(name: str) -> ModuleType:
    """A tool that wrote the runs or reads them."""
    spec = importlib.util.spec_from_file_location(name, ROOT / "tools" / "ns3" / f"{name}.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


TABLE = tool("table")
ROWS: list[Row] = TABLE.rows()


def name(row: Row) -> str:
    return "-".join(
        row[key] for key in ("generation", "width_mhz", "mcs", "transport", "stations", "protect")
    )


@pytest.mark.parametrize("row", ROWS, ids=name)
def test_within_ten_percent_everywhere(row: Row) -> None:
    assert abs(TABLE.error_pct(row)) <= 10


@pytest.mark.parametrize(
    ("transport", "stations", "protect", "mean_pct"),
    [("udp", "1", "0", 1.0), ("udp", "2", "0", 1.5), ("udp", "5", "0", 2.0), ("udp", "5", "1", 1.0)],
)
def test_mean_error_by_kind(transport: str, stations: str, protect: str, mean_pct: float) -> None:
    chosen = [
        TABLE.error_pct(row)
        for row in ROWS
        if (row["transport"], row["stations"], row["protect"]) == (transport, stations, protect)
    ]
    assert len(chosen) >= 30
    assert np.mean(np.abs(chosen)) <= mean_pct


def test_runs_cover_the_modulation_range() -> None:
    assert {int(row["mcs"]) for row in ROWS if row["generation"] == "HE"} == set(range(12))
    assert {row["stations"] for row in ROWS} == {"1", "2", "5"}


def unequal() -> list[Row]:
    lines = Path(__file__).with_name("ns3_unequal.csv").read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


@pytest.mark.parametrize("row", unequal(), ids=lambda row: f"{row['mcs']}-{row['slow_mcs']}")
def test_a_slow_station_slows_a_fast_one_as_simulated(row: Row) -> None:
    pair = tuple(Mode(Generation.HE, int(row[key]), 80, 2, 0.8) for key in ("mcs", "slow_mcs"))
    fast_mbps, slow_mbps = contending_each_mbps(pair)
    assert fast_mbps == pytest.approx(float(row["fast_mbps"]), rel=0.06)
    assert slow_mbps == pytest.approx(float(row["slow_mbps"]), rel=0.06)


@pytest.mark.slow
@pytest.mark.parametrize("place", [0, 1, 4])
def test_a_run_again_gives_the_same_number(place: int) -> None:
    program = Path(os.environ.get("NS3_GOODPUT", ROOT.parent / "venv-ns3" / "goodput"))
    if not program.is_file():
        pytest.skip("the packet simulator is not built; see tools/ns3/run_goodput.py")
    row = ROWS[place]
    again = tool("run_goodput").run_again(program, row)
    assert abs(again / float(row["goodput_mbps"]) - 1) <= 0.001
