"""Tables of the new network: access points, ports, rack, channels, addresses."""

from __future__ import annotations

from rehaul.design.results import Port
from rehaul.planning import Plan
from rehaul.sheets import words
from rehaul.sheets.table import Column, Table, table

BEFORE_MARGIN = (
    "Cost: parts and labour of what was weighed, before margin and tax; the price is on the quote."
)


def network_tables(plan: Plan) -> tuple[Table, ...]:
    """Access points, places weighed, ports, rack, channels, networks, addresses, choices, needs not met.

    In the order of docs/papers.md.
    """
    return (
        access_points(plan),
        sites(plan),
        ports(plan),
        rack(plan),
        channels(plan),
        subnets(plan),
        addresses(plan),
        front(plan),
        shortfalls(plan),
    )


def access_points(plan: Plan) -> Table:
    """The access points of the plan: where each stands, what feeds it, and why there.

    Rates [Mb/s] are of the cable that feeds it, the chance is that this cable works.
    """
    storeys = {storey.id: storey.name for storey in plan.job.house.storeys}
    return table(
        "access_points",
        "Access points",
        plan.choice.access_points,
        (
            (Column("id", "Access\npoint", "id"), lambda a: a.id),
            (Column("name", "Name", share=1), lambda a: a.name),
            (Column("storey", "Storey", share=0.8), lambda a: storeys.get(a.site.storey, a.site.storey)),
            (Column("site", "Place", "id"), lambda a: a.site.id),
            (Column("mounting", "Mounting"), lambda a: a.site.mounting),
            (Column("run", "Over", "id"), lambda a: words.feed_words(a.site)),
            (Column("wire_mbps", "Wire\nMb/s", "number"), lambda a: a.site.wire_mbps),
            (Column("chance_pct", "Run works\n%", "number"), lambda a: 100 * a.site.chance),
            (Column("equipment", "Kind", share=1.2), lambda a: a.equipment),
            (Column("why", "Why here", share=3), lambda a: a.why),
        ),
    )


def sites(plan: Plan) -> Table:
    """Every place for an access point that was weighed, chosen or not.

    Cost in the job's currency before margin; `cost_90` is what nine of ten stay under.
    """
    chosen = {access_point.site.id for access_point in plan.choice.access_points}
    return table(
        "sites",
        "Places that were weighed",
        plan.choice.candidates,
        (
            (Column("id", "Place", "id"), lambda s: s.id),
            (Column("name", "Room", share=1), lambda s: s.name),
            (Column("run", "Old run", "id"), lambda s: s.run),
            (Column("new_pull_m", "New pull m", "number", 1), lambda s: s.new_pull_m or None),
            (Column("wire_mbps", "Wire Mb/s", "number"), lambda s: s.wire_mbps),
            (Column("chance_pct", "Works %", "number"), lambda s: 100 * s.chance),
            (Column("cost", "Cost", "money"), lambda s: s.cost),
            (Column("cost_90", "Cost, nine of ten", "money"), lambda s: s.cost_90),
            (Column("chosen", "Chosen"), lambda s: "yes" if s.id in chosen else ""),
            (Column("why", "Why", share=2), lambda s: s.why),
        ),
        note=BEFORE_MARGIN,
    )


def device_name(plan: Plan, port: Port) -> str:
    """What hangs on a port, for people: an access point with its room's name, anything else by its id."""
    names = {access_point.id: access_point.name for access_point in plan.choice.access_points}
    name = names.get(port.device)
    return f"{port.device} {name}" if name else port.device


def ports(plan: Plan) -> Table:
    """The port map: what hangs on each port, over which cable, at which rate [Mb/s], with which power.

    Used ports alone, in their order. Power [W] is empty where none is asked for.
    """
    return table(
        "ports",
        "Port map",
        plan.network.ports,
        (
            (Column("port", "Switch\nport", "whole"), lambda p: p.port),
            (Column("panel_port", "Panel\nport", "whole"), lambda p: p.panel_port),
            (Column("run", "Cable", "id"), lambda p: p.run),
            (Column("outlet", "Far end", "id"), lambda p: p.outlet),
            (Column("device", "What hangs on it", share=2), lambda p: device_name(plan, p)),
            (Column("rate_mbps", "Mb/s", "number"), lambda p: p.rate_mbps),
            (Column("poe_class", "PoE\nclass", "whole"), lambda p: p.poe_class or None),
            (Column("poe_w", "PoE\nW", "number", 1), lambda p: p.poe_w or None),
            (Column("vlan", "Network"), lambda p: p.vlan),
            (Column("cord_m", "Cord m", "number", 2), lambda p: p.cord_m),
        ),
    )


def rack(plan: Plan) -> Table:
    """The rack from the top down, with what each thing draws [W] and room for its serial number."""
    return table(
        "rack",
        "Rack",
        sorted(plan.network.rack, key=lambda item: -item.unit),
        (
            (Column("unit", "Unit", "whole"), lambda r: r.unit),
            (Column("height_u", "Height U", "whole"), lambda r: r.height_u),
            (Column("name", "Name", share=1), lambda r: r.name),
            (Column("equipment", "Kind", share=1.5), lambda r: r.equipment),
            (Column("draw_w", "Draws W", "number", 1), lambda r: r.draw_w),
            (Column("serial", "Serial number", "blank", share=1), lambda _: ""),
        ),
    )


def channels(plan: Plan) -> Table:
    """The channel plan: channel, width [MHz], centre and radiated power [dBm EIRP] of each radio of the plan.

    A radio may wait before it sends on a channel of the radar band (DFS).
    """
    names = {box.id: box.name for box in plan.job.boxes}
    names |= {access_point.id: access_point.name for access_point in plan.choice.access_points}
    return table(
        "channels",
        "Channel plan",
        plan.channels.channels,
        (
            (Column("access_point", "Access point", "id"), lambda c: c.access_point),
            (Column("name", "Name", share=1), lambda c: names.get(c.access_point, "")),
            (Column("band_ghz", "Band GHz"), lambda c: c.band.value),
            (Column("channel", "Channel", "whole"), lambda c: c.channel),
            (Column("width_mhz", "Width MHz", "whole"), lambda c: c.width_mhz),
            (Column("centre_channel", "Centre", "whole"), lambda c: c.centre_channel),
            (Column("power_dbm", "EIRP dBm", "number", 1), lambda c: c.power_dbm),
            (Column("dfs", "Radar band"), lambda c: "yes" if c.dfs else "no"),
            (Column("note", "Note", share=2), lambda c: c.note),
        ),
    )


def subnets(plan: Plan) -> Table:
    return table(
        "networks",
        "Separate networks",
        plan.network.subnets,
        (
            (Column("name", "Network"), lambda s: s.name),
            (Column("vlan", "VLAN", "whole"), lambda s: s.vlan),
            (Column("subnet", "Addresses", "id"), lambda s: s.subnet),
            (Column("purpose", "For", share=1), lambda s: s.purpose),
        ),
    )


def addresses(plan: Plan) -> Table:
    """The address sheet: names and addresses, with room for hardware addresses.

    No password stands here: secrets go on their own sheet, filled in by hand.
    """
    return table(
        "addresses",
        "Address sheet",
        plan.network.addresses,
        (
            (Column("name", "Name", "id", share=1), lambda a: a.name),
            (Column("network", "Network"), lambda a: a.network),
            (Column("address", "Address", "id"), lambda a: a.address),
            (Column("hardware", "Hardware address", "blank", share=1), lambda _: ""),
            (Column("note", "Note", share=1.5), lambda a: a.note),
        ),
        note="No password stands here. Secrets go on their own sheet, filled in by hand and sealed.",
    )


def front(plan: Plan) -> Table:
    """What more money buys: the points of the front of cost that no other beats, in its order.

    Cost in the job's currency before margin and tax; the rooms are those that are served.
    """
    return table(
        "choices",
        "What more money buys",
        [point for point in plan.choice.front if not point.beaten],
        (
            (Column("cost", "Cost", "money"), lambda f: f.cost),
            (Column("rooms_served", "Rooms\nserved", "whole"), lambda f: f.rooms_served),
            (Column("sites", "Access points at", "id", share=1), lambda f: " ".join(f.sites) or "none"),
            (Column("rooms", "Rooms", share=2.5), lambda f: words.listed(f.rooms)),
            (Column("chosen", "Chosen"), lambda f: "chosen" if f.chosen else ""),
        ),
        note=BEFORE_MARGIN,
    )


def shortfalls(plan: Plan) -> Table:
    """Needs that are not met, room by room: what it lacks, and the cheapest thing that would mend it.

    None where every need is met. The figures are in files alone.
    """
    return table(
        "shortfalls",
        "Needs that are not met",
        plan.choice.shortfalls,
        (
            (Column("room", "Room", share=1), lambda s: s.name),
            (Column("lacks", "What it lacks", share=2), lambda s: s.says),
            (Column("need_mbps", "Needs Mb/s", "number", on_paper=False), lambda s: s.need_mbps),
            (Column("gets_mbps", "Gets Mb/s", "number", on_paper=False), lambda s: s.gets_mbps),
            (Column("served_pct", "Floor served %", "number", on_paper=False), lambda s: s.served_pct),
            (Column("fix", "Cheapest thing that would fix it", share=2.5), lambda s: s.fix),
            (Column("fix_cost", "Its cost", "money"), lambda s: s.fix_cost),
        ),
    )
