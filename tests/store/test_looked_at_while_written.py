"""A log that another program writes is not called damaged: what it adds meanwhile is left out of the look."""

from __future__ import annotations

import subprocess
import sys
import time
from pathlib import Path

import pytest
from replica import change, edit_data, small_job

from rehaul.jobs import LogBeside, Store, connect, edit_from_data, log_path, save_job
from rehaul.jobs.chain import RawRow
from rehaul.jobs.integrity import health_of

LOOKS = 150
WRITER = """
import sys
import time
sys.path.insert(0, sys.argv[2])
from pathlib import Path
from replica import change, edit_data
from rehaul.jobs import LogBeside, edit_from_data
beside = LogBeside(Path(sys.argv[1]))
print("begun", flush=True)
for number in range(100_000):
    said = edit_data(beside.ledger.revision, change("wall", "w1", note=str(number)))
    beside.ledger.submit("p1", edit_from_data(said))
    time.sleep(0.002)
"""


def test_a_sound_log_stays_sound_to_whoever_looks_at_it(tmp_path: Path) -> None:
    path = tmp_path / "small.rehaul.json"
    save_job(path, small_job())
    LogBeside(path).close()
    writer = subprocess.Popen(
        [sys.executable, "-c", WRITER, str(path), str(Path(__file__).parent)],
        stdout=subprocess.PIPE,
        text=True,
    )
    try:
        assert writer.stdout and writer.stdout.readline() == "begun\n"
        store, heads, faults = Store(connect(log_path(path))), [], []
        ((job, _, _),) = store.jobs()
        for _ in range(LOOKS):
            found = health_of(store, job)
            heads.append(found.head)
            faults += found.faults
            time.sleep(0.002)
        assert writer.poll() is None
    finally:
        writer.kill()
        writer.wait()
    assert not faults
    assert heads[-1] > heads[0] + 20, "nothing was written meanwhile"


def test_an_edit_between_two_questions_is_left_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """However often somebody writes: looking again would never end."""
    path = tmp_path / "small.rehaul.json"
    save_job(path, small_job())
    beside = LogBeside(path)
    store = Store(connect(log_path(path)))
    ((job, _, _),) = store.jobs()
    asked = Store.raw_rows

    def somebody_writes(self: Store, name: str, after: int) -> list[RawRow]:
        said = edit_data(beside.ledger.revision, change("wall", "w1", note=str(beside.ledger.revision)))
        beside.ledger.submit("p1", edit_from_data(said))
        return asked(self, name, after)

    monkeypatch.setattr(Store, "raw_rows", somebody_writes)
    head = beside.ledger.revision
    found = health_of(store, job)
    assert (found.faults, found.head, found.edits) == ((), head, head)
    assert beside.ledger.revision == head + 1
