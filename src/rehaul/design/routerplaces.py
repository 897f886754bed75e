"""Where the router may stand."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from shapely.geometry import Point as ShapelyPoint
from shapely.ops import nearest_points

from rehaul.design.places import may_hold, room_of
from rehaul.design.works import Work, Works
from rehaul.facts.equipment import equipment
from rehaul.facts.siting import siting_number
from rehaul.facts.wlan_equipment import access_point_radios
from rehaul.house import Box, Job, MeetingPoint, Outlet
from rehaul.house.base import Point
from rehaul.house.geometry import room_at, room_centre, room_shape
from rehaul.words import say

HERE = "here"
SET = "where the router stands"


@dataclass(frozen=True)
class RouterPlace:
    """A place where the router may stand."""

    id: str
    words: str  # for people: what is done
    storey: str
    position: Point
    height_m: float
    work: str  # id of the work that puts it there
    by_cord: bool = False  # on a longer cord from where it stands today


def router_places(job: Job, works: Works, router: Box) -> tuple[RouterPlace, ...]:
    """Where the router stands today, and where else the provider's line or a cord would let it stand.

    Returns where it stands first, under the id `here`; only that where it may not, or cannot, move. Work is
    taken into `works`.

    **Validity**: along the provider's cable, and in the open in its own and other rooms of the storey within
    a long cord (fact table of siting); what stands there is not known.
    """
    here = RouterPlace(
        HERE,
        say("design_work.router_stays", router=router.name),
        router.storey,
        router.position,
        router.height_m,
        works.add(Work(id=f"router {HERE}", excludes=SET)),
    )
    if not job.choices.move_router or router.movable is False or not router.keep:
        return (here,)
    moves = [*_along_the_line(job, router), *_by_cord(job, router)]
    return (here, *(replace(move, work=_move(works, move)) for move in moves))


def _along_the_line(job: Job, router: Box) -> list[RouterPlace]:
    """Places on the very cable that the line comes in on: its plates, and where it meets the others."""
    run = next((run for run in job.house.runs if run.id == job.service.run), None)
    if run is None or job.service.modem not in (None, router.id):
        return []
    found = []
    things: tuple[Outlet | MeetingPoint, ...] = (*job.house.outlets, *job.house.meeting_points)
    for thing in things:
        if thing.id not in run.ends or thing.position is None:
            continue
        room = (
            room_of(job, thing)
            if isinstance(thing, Outlet)
            else room_at(job.house, thing.storey, thing.position)
        )
        if math.dist(thing.position, router.position) < 1.0 and thing.storey == router.storey:
            continue
        if room is not None and not may_hold(job, room):
            continue
        closed = isinstance(thing, MeetingPoint) and thing.enclosure == "flush metal can"
        if not closed:
            words = (
                say("design_work.router_to_room", router=router.name, place=thing.id, room=room.name)
                if room
                else say("design_work.router_to", router=router.name, place=thing.id)
            )
            place = RouterPlace(
                thing.id, words, thing.storey, thing.position, siting_number("shelf_height"), ""
            )
            found.append(place)
    return found


def _by_cord(job: Job, router: Box) -> list[RouterPlace]:
    """Places in the open that a longer cord along the skirting reaches: its own room and those beside it."""
    if job.service.medium == "wireless" or not _radiates(router):
        return []
    own = room_at(job.house, router.storey, router.position)
    found = []
    for room in job.house.rooms:
        if room.storey != router.storey or room.outbuilding or not may_hold(job, room):
            continue
        if own is not None and room.id == own.id:
            spot = room_centre(room)
        else:
            near, _ = nearest_points(room_shape(room), ShapelyPoint(router.position))
            spot = _inwards((near.x, near.y), room_centre(room))
        away_m = sum(abs(a - b) for a, b in zip(spot, router.position, strict=True))
        if not 1.0 <= away_m <= siting_number("long_cord"):
            continue
        place = RouterPlace(
            f"in {room.id}",
            say("design_work.router_by_cord", router=router.name, room=room.name),
            router.storey,
            spot,
            siting_number("shelf_height"),
            "",
            by_cord=True,
        )
        found.append(place)
    return found


def _radiates(router: Box) -> bool:
    """Whether its radio gains by standing in the open; a class that no table holds may have one."""
    known = router.equipment in equipment()
    return router.radio and (not known or any(name == router.equipment for name, _ in access_point_radios()))


def _inwards(edge: Point, centre: Point) -> Point:
    """Half a metre from the edge of a room towards its middle."""
    apart_m = math.dist(edge, centre)
    share = min(1.0, 0.5 / apart_m) if apart_m > 0 else 0.0
    return (
        round(edge[0] + share * (centre[0] - edge[0]), 3),
        round(edge[1] + share * (centre[1] - edge[1]), 3),
    )


def _move(works: Works, place: RouterPlace) -> str:
    return works.add(
        Work(
            id=f"router {place.id}",
            words=place.words,
            tasks=("move_router",),
            parts=(("cord_long", 1),) if place.by_cord else (("cord_200", 1),),
            needs=("visit",),
            excludes=SET,
        )
    )
