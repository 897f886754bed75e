"""Why this choice: what each part is for, what falls short and its fix, what more money would buy."""

from __future__ import annotations

import math
from collections.abc import Callable

from rehaul.clock import Clock
from rehaul.design.option import Option
from rehaul.design.placing import Placing
from rehaul.design.results import FrontPoint, RoomShortfall
from rehaul.design.settings import boxes_set_afresh
from rehaul.exact import (
    FeedChange,
    FeedChoice,
    Unsettled,
    cheapest_fix,
    cost_of_group,
    cost_without_group,
    lost_without,
    one_more,
)
from rehaul.house import Job
from rehaul.predict import SERVED_SHARE
from rehaul.words import say

MOST_WEIGHED = 6  # places left out, the cheapest first: each takes a choice of its own
WHY_LIMIT_S = 2.0  # of one reason's search; of the processor (`rehaul.clock`), as all of these
WHYS_LIMIT_S = 10.0  # of all of them together
OPEN_WHYS_S = 2.0  # where the choice itself is not proven: large houses have many, and none is proven soon
FIX_LIMIT_S = 2.0  # of the search for the cheapest thing that would mend one shortfall


def whys_clock(chosen: FeedChoice, share: float = 1.0, look: Callable[[], None] | None = None) -> Clock:
    """What may be spent on all reasons of a kind together, by this thread.

    Parameters: `share`, what a large house gets of it; `look`, called now and then, may raise to break off.
    """
    return Clock(share * WHYS_LIMIT_S if chosen.proven else OPEN_WHYS_S, look=look)


def why(job: Job, placing: Placing, chosen: FeedChoice, option: Option, clock: Clock) -> str:
    """What would be lost without it, and what it would cost to do without this place and serve as many.

    Parameters: `chosen`, solved for `placing`; `option`, one of its ways; `clock`, of all reasons of the
    kind. Empty where neither can be said: what is lost is nothing, and what it saves is nothing or not
    proven.
    """
    names = _names(placing)
    without = lost_without(placing.problem, chosen, option.id, figures=placing.figures)
    lost = tuple(names[i] for i in without)
    said = [say("design_why.without", rooms=lost)] if lost else []
    change = None
    if not clock.is_up():
        problem, core = placing.problem, placing.core
        change = cost_without_group(problem, chosen, option.group, WHY_LIMIT_S, core=core, within=clock)
    if isinstance(change, FeedChange) and change.choice.proven and change.extra_cost > 0:
        said.append(say("design_why.elsewhere", more=change.extra_cost, currency=job.currency))
    return say("words.in_turn", parts=tuple(said)) if said else ""


def front_point(job: Job, placing: Placing, point: FeedChoice, *, chosen: bool, nothing: bool) -> FrontPoint:
    """One point of the front, for people.

    Parameters: `point`, solved for `placing`; `chosen` and `nothing`, whether it is the chosen one and doing
    nothing. A room counts as served where all that it asks of the choice is met.
    """
    rooms = {room.id: room.name for room in job.house.rooms}
    asked = _asked(placing)
    short = {room for room, met in zip(asked, point.met, strict=True) if not met}
    served = list(dict.fromkeys(need.room for need in job.needs if need.room not in short))
    options = [placing.option(way) for way in point.ways]
    stands = [option for option in options if option.what == "access point"]
    return FrontPoint(
        cost=point.cost,
        rooms_served=len(served),
        rooms=tuple(rooms[room] for room in served),
        sites=tuple(option.place.id for option in stands if option.place),
        equipment=tuple(option.equipment.name for option in stands if option.equipment),
        ways=point.ways,
        switch=point.switch,
        devices=tuple(rooms[option.room] for option in options if option.what == "device"),
        set_afresh=tuple(row.name for row in boxes_set_afresh(options)),
        chosen=chosen,
        nothing=nothing,
    )


def shortfalls(
    job: Job,
    placing: Placing,
    chosen: FeedChoice,
    *,
    remedies: bool = True,
    look: Callable[[], None] | None = None,
) -> tuple[RoomShortfall, ...]:
    """Every need that the choice leaves unmet, with the cheapest thing that would mend it.

    Parameters: `remedies`, whether to look for that: it takes a search for each; `look`, called now and then
    in these, may raise to break off. In the order of needs, then of wired outlets; empty where all is met.
    The fix has no cost where no change of the choice mends it. What a room will get is not known here and
    stands at 0 Mb/s: `judged.with_gets` fills it in.

    **Validity**: the fix is the cheapest of the choice's own ways, found within two seconds of the processor.
    **Source**: docs/choosing.md, "Why this choice".
    """
    clock = Clock(math.inf, look=look)  # each has a limit of its own
    found = []
    rooms = {room.id: room.name for room in job.house.rooms}
    for index, need in enumerate(placing.needs):
        if chosen.met[index]:
            continue
        fix, cost = _fix(job, placing, chosen, index, clock) if remedies else ("", None)
        found.append(
            RoomShortfall(
                room=need.room,
                name=rooms[need.room],
                need_mbps=need.down_mbps,
                gets_mbps=0.0,
                served_pct=round(chosen.served[index] * 100, 1),
                fix=fix,
                fix_cost=cost,
                kind="up" if _asks_more_up(job, need.up_mbps, need.down_mbps) else "down",
            )
        )
    for number, row in enumerate(placing.problem.counted):
        index = len(placing.needs) + number
        if chosen.met[index]:
            continue
        room = row.name.removeprefix("outlets ")
        fix, cost = _fix(job, placing, chosen, index, clock) if remedies else ("", None)
        gets = chosen.counted[number] if chosen.counted else 0
        found.append(
            RoomShortfall(
                room=room,
                name=rooms[room],
                need_mbps=float(row.least),
                gets_mbps=float(gets),
                served_pct=round(100.0 * gets / row.least, 1),
                fix=fix,
                fix_cost=cost,
                kind="outlets",
            )
        )
    return tuple(found)


def _asks_more_up(job: Job, up_mbps: float, down_mbps: float) -> bool:
    return up_mbps > job.service.up_mbps and down_mbps <= job.service.down_mbps


def _fix(
    job: Job, placing: Placing, chosen: FeedChoice, index: int, clock: Clock
) -> tuple[str, float | None]:
    """The cheapest thing that would bring one need up and keep the others."""
    counted = index >= len(placing.needs)
    if not counted:
        need = placing.needs[index]
        if need.down_mbps > job.service.down_mbps:
            return say("design_why.plan_less", paid_mbps=job.service.down_mbps), None
        if need.up_mbps > job.service.up_mbps:
            return say("design_why.plan_up_less", paid_mbps=job.service.up_mbps), None
    change = cheapest_fix(placing.problem, chosen, index, FIX_LIMIT_S, within=clock)
    if isinstance(change, Unsettled):
        return say("design_why.fix_unsettled"), None
    if change is not None:
        added = tuple(words_of(placing.option(way)) for way in change.added)
        fix = say("design_why.cheapest_fix", added=added or (say("design_why.fed_otherwise"),))
        return fix, change.extra_cost
    if counted:
        words = say("design_why.no_cable")
    else:
        share = _reachable(placing, index)
        reach = "design_why.whole_cases" if job.choices.whole_rooms else "design_why.all_sites"
        words = say(reach, share_pct=100 * share)
        most = placing.served.most_mbps(index) if share < SERVED_SHARE else 0.0
        if most > 0:
            sure_pct = 100 * placing.needs[index].probability
            words = say("design_why.most_there", said=words, sure_pct=sure_pct, most_mbps=most)
    if not job.choices.new_pulls:
        return say("design_why.allow_cable", said=words), None
    if job.choices.forbidden_sites:
        return say("design_why.free_site", said=words), None
    return say("design_why.ask_less" if counted else "design_why.ask_less_or_wire", said=words), None


def _reachable(placing: Placing, index: int) -> float:
    requirement = placing.problem.requirements[index]
    served = placing.problem.serves[:, requirement.places].any(axis=0)
    return float((served * requirement.weights).sum() / requirement.weights.sum())


def why_not(
    job: Job,
    placing: Placing,
    chosen: FeedChoice,
    share: float = 1.0,
    look: Callable[[], None] | None = None,
) -> tuple[str, ...]:
    """For the cheapest places left out: what one would cost there that still serves as many needs.

    Parameters: `share` and `look` as in `whys_clock`.

    Returns sentences, the cheapest first, six at most and one for those not weighed; then why old coax is
    not counted on. An answer whose search was cut short says `at most`, or that it is not settled.
    **Source**: docs/choosing.md, "Why this choice".
    """
    used = {placing.option(way).group for way in chosen.ways}
    places: dict[str, Option] = {}
    for option in placing.offering.options:
        if option.what == "access point":
            places.setdefault(option.group, option)
    lines: list[str] = []
    price = placing.offering.works.cost_all
    left = [group for group in places if group not in used]
    left.sort(key=lambda group: price(places[group].needs).middle + places[group].cost)
    clock, weighed = whys_clock(chosen, share, look), 0
    for group in left[:MOST_WEIGHED]:
        if clock.is_up():
            break
        weighed += 1
        option = places[group]
        if option.place is None:
            continue
        where = {"place": option.place.id, "room": option.place.name}
        if group in placing.problem.forbidden:
            lines.append(say("design_why.not_forbidden", **where))
            continue
        problem, figures = placing.problem, placing.figures
        change = cost_of_group(problem, chosen, group, WHY_LIMIT_S, figures=figures, within=clock)
        if change is None:
            lines.append(say("design_why.not_as_many", **where))
        elif isinstance(change, Unsettled):
            lines.append(say("design_why.not_settled", **where))
        elif change.extra_cost <= 0:
            lines.append(say("design_why.as_good", **where))
        else:
            known = change.choice.proven  # else the search was cut short
            code = "design_why.costs_more" if known else "design_why.at_most_more"
            lines.append(say(code, **where, more=change.extra_cost, currency=job.currency))
    if len(left) > weighed:
        lines.append(say("design_why.only_weighed", weighed=weighed, left=len(left) - weighed))
    return (*lines, *placing.offering.coax_left)


def what_one_more_buys(job: Job, placing: Placing, chosen: FeedChoice) -> str:
    """What one more thing would buy.

    Parameters: `chosen`, solved for `placing`. **Validity**: one more way with all that it needs; two that
    help only together are not found.
    """
    if all(chosen.met):
        return say("design_why.all_met")
    more = one_more(placing.problem, chosen)
    if more is None:
        return say("design_why.nothing_helps")
    names = _names(placing)
    gain = (
        say("design_why.rooms_served", rooms=tuple(names[i] for i in more.newly_met))
        if more.newly_met
        else say("design_why.more_served")
    )
    what = words_of(placing.option(more.way))
    return say("design_why.one_more", what=what, cost=more.cost, currency=job.currency, gain=gain)


def words_of(option: Option) -> str:
    """An option in a few words."""
    if option.what == "access point" and option.equipment and option.place:
        by_radio = option.feed and option.feed.mains and option.links[0].medium == "wireless hop"
        code = "design_why.box_at_by_radio" if by_radio else "design_why.box_at"
        code = "design_why.box_at_over_coax" if option.feed and option.feed.comes_out else code
        return say(code, label=option.equipment.label, place=option.place.id, room=option.place.name)
    if option.what == "outlet" and option.feed:
        return say("design_why.outlet_at", place=option.feed.end)
    if option.router is not None:
        return option.router.words
    if option.what == "settings" and option.box is not None:
        return say("design_why.radio_afresh", box=option.box.name)
    if option.swap is not None:
        return say("design_why.radio_for", old=option.swap.old)
    if option.what == "uplink" and option.uplink is not None:
        return say("design_why.another_uplink")
    return option.id


def _asked(placing: Placing) -> list[str]:
    return [
        *(need.room for need in placing.needs),
        *(row.name.removeprefix("outlets ") for row in placing.problem.counted),
    ]


def _names(placing: Placing) -> list[str]:
    """A name for each need, for people."""
    rooms = placing.rooms
    return [
        *(rooms[need.room] for need in placing.needs),
        *(
            say("design_why.outlets_of", room=rooms[row.name.removeprefix("outlets ")])
            for row in placing.problem.counted
        ),
    ]
