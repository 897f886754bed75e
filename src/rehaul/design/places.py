"""Where a box may stand: plates, closets and the ends of new cables, and what forbids or moves a place."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from shapely.geometry import Point as ShapelyPoint

from rehaul.design.pulls import forbids_way, mounting_place, way_to_room
from rehaul.facts.pulls import PullWay
from rehaul.facts.siting import siting_number
from rehaul.house import BodyKind, House, Job, MeetingKind, MeetingPoint, Opening, Outlet, Room, Wall
from rehaul.house.base import Point
from rehaul.house.geometry import (
    along_wall_m,
    away_from_wall_m,
    point_along,
    room_at,
    room_centre,
    room_shape,
    storey_of,
    wall_length_m,
)
from rehaul.network.core import core_point

MountedOn = Literal["ceiling", "wall", "shelf"]
Fixing = Literal["screws", "reversible"]
RADIO_CLOSETS = ("open wall", "cupboard", "unknown")  # a metal can never holds a radio, an attic is too hot
SOLID = ("concrete", "hollow-slab", "hollow slab", "hollow block", "stone")


@dataclass(frozen=True)
class Place:
    """A place for an access point."""

    id: str  # the plate's or meeting point's id, or N1, N2, ... for the end of a new cable
    name: str  # the room's name
    storey: str
    position: Point
    height_m: float  # above the storey's floor
    mounting: MountedOn
    fixing: Fixing
    room: str = ""
    plate: str = ""  # the outlet that it is beside
    mains: bool | None = None


def outlet_places(job: Job) -> tuple[Place, ...]:
    """A place at every located plate where a box may stand.

    In the house's order; left out are plates without a position and those in a room that may hold no box.
    """
    return tuple(place for outlet in job.house.outlets if (place := _at_outlet(job, outlet)) is not None)


def closet_places(job: Job) -> tuple[Place, ...]:
    """A place at every closet that can hold a radio.

    In the house's order. A metal can and an attic hold none; `mains` is None where the sockets were not
    noted.
    """
    found = []
    for point in job.house.meeting_points:
        room = room_at(job.house, point.storey, point.position)
        usable = point.kind in (MeetingKind.CLOSET, MeetingKind.PANEL) and point.enclosure in RADIO_CLOSETS
        if usable and (room is None or may_hold(job, room)):
            mains = None if point.power_sockets is None else point.power_sockets > 0
            place = _on_wall(job, point.id, point.name, point.storey, point.position, room)
            found.append(replace(place, mains=mains))
    return tuple(found)


def room_places(job: Job) -> tuple[tuple[Place, PullWay], ...]:
    """Where a new cable would end, in every room that is lived in or asks, with its way there.

    None where no hole may be made, no cable may be pulled, or nothing may stand.
    """
    closet = core_point(job)
    if closet is None or not job.choices.new_pulls or not may_drill(job):
        return ()
    return tuple(
        (place, way)
        for number, room in enumerate(_rooms(job), 1)
        if (found := _end_of_pull(job, number, room, closet)) is not None
        for place, way in [found]
    )


def shelf_places(job: Job) -> tuple[Place, ...]:
    """On furniture in the middle of every room that may hold a box: for what hangs by radio.

    Ids are S1, S2, ... in the house's order of rooms that are lived in or ask.
    """
    return tuple(
        Place(
            id=f"S{number}",
            name=room.name,
            storey=room.storey,
            position=room_centre(room),
            height_m=siting_number("shelf_height"),
            mounting="shelf",
            fixing="reversible",
            room=room.id,
        )
        for number, room in enumerate(_rooms(job), 1)
    )


def _rooms(job: Job) -> list[Room]:
    """Rooms that are lived in or ask for something, and may hold a box."""
    asking = {need.room for need in job.needs}
    return [room for room in job.house.rooms if (room.lived_in or room.id in asking) and may_hold(job, room)]


def may_hold(job: Job, room: Room) -> bool:
    """Whether a box may stand in a room: not outdoors, not in a bathroom, not at somebody else's.

    **Validity**: a room counts as a bathroom where it is noted as one, or where a bath is drawn in it.
    """
    if room.outside or room.bathroom or room.household:
        return False
    ring = room_shape(room)
    baths = [b for b in job.house.bodies if b.kind is BodyKind.BATH and b.storey == room.storey]
    return not any(
        ring.contains(ShapelyPoint(b.corner[0] + b.width_m / 2, b.corner[1] + b.depth_m / 2)) for b in baths
    )


def may_drill(job: Job) -> bool:
    """Whether anything may be screwed or drilled in this house. Not asked yet counts as yes, and is held."""
    refused = job.house.tenure == "rented" and job.gate.landlord_agrees is False
    return job.choices.fixing == "screws" and not refused


def may_screw(job: Job, storey: str, position: Point) -> bool:
    """Whether a box may be screwed to the wall beside this point; in a corner, to either.

    Parameters: `position` on the sheet [m]. Forbidden is a wall that nobody may drill or that holds back
    fire.

    **Validity**: by distance to centre lines of walls (fact table of siting).
    """
    reach_m = siting_number("beside_wall") + siting_number("off_the_wall")
    forbidden = any(
        wall.storey == storey
        and (wall.drilling == "forbidden" or wall.fire_rated is True)
        and away_from_wall_m(wall, position) <= reach_m
        for wall in job.house.walls
    )
    return may_drill(job) and not forbidden


def _solid_ceiling(house: House, storey_id: str) -> bool:
    """Whether no cable can be brought into a storey's ceiling: a slab of concrete, or said to be solid."""
    storey = storey_of(house, storey_id)
    if storey.ceiling != "unknown":
        return storey.ceiling == "solid"
    above = [other for other in house.storeys if other.elevation_m > storey.elevation_m]
    if not above:
        return False
    slab = min(above, key=lambda other: other.elevation_m).floor
    names = [slab.construction, *(layer.material for layer in slab.layers)]
    return any(name.startswith(SOLID) for name in names)


def _at_outlet(job: Job, outlet: Outlet) -> Place | None:
    if outlet.position is None:
        return None
    room = room_of(job, outlet)
    if room is not None and not may_hold(job, room):
        return None
    name = room.name if room else storey_of(job.house, outlet.storey).name
    place = _on_wall(job, outlet.id, name, outlet.storey, outlet.position, room)
    return replace(place, plate=outlet.id, mains=outlet.mains)


def _end_of_pull(job: Job, number: int, room: Room, closet: MeetingPoint) -> tuple[Place, PullWay] | None:
    if forbids_way(job.house, room.storey, room.id, closet.storey):
        return None
    crossed = storeys_between(job, room.storey, closet.storey)
    way = way_to_room(job, room, closet, crossed)
    end = mounting_place(room, way, closet)
    if way.mounting == "ceiling" and not _solid_ceiling(job.house, room.storey):
        height_m = storey_of(job.house, room.storey).height_m - siting_number("under_ceiling")
        place = Place(f"N{number}", room.name, room.storey, end, height_m, "ceiling", "screws", room.id)
        return place, way
    wall_end = mounting_place(room, way.model_copy(update={"mounting": "wall"}), closet)
    if not may_screw(job, room.storey, wall_end):
        return None
    return _on_wall(job, f"N{number}", room.name, room.storey, wall_end, room), way


def _on_wall(job: Job, name: str, words: str, storey: str, position: Point, room: Room | None) -> Place:
    """A place on the wall beside a point, clear of doors and windows; on furniture where no screw may go."""
    spot = _clear_spot(job.house, storey, position, room)
    screws = spot is not None and may_screw(job, storey, spot)
    wall = _wall_beside(job.house, storey, position)
    return Place(
        id=name,
        name=words,
        storey=storey,
        position=spot or _off_the_wall(position, room, wall),
        height_m=_wall_height_m(job, storey) if screws else siting_number("shelf_height"),
        mounting="wall" if screws else "shelf",
        fixing="screws" if screws else "reversible",
        room=room.id if room else "",
    )


def _clear_spot(house: House, storey: str, position: Point, room: Room | None) -> Point | None:
    """Just off the wall at a point, or aside along it, where no door or window of any wall is; None: nowhere.

    In a corner the wall round it has openings too.
    """
    wall = _wall_beside(house, storey, position)
    tries = [position]
    if wall is not None:
        length_m, reach_m, step_m = (
            wall_length_m(wall),
            siting_number("aside"),
            siting_number("beside_opening"),
        )
        along_m = along_wall_m(wall, position)
        asides = [k * step_m * side for k in range(1, int(reach_m / step_m) + 1) for side in (1, -1)]
        tries += [
            _rounded(point_along(wall, along_m + aside))
            for aside in asides
            if step_m <= along_m + aside <= length_m - step_m
        ]
    for one in tries:
        clear = clear_of_openings(house, storey, one)
        if clear is None:
            continue
        spot = _off_the_wall(clear, room, _wall_beside(house, storey, clear))
        inside = room is None or room_shape(room).covers(ShapelyPoint(spot))
        if (inside or one == position) and not _before_an_opening(house, storey, spot):
            return spot
    return None


def _before_an_opening(house: House, storey: str, spot: Point) -> bool:
    """Whether a door or window is in any wall that near, level with the spot."""
    margin_m = siting_number("beside_opening")
    reach_m = siting_number("beside_wall") + siting_number("off_the_wall")
    for wall in house.walls:
        if wall.storey != storey or away_from_wall_m(wall, spot) > reach_m:
            continue
        along_m = along_wall_m(wall, spot)
        for opening in _openings_of(house, wall):
            if opening.offset_m - margin_m < along_m < opening.offset_m + opening.width_m + margin_m:
                return True
    return False


def _wall_height_m(job: Job, storey: str) -> float:
    """Height of an access point on a wall, above its storey's floor."""
    below_ceiling_m = storey_of(job.house, storey).height_m - siting_number("wall_below_ceiling")
    return min(siting_number("wall_height"), below_ceiling_m)


def room_of(job: Job, outlet: Outlet) -> Room | None:
    """The room of a plate, as said or by where it is."""
    if outlet.room:
        return next(room for room in job.house.rooms if room.id == outlet.room)
    return room_at(job.house, outlet.storey, outlet.position) if outlet.position else None


def storeys_between(job: Job, one: str, other: str) -> int:
    """Floors that a cable crosses between two storeys.

    Parameters: ids of storeys. 0 on one storey; raises ValueError for a storey that the house does not have.
    """
    levels = [storey.id for storey in sorted(job.house.storeys, key=lambda storey: storey.elevation_m)]
    return abs(levels.index(one) - levels.index(other))


def _off_the_wall(position: Point, room: Room | None, wall: Wall | None = None) -> Point:
    """The place, moved straight off its wall into its room; towards the room's middle where it is on none."""
    if room is None:
        return position
    centre = room_centre(room)
    dx, dy = centre[0] - position[0], centre[1] - position[1]
    if wall is not None:
        length_m = wall_length_m(wall)
        along = ((wall.end[0] - wall.start[0]) / length_m, (wall.end[1] - wall.start[1]) / length_m)
        onward = dx * along[0] + dy * along[1]
        dx, dy = dx - onward * along[0], dy - onward * along[1]
    distance = (dx * dx + dy * dy) ** 0.5
    into_room_m = siting_number("off_the_wall")
    if distance <= into_room_m:
        return position
    share = into_room_m / distance
    return round(position[0] + dx * share, 3), round(position[1] + dy * share, 3)


def _wall_beside(house: House, storey: str, position: Point) -> Wall | None:
    """The wall that a point is on: the nearest within the reach of a plate."""
    near = [
        (away_from_wall_m(wall, position), number)
        for number, wall in enumerate(house.walls)
        if wall.storey == storey
    ]
    best = min(near, default=None)
    return house.walls[best[1]] if best and best[0] <= siting_number("beside_wall") else None


def clear_of_openings(house: House, storey: str, position: Point) -> Point | None:
    """The nearest point along the wall where no door or window is; None where the wall has none near.

    A point that is on no wall is clear as it stands.
    """
    wall = _wall_beside(house, storey, position)
    if wall is None:
        return position
    length_m = wall_length_m(wall)
    along_m = along_wall_m(wall, position)
    margin_m = siting_number("beside_opening")
    taken = [
        (opening.offset_m - margin_m, opening.offset_m + opening.width_m + margin_m)
        for opening in _openings_of(house, wall)
    ]
    if not any(a < along_m < b for a, b in taken):
        return position
    reach_m = siting_number("aside")
    free = [
        edge
        for edge in sorted((edge for span in taken for edge in span), key=lambda edge: abs(edge - along_m))
        if margin_m <= edge <= length_m - margin_m
        and abs(edge - along_m) <= reach_m
        and not any(a < edge < b for a, b in taken)
    ]
    return _rounded(point_along(wall, free[0])) if free else None


def _openings_of(house: House, wall: Wall) -> Iterator[Opening]:
    return (opening for opening in house.openings if opening.wall == wall.id)


def _rounded(point: Point) -> Point:
    return round(point[0], 3), round(point[1], 3)
