"""Two people on one job, in memory: what each edit comes to, who is told of whom, what undo turns back."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any, cast

import pytest

from rehaul.errors import BadInput
from rehaul.house import House, Job, Need, Opening, Room, Storey, Wall
from rehaul.jobs.apply import EditOutcome, Overtaken, Taken, apply_edit, apply_undo
from rehaul.jobs.differences import difference
from rehaul.jobs.edits import edit_from_data
from rehaul.jobs.state import JobState, LogRow, dump_state, replay, touches
from rehaul.jobs.told import door_again, notice_again

NAMES = {"ann": "Ann", "ben": "Ben"}


def job() -> Job:
    square = ((0, 0), (4, 0), (4, 4), (0, 4))
    return Job(
        id="j",
        title="Small",
        house=House(
            storeys=(Storey(id="1", name="Ground", elevation_m=0),),
            walls=(
                Wall(id="w1", storey="1", start=(0, 0), end=(4, 0)),
                Wall(id="w2", storey="1", start=(4, 0), end=(4, 4)),
            ),
            openings=(Opening(id="d1", wall="w1", kind="door", offset_m=1, width_m=0.8),),
            rooms=(Room(id="r1", name="Hall", storey="1", polygon=square),),
        ),
        needs=(Need(id="n1", room="r1", down_mbps=50),),
    )


class Log:
    """A log in memory: edits of people one after the other, each looking at some revision."""

    def __init__(self) -> None:
        self.state = JobState(0, job(), {}, {})
        self.rows: list[LogRow] = []
        self.begin = dump_state(self.state)

    def edit(self, person: str, *changes: dict[str, Any], base: int | None = None, **how: Any) -> EditOutcome:
        seen = self.state.revision if base is None else base
        edit = edit_from_data({"edit": f"edit-{len(self.rows):06d}", "base": seen, "changes": list(changes)})
        return self._kept(person, apply_edit(self.state, edit, person, NAMES.__getitem__, **how))

    def undo(self, person: str, revision: int) -> EditOutcome:
        row = self.rows[revision - 1]
        return self._kept(person, apply_undo(self.state, row, person, NAMES.__getitem__))

    def _kept(self, person: str, found: EditOutcome) -> EditOutcome:
        self.state = found.state
        row = SimpleNamespace(
            revision=found.state.revision,
            person=person,
            changes=found.changes,
            inverse=found.inverse,
            label="",
            schema_version=job().schema_version,
        )
        self.rows.append(cast(Any, row))
        again = replay(self.begin, self.rows)
        assert (again.job, again.revision) == (self.state.job, self.state.revision), (
            "as it is read from the log"
        )
        assert again.dropped == self.state.dropped and again.touched == self.state.touched
        return found


def name(value: str, thing: str = "r1") -> dict[str, Any]:
    return {"do": "set", "kind": "room", "id": thing, "fields": {"name": value}}


def gone(kind: str, thing: str) -> dict[str, Any]:
    return {"do": "drop", "kind": kind, "id": thing}


def codes(found: EditOutcome) -> tuple[list[tuple[Any, ...]], list[tuple[Any, ...]]]:
    """What its author is told, and whom else: code, thing, field and by whom."""
    own = [(note["code"], note["id"], note["field"], note["by"], note["revision"]) for note in found.told]
    return own, [(who, note["code"], note["id"], note["field"], note["by"]) for who, note in found.notices]


def test_whoever_had_seen_the_others_edit_is_told_nothing() -> None:
    log = Log()
    assert codes(log.edit("ann", name("Entry"))) == ([], [])
    assert codes(log.edit("ben", name("Lobby"))) == ([], [])
    assert log.state.job.house.rooms[0].name == "Lobby" and log.state.revision == 2
    assert touches(log.rows[1]) == {("room", "r1", "name"): log.state.touched["room", "r1", "name"]}


def test_both_are_told_where_one_had_not_seen_the_other() -> None:
    log = Log()
    log.edit("ann", name("Entry"), base=0)
    found = log.edit("ben", name("Lobby"), base=0)
    assert codes(found) == (
        [("overrode", "r1", "name", "Ann", 1)],
        [("ann", "overtaken", "r1", "name", "Ben")],
    )
    assert found.notices[0][1]["revision"] == 2


def test_nobody_is_told_of_the_same_value_of_another_field_or_of_oneself() -> None:
    log = Log()
    log.edit("ann", name("Entry"), base=0)
    assert codes(log.edit("ben", name("Entry"), base=0)) == ([], [])
    lived = {"do": "set", "kind": "room", "id": "r1", "fields": {"lived_in": False}}
    assert codes(log.edit("ann", lived, base=0)) == ([], [])
    assert codes(log.edit("ben", name("Lobby"), base=0)) == ([], [])  # his own came last


def test_who_drops_what_another_worked_on_and_who_works_on_what_is_gone() -> None:
    log = Log()
    log.edit("ann", {"do": "set", "kind": "opening", "id": "d1", "fields": {"width_m": 0.9}}, base=0)
    found = log.edit("ben", gone("wall", "w1"), base=0)
    assert codes(found) == (
        [("overrode", "d1", "width_m", "Ann", 1)],
        [("ann", "dropped", "d1", "width_m", "Ben")],
    )
    assert [(one["do"], one["id"]) for one in found.changes] == [("drop", "d1"), ("drop", "w1")]
    again = log.edit("ann", gone("wall", "w1"), base=1)
    assert codes(again) == ([("gone", "w1", "", "Ben", 2)], []) and again.changes == []
    late = log.edit("ann", {"do": "set", "kind": "wall", "id": "w1", "fields": {"note": "damp"}}, base=1)
    assert codes(late)[0] == [("gone", "w1", "", "Ben", 2)]
    assert log.state.dropped["w1"].entity.note == "damp"  # kept where it lies, should it come back


def test_a_room_takes_its_needs_along_and_no_storey_goes_under_a_wall() -> None:
    log = Log()
    found = log.edit("ann", gone("room", "r1"))
    assert [one["id"] for one in found.changes] == ["n1", "r1"] and log.state.job.needs == ()
    with pytest.raises(BadInput, match="wall w1, wall w2 still hang on storey 1"):
        log.edit("ann", gone("storey", "1"))
    assert log.undo("ann", 1).told == [] and log.state.job == job()


def test_an_id_is_given_once() -> None:
    log = Log()
    wall = {"id": "w3", "storey": "1", "start": (0, 4), "end": (4, 4)}
    put = {"do": "put", "kind": "wall", "entity": wall}
    log.edit("ann", put)
    for taken, free in (("w3", "w4"), ("w1", "w4"), ("r1", "r2"), ("d1", "d2")):
        with pytest.raises(Taken) as caught:
            log.edit("ben", {**put, "entity": wall | {"id": taken}})
        assert caught.value.free == caught.value.as_dict()["free"] == free
        assert caught.value.as_dict()["code"] == "taken" and repr(taken) in str(caught.value)
    log.edit("ann", gone("wall", "w3"))
    with pytest.raises(Taken, match="is or was another wall's"):
        log.edit("ann", put)
    log.edit("ann", put, from_file=True)  # a file edited elsewhere may bring it back
    log.edit("ann", gone("wall", "w3"))
    room = {"id": "w3", "name": "Den", "storey": "1", "polygon": ((0, 0), (1, 0), (1, 1))}
    with pytest.raises(Taken):  # but not as something else
        log.edit("ann", {"do": "put", "kind": "room", "entity": room}, from_file=True)


def test_undo_turns_back_what_still_stands() -> None:
    log = Log()
    both = {"do": "set", "kind": "room", "id": "r1", "fields": {"name": "Entry", "lived_in": False}}
    log.edit("ann", both)
    log.edit("ben", name("Lobby"))
    found = log.undo("ann", 1)
    assert codes(found) == ([("overtaken", "r1", "name", "Ben", 2)], [])
    room = log.state.job.house.rooms[0]
    assert (room.name, room.lived_in) == ("Lobby", True)
    with pytest.raises(Overtaken, match="others have changed all of it"):
        log.undo("ann", 1)
    log.undo("ben", 2)
    assert log.state.job.house.rooms[0].name == "Entry"


def test_undo_of_a_gesture_goes_from_its_end_to_its_beginning() -> None:
    log = Log()
    log.edit("ann", name("One"), name("Two"), name("Three"))
    log.undo("ann", 1)
    assert log.state.job.house.rooms[0].name == "Hall"


def test_undo_of_taking_away_brings_back_and_undo_of_adding_takes_away() -> None:
    log = Log()
    log.edit("ann", gone("wall", "w1"))
    log.undo("ann", 1)
    assert [wall.id for wall in log.state.job.house.walls] == ["w2", "w1"] and not log.state.dropped
    assert log.state.job.house.openings == job().house.openings
    log.undo("ann", 2)  # undone itself
    assert [wall.id for wall in log.state.job.house.walls] == ["w2"]
    device = {"do": "put", "kind": "device", "entity": {"id": "v1", "name": "Phone", "client": "phone"}}
    log.edit("ann", device)
    log.edit("ben", {"do": "set", "kind": "device", "id": "v1", "fields": {"name": "Slate"}})
    found = log.undo("ann", 4)
    assert log.state.job.devices == ()
    assert codes(found) == (
        [("overrode", "v1", "name", "Ben", 5)],
        [("ben", "dropped", "v1", "name", "Ann")],
    )


def test_what_was_taken_away_again_by_another_does_not_come_back() -> None:
    log = Log()
    log.edit("ann", gone("room", "r1"))
    log.undo("ann", 1)
    log.edit("ben", gone("room", "r1"))
    with pytest.raises(Overtaken):
        log.undo("ann", 1)


def test_who_loses_only_the_name_of_what_is_gone_keeps_the_rest() -> None:
    log = Log()
    outlet = {"id": "P1", "storey": "1", "kind": "telephone", "room": "r1", "position": [0, 1]}
    run = {"id": "C1", "ends": ["P1", "unknown"]}
    log.edit(
        "ann", {"do": "put", "kind": "outlet", "entity": outlet}, {"do": "put", "kind": "run", "entity": run}
    )
    log.edit("ben", gone("room", "r1"))
    assert log.state.job.house.outlets[0].room is None
    found = log.edit("ann", gone("outlet", "P1"), gone("outlet", "P1"))  # again in one gesture
    assert log.state.job.house.runs[0].ends == ("unknown", "unknown") and found.told == []
    log.undo("ann", 3)
    assert log.state.job.house.runs[0].ends == ("P1", "unknown")
    log.undo("ben", 2)
    assert log.state.job.house.outlets[0].room == "r1" and log.state.job.needs == job().needs


def test_what_came_back_otherwise_is_not_brought_back_twice() -> None:
    log = Log()
    log.edit("ann", gone("need", "n1"), name("Entry"))
    need = {"id": "n1", "room": "r1", "down_mbps": 60}
    log.edit("ben", {"do": "put", "kind": "need", "entity": need}, from_file=True)
    found = log.undo("ann", 1)
    assert [(note["code"], note["id"], note["by"], note["revision"]) for note in found.told] == [
        ("overtaken", "n1", "Somebody", None)
    ]
    assert log.state.job.needs[0].down_mbps == 60 and log.state.job.house.rooms[0].name == "Hall"


def test_undo_of_adding_what_is_gone_already_does_nothing() -> None:
    log = Log()
    device = {"do": "put", "kind": "device", "entity": {"id": "v1", "name": "Phone", "client": "phone"}}
    log.edit("ann", device, name("Entry"))
    log.edit("ben", gone("device", "v1"))
    assert log.undo("ann", 1).told == [] and log.state.job.house.rooms[0].name == "Hall"
    with pytest.raises(Overtaken):
        log.undo("ann", 1)


@pytest.mark.parametrize(
    ("change", "problem"),
    [
        ({"do": "set", "kind": "room", "id": "r9", "fields": {"name": "A"}}, "there is no room 'r9'"),
        ({"do": "drop", "kind": "room", "id": "w1"}, "there is no room 'w1'"),
        ({"do": "set", "kind": "room", "id": "r1", "fields": {"id": "r2"}}, "room has no field 'id'"),
        ({"do": "set", "kind": "room", "id": "r1", "fields": {"colour": "red"}}, "has no field 'colour'"),
        ({"do": "set", "kind": "house", "fields": {"walls": []}}, "house has no field 'walls'"),
        ({"do": "set", "kind": "room", "id": "r1", "fields": {"name": 5}}, "room r1, name: .*string"),
        ({"do": "set", "kind": "room", "id": "r1", "fields": {"storey": "7"}}, "after this edit"),
        ({"do": "put", "kind": "wall", "entity": {"id": "w9"}}, "wall w9, storey: Field required"),
        ({"do": "put", "kind": "wall", "entity": {}}, "wall [?], id: Field required"),
    ],
)
def test_a_change_that_cannot_be_is_refused_by_its_place(change: dict[str, Any], problem: str) -> None:
    log = Log()
    with pytest.raises(BadInput, match=problem):
        log.edit("ann", change)
    assert log.state.job == job() and log.state.revision == 0


def test_a_thing_of_another_kind_that_is_gone_is_not_this_one() -> None:
    log = Log()
    log.edit("ann", gone("need", "n1"))
    with pytest.raises(BadInput, match="there is no wall 'n1'"):
        log.edit("ann", {"do": "set", "kind": "wall", "id": "n1", "fields": {"note": "damp"}})


def test_at_most_five_that_hang_on_it_are_named() -> None:
    def held(count: int) -> str:
        log = Log()
        for n in range(3, count):  # two walls and a room hang on it already
            wall = {"id": f"w{n}", "storey": "1", "start": (0, n), "end": (4, n)}
            log.edit("ann", {"do": "put", "kind": "wall", "entity": wall})
        with pytest.raises(BadInput, match="still hang on storey 1") as caught:
            log.edit("ann", gone("storey", "1"))
        return str(caught.value)

    assert " more " not in held(5) and " and 1 more still" in held(6) and " and 3 more still" in held(8)


def test_what_hangs_on_nothing_any_more_is_no_matter() -> None:
    log = Log()
    storey = {"id": "2", "name": "Upper", "elevation_m": 2.7}
    log.edit("ann", {"do": "put", "kind": "storey", "entity": storey})
    log.edit("ann", gone("storey", "2"), {"do": "set", "kind": "contacts", "fields": {"firm": "Wires"}})
    assert [one.id for one in log.state.job.house.storeys] == ["1"]
    assert log.state.job.contacts.firm == "Wires" and log.state.job.title == "Small"
    log.edit("ann", {"do": "set", "kind": "house", "fields": {"built_year": 1920}})
    assert log.state.job.house.built_year == 1920 and log.state.job.house.walls == job().house.walls


def test_a_value_that_cannot_be_is_let_in_from_a_file_alone() -> None:
    log = Log()
    high = {"do": "set", "kind": "job", "fields": {"title": "Other"}}
    box = {
        "id": "b1",
        "name": "Box",
        "equipment": "dsl modem",
        "storey": "1",
        "position": (1, 1),
        "height_m": 400,
    }
    put = {"do": "put", "kind": "box", "entity": box}
    with pytest.raises(BadInput, match="box b1"):
        log.edit("ann", put)
    log.edit("ann", put, from_file=True)
    log.edit(
        "ann", high, {"do": "set", "kind": "box", "id": "b1", "fields": {"name": "High box"}}
    )  # as it was
    with pytest.raises(BadInput, match="box b1"):
        log.edit("ann", {"do": "set", "kind": "box", "id": "b1", "fields": {"height_m": 401}})
    log.edit("ann", {"do": "set", "kind": "box", "id": "b1", "fields": {"height_m": 1}})


def test_what_the_signed_plan_stands_on_stays(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("rehaul.jobs.draft.signed_on", lambda job, thing: "A1" if thing == "n1" else "")
    log = Log()
    with pytest.raises(BadInput, match="the plan that was signed with offer A1 stands on need n1"):
        log.edit("ann", gone("need", "n1"))
    log.edit("ann", gone("wall", "w1"))


def test_offers_are_accepted_by_no_page() -> None:
    change = {"do": "set", "kind": "job", "fields": {"accepted_offers": []}}
    with pytest.raises(BadInput, match="accepted as a whole"):
        Log().edit("ann", change)
    Log().edit("ann", change, from_file=True)
    Log().edit("ann", {"do": "set", "kind": "job", "fields": {"title": "Other"}})


def test_the_difference_of_two_jobs_leads_from_one_to_the_other() -> None:
    assert difference(job(), job()) == []
    log = Log()
    house = job().house
    new = job().model_copy(
        update={
            "title": "Other",
            "house": house.model_copy(
                update={
                    "walls": (
                        house.walls[1].model_copy(update={"note": "damp", "end": (4, 3)}),
                        Wall(id="w3", storey="1", start=(0, 4), end=(4, 4)),
                    ),
                    "openings": (Opening(id="d2", wall="w3", kind="door", offset_m=1, width_m=0.8),),
                    "built_year": 1920,
                }
            ),
        }
    )
    changes = difference(job(), new)
    assert [(one["do"], one["kind"], one.get("id", "")) for one in changes] == [
        ("put", "wall", ""),
        ("put", "opening", ""),
        ("set", "wall", "w2"),
        ("drop", "wall", "w1"),
        ("drop", "opening", "d1"),
        ("set", "job", ""),
        ("set", "house", ""),
    ]
    assert changes[2]["fields"] == {"note": "damp", "end": [4, 3]}
    assert changes[5]["fields"] == {"title": "Other"} and changes[6]["fields"] == {"built_year": 1920}
    log.edit("ann", *changes, from_file=True)
    assert log.state.job == new


def test_notices_are_said_again_from_what_they_were_made_of() -> None:
    log = Log()
    log.edit("ann", name("Entry"), base=0)
    note = log.edit("ben", name("Lobby"), base=0).told[0]
    assert notice_again(note) == note and "Ann" in note["words"] and "name" in note["words"]
    whole = notice_again(note | {"code": "gone", "field": "", "words": "?"})["words"]
    assert "room r1" in whole and "Ann" in whole
    assert "Ann" not in notice_again(note | {"revision": None})["words"]
    assert notice_again({"code": "other", "words": "as it is"}) == {"code": "other", "words": "as it is"}
    assert getattr(door_again("a device of Ada"), "code", "") == "told.paired_device"
    assert str(door_again("nothing that is known")) == "nothing that is known"
