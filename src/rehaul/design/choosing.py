"""What stands where and what feeds it: the exact choice on a real house."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from rehaul.design.devices import swapped_devices
from rehaul.design.explain import shortfalls
from rehaul.design.naming import numbered
from rehaul.design.oldcables import CABLES, VISIT
from rehaul.design.option import Option
from rehaul.design.options import Offering
from rehaul.design.placing import Placing
from rehaul.design.results import (
    AccessPoint,
    Choice,
    FrontPoint,
    PaidOnce,
    RouterDecision,
    Site,
    SwappedDevice,
    WiredOutlet,
)
from rehaul.design.searching import Search, doing_nothing, search_of, settled
from rehaul.design.settings import boxes_set_afresh
from rehaul.exact import FeedChoice
from rehaul.house import Job
from rehaul.house.geometry import room_centre
from rehaul.predict.kept import KeptHouse
from rehaul.words import say, term


@dataclass(frozen=True, eq=False)
class Chosen:
    """A choice with what it was chosen from."""

    choice: Choice
    options: tuple[Option, ...]
    placing: Placing
    pulls: dict[str, str]  # way -> id of its new cable
    switch: str  # class of the main switch, or the router's own ports; empty where no port is used
    found: Found | None = None  # of the choice itself; None at another point of the front

    @property
    def found_any(self) -> bool:
        """Whether the search came to any choice before its time was up."""
        if self.found is None:
            return False
        best = self.found.search.best
        return best.proven or bool(best.ways)


@dataclass(frozen=True, eq=False)
class Found:
    """What the search found for a choice: its reasons begin with that."""

    feeds: FeedChoice  # the choice itself
    nothing: FeedChoice  # everything as it stands
    search: Search


def choose(
    job: Job,
    placing: Placing,
    *,
    time_limit_s: float = 10.0,
    kept: KeptHouse | None = None,
    look: Callable[[], None] | None = None,
) -> Chosen:
    """Least cost that meets every need, with proof. Doing nothing is the first option.

    Parameters
    ----------
    placing : what may be chosen, of this job
    time_limit_s : of the search; asked again with a higher one, with the same `kept`, it goes on
    kept : gives the search of the same problem where it has it, and is left it
    look : called now and then while it searches; may raise to break off

    Returns the choice without front and reasons: `reasoned` gives it these.

    **Validity**: exact for its problem where `proven`; a place counts as served by its best single box, and
    channels follow afterwards. **Source**: docs/choosing.md.
    """
    kept = kept or KeptHouse()
    search = search_of(placing, kept)
    search.go_on(time_limit_s, look)
    nothing = doing_nothing(placing)
    feeds = settled(job, placing, search, nothing, look)
    options = _options_of(placing, feeds.ways)
    pulls = _pulls_of(options)
    choice = Choice(
        access_points=_access_points(placing, options),
        candidates=kept.step("candidates", placing.offering, lambda: _candidates(placing.offering)),
        cost=feeds.cost,
        bound=feeds.bound,
        gap_pct=round(feeds.gap * 100, 2),
        proven=feeds.proven,
        front=(),
        shortfalls=shortfalls(job, placing, feeds, remedies=False),
        outlets=_outlets(job, options, pulls),
        router=_router_of(options, placing),
        devices=_devices(options, placing),
        set_afresh=boxes_set_afresh(options),
        pins_left=placing.left_pins,
        resources=_resources(placing, feeds),
        ways=feeds.ways,
        rooms_met=_rooms_met(job, placing, feeds),
    )
    return Chosen(choice, options, placing, pulls, feeds.switch, Found(feeds, nothing, search))


def at_point(job: Job, placing: Placing, whole: Choice, point: FrontPoint) -> Chosen:
    """The same house at another point of the front: what would be built if fewer needs, or more, were met.

    Parameters: `whole`, the choice whose front `point` is of. Reasons and shortfalls are left empty: nothing
    was weighed there.
    """
    options = _options_of(placing, point.ways)
    pulls = _pulls_of(options)
    stands = [option for option in options if option.what == "access point"]
    choice = whole.model_copy(
        update={
            "access_points": _named_points(stands),
            "outlets": _outlets(job, options, pulls),
            "router": _router_of(options, placing),
            "devices": _devices(options, placing),
            "set_afresh": boxes_set_afresh(options),
            "ways": point.ways,
            "cost": point.cost,
            "shortfalls": (),
        }
    )
    return Chosen(choice, options, placing, pulls, point.switch)


def _options_of(placing: Placing, ways: Sequence[str]) -> tuple[Option, ...]:
    """The options of chosen ways, in the order of the house, each with the uplink that was chosen."""
    wanted = set(ways)
    options = [option for option in placing.offering.options if option.id in wanted]
    up = next((option.uplink for option in options if option.what == "uplink"), None)
    return tuple(replace(option, uplink=up) if option.uplink is not None else option for option in options)


def _pulls_of(options: Sequence[Option]) -> dict[str, str]:
    """A new cable's id for every way that brings one; the router's own comes first."""
    found: dict[str, str] = {}
    for option in options:
        if option.uplink and any(link.age == "new" and link.length_m > 0 for link in option.uplink.links):
            found.setdefault("uplink", "NC1")
    number = len(found)
    for option in options:
        if option.feed is not None and option.feed.pull_m > 0:
            number += 1
            found[option.id] = f"NC{number}"
    return found


def _access_points(placing: Placing, options: Sequence[Option]) -> tuple[AccessPoint, ...]:
    points = _named_points([option for option in options if option.what == "access point"])
    works = placing.offering.works
    found = []
    for point in points:
        option = placing.option(point.way)
        names = option.feed.works if option.feed else ()
        costs = [works.cost(name) for name in names if name not in (VISIT, CABLES)]
        site = point.site.model_copy(
            update={
                "cost": round(sum(cost.middle for cost in costs), 2),
                "cost_90": round(sum(cost.high_90 for cost in costs), 2),
            }
        )
        found.append(point.model_copy(update={"site": site}))
    return tuple(found)


def _named_points(stands: Sequence[Option]) -> tuple[AccessPoint, ...]:
    """Chosen access points under their ids AP1, AP2, ... and room names, the lowest storey first."""
    ordered = sorted(stands, key=lambda option: (_level(option), _site_of(option).id))
    names = numbered([_site_of(option).name for option in ordered])
    return tuple(
        AccessPoint(
            id=f"AP{index}",
            name=name,
            site=_site_of(option),
            equipment=option.equipment.name if option.equipment else "",
            why=_site_of(option).why,
            way=option.id,
            supply=option.supply,
        )
        for index, (option, name) in enumerate(zip(ordered, names, strict=True), 1)
    )


def _level(option: Option) -> str:
    return option.place.storey if option.place else ""


def _site_of(option: Option) -> Site:
    """The site of an option, as people and papers know it."""
    place, feed = option.place, option.feed
    assert place is not None
    assert feed is not None
    old = next((link for link in reversed(feed.links) if link.age == "old"), None)
    return Site(
        id=place.id,
        name=place.name,
        storey=place.storey,
        position=place.position,
        height_m=round(place.height_m, 3),
        mounting=place.mounting,
        fixing=place.fixing,
        room=place.room,
        run=old.run if old else "",
        new_pull_m=feed.pull_m,
        hop=feed.links[-1].medium == "wireless hop",
        way=feed.way,
        spends=feed.spends,
        wire_mbps=feed.line_mbps or feed.hop_mbps,
        poe_class=feed.poe_class,
        cost=option.cost,
        cost_90=option.cost_90,
        chance=feed.chance,
        why=_why_here(option),
    )


def _why_here(option: Option) -> str:
    feed = option.feed
    assert feed is not None
    link = next((link for link in reversed(feed.links) if link.medium == "coax"), feed.links[-1])
    if link.medium == "wireless hop":
        return say("design_why.here_by_radio")
    if link.medium == "coax":
        return say("design_why.here_coax", run=link.run)
    if link.age == "old":
        code = "design_why.here_joined" if len(link.pieces) > 1 else "design_why.here_cable"
        return say(code, link=link.id)
    if feed.pull_m:
        return say("design_why.here_new", length_m=feed.pull_m)
    return say("design_why.here_meet")


def _candidates(offering: Offering) -> tuple[Site, ...]:
    """Every place worth considering, each with the cheapest of its ways."""
    costs = offering.works
    found: dict[str, Site] = {}
    for option in offering.options:
        if option.what != "access point" or option.place is None:
            continue
        works = costs.cost_all(option.needs)
        whole = {
            "cost": round(works.middle + option.cost, 2),
            "cost_90": round(works.high_90 + option.cost_90, 2),
        }
        if option.place.id not in found or whole["cost"] < found[option.place.id].cost:
            found[option.place.id] = _site_of(option).model_copy(update=whole)
    return tuple(found.values())


def _outlets(job: Job, options: Sequence[Option], pulls: dict[str, str]) -> tuple[WiredOutlet, ...]:
    rooms = {room.id: room for room in job.house.rooms}
    plates = {outlet.id: outlet for outlet in job.house.outlets}
    found = []
    for option in options:
        if option.what != "outlet" or option.feed is None:
            continue
        plate = plates.get(option.feed.end)
        room = rooms[option.room]
        old = next((link for link in reversed(option.feed.links) if link.age == "old"), None)
        switched = option.feed.id.endswith(" switched")
        name = option.feed.comes_out or option.group.removeprefix("outlet ").replace(" ", "-")
        found.append(
            WiredOutlet(
                id=name,
                room=option.room,
                name=room.name,
                storey=plate.storey if plate else room.storey,
                position=plate.position
                if plate and plate.position
                else option.router.position
                if option.router
                else room_centre(room),
                run=old.run if old else "",
                pull=pulls.get(option.id, ""),
                rate_mbps=round(option.wire_mbps, 1),
                way=option.id,
                beside_switch=switched,
            )
        )
    return tuple(found)


def _router_of(options: Sequence[Option], placing: Placing) -> RouterDecision:
    option = next((option for option in options if option.what == "router"), None)
    if option is None or option.router is None or option.box is None:
        return RouterDecision(box=placing.offering.router.id if placing.offering.router else "")
    spot = option.router
    return RouterDecision(
        box=option.box.id,
        do="keep" if spot.id == "here" else "move",
        storey=spot.storey,
        position=spot.position,
        height_m=spot.height_m,
        words=spot.words,
        cost=placing.offering.works.cost(spot.work).middle,
    )


def _devices(options: Sequence[Option], placing: Placing) -> tuple[SwappedDevice, ...]:
    return swapped_devices(placing.offering.works, options, placing.rooms)


def _resources(placing: Placing, chosen: FeedChoice) -> tuple[PaidOnce, ...]:
    works = placing.offering.works
    rows = [
        PaidOnce(id=name, words=works.known[name].words, cost=works.cost(name).middle)
        for name in chosen.resources
    ]
    if chosen.switch:
        cost = next(kind.cost for kind in placing.problem.switch_classes if kind.id == chosen.switch)
        rows.append(PaidOnce(id=f"main switch {chosen.switch}", words=term(chosen.switch), cost=cost))
    return tuple(row for row in rows if row.cost > 0 or row.words)


def _rooms_met(job: Job, placing: Placing, chosen: FeedChoice) -> tuple[str, ...]:
    """Rooms all of whose needs are met."""
    asked = [need.room for need in placing.needs]
    asked += [row.name.removeprefix("outlets ") for row in placing.problem.counted]
    short = {room for room, met in zip(asked, chosen.met, strict=True) if not met}
    return tuple(dict.fromkeys(need.room for need in job.needs if need.room not in short))
