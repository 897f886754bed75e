"""A new cable from the place where cables meet, as a feed: its way, its work, and what it carries."""

from __future__ import annotations

from dataclasses import replace

from rehaul.design.conduit import fill_after_pull
from rehaul.design.feeds import Feed
from rehaul.design.oldcables import CABLES, add_photo, add_run
from rehaul.design.places import Place, may_drill, storeys_between
from rehaul.design.pulls import forbids_way, is_hard, pull_tasks, way_to_room
from rehaul.design.works import Work, Works
from rehaul.facts.link_media import link_media
from rehaul.facts.pulls import PullWay, pull_ways
from rehaul.facts.siting import siting_number
from rehaul.facts.work import allowances
from rehaul.house import UNKNOWN, Job, MeetingPoint, Run, counts_on
from rehaul.house.base import Point
from rehaul.house.geometry import room_at, storey_of
from rehaul.network.cabling import run_length
from rehaul.network.model import Link
from rehaul.wlan import ethernet_tcp_mbps
from rehaul.words import say

FINISH = ("access_point",)  # a task that belongs to the box, not to its cable


def pull_length_m(job: Job, closet: MeetingPoint, place: Point, z_m: float) -> float:
    """Length of a new cable from the closet to a place at height z, along walls with a detour.

    Parameters: `place` on the sheet [m]; `z_m`, above the level that storeys are measured from [m].

    **Validity**: along the axes of the sheet, times the fact number `detour`: an estimate, as no route is
    drawn.
    **Source**: fact table of siting.
    """
    closet_z_m = storey_of(job.house, closet.storey).elevation_m + closet.height_m
    flat = abs(place[0] - closet.position[0]) + abs(place[1] - closet.position[1])
    return (flat + abs(z_m - closet_z_m)) * siting_number("detour")


def place_feed(job: Job, works: Works, closet: MeetingPoint, place: Place, way: PullWay) -> Feed:
    """A new cable to a place by a given way. A room's route is paid once, each cable in it for itself.

    Parameters: `way`, a row of the fact table of ways to pull. Returns the feed; its rate is the way's
    [Mb/s], its chance the way's own, its length that of `pull_length_m`.
    """
    room = next((room for room in job.house.rooms if room.id == place.room), None)
    z_m = storey_of(job.house, place.storey).elevation_m + place.height_m
    length_m = pull_length_m(job, closet, place.position, z_m)
    crossed = storeys_between(job, place.storey, closet.storey)
    hard = room is not None and is_hard(job.house, room, way, crossed)
    route = _route(works, place.id, place.name, way, hard, crossed, length_m)
    cable = _cable(works, f"cable {place.id}", way, length_m)
    return _feed(place.id, way, length_m, (route, cable), way.chance)


def extra_cable(
    job: Job, works: Works, closet: MeetingPoint, place: Place, way: PullWay, number: int
) -> Feed:
    """One more cable along the same route, for a wired outlet.

    Parameters: `number`, which of the room's outlets it is for, from 1. The route is not paid again.
    """
    main = place_feed(job, works, closet, place, way)
    cable = _cable(works, f"cable {place.id} outlet {number}", way, main.pull_m)
    feed = _feed(f"{place.id}-{number}", way, main.pull_m, (main.works[0], cable), way.chance)
    return feed


def pull_feed(
    job: Job, works: Works, closet: MeetingPoint, storey: str, position: Point, name: str
) -> Feed | None:
    """A new cable to any point of a room; None where nobody may drill or no room is there.

    Parameters: `position` on the sheet [m]; `name`, that its work and links are known by. None also where no
    cable is wanted or asbestos forbids a hole on the way. **Source**: docs/work.md, "Steps": way of a new
    cable.
    """
    room = room_at(job.house, storey, position)
    if room is None or not job.choices.new_pulls or not may_drill(job):
        return None
    if forbids_way(job.house, room.storey, room.id, closet.storey):
        return None
    crossed = storeys_between(job, storey, closet.storey)
    way = way_to_room(job, room, closet, crossed)
    z_m = storey_of(job.house, storey).elevation_m + siting_number("shelf_height")
    length_m = pull_length_m(job, closet, position, z_m)
    route = _route(works, name, room.name, way, is_hard(job.house, room, way, crossed), crossed, length_m)
    cable = _cable(works, f"cable {name}", way, length_m)
    return _feed(name, way, length_m, (route, cable), way.chance)


def cord_feeds(job: Job, works: Works, core: str, closet: MeetingPoint) -> tuple[Feed, ...]:
    """New cables drawn in through a conduit with the old one, to its far plate, where they fit.

    Only cables in a conduit with two known ends, one of them `core`, that nobody depends on; the old one is
    spent.

    **Validity**: where the bore is not known the new cable is taken to fit. **Source**: `fill_after_pull`.
    """
    return tuple(
        feed for run in job.house.runs if (feed := _drawn(job, works, core, closet, run)) is not None
    )


def _drawn(job: Job, works: Works, core: str, closet: MeetingPoint, run: Run) -> Feed | None:
    fill = fill_after_pull(run)
    if not run.in_conduit or UNKNOWN in run.ends or core not in run.ends or len(run.ends) != 2:
        return None
    if not job.choices.new_pulls or not counts_on(job, run.id) or (fill is not None and not fill.fits):
        return None
    plate = run.ends[1] if run.ends[0] == core else run.ends[0]
    outlet = next((o for o in job.house.outlets if o.id == plate and o.position is not None), None)
    if outlet is None:
        return None
    way = pull_ways()["pull cord"]
    length_m = run_length(job.house, run).middle
    route = _route(works, f"{run.id} drawn", plate, way, False, 0, length_m)
    cable = _cable(works, f"cable along {run.id}", way, length_m)
    spent = [works.add(Work(id=f"spend {run.id}@{end}", excludes=f"{run.id}@{end}")) for end in run.ends]
    feed = _feed(
        plate, way, length_m, (route, cable, *spent, add_run(works, run), add_photo(works, plate)), way.chance
    )
    return replace(feed, id=f"drawn with {run.id}", spends=run.id, last=f"{run.id} drawn")


def _route(
    works: Works, name: str, place: str, way: PullWay, hard: bool, crossed: int, length_m: float
) -> str:
    trunking = ((way.parts_per_m, length_m),) if way.parts_per_m else ()
    return works.add(
        Work(
            id=f"route {name}",
            words=say("design_work.route", place=place, way=way.words),
            tasks=tuple(pull_tasks(way, hard, crossed if way.floor_norm else 0)),
            parts=trunking,
            needs=(CABLES,),
        )
    )


def _cable(works: Works, name: str, way: PullWay, length_m: float) -> str:
    cut_m = length_m + allowances()["closet_slack"] + allowances()["outlet_slack"]
    items: dict[str, float] = {way.cable: cut_m, "label": allowances()["labels_per_run"]}
    for item in way.parts.split():
        items[item] = items.get(item, 0.0) + 1
    return works.add(
        Work(
            id=name,
            words=say("design_work.new_cable", length_m=length_m),
            tasks=tuple(task for task in way.finish_tasks.split() if task not in FINISH),
            parts=tuple(items.items()),
        )
    )


def _feed(end: str, way: PullWay, length_m: float, works: tuple[str, ...], likely: float) -> Feed:
    rate = round(ethernet_tcp_mbps(way.mbps), 1)
    link = Link(
        id=f"new {end}",
        a="switch",
        b=end,
        medium=way.medium,
        low_mbps=rate,
        rate_mbps=rate,
        high_mbps=rate,
        chance=likely,
        poe_class=way.poe_class if link_media()[way.medium].power else 0,
        age="new",
        length_m=round(length_m, 1),
    )
    return Feed(
        id=f"new {end}",
        end=end,
        links=(link,),
        works=works,
        line_mbps=way.mbps,
        chance=likely,
        poe_class=way.poe_class,
        from_core=way.way != "fibre",
        port=True,
        pull_m=round(length_m, 1),
        way=way.way,
    )
