"""Walls from cells: every edge once, whether one room or two stand at it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

import shapely
from shapely.geometry.base import BaseGeometry

from rehaul.house.geometry import PlainPoint
from rehaul.house.readers.room_list.cells import RoomCell
from rehaul.house.readers.room_list.entries import StoreyEntry
from rehaul.house.readers.room_list.placing import ClearSpace

BESIDE_M = 1e-3
THICKER_M = 0.02  # a measured wall this much off the usual one keeps its own thickness
SHORTEST_M = 0.02


@dataclass(frozen=True)
class Stretch:
    """A piece of wall along one line, left to right or bottom to top."""

    start: PlainPoint
    end: PlainPoint
    rooms: tuple[str, ...]  # two: between rooms; one: at the edge
    outer: bool
    thickness_m: float

    @property
    def upright(self) -> bool:
        return self.start[0] == self.end[0]

    @property
    def length_m(self) -> float:
        return math.dist(self.start, self.end)


def stretches_of(
    storey: StoreyEntry, boxes: dict[str, ClearSpace], cells: dict[str, RoomCell]
) -> list[Stretch]:
    """All edges of a storey's cells, cut where rooms begin and end, each with the rooms beside it.

    Sorted by start and end [m]. One room beside it and the open on the other side makes it outer; two rooms
    that were measured at another distance than usual keep a wall of that thickness. **Source**:
    docs/readers.md, "A room list by tape or laser": what is done with it.
    """
    whole = shapely.unary_union([cell.shape for cell in cells.values()])
    lines = shapely.unary_union([cell.shape.exterior for cell in cells.values()])
    found = []
    for start, end in sorted(_segments(lines)):
        middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
        upright = start[0] == end[0]
        step = (BESIDE_M, 0.0) if upright else (0.0, BESIDE_M)
        beside = [
            cell_at(cells, (middle[0] + sign * step[0], middle[1] + sign * step[1])) for sign in (-1, 1)
        ]
        rooms = tuple(sorted({name for name in beside if name}))
        if not rooms:
            continue
        outer = len(rooms) == 1 and _faces_outside(whole, middle)
        thickness_m = storey.outer_m if outer else storey.inner_m
        if len(rooms) == 2:
            thickness_m = _between_m(boxes[rooms[0]], boxes[rooms[1]], upright, storey.inner_m)
        found.append(Stretch(start, end, rooms, outer, thickness_m))
    return found


def _segments(lines: BaseGeometry) -> set[tuple[PlainPoint, PlainPoint]]:
    found = set()
    for line in shapely.get_parts(lines):
        points = [(round(x, 4), round(y, 4)) for x, y in shapely.get_coordinates(line).tolist()]
        for one, other in pairwise(points):
            if math.dist(one, other) > BESIDE_M:
                found.add((min(one, other), max(one, other)))
    return found


def cell_at(cells: dict[str, RoomCell], point: PlainPoint) -> str | None:
    """The room whose cell holds the point; None on an edge and outside.

    `point` is x, y [m].
    """
    for name, cell in cells.items():
        if cell.x0 < point[0] < cell.x1 and cell.y0 < point[1] < cell.y1:
            return name
    return None


def _faces_outside(whole: BaseGeometry, point: PlainPoint) -> bool:
    spot = shapely.Point(point)
    return any(
        part.exterior.distance(spot) < BESIDE_M
        for part in shapely.get_parts(whole)
        if part.geom_type == "Polygon"
    )


def _between_m(one: ClearSpace, other: ClearSpace, upright: bool, usual_m: float) -> float:
    """Thickness of the wall between two rooms: as measured, where that is clearly not the usual one."""
    if upright:
        measured_m = max(other.x0 - one.x1, one.x0 - other.x1)
    else:
        measured_m = max(other.y0 - one.y1, one.y0 - other.y1)
    explicit = other.beside == one.entry.name or one.beside == other.entry.name
    return round(measured_m, 4) if explicit and abs(measured_m - usual_m) > THICKER_M else usual_m


def merged(stretches: list[Stretch]) -> list[Stretch]:
    """Stretches of one kind that run on in one line, as one wall with the rooms of all.

    One kind: as thick, and both outer or both inner. Level walls come first, then upright ones on the plan.
    """
    left = sorted(stretches, key=lambda s: (s.upright, s.outer, s.thickness_m, _line(s), s.start))
    walls: list[Stretch] = []
    for stretch in left:
        last = walls[-1] if walls else None
        if last and _runs_on(last, stretch):
            rooms = tuple(sorted({*last.rooms, *stretch.rooms}))
            walls[-1] = Stretch(last.start, stretch.end, rooms, last.outer, last.thickness_m)
        else:
            walls.append(stretch)
    return walls


def _line(stretch: Stretch) -> float:
    return stretch.start[0] if stretch.upright else stretch.start[1]


def _runs_on(last: Stretch, following: Stretch) -> bool:
    same = (last.upright, last.outer, last.thickness_m) == (
        following.upright,
        following.outer,
        following.thickness_m,
    )
    return same and last.end == following.start


def outer_walls(storey: StoreyEntry, cells: dict[str, RoomCell]) -> list[Stretch]:
    """The walls round the house: the outline of all cells, moved out to the middle of the outer wall.

    Sorted by start and end [m]; courtyards have none of their own. They name no rooms. **Source**:
    docs/readers.md, "A room list by tape or laser": what is done with it.
    """
    whole = shapely.unary_union([cell.shape for cell in cells.values()])
    out_m = (storey.outer_m - storey.inner_m) / 2
    found = []
    for part in shapely.get_parts(whole):
        if part.geom_type != "Polygon":
            continue
        moved = shapely.Polygon(part.exterior).buffer(out_m, join_style="mitre", mitre_limit=5)
        for ring in _rings(moved.simplify(1e-4)):
            points = [(round(x, 4), round(y, 4)) for x, y in shapely.get_coordinates(ring).tolist()]
            for one, other in _sides(points):
                found.append(Stretch(min(one, other), max(one, other), (), True, storey.outer_m))
    return sorted(found, key=lambda wall: (wall.start, wall.end))


def _rings(shape: BaseGeometry) -> Iterator[shapely.LinearRing]:
    for part in shapely.get_parts(shape):
        if part.geom_type == "Polygon":
            yield part.exterior


def _sides(points: list[PlainPoint]) -> Iterator[tuple[PlainPoint, PlainPoint]]:
    """Edges of a closed ring, with those that run on in one line joined across the ring's first point."""
    ring = points[:-1]
    turns = [
        point
        for before, point, after in zip(ring[-1:] + ring[:-1], ring, ring[1:] + ring[:1], strict=True)
        if not (before[0] == point[0] == after[0] or before[1] == point[1] == after[1])
    ]
    yield from zip(turns, turns[1:] + turns[:1], strict=True)


def reaching_out(storey: StoreyEntry, inner: list[Stretch], cells: dict[str, RoomCell]) -> list[Stretch]:
    """Inner walls drawn on to the middle of the outer wall that they run into.

    In their order; one that is shorter than 0.02 m is left out.
    """
    whole = shapely.unary_union([cell.shape for cell in cells.values()])
    edges = [part.exterior for part in shapely.get_parts(whole) if part.geom_type == "Polygon"]
    out_m = (storey.outer_m - storey.inner_m) / 2

    def reach(point: PlainPoint) -> float:
        return out_m if any(edge.distance(shapely.Point(point)) < BESIDE_M for edge in edges) else 0.0

    result = []
    for wall in inner:
        before, after = reach(wall.start), reach(wall.end)
        if wall.upright:
            start = (wall.start[0], round(wall.start[1] - before, 4))
            end = (wall.end[0], round(wall.end[1] + after, 4))
        else:
            start = (round(wall.start[0] - before, 4), wall.start[1])
            end = (round(wall.end[0] + after, 4), wall.end[1])
        if math.dist(start, end) >= SHORTEST_M:
            result.append(Stretch(start, end, wall.rooms, False, wall.thickness_m))
    return result


def closed_at_corners(storey: StoreyEntry, outer: list[Stretch], inner: list[Stretch]) -> list[Stretch]:
    """Outer walls drawn on to an inner wall that ends beside their corner, where the house steps back.

    In their order; the inner walls stay as they are.
    """
    reach_m = abs(storey.outer_m - storey.inner_m) / 2 + BESIDE_M
    tips = [(tip, wall.upright) for wall in inner for tip in (wall.start, wall.end)]
    result = []
    for wall in outer:
        along, across = (1, 0) if wall.upright else (0, 1)
        start, end = wall.start, wall.end
        for tip, upright in tips:
            if upright == wall.upright or abs(tip[across] - start[across]) > BESIDE_M:
                continue
            if 0 < start[along] - tip[along] <= reach_m:
                start = tip
            if 0 < tip[along] - end[along] <= reach_m:
                end = tip
        result.append(replace(wall, start=start, end=end))
    return result
