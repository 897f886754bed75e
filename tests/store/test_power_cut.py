"""The power goes at every moment of a writer's work: nothing that was acknowledged is lost."""

from __future__ import annotations

import os
import random
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from power_cut import Disk, recorded

from needing import need
from rehaul.jobs import LogBeside, log_path

STORE = Path(__file__).parent
CALLS = (
    "openat,close,read,write,pwrite64,lseek,ftruncate,fsync,fdatasync,"
    "rename,renameat,renameat2,link,linkat,unlink,unlinkat"
)
EDITS, STATES_EACH = 8, int(os.environ.get("REHAUL_POWER_STATES", "1"))


def test_after_a_cut_at_any_moment_what_was_acknowledged_is_there(tmp_path: Path) -> None:
    need("strace")
    work, trace = tmp_path / "work", tmp_path / "trace"
    work.mkdir()
    worker = [sys.executable, str(STORE / "power_worker.py"), str(work / "house.rehaul.json"), str(EDITS)]
    command = ["strace", "-f", "-xx", "-s", "2000000", "-o", str(trace), "-e", f"trace={CALLS}", *worker]
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join([*sys.path, str(STORE)])}
    ran = subprocess.run(command, env=environment, capture_output=True, text=True, timeout=300, check=False)
    if "PTRACE" in ran.stderr or "ptrace" in ran.stderr:
        pytest.skip("this machine lets nothing be traced")
    assert ran.returncode == 0, ran.stderr
    events = recorded(trace.read_text(encoding="ascii"), work)
    assert sum(event.what == "acknowledge" for event in events) == EDITS
    assert sum(event.what == "write" for event in events) > 10 * EDITS
    random_, disk, acknowledged, looked = random.Random(7), Disk(), 0, 0
    for event in events:
        if event.what == "acknowledge":
            acknowledged = event.at
        else:
            disk.take(event)
        for _ in range(STATES_EACH):
            looked += 1
            _look(disk.left(random_), work, tmp_path / "after", acknowledged, looked)
    assert looked > 200


def _look(left: dict[str, bytes], work: Path, folder: Path, acknowledged: int, number: int) -> None:
    """Open what a cut left, as whoever comes back to the house would."""
    if folder.exists():
        shutil.rmtree(folder)
    folder.mkdir()
    for name, data in left.items():
        if not name.endswith("-shm"):
            (folder / Path(name).relative_to(work)).write_bytes(data)
    path = folder / "house.rehaul.json"
    if acknowledged == 0 and not (path.exists() and path.stat().st_size):
        return  # nothing was promised yet
    if acknowledged == 0 and not log_path(path).exists():
        return
    beside = LogBeside(path)
    try:
        assert beside.ledger.revision >= acknowledged, (number, acknowledged)
    finally:
        beside.close()
