"""Prints the table of verdicts by cable, length and fault, and the time a thousand uncertain runs take.

Run: python benchmarks/copper_verdicts.py
The peer of the timing is the direct margin, computed for every case of every run instead of interpolated.
"""

from __future__ import annotations

import time
from collections.abc import Iterator

from rehaul.copper import RunFacts, margin_db, run_line, verdicts
from rehaul.facts.cables import PairCableKind, cables
from rehaul.facts.ethernet import ETHERNETS

KINDS: tuple[PairCableKind, ...] = ("cat3", "cat5", "cat5e", "cat6", "quad")
LENGTHS_M = (5.0, 15.0, 30.0, 60.0)
MARKS = {"likely": "+", "try it": "?", "no": "-"}


def faults(kind: PairCableKind, length_m: float) -> Iterator[tuple[str, RunFacts]]:
    """The same run, clean and with each fault; lengths known to 15 %, ends not yet tested."""
    length = (0.85 * length_m, length_m, 1.15 * length_m)
    pairs = cables()[kind].pairs
    yield "clean", RunFacts(kind, pairs, length, "home run", state="dead")
    yield "spliced", RunFacts(kind, pairs, length, "spliced", splices=2, state="dead")
    for tap_m in (2.0, 10.0):
        yield f"{tap_m:g} m tap", RunFacts(kind, pairs, length, "tap", taps_m=(tap_m,), state="dead")


def table() -> str:
    """Verdicts as a Markdown table: one mark for each rate from 10 Mb/s to 10 Gb/s."""
    names = [name for name, _ in faults("cat3", 5.0)]
    lines = ["| cable | length | " + " | ".join(names) + " |", "|---" * (2 + len(names)) + "|"]
    for kind in KINDS:
        for length_m in LENGTHS_M:
            cells = ["".join(MARKS[v.band] for v in verdicts(run)) for _, run in faults(kind, length_m)]
            lines.append(f"| {kind} | {length_m:g} m | " + " | ".join(f"`{cell}`" for cell in cells) + " |")
    return "\n".join(lines)


def uncertain_runs(count: int) -> list[RunFacts]:
    """Different runs of which the kind, the pairs and the topology are unknown."""
    return [RunFacts(length_m=(5.0, 10.0 + 40.0 * i / count, 60.0)) for i in range(count)]


def main() -> None:
    """Print the timings, then the table."""
    first_s, first_cpu_s = timed([RunFacts(length_m=(1.0, 2.0, 3.0))])
    more_s, more_cpu_s = timed(uncertain_runs(1000))
    started = time.perf_counter()
    for ethernet in ETHERNETS:
        margin_db(run_line("cat5e", 33.0, taps_m=(3.0,)), ethernet)
    direct_s = (time.perf_counter() - started) * 3 * 4 * 4 * 1000  # lengths, kinds and taps of each run
    print(f"first run, tables built: {first_s:.2f} s ({first_cpu_s:.2f} s of processor)")
    print(f"1000 uncertain runs after it: {more_s:.2f} s ({more_cpu_s:.2f} s of processor)")
    together = f"{first_s + more_s:.2f} s ({first_cpu_s + more_cpu_s:.2f} s of processor)"
    print(f"together: {together}, goal 2 s")
    print(f"direct margins instead: {direct_s:.0f} s, {direct_s / (first_s + more_s):.0f} times as long")
    print("\nmarks for 10, 100, 1000, 2500, 5000, 10000 Mb/s: + likely, ? try it, - no\n")
    print(table())


def timed(runs: list[RunFacts]) -> tuple[float, float]:
    """Seconds by the clock and of processor that the verdicts on some runs take."""
    clock_s, processor_s = time.perf_counter(), time.process_time()
    for run in runs:
        verdicts(run)
    return time.perf_counter() - clock_s, time.process_time() - processor_s


if __name__ == "__main__":
    main()
