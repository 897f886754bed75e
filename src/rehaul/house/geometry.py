"""Plain geometry on the house: lengths, areas, what lies in what. Metres throughout."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache

from shapely import LinearRing, LineString, get_parts, unary_union
from shapely import Polygon as ShapelyPolygon
from shapely.geometry import MultiPoint
from shapely.geometry import Point as ShapelyPoint
from shapely.geometry.base import BaseGeometry

from rehaul.house.model import House, MeetingPoint, Opening, Outlet, Room, Splitter, Storey, Wall

PlainPoint = tuple[float, float]  # x, y on the sheet, metres
Ring = tuple[tuple[float, float], ...]
Bounds = tuple[float, float, float, float]  # x0, y0, x1, y1


def wall_length_m(wall: Wall) -> float:
    """Length of a wall's centre line on the plan [m].

    Above nought in a whole document: `integrity` refuses walls shorter than a centimetre.
    """
    return math.dist(wall.start, wall.end)


def point_along(wall: Wall, offset_m: float) -> tuple[float, float]:
    """The point on a wall's centre line `offset_m` from its start: x, y on the sheet [m].

    Beyond either end the line runs straight on. Raises ZeroDivisionError for a wall without length.
    """
    share = offset_m / wall_length_m(wall)
    return (
        wall.start[0] + share * (wall.end[0] - wall.start[0]),
        wall.start[1] + share * (wall.end[1] - wall.start[1]),
    )


def away_from_wall_m(wall: Wall, position: PlainPoint) -> float:
    """How far a point on the sheet is from a wall's centre line [m]."""
    return _away_m(wall.start, wall.end, position)


def along_wall_m(wall: Wall, position: PlainPoint) -> float:
    """How far from a wall's start the point of its centre line is that is nearest to a position [m]."""
    return _along_m(wall.start, wall.end, position)


def room_shape(room: Room) -> ShapelyPolygon:
    """A room's outline as a shape of shapely [m]; one that crosses itself is not mended."""
    return _polygon(room.polygon)


# A choice of places asks thousands of times how far a plate is from a wall. Shapes of shapely do not change.
@lru_cache(maxsize=4096)
def _line(start: PlainPoint, end: PlainPoint) -> LineString:
    return LineString([start, end])


@lru_cache(maxsize=32768)  # a choice of places asks again after every edit that moves no wall
def _away_m(start: PlainPoint, end: PlainPoint, position: PlainPoint) -> float:
    return float(_line(start, end).distance(ShapelyPoint(position)))


@lru_cache(maxsize=8192)
def _along_m(start: PlainPoint, end: PlainPoint, position: PlainPoint) -> float:
    return float(_line(start, end).project(ShapelyPoint(position)))


@lru_cache(maxsize=1024)
def _polygon(ring: Ring) -> ShapelyPolygon:
    return ShapelyPolygon(ring)


def opening_ends(wall: Wall, opening: Opening) -> tuple[tuple[float, float], tuple[float, float]]:
    """Both edges of an opening on its wall's centre line, that nearer to the wall's start first: x, y [m].

    The wall is not asked whether it is the opening's own, nor whether it is long enough.
    """
    return point_along(wall, opening.offset_m), point_along(wall, opening.offset_m + opening.width_m)


def polygon_area(polygon: Sequence[tuple[float, float]]) -> float:
    """Signed area of a ring of corners [m²], positive where they go anticlockwise.

    The last corner is not repeated. **Validity**: rings that do not cross themselves. **Source**: the
    shoelace formula.

    >>> polygon_area([(0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0)])
    12.0
    """
    following = [*polygon[1:], polygon[0]]
    return 0.5 * sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(polygon, following, strict=True))


def room_area_m2(room: Room) -> float:
    """Floor area of a room inside its outline [m²], whichever way round its corners go.

    **Validity**: outlines that do not cross themselves. A stair's void is part of it. **Source**: shoelace
    formula, by `polygon_area` (any textbook).
    """
    return abs(polygon_area(room.polygon))


def room_centre(room: Room) -> tuple[float, float]:
    """A point surely inside the room, near its middle: x, y on the sheet [m], to the millimetre.

    The centre of gravity where that lies inside; in an L-shaped room it may not. **Source**: centre of
    gravity as shapely has it, any textbook for the formula.
    """
    shape = room_shape(room)
    point = shape.centroid if shape.contains(shape.centroid) else shape.representative_point()
    return (round(point.x, 3), round(point.y, 3))


def room_at(house: House, storey_id: str, position: tuple[float, float]) -> Room | None:
    """The room of that storey which holds the point, or the nearest within half a metre, or none.

    Where an outside area is drawn round the house, the room within the walls comes first.
    """
    point = ShapelyPoint(position)
    best: tuple[float, Room] | None = None
    for room in sorted(house.rooms, key=lambda room: room.outside):
        if room.storey == storey_id:
            distance = room_shape(room).distance(point)
            if best is None or distance < best[0]:
                best = (distance, room)
    return best[1] if best and best[0] <= 0.5 else None


def house_bounds(house: House) -> Bounds | None:
    """The box on the sheet that holds every wall's centre line and every room: x0, y0, x1, y1 [m].

    None for a house with neither. All storeys lie on one sheet; thickness of walls is not added.
    """
    points = [point for wall in house.walls for point in (wall.start, wall.end)]
    points += [point for room in house.rooms for point in room.polygon]
    if not points:
        return None
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def point_in_bounds(point: tuple[float, float], bounds: Bounds, margin_m: float = 0.0) -> bool:
    """Whether a point lies in a box on the sheet drawn wider by `margin_m` on every side; its edge counts.

    >>> point_in_bounds((5.2, 1.0), (0.0, 0.0, 5.0, 4.0), margin_m=0.2)
    True
    """
    x0, y0, x1, y1 = bounds
    return x0 - margin_m <= point[0] <= x1 + margin_m and y0 - margin_m <= point[1] <= y1 + margin_m


def storey_outlines(house: House, storey: Storey) -> tuple[Ring, ...]:
    """Outlines of a storey's floor, part by part: as drawn, else the storey's edge where it has one.

    Rings of corners on the sheet [m], the last not repeated; voids are not cut out. Empty for a storey with
    neither rooms nor walls.
    """
    if storey.floor.outlines:
        return storey.floor.outlines
    edge = storey_edge(house, storey)
    return (edge,) if edge else ()


def storey_shape(house: House, storey: Storey) -> BaseGeometry:
    """What a storey's floor covers as a shape of shapely [m], with its voids still in it: see `floor_parts`.

    Empty for a storey without rooms and walls. Parts that cross themselves are mended where there are
    several.
    """
    outlines = storey_outlines(house, storey)
    if len(outlines) == 1:
        return ShapelyPolygon(outlines[0])
    return unary_union([ShapelyPolygon(ring).buffer(0) for ring in outlines])


def floor_parts(house: House, storey: Storey) -> tuple[tuple[Ring, tuple[Ring, ...]], ...]:
    """The pieces of a storey's floor, none over another: each its outer ring, and the rings of its holes.

    Corners on the sheet [m], the last not repeated. A floor of one outline comes back as it was drawn;
    where several overlap they are joined, and corners are then rounded to a tenth of a millimetre.
    """
    outlines, voids = storey_outlines(house, storey), storey.floor.voids
    if len(outlines) < 2:
        return tuple((outline, voids) for outline in outlines)
    holes = unary_union([ShapelyPolygon(ring).buffer(0) for ring in voids])
    pieces = get_parts(storey_shape(house, storey).difference(holes))
    return tuple(
        (_ring(piece.exterior), tuple(_ring(hole) for hole in piece.interiors))
        for piece in pieces
        if piece.geom_type == "Polygon"
    )


def storey_edge(house: House, storey: Storey) -> Ring:
    """The outer edge of a storey's rooms, else the hull of its walls; empty for neither.

    Outside areas have no floor of the house under them and no roof over them.
    """
    rooms = tuple(room.polygon for room in house.rooms if room.storey == storey.id and not room.outside)
    walls = () if rooms else tuple(wall for wall in house.walls if wall.storey == storey.id)
    return _outer_edge(rooms, tuple(point for wall in walls for point in (wall.start, wall.end)))


@lru_cache(maxsize=256)
def _outer_edge(rooms: tuple[Ring, ...], ends: Ring) -> Ring:
    """Outer edge of rooms, else the hull of points; kept, since a map under the pointer asks often."""
    shape = None
    if rooms:
        shape = unary_union([ShapelyPolygon(room).buffer(0.15) for room in rooms])
    elif len(ends) > 2:
        shape = MultiPoint(ends).convex_hull
    if shape is None or shape.is_empty:
        return ()
    if shape.geom_type != "Polygon":
        shape = shape.convex_hull
    if shape.geom_type != "Polygon":
        return ()
    return _ring(shape.exterior)


def _ring(line: LinearRing) -> Ring:
    """Its corners, a tenth of a millimetre kept, without the repeated last one."""
    return tuple((round(x, 4), round(y, 4)) for x, y in line.coords[:-1])


def height_above_zero_m(house: House, thing: Outlet | MeetingPoint | Splitter) -> float:
    """z of a place where a cable ends [m], from elevation 0 of the house.

    `thing.height_m` is above the finished floor of its storey. Raises KeyError where that storey is not
    there.
    """
    return storey_of(house, thing.storey).elevation_m + thing.height_m


def storey_of(house: House, storey_id: str) -> Storey:
    """The storey with that id. Raises KeyError for an id that a whole document cannot hold.

    Storeys are few, so that they are walked through.
    """
    for storey in house.storeys:
        if storey.id == storey_id:
            return storey
    raise KeyError(storey_id)
