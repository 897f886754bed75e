"""Run the packet simulation over the modulation range and write the tables of tests/references.

ns3_goodput.csv: stations alike; ns3_unequal.csv: two stations of unequal pace on one air.

    python3.11 -m venv VENV && VENV/bin/pip install ns3==3.44
    python tools/ns3/run_goodput.py VENV   # builds goodput.cc, then runs for up to an hour

Needs a C++20 compiler. Every run is deterministic (ns-3's default seed), so that a run again gives
the same number. Rows already in the file are kept.
"""

from __future__ import annotations

import csv
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

from rehaul.wlan import phy_rate_mbps

HERE = Path(__file__).parent
OUT = HERE.parents[1] / "tests" / "references" / "ns3_goodput.csv"
UNEQUAL_OUT = OUT.with_name("ns3_unequal.csv")
UNEQUAL = ((11, 0), (11, 4), (7, 0), (4, 0))
HEAD = "# ns-3 3.44 (PyPI wheel), own runs by tools/ns3/run_goodput.py; 1 m apart"
LIBRARIES = ("core", "network", "internet", "traffic-control", "mobility", "wifi", "applications")
COLUMNS = (
    "generation width_mhz streams guard_ns mcs transport down stations protect request seconds goodput_mbps"
)

Case = tuple[str, int, int, int, int, str, int, int, int, int]


def build(venv: Path, program: Path) -> Path:
    """Compile goodput.cc against the wheel's headers and libraries."""
    (package,) = venv.glob("lib/python3*/site-packages/ns3")
    library = package / "lib64"
    names = [f"-lns3.44-{name}" for name in LIBRARIES]
    command = ["g++", "-O2", "-std=c++20", "-isystem", str(package / "include"), str(HERE / "goodput.cc")]
    command += ["-o", str(program), f"-L{library}", f"-Wl,-rpath,{library}", *names]
    subprocess.run(command, check=True)
    return program


def measure_unequal(program: Path, mcs: int, slow: int, seconds: float) -> tuple[float, float]:
    """Goodput of the fast and of the slow of two stations, HE80 with two streams, in Mb/s."""
    load = 2 * phy_rate_mbps("HE", mcs, 80, 2, 0.8)
    command = [str(program), f"--mcs={mcs}", f"--slow={slow}", "--stations=2", f"--offered={load}"]
    command.append(f"--seconds={seconds}")
    done = subprocess.run(command, check=True, capture_output=True, text=True)
    total, last = map(float, done.stdout.split())
    return total - last, last


def measure(program: Path, case: Case, seconds: float) -> float:
    """Goodput of one case in Mb/s."""
    generation, width, streams, guard, mcs, transport, down, stations, protect, request = case
    options = {
        "generation": generation,
        "width": width,
        "streams": streams,
        "guard": guard,
        "mcs": mcs,
        "transport": transport,
        "down": down,
        "stations": stations,
        "protect": protect,
        "request": request,
        "seconds": seconds,
        "offered": offered_mbps(case),
        "begin": 1.0 if transport == "tcp" else 0.5,
    }
    command = [str(program)] + [f"--{name}={value}" for name, value in options.items()]
    done = subprocess.run(command, check=True, capture_output=True, text=True)
    return float(done.stdout.split()[0])


def run_again(program: Path, row: dict[str, str]) -> float:
    """Goodput of one row of the table, measured anew."""
    values = [row[name] for name in COLUMNS.split()[:-2]]
    case = tuple(value if value.isalpha() else int(value) for value in values)
    return measure(program, case, float(row["seconds"]))  # type: ignore[arg-type]


def rate_mbps(case: Case) -> float:
    generation, width, streams, guard, mcs = case[:5]
    return phy_rate_mbps(generation, mcs, width, streams, guard / 1000)


def offered_mbps(case: Case) -> float:
    """UDP load: each of several must fill the air for a while by itself, or its queue runs dry."""
    return rate_mbps(case) * (1.3 if case[7] == 1 else 2.5)


def measured_s(case: Case) -> float:
    """Measured time: slow modes hold the air longer per aggregate and need longer for as many."""
    return round(min(8.0, max(2.0 if case[5] == "udp" else 3.0, 1500 / rate_mbps(case))), 1)


def cases() -> Iterator[Case]:
    """What is compared: modes over the modulation range; one, two and five stations."""
    traffic = [("udp", 0, 1, 0, 1), ("udp", 0, 2, 0, 1), ("udp", 0, 5, 0, 1), ("udp", 0, 5, 0, 0)]
    traffic += [("udp", 0, 5, 1, 1), ("tcp", 1, 1, 0, 1)]
    modes = [("HE", 80, 2, 800, mcs) for mcs in range(12)]
    modes += [("VHT", 80, 2, 400, mcs) for mcs in (0, 2, 4, 7, 9)]
    modes += [("HE", 20, 2, 800, mcs) for mcs in (0, 2, 4, 7, 9, 11)]
    modes += [("HT", 20, 1, 400, mcs) for mcs in (0, 2, 4, 7)]
    for mode in modes:
        for kind in traffic:
            yield (*mode, *kind)
    for stations in (2, 5):
        for mcs in (0, 4, 7, 11):
            yield ("HE", 20, 2, 800, mcs, "tcp", 1, stations, 0, 1)
    wide = [("EHT", 80, 2, 800, mcs) for mcs in (0, 7, 13)] + [("HE", 160, 2, 800, mcs) for mcs in (0, 11)]
    for mode in wide:
        for kind in traffic:
            yield (*mode, *kind)


def main(venv: str) -> None:
    program = build(Path(venv), Path(venv) / "goodput")
    done = set()
    if OUT.exists():
        lines = (line for line in OUT.read_text(encoding="utf-8").splitlines() if not line.startswith("#"))
        done = {tuple(row[:10]) for row in csv.reader(lines)}
    else:
        OUT.write_text(HEAD + "\n" + ",".join(COLUMNS.split()) + "\n", encoding="utf-8")
    for case in cases():
        if tuple(map(str, case)) in done:
            continue
        seconds = measured_s(case)
        goodput = measure(program, case, seconds)
        with OUT.open("a", encoding="utf-8") as file:
            file.write(",".join(map(str, (*case, seconds, goodput))) + "\n")
    lines = [HEAD, "mcs,slow_mcs,seconds,fast_mbps,slow_mbps"]
    for mcs, slow in UNEQUAL:
        seconds = 10.0
        fast_mbps, slow_mbps = measure_unequal(program, mcs, slow, seconds)
        lines.append(f"{mcs},{slow},{seconds},{fast_mbps:.3f},{slow_mbps:.3f}")
    UNEQUAL_OUT.write_text("\n".join(lines) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1])
