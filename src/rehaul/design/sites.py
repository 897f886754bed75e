"""Where an access point may go: where good copper surfaces, at the closet, or at the end of a new pull."""

from __future__ import annotations

from collections.abc import Sequence

from rehaul.design.conduit import fill_after_pull
from rehaul.design.costs import beside_closet_cost, reuse_cost
from rehaul.design.pulls import forbids_holes, is_hard, mounting_place, pull_cost, way_to_room
from rehaul.design.results import Site
from rehaul.facts.grades import chance
from rehaul.facts.pulls import pull_ways
from rehaul.facts.siting import siting_number
from rehaul.house import Job, MeetingPoint, Outlet, Room, Run, RunState, Topology, counts_on
from rehaul.house.base import Point
from rehaul.house.geometry import room_at, room_centre, storey_of
from rehaul.network.cabling import run_verdict
from rehaul.network.verdicts import RunVerdict


def candidate_sites(job: Job, verdicts: Sequence[RunVerdict]) -> tuple[Site, ...]:
    """Every place worth considering: reuse first, then old cable as pull cord, the closet, new pulls."""
    runs = {run.id: run for run in job.house.runs}
    reuse = [site for verdict in verdicts for site in _reuse(job, runs[verdict.run], verdict)]
    sites = [*reuse, *_closets(job)]
    if job.choices.new_pulls and job.house.meeting_points:
        taken = {site.id for site in sites}
        drawn = [site for verdict in verdicts for site in _pull_cords(job, runs[verdict.run], verdict)]
        sites += [site for site in drawn if site.id not in taken]
        sites += _new_pulls(job)
    return tuple(sites)


def _may_use(job: Job, verdict: RunVerdict) -> bool:
    """Whether the plan may count on a run: found, and free or to be freed by the household's decision."""
    return "unknown" not in verdict.ends and counts_on(job, verdict.run)


def put_right(run: Run) -> Run:
    """The run once it is freed, mended and taken out of its chain."""
    dead = run.state in (RunState.DAMAGED, RunState.ALARM, RunState.LIVE_TELEPHONE)
    chained = run.topology is Topology.DAISY_CHAIN
    return run.model_copy(
        update={
            "state": RunState.DEAD if dead else run.state,
            "topology": Topology.HOME_RUN if chained else run.topology,
            "tests": () if run.state is RunState.DAMAGED else run.tests,
        }
    )


def _reuse(job: Job, run: Run, verdict: RunVerdict) -> list[Site]:
    """The run's outlets, as it is or once it is put right; none where it is held, lost, or too slow.

    A chain is joined straight through at the boxes before the wanted one, or gets a small switch there;
    every box but the last carries the price of that switch. A joint is a splice, with its chance.
    """
    if not _may_use(job, verdict):
        return []
    rates = [
        v
        for v in verdict.ethernet
        if max(v.chance, v.lifted_chance) >= siting_number("least_chance")
        and v.rate_mbps >= siting_number("least_rate")
    ]
    if not rates:
        return []
    best = rates[-1]
    mend = run.state is RunState.DAMAGED
    right = put_right(run)
    poe_class = verdict.poe_class if right == run else max(verdict.poe_class, _poe_class(job, right))
    found = []
    for outlet in _outlets_of(job, run):
        assert outlet.position is not None
        before = run.ends.index(outlet.id) - 1 if len(run.ends) > 2 else 0
        last = outlet.id in (run.ends[-1], run.ends[0])
        cost = reuse_cost(job, repair=mend, break_chain=max(before, 0) + (not last), small_switch=not last)
        room = _room_of(job, outlet)
        put_right_words = [
            words for words, is_so in (("mended", mend), ("out of its chain", len(run.ends) > 2)) if is_so
        ]
        found.append(
            Site(
                id=outlet.id,
                name=room.name if room else storey_of(job.house, outlet.storey).name,
                storey=outlet.storey,
                position=_off_the_wall(outlet.position, room),
                height_m=_wall_height_m(job, outlet.storey),
                mounting="wall",
                room=room.id if room else "",
                run=run.id,
                wire_mbps=best.rate_mbps,
                poe_class=poe_class,
                cost=cost.middle,
                cost_90=cost.high_90,
                chance=max(best.chance, best.lifted_chance) * chance("good splice") ** max(before, 0),
                why=f"cable {run.id} already surfaces here"
                + (f", once {' and '.join(put_right_words)}" if put_right_words else ""),
            )
        )
    return found


def _poe_class(job: Job, run: Run) -> int:
    return run_verdict(job, run).poe_class


def _outlets_of(job: Job, run: Run) -> list[Outlet]:
    outlets = {outlet.id: outlet for outlet in job.house.outlets}
    ends = [outlets[end] for end in run.ends if end in outlets]
    return [outlet for outlet in ends if outlet.position is not None]


def _pull_cords(job: Job, run: Run, verdict: RunVerdict) -> list[Site]:
    """The far outlet of an old run in conduit: the old cable draws the new one in, where it fits."""
    fill = fill_after_pull(run)
    if not run.in_conduit or not _may_use(job, verdict) or (fill is not None and not fill.fits):
        return []
    way = pull_ways()["pull cord"]
    found = []
    for outlet in _outlets_of(job, run)[-1:]:
        assert outlet.position is not None
        room = _room_of(job, outlet)
        cost = pull_cost(job, way, verdict.length_m, False, 0)
        found.append(
            Site(
                id=outlet.id,
                name=room.name if room else storey_of(job.house, outlet.storey).name,
                storey=outlet.storey,
                position=_off_the_wall(outlet.position, room),
                height_m=_wall_height_m(job, outlet.storey),
                mounting="wall",
                room=room.id if room else "",
                new_pull_m=round(verdict.length_m, 1),
                way=way.way,
                spends=run.id,
                wire_mbps=way.mbps,
                poe_class=way.poe_class,
                cost=cost.middle,
                cost_90=cost.high_90,
                chance=way.chance,
                why=f"the conduit of {run.id} ends here: a new cable is {way.words}",
            )
        )
    return found


def _closets(job: Job) -> list[Site]:
    cost, new_cable = beside_closet_cost(job), pull_ways()["fished"]
    return [
        Site(
            id=point.id,
            name=point.name,
            storey=point.storey,
            position=point.position,
            height_m=_wall_height_m(job, point.storey),
            mounting="wall",
            wire_mbps=new_cable.mbps,
            poe_class=new_cable.poe_class,
            cost=cost.middle,
            cost_90=cost.high_90,
            chance=1.0,
            why="the cables meet here",
        )
        for point in job.house.meeting_points
    ]


def _new_pulls(job: Job) -> list[Site]:
    """A site in every room that is lived in or asks for something; none where no hole may be made."""
    closet = job.house.meeting_points[0]
    needed = {need.room for need in job.needs}
    found = []
    rooms = [room for room in job.house.rooms if room.lived_in or room.id in needed]
    for number, room in enumerate(rooms, 1):
        if forbids_holes(job.house, room.storey, room.id):
            continue
        storey = storey_of(job.house, room.storey)
        crossed = storeys_between(job, room.storey, closet.storey)
        way = way_to_room(job, room, closet, crossed)
        ceiling = way.mounting == "ceiling"
        under_ceiling_m = storey.height_m - siting_number("under_ceiling")
        height_m = under_ceiling_m if ceiling else _wall_height_m(job, room.storey)
        place = mounting_place(room, way, closet)
        length_m = pull_length_m(job, closet, place, storey.elevation_m + height_m)
        cost = pull_cost(job, way, length_m, is_hard(job.house, room, way, crossed), crossed)
        found.append(
            Site(
                id=f"N{number}",
                name=room.name,
                storey=room.storey,
                position=place if ceiling else _off_the_wall(place, room),
                height_m=height_m,
                mounting=way.mounting,
                room=room.id,
                new_pull_m=round(length_m, 1),
                way=way.way,
                wire_mbps=way.mbps,
                poe_class=way.poe_class,
                cost=cost.middle,
                cost_90=cost.high_90,
                chance=way.chance,
                why=f"a new cable of about {length_m:.0f} m, {way.words}",
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
    return (flat + abs(z_m - closet_z_m)) * siting_number("detour")


def _wall_height_m(job: Job, storey: str) -> float:
    """Height of an access point on a wall, above its storey's floor."""
    below_ceiling_m = storey_of(job.house, storey).height_m - siting_number("wall_below_ceiling")
    return min(siting_number("wall_height"), below_ceiling_m)


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
    into_room_m = siting_number("off_the_wall")
    if distance <= into_room_m:
        return position
    share = into_room_m / distance
    return round(position[0] + dx * share, 3), round(position[1] + dy * share, 3)
