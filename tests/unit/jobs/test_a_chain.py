"""Rows that hold together by digests: what alters one shows, and what may be taken away does not."""

from __future__ import annotations

from dataclasses import replace
from hashlib import blake2b
from typing import Any

import pytest

from rehaul.jobs.chain import (
    GONE,
    RawRow,
    chained,
    digest_of,
    first_broken,
    first_link,
    link_of,
    new_salt,
    salted,
    seal,
    whole,
)

SALT = f"{'a' * 32}:{'b' * 32}"


def bare(revision: int, salt: str = SALT, **changes: Any) -> RawRow:
    row = RawRow(
        revision,
        f"edit-{revision}",
        "ann",
        "2026-01-01",
        "Move",
        "edit",
        None,
        "[1]",
        "[2]",
        "[]",
        "d",
        3,
        "",
        "",
        salt,
    )
    return replace(row, **changes)


def rows(count: int, **how: Any) -> list[RawRow]:
    found: list[RawRow] = []
    for revision in range(1, count + 1):
        found.append(chained(bare(revision, **how), found[-1].link if found else first_link("j")))
    return found


def test_a_digest_is_of_texts_behind_their_lengths() -> None:
    by_hand = blake2b(b"\0" * 7 + b"\2" + b"ab" + b"\0" * 7 + b"\2" + "é".encode(), digest_size=16)
    assert digest_of("ab", "é") == digest_of(b"ab", "é".encode()) == by_hand.hexdigest()
    assert digest_of("ab", "c") != digest_of("a", "bc") != digest_of("abc")
    assert salted("", "text") == digest_of("text") and salted("s", "text") == digest_of("s", "text")
    assert digest_of("\ud800") != digest_of("\ud801")
    one, other = new_salt(), new_salt()
    assert [len(part) for part in one.split(":")] == [32, 32] and one != other


def test_a_seal_is_of_values_as_they_are() -> None:
    assert seal("a", 1, None, b"x") == digest_of("a", "1", "null", b"x")
    assert seal(memoryview(b"x")) == seal(bytearray(b"x")) == seal(b"x")
    assert seal(True) == digest_of("true")


@pytest.mark.parametrize("salt", [SALT, ""])
def test_rows_in_their_order_hold_and_say_the_last_link(salt: str) -> None:
    log = rows(4, salt=salt)
    assert first_broken(first_link("j"), 0, log) == (0, log[-1].link)
    assert first_broken(first_link("j"), 0, []) == (0, first_link("j"))
    assert first_broken(log[1].link, 2, log[2:]) == (0, log[-1].link)  # from the middle on
    assert len(log[0].parts.split(" ")) == (5 if salt else 4)


def test_a_row_that_is_missing_moved_or_of_another_job_is_broken() -> None:
    log = rows(4)
    assert first_broken(first_link("j"), 0, [log[0], *log[2:]]) == (2, log[0].link)
    assert first_broken(first_link("j"), 0, log[1:]) == (1, first_link("j"))
    assert first_broken(first_link("j"), 0, [log[0], log[2], log[1]]) == (2, log[0].link)
    assert first_broken(first_link("other"), 0, log) == (1, first_link("other"))
    assert first_broken(first_link("j"), 1, log) == (2, first_link("j"))


@pytest.mark.parametrize(
    "change",
    [{"edit": "edit-9"}, {"person": "ben"}, {"at": "2026-01-02"}, {"label": "Mov"}, {"label": ""},
     {"way": "undo"}, {"undoes": 1}, {"changes": "[3]"}, {"inverse": "[3]"}, {"told": "[3]"},
     {"digest": "e"}, {"schema_version": 2}, {"schema_version": "3"}, {"revision": 3},
     {"revision": True}, {"undoes": "1"},
     {"changes": b"[1]"}, {"salt": SALT.replace("a", "c")}, {"salt": SALT.replace("b", "c")}, {"salt": ""}],
)  # fmt: skip
@pytest.mark.parametrize("salt", [SALT, ""])
def test_whatever_is_altered_in_a_row_shows(change: dict[str, Any], salt: str) -> None:
    log = rows(3, salt=salt)
    if change.get("salt") == salt:
        return
    log[1] = replace(log[1], **change)
    assert first_broken(first_link("j"), 0, log) == (2, log[0].link)


@pytest.mark.parametrize(
    "gone", [("changes",), ("changes", "inverse", "told"), ("person",), ("told", "person")]
)
def test_texts_may_be_taken_away_and_the_chain_holds(gone: tuple[str, ...]) -> None:
    log = rows(3)
    log[1] = replace(log[1], **dict.fromkeys(gone, GONE))
    assert whole(log[1]) and first_broken(first_link("j"), 0, log) == (0, log[-1].link)
    assert log[1].person_erased == ("person" in gone)


def test_a_label_goes_only_with_all_that_was_done() -> None:
    row = rows(1)[0]
    alone = replace(row, label=GONE)
    assert not whole(alone) and not alone.label_erased
    all_gone = replace(row, label=GONE, changes=GONE, inverse=GONE, told=GONE)
    assert whole(all_gone) and all_gone.label_erased
    for kept in ("changes", "inverse", "told"):
        part = replace(all_gone, **{kept: getattr(row, kept)})
        assert not whole(part) and not part.label_erased
    empty = chained(bare(1, label=""), first_link("j"))  # one that never had a label
    assert whole(empty) and not empty.label_erased
    assert not replace(empty, changes=GONE, inverse=GONE, told=GONE).label_erased


def test_the_person_counts_by_a_digest_or_in_a_row_without_salt_as_such() -> None:
    new, old = rows(1)[0], rows(1, salt="")[0]
    assert link_of(first_link("j"), replace(new, person="ben")) == new.link
    assert link_of(first_link("j"), replace(old, person="ben")) != old.link
    assert old.texts() == ("=Move", "[1]", "[2]", "[]", "ann")
    assert not whole(replace(new, parts=" ".join(new.parts.split(" ")[:4])))
