"""Which sites get which access point: the exact placement on a real house, explained."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rehaul.design.alternatives import numbered
from rehaul.design.coverage import Problem, Requirement, Selection
from rehaul.design.placement import front, solve
from rehaul.design.reasons import cheapest_fix, cost_of_pinning, lost_without, most_reachable, one_more
from rehaul.design.results import AccessPoint, Choice, FrontPoint, RoomShortfall, Site
from rehaul.design.robust import of_whole_rooms
from rehaul.design.sampled import places_of, rooms_met
from rehaul.errors import BadInput
from rehaul.facts.equipment import Equipment, equipment_of
from rehaul.house import Job, Room
from rehaul.house.geometry import storey_of
from rehaul.predict import (
    SERVED_SHARE,
    Asked,
    Calibration,
    HouseScene,
    LinkRate,
    Listener,
    Radiator,
    Receivers,
    asked,
    corrected_air,
    plan_link,
    serves,
    standing_radiators,
)
from rehaul.wlan import ethernet_tcp_mbps

ROUTER_PORT_MBPS = 1000.0


@dataclass(frozen=True, eq=False)
class Placing:
    """The placement problem of a house, and what its numbers stand for."""

    problem: Problem
    options: tuple[tuple[Site, Equipment] | None, ...]  # None: a box that stands and stays
    radiators: tuple[Radiator, ...]  # one per option
    needs: tuple[Asked, ...]


def choose(
    job: Job,
    sites: Sequence[Site],
    scene: HouseScene,
    receivers: Receivers,
    calibration: Calibration | None = None,
    *,
    time_limit_s: float = 20.0,
) -> Choice:
    """Least cost that meets every need with its probability, with proof, front and explanations."""
    placing = placing_of(job, sites, scene, receivers, calibration)
    if not placing.needs:
        return Choice(
            access_points=(),
            candidates=tuple(sites),
            cost=0,
            bound=0,
            gap_pct=0,
            proven=True,
            front=(),
            shortfalls=(),
        )
    best = solve(placing.problem, time_limit_s)
    points = front(placing.problem, time_limit_s)
    chosen = _affordable(job, placing, best, [point.choice for point in points])
    return Choice(
        access_points=_access_points(job, placing, chosen),
        candidates=tuple(sites),
        cost=chosen.cost,
        bound=chosen.bound,
        gap_pct=round(chosen.gap * 100, 2),
        proven=chosen.proven,
        front=tuple(_front_point(job, placing, point.choice, chosen) for point in points),
        shortfalls=_shortfalls(job, placing, chosen),
        what_one_more_buys=_one_more(job, placing, chosen),
        why_not=_why_not(job, placing, chosen, sites),
    )


def placing_of(
    job: Job,
    sites: Sequence[Site],
    scene: HouseScene,
    receivers: Receivers,
    calibration: Calibration | None = None,
) -> Placing:
    """Every site with every class of access point, and the places of each room that they serve."""
    needs = tuple(need for need in asked(job) if need.rated)
    places = [places_of(job, receivers, need.room) for need in needs]
    kinds = sorted(equipment_of("access point"), key=lambda row: (row.price, row.name))
    standing = standing_radiators(job, keep_only=True)
    options: list[tuple[Site, Equipment] | None] = [None] * len(standing)
    radiators = list(standing)
    for site in sites:
        for kind in kinds:
            if site.poe_class >= kind.poe_class:
                options.append((site, kind))
                radiators.append(radiator_at(job, site, kind, kind.name))
    served = _serves(job, scene, radiators, needs, places, calibration)
    numbers = {site.id: number for number, site in enumerate(sites)}
    site_index = [len(sites) + i for i in range(len(standing))]
    site_index += [numbers[option[0].id] for option in options if option]
    starts = np.cumsum([0, *(len(points) for points in places)])
    problem = Problem(
        site=np.array(site_index, dtype=np.int64),
        kind=np.array(
            [0 if option is None else kinds.index(option[1]) for option in options], dtype=np.int64
        ),
        cost=np.array([0.0 if option is None else option[0].cost + option[1].price for option in options]),
        serves=served,
        requirements=tuple(
            Requirement(need.room, np.arange(starts[i], starts[i + 1]), np.ones(len(places[i])), SERVED_SHARE)
            for i, need in enumerate(needs)
        ),
        pinned=_site_numbers(job.choices.pinned_sites, numbers, "pinned_sites"),
        forbidden=_site_numbers(job.choices.forbidden_sites, numbers, "forbidden_sites"),
        pinned_options=tuple(range(len(standing))),
    )
    if job.choices.whole_rooms and needs:
        met = rooms_met(job, scene, receivers, radiators, needs, calibration)
        problem = of_whole_rooms(problem, met, [need.probability for need in needs])
    return Placing(problem, tuple(options), tuple(radiators), needs)


def radiator_at(job: Job, site: Site, kind: Equipment, name: str) -> Radiator:
    """An access point of a class at a site, with the links that feed it."""
    wire = [plan_link(job), _wired("router port", ROUTER_PORT_MBPS)]
    run_name = f"run {site.run}" if site.run else "new run" if site.new_pull_m else "patch cord"
    wire.append(_wired(run_name, min(site.wire_mbps, kind.port_mbps)))
    z_m = storey_of(job.house, site.storey).elevation_m + site.height_m
    return Radiator(name, name, kind.name, (*site.position, z_m), site.mounting, tuple(wire))


def _wired(name: str, line_mbps: float) -> LinkRate:
    return LinkRate(name=name, rate_mbps=round(ethernet_tcp_mbps(line_mbps), 1))


def _site_numbers(names: Sequence[str], numbers: dict[str, int], field: str) -> tuple[int, ...]:
    for name in names:
        if name not in numbers:
            raise BadInput(
                f"there is no candidate site {name!r}",
                where=f"choices.{field}",
                remedy="Use one of: " + ", ".join(numbers),
            )
    return tuple(numbers[name] for name in names)


def _serves(
    job: Job,
    scene: HouseScene,
    radiators: Sequence[Radiator],
    needs: Sequence[Asked],
    places: Sequence[NDArray[np.float64]],
    calibration: Calibration | None,
) -> NDArray[np.bool_]:
    """Whether each box alone meets each need at each of its places with the asked-for probability.

    The field of a box is made once for all rooms; needs differ in rate, probability and device.
    """
    starts = np.cumsum([0, *(len(points) for points in places)])
    served = np.zeros((len(radiators), int(starts[-1])), dtype=np.bool_)
    for client in sorted({need.client for need in needs}):
        mine = [i for i, need in enumerate(needs) if need.client == client]
        points = np.concatenate([places[i] for i in mine])
        ends = np.cumsum([len(places[i]) for i in mine])[:-1]
        for row, radiator in enumerate(radiators):
            airs = corrected_air(job, scene, radiator, points, Listener(client), calibration)
            for i, part in zip(mine, np.split(np.arange(len(points)), ends), strict=True):
                here = [air.at(part) for air in airs]
                if here:
                    served[row, starts[i] : starts[i + 1]] = serves(here, needs[i])
    return served


def _affordable(job: Job, placing: Placing, best: Selection, points: Sequence[Selection]) -> Selection:
    """The best, or where it is over the budget the point of the front that serves most within it."""
    budget = job.choices.budget
    if budget is None or best.cost <= budget:
        return best
    within = [point for point in points if point.cost <= budget]
    return max(within, key=lambda point: (sum(point.met), -point.cost)) if within else best


def _access_points(job: Job, placing: Placing, chosen: Selection) -> tuple[AccessPoint, ...]:
    storeys = {storey.id: storey.elevation_m for storey in job.house.storeys}
    picked = [(option, placing.options[option]) for option in chosen.options]
    stands = [(number, *pair) for number, pair in picked if pair is not None]
    stands.sort(key=lambda row: (storeys[row[1].storey], row[1].id))
    names = numbered([site.name for _, site, _ in stands])
    return tuple(
        AccessPoint(
            id=f"AP{index}",
            name=name,
            site=site,
            equipment=kind.name,
            why=_why(job, placing, chosen, option, site),
        )
        for index, ((option, site, kind), name) in enumerate(zip(stands, names, strict=True), 1)
    )


def _why(job: Job, placing: Placing, chosen: Selection, option: int, site: Site) -> str:
    """What would be lost without it: the rooms that only it brings up to their need."""
    rooms = _room_names(job)
    lost = [rooms[placing.needs[i].room] for i in lost_without(placing.problem, chosen, option)]
    return f"{site.why}; without it {_listed(lost)} would fall short" if lost else site.why


def _front_point(job: Job, placing: Placing, point: Selection, chosen: Selection) -> FrontPoint:
    rooms = _room_names(job)
    picked = [pair for pair in (placing.options[option] for option in point.options) if pair]
    return FrontPoint(
        cost=point.cost,
        rooms_served=sum(point.met),
        rooms=tuple(rooms[need.room] for need, met in zip(placing.needs, point.met, strict=True) if met),
        sites=tuple(site.id for site, _ in picked),
        equipment=tuple(kind.name for _, kind in picked),
        chosen=point.options == chosen.options,
    )


def _shortfalls(job: Job, placing: Placing, chosen: Selection) -> tuple[RoomShortfall, ...]:
    found = []
    rooms: dict[str, Room] = {room.id: room for room in job.house.rooms}
    for index, need in enumerate(placing.needs):
        if chosen.met[index]:
            continue
        fix, cost = _fix(job, placing, chosen, index)
        found.append(
            RoomShortfall(
                room=need.room,
                name=rooms[need.room].name,
                need_mbps=need.down_mbps,
                gets_mbps=0.0,
                served_pct=round(chosen.served[index] * 100, 1),
                fix=fix,
                fix_cost=cost,
            )
        )
    return tuple(found)


def _fix(job: Job, placing: Placing, chosen: Selection, index: int) -> tuple[str, float | None]:
    """The cheapest thing that would bring one room up to its need and keep the others."""
    need = placing.needs[index]
    if need.down_mbps > job.service.down_mbps:
        return (
            f"The plan of {job.service.down_mbps:.0f} Mb/s is less than the room asks; raise the plan",
            None,
        )
    if need.up_mbps > job.service.up_mbps:
        return (
            f"The plan of {job.service.up_mbps:.0f} Mb/s up is less than the room asks; raise the plan",
            None,
        )
    change = cheapest_fix(placing.problem, chosen, index)
    if change is not None:
        added = [pair for pair in (placing.options[option] for option in change.added) if pair]
        dropped = [pair for pair in (placing.options[option] for option in change.dropped) if pair]
        words = "Cheapest fix: " + _listed(
            [f"{kind.label} at {site.id} ({site.name})" for site, kind in added]
        )
        if dropped:
            words += " instead of " + _listed([f"{kind.label} at {site.id}" for site, kind in dropped])
        return words, change.extra_cost
    share = most_reachable(placing.problem, index)
    words = (
        f"In {100 * share:.0f} % of cases some candidate site serves the room as a whole"
        if job.choices.whole_rooms
        else f"All candidate sites together serve {100 * share:.0f} % of the room"
    )
    if not job.choices.new_pulls:
        words += "; allow a new cable to it"
    elif job.choices.forbidden_sites:
        words += "; free a forbidden site"
    else:
        words += "; ask for less there, or put a wired outlet where the rate is needed"
    return words, None


def _why_not(job: Job, placing: Placing, chosen: Selection, sites: Sequence[Site]) -> tuple[str, ...]:
    """For every site left out: what it would cost to put something there and still serve as many rooms."""
    used = {pair[0].id for pair in (placing.options[option] for option in chosen.options) if pair}
    numbers = {pair[0].id: int(placing.problem.site[i]) for i, pair in enumerate(placing.options) if pair}
    lines = []
    for site in sites:
        if site.id in used:
            continue
        if site.id in job.choices.forbidden_sites:
            lines.append(f"{site.id} ({site.name}): forbidden")
        elif site.id not in numbers:
            lines.append(f"{site.id} ({site.name}): its cable carries no power for an access point")
        else:
            change = cost_of_pinning(placing.problem, chosen, numbers[site.id])
            if change is None:
                lines.append(f"{site.id} ({site.name}): with it, not as many rooms can be served")
            elif change.extra_cost <= 0:
                lines.append(f"{site.id} ({site.name}): as good, at the same cost")
            else:
                lines.append(f"{site.id} ({site.name}): {change.extra_cost:.0f} {job.currency} more")
    return tuple(lines)


def _one_more(job: Job, placing: Placing, chosen: Selection) -> str:
    """What one more access point would buy."""
    if all(chosen.met):
        return "Every room is served; one more access point would buy spare rate, no further room"
    more = one_more(placing.problem, chosen)
    pair = placing.options[more.option] if more else None
    if more is None or pair is None:
        return "No further access point at a candidate site would help a room that falls short"
    rooms = _room_names(job)
    site, kind = pair
    what = (
        f"{_listed([rooms[placing.needs[i].room] for i in more.newly_met])} served"
        if more.newly_met
        else "more of the rooms that fall short, none up to its need"
    )
    return f"{kind.label} at {site.id} ({site.name}) for {more.cost:.0f} {job.currency}: {what}"


def _room_names(job: Job) -> dict[str, str]:
    return {room.id: room.name for room in job.house.rooms}


def _listed(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else ", ".join(names[:-1]) + " and " + names[-1]
