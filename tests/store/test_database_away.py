"""A PostgreSQL server that crashes under us: nothing acknowledged is lost, and work goes on afterwards."""

from __future__ import annotations

from typing import Any

import pytest
from replica import change, edit_data, small_job

from rehaul.errors import CannotSave
from rehaul.jobs import Ledger, Store, connect, edit_from_data


def test_a_database_that_goes_and_comes_back(postgres: Any, postgres_url: str) -> None:
    store = Store(connect(postgres_url))
    store.create(small_job())
    ledger = Ledger(store, "job")
    acknowledged = []
    for number in range(5):
        data = edit_data(ledger.revision, change("wall", "w2", note=str(number)))
        acknowledged.append(ledger.submit("ann", edit_from_data(data)).edit)
        postgres.stop_hard()
        waiting = edit_data(ledger.revision, change("wall", "w3", note=str(number)))
        for _ in range(2):
            with pytest.raises(CannotSave, match="could not be used"):
                ledger.submit("ann", edit_from_data(waiting))
        with pytest.raises(CannotSave):
            ledger.refresh()
        postgres.start()
        acknowledged.append(ledger.submit("ann", edit_from_data(waiting)).edit)
        assert [row.edit for row in store.rows("job", 0)] == acknowledged
    assert Ledger(store, "job").state == ledger.state
    store.close()
