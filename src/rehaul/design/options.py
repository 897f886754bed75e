"""Everything that could stand somewhere, each fed in one way: what the choice chooses from."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from rehaul.design.coaxfeeds import coax_feeds, coax_reasons
from rehaul.design.cords import new_cord
from rehaul.design.costs import task_cost
from rehaul.design.devices import device_options
from rehaul.design.feeds import MOST_SWITCHES, Feed, copper_feeds, may_switch, plug, through_switch
from rehaul.design.newcable import cord_feeds, place_feed
from rehaul.design.oldcables import VISIT, add_cables
from rehaul.design.option import Option
from rehaul.design.outlets import router_outlets, wired_outlets
from rehaul.design.places import Place, closet_places, outlet_places, room_places, shelf_places
from rehaul.design.routerplaces import RouterPlace, router_places
from rehaul.design.settings import COMMISSION, also_afresh, settings_options
from rehaul.design.uplink import (
    SwitchPlace,
    Uplink,
    UplinkClass,
    core_of,
    uplink_classes,
    uplinks,
    ups_of,
)
from rehaul.design.works import Work, Works
from rehaul.facts.equipment import Equipment, equipment_of
from rehaul.facts.poe import poe_class_row
from rehaul.facts.pulls import PullWay
from rehaul.facts.wlan_equipment import device_swaps
from rehaul.facts.work import allowances, prices
from rehaul.house import Box, Job, Need
from rehaul.network.core import core_point, gateway
from rehaul.network.model import Link
from rehaul.predict.kept import KeptHouse, without_wishes
from rehaul.wlan import ethernet_tcp_mbps
from rehaul.words import say

AS_IT_WAS = "as it was"  # a box that is to go stays only where nothing at all is done
ROUTER = "router"


@dataclass(frozen=True, eq=False)
class Offering:
    """All options of a house, and the work that they share."""

    options: tuple[Option, ...]
    works: Works
    core: SwitchPlace | None
    router: Box | None
    coax_left: tuple[str, ...] = ()  # why old coax is not counted on


def offering_of(job: Job) -> Offering:
    """Every option of a job, in a fixed order.

    Returns routers, standing boxes, devices and settings, then, where there is a place for a main switch,
    uplinks, access points, outlets and hops; each with the work that it needs, and why old coax is not
    counted on.

    **Validity**: what an option serves is not known here: `served_by` says it. **Source**: docs/choosing.md.
    """
    works = Works(job)
    _add_base(job, works)
    point, router = core_point(job), gateway(job)
    core = core_of(job, point, router)
    spots = router_places(job, works, router) if router is not None else ()
    feeds = list(copper_feeds(job, works, point.id)) if point is not None else []
    if point is not None:
        feeds += cord_feeds(job, works, point.id, point)
    ups = uplinks(job, works, core, router, spots, feeds) if core is not None else ()
    feeds += coax_feeds(job, works, core, router, spots) if core is not None else ()
    options = [*_router_options(job, works, router, spots), *_standing(job, router)]
    options += device_options(job, works, router)
    options += settings_options(job, router)
    if core is not None:
        rooms = room_places(job)
        places = _fed_places(job, works, core, feeds, rooms)
        options += [_uplink_option(up) for up in ups]
        classes = uplink_classes(job, ups)
        options += _access_points(job, works, places, classes)
        options += wired_outlets(job, works, core, feeds, classes, rooms)
        options += router_outlets(job, works, core, router, spots)
        options += _hops(job, works, router)
    left = coax_reasons(job, core, router, spots)
    return Offering(tuple(options), works, core, router, left)


def kept_offering(job: Job, kept: KeptHouse) -> Offering:
    """As `offering_of`; the same one while nothing that it depends on is edited.

    Rates that rooms ask for, the budget, pinned and forbidden sites are none of it: they are for the choice.
    """
    return kept.step("offering", _read_of(job), lambda: offering_of(job))


def _read_of(job: Job) -> Job:
    """A job without what no option depends on. A rate counts where a new radio would be for its device."""
    needs = tuple(
        need
        if (need.client or "") in device_swaps()
        else Need(id=need.id, room=need.room, wired_outlets=need.wired_outlets)
        for need in job.needs
    )
    return without_wishes(job).model_copy(update={"needs": needs, "readings": ()})


def _add_base(job: Job, works: Works) -> None:
    """What any job costs before the first cable is touched, and what any cabling costs besides."""
    rooms = len(dict.fromkeys(need.room for need in job.needs))
    works.add(
        Work(
            VISIT,
            say("design_work.visit"),
            ("travel", "travel", "gate", "handover", *(["baseline", "prove"] * rooms)),
            excludes=AS_IT_WAS,
        )
    )
    add_cables(job, works)
    works.add(Work(COMMISSION, say("design_work.commission"), ("configure",), needs=(VISIT,)))
    works.add(Work("nothing is done", excludes=AS_IT_WAS))


def _router_options(job: Job, works: Works, router: Box | None, spots: Sequence[RouterPlace]) -> list[Option]:
    """The router at each of its places; one that goes stays only as long as nothing is done."""
    if router is None:
        return []
    stays = () if router.keep else ("nothing is done",)
    options = [
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
    return [each for option in options for each in also_afresh(option)]


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
    job: Job,
    works: Works,
    core: SwitchPlace,
    feeds: Sequence[Feed],
    rooms: Sequence[tuple[Place, PullWay]],
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
        found += [(place, (place_feed(job, works, core.point, place, way),)) for place, way in rooms]
    return [(place, own) for place, own in found if own]


def _beside(works: Works, place: Place) -> Feed:
    """At the closet itself: a cord from the switch."""
    rate = round(ethernet_tcp_mbps(10_000.0), 1)
    link = new_cord(f"cord-{place.id}", "switch", place.id, rate, poe_class=8)
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


def _uplink_option(up: Uplink) -> Option:
    return Option(
        id=up.works[-1], what="uplink", group="uplink", cost=0.0, cost_90=0.0, needs=up.works, uplink=up
    )


def _access_points(
    job: Job,
    works: Works,
    places: Sequence[tuple[Place, tuple[Feed, ...]]],
    classes: Sequence[UplinkClass],
) -> Iterable[Option]:
    kinds = sorted(equipment_of("access point"), key=lambda row: (row.price, row.name))
    asking = {need.room for need in job.needs if need.wired_outlets}
    beyond = {link.a for _, feeds in places for feed in feeds for link in feed.links[1:]}
    for place, feeds in places:
        for feed in feeds:
            in_chain = feed.from_core or (bool(feed.last) and len(feed.links) <= MOST_SWITCHES)
            shared = may_switch(job, feed) and in_chain and (place.room in asking or feed.end in beyond)
            for via in (feed, *([through_switch(works, feed)] if shared else [])):
                for kind in kinds:
                    for up in ups_of(via, classes):
                        found = _access_point(job, works, place, via, kind, up)
                        if found is not None:
                            yield found


def _access_point(
    job: Job, works: Works, place: Place, feed: Feed, kind: Equipment, up: UplinkClass | None
) -> Option | None:
    powered = not feed.mains and feed.poe_class >= kind.poe_class
    if not powered and place.mains is False:
        return None
    feed = feed if up is None else up.slowest.fed(works, feed)
    at_switch = feed.id.endswith(" switched")
    plugged = () if at_switch or not feed.last else (plug(works, feed, "access point"),)
    straight = powered and feed.from_core and not at_switch
    injected = straight and up is not None and up.slowest.own is not None
    cost = _box_cost(job, place, kind, supply=not powered, injector=injected)
    return Option(
        id=f"{place.id} {kind.name} by {feed.id}{up.words if up else ''}",
        what="access point",
        group=f"place {place.id}",
        cost=cost[0],
        cost_90=cost[1],
        needs=tuple(dict.fromkeys((*feed.works, *plugged, COMMISSION))),
        beside=up.names if up else (),
        ports=1 if feed.port else 0,
        watts=poe_class_row(kind.poe_class).source_w if straight and not injected else 0.0,
        place=place,
        equipment=kind,
        feed=feed,
        uplink=up.slowest if up else None,
        supply=not powered,
    )


def _box_cost(
    job: Job, place: Place, kind: Equipment, *, supply: bool, injector: bool = False
) -> tuple[float, float]:
    parts = kind.price + prices()["cord_200"].unit_price
    if place.fixing == "screws":
        parts += allowances()["anchors_per_access_point"] * prices()["screw_anchor"].unit_price
    if supply:
        parts += prices()["mains_supply"].unit_price
    if injector:
        parts += prices()["injector"].unit_price
    cost = task_cost(job, ["access_point"], parts)
    return cost.middle, cost.high_90


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
