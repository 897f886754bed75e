"""How the main switch hangs on the router, or the router's own ports take its place."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from rehaul.design.cords import SLACK_M, cord_item, new_cord
from rehaul.design.feeds import Feed, plug
from rehaul.design.newcable import pull_feed
from rehaul.design.oldcables import CABLES
from rehaul.design.ownports import add_battery, on_own_ports, one_port, own_ports
from rehaul.design.routerplaces import HERE, RouterPlace
from rehaul.design.works import Work, Works
from rehaul.facts.siting import siting_number
from rehaul.house import Box, Job, MeetingPoint
from rehaul.house.base import Point
from rehaul.house.geometry import room_at, room_shape
from rehaul.network.model import Link
from rehaul.network.standing import NO_ROUTER, USUAL_PORT_MBPS, port_payload_mbps
from rehaul.wlan import ethernet_tcp_mbps
from rehaul.words import say

UPLINK = "how the switch hangs on the router"
NEW_ROUTER_CLASS = "router wired"


@dataclass(frozen=True)
class Uplink:
    """One way in which the main switch hangs on the router at one of its places."""

    router: str  # place id
    links: tuple[Link, ...]  # from the router to the switch; none where the router's own ports serve
    works: tuple[str, ...]
    rate_mbps: float  # payload
    own: Box | None = None  # the router whose own ports serve; None: a main switch does
    cord_m: float = 0.0  # of a patch cord from the router to where the cables meet

    def fed(self, works: Works, feed: Feed) -> Feed:
        """A feed as it is with this uplink: from the main switch, or from a port of the router.

        The same feed where a main switch serves; else its first link is bounded by the router's port [Mb/s].
        """
        if self.own is None:
            return feed
        return on_own_ports(works, feed, self.own, cord_item(self.cord_m), self.rate_mbps)


@dataclass(frozen=True)
class SwitchPlace:
    """Where the main switch stands: the place where cables meet, else beside the router."""

    id: str
    storey: str
    position: Point
    point: MeetingPoint | None


def core_of(job: Job, point: MeetingPoint | None, router: Box | None) -> SwitchPlace | None:
    """The place of the main switch; None where neither a meeting point nor a router is recorded.

    Parameters: `point`, where the cables meet; `router`, the one whose place is taken where there is none.
    """
    if point is not None:
        return SwitchPlace(point.id, point.storey, point.position, point)
    if router is not None:
        return SwitchPlace(router.id, router.storey, router.position, None)
    return None


def uplinks(
    job: Job,
    works: Works,
    core: SwitchPlace,
    router: Box | None,
    places: Sequence[RouterPlace],
    feeds: Sequence[Feed],
) -> tuple[Uplink, ...]:
    """Every way in which the main switch may hang on the router, none beaten in both price and rate.

    Parameters: `places` of the router, the one where it stands first; `feeds` over old cable, of which one
    may be the uplink.

    Returns them by place of the router, cheapest first. **Validity**: a router that goes is replaced by one
    without radios, whose price is in each; without a router the provider's line is taken to end beside the
    switch at 1 Gb/s. **Source**: docs/choosing.md, "Placement": a box hangs on some uplink.
    """
    if router is None:
        words = say("design_work.line_beside_switch")
        work = works.add(Work(id="uplink", words=words, parts=(("cord_500", 1),), excludes=UPLINK))
        link = _cord("uplink", NO_ROUTER, _payload(USUAL_PORT_MBPS))
        return (Uplink("", (link,), (work,), link.rate_mbps),)
    port = port_payload_mbps(router)
    found: list[Uplink] = []
    fresh = () if router.keep else (_new_router(works, router),)
    for place in places:
        away_m = _cord_way_m(job, core, place, places[0])
        if away_m is not None:
            found += _by_patch_cord(works, place, router, port, round(away_m + SLACK_M, 1))
            continue
        mine = [*_over_copper(job, works, place, feeds, port, router)]
        pulled = _pulled(job, works, core, place, port, router)
        found += [*mine, *([pulled] if pulled else [])]
    best = _unbeaten(works, found)
    return tuple(replace(up, works=(*fresh, *up.works)) for up in best)


def _cord_way_m(job: Job, core: SwitchPlace, place: RouterPlace, here: RouterPlace) -> float | None:
    """How far a patch cord goes from the router to where the cables meet; None where none can.

    Within a room it goes straight; to a place as near in the next room it goes round by the door. Farther it
    goes only with the router's own longer cord, from beside the core along the skirting.
    """
    if core.point is None and place.id == HERE:
        return 0.0
    if place.storey != core.storey:
        return None
    along_m = sum(abs(a - b) for a, b in zip(place.position, core.position, strict=True))
    near_m = _room_cord_m(job, place.storey, place.position, core.position)
    if near_m is not None:
        return near_m
    from_here = place.by_cord and _cord_way_m(job, core, here, here) is not None
    return along_m if from_here and along_m <= siting_number("long_cord") else None


def _room_cord_m(job: Job, storey: str, one: Point, other: Point) -> float | None:
    """Length of a cord between two near points: straight in one room, round by the door into the next."""
    reach_m = siting_number("cord_reach")
    apart_m = math.dist(one, other)
    if apart_m > reach_m:
        return None
    a, b = (room_at(job.house, storey, point) for point in (one, other))
    if a is None or b is None or a.id == b.id:
        return apart_m
    wall_m = room_shape(a).distance(room_shape(b))
    along_m = sum(abs(x - y) for x, y in zip(one, other, strict=True))
    return max(along_m, reach_m) if wall_m <= siting_number("beside_wall") else None


def _by_patch_cord(works: Works, place: RouterPlace, router: Box, port: float, cord_m: float) -> list[Uplink]:
    """Beside the core: a main switch on a cord, or nothing but the router's own ports."""
    work = works.add(
        Work(
            id=f"uplink cord {place.id}",
            parts=((cord_item(cord_m), 1),),
            excludes=UPLINK,
            loads=one_port(works.job, router),
        )
    )
    found = [Uplink(place.id, (_cord("uplink", router.id, port),), (place.work, work), port, cord_m=cord_m)]
    if own_ports(works.job, router):
        own = works.add(Work(id=f"uplink own ports {place.id}", excludes=UPLINK))
        needs = (place.work, *add_battery(works), own)
        found.append(Uplink(place.id, (), needs, port, own=router, cord_m=cord_m))
    return found


def _new_router(works: Works, old: Box) -> str:
    """A router without radios in place of one that goes with the old network."""
    return works.add(
        Work(
            id="router new",
            words=say("design_work.new_router", router=old.name),
            tasks=("switch",),
            parts=((NEW_ROUTER_CLASS, 1), ("cord_200", 1)),
            needs=("visit",),
        )
    )


def _over_copper(
    job: Job, works: Works, place: RouterPlace, feeds: Sequence[Feed], port: float, router: Box
) -> list[Uplink]:
    """Over an old cable whose plate is within a cord of the router, in its room or round by the next door."""
    plates = {o.id: o for o in job.house.outlets if o.position is not None and o.storey == place.storey}
    found = []
    for feed in feeds:
        plate = plates.get(feed.end)
        if plate is None or plate.position is None or not feed.from_core or len(feed.links) != 1:
            continue
        cord_m = _room_cord_m(job, place.storey, plate.position, place.position)
        if cord_m is None:
            continue
        cords = ((cord_item(cord_m + SLACK_M), 1),)
        mode = works.add(
            Work(
                id=f"uplink {feed.id} {place.id}",
                parts=cords,
                excludes=UPLINK,
                loads=one_port(works.job, router),
            )
        )
        old = feed.links[0]
        link = old.model_copy(update={"a": router.id, "b": "switch", **_at_most(old, port)})
        needs = (place.work, *feed.works, plug(works, feed, "uplink"), mode)
        found.append(Uplink(place.id, (link,), needs, link.rate_mbps))
    return found


def _pulled(
    job: Job, works: Works, core: SwitchPlace, place: RouterPlace, port: float, router: Box
) -> Uplink | None:
    if core.point is None:
        return None
    feed = pull_feed(job, works, core.point, place.storey, place.position, f"router {place.id}")
    if feed is None:
        return None
    mode = works.add(
        Work(
            id=f"uplink new {place.id}",
            parts=(("cord_200", 2),),
            excludes=UPLINK,
            ports=1,
            loads=one_port(works.job, router),
        )
    )
    new = feed.links[0]
    link = new.model_copy(update={"a": router.id, "b": "switch", **_at_most(new, port)})
    return Uplink(place.id, (link,), (place.work, *feed.works, mode), link.rate_mbps)


def ups_of(feed: Feed, classes: Sequence[UplinkClass]) -> Sequence[UplinkClass | None]:
    """The classes of uplink that a feed may hang on; none where it begins at the router itself.

    [None] stands for no uplink at all.
    """
    return [None] if feed.at_router else classes


def _unbeaten(works: Works, found: Sequence[Uplink]) -> list[Uplink]:
    """For each place of the router the cheapest uplink, and any faster one; its own ports besides.

    What any cabling costs is no difference between old cable and new, and is left out.
    """
    kept: list[Uplink] = []
    for up in sorted(found, key=lambda up: (up.router, _alone(works, up), up.works)):
        if not any(
            (other.router, other.own) == (up.router, up.own) and other.rate_mbps >= up.rate_mbps
            for other in kept
        ):
            kept.append(up)
    return kept


def _alone(works: Works, up: Uplink) -> float:
    """What an uplink costs beyond what is done anyway."""
    anyway = works.all_of([CABLES]) if CABLES in works.known else ()
    return sum(works.cost(name).middle for name in works.all_of(up.works) if name not in anyway)


@dataclass(frozen=True)
class UplinkClass:
    """Uplinks that are fast enough for the same things and feed them alike."""

    slowest: Uplink
    names: tuple[str, ...]  # ids of the options
    words: str  # that tell one class from another; empty where there is one only


def uplink_classes(job: Job, ups: Sequence[Uplink]) -> tuple[UplinkClass, ...]:
    """What a box may hang on: a main switch, or the router's own ports by the cord that reaches from them.

    Each by rate: faster than all that is paid for is as good as that. **Source**: docs/choosing.md,
    "Placement": a box hangs on some uplink.
    """
    kinds: dict[str, list[Uplink]] = {}
    for up in ups:
        kinds.setdefault(f" on own ports {cord_item(up.cord_m)}" if up.own else "", []).append(up)
    return tuple(row for words, alike in kinds.items() for row in _by_rate(job, alike, words))


def _by_rate(job: Job, ups: Sequence[Uplink], words: str) -> list[UplinkClass]:
    paid = ethernet_tcp_mbps(max(job.service.down_mbps, job.service.up_mbps))
    useful = {up.works[-1]: round(min(up.rate_mbps, paid), 1) for up in ups}
    rates = sorted(set(useful.values()), reverse=True)
    found = []
    for rate in rates:
        enough = [up for up in ups if useful[up.works[-1]] >= rate]
        slowest = min(enough, key=lambda up: (up.rate_mbps, up.works[-1]))
        more = f" from {rate:g} Mb/s" if len(rates) > 1 else ""
        found.append(UplinkClass(slowest, tuple(up.works[-1] for up in enough), words + more))
    return found


def _payload(line_mbps: float) -> float:
    return round(ethernet_tcp_mbps(line_mbps), 1)


def _at_most(link: Link, port: float) -> dict[str, float]:
    return {name: min(getattr(link, name), port) for name in ("low_mbps", "rate_mbps", "high_mbps")}


def _cord(name: str, router: str, port: float) -> Link:
    return new_cord(name, router, "switch", port)
