"""A disk that fails at any one system call of a writer: what was acknowledged is there, and work goes on."""

from __future__ import annotations

import os
import random
import re
import subprocess
import sys
from pathlib import Path

import pytest

from counts import counted
from needing import need
from rehaul.jobs import LogBeside

STORE = Path(__file__).parent
EDITS = 6
ERRORS = (
    ("pwrite64", "ENOSPC"),
    ("pwrite64", "EIO"),
    ("fsync", "EIO"),
    ("fdatasync", "EIO"),
    ("ftruncate", "EIO"),
)
# Runs; all calls in turn where it is large.
MOST = int(os.environ.get("REHAUL_DISK_ERRORS", str(counted(6, 14))))


def run_worker(path: Path, *options: str) -> subprocess.CompletedProcess[str]:
    """The writer under strace."""
    worker = [sys.executable, str(STORE / "power_worker.py"), str(path), str(EDITS)]
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join([*sys.path, str(STORE)])}
    command = ["strace", "-f", *options, *worker]
    return subprocess.run(command, env=environment, capture_output=True, text=True, timeout=120, check=False)


def test_an_error_at_any_call_loses_nothing_that_was_acknowledged(tmp_path: Path) -> None:
    need("strace")
    names = sorted({call for call, _ in ERRORS})
    (tmp_path / "plain").mkdir()
    calls_in = tmp_path / "calls"
    ran = run_worker(
        tmp_path / "plain" / "house.rehaul.json", "-o", str(calls_in), "-e", f"trace={','.join(names)}"
    )
    if "ptrace" in ran.stderr.lower():
        pytest.skip("this machine lets nothing be traced")
    assert ran.returncode == 0, ran.stderr
    calls = re.findall(r"\b(\w+)\(", calls_in.read_text(encoding="utf-8"))
    every = [(call, error, when) for call, error in ERRORS for when in range(1, calls.count(call) + 1)]
    assert len(every) > 60
    random_ = random.Random(5)
    picked = every if len(every) <= MOST else random_.sample(every, MOST)
    taken = [_one(tmp_path / f"run{number}", *fault) for number, fault in enumerate(picked)]
    assert min(taken) < EDITS, "an error somewhere must have cost an edit its acknowledgement"


def _one(folder: Path, call: str, error: str, when: int) -> int:
    """How many edits were acknowledged beside one error."""
    folder.mkdir()
    path = folder / "house.rehaul.json"
    inject = f"inject={call}:error={error}:when={when}"
    ran = run_worker(path, "-o", os.devnull, "-e", inject)
    said = (call, error, when, ran.stderr[-400:])
    assert ran.returncode == 0, said
    acknowledged = [line.split()[2] for line in ran.stdout.splitlines() if line.startswith("ack ")]
    if not acknowledged:
        return 0
    beside = LogBeside(path)
    try:
        rows = [row.edit for row in beside.ledger.store.rows("job", 0)]
        assert [edit for edit in rows if edit in set(acknowledged)] == acknowledged, said
        assert len(rows) == len(set(rows)) and len(acknowledged) >= EDITS - 1, said
    finally:
        beside.close()
    return len(acknowledged)
