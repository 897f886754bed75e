"""How a new cable gets to a room, what it costs, and where its access point then sits."""

from __future__ import annotations

import math
from functools import lru_cache

from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as ShapelyPoint
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

from rehaul.design.costs import Cost, task_cost
from rehaul.facts.pulls import PullWay, pull_ways, wall_access
from rehaul.facts.work import allowances, prices
from rehaul.house import Hazard, HazardKind, House, Job, MeetingPoint, Room, Wall
from rehaul.house.base import Point
from rehaul.house.geometry import room_centre, room_shape, storey_of

AT_THE_ROOM_M = 0.4  # a wall whose centre line is this near bounds the room
LEAST_WALL_M = 0.8  # a shorter piece of wall holds no bay worth fishing
CLEARED = ("made safe", "tested clear")


def way_to_room(job: Job, room: Room, closet: MeetingPoint, floors_crossed: int) -> PullWay:
    """The usual way of the trade to bring a new cable from the closet to a room.

    Fibre to an outbuilding; through an open floor or attic where there is one; along the surface where
    every wall of the room is masonry; fished otherwise. **Source**: docs/work.md, "Steps": way of a new
    cable.
    """
    storey = storey_of(job.house, room.storey)
    if room.outbuilding:
        return pull_ways()["fibre"]
    if storey.access == "open below" and floors_crossed <= 1:
        return pull_ways()["open floor"]
    if storey.access == "open above" and floors_crossed <= 1:
        return pull_ways()["open attic"]
    walls = _fishing_around(job.house, room)
    return pull_ways()["surface" if walls and set(walls) == {"none"} else "fished"]


def walls_around(house: House, room: Room) -> tuple[Wall, ...]:
    """The walls that bound a room, by where their centre lines run.

    In the house's order. **Validity**: by 0.8 m or more of a wall's centre line within 0.4 m of the room's
    outline. **Source**: docs/work.md, "Steps": way of a new cable.
    """
    return tuple(
        wall
        for wall in house.walls
        if wall.storey == room.storey and _bounds(wall.start, wall.end, room.polygon)
    )


@lru_cache(maxsize=32768)  # asked of every room again after every edit
def _bounds(start: Point, end: Point, outline: tuple[Point, ...]) -> bool:
    line = LineString([start, end])
    return bool(line.intersection(_about(outline)).length >= LEAST_WALL_M)


@lru_cache(maxsize=1024)
def _about(outline: tuple[Point, ...]) -> BaseGeometry:
    """What lies near the outline of a room."""
    return Polygon(outline).exterior.buffer(AT_THE_ROOM_M)


def _fishing_around(house: House, room: Room) -> tuple[str, ...]:
    """`bay`, `hard` or `none` for every wall around a room whose construction is known."""
    known = wall_access()
    return tuple(known[w.construction] for w in walls_around(house, room) if w.construction in known)


def is_hard(house: House, room: Room, way: PullWay, floors_crossed: int) -> bool:
    """Whether the pull takes the time of a hard one: between storeys, no void, no easy bay.

    Parameters: `floors_crossed` on the way from where the cables meet. Never for a way that takes as long
    either way; walls of a construction that no table knows are not asked. **Source**: docs/work.md, "Steps":
    way of a new cable.
    """
    if way.norm == way.hard_norm:
        return False
    walls = _fishing_around(house, room)
    closed = storey_of(house, room.storey).access == "closed"
    return floors_crossed > 0 or closed or bool(walls and "bay" not in walls)


def pull_tasks(way: PullWay, hard: bool, floors_crossed: int) -> list[str]:
    """Tasks of the labour table for one pull, without those of its ends.

    A hard pull counts once for each two floors crossed; a way with a task for floors has that for each
    floor. **Source**: fact table of ways to pull.
    """
    fish = [way.norm]
    if hard:
        fish = [way.hard_norm] * max(1, math.ceil(floors_crossed / 2))
    return [*fish, *([way.floor_norm] * floors_crossed if way.floor_norm else [])]


def pull_cost(job: Job, way: PullWay, length_m: float, hard: bool, floors_crossed: int) -> Cost:
    """Money for one new cable by that way, its access point mounted.

    Parameters: `length_m`, of the way; slack at both ends is added to what is cut. Money before margin and
    tax.

    **Source**: fact tables of ways to pull, prices, labour and allowances.
    """
    cut_m = length_m + allowances()["closet_slack"] + allowances()["outlet_slack"]
    parts = cut_m * prices()[way.cable].unit_price
    if way.parts_per_m:
        parts += length_m * prices()[way.parts_per_m].unit_price
    parts += sum(prices()[item].unit_price for item in way.parts.split())
    return task_cost(job, [*pull_tasks(way, hard, floors_crossed), *way.finish_tasks.split()], parts)


def mounting_place(room: Room, way: PullWay, closet: MeetingPoint) -> Point:
    """Where the cable ends: the middle of the ceiling, or the wall nearest to the closet.

    Returns a place on the sheet [m]. **Validity**: as the crow flies; doors and windows are not seen here.
    """
    if way.mounting == "ceiling":
        return room_centre(room)
    ring = room_shape(room).exterior
    point, _ = nearest_points(ring, ShapelyPoint(closet.position))
    return (round(point.x, 3), round(point.y, 3))


def hazards_at(house: House, storey: str, room: str) -> tuple[Hazard, ...]:
    """What a licensed person still has to test or make safe before a hole is made there.

    Parameters: ids; an empty `room` asks for hazards that are noted for the storey or the whole house alone.
    Empty where all are signed for as safe or clear. **Source**: docs/work.md, "What holds a step".
    """
    return tuple(hazard for hazard in house.hazards if _is_open(hazard) and _covers(hazard, storey, room))


def _is_open(hazard: Hazard) -> bool:
    """True until somebody signed that it is safe or clear."""
    return hazard.state not in CLEARED or hazard.sign_off is None


def _covers(hazard: Hazard, storey: str, room: str) -> bool:
    if hazard.room is not None:
        return hazard.room == room
    return hazard.storey is None or hazard.storey == storey


def storeys_passed(house: House, one: str, other: str) -> tuple[str, ...]:
    """The storeys whose floor or ceiling a cable between two storeys goes through; none on one storey, or
    where a storey is not known.
    """
    levels = [storey.id for storey in sorted(house.storeys, key=lambda storey: storey.elevation_m)]
    if one not in levels or other not in levels:
        return ()
    first, last = sorted((levels.index(one), levels.index(other)))
    return tuple(levels[first : last + 1]) if last > first else ()


def forbids_way(house: House, storey: str, room: str, closet: str) -> bool:
    """True where asbestos is suspected or found in the room, or all over a storey that a cable to it passes
    from the closet's storey: the plan then makes no hole there at all.

    **Source**: docs/work.md, "What holds a step".
    """
    places = ((storey, room), *((passed, "") for passed in storeys_passed(house, storey, closet)))
    return any(hazard.kind is HazardKind.ASBESTOS for place in places for hazard in hazards_at(house, *place))
