"""Everything that could stand somewhere, each fed in one way: what the choice chooses from."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from rehaul.design.coaxfeeds import coax_feeds
from rehaul.design.costs import task_cost
from rehaul.design.feeds import Feed, copper_feeds, plug
from rehaul.design.newcable import cord_feeds, extra_cable, place_feed
from rehaul.design.oldcables import VISIT, add_cables
from rehaul.design.places import Place, closet_places, outlet_places, room_of, room_places, shelf_places
from rehaul.design.uplink import Core, RouterPlace, Uplink, core_of, router_places, uplinks
from rehaul.design.works import Work, Works
from rehaul.facts.equipment import Equipment, equipment_of
from rehaul.facts.poe import poe_class_row
from rehaul.facts.work import allowances, prices
from rehaul.house import Box, Job, Room
from rehaul.network.core import core_point, gateway
from rehaul.network.model import Link
from rehaul.predict import asked
from rehaul.wlan import ethernet_tcp_mbps

COMMISSION = "commission"
AS_IT_WAS = "as it was"  # a box that is to go stays only where nothing at all is done
ROUTER = "router"


@dataclass(frozen=True)
class Option:
    """One thing at one place, fed in one way."""

    id: str
    what: Literal["access point", "outlet", "router", "box"]
    group: str
    cost: float
    cost_90: float
    needs: tuple[str, ...] = ()
    ports: int = 0
    watts: float = 0.0
    place: Place | None = None
    equipment: Equipment | None = None
    feed: Feed | None = None
    uplink: Uplink | None = None
    router: RouterPlace | None = None
    box: Box | None = None
    room: str = ""  # that an outlet is for
    supply: bool = False  # it has a supply of its own at a mains socket

    @property
    def links(self) -> tuple[Link, ...]:
        """From the router on."""
        return (*(self.uplink.links if self.uplink else ()), *(self.feed.links if self.feed else ()))

    @property
    def wire_mbps(self) -> float:
        """Payload that the links from the router on carry."""
        rates = [link.rate_mbps for link in self.links]
        if self.equipment is not None:
            rates.append(ethernet_tcp_mbps(self.equipment.port_mbps))
        return min(rates, default=float("inf"))


@dataclass(frozen=True)
class Offering:
    """All options of a house, and the work that they share."""

    options: tuple[Option, ...]
    works: Works
    core: Core | None
    router: Box | None
    router_at_core: bool  # the router's own ports are at the place where the cables meet


def offering_of(job: Job) -> Offering:
    """Every option of a job, in a fixed order."""
    works = Works(job)
    _add_base(job, works)
    point, router = core_point(job), gateway(job)
    core = core_of(job, point, router)
    spots = router_places(job, works, router) if router is not None else ()
    feeds = list(copper_feeds(job, works, point.id)) if point is not None else []
    if point is not None:
        feeds += cord_feeds(job, works, point.id, point)
    ups = uplinks(job, works, core, router, spots, feeds) if core is not None else ()
    feeds += coax_feeds(job, works, core, router) if core is not None else ()
    options = [*_router_options(job, works, router, spots), *_standing(job, router)]
    if core is not None:
        places = _fed_places(job, works, core, feeds)
        options += _access_points(job, works, places, ups)
        options += _outlets(job, works, core, places, feeds, ups)
        options += _hops(job, works, router)
    at_core = bool(ups) and all(up.works and up.works[-1].startswith("uplink cord here") for up in ups)
    return Offering(tuple(options), works, core, router, at_core)


def _add_base(job: Job, works: Works) -> None:
    """What any job costs before the first cable is touched, and what any cabling costs besides."""
    rooms = len(dict.fromkeys(need.room for need in job.needs))
    works.add(
        Work(
            VISIT,
            "The visit: questions at the door, readings before and after, hand-over",
            ("travel", "travel", "gate", "handover", *(["baseline", "prove"] * rooms)),
            excludes=AS_IT_WAS,
        )
    )
    add_cables(job, works)
    works.add(Work(COMMISSION, "Names, channels and networks set", ("configure",), needs=(VISIT,)))
    works.add(Work("nothing is done", excludes=AS_IT_WAS))


def _router_options(job: Job, works: Works, router: Box | None, spots: Sequence[RouterPlace]) -> list[Option]:
    """The router at each of its places; one that goes stays only as long as nothing is done."""
    if router is None:
        return []
    stays = () if router.keep else ("nothing is done",)
    return [
        Option(
            id=f"router {spot.id}",
            what="router",
            group=ROUTER,
            cost=0.0,
            cost_90=0.0,
            needs=(spot.work, *stays),
            router=spot,
            box=router,
        )
        for spot in spots
    ]


def _standing(job: Job, router: Box | None) -> list[Option]:
    """Boxes that stand and stay, and those that go once anything is done."""
    return [
        Option(
            id=f"box {box.id}",
            what="box",
            group=f"box {box.id}",
            cost=0.0,
            cost_90=0.0,
            needs=() if box.keep else ("nothing is done",),
            box=box,
        )
        for box in job.boxes
        if router is None or box.id != router.id
    ]


def _fed_places(
    job: Job, works: Works, core: Core, feeds: Sequence[Feed]
) -> list[tuple[Place, tuple[Feed, ...]]]:
    """Every place that a wire reaches, with the feeds that reach it."""
    by_end: dict[str, list[Feed]] = {}
    for feed in feeds:
        by_end.setdefault(feed.end, []).append(feed)
    found = [(place, tuple(by_end.get(place.id, ()))) for place in outlet_places(job)]
    for place in closet_places(job):
        own = (_beside(works, place),) if place.id == core.id else tuple(by_end.get(place.id, ()))
        found.append((place, own))
    if core.point is not None:
        found += [
            (place, (place_feed(job, works, core.point, place, way),)) for place, way in room_places(job)
        ]
    return [(place, own) for place, own in found if own]


def _beside(works: Works, place: Place) -> Feed:
    """At the closet itself: a cord from the switch."""
    rate = round(ethernet_tcp_mbps(10_000.0), 1)
    link = Link(
        id=f"cord-{place.id}",
        a="switch",
        b=place.id,
        medium="cord",
        low_mbps=rate,
        rate_mbps=rate,
        high_mbps=rate,
        poe_class=8,
        age="new",
    )
    cord = works.add(Work(id=f"cord to {place.id}", parts=(("cord_200", 1),), needs=(VISIT,)))
    return Feed(
        id=f"cord {place.id}",
        end=place.id,
        links=(link,),
        works=(cord,),
        line_mbps=10_000.0,
        chance=1.0,
        poe_class=8,
        port=True,
    )


def _access_points(
    job: Job,
    works: Works,
    places: Sequence[tuple[Place, tuple[Feed, ...]]],
    ups: Sequence[Uplink],
) -> Iterable[Option]:
    kinds = sorted(equipment_of("access point"), key=lambda row: (row.price, row.name))
    asking = {need.room for need in job.needs if need.wired_outlets}
    beyond = {link.a for _, feeds in places for feed in feeds for link in feed.links[1:]}
    for place, feeds in places:
        for feed in feeds:
            shared = feed.last and feed.from_core and (place.room in asking or feed.end in beyond)
            for via in (feed, *([through_switch(works, feed)] if shared else [])):
                for kind in kinds:
                    for number, up in enumerate(ups):
                        found = _access_point(job, works, place, via, kind, up, number)
                        if found is not None:
                            yield found


def _access_point(
    job: Job, works: Works, place: Place, feed: Feed, kind: Equipment, up: Uplink, number: int
) -> Option | None:
    powered = not feed.mains and feed.poe_class >= kind.poe_class
    if not powered and place.mains is False:
        return None
    if set(up.works) & {f"plug {feed.last}@{feed.end} uplink"}:
        return None
    at_switch = feed.id.endswith(" switched")
    plugged = () if at_switch or not feed.last else (plug(works, feed, "access point"),)
    cost = _box_cost(job, place, kind, supply=not powered)
    straight = powered and feed.from_core and not at_switch
    return Option(
        id=f"{place.id} {kind.name} by {feed.id} up {number}",
        what="access point",
        group=f"place {place.id}",
        cost=cost[0],
        cost_90=cost[1],
        needs=tuple(dict.fromkeys((*feed.works, *plugged, *up.works, COMMISSION))),
        ports=1 if feed.port else 0,
        watts=poe_class_row(kind.poe_class).source_w if straight else 0.0,
        place=place,
        equipment=kind,
        feed=feed,
        uplink=up,
        supply=not powered,
    )


def _box_cost(job: Job, place: Place, kind: Equipment, *, supply: bool) -> tuple[float, float]:
    parts = kind.price + prices()["cord_200"].unit_price
    if place.fixing == "screws":
        parts += allowances()["anchors_per_access_point"] * prices()["screw_anchor"].unit_price
    if supply:
        parts += prices()["mains_supply"].unit_price
    cost = task_cost(job, ["access_point"], parts)
    return cost.middle, cost.high_90


def through_switch(works: Works, feed: Feed) -> Feed:
    """The same feed with a small switch where it comes out, so that more than one thing may hang there."""
    switch = works.add(
        Work(
            id=f"switch at {feed.end}",
            words=f"A small switch at {feed.end}, beside a mains socket",
            tasks=("box_switch",),
            parts=(("switch_small", 1), ("cord_025", 1)),
        )
    )
    return replace(
        feed,
        id=f"{feed.id} switched",
        works=(*feed.works, plug(works, feed, "switch"), switch),
        poe_class=4,
        from_core=False,
        shared=(*feed.shared, (feed.links[-1].id, feed.links[-1].rate_mbps)),
        mains=False,
    )


def _outlets(
    job: Job,
    works: Works,
    core: Core,
    places: Sequence[tuple[Place, tuple[Feed, ...]]],
    feeds: Sequence[Feed],
    ups: Sequence[Uplink],
) -> Iterable[Option]:
    """Wired outlets for rooms that ask: at old plates, on small switches, at the ends of new cables."""
    asking = {need.room: need.wired_outlets for need in job.needs if need.wired_outlets}
    plates = {outlet.id: room_of(job, outlet) for outlet in job.house.outlets}
    least = least_mbps(job)
    found = _all_outlets(job, works, core, asking, plates, feeds, ups)
    return (option for option in found if option.wire_mbps >= least[option.room])


def least_mbps(job: Job) -> dict[str, float]:
    """What a wired outlet has to carry, by room: all that its room asks for, and no more than is paid for."""
    paid = round(ethernet_tcp_mbps(job.service.down_mbps), 1)
    found: dict[str, float] = {}
    for need in asked(job):
        found[need.room] = max(found.get(need.room, 0.0), min(need.down_mbps, paid))
    return found


def _all_outlets(
    job: Job,
    works: Works,
    core: Core,
    asking: dict[str, int],
    plates: dict[str, Room | None],
    feeds: Sequence[Feed],
    ups: Sequence[Uplink],
) -> Iterable[Option]:
    for feed in feeds:
        room = plates.get(feed.end)
        if room is None or room.id not in asking:
            continue
        for number, up in enumerate(ups):
            if feed.hop_mbps:
                continue
            if feed.last:
                yield _outlet(works, feed, room.id, up, number, f"outlet {feed.end}", "")
                switched = through_switch(works, feed)
                for extra in range(1, asking[room.id] + 1):
                    yield _outlet(
                        works, switched, room.id, up, number, f"outlet {feed.end} {extra}", f" {extra}"
                    )
            else:
                yield _outlet(works, feed, room.id, up, number, f"outlet {feed.end}", "")
    if core.point is None:
        return
    for place, way in room_places(job):
        if place.room not in asking or way.way == "fibre":
            continue
        for extra in range(1, asking[place.room] + 1):
            for number, up in enumerate(ups):
                feed = extra_cable(job, works, core.point, place, way, extra)
                yield _outlet(works, feed, place.room, up, number, f"outlet {feed.end}", "")


def _outlet(works: Works, feed: Feed, room: str, up: Uplink, number: int, group: str, suffix: str) -> Option:
    plugged = (plug(works, feed, "outlet"),) if feed.last and not feed.id.endswith(" switched") else ()
    return Option(
        id=f"outlet {room} by {feed.id}{suffix} up {number}",
        what="outlet",
        group=group,
        cost=0.0,
        cost_90=0.0,
        needs=tuple(dict.fromkeys((*feed.works, *plugged, *up.works))),
        ports=1 if feed.port else 0,
        feed=feed,
        uplink=up,
        room=room,
    )


def _hops(job: Job, works: Works, router: Box | None) -> Iterable[Option]:
    """Access points that hang on the router by radio: on furniture, with a supply of their own.

    What the hop carries is not known here: the field says.
    """
    if router is None or not job.choices.wireless_hops or not router.keep or not router.radio:
        return
    for place in shelf_places(job):
        if place.storey == router.storey and _apart_m(place, router) < 2.0:
            continue
        for kind in sorted(equipment_of("access point"), key=lambda row: (row.price, row.name)):
            cost = _box_cost(job, place, kind, supply=True)
            link = Link(
                id=f"hop-{place.id}",
                a=router.id,
                b=place.id,
                medium="wireless hop",
                low_mbps=0.0,
                rate_mbps=0.0,
                high_mbps=0.0,
                shares=f"air of {router.id}",
                age="new",
            )
            feed = Feed(
                id=f"hop {place.id}",
                end=place.id,
                links=(link,),
                works=(),
                line_mbps=0.0,
                chance=1.0,
                poe_class=0,
                from_core=False,
                mains=True,
            )
            yield Option(
                id=f"{place.id} {kind.name} by radio",
                what="access point",
                group=f"place {place.id}",
                cost=cost[0],
                cost_90=cost[1],
                needs=("router here", COMMISSION),
                place=place,
                equipment=kind,
                feed=feed,
                supply=True,
            )


def _apart_m(place: Place, router: Box) -> float:
    dx, dy = place.position[0] - router.position[0], place.position[1] - router.position[1]
    return float((dx * dx + dy * dy) ** 0.5)
