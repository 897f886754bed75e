"""Where an access point may go: where good copper surfaces, at the closet, or at the end of a new pull."""

from __future__ import annotations

from collections.abc import Sequence

from rehaul.design.costs import beside_closet_cost, new_pull_cost, reuse_cost
from rehaul.design.results import Site
from rehaul.house import Job, MeetingPoint, Outlet, Room, Run, RunState, Topology
from rehaul.house.base import Point
from rehaul.house.geometry import room_at, room_centre, storey_of
from rehaul.predict.results import RunVerdict

OFF_THE_WALL_M = 0.25  # an access point at an outlet stands this far into the room
WALL_HEIGHT_M = 1.9  # above heads and furniture, within reach of a cord
UNDER_CEILING_M = 0.08
DETOUR = 1.25  # a pull is this much longer than the way along walls
NEW_CABLE_MBPS, NEW_CABLE_POE_CLASS, NEW_CABLE_CHANCE = 2500.0, 8, 0.9
LEAST_MBPS = 1000.0  # an old run slower than this is no backhaul worth a site


def candidate_sites(job: Job, verdicts: Sequence[RunVerdict]) -> tuple[Site, ...]:
    """Every place worth considering, reuse first, then the closet, then new pulls room by room."""
    runs = {run.id: run for run in job.house.runs}
    reuse = [site for verdict in verdicts for site in _reuse(job, runs[verdict.run], verdict)]
    sites = [*reuse, *_closets(job)]
    if job.choices.new_pulls and job.house.meeting_points:
        sites += _new_pulls(job)
    return tuple(sites)


def _reuse(job: Job, run: Run, verdict: RunVerdict) -> list[Site]:
    """The run's outlets, as it is or once it is mended; none where it is held, lost, or too slow."""
    if verdict.held_by or "unknown" in verdict.ends or verdict.sentence.startswith("Held"):
        return []
    rates = [
        v for v in verdict.ethernet if max(v.chance, v.lifted_chance) >= 0.8 and v.rate_mbps >= LEAST_MBPS
    ]
    if not rates:
        return []
    best = rates[-1]
    mend = run.state is RunState.DAMAGED
    chain = run.topology is Topology.DAISY_CHAIN
    cost = reuse_cost(job, repair=mend, break_chain=max(0, len(run.ends) - 2) if chain else 0)
    outlets = {outlet.id: outlet for outlet in job.house.outlets}
    found = []
    for end in run.ends:
        outlet = outlets.get(end)
        if outlet is None or outlet.position is None:
            continue
        room = _room_of(job, outlet)
        found.append(
            Site(
                id=outlet.id,
                name=room.name if room else storey_of(job.house, outlet.storey).name,
                storey=outlet.storey,
                position=_off_the_wall(outlet.position, room),
                height_m=min(WALL_HEIGHT_M, storey_of(job.house, outlet.storey).height_m - 0.2),
                mounting="wall",
                room=room.id if room else "",
                run=run.id,
                wire_mbps=best.rate_mbps,
                poe_class=verdict.poe_class or (4 if mend else 0),
                cost=cost.middle,
                cost_90=cost.high_90,
                chance=max(best.chance, best.lifted_chance),
                why=f"cable {run.id} already surfaces here" + (", once mended" if mend else ""),
            )
        )
    return found


def _closets(job: Job) -> list[Site]:
    cost = beside_closet_cost(job)
    return [
        Site(
            id=point.id,
            name=point.name,
            storey=point.storey,
            position=point.position,
            height_m=min(WALL_HEIGHT_M, storey_of(job.house, point.storey).height_m - 0.2),
            mounting="wall",
            wire_mbps=NEW_CABLE_MBPS,
            poe_class=NEW_CABLE_POE_CLASS,
            cost=cost.middle,
            cost_90=cost.high_90,
            chance=1.0,
            why="the cables meet here",
        )
        for point in job.house.meeting_points
    ]


def _new_pulls(job: Job) -> list[Site]:
    """A ceiling site in the middle of every room that is lived in or asks for something."""
    closet = job.house.meeting_points[0]
    needed = {need.room for need in job.needs}
    found = []
    rooms = [room for room in job.house.rooms if room.lived_in or room.id in needed]
    for number, room in enumerate(rooms, 1):
        centre = room_centre(room)
        storey = storey_of(job.house, room.storey)
        height_m = storey.height_m - UNDER_CEILING_M
        length_m = pull_length_m(job, closet, centre, storey.elevation_m + height_m)
        crossed = storeys_between(job, room.storey, closet.storey)
        cost = new_pull_cost(job, length_m, crossed)
        found.append(
            Site(
                id=f"N{number}",
                name=room.name,
                storey=room.storey,
                position=centre,
                height_m=height_m,
                mounting="ceiling",
                room=room.id,
                new_pull_m=round(length_m, 1),
                wire_mbps=NEW_CABLE_MBPS,
                poe_class=NEW_CABLE_POE_CLASS,
                cost=cost.middle,
                cost_90=cost.high_90,
                chance=NEW_CABLE_CHANCE,
                why=f"a new cable of about {length_m:.0f} m to the middle of the ceiling",
            )
        )
    return found


def storeys_between(job: Job, one: str, other: str) -> int:
    """Floors that a cable crosses between two storeys."""
    levels = [storey.id for storey in sorted(job.house.storeys, key=lambda storey: storey.elevation_m)]
    return abs(levels.index(one) - levels.index(other))


def pull_length_m(job: Job, closet: MeetingPoint, place: Point, z_m: float) -> float:
    """Length of a new cable from the closet to a place at height z, along walls with a detour."""
    closet_z_m = storey_of(job.house, closet.storey).elevation_m + closet.height_m
    flat = abs(place[0] - closet.position[0]) + abs(place[1] - closet.position[1])
    return (flat + abs(z_m - closet_z_m)) * DETOUR


def _room_of(job: Job, outlet: Outlet) -> Room | None:
    if outlet.room:
        return next(room for room in job.house.rooms if room.id == outlet.room)
    return room_at(job.house, outlet.storey, outlet.position) if outlet.position else None


def _off_the_wall(position: Point, room: Room | None) -> Point:
    """The outlet's place, moved off the wall towards the middle of its room."""
    if room is None:
        return position
    centre = room_centre(room)
    dx, dy = centre[0] - position[0], centre[1] - position[1]
    distance = (dx * dx + dy * dy) ** 0.5
    if distance <= OFF_THE_WALL_M:
        return position
    share = OFF_THE_WALL_M / distance
    return round(position[0] + dx * share, 3), round(position[1] + dy * share, 3)
