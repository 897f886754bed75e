"""The options of a house as a problem of arrays, and what its numbers stand for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from rehaul.design.battery import LIVELY_W, cheapest_battery
from rehaul.design.costs import task_cost
from rehaul.design.devices import stands, stays, swapped_need
from rehaul.design.feeds import Feed
from rehaul.design.option import Option
from rehaul.design.options import Offering, kept_offering
from rehaul.design.results import RoomChance
from rehaul.design.robust import met_samples
from rehaul.design.sampled import room_chances, rooms_met
from rehaul.design.serving import Served, served_by
from rehaul.errors import BadInput
from rehaul.exact import (
    Core,
    Counted,
    FeedProblem,
    Figures,
    Requirement,
    Resource,
    SwitchClass,
    Way,
    core_of,
    least_cost,
)
from rehaul.facts.equipment import equipment_of
from rehaul.house import Job
from rehaul.predict import (
    SERVED_SHARE,
    Asked,
    Calibration,
    HouseScene,
    Radiator,
    Receivers,
    asked,
    standing_radiators,
)
from rehaul.predict.hops import hop_fed
from rehaul.predict.kept import KeptHouse
from rehaul.wlan import ethernet_tcp_mbps
from rehaul.words import say

PLACE = "place "  # before the id of a site, in the name of its group
BOARD_TASKS = ("rack", "bond", "switch", "switch")


@dataclass(frozen=True, eq=False)
class Placing:
    """What is chosen from, as a problem, and what its numbers stand for."""

    problem: FeedProblem
    offering: Offering
    served: Served
    needs: tuple[Asked, ...]  # those that ask the air for anything, one requirement each
    rooms: dict[str, str]  # names by id
    left_pins: tuple[str, ...] = ()  # pinned sites that nothing can feed

    @cached_property
    def figures(self) -> Figures:
        """The problem in whole numbers, for whoever asks more than one thing of it."""
        return Figures(self.problem)

    @cached_property
    def core(self) -> Core:
        """The problem reduced, for whoever searches it more than once."""
        return core_of(self.figures)

    def option(self, name: str) -> Option:
        """The option of a way.

        Raises KeyError where no option has that id.
        """
        return self._by_id[name]

    @cached_property
    def _by_id(self) -> dict[str, Option]:
        return {option.id: option for option in self.offering.options}


def placing_of(
    job: Job,
    scene: HouseScene,
    receivers: Receivers,
    calibration: Calibration | None = None,
    kept: KeptHouse | None = None,
) -> Placing:
    """Every option of a house with the places it serves, the work it needs and what it shares.

    Parameters: as `choose`. Way i of the problem is option i of the offering; requirements are those needs
    that ask the air for anything, in their order.

    Raises BadInput where the job pins or forbids a site that is none. **Source**: docs/choosing.md.
    """
    kept = kept or KeptHouse()
    offering = kept_offering(job, kept)
    needs = tuple(need for need in asked(job) if need.rated)
    served = served_by(job, offering, scene, receivers, needs, calibration, kept)
    offering, served = _heard(offering, served, kept)
    counted = tuple(
        Counted(f"outlets {need.room}", need.wired_outlets) for need in job.needs if need.wired_outlets
    )
    spans = zip(served.starts[:-1], served.starts[1:], strict=True)
    requirements = tuple(
        Requirement(need.room, np.arange(a, b), np.ones(b - a), SERVED_SHARE)
        for need, (a, b) in zip(needs, spans, strict=True)
    )
    groups = {option.group for option in offering.options}
    pins = _groups_of(job, job.choices.pinned_sites, groups, "pinned_sites")
    left_pins = tuple(name for name in job.choices.pinned_sites if f"{PLACE}{name}" not in pins)
    problem = FeedProblem(
        ways=tuple(_way(job, option, needs, served, i) for i, option in enumerate(offering.options)),
        serves=served.serves,
        requirements=requirements,
        counted=counted,
        resources=tuple(
            Resource(
                work.id,
                offering.works.cost(work.id).middle,
                work.needs,
                work.excludes,
                work.ports,
                work.watts,
                work.loads,
            )
            for work in offering.works.known.values()
        ),
        switch_classes=switch_classes(job),
        spare_ports=job.choices.spare_ports,
        must=tuple(sorted({*_standing_groups(job, offering), *pins})),
        forbidden=_groups_of(job, job.choices.forbidden_sites, groups, "forbidden_sites"),
    )
    if job.choices.whole_rooms and needs:
        problem = _whole_rooms(job, scene, receivers, offering.options, served, needs, calibration, problem)
    names = {room.id: room.name for room in job.house.rooms}
    return _pinned(job, Placing(problem, offering, served, needs, names, left_pins))


def _pinned(job: Job, placing: Placing) -> Placing:
    """The placing without the pins that nothing can feed, or pay, together with those before them."""
    problem = placing.problem
    pins = [group for group in problem.must if group.startswith(PLACE)]
    if not pins or _can_be(job, problem):
        return placing
    must = tuple(group for group in problem.must if group not in pins)
    left = []
    for pin in pins:
        if _can_be(job, replace(problem, must=(*must, pin))):
            must = (*must, pin)
        else:
            left.append(pin.removeprefix(PLACE))
    kept = replace(problem, must=tuple(sorted(must)))
    return replace(placing, problem=kept, left_pins=(*placing.left_pins, *left))


def _can_be(job: Job, problem: FeedProblem) -> bool:
    """Whether what must be can be, within the budget."""
    cost, budget = least_cost(problem), job.choices.budget
    return cost is not None and (budget is None or cost <= budget)


def _heard(offering: Offering, served: Served, kept: KeptHouse) -> tuple[Offering, Served]:
    """The options with what their hops carry; those that no hop reaches are left out.

    So is a new radio for a device whose room is served without, or short with it too, and a radio set afresh
    that serves no place more than as it is set.
    """
    row_of = {option.id: row for row, option in enumerate(offering.options)}
    rows, hops_mbps = [], []
    for row, (option, radiator) in enumerate(zip(offering.options, served.radiators, strict=True)):
        hop_mbps = 0.0
        if option.links and option.links[0].medium == "wireless hop":
            if radiator is None or option.feed is None:
                continue
            hop_mbps = radiator.hop_mbps
        if option.swap is not None and not served.serves[row].any():
            continue
        if option.afresh_of:
            as_set = served.serves[row_of[option.afresh_of]]
            if not (served.serves[row] & ~as_set).any():
                continue
        rows.append(row)
        hops_mbps.append(hop_mbps)
    read = offering, tuple(rows), tuple(hops_mbps)
    found = kept.step("heard", read, lambda: _with_hops(*read))
    radiators = tuple(served.radiators[row] for row in rows)
    return found, replace(served, radiators=radiators, serves=served.serves[rows])


def _with_hops(offering: Offering, rows: Sequence[int], hops_mbps: Sequence[float]) -> Offering:
    """Some of the options, those that hang by radio with what their hop carries."""
    options = [
        replace(option, feed=carrying(option.feed, hop_mbps)) if hop_mbps and option.feed else option
        for option, hop_mbps in zip((offering.options[row] for row in rows), hops_mbps, strict=True)
    ]
    return replace(offering, options=tuple(options))


def carrying(feed: Feed, hop_mbps: float) -> Feed:
    """A feed through the air, with what the hop carries.

    Parameters: `hop_mbps`, what the hop carries [Mb/s]; all that hang on the router by radio share its air.
    """
    link = feed.links[0].model_copy(
        update={"low_mbps": hop_mbps, "rate_mbps": hop_mbps, "high_mbps": hop_mbps}
    )
    shared = ((link.shares, hop_mbps),)
    return replace(feed, links=(link,), hop_mbps=hop_mbps, line_mbps=hop_mbps, shared=shared)


def _way(job: Job, option: Option, needs: Sequence[Asked], served: Served, row: int) -> Way:
    counts = ((f"outlets {option.room}", 1),) if option.what == "outlet" else ()
    rate = (
        0.0
        if option.what in ("router", "box", "uplink", "device", "settings")
        else min(option.wire_mbps, 1e5)
    )
    return Way(
        id=option.id,
        group=option.group,
        cost=option.cost,
        needs=option.needs,
        loads=_loads(job, option, needs, served, row),
        ports=option.ports,
        watts=option.watts,
        counts=counts,
        rate_mbps=round(rate, 1),
        beside=option.beside,
    )


def _loads(
    job: Job, option: Option, needs: Sequence[Asked], served: Served, row: int
) -> tuple[tuple[str, float], ...]:
    """The share that an option takes of each link that others may use too.

    An access point is counted with the highest rate that a room it serves asks for, a wired outlet with
    what its room asks for; neither with more than is paid for. A link that carries all that is paid for is
    no narrower than the line itself, and is not counted. A coax is always counted, both ways together: its
    adapters take turns on it, and what devices of the house send each other goes over it too.
    """
    if option.feed is None or not option.feed.shared:
        return ()
    if option.what == "outlet":
        mine = [need for need in needs if need.room == option.room]
    else:
        spans = zip(served.starts[:-1], served.starts[1:], strict=True)
        mine = [need for need, (a, b) in zip(needs, spans, strict=True) if served.serves[row, a:b].any()]
    down = min(max((need.down_mbps for need in mine), default=0.0), job.service.down_mbps)
    up = min(max((need.up_mbps for need in mine), default=0.0), job.service.up_mbps)
    in_turns = {link.shares for link in option.feed.links if link.medium == "coax"}
    paid_for = ethernet_tcp_mbps(job.service.down_mbps) - 0.1
    asked_of = [
        (medium, down + up if medium in in_turns else down, capacity)
        for medium, capacity in option.feed.shared
        if medium in in_turns or capacity < paid_for
    ]
    return tuple(
        (medium, round(min(asked_mbps / capacity, 1.0), 6))
        for medium, asked_mbps, capacity in asked_of
        if capacity > 0 and asked_mbps > 0
    )


def switch_classes(job: Job) -> tuple[SwitchClass, ...]:
    """Main switches with all that comes with one: board, bonding, panel, battery.

    One port is for the uplink and is not counted. Costs are money before margin, labour in them.

    **Source**: fact tables of equipment and labour.
    """
    found = []
    for kind in equipment_of("switch"):
        battery = cheapest_battery(LIVELY_W, job.choices.ups_minutes) if job.choices.ups_minutes > 0 else None
        panel = next(
            (p for p in equipment_of("panel") if p.ports >= kind.ports - 1), equipment_of("panel")[-1]
        )
        parts = kind.price + panel.price + (battery.price if battery else 0.0)
        tasks = [*BOARD_TASKS, *(["switch"] if battery else [])]
        found.append(
            SwitchClass(kind.name, kind.ports - 1, kind.poe_budget_w, task_cost(job, tasks, parts).middle)
        )
    return tuple(found)


def _standing_groups(job: Job, offering: Offering) -> set[str]:
    """Groups that must hold one way: the router stands somewhere, and boxes that stay stay."""
    return {
        option.group
        for option in offering.options
        if (option.what == "router" and option.box is not None and option.box.keep)
        or (option.what == "box" and option.box is not None and option.box.keep)
    }


def _groups_of(job: Job, names: Sequence[str], groups: set[str], field: str) -> tuple[str, ...]:
    """Groups of named sites, of those that are a candidate; a name may be that of any place of the house."""
    places = {row.id for row in job.house.outlets} | {row.id for row in job.house.meeting_points}
    for name in names:
        if f"{PLACE}{name}" in groups or name in places:
            continue
        known = sorted(group.removeprefix(PLACE) for group in groups if group.startswith(PLACE))
        raise BadInput(
            say("refused_design.no_site", name=name),
            where=f"choices.{field}",
            remedy=say("refused_design.name_site", known=known) if known else say("refused_design.no_sites"),
        )
    return tuple(sorted({f"{PLACE}{name}" for name in names} & groups))


def _whole_rooms(
    job: Job,
    scene: HouseScene,
    receivers: Receivers,
    options: Sequence[Option],
    served: Served,
    needs: Sequence[Asked],
    calibration: Calibration | None,
    problem: FeedProblem,
) -> FeedProblem:
    """The same ways, asked to serve each room as a whole in the wanted share of sampled fields."""
    radiating = [row for row, radiator in enumerate(served.radiators) if radiator is not None]
    boxes: list[Radiator] = [box for box in served.radiators if box is not None]
    met = rooms_met(job, scene, receivers, boxes, needs, calibration)
    swapped = [row for row, option in enumerate(options) if option.swap is not None]
    standing = [box for box, o in zip(served.radiators, options, strict=True) if box and stays(o)]
    for row in swapped:
        i, need = swapped_need(options[row], needs)
        then = np.zeros((met.shape[0], 1, len(needs)), dtype=np.bool_)
        then[:, 0, i] = rooms_met(job, scene, receivers, standing, [need], calibration).any(axis=(1, 2))
        met = np.concatenate([met, then], axis=1)
    table, requirements = met_samples(
        met, [need.room for need in needs], [need.probability for need in needs]
    )
    chances = room_chances(job, scene, receivers, hop_fed(job, scene, standing_radiators(job)), calibration)
    today = [row for row, option in enumerate(options) if stands(option)]
    serves = np.zeros((len(problem.ways), table.shape[1]), dtype=np.bool_)
    serves[radiating] = table[: len(radiating)]
    serves[swapped] = table[len(radiating) :]
    return replace(problem, serves=serves, requirements=_as_today(requirements, serves, today, chances))


def _as_today(
    requirements: tuple[Requirement, ...],
    serves: NDArray[np.bool_],
    rows: Sequence[int],
    chances: Sequence[RoomChance],
) -> tuple[Requirement, ...]:
    """Of a room that has enough today no more is asked than today's boxes give it in these samples."""
    met = {row.room for row in chances if row.chance >= row.asked}
    given = np.asarray(serves[list(rows)].any(axis=0))
    return tuple(
        replace(each, share=min(each.share, float(given[each.places].mean()))) if each.name in met else each
        for each in requirements
    )
