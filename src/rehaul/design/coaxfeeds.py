"""Feeds over the old coax: an adapter where the cables meet or at the router, another at the plate.

All adapters of one tree take turns on it, so that a feed takes its share of the tree. What the tree itself
needs (a proper splitter, caps, a filter where it leaves the house) is paid once.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rehaul.design.feeds import Feed
from rehaul.design.oldcables import CABLES, add_photo, add_run
from rehaul.design.uplink import Core, RouterPlace
from rehaul.design.works import Work, Works
from rehaul.facts.coax import coax_limit
from rehaul.facts.siting import siting_number
from rehaul.house import UNKNOWN, Box, Job, Outlet, Run
from rehaul.house.base import Point
from rehaul.network.coaxtree import CoaxPath, CoaxTree, Joint, coax_trees
from rehaul.network.model import Link
from rehaul.wlan import ethernet_tcp_mbps

LEAD = "cord_coax"  # from an adapter to its plate


@dataclass(frozen=True)
class First:
    """Where the first adapter of a tree goes, and what it hangs on."""

    place: str  # end of the tree: a plate, or the place where cables meet
    router: RouterPlace | None  # it hangs on the router there; None: on the main switch


def coax_feeds(
    job: Job, works: Works, core: Core, router: Box | None, spots: Sequence[RouterPlace]
) -> tuple[Feed, ...]:
    """Every feed over coax that is free for data and may be counted on."""
    if not job.choices.coax_adapters:
        return ()
    found: list[Feed] = []
    for tree in coax_trees(job):
        if tree.stop:
            continue
        for first in _firsts(job, tree, core, router, spots):
            if not filter_stop(job, tree, first.place):
                found += _feeds(job, works, tree, first, router)
    return tuple(found)


def coax_reasons(job: Job) -> tuple[str, ...]:
    """Why trees of old coax are not counted on, one sentence for each that is not."""
    if not job.choices.coax_adapters:
        return ()
    found = []
    for tree in coax_trees(job):
        why = tree.stop or filter_stop(job, tree, "") or next((j.stop for j in tree.joints if j.stop), "")
        if why and tree.free:
            found.append(f"Old coax {', '.join(run.id for run in tree.runs)} is not counted on: {why}")
    return tuple(found)


def adapter_at(place: str) -> str:
    """Id of the adapter at an end of a coax."""
    return f"ad-{place}"


def leaves_by(job: Job, tree: CoaxTree, first: str) -> tuple[Run, ...]:
    """Cables by which data would leave the house, once the first adapter is plugged in at its end."""
    points = {point.id for point in job.house.meeting_points}
    doors = frozenset(({job.service.enters} if job.service.enters else set()) | points)
    return tuple(run for run in tree.outside(doors) if first not in run.ends or UNKNOWN in run.ends)


def filter_stop(job: Job, tree: CoaxTree, first: str) -> str:
    """Why no filter can be put where a tree leaves the house; empty where one stands, can be, or need not."""
    if job.house.entry_filter is True:
        return ""
    held = {run.id for run in tree.runs} - tree.free
    for run in leaves_by(job, tree, first):
        if run.id in held and UNKNOWN not in run.ends:
            return f"nobody knows of a filter where it leaves the house, and {run.id} is in use"
    return ""


def _firsts(
    job: Job, tree: CoaxTree, core: Core, router: Box | None, spots: Sequence[RouterPlace]
) -> Iterator[First]:
    """Ends beside the main switch, and beside each place of the router that is elsewhere."""
    at_core = core.id if core.id in tree.ends() else _nearest(job, tree, core.storey, core.position)
    if at_core:
        yield First(at_core, None)
    for spot in spots if router is not None and router.keep else ():
        beside = spot.storey == core.storey and math.dist(spot.position, core.position) <= siting_number(
            "cord_reach"
        )
        place = _nearest(job, tree, spot.storey, spot.position)
        if place and not beside:
            yield First(place, spot)


def _nearest(job: Job, tree: CoaxTree, storey: str, position: Point) -> str:
    """The coax plate of a tree that is nearest within a cord, and has mains; empty where none is."""
    ends = set(tree.ends())
    near = [
        (math.dist(outlet.position, position), outlet.id)
        for outlet in job.house.outlets
        if outlet.id in ends and outlet.storey == storey and outlet.position is not None and _fit(job, outlet)
    ]
    away_m, name = min(near, default=(math.inf, ""))
    return name if away_m <= siting_number("cord_reach") else ""


def _fit(job: Job, outlet: Outlet) -> bool:
    """Whether an adapter may stand at a plate: it needs mains, and a room that is not somebody else's."""
    household = next((room.household for room in job.house.rooms if room.id == outlet.room), "")
    return outlet.mains is not False and not household


def _feeds(job: Job, works: Works, tree: CoaxTree, first: First, router: Box | None) -> Iterator[Feed]:
    plates = {outlet.id: outlet for outlet in job.house.outlets if outlet.position is not None}
    for end in tree.ends():
        if end == first.place or end not in plates or not _fit(job, plates[end]):
            continue
        path = tree.path(job, first.place, end)
        if path is not None and path.rates_mbps()[1] > 0:
            yield _feed(job, works, tree, first, end, path, router)


def _feed(
    job: Job, works: Works, tree: CoaxTree, first: First, end: str, path: CoaxPath, router: Box | None
) -> Feed:
    port = round(ethernet_tcp_mbps(coax_limit("adapter port")), 1)
    start = router.id if first.router is not None and router is not None else "switch"
    near, far = adapter_at(first.place), adapter_at(end)
    links = (
        _cord(f"cord-{near}", start, near, port),
        _cord(f"lead-{first.place}", near, first.place, coax_limit("lead rate")),
        *_coaxes(tree, path, first.place),
        _cord(f"lead-{end}", end, far, coax_limit("lead rate")),
    )
    needs = [
        *((first.router.work,) if first.router is not None else ()),
        _first_adapter(works, tree, first, path.runs[0]),
        *(_joint(works, joint) for joint in path.joints if joint.new or joint.caps),
        *_filters(job, works, tree, first.place),
        _far_adapter(works, end, path),
    ]
    rate = path.rates_mbps()[1]
    where = f" {first.router.id}" if first.router is not None else ""
    return Feed(
        id=f"coax {first.place}{where} to {end}",
        end=end,
        links=links,
        works=tuple(needs),
        line_mbps=min(round(rate, 1), coax_limit("adapter port")),
        chance=round(path.chance, 3),
        poe_class=0,
        from_core=False,
        shared=((f"cord-{near}", port), (tree.id, round(rate, 1))),
        last=f"coax {end}",
        mains=True,
        at_router=first.router is not None,
        comes_out=far,
    )


def _cord(name: str, a: str, b: str, rate: float) -> Link:
    return Link(
        id=name,
        a=a,
        b=b,
        medium="cord",
        low_mbps=rate,
        rate_mbps=rate,
        high_mbps=rate,
        age="new",
        length_m=1.0,
    )


def _coaxes(tree: CoaxTree, path: CoaxPath, start: str) -> Iterator[Link]:
    """One link for each cable of a path. Each carries what the pair at its ends does; the last one, which
    no other pair goes over, has its chance.
    """
    low, rate, high = (round(value, 1) for value in path.rates_mbps())
    here = start
    for number, run in enumerate(path.runs):
        joint = path.joints[number] if number < len(path.joints) else None
        there = joint.id if joint is not None else run.ends[1] if run.ends[0] == here else run.ends[0]
        yield Link(
            id=run.id,
            a=here,
            b=there,
            medium="coax",
            low_mbps=low,
            rate_mbps=rate,
            high_mbps=high,
            chance=round(path.chance, 3) if joint is None else 1.0,
            shares=tree.id,
            run=run.id,
            pieces=(run.id,),
            age="old",
            length_m=round(path.length_m / len(path.runs), 1),
            route=run.route,
        )
        here = there


def _first_adapter(works: Works, tree: CoaxTree, first: First, run: Run) -> str:
    """The adapter that all others of the tree talk through; a tree has one."""
    on = "the router" if first.router is not None else "the main switch"
    near = adapter_at(first.place)
    return works.add(
        Work(
            id=f"coax first {first.place}",
            words=f"An adapter between {on} and the coax at {first.place}, at a mains socket",
            tasks=("coax_adapter",),
            parts=(("coax_adapter", 1), ("cord_100", 1), (LEAD, 1)),
            excludes=f"first adapter on {tree.id}",
            ports=0 if first.router is not None else 1,
            at=first.place,
            about=(near, f"cord-{near}", f"lead-{first.place}", first.place, run.id),
            needs=_before(works, (first.place,), (run.id,)),
        )
    )


def _far_adapter(works: Works, end: str, path: CoaxPath) -> str:
    far = adapter_at(end)
    return works.add(
        Work(
            id=f"coax adapter {end}",
            words=f"An adapter at the coax plate {end}, at a mains socket; its link tried and recorded",
            tasks=("coax_adapter", "test"),
            parts=(("coax_adapter", 1), (LEAD, 1)),
            at=end,
            about=(far, f"lead-{end}", end, path.runs[-1].id),
            over=tuple(run.id for run in path.runs),
            needs=_before(works, (end,), [run.id for run in path.runs]),
        )
    )


def _before(works: Works, places: Sequence[str], runs: Sequence[str]) -> tuple[str, ...]:
    """What comes before a hand goes on coaxes: photographs of plates, each cable found and proven dead."""
    plates = {outlet.id for outlet in works.job.house.outlets}
    cables = {run.id: run for run in works.job.house.runs}
    photos = [add_photo(works, place) for place in places if place in plates]
    return (CABLES, *photos, *(add_run(works, cables[name]) for name in runs))


def _joint(works: Works, joint: Joint) -> str:
    """One proper splitter in place of what is there, or caps on the open outputs of what stays."""
    names = " and ".join(joint.splitters)
    if not joint.new:
        return works.add(
            Work(
                id=f"coax caps {joint.id}",
                words=f"Every open output of {names} capped",
                tasks=("splitter",),
                parts=(("coax_cap", joint.caps),),
                at=joint.id,
                about=joint.splitters,
                needs=(CABLES,),
            )
        )
    entry = f"{joint.input} on its input" if joint.input else "the cable from the first adapter on its input"
    return works.add(
        Work(
            id=f"coax splitter {names}",
            words=f"A {joint.ways}-way splitter that passes the adapters' band in place of {names}, {entry}, "
            "open outputs capped",
            tasks=("splitter",),
            parts=(("coax_splitter", 1),),
            at=joint.id,
            about=(*joint.splitters, *joint.runs),
            needs=_before(works, (), joint.runs),
        )
    )


def _filters(job: Job, works: Works, tree: CoaxTree, first: str) -> tuple[str, ...]:
    """A filter wherever the tree may leave the house, where none is known to stand."""
    if job.house.entry_filter is True:
        return ()
    found = []
    for run in leaves_by(job, tree, first):
        inner = {name for joint in tree.joints for name in joint.splitters}
        outer = next((end for end in run.ends if end not in inner and end != UNKNOWN), "")
        at = outer or next((end for end in run.ends if end != UNKNOWN), "")
        found.append(
            works.add(
                Work(
                    id=f"coax filter {run.id}",
                    words=f"A filter on {run.id}, so that data over the coax stay in the house",
                    tasks=("splitter",),
                    parts=(("entry_filter", 1),),
                    at=at,
                    about=(run.id, *((at,) if at else ())),
                    needs=_before(works, (at,) if at else (), (run.id,)),
                )
            )
        )
    return tuple(found)
