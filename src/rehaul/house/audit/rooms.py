"""Rooms: do they have walls and a way in, and does one lie in another."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

import shapely

from rehaul.house.audit.finding import Finding, Severity
from rehaul.house.geometry import opening_ends
from rehaul.house.job import Job
from rehaul.house.model import OpeningKind, Room, Wall
from rehaul.words import say

AT_WALL_M = 0.5  # a room's edge this near to a centre line has that wall
WALLED_SHARE = 0.6
OVERLAP_M2 = 0.05


def room_findings(job: Job) -> Iterator[Finding]:
    """What is amiss with the rooms of a job: no walls, no way in, one in another, one name twice.

    An outside area needs neither walls nor a door. A room counts as walled from 60 % of its edge on, and
    rooms that overlap by less than 0.05 m² as side by side. **Source**: docs/readers.md, "The audit".
    """
    house = job.house
    if house.storeys and not house.rooms:
        yield Finding(
            code="no-room",
            severity=Severity.SERIOUS,
            where=("house.rooms",),
            sentence=say("findings.no_room"),
            proposed_fix=say("fixes.draw_the_rooms"),
        )
    walls = {wall.id: wall for wall in house.walls}
    shapes = {room.id: shapely.make_valid(shapely.Polygon(room.polygon)) for room in house.rooms}
    for storey in house.storeys:
        rooms = [room for room in house.rooms if room.storey == storey.id and not room.outside]
        here = [wall for wall in house.walls if wall.storey == storey.id]
        ways = [
            shapely.LineString(opening_ends(walls[opening.wall], opening))
            for opening in house.openings
            if opening.kind is not OpeningKind.WINDOW and walls[opening.wall].storey == storey.id
        ]
        yield from _walled(rooms, here, shapes)
        yield from _reached(storey.name, rooms, ways, shapes)
        yield from _overlaps(rooms, shapes)
    names = Counter(room.name.casefold() for room in house.rooms)
    for name in [name for name, count in names.items() if count > 1]:
        same = [room for room in house.rooms if room.name.casefold() == name]
        yield Finding(
            code="room-name-twice",
            severity=Severity.MEND,
            where=tuple(room.id for room in same),
            sentence=say("findings.room_name_twice", rooms=len(same), name=same[0].name),
            proposed_fix=say("fixes.give_each_a_name"),
        )


def _walled(rooms: list[Room], walls: list[Wall], shapes: dict[str, shapely.Geometry]) -> Iterator[Finding]:
    near = shapely.unary_union(
        [shapely.LineString([wall.start, wall.end]).buffer(AT_WALL_M, cap_style="square") for wall in walls]
    )
    for room in rooms:
        edge = shapes[room.id].boundary
        share = edge.intersection(near).length / edge.length if edge.length else 0.0
        if share < WALLED_SHARE:
            yield Finding(
                code="room-without-walls",
                severity=Severity.MEND,
                where=(room.id,),
                sentence=say("findings.room_without_walls", room=room.name, percent=100.0 * share),
                proposed_fix=say("fixes.draw_its_walls"),
            )


def _reached(
    storey: str,
    rooms: list[Room],
    ways: list[shapely.LineString],
    shapes: dict[str, shapely.Geometry],
) -> Iterator[Finding]:
    if not ways:
        if len(rooms) > 1:
            yield Finding(
                code="storey-without-doors",
                severity=Severity.ASK,
                where=tuple(room.id for room in rooms),
                sentence=say("findings.storey_without_doors", rooms=len(rooms), storey=storey),
                proposed_fix=say("fixes.draw_the_doors"),
            )
        return
    for room in rooms:
        if min(way.distance(shapes[room.id]) for way in ways) > AT_WALL_M:
            yield Finding(
                code="room-without-door",
                severity=Severity.ASK,
                where=(room.id,),
                sentence=say("findings.room_without_door", room=room.name),
                proposed_fix=say("fixes.draw_its_door"),
            )


def _overlaps(rooms: list[Room], shapes: dict[str, shapely.Geometry]) -> Iterator[Finding]:
    ordered = [shapes[room.id] for room in rooms]
    tree = shapely.STRtree(ordered)
    for index, room in enumerate(rooms):
        for other in sorted(int(i) for i in tree.query(ordered[index])):
            if other <= index:
                continue
            area_m2 = ordered[index].intersection(ordered[other]).area
            if area_m2 > OVERLAP_M2:
                yield Finding(
                    code="rooms-overlap",
                    severity=Severity.MEND,
                    where=(room.id, rooms[other].id),
                    sentence=say(
                        "findings.rooms_overlap", one=room.name, other=rooms[other].name, area_m2=area_m2
                    ),
                    proposed_fix=say("fixes.move_the_wall"),
                )
