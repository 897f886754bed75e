"""Switch, ports, panel, rack, battery, heat: the boxes that the chosen access points and outlets need."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from rehaul.design.addresses import HOME, MANAGEMENT, addresses, subnets
from rehaul.design.results import AccessPoint, Choice, Network, Port, RackItem, Site
from rehaul.errors import BadInput
from rehaul.facts.enclosures import Enclosure, Place
from rehaul.facts.equipment import Equipment, equipment, equipment_named, equipment_of
from rehaul.facts.poe import poe_class_row
from rehaul.house import Box, Job, MeetingPoint, Run
from rehaul.house.geometry import room_at
from rehaul.network.verdicts import RunVerdict
from rehaul.power import cabinet_rise_c, switch_budget, ups_minutes
from rehaul.power.heat import cabinet_temperature_c, heat_advice

RACK_CORD_M = 0.5
CHEAP_WAYS = ("open floor", "open attic")
ENCLOSURES: dict[str, Enclosure] = {
    "open wall": "open board",
    "cupboard": "cupboard",
    "flush metal can": "flush wall can",
    "attic": "open board",
    "unknown": "cupboard",
}


def network(job: Job, choice: Choice, verdicts: Sequence[RunVerdict]) -> Network:
    """Ports first, then the cheapest switch that has them and their power, then what holds and feeds it."""
    closet = job.house.meeting_points[0] if job.house.meeting_points else None
    ports, notes = _ports(job, choice, verdicts)
    switch = cheapest_switch(ports, job.choices.spare_ports)
    standing = [box for box in job.boxes if box.keep]
    panelled = [port for port in ports if port.panel_port]
    panel = _first_with(equipment_of("panel"), len(panelled)) if panelled else None
    loads_w = sum(port.poe_w for port in ports)
    core_w = switch.draw_w + sum(_draw_w(box) for box in standing)
    battery = cheapest_battery(core_w + loads_w, job.choices.ups_minutes)
    items = _rack(standing, switch, panel, battery)
    units = sum(item.height_u for item in items)
    rise_c, heat = _heat(core_w, closet)
    subnet_rows = subnets()
    return Network(
        switch=switch.name,
        ports=ports,
        spare_ports=switch.ports - len(ports),
        poe_budget_w=switch.poe_budget_w,
        poe_used_w=round(loads_w, 1),
        rack=items,
        rack_units=units,
        draw_w=round(core_w + loads_w, 1),
        core_draw_w=round(core_w, 1),
        ups=battery.name,
        ups_minutes_all=round(ups_minutes(core_w + loads_w, battery.battery_v, battery.battery_ah)),
        ups_minutes_core=round(ups_minutes(core_w, battery.battery_v, battery.battery_ah)),
        temperature_rise_c=round(rise_c, 1),
        heat_note=heat,
        subnets=subnet_rows,
        addresses=addresses(job, choice.access_points),
        notes=tuple(notes),
    )


def _ports(job: Job, choice: Choice, verdicts: Sequence[RunVerdict]) -> tuple[tuple[Port, ...], list[str]]:
    """Port 1 goes up to the router; then access points; then the outlets that rooms ask for."""
    notes: list[str] = []
    rows = [Port(port=1, device="router", rate_mbps=1000, vlan="all", cord_m=RACK_CORD_M)]
    used: set[str] = set()
    new = 0
    chained = _chained(job, choice)
    for ap in choice.access_points:
        run = ap.site.run
        if run in chained and ap is not chained[run][0]:
            notes.append(
                f"{ap.id} ({ap.name}) hangs on the small switch that joins the chain of cable {run}, and has "
                "its power from there: a mains socket and a battery of its own belong beside that box"
            )
            continue
        if not run and ap.site.new_pull_m:
            new += 1
            run = f"NC{new}"
        port = _access_point_port(ap, run, len(rows) + 1, _panel(rows, run))
        if run in chained or ap.site.way == "fibre":  # powered where it stands
            port = port.model_copy(update={"poe_class": 0, "poe_w": 0.0})
        rows.append(port)
        used |= {run, ap.site.spends}
    free = [v for v in verdicts if v.usable and v.run not in used and v.likely_mbps >= 100]
    for need in job.needs:
        for _ in range(need.wired_outlets):
            hit = next(((v, end) for v in free for end in v.ends if _room(job, end) == need.room), None)
            site = None if hit else _cheap_pull(choice, need.room)
            if site is not None:
                new += 1
                rows.append(_new_outlet_port(rows, site, f"NC{new}"))
                continue
            if hit is None:
                name = next(room.name for room in job.house.rooms if room.id == need.room)
                notes.append(
                    f"{name} asks for a wired outlet and no free cable surfaces there: put a small switch at "
                    "the plate of its access point, or pull a new cable"
                )
                continue
            verdict, outlet = hit
            free.remove(verdict)
            rows.append(
                Port(
                    port=len(rows) + 1,
                    device=f"outlet {outlet}",
                    outlet=outlet,
                    run=verdict.run,
                    panel_port=_panel(rows, verdict.run),
                    rate_mbps=min(verdict.likely_mbps, 1000),
                    vlan=HOME,
                    cord_m=RACK_CORD_M,
                )
            )
    return tuple(rows), notes


def _cheap_pull(choice: Choice, room: str) -> Site | None:
    """Where a new cable comes into a room from an open floor or attic: there a wired outlet costs little."""
    return next((site for site in choice.candidates if site.room == room and site.way in CHEAP_WAYS), None)


def _new_outlet_port(rows: Sequence[Port], site: Site, run: str) -> Port:
    return Port(
        port=len(rows) + 1,
        device=f"outlet {site.name}",
        outlet=site.id,
        run=run,
        panel_port=_panel(rows, run),
        rate_mbps=1000,
        vlan=HOME,
        cord_m=RACK_CORD_M,
    )


def _chained(job: Job, choice: Choice) -> dict[str, list[AccessPoint]]:
    """Old runs that serve several access points, each with its access points in the order of the chain."""
    found: dict[str, list[AccessPoint]] = {}
    for run in job.house.runs:
        on_it = [ap for ap in choice.access_points if ap.site.run == run.id]
        if len(on_it) > 1:
            found[run.id] = sorted(on_it, key=_place_along(run))
    return found


def _place_along(run: Run) -> Callable[[AccessPoint], int]:
    return lambda ap: run.ends.index(ap.site.id)


def _panel(rows: Sequence[Port], run: str) -> int | None:
    return sum(1 for row in rows if row.panel_port) + 1 if run else None


def _access_point_port(ap: AccessPoint, run: str, number: int, panel_port: int | None) -> Port:
    kind = equipment_named(ap.equipment)
    return Port(
        port=number,
        device=ap.id,
        outlet=ap.site.id,
        run=run,
        panel_port=panel_port,
        rate_mbps=min(ap.site.wire_mbps, kind.port_mbps),
        poe_class=kind.poe_class,
        poe_w=kind.draw_w,
        vlan=f"{MANAGEMENT} and all",
        cord_m=RACK_CORD_M,
    )


def _room(job: Job, end: str) -> str | None:
    outlet = next((o for o in job.house.outlets if o.id == end), None)
    if outlet is None:
        return None
    if outlet.room or outlet.position is None:
        return outlet.room
    room = room_at(job.house, outlet.storey, outlet.position)
    return room.id if room else None


def cheapest_switch(ports: Sequence[Port], spare: int) -> Equipment:
    """The cheapest switch class with the ports, the spare ones, and the power that the classes reserve."""
    classes = tuple(port.poe_class for port in ports if port.poe_class)
    for kind in equipment_of("switch"):
        enough = kind.ports >= len(ports) + spare and kind.poe_class >= max(classes, default=0)
        if enough and switch_budget(classes, kind.poe_budget_w).fits:
            return kind
    watts = sum(poe_class_row(number).source_w for number in classes)
    raise BadInput(
        f"no switch class has {len(ports) + spare} ports and {watts:.0f} W",
        where="choices.spare_ports",
        remedy="Ask for fewer spare ports, or add a larger class to the equipment table",
    )


def cheapest_battery(load_w: float, minutes: float) -> Equipment:
    """The cheapest battery class that lasts, aged; the largest where none does."""
    kinds = equipment_of("battery")
    lasting = [k for k in kinds if ups_minutes(load_w, k.battery_v, k.battery_ah) >= minutes]
    return lasting[0] if lasting else max(kinds, key=lambda k: k.battery_v * k.battery_ah)


def _first_with(kinds: Sequence[Equipment], ports: int) -> Equipment:
    return next((kind for kind in kinds if kind.ports >= ports), kinds[-1])


def _draw_w(box: Box) -> float:
    return equipment()[box.equipment].draw_w if box.equipment in equipment() else 0.0


def _rack(
    standing: Sequence[Box], switch: Equipment, panel: Equipment | None, battery: Equipment
) -> tuple[RackItem, ...]:
    """Battery at the bottom where its weight belongs, then router, switch, panel at the top."""
    stack: list[tuple[str, Equipment]] = [("Battery", battery)]
    stack += [(box.name, equipment()[box.equipment]) for box in standing if box.equipment in equipment()]
    stack += [("Switch", switch)]
    stack += [("Panel", panel)] if panel else []
    items: list[RackItem] = []
    unit = 1
    for name, kind in stack:
        items.append(
            RackItem(
                unit=unit, height_u=max(1, kind.rack_u), name=name, equipment=kind.name, draw_w=kind.draw_w
            )
        )
        unit += max(1, kind.rack_u)
    return tuple(reversed(items))


def _heat(core_w: float, closet: MeetingPoint | None) -> tuple[float, str]:
    """Temperature rise where the boxes stand, and one sentence on it."""
    where = closet.enclosure if closet else "unknown"
    enclosure = ENCLOSURES[where]
    place: Place = "attic in summer" if where == "attic" else "room"
    rise_c = cabinet_rise_c(core_w, enclosure)
    return rise_c, heat_advice(cabinet_temperature_c(core_w, enclosure, place))
