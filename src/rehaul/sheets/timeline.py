"""When each task starts and how long it may take, by visit and person."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rehaul.sheets import svg
from rehaul.sheets.placing import cut_to_width
from rehaul.takeoff.results import Task
from rehaul.words import say

WIDTH_MM, NAME_MM, ROW_MM = 246.0, 86.0, 5.2
TOP_MM, HEAD_MM, GAP_MM = 2.0, 7.0, 3.0
MOST_MM = 152.0  # of a sheet's height, below a heading and above the words under a drawing
FEWEST = 4  # tasks of a visit worth beginning at the foot of a sheet


def timeline_svgs(tasks: Sequence[Task]) -> tuple[str, ...]:
    """Bars over minutes: the middle solid, up to nine cases of ten open; held tasks are crossed out.

    As many drawings as it takes for each to fit a sheet; none where nothing has been scheduled.
    """
    drawings = []
    for sheet in _sheets(tasks):
        parts: list[str] = []
        y = TOP_MM
        for stretch in sheet:
            parts += _drawn(stretch, y)
            y += stretch.height_mm
        drawings.append(svg.drawing(WIDTH_MM, y, parts, title=say("drawings.timeline")))
    return tuple(drawings)


@dataclass(frozen=True)
class _Stretch:
    """Tasks of one visit that stand together, over the time of the whole visit."""

    heading: str
    tasks: tuple[Task, ...]
    longest_min: float

    @property
    def height_mm(self) -> float:
        return HEAD_MM + len(self.tasks) * ROW_MM + GAP_MM


def _sheets(tasks: Sequence[Task]) -> list[list[_Stretch]]:
    """Stretches sheet by sheet: a visit begins below the one before and goes on overleaf."""
    sheets: list[list[_Stretch]] = []
    room_mm = 0.0
    for visit in sorted({task.visit for task in tasks if task.start_min is not None}):
        left = [task for task in tasks if task.visit == visit and (task.start_min is not None or task.held)]
        heading, longest_min = say("drawings.visit", visit=visit), max(_end(task) for task in left)
        while left:
            fit = int((room_mm - HEAD_MM - GAP_MM) // ROW_MM)
            if fit < min(len(left), FEWEST):
                sheets.append([])
                room_mm = MOST_MM - TOP_MM
                continue
            stretch = _Stretch(heading, tuple(left[:fit]), longest_min)
            sheets[-1].append(stretch)
            room_mm -= stretch.height_mm
            left, heading = left[fit:], say("drawings.visit_continued", visit=visit)
    return sheets


def _drawn(stretch: _Stretch, top: float) -> list[str]:
    longest = stretch.longest_min
    step = next((s for s in (15, 30, 60, 120, 240, 480) if longest / s <= 10), 960)
    beyond_mm = max(8.0, svg.text_width_mm(say("drawings.held"), 2.4, mono=True) + 1.5)  # of the longest bar
    per_min = (WIDTH_MM - NAME_MM - beyond_mm) / (-(-longest // step) * step)
    head = top + 3.4
    parts = [svg.text((0, head), stretch.heading, size=3.2, bold=True)]
    bottom = top + HEAD_MM + len(stretch.tasks) * ROW_MM
    for i in range(int(longest // step) + 2):
        x = NAME_MM + i * step * per_min
        if x > WIDTH_MM:
            break
        parts.append(svg.line((x, top + 5), (x, bottom), stroke=svg.PALE, stroke_width=svg.FINE_MM))
        hours, minutes = divmod(i * step, 60)
        parts.append(svg.text((x, head), f"{hours}:{minutes:02d}", size=2.4, anchor="middle", mono=True))
    for row, task in enumerate(stretch.tasks):
        parts.append(_row(task, top + 6.0 + row * ROW_MM, per_min))
    return parts


def _end(task: Task) -> float:
    return (task.start_min or 0.0) + max(task.minutes, task.minutes_90)


def _row(task: Task, y: float, per_min: float) -> str:
    title = cut_to_width(task.title, 2.4, NAME_MM - 12)
    middle = y + ROW_MM / 2
    parts = [
        svg.text((0, middle + 0.9), task.id, size=2.2, mono=True, bold=True),
        svg.text((8.5, middle + 0.9), title, size=2.4),
    ]
    if task.start_min is None:
        return "".join(
            (
                *parts,
                svg.text((NAME_MM + 1, middle + 0.9), say("drawings.held"), size=2.4, bold=True, mono=True),
            )
        )
    x = NAME_MM + task.start_min * per_min
    width, longer = task.minutes * per_min, max(task.minutes, task.minutes_90) * per_min
    bar: svg.Style = {"stroke": svg.INK, "stroke_width": svg.THIN_MM}
    parts.append(
        svg.rect(x, y + 1.4, longer, ROW_MM - 2.8, fill=svg.PAPER, stroke_dasharray="0.8 0.6", **bar)
    )
    parts.append(svg.rect(x, y + 0.9, width, ROW_MM - 1.8, fill=svg.PALE if task.held else svg.INK, **bar))
    if task.held:
        cross = f"M{svg.number(x)} {svg.number(y + 0.9)}l{svg.number(width)} {svg.number(ROW_MM - 1.8)}"
        parts.append(svg.element("path", d=cross, **bar))
        parts.append(
            svg.text((x + longer + 1, middle + 0.9), say("drawings.held"), size=2.4, bold=True, mono=True)
        )
    elif task.person:
        words = say("drawings.person", person=task.person)
        if width > 14:
            parts.append(svg.text((x + 1.2, middle + 0.8), words, size=2.0, fill=svg.PAPER))
        else:
            parts.append(svg.text((x + longer + 1, middle + 0.8), words, size=2.0))
    return "".join(parts)
