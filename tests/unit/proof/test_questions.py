"""What is still unknown: a line taken off comes first, and no tone is asked of a line somebody needs."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any, cast

from rehaul.house import (
    Box,
    Device,
    House,
    Job,
    LineCheck,
    MeetingPoint,
    Need,
    Obligation,
    Run,
    SignOff,
    Storey,
    Wall,
)
from rehaul.proof import open_questions

OFF = LineCheck(id="LX", at="MP1", what="disconnected", sign_off=SignOff(by="Owner", date="2026-11-20"))


def questions(**more: Any) -> list[Any]:
    job = Job(
        id="q",
        title="q",
        house=House(
            storeys=(Storey(id="1", name="Ground", elevation_m=0),),
            meeting_points=(MeetingPoint(id="MP1", name="Closet", storey="1", position=(0, 0)),),
            runs=(Run(id="C1", ends=("MP1", "unknown")),),
        ),
    )
    nothing = cast(Any, SimpleNamespace(rooms=()))
    return list(open_questions(job.model_copy(update=more), cast(Any, [None]), nothing))


def test_a_line_that_is_still_off_is_asked_for_first() -> None:
    assert questions()[0].about == ("C1",)
    first = questions(line_checks=(OFF,))[0]
    assert first.about == ("MP1",) and "connected again" in first.question


def test_no_tone_is_asked_of_a_line_somebody_depends_on() -> None:
    assert "Tone C1" in questions()[0].settle
    owed = Obligation(id="O1", kind="lift", run="C1")
    assert "no tone" in questions(obligations=(owed,))[0].settle


def test_classes_that_no_table_holds_are_asked_for_and_no_others() -> None:
    """Boxes by the table of boxes or that of radios; devices and needs by that of devices."""
    boxes = tuple(
        Box(id=f"B{number}", name=f"Box {number}", equipment=kind, storey="1", position=(0, 0))
        for number, kind in enumerate(("dsl modem", "access point HE 2x2", "grey thing"), 1)
    )
    devices = (Device(id="D1", name="Phone", client="phone"), Device(id="D2", name="Slate", client="slate"))
    needs = (
        Need(id="N1", room="R1", client="phone"),
        Need(id="N2", room="R1"),
        Need(id="N3", room="R1", client="slate"),
    )
    asked = questions(boxes=boxes, devices=devices, needs=needs)
    classes = [one for one in asked if "'grey thing'" in one.question or "'slate'" in one.question]
    assert [one.about for one in classes] == [("B3",), ("D2",), ("N3",)]
    assert "Box 3" in classes[0].question and "Slate" in classes[1].question
    known = {"B1", "B2", "D1", "N1", "N2"}
    assert not known & {name for one in asked for name in one.about}


def test_of_many_walls_without_a_name_twenty_are_named_and_all_are_counted() -> None:
    def asked(count: int) -> Any:
        walls = tuple(Wall(id=f"w{n}", storey="1", start=(n, 0), end=(n, 3)) for n in range(count))
        house = House(storeys=(Storey(id="1", name="Ground", elevation_m=0),), walls=walls)
        job = Job(id="q", title="q", house=house)
        nothing = cast(Any, SimpleNamespace(rooms=()))
        return next(one for one in open_questions(job, [], nothing) if one.about[0] == "w0")

    assert len(asked(20).about) == 20 and asked(21).about == asked(20).about
    assert "21 walls" in asked(21).question and "20 walls" in asked(20).question
