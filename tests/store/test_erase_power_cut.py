"""The power goes at every moment of an erasure: the log is whole, and what was said to be erased stays so."""

from __future__ import annotations

import os
import random
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from household import CREW, naming
from power_cut import Disk, recorded
from test_power_cut import CALLS, STORE

from counts import counted
from needing import need
from rehaul.jobs import LogBeside
from rehaul.jobs.erasing import ErasureAsked, erase
from rehaul.jobs.verifying import verified

LOOKS = int(os.environ.get("REHAUL_POWER_LOOKS", str(counted(25, 120))))


def test_a_cut_at_any_moment_of_an_erasure(tmp_path: Path) -> None:
    need("strace")
    work, trace = tmp_path / "work", tmp_path / "trace"
    worker = [sys.executable, str(STORE / "erase_worker.py"), str(work)]
    command = ["strace", "-f", "-xx", "-s", "2000000", "-o", str(trace), "-e", f"trace={CALLS}", *worker]
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join([*sys.path, str(STORE)])}
    ran = subprocess.run(command, env=environment, capture_output=True, text=True, timeout=300, check=False)
    if "PTRACE" in ran.stderr or "ptrace" in ran.stderr:
        pytest.skip("this machine lets nothing be traced")
    assert ran.returncode == 0, ran.stderr
    events = recorded(trace.read_text(encoding="ascii"), work)
    made, erased = (n for n, event in enumerate(events) if event.what == "acknowledge")
    assert erased - made > 100
    random_, disk = random.Random(11), Disk()
    chosen = set(random_.sample(range(made, erased), min(LOOKS, erased - made)))
    seen = {"before": 0, "midway": 0, "erased": 0}
    for number, event in enumerate(events):
        if number == made:  # all of it was flushed
            disk.settle()
        elif event.what != "acknowledge":
            disk.take(event)
        if number in chosen or number == erased:
            for _ in range(1 if number in chosen else 20):
                seen[_look(disk.left(random_), work, tmp_path / "after", done=number == erased)] += 1
    assert all(seen.values()), seen


def _look(left: dict[str, bytes], work: Path, folder: Path, *, done: bool) -> str:
    """Look at what a cut left; what came of the erasure."""
    shutil.rmtree(folder, ignore_errors=True)
    for name, data in left.items():
        if Path(name).is_relative_to(work) and not Path(name).is_dir() and not name.endswith("-shm"):
            place = folder / Path(name).relative_to(work)
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_bytes(data)
    path = folder / "house.rehaul.json"
    if done:
        assert naming(folder) == []
    found = verified(path)
    assert not found.health.faults, found.health.faults
    whole = bool(found.health.erasures) and not found.health.unfinished
    said = "erased" if whole else "midway" if found.health.erasures else "before"
    LogBeside(path).close()
    erase(path, ErasureAsked(), CREW)
    assert naming(folder) == [] and not verified(path).health.faults
    return said
