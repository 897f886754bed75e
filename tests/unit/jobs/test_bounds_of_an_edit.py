"""How long the parts of an edit may be, where a fault of one is said to stand, and what makes it the same."""

from __future__ import annotations

from typing import Any

import pytest

from rehaul.errors import BadInput
from rehaul.jobs import edits
from rehaul.jobs.edits import edit_from_data

FIELDS = {"name": "Hall", "note": "long"}


def data(*changes: dict[str, Any], **more: Any) -> dict[str, Any]:
    return {"edit": "edit-000001", "base": 0, "changes": list(changes) or [renamed()]} | more


def renamed(**more: Any) -> dict[str, Any]:
    return {"do": "set", "kind": "room", "id": "r1", "fields": FIELDS} | more


def place(given: object) -> str:
    with pytest.raises(BadInput) as caught:
        edit_from_data(given)
    return str(caught.value.where)


def test_a_thing_s_id_has_up_to_32_letters() -> None:
    for do, more in (("set", {"fields": FIELDS}), ("drop", {})):
        fits = {"do": do, "kind": "room", "id": "r" * 32} | more
        assert edit_from_data(data(fits)).changes[0].id == "r" * 32  # type: ignore[union-attr]
        assert "changes.0" in place(data(fits | {"id": "r" * 33}))


def test_an_edit_s_id_has_8_to_64_letters_and_its_label_up_to_80() -> None:
    for name in ("a" * 8, "A_b-0" * 12 + "1234"):
        assert edit_from_data(data(edit=name, label="x" * 80)).edit == name
    for name in ("a" * 7, "a" * 65, "eight ok", "ümlaut-1"):
        assert place(data(edit=name)).endswith("edit")
    assert place(data(label="x" * 81)).endswith("label")
    assert place(data(base=-1)).endswith("base")


def test_a_whole_house_is_one_edit_of_up_to_fifty_thousand_changes() -> None:
    assert edits.MOST_CHANGES == 50_000
    assert place(data(*[renamed()] * 50_001)).endswith("changes")


def test_the_order_in_which_fields_were_sent_does_not_count() -> None:
    turned = dict(reversed(FIELDS.items()))
    assert list(turned) != list(FIELDS)
    assert edit_from_data(data()).digest() == edit_from_data(data(renamed(fields=turned))).digest()
    other = edit_from_data(data(renamed(fields={"name": "long", "note": "Hall"})))
    assert edit_from_data(data()).digest() != other.digest()


def test_where_the_fault_stands() -> None:
    nothing = place([])
    assert nothing == place("x") and nothing.endswith("edit")
    assert place(data(renamed(), renamed(kind="fence"))).endswith("changes.1.kind")
    assert place(data(renamed(fields={}))).endswith("fields")


def test_of_a_kind_that_is_none_forty_letters_are_said() -> None:
    with pytest.raises(BadInput) as caught:
        edit_from_data(data(renamed(kind="k" * 50)))
    assert "'" + "k" * 40 + "'" in str(caught.value.problem)
