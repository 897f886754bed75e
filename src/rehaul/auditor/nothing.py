"""Rules on doing nothing: it is the first plan, costs nothing, and nothing gets worse than it."""

from __future__ import annotations

import re
from collections.abc import Iterator

from rehaul.auditor.finding import PlanFinding, finding
from rehaul.auditor.reading import RowView
from rehaul.auditor.views import access_points, graph, parts, plates
from rehaul.facts.auditing import audit_number
from rehaul.house import Job
from rehaul.words import say

CHANGES = ("sites", "devices", "set_afresh")  # of a point of the front that is not doing nothing
SAYS_NOTHING = re.compile(r"\b(nothing|already|no work|as it is)\b", re.IGNORECASE)


def starts_from_today(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """The front starts with doing nothing, which serves what is served today.

    Broken by a front without a point that costs nothing and changes nothing, and where that point names
    another set of rooms than `before` calls met. Rooms that also ask for wired outlets or a delay may be
    missing.

    **Validity**: that `before` is a true prediction is not asked: no field is computed here. **Source**:
    docs/auditor.md, `starts-from-today`.
    """
    front = plan.rows("choice", "front")
    zero = [row for row in front if row.number("cost") == 0 and not any(_changes(row))]
    if not zero:
        yield finding(say("audit_network.nothing_not_on_front"), "front")
        return
    served = set(max(zero, key=lambda row: row.number("rooms_served")).names("rooms"))
    met, more = _met_today(job, plan)
    asking = {need.room for need in job.needs}  # a signed front may name rooms that ask no longer
    served &= {room.name for room in job.house.rooms if room.id in asking}
    for name in sorted(served - met):
        yield finding(say("audit_network.nothing_serves", room=name), name)
    for name in sorted(met - more - served):
        yield finding(say("audit_network.nothing_does_not_serve", room=name), name)


def _changes(point: RowView) -> Iterator[str]:
    """What a point of the front has that does not stand today."""
    for what in CHANGES:
        yield from point.names(what) if point.has(what) else ()


def _met_today(job: Job, plan: RowView) -> tuple[set[str], set[str]]:
    """Names of asking rooms whose rates are met today, and of rooms that ask for more than rates."""
    asking = {need.room for need in job.needs}
    beyond = {need.room for need in job.needs if need.wired_outlets or need.delay_ms is not None}
    rows = [row for row in plan.rows("before") if row.text("room") in asking]
    names = {row.text("room"): row.text("name") for row in rows}
    return {row.text("name") for row in rows if row.flag("met")}, {
        names[room] for room in beyond if room in names
    }


def before_is_today(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """The graph of doing nothing holds nothing that is bought or put to use.

    Broken by a link of the graph before the work that is not of the age `kept`. **Source**: docs/auditor.md,
    `before-is-today`.
    """
    for link in graph(plan, "before").links:
        if link.age != "kept":
            yield finding(say("audit_network.not_of_today", name=link.id, age=link.age), link.id)


def no_cost_without_need(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """Where everything asked is met today, nothing is bought and the first words say so.

    Broken by a part, access point, outlet or price where `before` calls every asking room met, and by first
    words without `nothing`, `already`, `no work` or `as it is`.

    **Validity**: nothing is asked where a room also asks for wired outlets or a delay, or a site is pinned.
    **Source**: docs/auditor.md, `no-cost-without-need`.
    """
    met, more = _met_today(job, plan)
    rooms = {room.id: room.name for room in job.house.rooms}
    if more or job.choices.pinned_sites or not {rooms.get(need.room, need.room) for need in job.needs} <= met:
        return
    bought = [part.item for part in parts(plan) if part.quantity > 0]
    if bought or access_points(plan) or plates(plan):
        yield finding(say("audit_network.bought_all_the_same"), *bought)
    if plan.number("choice", "cost") > 0 or plan.number("takeoff", "quote", "total") > 0:
        yield finding(say("audit_network.priced_all_the_same"), "quote")
    if not SAYS_NOTHING.search(plan.text("choice", "words")):
        yield finding(say("audit_network.met_not_said"), "words")


def bought_for_a_need(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """Where nothing is chosen, nothing is bought.

    Nothing is chosen where the choice has no access point, no outlet, nothing paid once and no cost. Broken
    by a part with a price, and by a quote with one. **Source**: docs/auditor.md,
    `nothing-chosen-nothing-bought`.
    """
    idle = not access_points(plan) and not plates(plan) and not plan.rows("choice", "resources")
    if idle and plan.number("choice", "cost") == 0:
        for part in parts(plan):
            if part.price > 0:
                yield finding(say("audit_network.bought_not_chosen", item=part.item), part.item)
        if plan.number("takeoff", "quote", "total") > 0:
            yield finding(say("audit_network.priced_not_chosen"), "quote")


def nothing_gets_worse(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """No room loses rate or a need it had met, unless the plan says so.

    Broken by a room that is met before and not after, one whose middle rate falls by more than `worse_pct`
    per cent and `worse_mbps` together, and one that is left out after the work. It is said where the room
    stands among the shortfalls, or its name in the first words, in what is said of the router or in a note
    of the network.

    **Validity**: compares the plan's own predictions. **Source**: fact table of the auditor's numbers.
    """
    before = {row.text("room"): row for row in plan.rows("before")}
    said = _said(plan)
    for row in plan.rows("after"):
        room, name = row.text("room"), row.text("name")
        was = before.get(room)
        if was is None or any(room == words or _names(words, name) for words in said):
            continue
        had, has = was.number("median_mbps"), row.number("median_mbps")
        floor = had * (1 - audit_number("worse_pct") / 100) - audit_number("worse_mbps")
        if was.flag("met") and not row.flag("met"):
            yield finding(say("audit_network.no_longer_met", room=name), room)
        elif has < floor:
            yield finding(say("audit_network.falls", room=name, had_mbps=had, has_mbps=has), room)
    for room in sorted(set(before) - {row.text("room") for row in plan.rows("after")}):
        yield finding(say("audit_network.left_out", room=before[room].text("name")), room)


def _names(words: str, name: str) -> bool:
    """Whether the words hold the name, not only as a part of another: `Hall` does not stand in `Hallway`."""
    return re.search(rf"(?<!\w){re.escape(name)}(?!\w)", words) is not None


def _said(plan: RowView) -> set[str]:
    """Where a plan owns up: rooms of its shortfalls, its first words, what it says of the router, notes."""
    found = {row.text("room") for row in plan.rows("choice", "shortfalls")}
    found.add(plan.text("choice", "words"))
    if plan.has("choice", "router", "words"):
        found.add(plan.text("choice", "router", "words"))
    return found | set(plan.names("network", "notes"))
