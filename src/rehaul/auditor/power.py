"""Rules on power: what keeps every access point and adapter alive."""

from __future__ import annotations

from collections.abc import Iterator

from rehaul.auditor.finding import PlanFinding, finding
from rehaul.auditor.reading import RowView
from rehaul.auditor.views import (
    AccessPointView,
    GraphView,
    LinkView,
    access_points,
    graph,
    parts,
    paths,
    unique,
)
from rehaul.facts.equipment import equipment
from rehaul.facts.link_media import link_media
from rehaul.house import Job
from rehaul.words import say

GIVES_POWER = ("switch", "adapter")  # kinds of node that can feed a cord
INJECTOR, SUPPLY = "injector", "mains_supply"


def fed_by_cable(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """An access point without mains of its own has power on every link back to what feeds it.

    Follows the path back from the box to the first switch or adapter. Broken by a link that passes a lower
    class of power than the box asks for, by one that brings none, and by a path that meets neither.

    **Validity**: class by class; the drop on thin wires is judged in docs/power.md. A box of a class that no
    table lists is taken to ask for none.
    """
    after = graph(plan, "after")
    links = after.link_of()
    for ap in access_points(plan):
        asked = equipment()[ap.equipment].poe_class if ap.equipment in equipment() else 0
        way = next((way for way in paths(plan) if way.to == ap.id), None)
        if way is None or _has_mains(plan, ap, asked):
            continue
        back = [links[step.id] for step in reversed(way.steps) if step.id in links]
        yield from _follow(ap, asked, back, after)


def _without_wires() -> set[str]:
    """Media that a box may hang on and that bring no power: it has mains of its own."""
    return {row.medium for row in link_media().values() if row.fed_by and not row.power}


def _follow(ap: AccessPointView, asked: int, back: list[LinkView], after: GraphView) -> Iterator[PlanFinding]:
    here = ap.id
    for link in back:
        if link.medium in _without_wires():
            yield finding(say("audit_network.no_power", name=ap.id, link=link.id), ap.id)
            return
        if link.poe_class < asked:
            yield finding(
                say(
                    "audit_network.power_class", name=ap.id, asked=asked, link=link.id, passed=link.poe_class
                ),
                ap.id,
                link.id,
            )
            return
        here = link.other(here)
        if after.kind(here) in GIVES_POWER:
            return
    yield finding(say("audit_network.no_power_on_way", name=ap.id), ap.id)


def _has_mains(plan: RowView, ap: AccessPointView, asked: int) -> bool:
    """Whether it has a supply or an injector of its own, or asks for none."""
    injected = any(part.item == INJECTOR and ap.id in part.because for part in parts(plan))
    return asked == 0 or ap.supply or injected


def supplies_bought(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """A supply of its own is bought for every access point that is said to have one.

    Broken by an access point with `supply` that no part line `mains_supply` names. **Source**:
    docs/auditor.md, `supplies-bought`.
    """
    bought = {name for part in parts(plan) if part.item == SUPPLY for name in part.because}
    for ap in access_points(plan):
        if ap.supply and ap.id not in bought:
            yield finding(say("audit_network.supply_not_bought", name=ap.id), ap.id)


def switch_holds(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """The switch has the ports and the watts for what hangs on it.

    Broken by a port with two plugs, by more watts than the plan or the class has, by more cords than ports,
    by a class that no table lists, and by a device of a higher class of power than the switch gives.

    **Source**: ports, watts and classes of the fact table of equipment.
    """
    ports = plan.rows("network", "ports")
    name = plan.text("network", "switch")
    used = sum(port.number("poe_w") for port in ports)
    budget = plan.number("network", "poe_budget_w")
    numbers = [f"{port.number('port'):g}" for port in ports]
    for twice in unique(numbers):
        yield finding(say("audit_network.two_plugs", port=twice), name)
    if used > budget + 1e-6:
        yield finding(say("audit_network.too_many_watts", gives_w=budget, used_w=used), name)
    kind = equipment().get(name)
    if kind is None:
        if name:
            yield finding(say("audit_network.switch_unknown", name=name), name)
        return
    if budget > kind.poe_budget_w + 1e-6:
        yield finding(say("audit_network.watts_of_switch", counted_w=budget, gives_w=kind.poe_budget_w), name)
    if len(ports) > kind.ports:
        yield finding(say("audit_network.cords_and_ports", cords=len(ports), ports=kind.ports), name)
    if any(port.number("poe_class") > kind.poe_class for port in ports if port.number("poe_w") > 0):
        yield finding(say("audit_network.class_of_switch", given=kind.poe_class), name)


def mains_there(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """What needs a mains socket does not stand where the survey says there is none.

    Asks adapters, new hops, access points with a supply and small switches, at the plate they stand at or
    hang on by a cord. Broken where that plate is noted as without mains.

    **Validity**: a plate of which nobody noted whether it has mains passes. **Source**: docs/auditor.md,
    `mains-where-needed`.
    """
    after = graph(plan, "after")
    without = {outlet.id for outlet in job.house.outlets if outlet.mains is False}
    hops = {link.b for link in after.links if link.medium in _without_wires() and link.age == "new"}
    hops |= {ap.id for ap in access_points(plan) if ap.supply}
    centre = {point.id for point in job.house.meeting_points}
    sites = {ap.id: ap.site.id for ap in access_points(plan)}
    for node in after.nodes:
        needs = node.kind == "adapter" or node.id in hops
        small = node.kind == "switch" and not _beside(node.id, after) & centre
        if not needs and not small:
            continue
        places = (_beside(node.id, after) | {node.id, sites.get(node.id, "")}) & without
        for place in sorted(places):
            yield finding(
                say("audit_network.no_mains", name=node.name or node.id, place=place), node.id, place
            )


def _beside(node: str, after: GraphView) -> set[str]:
    """Ends of the cords at a box."""
    return {link.other(node) for link in after.links if link.medium == "cord" and node in (link.a, link.b)}
