"""Wired outlets for rooms that ask: each may come by any feed that carries what its room asks for."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from rehaul.design.feeds import Feed, plug, through_switch
from rehaul.design.newcable import extra_cable
from rehaul.design.option import Option
from rehaul.design.places import room_of, room_places
from rehaul.design.uplink import Core, UplinkClass, ups_of
from rehaul.design.works import Works
from rehaul.house import Job, Room
from rehaul.predict import asked
from rehaul.wlan import ethernet_tcp_mbps


def wired_outlets(
    job: Job,
    works: Works,
    core: Core,
    feeds: Sequence[Feed],
    classes: Sequence[UplinkClass],
) -> Iterable[Option]:
    """Wired outlets for rooms that ask: at old plates, on small switches, at the ends of new cables."""
    asking = {need.room: need.wired_outlets for need in job.needs if need.wired_outlets}
    plates = {outlet.id: room_of(job, outlet) for outlet in job.house.outlets}
    least = least_mbps(job)
    found = _all_outlets(job, works, core, asking, plates, feeds, classes)
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
    classes: Sequence[UplinkClass],
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
                switched = through_switch(works, feed)
                for extra in range(1, asking[room.id] + 1):
                    yield _outlet(works, switched, room.id, up, f"outlet {feed.end} {extra}", f" {extra}")
            else:
                yield _outlet(works, feed, room.id, up, f"outlet {feed.end}", "")
    if core.point is None:
        return
    for place, way in room_places(job):
        if place.room not in asking or way.way == "fibre":
            continue
        for extra in range(1, asking[place.room] + 1):
            for up in classes:
                feed = extra_cable(job, works, core.point, place, way, extra)
                yield _outlet(works, feed, place.room, up, f"outlet {feed.end}", "")


def _outlet(works: Works, feed: Feed, room: str, up: UplinkClass | None, group: str, suffix: str) -> Option:
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
