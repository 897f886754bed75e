"""The calendar file against the rules of RFC 5545."""

from __future__ import annotations

import datetime

import pytest

from rehaul.errors import BadInput
from rehaul.takeoff import Task, calendar_text, first_morning

FRIDAY = datetime.datetime(2026, 11, 27, 8)


def task(number: int, visit: int, start_min: float | None, title: str = "Pull, seal; label") -> Task:
    return Task(
        id=f"T{number:02d}",
        key=f"pull:NC{number}",
        title=title,
        stage="run",
        visit=visit,
        place="Küche\nlinks",
        minutes=45,
        start_min=start_min,
        person=1,
        cautions=("Keep \\ three points of contact, on a ladder",),
    )


def unfolded(text: str) -> list[str]:
    return text.replace("\r\n ", "").split("\r\n")


def test_lines_end_and_fold_as_the_rule_says() -> None:
    text = calendar_text("j", "Invented", [task(1, 1, 0, "Ä" * 200)], FRIDAY)
    assert text.endswith("END:VCALENDAR\r\n") and "\n" not in text.replace("\r\n", "")
    assert max(len(line.encode()) for line in text.split("\r\n")) <= 75
    assert f"SUMMARY:T01 {'Ä' * 200}" in unfolded(text)


def test_text_is_escaped() -> None:
    lines = unfolded(calendar_text("j", "Invented", [task(1, 1, 0)], FRIDAY))
    assert "SUMMARY:T01 Pull\\, seal\\; label" in lines
    assert "LOCATION:Küche\\nlinks" in lines
    assert "DESCRIPTION:Person 1\\nKeep \\\\ three points of contact\\, on a ladder" in lines


def test_times_run_on_over_working_days() -> None:
    lines = unfolded(calendar_text("j", "Invented", [task(1, 1, 0), task(2, 2, 30)], FRIDAY))
    assert [line for line in lines if line.startswith("DTSTART")] == [
        "DTSTART:20261127T080000",
        "DTSTART:20261130T083000",  # Monday
    ]
    assert "DTEND:20261130T091500" in lines


def test_every_event_has_its_own_lasting_name() -> None:
    rows = [task(1, 1, 0), task(2, 1, 45)]
    text = calendar_text("j", "Invented", rows, FRIDAY)
    names = [line for line in unfolded(text) if line.startswith("UID:")]
    assert len(set(names)) == 2
    assert text == calendar_text("j", "Invented", rows, FRIDAY)


def test_what_waits_is_left_out() -> None:
    held = task(2, 2, 10).model_copy(update={"held": "Held: C1: an alarm is on it."})
    text = calendar_text("j", "Invented", [task(1, 1, 0), task(3, 2, None), held], FRIDAY)
    assert text.count("BEGIN:VEVENT") == text.count("END:VEVENT") == 1


def test_first_morning_is_the_next_working_day() -> None:
    assert first_morning("2026-11-27") == datetime.datetime(2026, 11, 30, 8)
    with pytest.raises(BadInput):
        first_morning("")
    with pytest.raises(BadInput):
        calendar_text("j", "Invented", [], FRIDAY.replace(tzinfo=datetime.UTC))


def test_a_line_is_cut_at_seventy_five_octets_and_goes_on_after_a_blank() -> None:
    """`SUMMARY:T01 ` and 63 letters fill the first; each that follows holds a blank and 74."""
    text = calendar_text("j", "Invented", [task(1, 1, 0, "x" * 200)], FRIDAY)
    start = text.index("SUMMARY:")
    pieces = text[start : text.index("LOCATION:")].split("\r\n")[:-1]
    assert [len(piece) for piece in pieces] == [75, 75, 64]
    assert (
        pieces[0] == f"SUMMARY:T01 {'x' * 63}" and pieces[1] == " " + "x" * 74 and pieces[2] == " " + "x" * 63
    )


def test_a_whole_calendar_by_hand() -> None:
    row = task(2, 3, 15.5, "Wire").model_copy(
        update={"place": "Hall", "tools": ("tester", "tape"), "needs": ("T01",), "cautions": ()}
    )
    lines = unfolded(calendar_text("job, one", "House; of A", [row], FRIDAY))
    assert lines == [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//rehaul//order of work//EN",
        "NAME:House\\; of A",
        "BEGIN:VEVENT",
        "UID:pull:NC2@job\\, one.rehaul",
        "DTSTAMP:20261127T080000Z",
        "DTSTART:20261201T081530",  # the third working day: Tuesday
        "DTEND:20261201T090030",
        "SUMMARY:T02 Wire",
        "LOCATION:Hall",
        "DESCRIPTION:Person 1\\nTools: tester\\, tape\\nAfter: T01",
        "END:VEVENT",
        "END:VCALENDAR",
        "",
    ]
    assert first_morning("2026-11-28") == first_morning("2026-11-29") == datetime.datetime(2026, 11, 30, 8)
    assert first_morning("2026-11-30") == datetime.datetime(2026, 12, 1, 8)
