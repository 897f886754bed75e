"""The whole main job as a user starts it: seconds and memory of `rehaul plan` and `papers` on the demo.

    python benchmarks/plan_command.py

Warm: what is compiled is kept from a run before, Python's own byte code too. Nothing general does this job;
so that the figures of two machines can be set side by side, each is also printed as a multiple of a plain
loop of Python, timed in the same run.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

RUNS = 5
ADDITIONS = 10_000_000
WITH_BYTE_CODE = {name: word for name, word in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}


def seconds_and_mb(command: list[str]) -> tuple[float, float]:
    """Wall seconds of a command, and the most memory that it held [MB]."""
    start = time.perf_counter()
    child = subprocess.Popen(
        command, env=WITH_BYTE_CODE, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )
    _, status, usage = os.wait4(child.pid, 0)
    child.returncode = os.waitstatus_to_exitcode(status)
    if child.returncode:
        sys.exit(f"{' '.join(command)} ended with {child.returncode}")
    of_unit = 1e6 if sys.platform == "darwin" else 1e3
    return time.perf_counter() - start, usage.ru_maxrss / of_unit


def yardstick_s() -> float:
    """Seconds of the plain loop."""
    start = time.perf_counter()
    total = 0
    for number in range(ADDITIONS):
        total += number
    return time.perf_counter() - start


def main() -> None:
    rehaul = [sys.executable, "-m", "rehaul"]
    with tempfile.TemporaryDirectory() as folder:
        seconds_and_mb([*rehaul, "demo", "--out", folder])  # compiles what is not compiled yet
        job = str(next(Path(folder).glob("*.rehaul.json")))
        yard_s = min(yardstick_s() for _ in range(3))
        print(f"a loop of {ADDITIONS:,} additions: {yard_s:.2f} s")
        for words in (["plan", job], ["papers", job, "--out", folder]):
            rows = [seconds_and_mb([*rehaul, *words]) for _ in range(RUNS)]
            median_s, most_mb = statistics.median(s for s, _ in rows), max(mb for _, mb in rows)
            print(
                f"rehaul {words[0]}: {median_s:.1f} s ({min(s for s, _ in rows):.1f} to "
                f"{max(s for s, _ in rows):.1f}), {median_s / yard_s:.1f} loops; at most {most_mb:.0f} MB"
            )


if __name__ == "__main__":
    main()
