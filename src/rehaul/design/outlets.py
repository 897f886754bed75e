"""Wired outlets for rooms that ask: each may come by any feed that carries what its room asks for."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from rehaul.design.cords import new_cord
from rehaul.design.feeds import Feed, may_switch, plug, through_switch
from rehaul.design.newcable import extra_cable
from rehaul.design.oldcables import VISIT
from rehaul.design.option import Option
from rehaul.design.ownports import one_port, own_ports
from rehaul.design.places import Place, room_of
from rehaul.design.routerplaces import RouterPlace
from rehaul.design.uplink import SwitchPlace, UplinkClass, ups_of
from rehaul.design.works import Work, Works
from rehaul.facts.pulls import PullWay
from rehaul.facts.siting import siting_number
from rehaul.house import Box, Job, Room
from rehaul.house.geometry import room_at
from rehaul.network.standing import port_payload_mbps
from rehaul.predict import asked
from rehaul.wlan import ethernet_tcp_mbps
from rehaul.words import say

ROOM_CORD = "cord_500"  # from the router to a desk in the same room


def wired_outlets(
    job: Job,
    works: Works,
    core: SwitchPlace,
    feeds: Sequence[Feed],
    classes: Sequence[UplinkClass],
    rooms: Sequence[tuple[Place, PullWay]],
) -> Iterable[Option]:
    """Wired outlets for rooms that ask: at old plates, on small switches, at the ends of new cables.

    Parameters: `feeds`, every one over old or drawn-in cable; `classes`, the uplinks they may hang on;
    `rooms`, where new cables would end, of `room_places`.

    **Validity**: those that carry less than the room asks for are left out; fibre brings no outlet.
    """
    asking = {need.room: need.wired_outlets for need in job.needs if need.wired_outlets}
    plates = {outlet.id: room_of(job, outlet) for outlet in job.house.outlets}
    least = least_mbps(job)
    found = _all_outlets(job, works, core, asking, plates, feeds, classes, rooms)
    return (option for option in found if option.wire_mbps >= least[option.room])


def least_mbps(job: Job) -> dict[str, float]:
    """What a wired outlet has to carry, by room: all that its room asks for, and no more than is paid for.

    Payload [Mb/s]; rooms that ask for nothing are not in it.
    """
    paid = round(ethernet_tcp_mbps(job.service.down_mbps), 1)
    found: dict[str, float] = {}
    for need in asked(job):
        found[need.room] = max(found.get(need.room, 0.0), min(need.down_mbps, paid))
    return found


def _all_outlets(
    job: Job,
    works: Works,
    core: SwitchPlace,
    asking: dict[str, int],
    plates: dict[str, Room | None],
    feeds: Sequence[Feed],
    classes: Sequence[UplinkClass],
    rooms: Sequence[tuple[Place, PullWay]],
) -> Iterable[Option]:
    for feed in feeds:
        room = plates.get(feed.end)
        if room is None or room.id not in asking:
            continue
        for up in ups_of(feed, classes):
            if feed.hop_mbps:
                continue
            if feed.comes_out:
                yield _outlet(works, feed, room.id, up, f"outlet {feed.comes_out}", "")
            elif feed.last:
                yield _outlet(works, feed, room.id, up, f"outlet {feed.end}", "")
                if not may_switch(job, feed):
                    continue
                switched = through_switch(works, feed)
                for extra in range(1, asking[room.id] + 1):
                    yield _outlet(works, switched, room.id, up, f"outlet {feed.end} {extra}", f" {extra}")
            else:
                yield _outlet(works, feed, room.id, up, f"outlet {feed.end}", "")
    if core.point is None:
        return
    for place, way in rooms:
        if place.room not in asking or way.way == "fibre":
            continue
        for extra in range(1, asking[place.room] + 1):
            for up in classes:
                feed = extra_cable(job, works, core.point, place, way, extra)
                yield _outlet(works, feed, place.room, up, f"outlet {feed.end}", "")


def _outlet(works: Works, feed: Feed, room: str, up: UplinkClass | None, group: str, suffix: str) -> Option:
    feed = feed if up is None else up.slowest.fed(works, feed)
    plugged = (plug(works, feed, "outlet"),) if feed.last and not feed.id.endswith(" switched") else ()
    return Option(
        id=f"outlet {room} by {feed.id}{suffix}{up.words if up else ''}",
        what="outlet",
        group=group,
        cost=0.0,
        cost_90=0.0,
        needs=tuple(dict.fromkeys((*feed.works, *plugged))),
        ports=1 if feed.port else 0,
        feed=feed,
        uplink=up.slowest if up else None,
        beside=up.names if up else (),
        room=room,
    )


def _on_the_board(spot: RouterPlace, core: SwitchPlace) -> bool:
    """Whether the router is with the cables, where no desk is."""
    near_m = siting_number("on_board")
    beside = spot.storey == core.storey and math.dist(spot.position, core.position) <= near_m
    return core.point is not None and beside


def router_outlets(
    job: Job, works: Works, core: SwitchPlace, router: Box | None, spots: Sequence[RouterPlace]
) -> Iterable[Option]:
    """Where the router stands in a room that asks: ports of its own, by a cord in the room.

    Parameters: `spots`, places of the router. As many as are asked for and as the router has free ports;
    none where it stands on the board with the cables, goes, or carries less than the room asks for.
    """
    if router is None or not router.keep:
        return
    port = port_payload_mbps(router)
    asking = {need.room: need.wired_outlets for need in job.needs if need.wired_outlets}
    least = least_mbps(job)
    for spot in spots:
        room = room_at(job.house, spot.storey, spot.position)
        if room is None or room.id not in asking or port < least[room.id] or _on_the_board(spot, core):
            continue
        for number in range(1, min(asking[room.id], own_ports(job, router)) + 1):
            name = f"{room.id}-P{number}"
            work = works.add(
                Work(
                    id=f"router port {name}",
                    words=say("design_work.room_cord", router=router.name, room=room.name),
                    tasks=("test",),
                    parts=((ROOM_CORD, 1),),
                    needs=(VISIT,),
                    loads=one_port(job, router),
                    about=(name, router.id),
                )
            )
            link = new_cord(f"cord-{name}", router.id, name, port)
            yield Option(
                id=f"outlet {room.id} by {name} {spot.id}",
                what="outlet",
                group=f"outlet {name}",
                cost=0.0,
                cost_90=0.0,
                needs=(work, spot.work),
                feed=Feed(
                    f"port {name}", name, (link,), (work,), port, 1.0, 0, from_core=False, at_router=True
                ),
                router=spot,
                room=room.id,
            )
