"""A log on a disk that fills up: nothing is acknowledged that is not there, and work goes on later."""

from __future__ import annotations

from pathlib import Path

import pytest
from replica import change, edit_data, small_job

from rehaul.errors import CannotSave, Damaged
from rehaul.jobs import Ledger, Store, connect, edit_from_data


def fill(ledger: Ledger) -> tuple[list[str], dict[str, object]]:
    """Edits until the disk takes no more: those acknowledged, and the one that was not."""
    acknowledged: list[str] = []
    for _ in range(2000):
        data = edit_data(ledger.revision, change("wall", "w2", note="x" * 1500))
        try:
            acknowledged.append(ledger.submit("ann", edit_from_data(data)).edit)
        except CannotSave as refusal:
            assert "Make room" in str(refusal)
            return acknowledged, data
    pytest.fail("the disk never filled up")


def check(ledger: Ledger, acknowledged: list[str]) -> None:
    assert [row.edit for row in ledger.store.rows("job", 0)] == acknowledged
    assert Ledger(ledger.store, "job").state == ledger.state


def test_a_log_that_may_not_grow(tmp_path: Path) -> None:
    store = Store(connect(tmp_path / "log"))
    store.create(small_job())
    ledger = Ledger(store, "job")
    store.database.run("PRAGMA max_page_count = 60")
    acknowledged, data = fill(ledger)
    check(ledger, acknowledged)
    store.database.run("PRAGMA max_page_count = 6000")
    acknowledged.append(ledger.submit("ann", edit_from_data(data)).edit)
    check(ledger, acknowledged)


def test_a_real_full_disk(tiny_disk: Path) -> None:
    store = Store(connect(tiny_disk / "log"))
    store.create(small_job())
    ballast = tiny_disk / "ballast"
    ballast.write_bytes(b"x" * 30_000)
    ledger = Ledger(store, "job")
    acknowledged, data = fill(ledger)
    assert len(acknowledged) > 3
    ballast.unlink()
    acknowledged.append(ledger.submit("ann", edit_from_data(data)).edit)
    check(ledger, acknowledged)
    store.close()
    again = Store(connect(tiny_disk / "log"))
    assert [row.edit for row in again.rows("job", 0)] == acknowledged
    again.close()


def test_no_database_at_all(tmp_path: Path) -> None:
    with pytest.raises(CannotSave):
        Store(connect(tmp_path / "nowhere" / "log"))
    with pytest.raises(CannotSave):
        Store(connect("postgresql://rehaul@127.0.0.1:1/none"))
    broken = tmp_path / "broken"
    broken.write_bytes(b"not a database, whatever its name says" * 100)
    with pytest.raises(Damaged):
        Store(connect(broken))
