"""Feeds over the old coax: an adapter where the cables meet or at the router, another at the plate.

All adapters of one tree take turns on it, so that a feed takes its share of the tree. What the tree itself
needs (a proper splitter, caps, a filter where it leaves the house) is paid once.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from rehaul.design.coaxworks import (
    First,
    adapter_at,
    at_plate,
    far_adapter,
    filters,
    first_adapter,
    joint_work,
    leaves_by,
    plugged,
    tried,
)
from rehaul.design.cords import new_cord
from rehaul.design.feeds import Feed
from rehaul.design.routerplaces import RouterPlace
from rehaul.design.uplink import SwitchPlace
from rehaul.design.works import Work, Works
from rehaul.facts.coax import coax_limit
from rehaul.facts.siting import siting_number
from rehaul.house import UNKNOWN, Box, Job, Outlet
from rehaul.house.base import Point
from rehaul.network.coaxtree import CoaxPath, CoaxTree, Joint, coax_trees, joined_at
from rehaul.network.model import Link
from rehaul.wlan import ethernet_tcp_mbps
from rehaul.words import say


def coax_feeds(
    job: Job, works: Works, core: SwitchPlace, router: Box | None, spots: Sequence[RouterPlace]
) -> tuple[Feed, ...]:
    """Every feed over coax that is free for data and may be counted on.

    Parameters: `core`, where the main switch stands; `spots`, places of the router. The work of each feed is
    taken into `works`.

    Returns every pair of first and far adapter on a tree with a rate above 0 [Mb/s]; none where
    `choices.coax_adapters` is off.

    **Validity**: adapters take turns, so a feed has a share of its tree. **Source**: docs/copper.md, "other
    media".
    """
    if not job.choices.coax_adapters:
        return ()
    trees = coax_trees(job)
    found = [feed for tree in trees for feed in _over(job, works, tree, core, router, spots)]
    whole = joined_at(trees, core.id)
    if whole is not None:
        found += _feeds(job, works, whole, First(core.id, None), router)
    return tuple(found)


def _over(
    job: Job,
    works: Works,
    tree: CoaxTree,
    core: SwitchPlace,
    router: Box | None,
    spots: Sequence[RouterPlace],
) -> Iterator[Feed]:
    """Feeds over one tree as it is."""
    if tree.stop:
        return
    for first in _firsts(job, tree, core, router, spots):
        if not _filter_stop(job, tree, first.place):
            yield from _feeds(job, works, tree, first, router)


def coax_reasons(
    job: Job, core: SwitchPlace | None, router: Box | None, spots: Sequence[RouterPlace]
) -> tuple[str, ...]:
    """Why trees of old coax are not counted on, one sentence for each that is not.

    Parameters: as `coax_feeds`. Empty where adapters are not wanted, or where there is nothing to hang on.
    """
    if not job.choices.coax_adapters or core is None:
        return ()
    found = []
    for tree in coax_trees(job):
        firsts = () if tree.stop else tuple(_firsts(job, tree, core, router, spots))
        if any(_reached(job, tree, first) and not _filter_stop(job, tree, first.place) for first in firsts):
            continue
        runs = tuple(run.id for run in tree.runs)
        found.append(say("design_why.coax_left", runs=runs, why=_why_not(job, tree, firsts)))
    return tuple(found)


def _why_not(job: Job, tree: CoaxTree, firsts: Sequence[First]) -> str:
    if tree.stop:
        return tree.stop
    if not tree.free:
        return say("design_why.coax_depended")
    stopped = next((joint.stop for joint in tree.joints if joint.stop), "")
    if stopped:
        return stopped
    if not firsts:
        return say("design_why.coax_nowhere")
    return next(
        filter(None, (_filter_stop(job, tree, first.place) for first in firsts)),
        say("design_why.coax_too_far"),
    )


def _filter_stop(job: Job, tree: CoaxTree, first: str) -> str:
    """Why no filter can be put where a tree leaves the house; empty where one stands, can be, or need not."""
    if job.house.entry_filter is True:
        return ""
    held = {run.id for run in tree.runs} - tree.free
    for run in leaves_by(job, tree, first):
        if run.id in held and UNKNOWN not in run.ends:
            return say("design_why.coax_no_filter", run=run.id)
    return ""


def _firsts(
    job: Job, tree: CoaxTree, core: SwitchPlace, router: Box | None, spots: Sequence[RouterPlace]
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
    for end, path in _reached(job, tree, first):
        yield _feed(job, works, tree, first, end, path, router)


def _reached(job: Job, tree: CoaxTree, first: First) -> list[tuple[str, CoaxPath]]:
    """Plates that an adapter may stand at and be counted on, each with the way there."""
    plates = {outlet.id: outlet for outlet in job.house.outlets if outlet.position is not None}
    ends = [end for end in tree.ends() if end != first.place and end in plates and _fit(job, plates[end])]
    paths = [(end, tree.path(job, first.place, end)) for end in ends]
    return [(end, path) for end, path in paths if path is not None and path.rates_mbps()[1] > 0]


def _feed(
    job: Job, works: Works, tree: CoaxTree, first: First, end: str, path: CoaxPath, router: Box | None
) -> Feed:
    port = round(ethernet_tcp_mbps(coax_limit("adapter port")), 1)
    start = router.id if first.router is not None and router is not None else "switch"
    near, far = adapter_at(job, first.place, path.runs[0]), adapter_at(job, end, path.runs[-1])
    if path.entry is not None:
        near = f"ad-{path.entry.id}"
    lead = near.replace("ad-", "lead-", 1)
    start_at = path.entry.id if path.entry is not None else first.place
    links = (
        _cord(f"cord-{near}", start, near, port),
        _cord(lead, near, start_at, coax_limit("lead rate")),
        *_coaxes(tree, path, start_at, first.place),
        _cord(f"lead-{end}", end, far, coax_limit("lead rate")),
    )
    needs = [
        *((first.router.work,) if first.router is not None else ()),
        first_adapter(works, tree, first, path, near),
        *(() if first.router is not None else (works.add(Work(id=f"port coax {near}", ports=1)),)),
        *([plugged(works, path.runs[0], first.place, path.entry)] if not at_plate(job, first) else []),
        *(joint_work(works, joint) for joint in _all_joints(path) if joint.new or joint.caps),
        *filters(job, works, tree, first.place),
        far_adapter(works, end, path, far),
        tried(works, near, end, path),
    ]
    rate = path.rates_mbps()[1]
    where = f" {first.router.id}" if first.router is not None else ""
    return Feed(
        id=f"coax {near.removeprefix('ad-')}{where} to {end}",
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
    return new_cord(name, a, b, rate, length_m=1.0)


def _coaxes(tree: CoaxTree, path: CoaxPath, start: str, place: str) -> Iterator[Link]:
    """One link for each cable of a path. Each carries what the pair at its ends does; the last one, which
    no other pair goes over, has its chance.
    """
    low, rate, high = (round(value, 1) for value in path.rates_mbps())
    here, door = start, {place}
    for number, run in enumerate(path.runs):
        joint = path.joints[number] if number < len(path.joints) else None
        there = joint.id if joint is not None else next(end for end in run.ends if end not in door)
        door = set(joint.splitters) if joint is not None else set()
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


def _all_joints(path: CoaxPath) -> tuple[Joint, ...]:
    return path.joints if path.entry is None else (path.entry, *path.joints)
