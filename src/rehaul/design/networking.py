"""Switch, ports, panel, rack, battery, heat: the boxes that the chosen access points and outlets need."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from rehaul.design.addresses import HOME, MANAGEMENT, addresses, subnets
from rehaul.design.after import SWITCH
from rehaul.design.battery import cheapest_battery
from rehaul.design.choosing import Chosen
from rehaul.design.ownports import USUAL_PORTS
from rehaul.design.results import AccessPoint, Network, Port, RackItem, RackKind, WiredOutlet
from rehaul.design.uplink import NEW_ROUTER_CLASS
from rehaul.facts.enclosures import Enclosure, EnclosurePlace
from rehaul.facts.equipment import Equipment, equipment, equipment_named, equipment_of
from rehaul.facts.ethernet import ethernet_needs
from rehaul.facts.siting import siting_number
from rehaul.house import Box, Job, MeetingPoint
from rehaul.network.core import core_point, gateway
from rehaul.network.model import Graph, Link
from rehaul.network.standing import USUAL_PORT_MBPS, head_of
from rehaul.power import cabinet_rise_c, ups_minutes_range
from rehaul.power.heat import cabinet_temperature_c, heat_advice
from rehaul.wlan import ethernet_tcp_mbps
from rehaul.words import say, term

RACK_CORD_M = 0.5
ENCLOSURES: dict[str, Enclosure] = {
    "open wall": "open board",
    "cupboard": "cupboard",
    "flush metal can": "flush wall can",
    "attic": "open board",
    "unknown": "cupboard",
}


def network(job: Job, chosen: Chosen, graph: Graph) -> Network:
    """Ports by the graph's links, then the switch that was chosen, and what holds and feeds it.

    Parameters: `chosen` and its `graph` (`graph_after`).

    Returns ports, switch, panel, rack from the top down, battery, watts, rise of temperature [°C], networks
    and addresses. Without a port in use there is no switch, rack or battery.

    **Validity**: watts are those of the classes; heat as docs/power.md has it. **Source**: fact table of
    equipment.
    """
    standing = [box for box in job.boxes if box.id in {node.id for node in graph.nodes}]
    ports, notes = _ports(job, chosen, graph)
    if not ports:
        return Network(
            switch="",
            ports=(),
            spare_ports=0,
            poe_budget_w=0.0,
            poe_used_w=0.0,
            rack=(),
            rack_units=0,
            draw_w=round(sum(_draw_w(box) for box in standing), 1),
            core_draw_w=round(sum(_draw_w(box) for box in standing), 1),
            ups="",
            ups_minutes_all=0,
            ups_minutes_core=0,
            temperature_rise_c=0.0,
            heat_note="",
            subnets=subnets(),
            addresses=addresses(job, chosen.choice.access_points, switch=False),
            notes=tuple(notes),
        )
    closet = core_point(job)
    switch = equipment().get(chosen.switch)
    panelled = [port for port in ports if port.panel_port]
    panel = _first_with(equipment_of("panel"), len(panelled)) if panelled and switch else None
    loads_w = sum(port.poe_w for port in ports)
    own = on_own_ports(chosen)
    owned = own.id if own is not None else ""  # what is kept holds boxes of a job before this
    beside = [box for box in standing if _is_beside(chosen, box, closet) or box.id == owned]
    core_w = (switch.draw_w if switch else 0.0) + sum(_draw_w(box) for box in beside)
    if own is not None and not own.keep:  # its ports are those of the router that takes its place
        core_w += equipment()[NEW_ROUTER_CLASS].draw_w
    asked = job.choices.ups_minutes > 0 and (switch is not None or own is not None)
    battery = cheapest_battery(core_w + loads_w, job.choices.ups_minutes) if asked else None
    items = _rack([box for box in beside if _on_board(chosen, box, closet)], switch, panel, battery)
    units = sum(item.height_u for item in items)
    aside = _is_can(closet) or not _fits(closet, units)
    rise_c, heat = _heat(core_w, None if aside else closet)
    total_w = core_w + loads_w
    return Network(
        switch=switch.name if switch else "",
        ports=ports,
        spare_ports=switch.ports - len(ports) if switch else _router_spare(job, chosen, len(ports)),
        poe_budget_w=switch.poe_budget_w if switch else 0.0,
        poe_used_w=round(loads_w, 1),
        rack=items,
        rack_units=units,
        stands="beside" if aside else "in",
        draw_w=round(total_w, 1),
        core_draw_w=round(core_w, 1),
        ups=battery.name if battery else "",
        ups_minutes_all=_lasts(total_w, battery),
        ups_minutes_core=_lasts(core_w, battery),
        temperature_rise_c=round(rise_c, 1),
        heat_note=heat,
        subnets=subnets(),
        addresses=addresses(job, chosen.choice.access_points, switch=switch is not None),
        notes=tuple(notes),
    )


def on_own_ports(chosen: Chosen) -> Box | None:
    """The router whose own ports take the place of a main switch; None where a switch does."""
    ups = (option.uplink for option in chosen.options if option.uplink is not None)
    return next((up.own for up in ups if up.own is not None), None)


def router_outlets(chosen: Chosen) -> tuple[WiredOutlet, ...]:
    """Wired outlets that are ports of the router itself: a cord in its room."""
    own = {option.id for option in chosen.options if option.what == "outlet" and option.router is not None}
    return tuple(outlet for outlet in chosen.choice.outlets if outlet.way in own)


def _router_spare(job: Job, chosen: Chosen, taken: int) -> int:
    """Ports of the router that stay free, those counted that something may hang on already."""
    router = gateway(job)
    row = equipment().get(router.equipment) if router is not None else None
    has = row.ports if row is not None else USUAL_PORTS
    return max(0, has - taken - len(router_outlets(chosen)))


def _is_can(closet: MeetingPoint | None) -> bool:
    return closet is not None and closet.enclosure == "flush metal can"


def _fits(closet: MeetingPoint | None, units: int) -> bool:
    """Whether so many rack units go where the cables meet; a place of unknown size holds them."""
    if closet is None or closet.inside_m is None:
        return True
    width_m, height_m, _ = closet.inside_m
    return width_m >= siting_number("rack_width") and height_m >= units * siting_number("rack_unit")


def _is_beside(chosen: Chosen, box: Box, closet: MeetingPoint | None) -> bool:
    """Whether a box that stands ends up within a cord of where the cables meet."""
    return _apart_m(chosen, box, closet) <= siting_number("cord_reach")


def _on_board(chosen: Chosen, box: Box, closet: MeetingPoint | None) -> bool:
    """Whether it stands at the board itself: it stays where it was decided to stand, not moved twice."""
    return _apart_m(chosen, box, closet) <= siting_number("on_board")


def _apart_m(chosen: Chosen, box: Box, closet: MeetingPoint | None) -> float:
    """How far a box ends up from where the cables meet; nothing where they meet at the router."""
    if closet is None:
        return 0.0
    moved = chosen.choice.router.box == box.id and chosen.choice.router.do == "move"
    storey = chosen.choice.router.storey if moved else box.storey
    position = chosen.choice.router.position if moved else box.position
    if storey != closet.storey or position is None:
        return math.inf
    return math.dist(position, closet.position)


def _ports(job: Job, chosen: Chosen, graph: Graph) -> tuple[tuple[Port, ...], list[str]]:
    """Port 1 goes up to the router where there is a switch; then whatever leaves the core, in order."""
    uplink = next((option.uplink for option in chosen.options if option.uplink is not None), None)
    own = on_own_ports(chosen) is not None
    core = head_of(job, {option.box.id for option in chosen.options if option.box}) if own else SWITCH
    if not own and (not chosen.switch or all(node.id != SWITCH for node in graph.nodes)):
        return (), []
    rows: list[Port] = []
    if not own:
        up = next((link for link in graph.links if link.b == SWITCH), None)
        rows.append(
            Port(
                port=1,
                device=term("router"),
                run=up.run or (up.id if up.id.startswith("NC") else "") if up else "",
                outlet=_uplink_plate(job, chosen, up),
                panel_port=1 if up is not None and up.medium != "cord" else None,
                rate_mbps=int(USUAL_PORT_MBPS),
                vlan=say("design_network.all_networks"),
                cord_m=RACK_CORD_M if up is None or up.medium != "cord" or uplink is None else uplink.cord_m,
                link=up.id if up else "",
            )
        )
    points = {point.id: point for point in chosen.choice.access_points}
    outlets = {outlet.id: outlet for outlet in chosen.choice.outlets}
    at_router = {outlet.id for outlet in router_outlets(chosen)}
    cord_m = uplink.cord_m if own and uplink is not None else RACK_CORD_M
    below = _below(graph)
    for link in graph.links:
        if link.a != core or link.b in _standing_ids(job) or link.rate_mbps <= 0 or link.b == SWITCH:
            continue
        if link.b in at_router or link.medium == "wireless hop":
            continue
        ends = below(link.b)
        direct = [end for end in ends if end in points or end in outlets]
        name = graph.node(link.b).name
        rows.append(_port(chosen, link, direct, len(rows) + 1, rows, points, outlets, own, name, cord_m))
    return tuple(rows), _notes(graph, points, outlets)


def _standing_ids(job: Job) -> set[str]:
    return {box.id for box in job.boxes}


def _uplink_plate(job: Job, chosen: Chosen, up: Link | None) -> str:
    """The plate at the router's end of an uplink over an old cable."""
    if up is None or not up.run:
        return ""
    wired = next((option.uplink for option in chosen.options if option.uplink is not None), None)
    old = next((link for link in (wired.links if wired else ()) if link.run), None)
    run = next((run for run in job.house.runs if run.id == up.run), None)
    if old is None or run is None:
        return ""
    core = chosen.placing.offering.core
    return next((end for end in reversed(run.ends) if core is None or end != core.id), "")


def _below(graph: Graph) -> Callable[[str], list[str]]:
    """Everything that hangs on a node, itself first."""
    children: dict[str, list[str]] = {}
    for link in graph.links:
        if link.rate_mbps > 0:
            children.setdefault(link.a, []).append(link.b)

    def of(node: str) -> list[str]:
        return [node, *(name for child in children.get(node, ()) for name in of(child))]

    return of


def _port(
    chosen: Chosen,
    link: Link,
    ends: Sequence[str],
    number: int,
    rows: Sequence[Port],
    points: dict[str, AccessPoint],
    outlets: dict[str, WiredOutlet],
    own: bool,
    name: str,
    cord_m: float,
) -> Port:
    """One port: what is on its far end, by which cable, with how much power."""
    point = points.get(ends[0]) if len(ends) == 1 else None
    outlet = outlets.get(ends[0]) if len(ends) == 1 else None
    plate = link.b if link.medium != "cord" else ""
    panel = _panel(rows, plate) if not own else None
    if point is not None and link.poe_class and not point.supply:
        kind = equipment_named(point.equipment)
        powered = (0, 0.0) if own else (kind.poe_class, kind.draw_w)
        injected = own
    else:
        powered, injected = (0, 0.0), False
    if link.b.startswith("ad-"):
        return Port(
            port=number,
            device=name,
            rate_mbps=int(USUAL_PORT_MBPS),
            vlan=say("design_network.and_all", network=MANAGEMENT),
            cord_m=1.0,
            link=link.id,
        )
    device = (
        point.id
        if point
        else say("design_network.outlet", outlet=outlet.id)
        if outlet
        else say("design_work.small_switch_name", place=plate)
    )
    return Port(
        port=number,
        device=device,
        outlet=point.site.id if point else plate,
        run=link.run or (link.id if link.age == "new" and link.medium != "cord" else ""),
        panel_port=panel,
        rate_mbps=min(line_mbps(link.rate_mbps), 2500 if point else int(USUAL_PORT_MBPS)),
        poe_class=powered[0],
        poe_w=powered[1],
        vlan=say("design_network.and_all", network=MANAGEMENT) if point or not outlet else HOME,
        cord_m=cord_m,
        link=link.id,
        injector=injected,
    )


def line_mbps(payload_mbps: float) -> float:
    """The line rate whose payload this is.

    Parameters: `payload_mbps` of TCP, 0.2 Mb/s forgiven. The highest rate of the table where none is enough.

    **Source**: fact table of Ethernet needs; `ethernet_tcp_mbps`.
    """
    rates = [row.rate_mbps for row in ethernet_needs().values()]
    return next((rate for rate in sorted(rates) if ethernet_tcp_mbps(rate) >= payload_mbps - 0.2), max(rates))


def _notes(graph: Graph, points: dict[str, AccessPoint], outlets: dict[str, WiredOutlet]) -> list[str]:
    """What hangs on a small switch has its power from there."""
    below = _below(graph)
    notes: list[str] = []
    for node in graph.nodes:
        if node.kind != "switch" or node.id == SWITCH:
            continue
        hung = [name for name in below(node.id) if name in points or name in outlets]
        notes.append(say("design_network.hangs_on", names=tuple(hung), n=len(hung), switch=node.name))
    return notes


def _panel(rows: Sequence[Port], plate: str) -> int | None:
    return sum(1 for row in rows if row.panel_port) + 1 if plate else None


def _lasts(load_w: float, battery: Equipment | None) -> int:
    """Minutes to count on: aged, and at this load."""
    return round(ups_minutes_range(load_w, battery.battery_v, battery.battery_ah)[0]) if battery else 0


def _first_with(kinds: Sequence[Equipment], ports: int) -> Equipment:
    return next((kind for kind in kinds if kind.ports >= ports), kinds[-1])


def _draw_w(box: Box) -> float:
    """A box of a class that no table holds draws what a router draws."""
    if box.equipment in equipment():
        return equipment()[box.equipment].draw_w
    return max(row.draw_w for row in equipment_of("router"))


def _rack(
    standing: Sequence[Box],
    switch: Equipment | None,
    panel: Equipment | None,
    battery: Equipment | None,
) -> tuple[RackItem, ...]:
    """Battery at the bottom where its weight belongs, then router, switch, panel at the top."""
    stack: list[tuple[str, RackKind, Equipment]] = [(term("Battery"), "battery", battery)] if battery else []
    stack += [
        (box.name, "box", equipment()[box.equipment]) for box in standing if box.equipment in equipment()
    ]
    stack += [(term("Switch"), "switch", switch)] if switch else []
    stack += [(term("Panel"), "panel", panel)] if panel else []
    items: list[RackItem] = []
    unit = 1
    for name, kind, row in stack:
        items.append(
            RackItem(
                unit=unit,
                height_u=max(1, row.rack_u),
                name=name,
                kind=kind,
                equipment=row.name,
                draw_w=row.draw_w,
                new=kind != "box",
            )
        )
        unit += max(1, row.rack_u)
    return tuple(reversed(items))


def _heat(core_w: float, closet: MeetingPoint | None) -> tuple[float, str]:
    """Temperature rise where the boxes stand, and one sentence on it."""
    where = closet.enclosure if closet else "unknown"
    enclosure = ENCLOSURES[where]
    place: EnclosurePlace = "attic in summer" if where == "attic" else "room"
    rise_c = cabinet_rise_c(core_w, enclosure)
    warm_c = cabinet_temperature_c(core_w, enclosure, place)
    return rise_c, heat_advice(warm_c, vented=closet.vented if closet else None)
