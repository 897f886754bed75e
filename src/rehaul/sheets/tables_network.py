"""Tables of the new network: access points, ports, rack, channels, addresses."""

from __future__ import annotations

from rehaul.design.results import Port
from rehaul.planning import Plan
from rehaul.sheets import words
from rehaul.sheets.table import Column, Table, table
from rehaul.words import figure, say, term

BEFORE_MARGIN = "sheets.before_margin"


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
        say("sheets.access_points"),
        plan.choice.access_points,
        (
            (Column("id", say("heads_house.access_point_two"), "id"), lambda a: a.id),
            (Column("name", say("heads_house.name"), share=1), lambda a: a.name),
            (
                Column("storey", say("heads_house.storey"), share=0.8),
                lambda a: storeys.get(a.site.storey, a.site.storey),
            ),
            (Column("site", say("heads_house.place"), "id"), lambda a: a.site.id),
            (Column("mounting", say("heads_house.mounting")), lambda a: term(a.site.mounting)),
            (Column("run", say("heads_house.over"), "id"), lambda a: words.feed_words(a.site)),
            (Column("wire_mbps", say("heads_house.wire_mbps"), "number"), lambda a: a.site.wire_mbps),
            (Column("chance_pct", say("heads_house.run_works_pct"), "number"), lambda a: 100 * a.site.chance),
            (Column("equipment", say("heads_house.kind"), share=1.2), lambda a: term(a.equipment)),
            (Column("why", say("heads_house.why_here"), share=3), lambda a: a.why),
        ),
    )


def sites(plan: Plan) -> Table:
    """Every place for an access point that was weighed, chosen or not.

    Cost in the job's currency before margin; `cost_90` is what nine of ten stay under.
    """
    chosen = {access_point.site.id for access_point in plan.choice.access_points}
    return table(
        "sites",
        say("sheets.sites"),
        plan.choice.candidates,
        (
            (Column("id", say("heads_house.place"), "id"), lambda s: s.id),
            (Column("name", say("heads_house.room"), share=1), lambda s: s.name),
            (Column("run", say("heads_house.old_run"), "id"), lambda s: s.run),
            (
                Column("new_pull_m", say("heads_house.new_pull_m"), "number", 1),
                lambda s: s.new_pull_m or None,
            ),
            (Column("wire_mbps", say("heads_house.wire_mbps_one"), "number"), lambda s: s.wire_mbps),
            (Column("chance_pct", say("heads_house.works_pct"), "number"), lambda s: 100 * s.chance),
            (Column("cost", say("heads_house.cost"), "money"), lambda s: s.cost),
            (Column("cost_90", say("heads_house.cost_90"), "money"), lambda s: s.cost_90),
            (
                Column("chosen", say("heads_house.chosen")),
                lambda s: say("cells.yes") if s.id in chosen else "",
            ),
            (Column("why", say("heads_house.why"), share=2), lambda s: s.why),
        ),
        note=say(BEFORE_MARGIN),
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
        say("sheets.port_map"),
        plan.network.ports,
        (
            (Column("port", say("heads_house.switch_port"), "whole"), lambda p: p.port),
            (Column("panel_port", say("heads_house.panel_port"), "whole"), lambda p: p.panel_port),
            (Column("run", say("heads_house.cable"), "id"), lambda p: p.run),
            (Column("outlet", say("heads_house.far_end"), "id"), lambda p: p.outlet),
            (Column("device", say("heads_house.hangs_on_it"), share=2), lambda p: device_name(plan, p)),
            (Column("rate_mbps", say("heads_house.mbps"), "number"), lambda p: p.rate_mbps),
            (Column("poe_class", say("heads_house.poe_class"), "whole"), lambda p: p.poe_class or None),
            (Column("poe_w", say("heads_house.poe_w"), "number", 1), lambda p: p.poe_w or None),
            (Column("vlan", say("heads_house.network")), lambda p: p.vlan),
            (Column("cord_m", say("heads_house.cord_m"), "number", 2), lambda p: p.cord_m),
        ),
    )


def rack(plan: Plan) -> Table:
    """The rack from the top down, with what each thing draws [W] and room for its serial number."""
    return table(
        "rack",
        say("sheets.rack"),
        sorted(plan.network.rack, key=lambda item: -item.unit),
        (
            (Column("unit", say("heads_house.rack_unit"), "whole"), lambda r: r.unit),
            (Column("height_u", say("heads_house.height_u"), "whole"), lambda r: r.height_u),
            (Column("name", say("heads_house.name"), share=1), lambda r: term(r.name)),
            (Column("equipment", say("heads_house.kind"), share=1.5), lambda r: term(r.equipment)),
            (Column("draw_w", say("heads_house.draws_w"), "number", 1), lambda r: r.draw_w),
            (Column("serial", say("heads_house.serial"), "blank", share=1), lambda _: ""),
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
        say("sheets.channel_plan"),
        plan.channels.channels,
        (
            (Column("access_point", say("heads_house.access_point"), "id"), lambda c: c.access_point),
            (Column("name", say("heads_house.name"), share=1), lambda c: names.get(c.access_point, "")),
            (Column("band_ghz", say("heads_house.band_ghz")), lambda c: figure(c.band.value)),
            (Column("channel", say("heads_house.channel"), "whole"), lambda c: c.channel),
            (Column("width_mhz", say("heads_house.width_mhz"), "whole"), lambda c: c.width_mhz),
            (Column("centre_channel", say("heads_house.centre"), "whole"), lambda c: c.centre_channel),
            (Column("power_dbm", say("heads_house.eirp_dbm"), "number", 1), lambda c: c.power_dbm),
            (
                Column("dfs", say("heads_house.radar_band")),
                lambda c: say("cells.yes") if c.dfs else say("cells.no"),
            ),
            (Column("note", say("heads_house.note"), share=2), lambda c: c.note),
        ),
    )


def subnets(plan: Plan) -> Table:
    return table(
        "networks",
        say("sheets.networks"),
        plan.network.subnets,
        (
            (Column("name", say("heads_house.network")), lambda s: s.name),
            (Column("vlan", say("heads_house.vlan"), "whole"), lambda s: s.vlan),
            (Column("subnet", say("heads_house.addresses"), "id"), lambda s: s.subnet),
            (Column("purpose", say("heads_house.for"), share=1), lambda s: s.purpose),
        ),
    )


def addresses(plan: Plan) -> Table:
    """The address sheet: names and addresses, with room for hardware addresses.

    No password stands here: secrets go on their own sheet, filled in by hand.
    """
    return table(
        "addresses",
        say("sheets.address_sheet"),
        plan.network.addresses,
        (
            (Column("name", say("heads_house.name"), "id", share=1), lambda a: a.name),
            (Column("network", say("heads_house.network")), lambda a: a.network),
            (Column("address", say("heads_house.address"), "id"), lambda a: a.address),
            (Column("hardware", say("heads_house.hardware"), "blank", share=1), lambda _: ""),
            (Column("note", say("heads_house.note"), share=1.5), lambda a: a.note),
        ),
        note=say("sheets.no_password"),
    )


def front(plan: Plan) -> Table:
    """What more money buys: the points of the front of cost that no other beats, in its order.

    Cost in the job's currency before margin and tax; the rooms are those that are served.
    """
    return table(
        "choices",
        say("sheets.front"),
        [point for point in plan.choice.front if not point.beaten],
        (
            (Column("cost", say("heads_house.cost"), "money"), lambda f: f.cost),
            (Column("rooms_served", say("heads_house.rooms_served"), "whole"), lambda f: f.rooms_served),
            (
                Column("sites", say("heads_house.sites"), "id", share=1),
                lambda f: " ".join(f.sites) or say("cells.no_site"),
            ),
            (Column("rooms", say("heads_house.rooms"), share=2.5), lambda f: words.listed(f.rooms)),
            (
                Column("chosen", say("heads_house.chosen")),
                lambda f: say("cells.chosen_choice") if f.chosen else "",
            ),
        ),
        note=say(BEFORE_MARGIN),
    )


def shortfalls(plan: Plan) -> Table:
    """Needs that are not met, room by room: what it lacks, and the cheapest thing that would mend it.

    None where every need is met. The figures are in files alone.
    """
    return table(
        "shortfalls",
        say("sheets.shortfalls"),
        plan.choice.shortfalls,
        (
            (Column("room", say("heads_house.room"), share=1), lambda s: s.name),
            (Column("lacks", say("heads_house.lacks"), share=2), lambda s: s.says),
            (
                Column("need_mbps", say("heads_house.needs_mbps_one"), "number", on_paper=False),
                lambda s: s.need_mbps,
            ),
            (
                Column("gets_mbps", say("heads_house.gets_mbps"), "number", on_paper=False),
                lambda s: s.gets_mbps,
            ),
            (
                Column("served_pct", say("heads_house.floor_served_pct_one"), "number", on_paper=False),
                lambda s: s.served_pct,
            ),
            (Column("fix", say("heads_house.fix"), share=2.5), lambda s: s.fix),
            (Column("fix_cost", say("heads_house.fix_cost"), "money"), lambda s: s.fix_cost),
        ),
    )
