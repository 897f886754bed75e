"""Spaces of a model as rooms: a name and an outline on the plan."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

import shapely

from rehaul.facts.foreign_names import meaning
from rehaul.house.model import Room
from rehaul.house.readers.ifc.floors import ring_of
from rehaul.house.readers.ifc.levels import Levels
from rehaul.house.readers.ifc.reading import Element, ModelReading
from rehaul.house.readers.ifc.shapes import footprint
from rehaul.words import say

SMALLEST_ROOM_M2 = 0.1


@dataclass(frozen=True)
class RoomRead:
    """A room and how high the model says it reaches, in the world."""

    room: Room
    high_m: float


def read_rooms(reading: ModelReading, levels: Levels) -> list[RoomRead]:
    """All rooms, in the order of the model. Every name occurs once; a second hall becomes `Hall 2`.

    A space's outline is that of its body from above, the largest part of it. One without a body, or under
    0.1 m², is listed as left out. Ids are r1, r2 and so on. **Source**: docs/readers.md, "A building model
    (IFC)": rooms.
    """
    rooms: list[RoomRead] = []
    seen: Counter[str] = Counter()
    for element in reading.of("IfcSpace"):
        shape = reading.shapes.get(element.id())
        parts = list(shapely.get_parts(footprint(shape))) if shape is not None else []
        parts = [part for part in parts if part.geom_type == "Polygon" and part.area >= SMALLEST_ROOM_M2]
        if shape is None or not parts:
            reading.leave(element, say("readers.no_outline"))
            continue
        reading.used.add(element.id())
        outline = max(parts, key=lambda part: part.area).simplify(0.005)
        name = _name(element)
        if len(parts) > 1 or outline.interiors:
            reading.log.note(say("readers.room_in_parts", room=name))
        seen[name] += 1
        room = Room(
            id=f"r{len(rooms) + 1}",
            name=name if seen[name] == 1 else f"{name[:76]} {seen[name]}",
            storey=levels.of(element, shape.low_m).id,
            polygon=ring_of(outline.exterior),
            lived_in=meaning("room", name) != "not lived in",
        )
        rooms.append(RoomRead(room, shape.high_m))
    return rooms


def _name(element: Element) -> str:
    name = (element.LongName or "").strip() or (element.Name or "").strip() or "Room"
    return name[:80]
