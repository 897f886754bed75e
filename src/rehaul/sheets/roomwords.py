"""What is written inside a room: its name, and lines below it, as large as there is room for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from shapely import Point, Polygon
from shapely.geometry.base import BaseGeometry

from rehaul.house import Room
from rehaul.house.geometry import room_area_m2, room_centre
from rehaul.sheets import svg
from rehaul.sheets.layout import Layout
from rehaul.sheets.placing import around, box_round, wrapped

NAME_MM = 3.1
SHRINK = (1.0, 0.8, 0.63)  # tried in turn; the smallest is about 2 mm, which can still be read
PITCH = 1.12  # from line to line, in letter heights


@dataclass(frozen=True)
class RoomLine:
    """A line below a room's name."""

    words: str
    size: float
    bold: bool = False
    fill: str = svg.INK


def write_in_room(layout: Layout, room: Room, below: Sequence[RoomLine]) -> str:
    """The name and the lines below it near the middle, clear of what is drawn; nothing where none fits.

    Tried wholly inside the room first, then over its edge, each smaller and smaller. The layout's placer
    remembers what was written.
    """
    corners = [layout.view.at(point) for point in room.polygon]
    xs = [x for x, _ in corners]
    across = min(max(xs) - min(xs), 60.0) - 2.5
    shape = Polygon(corners).buffer(0)
    middle = layout.view.at(room_centre(room))
    reach = min(layout.view.mm(room_area_m2(room) ** 0.5) * 0.6, 26.0)
    for whole in (True, False):
        for shrink in SHRINK:
            names = [RoomLine(words, NAME_MM) for words in wrapped(room.name, NAME_MM * shrink, across, 2)]
            lines = [*((line, True) for line in names), *((line, False) for line in below if line.words)]
            width = max(svg.text_width_mm(line.words, line.size * shrink) for line, _ in lines)
            height = sum(line.size * shrink * PITCH for line, _ in lines)
            choices = _inside(shape, around(middle, reach), width, height, whole=whole)
            spot = layout.placer.place(width + 1, height + 0.5, choices)
            if spot is not None:
                return _block(spot, height, lines, shrink)
    return ""


def _inside(
    shape: BaseGeometry, choices: list[tuple[svg.Mm, float]], width: float, height: float, *, whole: bool
) -> list[tuple[svg.Mm, float]]:
    """The choices that lie in the room: all of the words, or their middle at least."""
    parts = [(shapely.box(*box_round(at, width, height)) if whole else Point(at)) for at, _ in choices]
    return [choice for choice, part in zip(choices, parts, strict=True) if shape.contains(part)]


def _block(spot: svg.Mm, height: float, lines: Sequence[tuple[RoomLine, bool]], shrink: float) -> str:
    parts = []
    y = spot[1] - height / 2
    for line, is_name in lines:
        size = line.size * shrink
        y += size * PITCH
        parts.append(
            svg.text(
                (spot[0], y - 0.3 * size),
                line.words,
                size=size,
                anchor="middle",
                italic=is_name,
                bold=line.bold,
                fill=line.fill,
                halo=svg.PAPER,
            )
        )
    return "".join(parts)
