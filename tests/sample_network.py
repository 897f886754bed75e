"""Where the sample plan puts access points, their channels, and the boxes behind them."""

from __future__ import annotations

from rehaul.design.results import (
    AccessPoint,
    Address,
    Channel,
    ChannelPlan,
    Choice,
    FrontPoint,
    Network,
    Port,
    RackItem,
    RoomShortfall,
    Site,
    Subnet,
)
from rehaul.house import (
    Band,
)
from sample_house import house


def _site(name: str, room: str, storey: str, run: str, pull_m: float, cost: float, chance: float) -> Site:
    outlet = next((o for o in house().outlets if o.id == name), None)
    position = outlet.position if outlet and outlet.position else (7.2, 3.1)
    return Site(
        id=name,
        name=room,
        storey=storey,
        position=position,
        height_m=0.3 if outlet else 2.4,
        mounting="wall" if outlet else "ceiling",
        run=run,
        new_pull_m=pull_m,
        wire_mbps=1000,
        poe_class=3,
        cost=cost,
        cost_90=cost * 1.6,
        chance=chance,
        route=()
        if run
        else ((5.5, 6.8, -1.3), (5.5, 6.8, 2.7), (5.5, 3.1, 2.7), (7.2, 3.1, 2.7), (7.2, 3.1, 2.4)),
    )


SITES = (
    _site("U-01", "Sewing room", "U", "C01", 0.0, 74.0, 0.97),
    _site("G-02", "Living room", "G", "C03", 0.0, 74.0, 0.97),
    _site("N1", "Hall", "G", "", 14.0, 310.0, 0.9),
    _site("U-02", "Main bedroom", "U", "C05", 0.0, 74.0, 0.97),
)
ACCESS_POINTS = tuple(
    AccessPoint(
        id=f"AP{i + 1}",
        name=site.name,
        site=site,
        equipment="access point HE 2x2",
        why=f"Serves {site.name} over a wire that is already in the wall"
        if site.run
        else "No old run comes near",
    )
    for i, site in enumerate(SITES[:3])
)


def choice() -> Choice:
    return Choice(
        access_points=ACCESS_POINTS,
        candidates=SITES,
        cost=818.0,
        bound=818.0,
        gap_pct=0.0,
        proven=True,
        front=tuple(
            FrontPoint(
                cost=cost,
                rooms_served=served,
                rooms=tuple(r.name for r in house().rooms if r.lived_in)[:served],
                sites=tuple(s.id for s in SITES[: i + 1]),
                equipment=("access point HE 2x2",) * (i + 1),
                chosen=i == 2,
            )
            for i, (cost, served) in enumerate(((194.0, 3), (388.0, 5), (818.0, 6)))
        ),
        shortfalls=(
            RoomShortfall(
                room="rB0",
                name="Workshop",
                need_mbps=100,
                gets_mbps=62,
                served_pct=48,
                fix="A wired place at B-01 over a new pull of 5 m",
                fix_cost=128.0,
            ),
        ),
        what_one_more_buys="One more wired place, in the Main bedroom, serves no further room.",
    )


def channels() -> ChannelPlan:
    rows = ((1, 36, 42), (6, 149, 155), (11, 36, 42))
    return ChannelPlan(
        channels=tuple(
            channel
            for ap, (low, high, centre) in zip(ACCESS_POINTS, rows, strict=True)
            for channel in (
                Channel(
                    access_point=ap.id,
                    band=Band.GHZ_2_4,
                    channel=low,
                    centre_channel=low,
                    width_mhz=20,
                    power_dbm=14,
                ),
                Channel(
                    access_point=ap.id,
                    band=Band.GHZ_5,
                    channel=high,
                    centre_channel=centre,
                    width_mhz=80,
                    power_dbm=20,
                ),
            )
        ),
        overlaps=("AP1 and AP3 share 5 GHz channel 36; two walls and a floor stand between them.",),
        proven=True,
        things_channel=25,
    )


def network() -> Network:
    used = tuple(
        Port(
            port=i + 1,
            device=f"{ap.id} {ap.name}",
            outlet=ap.site.id,
            run=ap.site.run or "P01",
            panel_port=i + 1,
            rate_mbps=1000,
            poe_class=3,
            poe_w=12.0,
            vlan="house",
        )
        for i, ap in enumerate(ACCESS_POINTS)
    )
    others = (
        Port(
            port=4, device="Outlet U-02, Main bedroom", outlet="U-02", run="C05", panel_port=4, rate_mbps=1000
        ),
        Port(port=8, device="Router of the provider", rate_mbps=1000, cord_m=1.0),
    )
    return Network(
        switch="8-port PoE switch 60 W",
        ports=used + others,
        spare_ports=3,
        poe_budget_w=60,
        poe_used_w=36,
        rack=(
            RackItem(
                unit=6, height_u=1, name="Patch panel", kind="panel", equipment="patch panel 12", draw_w=0
            ),
            RackItem(
                unit=5,
                height_u=1,
                name="Switch",
                kind="switch",
                equipment="8-port PoE switch 60 W",
                draw_w=51,
            ),
            RackItem(unit=4, height_u=1, name="Router", equipment="router shelf", draw_w=12),
            RackItem(unit=1, height_u=2, name="UPS", kind="battery", equipment="UPS 12 V 9 Ah", draw_w=4),
        ),
        rack_units=6,
        draw_w=67,
        core_draw_w=31,
        ups="12 V 9 Ah",
        ups_minutes_all=58,
        ups_minutes_core=126,
        temperature_rise_c=2.2,
        heat_note="An open wall gives off 67 W with ease.",
        subnets=(
            Subnet(name="house", vlan=10, subnet="192.168.10.0/24", purpose="Family devices"),
            Subnet(name="things", vlan=20, subnet="192.168.20.0/24", purpose="Sensors, locks, cameras"),
            Subnet(name="guests", vlan=30, subnet="192.168.30.0/24", purpose="Visitors"),
        ),
        addresses=(
            Address(name="router", network="house", address="192.168.10.1"),
            Address(name="switch", network="house", address="192.168.10.2"),
            *(
                Address(
                    name=ap.name.lower().replace(" ", "-"), network="house", address=f"192.168.10.{11 + i}"
                )
                for i, ap in enumerate(ACCESS_POINTS)
            ),
        ),
        notes=(
            "One router only: set the provider's box to bridge, or two address translations stand in a row.",
        ),
    )
