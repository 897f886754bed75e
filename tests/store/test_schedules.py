"""Random schedules of two to four clients: offline, edits, meeting again, undo, lost answers.

However they interleave, all clients end on the server's state, which equals the log replayed, and
every edit was either acknowledged and stands in the log once, or was refused with a reason.
"""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from replica import Replica, change, drop, edit_data, put, small_job

from counts import counted
from rehaul.errors import Refusal
from rehaul.house import require_whole
from rehaul.jobs import Ledger, Store, connect, edit_from_data
from rehaul.jobs.sql import Sqlite

NAMES = ("ann", "ben", "cy", "di")

gestures = st.one_of(
    st.builds(change, st.just("wall"), st.sampled_from(["w1", "w2", "w3"]), note=st.sampled_from("abc")),
    st.builds(change, st.just("wall"), st.sampled_from(["w1", "w2"]),
              thickness_m=st.sampled_from([0.1, 0.2, -1])),
    st.builds(change, st.just("opening"), st.just("d1"), offset_m=st.sampled_from([0.5, 2.0, 7.9])),
    st.builds(put, st.just("outlet"), id=st.sampled_from(["0-04", "0-05"]), storey=st.just("g")),
    st.builds(put, st.just("opening"), id=st.sampled_from(["d2", "d3"]), wall=st.sampled_from(["w1", "w2"]),
              kind=st.just("door"), offset_m=st.just(3), width_m=st.just(0.8)),
    st.builds(drop, st.just("wall"), st.sampled_from(["w1", "w2"])),
    st.builds(drop, st.just("outlet"), st.sampled_from(["0-01", "0-04"])),
    st.builds(drop, st.just("room"), st.sampled_from(["r1", "r2"])),
    st.just({"do": "set", "kind": "service", "fields": {"down_mbps": 300}}),
)  # fmt: skip
steps = st.tuples(
    st.integers(0, 3),
    st.one_of(
        st.tuples(st.just("edit"), st.lists(gestures, min_size=1, max_size=3)),
        st.tuples(st.sampled_from(["undo", "redo", "meet", "lose answer", "restart"]), st.none()),
    ),
)


class Table:
    """The server and its clients, passing messages by hand."""

    def __init__(self, folder: Path, clients: int) -> None:
        self.store = Store(connect(folder / "log"))
        assert isinstance(self.store.database, Sqlite)
        self.store.database.run("PRAGMA synchronous = OFF")  # nothing is killed here; only order matters
        self.store.create(small_job())
        self.ledger = Ledger(self.store, "job")
        self.clients = [Replica(NAMES[n], 0, self.ledger.job) for n in range(clients)]
        self.acknowledged: set[str] = set()
        self.refused: set[str] = set()

    def send(self, client: Replica, *, answer_lost: bool = False) -> None:
        """The client's queue goes to the server; without an answer it stays in the queue."""
        for message in list(client.queue):
            try:
                if message["type"] == "edit":
                    receipt = self.ledger.submit(client.person, edit_from_data(message["data"]))
                elif message["type"] == "undo":
                    receipt = self.ledger.undo(client.person, message["id"])
                else:
                    receipt = self.ledger.redo(client.person, message["id"])
            except Refusal as refusal:
                assert refusal.problem
                if not answer_lost:
                    self.refused.add(message["id"])
                    client.queue.remove(message)
                continue
            if not answer_lost:
                client.told += receipt.told
                self.acknowledged.add(receipt.edit)
                client.queue.remove(message)

    def hear(self, client: Replica) -> None:
        rows = self.ledger.rows_since(client.revision)
        assert rows is not None
        for row in rows:
            client.take(row.revision, row.changes)


@settings(max_examples=counted(60, 150), deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(clients=st.integers(2, 4), schedule=st.lists(steps, max_size=25))
def test_all_clients_end_on_one_state(clients: int, schedule: list[Any]) -> None:
    play(clients, schedule)


def play(clients: int, schedule: list[Any]) -> None:
    with tempfile.TemporaryDirectory() as folder:
        table = Table(Path(folder), clients)
        for number, (who, (what, gesture)) in enumerate(schedule):
            client = table.clients[who % clients]
            if what == "edit":
                data = edit_data(client.revision, *gesture)
                client.queue.append({"type": "edit", "id": data["edit"], "data": data})
            elif what in ("undo", "redo"):
                client.queue.append({"type": what, "id": f"turn-{number:05d}"})
            elif what == "meet":
                table.hear(client)
                table.send(client)
                table.hear(client)
            elif what == "lose answer":
                table.send(client, answer_lost=True)
            else:
                table.ledger = Ledger(table.store, "job")
        for client in table.clients:
            table.hear(client)
            table.send(client)
        for client in table.clients:
            table.hear(client)

        final = table.ledger.job
        require_whole(final)
        for client in table.clients:
            assert client.queue == []
            assert client.document == final.model_dump(mode="json")
        assert Ledger(table.store, "job").state == table.ledger.state, "replay and live differ"
        logged = [row.edit for row in table.store.rows("job", 0)]
        assert len(logged) == len(set(logged)), "an edit stands twice"
        assert table.acknowledged == set(logged)
        assert not table.refused & set(logged)
        table.store.close()


def test_the_property_has_teeth(monkeypatch: pytest.MonkeyPatch) -> None:
    """With complete changes no longer sent, clients drift apart and the property sees it."""
    from rehaul.jobs import ledger as module

    honest = module.apply_edit

    def forgetful(*args: Any, **more: Any) -> Any:
        outcome = honest(*args, **more)
        outcome.changes[:] = [item for item in outcome.changes if item["kind"] != "opening"]
        return outcome

    monkeypatch.setattr(module, "apply_edit", forgetful)
    door = put("opening", id="d2", wall="w1", kind="door", offset_m=3, width_m=0.8)
    with pytest.raises(AssertionError):
        play(2, [(0, ("edit", [door])), (0, ("meet", None)), (1, ("meet", None))])
