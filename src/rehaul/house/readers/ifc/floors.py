"""Slabs of a model as the floors of its storeys, with their outlines and the holes for stairs."""

from __future__ import annotations

import numpy as np
import shapely
from ifcopenshell.util.element import get_predefined_type
from shapely.geometry.base import BaseGeometry

from rehaul.house.base import UNKNOWN
from rehaul.house.geometry import Ring
from rehaul.house.model import Room, Slab, Wall
from rehaul.house.readers.ifc.levels import Level
from rehaul.house.readers.ifc.materials import construction_by_name, layers_of
from rehaul.house.readers.ifc.reading import Element, ModelReading
from rehaul.house.readers.ifc.shapes import footprint
from rehaul.words import say

BELOW_FINISH_M = 0.35  # the top of the structure may lie this far under the finished floor
ABOVE_FINISH_M = 0.1
THICKEST_FLOOR_M = 1.0
SMALLEST_VOID_M2 = 0.25
SMALLEST_FLOOR_M2 = 0.25
HAIRLINE_M = 0.02  # a gap that is none
MOST_PARTS = 100
MOST_NAMED = 3  # rooms in a note


def read_floor(reading: ModelReading, level: Level, rooms: list[Room], walls: list[Wall]) -> Slab:
    """The floor of a storey: the slabs whose top lies at its elevation, in as many parts as they lie.

    `rooms` and `walls` are those of the storey. Where a room lies beside all parts, the floor is taken to
    reach as far as the storey's rooms do. **Source**: docs/readers.md, "A building model (IFC)": floors.
    """
    found = [element for element in reading.of("IfcSlab") if _is_floor(reading, element, level)]
    covered = {element.id(): footprint(reading.shapes[element.id()]) for element in found}
    found = [element for element in found if covered[element.id()].area > 0.01]
    if not found:
        reading.log.note(say("readers.no_floor_slab", level=level.name))
        return Slab()
    main = max(found, key=lambda element: (covered[element.id()].area, -element.id()))
    shape = reading.shapes[main.id()]
    thickness_m = shape.high_m - shape.low_m
    layers = layers_of(reading, main, thickness_m, "floor")
    reading.used |= {element.id() for element in found}
    parts = _parts(reading, found, covered, walls)
    voids = [hole for part in parts for hole in part.interiors]
    beside = [room.name for room in rooms if _lies_beside(room, parts)]
    if parts and beside:
        code = "readers.beside_floor_and_more" if len(beside) > MOST_NAMED else "readers.beside_floor"
        reading.log.note(say(code, level=level.name, rooms=beside[:MOST_NAMED]))
        parts = []
    return Slab(
        construction=UNKNOWN if layers else construction_by_name(reading, "floor", main),
        layers=layers,
        thickness_m=round(thickness_m, 4),
        outlines=tuple(ring_of(part.exterior) for part in parts),
        voids=tuple(ring_of(hole) for hole in voids if shapely.Polygon(hole).area >= SMALLEST_VOID_M2),
    )


def _is_floor(reading: ModelReading, element: Element, level: Level) -> bool:
    shape = reading.shapes.get(element.id())
    if shape is None or get_predefined_type(element) in ("ROOF", "LANDING"):
        return False
    top = shape.high_m - level.elevation_m
    return -BELOW_FINISH_M <= top <= ABOVE_FINISH_M and 0 < shape.high_m - shape.low_m <= THICKEST_FLOOR_M


def _parts(
    reading: ModelReading, found: list[Element], covered: dict[int, BaseGeometry], walls: list[Wall]
) -> list[shapely.Polygon]:
    """What the slabs cover together, without their openings: the largest part first."""
    whole = _joined_under_walls(shapely.unary_union(list(covered.values())), walls)
    for element in found:
        for relation in element.HasOpenings:
            void = relation.RelatedOpeningElement
            reading.used.add(void.id())
            if void.id() in reading.shapes:
                whole = whole.difference(footprint(reading.shapes[void.id()]))
    parts = [part for part in shapely.get_parts(whole.simplify(0.005)) if part.area >= SMALLEST_FLOOR_M2]
    return sorted(parts, key=lambda part: -part.area)[:MOST_PARTS]


def _joined_under_walls(slabs: BaseGeometry, walls: list[Wall]) -> BaseGeometry:
    """The slabs, with what lies between two parts of them under a wall: no ray slips through there."""
    parts = shapely.get_parts(slabs)
    if len(parts) < 2:
        return slabs
    feet = [
        shapely.LineString([wall.start, wall.end]).buffer(wall.thickness_m / 2, cap_style="flat")
        for wall in walls
        if wall.thickness_m is not None
    ]
    between = [foot for foot in feet if np.sum(shapely.distance(parts, foot) < HAIRLINE_M) > 1]
    whole = shapely.unary_union([slabs, *between])
    return whole.buffer(HAIRLINE_M, join_style="mitre").buffer(-HAIRLINE_M, join_style="mitre")


def _lies_beside(room: Room, parts: list[shapely.Polygon]) -> bool:
    """Whether more than half of a room has none of the parts under it, holes in them counted as floor."""
    filled = shapely.unary_union([shapely.Polygon(part.exterior) for part in parts])
    shape = shapely.Polygon(room.polygon).buffer(0)
    return bool(filled.intersection(shape).area < shape.area / 2)


def ring_of(ring: shapely.LinearRing) -> Ring:
    """Corners of a ring [m], a tenth of a millimetre kept, without the repeated last one.

    They go round as shapely has them.
    """
    return tuple((round(x, 4), round(y, 4)) for x, y in shapely.get_coordinates(ring)[:-1].tolist())
