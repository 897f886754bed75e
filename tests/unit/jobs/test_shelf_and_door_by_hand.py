"""A shelf of pictures and what is written down at the door: each bound by itself, and stores of before."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from rehaul.errors import BadInput, CannotSave, Damaged
from rehaul.jobs import Ledger, Shelf, Store, connect, happenings, pictures
from rehaul.jobs.chain import ERASE
from rehaul.jobs.happenings import Events, erase_names, events_of
from rehaul.jobs.integrity import health_of
from rehaul.jobs.pictures import NoPicture
from rehaul.words import say
from small_log import small_job


@pytest.fixture
def store(tmp_path: Path) -> Store:
    store = Store(connect(tmp_path / "log"))
    store.create(small_job())
    return store


def test_how_many_are_kept() -> None:
    assert (pictures.MOST_PICTURES, pictures.MOST_PHOTOS) == (40, 400)
    assert (happenings.KEPT_OF_A_KIND, happenings.MOST_WAITING, happenings.TOGETHER_S) == (200, 200, 60.0)


def test_the_key_of_a_step_has_one_to_two_hundred_letters_that_can_be_printed(store: Store) -> None:
    shelf = Shelf(store, "job")
    for step in ("s", "s" * 200):
        shelf.add(b"x", "image/png", {}, step)
    for odd in ("", "s" * 201, "a\nb"):
        with pytest.raises(BadInput, match="step"):
            shelf.add(b"x", "image/png", {}, odd)
    assert [row["step"] for row in shelf.list()] == ["s", "s" * 200]


def test_a_picture_that_is_not_what_was_kept_is_not_given_out(store: Store) -> None:
    shelf = Shelf(store, "job")
    first, second = (shelf.add(data, "image/png", {}) for data in (b"one", b"two"))
    with store.writing() as database:
        database.run("UPDATE picture SET type = 'image/jpeg' WHERE id = %s", (first,))
    with pytest.raises(Damaged, match=first):
        shelf.get(first)
    assert shelf.get(second) == (b"two", "image/png")


def test_where_a_picture_lies_and_which_field_is_at_fault(store: Store) -> None:
    shelf = Shelf(store, "job")
    name = shelf.add(b"x", "image/png", {})
    placed = shelf.place(name, {"storey": "g", "metres_per_px": 10})["placement"]
    assert placed == {
        "storey": "g", "metres_per_px": 10.0, "x_m": 0.0, "y_m": 0.0, "turn_deg": 0.0, "shown": True,
    }  # fmt: skip
    for field, value in (
        ("metres_per_px", 10.1),
        ("turn_deg", 361),
        ("turn_deg", -361),
        ("storey", "s" * 33),
    ):
        with pytest.raises(BadInput) as caught:
            shelf.place(name, {"storey": "g", "metres_per_px": 1} | {field: value})
        assert caught.value.where == field
    assert len(name) == 16
    with pytest.raises(NoPicture) as absent:
        shelf.get("x" * 50)
    assert "x" * 40 in str(absent.value.problem) and "x" * 41 not in str(absent.value.problem)


def test_pictures_added_after_one_was_taken_away_still_come_last(store: Store) -> None:
    shelf = Shelf(store, "job")
    names = [shelf.add(b"x", "image/png", {}) for _ in range(3)]
    shelf.drop(names[0])
    names.append(shelf.add(b"y", "image/png", {}))
    assert [row["picture"] for row in shelf.list()] == names[1:]


def kept(events: Events) -> list[tuple[str, int]]:
    events.write()
    return [(one.address, one.times) for one in events.newest()]


def test_room_is_made_for_others_by_what_is_old_and_was_written(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    now = [100.0]
    monkeypatch.setattr(happenings.time, "monotonic", lambda: now[0])
    monkeypatch.setattr(happenings, "MOST_WAITING", 2)
    events = Events(store)
    for address in ("a", "b"):
        events.add("refused", address, "x")
    assert kept(events) == [("b", 1), ("a", 1)]
    now[0] += 60.0
    events.add("refused", "c", "x")
    assert kept(events)[0] == ("many", 1), "a minute to the second, and nobody makes room"
    now[0] += 0.1
    events.add("refused", "d", "x")
    assert kept(events)[0] == ("d", 1)


def test_what_was_not_written_yet_makes_no_room(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    now = [100.0]
    monkeypatch.setattr(happenings.time, "monotonic", lambda: now[0])
    monkeypatch.setattr(happenings, "MOST_WAITING", 1)
    events = Events(store)
    events.add("refused", "a", "x")
    now[0] += 61.0
    events.add("refused", "b", "x")
    assert kept(events) == [("many", 1), ("a", 1)]


@pytest.mark.parametrize(("most", "address"), [(200, "a"), (0, "many")])
def test_what_waits_longer_than_a_minute_is_counted_on_and_not_lost(
    most: int, address: str, store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A store that cannot be written for a while: nobody took the first ones there."""
    now = [100.0]
    monkeypatch.setattr(happenings.time, "monotonic", lambda: now[0])
    monkeypatch.setattr(happenings, "MOST_WAITING", most)
    events = Events(store)
    for seconds in (0.0, 60.0, 0.1):
        now[0] += seconds
        events.add("refused", "a", "x")
    assert kept(events) == [(address, 3)]
    events.add("refused", "a", "x")
    assert kept(events) == [(address, 1), (address, 3)], "and what was written is a row of its own"


def test_what_could_not_be_written_waits_on(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    events = Events(store)
    events.add("refused", "a", "x")

    def full(changed: Any) -> Any:
        raise CannotSave("no room", where="here", remedy="make room")

    with monkeypatch.context() as patch:
        patch.setattr(events, "_put", full)
        with pytest.raises(CannotSave):
            events.write()
    events.add("refused", "b", "x")
    assert kept(events) == [("b", 1), ("a", 1)]


def test_a_store_where_nothing_happened_and_one_of_before(store: Store) -> None:
    assert events_of(store.database) == []
    with store.writing() as database:
        erase_names(database, ["Ann"])
        database.run(happenings.TABLE.replace(", said TEXT NOT NULL DEFAULT ''", ""))
        database.run("INSERT INTO happening VALUES (1, 't', 'paired', 'a', 'a device of Ann', 1)")
    (found,) = events_of(store.database)
    assert (found.words, found.said) == ("a device of Ann", "")
    with store.writing() as database:
        erase_names(database, ["Ann"])
    assert events_of(store.database)[0].words == "erased"
    Events(store).add("paired", "b", "x")
    assert "said" in store.database.columns("happening")


def test_a_name_is_taken_out_of_what_a_sentence_was_made_of_too(store: Store) -> None:
    events = Events(store)
    for name in ('Al "Ann" Lee', "Ben"):
        events.add("paired", name, say("told.paired_device", name=name))
    events.write()
    with store.writing() as database:
        erase_names(database, ['Al "Ann" Lee'])
    ben, ann = events_of(store.database)
    assert (ann.words, ann.said, ann.address, ann.kind) == ("erased", "", "", "paired")
    assert ben.words == "a device of Ben" and "Ben" in ben.said and ben.address == "Ben"


def test_a_whole_log_has_no_erasures(store: Store) -> None:
    Ledger(store, "job")
    found = health_of(store, "job")
    assert (found.head, found.erasures, ERASE) == (0, (), "erase")
