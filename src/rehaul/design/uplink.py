"""Where the router may stand, and how the main switch hangs on it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from shapely import Polygon
from shapely.geometry import Point as ShapelyPoint
from shapely.ops import nearest_points

from rehaul.design.feeds import Feed, plug
from rehaul.design.newcable import pull_feed
from rehaul.design.places import may_hold, room_of
from rehaul.design.works import Work, Works
from rehaul.facts.equipment import equipment
from rehaul.facts.siting import siting_number
from rehaul.house import Box, Job, MeetingPoint, Outlet
from rehaul.house.base import Point
from rehaul.house.geometry import room_at, room_centre
from rehaul.network.model import Link
from rehaul.wlan import ethernet_tcp_mbps

HERE = "here"
SET = "where the router stands"
UPLINK = "how the switch hangs on the router"


@dataclass(frozen=True)
class RouterPlace:
    """A place where the router may stand."""

    id: str
    words: str  # for people: what is done
    storey: str
    position: Point
    height_m: float
    work: str  # id of the work that puts it there


@dataclass(frozen=True)
class Uplink:
    """One way in which the main switch hangs on the router at one of its places."""

    router: str  # place id
    links: tuple[Link, ...]  # from the router to the switch; none where the router's own ports serve
    works: tuple[str, ...]
    rate_mbps: float  # payload


@dataclass(frozen=True)
class Core:
    """Where the main switch stands: the place where cables meet, else beside the router."""

    id: str
    storey: str
    position: Point
    point: MeetingPoint | None


def core_of(job: Job, point: MeetingPoint | None, router: Box | None) -> Core | None:
    """The place of the main switch; None where neither a meeting point nor a router is recorded."""
    if point is not None:
        return Core(point.id, point.storey, point.position, point)
    if router is not None:
        return Core(router.id, router.storey, router.position, None)
    return None


def router_places(job: Job, works: Works, router: Box) -> tuple[RouterPlace, ...]:
    """Where the router stands today, and where else the provider's line or a cord would let it stand."""
    here = RouterPlace(
        HERE,
        f"{router.name} stays where it is",
        router.storey,
        router.position,
        router.height_m,
        works.add(Work(id=f"router {HERE}", excludes=SET)),
    )
    if not job.choices.move_router or router.movable is False or not router.keep:
        return (here,)
    moves = [*_along_the_line(job, router), *_by_cord(job, router)]
    return (here, *(replace(move, work=_move(works, move, by_cord)) for move, by_cord in moves))


def _along_the_line(job: Job, router: Box) -> list[tuple[RouterPlace, bool]]:
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
            words = f"Move {router.name} to {thing.id}" + (f" ({room.name})" if room else "")
            place = RouterPlace(
                thing.id, words, thing.storey, thing.position, siting_number("shelf_height"), ""
            )
            found.append((place, False))
    return found


def _by_cord(job: Job, router: Box) -> list[tuple[RouterPlace, bool]]:
    """Places in the open that a longer cord along the skirting reaches: its own room and those beside it."""
    if job.service.medium == "wireless":
        return []
    own = room_at(job.house, router.storey, router.position)
    found = []
    for room in job.house.rooms:
        if room.storey != router.storey or room.outbuilding or not may_hold(job, room):
            continue
        if own is not None and room.id == own.id:
            spot = room_centre(room)
        else:
            near, _ = nearest_points(Polygon(room.polygon), ShapelyPoint(router.position))
            spot = _inwards((near.x, near.y), room_centre(room))
        away_m = sum(abs(a - b) for a, b in zip(spot, router.position, strict=True))
        if not 1.0 <= away_m <= siting_number("long_cord"):
            continue
        place = RouterPlace(
            f"in {room.id}",
            f"Move {router.name} into the open in {room.name}, on a longer cord",
            router.storey,
            spot,
            siting_number("shelf_height"),
            "",
        )
        found.append((place, True))
    return found


def _inwards(edge: Point, centre: Point) -> Point:
    """Half a metre from the edge of a room towards its middle."""
    apart_m = math.dist(edge, centre)
    share = min(1.0, 0.5 / apart_m) if apart_m > 0 else 0.0
    return (
        round(edge[0] + share * (centre[0] - edge[0]), 3),
        round(edge[1] + share * (centre[1] - edge[1]), 3),
    )


def _move(works: Works, place: RouterPlace, by_cord: bool) -> str:
    return works.add(
        Work(
            id=f"router {place.id}",
            words=place.words,
            tasks=("move_router",),
            parts=(("cord_long", 1),) if by_cord else (("cord_200", 1),),
            needs=("visit",),
            excludes=SET,
        )
    )


def uplinks(
    job: Job,
    works: Works,
    core: Core,
    router: Box | None,
    places: Sequence[RouterPlace],
    feeds: Sequence[Feed],
) -> tuple[Uplink, ...]:
    """Every way in which the main switch may hang on the router, none beaten in both price and rate."""
    if router is None:
        work = works.add(
            Work(id="uplink", words="The provider's line ends beside the switch", excludes=UPLINK)
        )
        return (Uplink("", (), (work,), _payload(1000.0)),)
    port = port_mbps(router)
    found: list[Uplink] = []
    fresh = () if router.keep else (_new_router(works, router),)
    for place in places:
        beside = place.storey == core.storey and math.dist(place.position, core.position) <= siting_number(
            "cord_reach"
        )
        if core.point is None and place.id == HERE:
            beside = True
        if beside:
            work = works.add(Work(id=f"uplink cord {place.id}", parts=(("cord_500", 1),), excludes=UPLINK))
            link = _cord("uplink", router.id, port)
            found.append(Uplink(place.id, (link,), (place.work, work), link.rate_mbps))
            continue
        mine = [*_over_copper(job, works, place, feeds, port, router)]
        pulled = _pulled(job, works, core, place, port, router)
        found += [*mine, *([pulled] if pulled else [])]
    best = _unbeaten(works, found)
    return tuple(replace(up, works=(*fresh, *up.works)) for up in best)


def _new_router(works: Works, old: Box) -> str:
    """A router without radios in place of one that goes with the old network."""
    return works.add(
        Work(
            id="router new",
            words=f"A router without radios takes the place of {old.name}",
            tasks=("switch",),
            parts=(("router wired", 1), ("cord_200", 1)),
            needs=("visit",),
        )
    )


def _over_copper(
    job: Job, works: Works, place: RouterPlace, feeds: Sequence[Feed], port: float, router: Box
) -> list[Uplink]:
    """Over an old cable whose plate is within a cord of the router."""
    plates = {o.id: o for o in job.house.outlets if o.position is not None and o.storey == place.storey}
    found = []
    for feed in feeds:
        plate = plates.get(feed.end)
        if plate is None or plate.position is None or not feed.from_core or len(feed.links) != 1:
            continue
        if math.dist(plate.position, place.position) > siting_number("cord_reach"):
            continue
        mode = works.add(Work(id=f"uplink {feed.id} {place.id}", parts=(("cord_500", 1),), excludes=UPLINK))
        old = feed.links[0]
        link = old.model_copy(update={"a": router.id, "b": "switch", **_at_most(old, port)})
        needs = (place.work, *feed.works, plug(works, feed, "uplink"), mode)
        found.append(Uplink(place.id, (link,), needs, link.rate_mbps))
    return found


def _pulled(
    job: Job, works: Works, core: Core, place: RouterPlace, port: float, router: Box
) -> Uplink | None:
    if core.point is None:
        return None
    feed = pull_feed(job, works, core.point, place.storey, place.position, f"router {place.id}")
    if feed is None:
        return None
    mode = works.add(Work(id=f"uplink new {place.id}", parts=(("cord_200", 2),), excludes=UPLINK, ports=1))
    new = feed.links[0]
    link = new.model_copy(update={"a": router.id, "b": "switch", **_at_most(new, port)})
    return Uplink(place.id, (link,), (place.work, *feed.works, mode), link.rate_mbps)


def ups_of(feed: Feed, classes: Sequence[UplinkClass]) -> Sequence[UplinkClass | None]:
    """The classes of uplink that a feed may hang on; none where it begins at the router itself."""
    return [None] if feed.at_router else classes


def _unbeaten(works: Works, found: Sequence[Uplink]) -> list[Uplink]:
    """For each place of the router the cheapest uplink, and any faster one."""
    kept: list[Uplink] = []
    for up in sorted(found, key=lambda up: (up.router, works.cost_all(up.works).middle, up.works)):
        if not any(other.router == up.router and other.rate_mbps >= up.rate_mbps for other in kept):
            kept.append(up)
    return kept


@dataclass(frozen=True)
class UplinkClass:
    """Uplinks that are fast enough for the same things."""

    slowest: Uplink
    names: tuple[str, ...]  # ids of the options
    words: str  # that tell one class from another; empty where there is one only


def uplink_classes(job: Job, ups: Sequence[Uplink]) -> tuple[UplinkClass, ...]:
    """What a box may hang on, by rate: faster than all that is paid for is as good as that."""
    paid = ethernet_tcp_mbps(max(job.service.down_mbps, job.service.up_mbps))
    rates = sorted({min(up.rate_mbps, paid) for up in ups}, reverse=True)
    found = []
    for rate in rates:
        enough = [up for up in ups if min(up.rate_mbps, paid) >= rate]
        slowest = min(enough, key=lambda up: (up.rate_mbps, up.works[-1]))
        words = f" from {rate:.0f} Mb/s" if len(rates) > 1 else ""
        found.append(UplinkClass(slowest, tuple(up.works[-1] for up in enough), words))
    return tuple(found)


def port_mbps(box: Box) -> float:
    """Payload that one port of a box carries."""
    row = equipment().get(box.equipment)
    return _payload(row.port_mbps if row and row.port_mbps > 0 else 1000.0)


def _payload(line_mbps: float) -> float:
    return round(ethernet_tcp_mbps(line_mbps), 1)


def _at_most(link: Link, port: float) -> dict[str, float]:
    return {name: min(getattr(link, name), port) for name in ("low_mbps", "rate_mbps", "high_mbps")}


def _cord(name: str, router: str, port: float) -> Link:
    return Link(
        id=name, a=router, b="switch", medium="cord", low_mbps=port, rate_mbps=port, high_mbps=port, age="new"
    )
