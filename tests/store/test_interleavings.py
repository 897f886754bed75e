"""Every order in which two writers of one log can take five steps each: nothing lost, nothing twice."""

from __future__ import annotations

import itertools
import shutil
from pathlib import Path

from replica import change, edit_data, put, small_job

from counts import counted
from rehaul.errors import Refusal
from rehaul.jobs import Ledger, Store, connect, edit_from_data, replay
from rehaul.jobs.integrity import health_of

STEPS = ("same field", "own thing", "send again", "undo", "look")


def test_two_writers_in_every_order(tmp_path: Path) -> None:
    """252 orders, every other one where --long is not asked for.

    Each writer sees only what its own memory holds until it looks or is told it is behind.
    """
    empty = tmp_path / "empty"
    store = Store(connect(empty))
    store.create(small_job())
    store.close()
    orders = itertools.combinations(range(2 * len(STEPS)), len(STEPS))
    for number, firsts in enumerate(itertools.islice(orders, None, None, counted(2, 1))):
        place = tmp_path / f"log{number % 2}"
        for side in ("", "-wal", "-shm", "-head"):
            place.with_name(place.name + side).unlink(missing_ok=True)
        shutil.copyfile(empty, place)
        _one_order(place, firsts)


def _one_order(place: Path, firsts: tuple[int, ...]) -> None:
    ledgers = [Ledger(Store(connect(place)), "job") for _ in range(2)]
    taken, acknowledged, last = [0, 0], [], [None, None]
    for turn in range(2 * len(STEPS)):
        who = 0 if turn in firsts else 1
        step, ledger, person = STEPS[taken[who]], ledgers[who], ("ann", "bob")[who]
        taken[who] += 1
        if step == "look":
            ledger.refresh()
            continue
        if step == "undo":
            try:
                acknowledged.append(ledger.undo(person, f"{person}-undo").edit)
            except Refusal:
                assert who  # all of it was changed by the other since: that is said
            continue
        if step == "same field":
            data = edit_data(0, change("wall", "w2", note=f"of {person}"), edit=f"{person}-field")
        elif step == "own thing":
            thing = put("reading", id=f"y-{person}", quantity="down_mbps", value=41, room="r2")
            data = edit_data(0, thing, edit=f"{person}-thing")
        else:
            again = ledger.submit(person, edit_from_data(last[who]))
            assert again.edit in acknowledged
            continue
        last[who] = data
        acknowledged.append(ledger.submit(person, edit_from_data(data)).edit)
    rows = ledgers[0].store.rows("job", 0)
    assert [row.edit for row in rows] == list(dict.fromkeys(acknowledged)), firsts
    assert not health_of(ledgers[0].store, "job").faults
    for ledger in ledgers:
        ledger.refresh()
        assert ledger.state == replay(ledger.store.snapshot("job"), rows)
        ledger.store.close()
