"""The timetable as a calendar file that any calendar program reads."""

from __future__ import annotations

import datetime
from collections.abc import Sequence

from rehaul.errors import BadInput
from rehaul.takeoff.results import Task
from rehaul.words import again, reader, say

LINE_OCTETS = 75
MIDDAY = "%Y%m%dT%H%M%S"


def calendar_text(job_id: str, title: str, tasks: Sequence[Task], start: datetime.datetime) -> str:
    """One event for each task that has a time, visits on working days one after another.

    Parameters: `start`, local time of the first visit; later visits begin at the same hour on the next
    working day. Held tasks have no time and are left out.

    **Source**: RFC 5545: 3.1 (lines of 75 octets, CRLF), 3.3.11 (escaping), 3.6.1 (events), 3.3.5 form 1
    (local time without a zone).
    """
    if start.tzinfo is not None:
        raise BadInput(
            say("refused_takeoff.time_zone"), where="start", remedy=say("refused_takeoff.give_local_time")
        )
    days = _days(start, max((task.visit for task in tasks), default=1))
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        f"PRODID:-//rehaul//order of work//{reader().language.upper()}",
        f"NAME:{_text(title)}",
    ]
    for task in tasks:
        if task.start_min is None or task.held:
            continue
        begin = days[task.visit - 1] + datetime.timedelta(minutes=task.start_min)
        end = begin + datetime.timedelta(minutes=task.minutes)
        lines += [
            "BEGIN:VEVENT",
            f"UID:{_text(task.key)}@{_text(job_id)}.rehaul",
            f"DTSTAMP:{start.strftime(MIDDAY)}Z",
            f"DTSTART:{begin.strftime(MIDDAY)}",
            f"DTEND:{end.strftime(MIDDAY)}",
            f"SUMMARY:{_text(say('takeoff_lists.step', step=task.id, title=task.title))}",
            f"LOCATION:{_text(again(task.place))}",
            f"DESCRIPTION:{_text(_words(task))}",
            "END:VEVENT",
        ]
    lines.append("END:VCALENDAR")
    return "".join(_folded(line) + "\r\n" for line in lines)


def first_morning(date: str) -> datetime.datetime:
    """Eight o'clock on the working day after a job's date (YYYY-MM-DD), without a time zone.

    Saturdays and Sundays are passed over, holidays not. Raises BadInput where the job has no date.
    """
    try:
        day = datetime.datetime.combine(datetime.date.fromisoformat(date), datetime.time(8))
    except ValueError:
        raise BadInput(
            say("refused_takeoff.no_work_date"), where="start", remedy=say("refused_takeoff.say_when")
        ) from None
    return _days(day, 2)[1]


def _days(start: datetime.datetime, count: int) -> list[datetime.datetime]:
    """The first visit's day and the working days after it; Saturday and Sunday are skipped."""
    days = [start]
    while len(days) < count:
        following = days[-1] + datetime.timedelta(days=1)
        while following.weekday() >= 5:
            following += datetime.timedelta(days=1)
        days.append(following)
    return days


def _words(task: Task) -> str:
    lines: list[str] = [say("takeoff_lists.person", person=task.person)]
    if task.tools:
        lines.append(say("takeoff_lists.tools", tools=task.tools))
    if task.needs:
        lines.append(say("takeoff_lists.after", steps=task.needs))
    lines += again(task.cautions)
    return "\n".join(lines)


def _text(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,")
    return escaped.replace("\r", "").replace("\n", "\\n")


def _folded(line: str) -> str:
    """The line in pieces of at most 75 octets; a piece never splits a character."""
    pieces: list[str] = []
    piece, octets = "", 0
    for character in line:
        size = len(character.encode())
        if octets + size > LINE_OCTETS:
            pieces.append(piece)
            piece, octets = " ", 1
        piece += character
        octets += size
    return "\r\n".join([*pieces, piece])
