"""What is an edit and what is none, when two are the same, and which id is free."""

from __future__ import annotations

from typing import Any

import pytest

from rehaul.errors import BadInput
from rehaul.jobs.edits import edit_from_data, free_id


def name(value: str) -> dict[str, Any]:
    return {"do": "set", "kind": "room", "id": "r1", "fields": {"name": value}}


@pytest.mark.parametrize(
    ("changes", "problem"),
    [
        ([{"do": "put", "kind": "fence", "entity": {}}], "there is no kind 'fence'"),
        ([{"do": "drop", "kind": "house", "id": ""}], "there is no kind 'house'"),
        ([{"do": "put", "kind": "job", "entity": {}}], "there is no kind 'job'"),
        ([{"do": "set", "kind": "room", "id": "r1", "fields": {}}], "at least 1"),
        ([], "at least 1"),
        ([name("Hall"), {"do": "set", "kind": "fence", "id": "f", "fields": {"a": 1}}], "there is no kind"),
    ],
)
def test_what_is_no_edit(changes: list[dict[str, Any]], problem: str) -> None:
    with pytest.raises(BadInput, match=problem):
        edit_from_data({"edit": "edit-000001", "base": 0, "changes": changes})


def test_the_same_changes_have_the_same_digest_whoever_looked_at_what() -> None:
    def digest(*changes: dict[str, Any], **more: Any) -> str:
        return edit_from_data({"edit": "edit-000001", "base": 0, "changes": list(changes)} | more).digest()

    assert digest(name("A")) == digest(name("A"), base=7, label="Name", edit="edit-000002")
    assert (
        len(
            {digest(name("A")), digest(name("B")), digest(name("A"), name("B")), digest(name("B"), name("A"))}
        )
        == 4
    )


@pytest.mark.parametrize(
    ("taken", "used", "free"),
    [
        ("C07", {"C08"}, "C09"),
        ("C9", {"C9"}, "C10"),
        ("C09", set(), "C10"),
        ("hall", {"hall-2"}, "hall-3"),
        ("7", {"7"}, "8"),
        ("a1b", set(), "a1b-2"),
    ],
)
def test_the_next_free_id(taken: str, used: set[str], free: str) -> None:
    assert free_id(taken, used) == free
