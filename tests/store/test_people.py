"""People and their devices."""

from __future__ import annotations

from pathlib import Path

import pytest

from rehaul.errors import BadInput
from rehaul.jobs import People, Store, connect


def test_pairing(place: str | Path) -> None:
    store = Store(connect(place))
    people = People(store)
    token, laptop = people.pair("Ann")
    _, tablet = people.pair("  ann ")
    _, other = people.pair("Ben")
    assert laptop.person == tablet.person != other.person
    assert people.name_of(laptop.person) == "Ann"
    assert [laptop.mark, tablet.mark, other.mark] == ["a", "b", "c"]
    again = People(Store(connect(place)))
    assert again.device(token) == laptop
    assert again.device("made up") is None
    assert token not in str(store.database.run("SELECT * FROM device")), "the token itself is kept"
    people.forget(laptop.id)
    assert people.device(token) is None
    assert [device.id for device in people.devices()] == [tablet.id, other.id]
    assert people.pair("Ann")[1].mark == "d", "marks are not given out twice"
    store.close()


@pytest.mark.parametrize("name", ["", "   ", "x" * 41, "a\x00b"])
def test_names_that_are_none(place: str | Path, name: str) -> None:
    with pytest.raises(BadInput, match="letters"):
        People(Store(connect(place))).pair(name)


def test_marks_go_on_after_z(tmp_path: Path) -> None:
    people = People(Store(connect(tmp_path / "log")))
    marks = [people.pair("Ann")[1].mark for _ in range(60)]
    assert (marks[25], marks[26], marks[51], marks[52]) == ("z", "aa", "az", "ba")
    assert len(set(marks)) == 60
