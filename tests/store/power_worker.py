"""A writer whose every write is recorded: edits of a job, each named once it is acknowledged."""

from __future__ import annotations

import contextlib
import os
import sys
from pathlib import Path

from replica import change, edit_data, small_job

from rehaul.errors import CannotSave, Refusal
from rehaul.jobs import LogBeside, edit_from_data, save_job


def main(path: Path, edits: int) -> None:
    try:
        save_job(path, small_job())
        beside = LogBeside(path)
    except Refusal:  # nothing was promised
        return
    for number in range(edits):
        data = edit_data(beside.ledger.revision, change("wall", "w2", note=f"said {number} " + "x" * 300))
        with contextlib.suppress(CannotSave):
            receipt = beside.ledger.submit("ann", edit_from_data(data))
            os.write(1, f"ack {receipt.revision} {receipt.edit}\n".encode())
        with contextlib.suppress(CannotSave):
            if number % 4 == 3:
                beside.export()
            if number == edits // 2:
                beside.ledger.keep_snapshot()
    with contextlib.suppress(CannotSave):
        beside.ledger.compact(keep_since="9999")
    beside.close()


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]))
