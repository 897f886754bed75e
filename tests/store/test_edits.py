"""Edits on a ledger: what is taken, what is refused, and who is told where two meet."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from replica import change, drop, edit_data, put, small_job

from rehaul.errors import BadInput, CannotSave, Refusal
from rehaul.house import SCHEMA_VERSION
from rehaul.jobs import Ledger, Receipt, Store, connect, difference, edit_from_data
from rehaul.jobs.chain import chained, first_link, seal


def say(
    ledger: Ledger, person: str, *changes: dict[str, Any], base: int | None = None, **more: Any
) -> Receipt:
    data = edit_data(ledger.revision if base is None else base, *changes, **more)
    return ledger.submit(person, edit_from_data(data))


def wall(ledger: Ledger, wall_id: str) -> Any:
    return next(w for w in ledger.job.house.walls if w.id == wall_id)


def ids(ledger: Ledger, field: str) -> list[str]:
    return [thing.id for thing in getattr(ledger.job.house, field)]


def chain_anew(ledger: Ledger) -> None:
    """Digests of what stands in a log, as if it had been written so."""
    database, link = ledger.store.database, first_link("job")
    for raw in ledger.store.raw_rows("job", 0):
        row = chained(raw, link)
        link = row.link
        values = row.parts, row.link, row.revision
        database.run("UPDATE edit SET parts = %s, link = %s WHERE revision = %s", values)
    database.run("UPDATE job SET link = %s", (link,))
    for revision, body in database.run("SELECT revision, body FROM snapshot"):
        values = seal("job", revision, body), revision
        database.run("UPDATE snapshot SET seal = %s WHERE revision = %s", values)
    if database.witness:
        database.witness.reset({"job": (ledger.revision, link)})


def reopened(ledger: Ledger) -> Ledger:
    return Ledger(ledger.store, ledger.job_id)


def test_put_set_drop(ledger: Ledger) -> None:
    assert say(ledger, "ann", put("outlet", id="0-04", storey="g")).revision == 1
    say(ledger, "ann", change("outlet", "0-04", note="behind the sofa", position=[2.0, 0.1]))
    assert ledger.job.house.outlets[-1].note == "behind the sofa"
    say(ledger, "ann", drop("outlet", "0-04"))
    assert ids(ledger, "outlets") == ["0-01", "0-02", "0-03"]
    say(ledger, "ann", {"do": "set", "kind": "service", "fields": {"down_mbps": 240}})
    say(ledger, "ann", {"do": "set", "kind": "job", "fields": {"title": "Renamed"}})
    assert (ledger.job.service.down_mbps, ledger.job.title, ledger.revision) == (240, "Renamed", 5)
    again = reopened(ledger)
    assert again.state == ledger.state
    assert ledger.store.jobs() == [("job", "Renamed", 5)]


@pytest.mark.parametrize(
    ("bad", "where"),
    [
        (change("wall", "w1", thickness_m=-1), "wall w1, thickness_m"),
        (change("wall", "w1", end=[0, 0]), "house.walls[0] (w1).end"),
        (change("wall", "w1", id="w9"), "wall w1"),
        (change("wall", "w1", colour="red"), "wall w1"),
        (change("wall", "w77", height_m=2), "edit"),
        (change("opening", "d1", width_m=20), "house.openings[0] (d1).offset_m"),
        (put("outlet", id="0-09", storey="attic"), "house.outlets[3] (0-09).storey"),
        (put("outlet", id="0-09", storey="g", position=[100, 100]), "house.outlets[3] (0-09).position"),
        (put("outlet", id="0-09", storey="g", height_m=float("nan")), "outlet 0-09, height_m"),
        (put("outlet", storey="g"), "outlet ?, id"),
        (put("ghost", id="x"), "edit, changes.0.kind"),
        (put("service", down_mbps=5), "edit, changes.0.kind"),
        (drop("gate", ""), "edit, changes.0.kind"),
        (drop("storey", "g"), "edit"),
        ({"do": "set", "kind": "job", "fields": {"house": {}}}, "job"),
        ({"do": "set", "kind": "house", "fields": {"walls": []}}, "house"),
        ({"do": "burn", "kind": "wall"}, "edit, changes.0"),
    ],
)
def test_bad_edits_are_refused_with_the_place(ledger: Ledger, bad: dict[str, Any], where: str) -> None:
    before = ledger.state
    with pytest.raises(BadInput) as caught:
        say(ledger, "ann", change("wall", "w2", note="good"), bad)
    expected = where.replace("changes.0", "changes.1")
    assert caught.value.where.removeprefix("after this edit, ") == expected
    assert ledger.state is before
    assert ledger.store.head("job") == 0, "half an edit was taken"


@pytest.mark.parametrize(
    "broken", [{}, [], None, {"edit": "x"}, {"edit": "a" * 65, "base": 0, "changes": []}]
)
def test_what_is_no_edit(broken: object) -> None:
    with pytest.raises(BadInput):
        edit_from_data(broken)


def test_an_id_is_never_used_again(ledger: Ledger) -> None:
    with pytest.raises(BadInput) as caught:
        say(ledger, "ben", put("outlet", id="0-03", storey="g"))
    assert caught.value.as_dict()["code"] == "taken"
    assert caught.value.as_dict()["free"] == "0-04"
    say(ledger, "ann", drop("run", "c2"), drop("outlet", "0-03"))
    with pytest.raises(BadInput, match="is or was another"):
        say(ledger, "ben", put("outlet", id="0-03", storey="g"))
    with pytest.raises(BadInput, match="is or was another"):
        say(ledger, "ben", put("run", id="0-03", ends=["unknown", "unknown"]))


def test_sending_twice_does_nothing_twice(ledger: Ledger) -> None:
    data = edit_data(0, put("outlet", id="0-04", storey="g"))
    first = ledger.submit("ann", edit_from_data(data))
    say(ledger, "ben", change("outlet", "0-04", note="seen"))
    assert ledger.submit("ann", edit_from_data(data)) == first
    assert reopened(ledger).submit("ann", edit_from_data(data)) == first
    assert ledger.revision == 2
    data["changes"] = [drop("outlet", "0-04")]
    with pytest.raises(BadInput, match="already used"):
        ledger.submit("ann", edit_from_data(data))


def test_what_goes_along_and_what_only_loses_a_name(ledger: Ledger) -> None:
    say(ledger, "ann", drop("wall", "w1"), drop("room", "r2"), drop("outlet", "0-01"))
    assert ids(ledger, "openings") == []
    assert ledger.job.needs == ()
    assert ledger.job.readings[0].room is None
    assert ledger.job.house.runs[0].ends == ("unknown", "0-02"), "the cable is still in the wall"
    sent = ledger.rows_since(0)[0].changes
    assert drop("opening", "d1") in sent
    assert drop("need", "n1") in sent
    ledger.undo("ann", "undo-0001")
    whole = ledger.job
    assert difference(small_job(), whole) == []


def test_what_is_still_depended_on_is_held(ledger: Ledger) -> None:
    say(ledger, "ann", put("obligation", id="o1", kind="monitored alarm", run="c1"))
    with pytest.raises(BadInput, match="obligation o1 still hang on run c1"):
        say(ledger, "ben", drop("run", "c1"))
    say(ledger, "ben", drop("run", "c1"), drop("obligation", "o1"))
    assert ids(ledger, "runs") == ["c2"]


def test_same_field_the_later_arrival_stands_and_both_are_told(ledger: Ledger) -> None:
    base = ledger.revision
    say(ledger, "ann", change("wall", "w2", thickness_m=0.1, note="ann"), base=base)
    receipt = say(ledger, "ben", change("wall", "w2", thickness_m=0.2), base=base)
    assert wall(ledger, "w2").thickness_m == 0.2
    assert wall(ledger, "w2").note == "ann", "fields nobody else set are kept"
    assert [(t["code"], t["field"], t["by"]) for t in receipt.told] == [("overrode", "thickness_m", "Ann")]
    (notice,) = ledger.store.notices("job", "ann")
    assert (notice["notice"], notice["code"], notice["by"]) == (1, "overtaken", "Ben")
    assert notice["words"] == "Ben's later change to thickness_m of wall w2 stands instead of yours."
    ledger.store.seen("job", "ann", 1)
    assert ledger.store.notices("job", "ann") == []
    say(ledger, "ann", change("wall", "w2", note="again"))
    say(ledger, "ben", change("wall", "w2", note="mine"), base=base)
    assert ledger.store.notices("job", "ann")[0]["notice"] == 2


def test_nobody_is_told_where_nothing_met(ledger: Ledger) -> None:
    base = ledger.revision
    say(ledger, "ann", change("wall", "w2", thickness_m=0.1), base=base)
    assert say(ledger, "ben", change("wall", "w2", note="x"), base=base).told == []
    assert say(ledger, "ben", change("wall", "w2", thickness_m=0.1), base=base).told == [], "same value"
    assert say(ledger, "ben", change("wall", "w2", thickness_m=0.3)).told == [], "ben had seen it"
    assert say(ledger, "ben", change("wall", "w2", thickness_m=0.4), base=base).told == [], "his own"
    assert ledger.store.notices("job", "ann") == []


def test_offline_edit_of_a_dropped_thing_comes_back_with_it(ledger: Ledger) -> None:
    base = ledger.revision
    say(ledger, "ann", drop("wall", "w2"), base=base)
    receipt = say(ledger, "ben", change("wall", "w2", note="lath and plaster"), base=base)
    assert "w2" not in ids(ledger, "walls")
    assert [(t["code"], t["by"]) for t in receipt.told] == [("gone", "Ann")]
    ledger = reopened(ledger)
    ledger.undo("ann", "undo-0001")
    assert wall(ledger, "w2").note == "lath and plaster"
    assert reopened(ledger).state == ledger.state


def test_dropping_what_somebody_changed_tells_both(ledger: Ledger) -> None:
    base = ledger.revision
    say(ledger, "ben", change("wall", "w2", note="lath"), base=base)
    receipt = say(ledger, "ann", drop("wall", "w2"), base=base)
    assert [t["code"] for t in receipt.told] == ["overrode"]
    assert [n["code"] for n in ledger.store.notices("job", "ben")] == ["dropped"]
    assert say(ledger, "ben", drop("wall", "w2"), base=base).told[0]["code"] == "gone"


def test_undo_and_redo_are_each_persons_own(ledger: Ledger) -> None:
    start = ledger.job
    say(ledger, "ann", change("wall", "w2", note="a1"), label="Note w2")
    say(ledger, "ben", change("wall", "w3", note="b1"), label="Note w3")
    say(ledger, "ann", put("outlet", id="0-04", storey="g"), label="Add 0-04")
    assert ledger.undo_labels("ann") == {"undo": "Add 0-04", "redo": None}
    ledger.undo("ann", "undo-0001")
    assert ledger.undo_labels("ann") == {"undo": "Note w2", "redo": "Add 0-04"}
    ledger.undo("ann", "undo-0002")
    assert wall(ledger, "w3").note == "b1", "ben's gesture stays"
    assert wall(ledger, "w2").note == ""
    with pytest.raises(Refusal, match="nothing of yours"):
        ledger.undo("ann", "undo-0003")
    ledger = reopened(ledger)
    ledger.redo("ann", "redo-0001")
    ledger.redo("ann", "redo-0002")
    assert "0-04" in ids(ledger, "outlets")
    assert ledger.undo_labels("ann") == {"undo": "Add 0-04", "redo": None}
    ledger.undo("ann", "undo-0004")
    ledger.undo("ann", "undo-0005")
    ledger.undo("ben", "undo-0006")
    assert difference(start, ledger.job) == []
    say(ledger, "ann", change("wall", "w1", note="new"))
    assert ledger.undo_labels("ann")["redo"] is None, "a new gesture ends redo"


def test_undo_leaves_what_others_changed_since(ledger: Ledger) -> None:
    say(ledger, "ann", change("wall", "w2", note="a", thickness_m=0.1))
    say(ledger, "ben", change("wall", "w2", note="b"))
    receipt = ledger.undo("ann", "undo-0001")
    assert (wall(ledger, "w2").note, wall(ledger, "w2").thickness_m) == ("b", None)
    assert [(t["code"], t["field"]) for t in receipt.told] == [("overtaken", "note")]
    say(ledger, "ann", change("wall", "w3", note="first"))
    say(ledger, "ann", change("wall", "w3", note="a"))
    say(ledger, "ben", change("wall", "w3", note="b"))
    with pytest.raises(Refusal, match="others have changed all of it"):
        ledger.undo("ann", "undo-0002")
    with pytest.raises(Refusal, match="others have changed all of it"):
        ledger.undo("ann", "undo-0003")
    with pytest.raises(Refusal, match="nothing of yours"):
        ledger.undo("ann", "undo-0004")


def test_undoing_an_addition_tells_who_worked_on_it(ledger: Ledger) -> None:
    say(ledger, "ann", put("outlet", id="0-04", storey="g"))
    say(ledger, "ben", change("outlet", "0-04", note="b"))
    ledger.undo("ann", "undo-0001")
    assert [n["code"] for n in ledger.store.notices("job", "ben")] == ["dropped"]


def test_one_gesture_may_touch_a_thing_twice(ledger: Ledger) -> None:
    before = ledger.job
    say(ledger, "ann", change("wall", "w2", note="1"), change("wall", "w2", note="2"))
    say(ledger, "ann", put("outlet", id="0-04", storey="g"), change("outlet", "0-04", note="x"))
    say(ledger, "ann", put("outlet", id="0-05", storey="g"), drop("outlet", "0-05"))
    for number in (1, 2, 3):
        ledger.undo("ann", f"undo-000{number}")
    assert difference(before, ledger.job) == []


def test_two_writers_on_one_store(ledger: Ledger, place: str | Path) -> None:
    """The command line beside a server: each takes in what the other committed."""
    store = Store(connect(place))
    other = Ledger(store, "job")
    say(ledger, "ann", change("wall", "w2", note="a"))
    say(other, "ben", change("wall", "w3", note="b"), base=0)
    assert other.revision == 2
    assert ledger.refresh()
    assert not ledger.refresh()
    assert ledger.state == other.state
    assert [row.revision for row in ledger.rows_since(0)] == [1, 2]
    store.close()


def test_a_commit_that_fails_leaves_memory_and_disk_agreed(
    ledger: Ledger, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Fail before, at and after the commit: nothing is acknowledged, and the retry makes one row."""
    database = ledger.store.database
    execute = type(database)._execute
    for step in ("INSERT INTO edit", "COMMIT", "after"):
        data = edit_data(ledger.revision, change("wall", "w2", note=step))

        def failing(self: Any, sql: str, values: Any, step: str = step) -> Any:
            if sql.startswith(step):
                raise CannotSave("pulled the plug")
            result = execute(self, sql, values)
            if step == "after" and sql == "COMMIT":
                raise CannotSave("pulled the plug")
            return result

        before = ledger.revision
        monkeypatch.setattr(type(database), "_execute", failing)
        with pytest.raises(CannotSave):
            ledger.submit("ann", edit_from_data(data))
        monkeypatch.undo()
        assert ledger.revision == before, "memory ran ahead of the disk"
        receipt = ledger.submit("ann", edit_from_data(data))
        assert receipt.revision == before + 1
        assert ledger.state == reopened(ledger).state
    assert [row.edit for row in ledger.store.rows("job", 0)] == list(
        dict.fromkeys(row.edit for row in ledger.store.rows("job", 0))
    )


def test_a_clock_that_is_set_back(place: str | Path) -> None:
    times = iter([f"2026-01-0{9 - n}T00:00:00+00:00" for n in range(1, 9)])
    store = Store(connect(place))
    store.create(small_job())
    ledger = Ledger(store, "job", clock=lambda: next(times))
    for note in "abcdef":
        say(ledger, "ann", change("wall", "w2", note=note))
    again = reopened(ledger)
    assert again.state == ledger.state
    assert wall(again, "w2").note == "f"
    assert [row.revision for row in again.rows_since(0)] == [1, 2, 3, 4, 5, 6]
    store.close()


def test_snapshots_change_nothing(ledger: Ledger, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("rehaul.jobs.ledger.EDITS_BETWEEN_SNAPSHOTS", 7)
    for number in range(40):
        say(ledger, "ann", change("wall", "w2", note=str(number)))
        if number % 5 == 0:
            ledger.undo("ann", f"undo-{number:04d}")
    assert ledger.revision == 48
    again = reopened(ledger)
    assert again.state == ledger.state
    kept = ledger.store.database.run("SELECT revision FROM snapshot ORDER BY revision")
    assert [row[0] for row in kept] == [0, 35, 42]
    assert ledger.at_revision(1).job.house.walls[1].note == "0"
    assert ledger.at_revision(20).revision == 20
    assert ledger.at_revision(48).job == ledger.job
    assert ledger.rows_since(99) is None


def test_a_log_of_an_earlier_schema_version_is_brought_up(
    ledger: Ledger, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Rows before and after an upgrade, and a thing that was dropped before it."""
    say(ledger, "ann", change("wall", "w2", note="old"))
    say(ledger, "ann", change("wall", "w3", note="gone"), drop("wall", "w3"))
    database = ledger.store.database
    database.run("UPDATE edit SET schema_version = 1")
    for revision, body in database.run("SELECT revision, body FROM snapshot"):
        database.run(
            "UPDATE snapshot SET body = %s WHERE revision = %s",
            (body.replace(f'"schema_version": {SCHEMA_VERSION}', '"schema_version": 1'), revision),
        )
    chain_anew(ledger)

    def upgrade(data: dict[str, Any]) -> dict[str, Any]:
        for thing in data["house"].get("walls", []):
            thing["note"] = thing["note"].upper()
        return data

    def migrating(data: dict[str, Any], *, to: int) -> dict[str, Any]:
        return {**upgrade(data), "schema_version": to} if data["schema_version"] < to else data

    monkeypatch.setattr("rehaul.jobs.state.migrate", migrating)
    again = reopened(ledger)
    assert wall(again, "w2").note == "OLD"
    assert again.state.dropped["w3"].entity.note == "GONE"
    assert again.rows_since(0) is None, "old rows are not for a client of the new version"
