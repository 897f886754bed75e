"""What somebody is told whose change met another's, word for word, and the same again from what was kept."""

from __future__ import annotations

from typing import Any

import pytest

from rehaul.jobs.told import LONGEST_KEPT, Meeting, door_again, kept_code, notice_again, notice_of
from rehaul.words import say

POINT = ("meeting_point", "MP1")


@pytest.mark.parametrize(
    ("code", "field", "who", "words"),
    [
        ("overrode", "note", "Ann", "Your change replaced Ann's change to note of meeting point MP1."),
        ("overrode", "", "Ann", "Your change replaced Ann's change to meeting point MP1."),
        ("overrode", "note", None, "Your change replaced Somebody's change to note of meeting point MP1."),
        (
            "overtaken",
            "note",
            "Ann",
            "Ann's later change to note of meeting point MP1 stands instead of yours.",
        ),
        ("dropped", "note", "Ann", "Ann took away meeting point MP1, which you had changed."),
        ("dropped", "note", None, "Somebody took away meeting point MP1, which you had changed."),
    ],
)
def test_a_notice_word_for_word(code: Meeting, field: str, who: str | None, words: str) -> None:
    assert str(notice_of(code, *POINT, field, who)) == words


def test_what_is_gone_has_no_fields_and_its_change_is_kept() -> None:
    said = str(notice_of("gone", *POINT, "note", "Ann"))
    assert said.startswith("Ann took away meeting point MP1; your change is kept with it")


def test_what_a_job_has_once_goes_without_an_id() -> None:
    for field, what in (("modem", "modem of service"), ("", "service")):
        said = str(notice_of("overrode", "service", "", field, "Ann"))
        assert said == f"Your change replaced Ann's change to {what}."


def note(**changes: Any) -> dict[str, Any]:
    kept = {
        "code": "overrode",
        "revision": 4,
        "by": "Ann",
        "kind": "wall",
        "id": "w1",
        "field": "note",
        "words": "as it was said",
    }
    return kept | changes


def test_a_kept_notice_is_said_again() -> None:
    again = notice_again(note())
    assert again["words"] == notice_of("overrode", "wall", "w1", "note", "Ann") != "as it was said"
    assert {**again, "words": "as it was said"} == note(), "nothing else of it is touched"
    unknown = notice_again(note(revision=None, by="somebody of before"))
    assert unknown["words"] == notice_of("overrode", "wall", "w1", "note", None)


@pytest.mark.parametrize("code", ["of a later program", None])
def test_a_notice_of_another_kind_comes_back_as_it_is(code: str | None) -> None:
    kept = note(code=code)
    again = notice_again(kept)
    assert again == kept and again is not kept


def test_a_thousand_letters_are_kept_of_what_a_sentence_was_made_of() -> None:
    assert LONGEST_KEPT == 1000
    spare = 1000 - len(kept_code(say("told.paired_device", name="")))
    assert len(kept_code(say("told.paired_device", name="x" * spare))) == 1000
    assert kept_code(say("told.paired_device", name="x" * (spare + 1))) == ""


def test_letters_of_every_language_are_kept_as_they_are() -> None:
    assert "Zoë" in kept_code(say("told.paired_device", name="Zoë"))


def test_who_was_forgotten_is_not_taken_for_a_device_of_a_long_name() -> None:
    for code, values in (
        ("told.forgotten_device", {"name": "Ann", "by": "Ben"}),
        ("told.paired_device", {"name": "Ann"}),
    ):
        text = str(say(code, **values))
        assert getattr(door_again(text), "code", "") == code
    assert str(door_again("whatever else")) == "whatever else"
