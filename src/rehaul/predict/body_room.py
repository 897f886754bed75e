"""Which room scatters power past a big body: the one in which it stands, as its drawing has it."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

from shapely import Polygon as ShapelyPolygon
from shapely import box

from rehaul.house import Body, House, Room, Storey
from rehaul.house.base import Point
from rehaul.radio import DiffuseRoom
from rehaul.radio.diffuse import usual_room


def room_about(body: Body, storey: Storey, house: House) -> DiffuseRoom | None:
    """The room of a body; the usual one where none was drawn, None in the garden.

    One that stands in several, as a chimney breast in a wall, is in a room between them, by how much of it
    stands in each: so nothing jumps as it is moved from one to another.
    **Validity**: walls, floor and ceiling of the room alone; what comes through its doors is left out.
    **Source**: geometry.
    """
    (x0, y0), rooms = body.corner, [room for room in house.rooms if room.storey == storey.id]
    footprint = box(x0, y0, x0 + body.width_m, y0 + body.depth_m)
    inside = _shares(footprint, (room for room in rooms if not room.outside))
    if inside:
        whole = sum(area for area, _ in inside)
        surfaces = [2 * shape.area + shape.length * storey.height_m for _, shape in inside]
        return DiffuseRoom(
            sum(area * surface for (area, _), surface in zip(inside, surfaces, strict=True)) / whole,
            sum(area * shape.area for area, shape in inside) / whole * storey.height_m,
        )
    return None if _shares(footprint, (room for room in rooms if room.outside)) else usual_room()


def _shares(footprint: ShapelyPolygon, rooms: Iterable[Room]) -> list[tuple[float, ShapelyPolygon]]:
    """How much of a body stands in each room [m²], and the room."""
    x0, y0, x1, y1 = footprint.bounds
    shapes = []
    for shape, (left, below, right, above) in (_shape(room.polygon) for room in rooms):
        if left < x1 and x0 < right and below < y1 and y0 < above:
            shapes.append(shape)
    return [(area, shape) for shape in shapes if (area := footprint.intersection(shape).area) > 0]


@lru_cache(maxsize=512)
def _shape(polygon: tuple[Point, ...]) -> tuple[ShapelyPolygon, tuple[float, float, float, float]]:
    """An outline as a shape, and its bounds: rooms stay while walls and bodies are dragged."""
    shape = ShapelyPolygon(polygon).buffer(0)
    return shape, shape.bounds
