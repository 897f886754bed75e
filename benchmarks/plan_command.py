"""The whole main job as a user starts it: seconds and memory of `rehaul plan` and `papers` on the demo.

Seconds of a clock, and of the processor with all threads; and what part of the plan's is its start: the
interpreter with all modules that it imports, and machine code that is loaded.

    python benchmarks/plan_command.py

Warm: what is compiled is kept from a run before, Python's own byte code too. Nothing general does this job;
so that the figures of two machines can be set side by side, each is also printed as a multiple of a plain
loop of Python, timed in the same run.
"""

from __future__ import annotations

import json
import os
import re
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

RUNS = 5
ADDITIONS = 10_000_000
WITH_BYTE_CODE = {name: word for name, word in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
START = """
import contextlib, importlib, json, sys, time
for name in json.loads(sys.argv[1]):
    with contextlib.suppress(ImportError):  # what was looked for and is not there
        importlib.import_module(name)
imported = time.process_time()
from rehaul.kernels.machine import entries_of
ready = [package for package in ("exact", "radio") if entries_of(package)]
print(json.dumps([imported, time.process_time() - imported, ready]))
"""


def seconds_and_mb(command: list[str]) -> tuple[float, float, float]:
    """Wall seconds of a command, seconds of the processor, and the most memory that it held [MB]."""
    start = time.perf_counter()
    child = subprocess.Popen(
        command, env=WITH_BYTE_CODE, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )
    _, status, usage = os.wait4(child.pid, 0)
    child.returncode = os.waitstatus_to_exitcode(status)
    if child.returncode:
        sys.exit(f"{' '.join(command)} ended with {child.returncode}")
    of_unit = 1e6 if sys.platform == "darwin" else 1e3
    return time.perf_counter() - start, usage.ru_utime + usage.ru_stime, usage.ru_maxrss / of_unit


def start_s(words: list[str]) -> tuple[float, float, list[str]]:
    """Processor seconds until all that a verb imports is there, of loading machine code, and what of."""
    traced = subprocess.run(
        [sys.executable, "-X", "importtime", *words],
        env=WITH_BYTE_CODE,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        text=True,
        check=True,
    )
    names = re.findall(r"^import time: +\d+ \| +\d+ \| +(\S+)$", traced.stderr, re.MULTILINE)
    names = [name for name in names if "__main__" not in name and not re.match("_|llvmlite", name)]
    told = subprocess.run(
        [sys.executable, "-c", START, json.dumps(names)],
        env=WITH_BYTE_CODE,
        stdout=subprocess.PIPE,
        text=True,
        check=True,
    )
    imported_s, loaded_s, ready = json.loads(told.stdout)
    return imported_s, loaded_s, ready


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
        for words in (["--help"], ["plan", job], ["papers", job, "--out", folder]):
            rows = [seconds_and_mb([*rehaul, *words]) for _ in range(RUNS)]
            median_s, used_s, most_mb = (
                statistics.median(s for s, _, _ in rows),
                statistics.median(s for _, s, _ in rows),
                max(mb for _, _, mb in rows),
            )
            print(
                f"rehaul {words[0]}: {median_s:.2f} s ({min(s for s, _, _ in rows):.2f} to "
                f"{max(s for s, _, _ in rows):.2f}), {median_s / yard_s:.1f} loops; {used_s:.2f} s of the "
                f"processor; at most {most_mb:.0f} MB"
            )
        starts = [start_s([*rehaul[1:], "plan", job]) for _ in range(RUNS)]
        print(
            f"of a plan, seconds of the processor: {statistics.median(s for s, _, _ in starts):.2f} until "
            f"all is imported, {statistics.median(s for _, s, _ in starts):.3f} for the machine code of "
            f"{' and '.join(starts[0][2]) or 'nothing: it is not ready'}"
        )


if __name__ == "__main__":
    main()
