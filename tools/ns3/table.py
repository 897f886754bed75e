"""The tables of docs/wlan.md that compare the closed forms with the packet simulation.

python tools/ns3/table.py        # writes them between the marks in docs/wlan.md
"""

from __future__ import annotations

import csv
import sys
from pathlib import Path

import numpy as np

from rehaul.wlan import Generation, Mode

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT / "tests"))

from link_rates import alone_mbps, contending_mbps  # noqa: E402

RUNS = ROOT / "tests" / "references" / "ns3_goodput.csv"
PAGE = ROOT / "docs" / "wlan.md"
BEGIN, END = "<!-- table of runs: tools/ns3/table.py -->", "<!-- end of table -->"

Row = dict[str, str]
KINDS = {
    "UDP": ("udp", "1", "0", "1"),
    "TCP": ("tcp", "1", "0", "1"),
    "2 up": ("udp", "2", "0", "1"),
    "5 up": ("udp", "5", "0", "1"),
    "5 up, no request": ("udp", "5", "0", "0"),
    "5 up, RTS": ("udp", "5", "1", "1"),
}


def rows() -> list[Row]:
    """The committed runs."""
    lines = RUNS.read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def mode_of(row: Row) -> Mode:
    """How the stations of a run send."""
    return Mode(
        Generation(row["generation"]),
        int(row["mcs"]),
        int(row["width_mhz"]),
        int(row["streams"]),
        int(row["guard_ns"]) / 1000,
    )


def closed_form_mbps(row: Row) -> float:
    """What the closed form says of a run. TCP to several: as to one, since one side sends the data."""
    if row["transport"] == "tcp":
        return alone_mbps(mode_of(row), "tcp")
    return contending_mbps(
        mode_of(row), int(row["stations"]), protect=row["protect"] == "1", asks_again=row["request"] == "1"
    )


def error_pct(row: Row) -> float:
    """Closed form above the run [%]."""
    return 100 * (closed_form_mbps(row) / float(row["goodput_mbps"]) - 1)


def tables() -> str:
    """HE80 step by step, then mean and worst error of each kind and generation."""
    every = rows()
    lines = ["| MCS | PHY | " + " | ".join(KINDS) + " |", "|---" * (len(KINDS) + 2) + "|"]
    he80 = [row for row in every if (row["generation"], row["width_mhz"]) == ("HE", "80")]
    for mcs in range(12):
        at_step = [row for row in he80 if row["mcs"] == str(mcs)]
        cells = [_cell(_of_kind(at_step, kind)) for kind in KINDS.values()]
        lines.append(f"| {mcs} | {mode_of(at_step[0]).rate_mbps:.1f} | " + " | ".join(cells) + " |")
    lines += ["", "| air | runs | " + " | ".join(KINDS) + " |", "|---" * (len(KINDS) + 2) + "|"]
    airs = list(dict.fromkeys((row["generation"], row["width_mhz"], row["streams"]) for row in every))
    for air in airs:
        mine = [row for row in every if (row["generation"], row["width_mhz"], row["streams"]) == air]
        cells = [_spread(_of_kind(mine, kind)) for kind in KINDS.values()]
        lines.append(f"| {air[0]}{air[1]}, {air[2]}×{air[2]} | {len(mine)} | " + " | ".join(cells) + " |")
    several = [row for row in every if row["transport"] == "tcp" and row["stations"] != "1"]
    lines += ["", f"TCP down to two and five stations (HE20): {_spread(several)} %, mean / worst."]
    errors = np.abs([error_pct(row) for row in every])
    lines.append(f"All {len(every)} runs: mean error {errors.mean():.1f} %, worst {errors.max():.1f} %.")
    return "\n".join(lines)


def _of_kind(some: list[Row], kind: tuple[str, ...]) -> list[Row]:
    return [r for r in some if (r["transport"], r["stations"], r["protect"], r["request"]) == kind]


def _cell(some: list[Row]) -> str:
    return " ".join(f"{float(row['goodput_mbps']):.1f} / {closed_form_mbps(row):.1f}" for row in some)


def _spread(some: list[Row]) -> str:
    if not some:
        return ""
    errors = np.array([error_pct(row) for row in some])
    return f"{errors.mean():+.1f} / {errors[np.abs(errors).argmax()]:+.1f}"


def main() -> None:
    before, rest = PAGE.read_text(encoding="utf-8").split(BEGIN)
    after = rest.split(END)[1]
    PAGE.write_text(f"{before}{BEGIN}\n{tables()}\n{END}{after}", encoding="utf-8")


if __name__ == "__main__":
    main()
