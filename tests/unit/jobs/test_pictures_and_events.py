"""Pictures of a job and what happened at its door: in order, counted, and no more than are kept."""

from __future__ import annotations

from pathlib import Path

import pytest

from rehaul.errors import BadInput, Refusal
from rehaul.jobs import (
    Ledger,
    Shelf,
    Store,
    connect,
    happenings,
    pictures,
)
from rehaul.jobs.happenings import Events, erase_names
from small_log import note, small_job


@pytest.fixture
def store(tmp_path: Path) -> Store:
    store = Store(connect(tmp_path / "log"))
    store.create(small_job())
    ledger = Ledger(store, "job")
    for words in "abc":
        note(ledger, words)
    return store


def test_pictures_are_kept_in_order_plans_and_photos_counted_apart(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(pictures, "MOST_PICTURES", 2)
    monkeypatch.setattr(pictures, "MOST_PHOTOS", 3)
    shelf = Shelf(store, "job")
    first = shelf.add(b"plan", "image/png", {"width_px": 10})
    photos = [
        shelf.add(b"p%d" % n, kind, {}, f"step {n}")
        for n, kind in enumerate(["image/jpeg", "image/png", "a/b"])
    ]
    second = shelf.add(b"plan 2", "image/png", {})
    for step in (None, "step 9"):
        with pytest.raises(BadInput):
            shelf.add(b"more", "image/png", {}, step)
    for odd in ("", "x" * 201, "a\nb"):
        with pytest.raises(BadInput):
            shelf.add(b"more", "image/png", {}, odd)
    rows = shelf.list()
    assert [row["picture"] for row in rows] == [first, *photos, second]
    assert rows[0] == {"picture": first, "step": None, "width_px": 10, "placement": None}
    assert [name for _, _, name in shelf.photos()] == ["photos/001.jpg", "photos/002.png", "photos/003.bin"]
    assert shelf.get(first) == (b"plan", "image/png")
    placed = shelf.place(first, {"storey": "g", "metres_per_px": 0.01})
    assert placed["placement"]["x_m"] == 0.0 and "order" not in placed and placed["width_px"] == 10
    assert shelf.list()[0]["placement"]["storey"] == "g" and shelf.get(first)[0] == b"plan"
    with pytest.raises(BadInput):
        shelf.place(first, {"storey": "g", "metres_per_px": 0})
    shelf.drop(photos[0])
    assert [name for _, _, name in shelf.photos()] == ["photos/001.png", "photos/002.bin"]
    for gone in (
        lambda: shelf.drop(photos[0]),
        lambda: shelf.get("x"),
        lambda: shelf.place("x", placed["placement"]),
    ):
        with pytest.raises(Refusal):
            gone()
    assert shelf.add(b"again", "image/png", {}, "step 4") and shelf.list()[-1]["step"] == "step 4"


def test_what_happens_at_the_door_is_counted_within_a_minute(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    now = [100.0]
    monkeypatch.setattr(happenings.time, "monotonic", lambda: now[0])
    events = Events(store)

    def kept() -> list[tuple[str, str, int]]:
        events.write()
        return [(one.kind, one.address, one.times) for one in events.newest()]

    for _ in range(3):
        events.add("refused", "10.0.0.1", "x")
    assert kept() == [("refused", "10.0.0.1", 3)]
    now[0] += 60.0
    events.add("refused", "10.0.0.1", "x")
    assert kept() == [("refused", "10.0.0.1", 4)], "a minute to the second"
    now[0] += 0.1
    events.add("refused", "10.0.0.1", "x")
    events.add("refused", "10.0.0.1", "y")
    assert kept() == [("refused", "10.0.0.1", 1), ("refused", "10.0.0.1", 1), ("refused", "10.0.0.1", 4)]
    events.add("paired", "a" * 70, "w" * 200)
    events.write()
    assert len(events.newest()[0].address) == 60 and len(str(events.newest()[0].words)) == 160
    monkeypatch.setattr(happenings, "KEPT_OF_A_KIND", 2)
    events.add("refused", "10.0.0.2", "z")
    assert [row for row in kept() if row[0] == "refused"] == [
        ("refused", "10.0.0.2", 1), ("refused", "10.0.0.1", 1),
    ]  # fmt: skip
    assert len(kept()) == 3, "of another kind nothing went"


def test_a_flood_is_counted_together_and_names_can_be_taken_away(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(happenings, "MOST_WAITING", 3)
    events = Events(store)
    for number in range(6):
        events.add("wrong-code", f"10.0.0.{number}", "x")
    events.write()
    assert [(one.address, one.times) for one in events.newest()] == [
        ("many", 3), ("10.0.0.2", 1), ("10.0.0.1", 1), ("10.0.0.0", 1),
    ]  # fmt: skip
    other = Events(store)
    other.add("paired", "10.0.0.9", "a device of Ann")
    other.write()
    with store.writing() as database:
        erase_names(database, ["Ann"])
    newest = other.newest()[0]
    assert newest.address == "" and "Ann" not in str(newest.words) and newest.kind == "paired"
    assert [one.address for one in other.newest()][1:] == ["many", "10.0.0.2", "10.0.0.1", "10.0.0.0"]
