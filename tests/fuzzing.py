"""Readers fed with spoiled files: what each input led to, how long it took and how much memory.

Inputs run in copies of a process that holds the readers and nothing else (a test run that has grown is not
counted as their memory), many to one, each of which dies of the first that kills it. An input that makes a
reader say something new is kept and spoiled further; that is all the guidance there is.
"""

from __future__ import annotations

import faulthandler
import multiprocessing
import os
import re
import resource
import signal
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from multiprocessing.connection import Connection
from pathlib import Path
from random import Random

from fuzzed_readers import outcome, seeds

LOADED = ("pypdfium2", "rehaul.house.readers.apart", "rehaul.house.readers.dxf", "rehaul.house.readers.ifc",
          "rehaul.web.pictures", "fuzzed_readers")  # fmt: skip
LONGEST_S = 10.0
MOST_BYTES = 1 << 30
LARGEST_INPUT = 60_000
SURVIVED = ("read", "refused")
NUMBERS = (
    b"0",
    b"-1",
    b"1e308",
    b"nan",
    b"99999999999",
    b"2147483647",
    b"-2147483648",
    b"65535",
    b"1e-9",
    b"$",
    b"*",
)
BYTES = (b"\0", b"\xff", b"\x7f", b"\x80", b"\xff\xff\xff\xff", b"\x7f\xff\xff\xff", b"\0\0\0\0", b"\0\0\0\1")
_NUMBER = re.compile(rb"-?\d+(?:\.\d*)?")


@dataclass
class Tally:
    """What came of the inputs of one reader."""

    inputs: int = 0
    outcomes: Counter[str] = field(default_factory=Counter)
    slow: int = 0  # over ten seconds, and ended
    large: int = 0  # over a gigabyte
    slowest_s: float = 0.0
    most_bytes: int = 0
    kept: list[tuple[str, bytes]] = field(default_factory=list)  # inputs that were not survived, and how
    said: set[str] = field(default_factory=set)

    def row(self) -> str:
        faults = Counter(what.split(":")[0] for what in self.outcomes.elements())
        return (
            f"{self.inputs} inputs: {faults['read']} read, {faults['refused']} refused, "
            f"{faults['memory']} too large, {faults['traceback']} tracebacks, {faults['crash']} crashes, "
            f"{self.slow} over 10 s, {self.large} over 1 GiB, {faults['nonsense']} nonsense; "
            f"slowest {self.slowest_s:.2f} s, at most {self.most_bytes / 1e6:.0f} MB"
        )


def spoiled(data: bytes, others: list[bytes], dice: Random) -> bytes:
    """The data with one to four things wrong."""
    for _ in range(dice.choice((1, 1, 2, 4))):
        at = dice.randrange(len(data) + 1)
        length = min(dice.choice((1, 2, 8, 64, 500)), len(data) - at)
        kind = dice.randrange(8)
        if kind == 0:
            data = data[:at] + data[at + length :]
        elif kind == 1:
            data = data[:at] + data[at : at + length] * dice.choice((2, 3, 40)) + data[at + length :]
        elif kind == 2:
            piece = dice.choice(BYTES)
            data = data[:at] + piece + data[at + len(piece) :]
        elif kind == 3 and data:
            at = min(at, len(data) - 1)
            data = data[:at] + bytes([data[at] ^ 1 << dice.randrange(8)]) + data[at + 1 :]
        elif kind in (4, 5):
            numbers = list(_NUMBER.finditer(data, at, at + 2000))
            if numbers:
                found = dice.choice(numbers)
                new = dice.choice((*NUMBERS, b"%d" % dice.randrange(200)))
                data = data[: found.start()] + new + data[found.end() :]
        elif kind == 6:
            other = dice.choice(others)
            start = dice.randrange(len(other) + 1)
            data = data[:at] + other[start : start + dice.choice((20, 200))] + data[at:]
        else:
            lines = data.split(b"\n")
            one, two = dice.randrange(len(lines)), dice.randrange(len(lines))
            lines[one], lines[two] = lines[two], lines[one]
            data = b"\n".join(lines)
    return data


def fuzz(
    reader: str,
    *,
    inputs: int = 0,
    seconds: float = 0.0,
    seed: int = 1,
    also: Callable[[str, bytes, str], None] | None = None,
) -> Tally:
    """Feed one reader for so many inputs, or so many seconds. `also` is shown each, and what came of it."""
    pool = seeds(reader)
    largest = max(LARGEST_INPUT, *(len(data) for _, data in pool))
    dice, tally, until_s = Random(seed), Tally(), time.monotonic() + seconds
    with tempfile.TemporaryDirectory(prefix="fuzz-") as folder:
        runner = Runner(Path(folder))
        try:
            while tally.inputs < inputs if inputs else time.monotonic() < until_s:
                suffix, data = dice.choice(pool)
                tried = (
                    data
                    if tally.inputs < len(pool)
                    else spoiled(data, [row[1] for row in pool], dice)[:largest]
                )
                found = runner.run(suffix, tried)
                said = count(tally, tried, found)
                if also is not None:
                    also(suffix, tried, found[0])
                if said not in tally.said and len(pool) < 500:
                    pool.append((suffix, tried))
                tally.said.add(said)
        finally:
            runner.stop()
    return tally


def count(tally: Tally, data: bytes, found: tuple[str, float, int]) -> str:
    """Count one input: what, seconds, bytes of memory. What it said, without its numbers."""
    what, took_s, took_bytes = found
    tally.inputs += 1
    tally.outcomes[what] += 1
    tally.slow += took_s > LONGEST_S
    tally.large += took_bytes > MOST_BYTES
    tally.slowest_s, tally.most_bytes = max(tally.slowest_s, took_s), max(tally.most_bytes, took_bytes)
    if what.split(":")[0] not in (*SURVIVED, "memory") or took_s > LONGEST_S:
        tally.kept.append((what, data))
    return re.sub(r"[\d.]+", "0", what)


class Runner:
    """A process that reads one input after the other, and another where it died."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._child: multiprocessing.process.BaseProcess | None = None
        self._pipe: Connection | None = None

    def run(self, suffix: str, data: bytes) -> tuple[str, float, int]:
        """What the reader made of it, seconds, and bytes of memory at most."""
        path = self._folder / f"file{suffix}"
        path.write_bytes(data)
        if self._child is None:
            self._start()
        assert self._pipe is not None and self._child is not None
        started_s = time.monotonic()
        try:
            self._pipe.send(str(path))
            if not self._pipe.poll(LONGEST_S):
                self.stop()
                return "slow", time.monotonic() - started_s, 0
            what, took_bytes = self._pipe.recv()
            return what, time.monotonic() - started_s, took_bytes
        except (EOFError, OSError):
            self._child.join()
            code = self._child.exitcode or 0
            self.stop()
            return words_of(code), time.monotonic() - started_s, 0

    def stop(self) -> None:
        if self._child is not None and self._pipe is not None:
            self._child.kill()
            self._child.join()
            self._pipe.close()
        self._child = self._pipe = None

    def _start(self) -> None:
        context = multiprocessing.get_context("forkserver")
        context.set_forkserver_preload(list(LOADED))  # once, and not in the time of an input
        self._pipe, theirs = context.Pipe()
        self._child = context.Process(target=_serve, args=(theirs,), daemon=True)
        self._child.start()
        theirs.close()


def _serve(pipe: Connection) -> None:
    """The copy: paths in, outcomes out, until it is killed or its maker is gone."""
    silence()
    most = memory_of("VmSize") + MOST_BYTES
    resource.setrlimit(resource.RLIMIT_AS, (most, most))
    while True:
        path = Path(pipe.recv())
        Path("/proc/self/clear_refs").write_text("5")  # the largest size is counted from here
        what = outcome(path)
        pipe.send((what, memory_of("VmHWM")))


def silence(*, keep_errors: bool = False) -> None:
    """Let nothing be printed by what reads, and no core be left."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    if not keep_errors:
        os.dup2(nowhere, 2)
    faulthandler.disable()  # of a test run: its words would be those of a crash of ours
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))


def words_of(code: int) -> str:
    """How a process ended."""
    return f"crash: {signal.Signals(-code).name if code < 0 else code}"


def memory_of(name: str) -> int:
    """Of this process, in bytes: VmSize as it is, VmHWM at most since that was cleared."""
    lines = Path("/proc/self/status").read_text().splitlines()
    return next(int(line.split()[1]) * 1024 for line in lines if line.startswith(f"{name}:"))
