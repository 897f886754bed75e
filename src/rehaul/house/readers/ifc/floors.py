"""Slabs of a model as the floors of its storeys, with their outlines and the holes for stairs."""

from __future__ import annotations

import shapely
from ifcopenshell.util.element import get_predefined_type
from shapely.geometry.base import BaseGeometry

from rehaul.house.base import UNKNOWN
from rehaul.house.model import Slab
from rehaul.house.readers.ifc.levels import Level
from rehaul.house.readers.ifc.materials import construction_by_name, layers_of
from rehaul.house.readers.ifc.reading import Element, Reading
from rehaul.house.readers.ifc.shapes import footprint

BELOW_FINISH_M = 0.35  # the top of the structure may lie this far under the finished floor
ABOVE_FINISH_M = 0.1
THICKEST_FLOOR_M = 1.0
SMALLEST_VOID_M2 = 0.25
SMALLEST_FLOOR_SHARE = 0.02
Ring = tuple[tuple[float, float], ...]


def read_floor(reading: Reading, level: Level) -> Slab:
    """The floor of a storey: the slabs whose top lies at its elevation."""
    found = [element for element in reading.of("IfcSlab") if _is_floor(reading, element, level)]
    covered = {element.id(): footprint(reading.shapes[element.id()]) for element in found}
    found = [element for element in found if covered[element.id()].area > 0.01]
    if not found:
        reading.log.note(f"No floor slab lies at the elevation of {level.name}; its floor is unknown.")
        return Slab()
    main = max(found, key=lambda element: (covered[element.id()].area, -element.id()))
    shape = reading.shapes[main.id()]
    thickness_m = shape.high_m - shape.low_m
    layers = layers_of(reading, main, thickness_m)
    reading.used |= {element.id() for element in found}
    outline, voids = _outline(reading, level, found, covered)
    return Slab(
        construction=UNKNOWN if layers else construction_by_name(reading, "floor", main),
        layers=layers,
        thickness_m=round(thickness_m, 4),
        outline=outline,
        voids=voids,
    )


def _is_floor(reading: Reading, element: Element, level: Level) -> bool:
    shape = reading.shapes.get(element.id())
    if shape is None or get_predefined_type(element) in ("ROOF", "LANDING"):
        return False
    top = shape.high_m - level.elevation_m
    return -BELOW_FINISH_M <= top <= ABOVE_FINISH_M and 0 < shape.high_m - shape.low_m <= THICKEST_FLOOR_M


def _outline(
    reading: Reading, level: Level, found: list[Element], covered: dict[int, BaseGeometry]
) -> tuple[Ring | None, tuple[Ring, ...]]:
    whole = shapely.unary_union(list(covered.values()))
    for element in found:
        for relation in element.HasOpenings:
            void = relation.RelatedOpeningElement
            reading.used.add(void.id())
            if void.id() in reading.shapes:
                whole = whole.difference(footprint(reading.shapes[void.id()]))
    whole = whole.simplify(0.005)
    parts = [part for part in shapely.get_parts(whole) if part.area > SMALLEST_FLOOR_SHARE * whole.area]
    if not parts:
        return None, ()
    largest = max(parts, key=lambda part: part.area)
    if len(parts) > 1:
        reading.log.note(
            f"The floor of {level.name} is in {len(parts)} parts; the largest gives its outline."
        )
    voids = [hole for hole in largest.interiors if shapely.Polygon(hole).area >= SMALLEST_VOID_M2]
    return ring_of(largest.exterior), tuple(ring_of(hole) for hole in voids)


def ring_of(ring: shapely.LinearRing) -> Ring:
    """Corners of a ring, millimetres kept, without the repeated last one."""
    return tuple((round(x, 4), round(y, 4)) for x, y in shapely.get_coordinates(ring)[:-1].tolist())
