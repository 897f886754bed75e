"""A hundred thousand hostile inputs, counted: the command line and every reader of a stranger's file (Linux).

    python tools/count_hostile.py 20            rounds of 5,000, a table after each
    python tools/count_hostile.py 1 --seed 7    another hand

Of files that are read apart one in six goes through the door too, and what comes out must be what the reader
itself said; at the command line every file that `rehaul read` is given does. The door's readers are copies of
one process (tests/door_in_a_copy.py), so that a round takes minutes. What was not survived lies in --keep.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from dataclasses import dataclass, fields
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))
AT_THE_COMMAND_LINE = 600
INPUTS = {"ifc": 300, "dxf": 700, "room list": 1300, "readings": 300, "job": 800, "picture": 550, "pdf": 250,
          "log": 100, "edit": 100}  # fmt: skip
APART = ("ifc", "dxf", "room list", "job", "picture", "pdf")
DOOR_EVERY = 6
LONGEST_S = 10.0
MOST_BYTES = 1 << 30


@dataclass
class Row:
    """One reader, or one way to the command line."""

    inputs: int = 0
    done: int = 0  # read, or done
    refused: int = 0
    memory: int = 0
    tracebacks: int = 0
    wordless: int = 0  # ended without a sentence
    slow: int = 0
    large: int = 0
    nonsense: int = 0
    door: int = 0  # of them through the door
    door_bad: int = 0  # there: no sentence, or another answer than the reader's own
    slowest_s: float = 0.0
    most_mb: float = 0.0


class Count:
    """All that was counted so far."""

    def __init__(self, keep: Path) -> None:
        self.rows: dict[str, Row] = {}
        self.keep = keep
        self.faults: list[str] = []

    def row(self, name: str) -> Row:
        return self.rows.setdefault(name, Row())

    def fault(self, words: str, data: bytes, suffix: str) -> None:
        self.keep.mkdir(parents=True, exist_ok=True)
        name = f"{len(self.faults):04d}{suffix}"
        (self.keep / name).write_bytes(data)
        self.faults.append(f"{name}: {words}")
        print(f"    {self.faults[-1]}", flush=True)

    def table(self) -> str:
        names = [field.name for field in fields(Row)]
        total = Row()
        for row in self.rows.values():
            for name in names:
                both = (getattr(total, name), getattr(row, name))
                setattr(total, name, max(both) if name in ("slowest_s", "most_mb") else sum(both))
        lines = ["| | " + " | ".join(names) + " |", "|---" * (len(names) + 1) + "|"]
        for name, row in [*self.rows.items(), ("all", total)]:
            cells = [getattr(row, each) for each in names]
            shown = [f"{cell:,}" if isinstance(cell, int) else f"{cell:.1f}" for cell in cells]
            lines.append(f"| {name} | " + " | ".join(shown) + " |")
        return "\n".join(lines)


def count_reader(count: Count, reader: str, seed: int, folder: Path) -> None:
    from fuzzing import fuzz

    row, turns = count.row(reader), iter(range(10**9))

    def also(suffix: str, data: bytes, what: str) -> None:
        kind = what.split(":")[0]
        if kind in ("traceback", "nonsense", "slow", "crash"):
            count.fault(f"{reader}: {what}", data, suffix)
        if reader in APART and (next(turns) % DOOR_EVERY == 0 or kind == "crash"):
            row.door += 1
            if words := through_the_door(folder / f"door{suffix}", data, what):
                row.door_bad += 1
                count.fault(f"{reader}, the door: {words} (inside: {what})", data, suffix)

    tally = fuzz(reader, inputs=INPUTS[reader], seed=seed, also=also)
    of = {"done": "read", "refused": "refused", "memory": "memory", "tracebacks": "traceback",
          "wordless": "crash", "nonsense": "nonsense"}  # fmt: skip
    row.inputs += tally.inputs
    for what, times in tally.outcomes.items():
        for name, kind in of.items():
            if what.split(":")[0] == kind:
                setattr(row, name, getattr(row, name) + times)
    row.slow += tally.slow
    row.large += tally.large
    row.slowest_s = max(row.slowest_s, tally.slowest_s)
    row.most_mb = max(row.most_mb, tally.most_bytes / 1e6)


def through_the_door(path: Path, data: bytes, inside: str) -> str:
    """What is wrong with the door's answer; empty where nothing is."""
    from fuzzed_readers import HOUSES
    from rehaul.errors import Refusal
    from rehaul.house.readers import read_apart
    from rehaul.web.pictures import picture_apart

    path.write_bytes(data)
    kind = inside.split(":")[0]
    try:
        if path.suffix[1:] in HOUSES:
            read_apart(path)
        else:
            picture_apart(path, 1, 512)
    except Refusal as refusal:
        words = f"{refusal}"
        if not (refusal.problem and refusal.remedy) or "\n" in words:
            return f"not one sentence: {words[:200]}"
        if kind == "refused" and inside != f"refused: {refusal.problem[:60]}":
            return f"another sentence: {words[:200]}"
        return f"refused what was read: {words[:200]}" if kind == "read" else ""
    except Exception as fault:
        return f"traceback: {fault!r}"
    return f"read what was {kind}" if kind in ("refused", "crash", "slow") else ""


def count_commands(count: Count, first: int, folder: Path) -> None:
    from hostile_inputs import Bench

    bench = Bench(folder)
    for number in range(first, first + AT_THE_COMMAND_LINE):
        Path("/proc/self/clear_refs").write_text("5")
        began_s = time.monotonic()
        bench.run(number)
        took_s, took_mb = time.monotonic() - began_s, peak_bytes() / 1e6
        name = list(bench.readers)[number % len(bench.readers)]
        row = count.row(f"command line: {name}")
        row.slowest_s, row.most_mb = max(row.slowest_s, took_s), max(row.most_mb, took_mb)
        row.slow += took_s > LONGEST_S
        row.large += took_mb * 1e6 > MOST_BYTES
    for name, tally in bench.tally.items():
        row = count.row(f"command line: {name}")
        row.inputs += tally.inputs
        row.done += tally.accepted
        row.refused += tally.inputs - tally.accepted
        for words in tally.faults:
            stored = "was stored" in words or "does not open" in words
            traceback = "Traceback" in words or "exit code" in words
            row.nonsense += stored
            row.tracebacks += traceback
            row.wordless += not stored and not traceback
            count.fault(words, b"", ".txt")


def peak_bytes() -> int:
    lines = Path("/proc/self/status").read_text().splitlines()
    return next(int(line.split()[1]) * 1024 for line in lines if line.startswith("VmHWM:"))


def main() -> None:
    said = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    said.add_argument("rounds", type=int)
    said.add_argument("--seed", type=int, default=1)
    said.add_argument("--keep", type=Path, default=Path("out/hostile"))
    asked = said.parse_args()

    import pytest

    import door_in_a_copy
    from rehaul.house import readers

    door_in_a_copy.use(pytest.MonkeyPatch())
    plain, doors = readers.read_apart, iter(range(1, 10**9))
    gone_through = [0]

    def counted(path: Path):  # type: ignore[no-untyped-def]
        gone_through[0] = next(doors)
        return plain(path)

    count, began_s = Count(asked.keep), time.monotonic()
    with tempfile.TemporaryDirectory(prefix="hostile-") as name:
        for number in range(asked.rounds):
            folder = Path(name) / "cli"
            folder.mkdir(exist_ok=True)
            readers.read_apart = counted  # type: ignore[assignment]
            count_commands(count, (asked.seed * 1000 + number) * AT_THE_COMMAND_LINE, folder)
            readers.read_apart = plain
            for reader in INPUTS:
                count_reader(count, reader, asked.seed * 1000 + number, Path(name))
            took_s = time.monotonic() - began_s
            print(f"round {number + 1}, seed {asked.seed}, after {took_s:.0f} s; {gone_through[0]:,} files "
                  f"of the command line through the door; {len(count.faults)} to look at")  # fmt: skip
            print(count.table(), flush=True)


if __name__ == "__main__":
    main()
