"""A job that is copied while others write it is copied as it stood at one moment."""

from __future__ import annotations

import threading
from pathlib import Path

from replica import edit_data, small_job

from rehaul.jobs import Ledger, Store, connect, edit_from_data
from rehaul.jobs.copying import copy_job
from rehaul.jobs.integrity import health_of

COPIES = 12


def test_every_copy_is_whole(place: str | Path, tmp_path: Path) -> None:
    store = Store(connect(place))
    store.create(small_job())
    done, written = threading.Event(), []

    def write() -> None:
        ledger = Ledger(Store(connect(place)), "job")
        while not done.is_set():
            said = {"do": "set", "kind": "job", "fields": {"notes": f"said {ledger.revision}"}}
            ledger.submit("ann", edit_from_data(edit_data(ledger.revision, said)))
            written.append(ledger.revision)

    writer = threading.Thread(target=write)
    writer.start()
    try:
        heads = []
        for number in range(COPIES):
            target = Store(connect(tmp_path / f"copy-{number}.sqlite"))
            heads.append(copy_job(store, target, "job"))
            assert health_of(target, "job").faults == ()
    finally:
        done.set()
        writer.join()
    assert heads[-1] > heads[0], "nothing was written meanwhile"
    assert written[-1] == Ledger(store, "job").revision
