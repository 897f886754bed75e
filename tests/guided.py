"""Readers fed with spoiled files, guided by which of their lines an input reaches.

`atheris` (libFuzzer) says which input came to a new place in our own code and in the libraries of Python
that read for it; such an input is kept and spoiled further, by its own ways and by ours. It also sees what
a word is compared with. Inputs run in copies of a process that was started for this alone; one that dies is
followed by another. Linux on x86-64 only.
"""

from __future__ import annotations

import contextlib
import importlib
import inspect
import json
import os
import re
import resource
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from random import Random
from types import FunctionType

from fuzzed_readers import READERS, outcome, seeds
from fuzzing import LARGEST_INPUT, LONGEST_S, MOST_BYTES, Tally, count, memory_of, silence, spoiled, words_of

PLANTED = "planted"  # a reader made for the test of this: it fails on one word
HOUSES = ("rehaul.house.readers.apart", "rehaul.house.integrity")
OWN = ("rehaul.house", "rehaul.numerals", "rehaul.printable")
# What is imported, and of what the lines are watched.
WATCHED: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "ifc": ((*HOUSES, "rehaul.house.readers.ifc"), OWN),
    "dxf": ((*HOUSES, "rehaul.house.readers.dxf"), (*OWN, "ezdxf.lldxf", "ezdxf.recover", "ezdxf.sections")),
    "room list": (HOUSES, OWN),
    "readings": (("rehaul.cli.readings", "rehaul.jobs"), ("rehaul.proof.reading_table", *OWN)),
    "job": (HOUSES, OWN),
    "picture": (("rehaul.web.pictures",), ("rehaul.web.pictures", "PIL")),
    "pdf": (("rehaul.web.pictures", "pypdfium2"), ("rehaul.web.pictures", "pypdfium2")),
    "log": (("rehaul.jobs.integrity", "rehaul.jobs"), ("rehaul.jobs",)),
    "edit": (("rehaul.jobs.apply", "rehaul.jobs"), ("rehaul.jobs", *OWN)),
    PLANTED: ((), ()),
}
ENDED_BY_SIGNAL = ("segv", "fpe", "abrt", "bus", "ill")  # left to the system, which tells the parent
SLOW, ENOUGH = 70, 99  # exit codes: libFuzzer's own, and ours
_REACHED = re.compile(r"cov: (\d+)")


@dataclass
class Guided(Tally):
    """What came of the inputs, how many places of the code they reached, and the inputs that reached them."""

    first: int = 0  # places that the files to begin with reach
    reached: int = 0
    corpus: list[bytes] = field(default_factory=list)


def guided(reader: str, *, seconds: float, seed: int = 1) -> Guided:
    """Feed one reader for so many seconds, imports not counted."""
    tally = Guided()
    with tempfile.TemporaryDirectory(prefix="guided-") as name:
        folder = Path(name)
        for part in ("seeds", "corpus", "faults"):
            (folder / part).mkdir()
        for number, (_, data) in enumerate(_seeds(reader)):
            (folder / "seeds" / f"{number:03d}").write_bytes(data)
        command = [sys.executable, __file__, reader, name, str(seconds), str(seed)]
        environment = {**os.environ, "OPENBLAS_NUM_THREADS": "1", "PYTHONPATH": os.pathsep.join(sys.path)}
        with (folder / "told").open("wb") as told:
            subprocess.run(command, stderr=told, stdout=told, env=environment, check=True)
        for line in (folder / "said").read_text().splitlines():
            what, took_s, took_bytes, fault = json.loads(line)
            count(
                tally, (folder / "faults" / fault).read_bytes() if fault else b"", (what, took_s, took_bytes)
            )
        places = [int(number) for number in _REACHED.findall((folder / "told").read_text(errors="replace"))]
        tally.first, tally.reached = (places[0], max(places)) if places else (0, 0)
        tally.corpus = [file.read_bytes() for file in sorted((folder / "corpus").iterdir())]
    return tally


def _seeds(reader: str) -> list[tuple[str, bytes]]:
    return [(".planted", b"some words")] if reader == PLANTED else seeds(reader)


# In the process of its own ------------------------------------------------------------------------------


def main() -> None:
    reader, name, seconds, seed = sys.argv[1:]
    folder = Path(name)
    modules, watched = WATCHED[reader]
    for module in modules:
        importlib.import_module(module)
    watch(watched)
    said = os.open(folder / "said", os.O_WRONLY | os.O_CREAT | os.O_APPEND)
    until_s = time.monotonic() + float(seconds)
    turn = 0
    while (left_s := until_s - time.monotonic()) > 0.5:
        child = os.fork()
        if child == 0:
            feed(reader, folder, said, left_s, int(seed) + turn)
            os._exit(0)
        turn += 1
        _, status = os.waitpid(child, 0)
        ended = os.waitstatus_to_exitcode(status)
        if ended == ENOUGH:
            break
        if ended != 0:  # by the input that it had just written down
            what, last = "slow" if ended == SLOW else words_of(ended), next(folder.glob("file.*"))
            tell(said, folder, last.read_bytes(), (what, time.time() - last.stat().st_mtime, 0))


def watch(prefixes: tuple[str, ...]) -> None:
    """Let every function of these modules tell which of its lines are reached."""
    import atheris

    done = set()
    for name, module in sorted(sys.modules.items()):
        if name not in prefixes and not name.startswith(tuple(f"{prefix}." for prefix in prefixes)):
            continue
        for thing in list(vars(module).values()):
            for function in [thing, *(vars(thing).values() if inspect.isclass(thing) else ())]:
                if isinstance(function, staticmethod | classmethod):
                    function = function.__func__
                elif isinstance(function, property):
                    function = function.fget
                if isinstance(function, FunctionType | type(cache(str))):
                    function = inspect.unwrap(function)
                    if function.__module__ == name and function not in done:
                        done.add(function)
                        atheris.instrument_func(function)


def feed(reader: str, folder: Path, said: int, seconds: float, seed: int) -> None:
    """The copy: inputs until the time is over, or one kills it."""
    import atheris

    silence(keep_errors=True)
    most = memory_of("VmSize") + MOST_BYTES
    resource.setrlimit(resource.RLIMIT_AS, (most, most))
    kind = "planted" if reader == PLANTED else READERS[reader][0]
    path, others = folder / f"file.{kind}", [data for _, data in _seeds(reader)]
    watched, most_yet = atheris.instrument_func(planted) if reader == PLANTED else outcome, 0

    def one(data: bytes) -> None:
        nonlocal most_yet
        path.write_bytes(data)
        began_s, before = time.process_time(), most_yet  # a busy machine makes no reader slow
        what = watched(path)
        most_yet = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024
        found = (what, time.process_time() - began_s, most_yet if most_yet > before else 0)
        tell(said, folder, data, found)
        if reader == PLANTED and what.startswith("traceback"):
            os._exit(ENOUGH)

    def spoil(data: bytes, most: int, number: int) -> bytes:
        dice = Random(number)
        if dice.random() < 0.5:
            return bytes(atheris.Mutate(data, most))
        return spoiled(data, others, dice)[:most]

    limits = [f"-handle_{name}=0" for name in ENDED_BY_SIGNAL]
    atheris.Setup(
        [sys.argv[0], f"-max_total_time={max(1, round(seconds))}", f"-seed={seed}", "-rss_limit_mb=0",
         "-malloc_limit_mb=0", f"-timeout={3 * LONGEST_S:.0f}", "-detect_leaks=0", "-reload=0", *limits,
         f"-max_len={max(LARGEST_INPUT, *map(len, others))}", f"-artifact_prefix={folder}/",
         str(folder / "corpus"), str(folder / "seeds")],
        one,
        custom_mutator=spoil,
    )  # fmt: skip
    atheris.Fuzz()


def tell(said: int, folder: Path, data: bytes, found: tuple[str, float, int]) -> None:
    """One line for one input, and the input itself where it is worth a look."""
    fault = ""
    if found[0].split(":")[0] not in ("read", "refused", "memory") or found[1] > LONGEST_S:
        fault = f"{os.getpid()}-{time.monotonic_ns()}"
        with contextlib.suppress(OSError):
            (folder / "faults" / fault).write_bytes(data)
    os.write(said, json.dumps([*found, fault]).encode() + b"\n")


def planted(path: Path) -> str:
    """Fails on a file that four things are true of, each a place of its own."""
    data = path.read_bytes()
    if data[:1].isdigit():
        if len(data) > 100:
            if b"\xff" in data:
                return "traceback: planted" if data[-1:] == b"\0" else "read: 3"
            return "read: 2"
        return "read: 1"
    return "refused: no digit"


if __name__ == "__main__":
    main()
