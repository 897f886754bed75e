"""A log of five edits, one a day at eight in the morning, made small: which texts go, what may be asked."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from rehaul.errors import BadInput
from rehaul.jobs import Ledger, Store, connect
from rehaul.jobs.compacting import compact
from rehaul.jobs.integrity import health_of
from small_log import note, small_job


def at(day: int, hour: int = 8) -> str:
    return f"2026-03-{day:02d}T{hour:02d}:00:00+00:00"


@pytest.fixture
def ledger(tmp_path: Path) -> Ledger:
    days: Iterator[int] = iter([1, 2, 3, 4, 5, 5, 5])
    store = Store(connect(tmp_path / "log"))
    store.create(small_job())
    ledger = Ledger(store, "job", clock=lambda: at(next(days)))
    for words in "abcde":
        note(ledger, words)
    return ledger


def bare(ledger: Ledger) -> list[int]:
    """Edits that have no texts any more."""
    return [row.revision for row in ledger.store.raw_rows("job", 0) if not row.changes]


def states(ledger: Ledger) -> list[int]:
    sql = "SELECT revision FROM snapshot WHERE job = 'job' ORDER BY revision"
    return [row[0] for row in ledger.store.database.run(sql)]


def is_whole(ledger: Ledger) -> bool:
    found = health_of(ledger.store, "job")
    return not found.faults and found.compacted == len(bare(ledger)) and found.whole_to == 5


@pytest.mark.parametrize(
    ("since", "gone", "kept"),
    [
        (at(1), [], [0]),  # nothing is so old, and nothing is done
        (at(1, 9), [1], [1, 5]),
        (at(3), [1, 2], [2, 5]),  # of that very second stays
        (at(3, 9), [1, 2, 3], [3, 5]),
        (at(5), [1, 2, 3, 4], [4, 5]),
        (at(6), [1, 2, 3, 4, 5], [5]),
    ],
)
def test_texts_from_before_a_time_go_and_the_state_there_is_kept(
    since: str, gone: list[int], kept: list[int], ledger: Ledger
) -> None:
    ledger.compact(keep_since=since)
    assert (bare(ledger), states(ledger), is_whole(ledger)) == (gone, kept, True)
    assert ledger.revision == 5 and ledger.job.house.walls[0].note == "e"


def test_what_is_kept_may_still_be_looked_at_and_undone(ledger: Ledger) -> None:
    ledger.compact(keep_since=at(4))
    for revision, words in ((3, "c"), (4, "d"), (5, "e")):
        assert ledger.at_revision(revision).job.house.walls[0].note == words
    with pytest.raises(BadInput):
        ledger.at_revision(2)
    for number in (1, 2):
        ledger.undo("p1", f"undo-{number:08d}")
    assert ledger.job.house.walls[0].note == "c"
    assert ledger.undo_labels("p1") == {"undo": None, "redo": "Note d"}


def test_without_a_time_a_day_is_kept(ledger: Ledger) -> None:
    ledger.compact()
    assert bare(ledger) == [1, 2, 3]


def test_what_the_file_got_last_is_compared_with_so_the_texts_after_it_stay(ledger: Ledger) -> None:
    ledger.store.put_remark("job", "written", "2 digest\n1 digest")
    ledger.compact(keep_since=at(5))
    assert (bare(ledger), states(ledger)) == ([1, 2], [2, 5]) and is_whole(ledger)
    ledger.store.put_remark("job", "written", "5 digest\n2 digest")
    ledger.compact(keep_since=at(4))
    assert bare(ledger) == [1, 2, 3], "the file is newer than the time"


def test_who_did_what_when_and_the_label_stay(ledger: Ledger) -> None:
    before = ledger.store.raw_rows("job", 0)
    ledger.compact(keep_since=at(3))
    after = ledger.store.raw_rows("job", 0)
    for old, new in zip(before, after, strict=True):
        assert (new.person, new.at, new.label, new.link) == (old.person, old.at, old.label, old.link)
        assert (new.changes, new.inverse, new.told) == (
            ("", "", "") if old.revision < 3 else (old.changes, old.inverse, old.told)
        )


@pytest.mark.parametrize(("sizes", "gone"), [((900, 650), 250), ((650, 900), 0)])
def test_the_bytes_gone_are_told_and_never_less_than_none(
    sizes: tuple[int, int], gone: int, ledger: Ledger, monkeypatch: pytest.MonkeyPatch
) -> None:
    found = iter(sizes)
    monkeypatch.setattr(ledger.store.database, "size_bytes", lambda: next(found))
    assert compact(ledger.store, "job", ledger.state, at(3)) == gone
