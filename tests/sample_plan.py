"""An invented plan with one of everything a paper may have to show, made without the engine.

The numbers are plausible, not computed: papers are tested for showing what a plan says.
"""

from __future__ import annotations

import math
from functools import cache

import numpy as np

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
    Body,
    BodyKind,
    Box,
    CableKind,
    Contacts,
    Device,
    Estimate,
    Gate,
    Grade,
    House,
    Job,
    MeetingKind,
    MeetingPoint,
    Need,
    Obligation,
    ObligationKind,
    ObligationState,
    Opening,
    OpeningKind,
    Outlet,
    OutletKind,
    Quantity,
    Reading,
    Room,
    Run,
    RunState,
    RunTest,
    Service,
    SignOff,
    Slab,
    Storey,
    Topology,
    Wall,
    WireMap,
    require_whole,
)
from rehaul.plan import OpenQuestion, Plan
from rehaul.predict.results import (
    Coverage,
    EthernetVerdict,
    LinkRate,
    PowerVerdict,
    RoomRate,
    RunVerdict,
    StoreyMap,
)
from rehaul.takeoff.results import (
    CutLine,
    LabourLine,
    PartLine,
    Quote,
    QuoteOption,
    Takeoff,
    Task,
    ToolLine,
)

WIDTH_M, DEPTH_M = 9.6, 7.2
STOREYS = (("B", "Basement", -2.5, 2.2), ("G", "Ground floor", 0.0, 2.6), ("U", "Upper floor", 2.9, 2.5))
ROOMS = {
    "B": (("Workshop", 0.0, 0.0, 5.2, 7.2), ("Store", 5.2, 0.0, 4.4, 7.2)),
    "G": (
        ("Living room", 0.0, 0.0, 5.2, 7.2),
        ("Kitchen", 5.2, 3.4, 4.4, 3.8),
        ("Hall", 5.2, 0.0, 4.4, 3.4),
    ),
    "U": (
        ("Main bedroom", 0.0, 0.0, 5.2, 3.6),
        ("Study", 0.0, 3.6, 5.2, 3.6),
        ("Bathroom", 5.2, 3.4, 4.4, 3.8),
        ("Child's room", 5.2, 0.0, 4.4, 3.4),
    ),
}


@cache
def house() -> House:
    rooms, walls, openings = [], [], []
    for storey, *_ in STOREYS:
        corners = [(0.0, 0.0), (WIDTH_M, 0.0), (WIDTH_M, DEPTH_M), (0.0, DEPTH_M)]
        outside = "concrete-thick" if storey == "B" else "brick-cavity"
        for side, (start, end) in enumerate(zip(corners, corners[1:] + corners[:1], strict=True)):
            name = f"w{storey}{side}"
            walls.append(Wall(id=name, storey=storey, start=start, end=end, construction=outside))
            if storey != "B":
                openings.append(
                    Opening(
                        id=f"o{storey}{side}",
                        wall=name,
                        kind=OpeningKind.WINDOW,
                        offset_m=1.4,
                        width_m=1.4,
                        height_m=1.2,
                        sill_m=0.9,
                    )
                )
        walls.append(
            Wall(
                id=f"w{storey}4",
                storey=storey,
                start=(5.2, 0.0),
                end=(5.2, DEPTH_M),
                construction="stone" if storey == "B" else "brick-half",
            )
        )
        openings.append(
            Opening(id=f"o{storey}4", wall=f"w{storey}4", kind=OpeningKind.DOOR, offset_m=2.2, width_m=0.82)
        )
        if storey != "B":
            walls.append(
                Wall(
                    id=f"w{storey}5",
                    storey=storey,
                    start=(5.2, 3.4),
                    end=(WIDTH_M, 3.4),
                    construction="stud-plasterboard",
                )
            )
            openings.append(
                Opening(
                    id=f"o{storey}5", wall=f"w{storey}5", kind=OpeningKind.DOOR, offset_m=0.6, width_m=0.76
                )
            )
        if storey == "U":
            walls.append(Wall(id="wU6", storey="U", start=(0.0, 3.6), end=(5.2, 3.6), construction="unknown"))
            openings.append(Opening(id="oU6", wall="wU6", kind=OpeningKind.GAP, offset_m=3.9, width_m=0.8))
        for index, (name, x, y, width, depth) in enumerate(ROOMS[storey]):
            rooms.append(
                Room(
                    id=f"r{storey}{index}",
                    name=name,
                    storey=storey,
                    polygon=((x, y), (x + width, y), (x + width, y + depth), (x, y + depth)),
                    lived_in=name not in {"Store", "Hall"},
                )
            )
    return House(
        name="House with the blue door",
        built_year=1934,
        tenure="owned",
        storeys=tuple(
            Storey(id=i, name=n, elevation_m=z, height_m=h, floor=Slab(construction="timber-floor"))
            for i, n, z, h in STOREYS
        ),
        rooms=tuple(rooms),
        walls=tuple(walls),
        openings=tuple(openings),
        bodies=(
            Body(
                id="fr1",
                storey="G",
                kind=BodyKind.FRIDGE,
                corner=(8.7, 6.2),
                width_m=0.6,
                depth_m=0.65,
                height_m=1.8,
            ),
        ),
        outlets=(
            Outlet(id="B-01", storey="B", kind=OutletKind.TELEPHONE, position=(4.9, 6.9), room="rB0"),
            Outlet(id="G-01", storey="G", kind=OutletKind.TELEPHONE, position=(0.2, 1.0), room="rG0"),
            Outlet(id="G-02", storey="G", kind=OutletKind.TELEPHONE, position=(5.05, 5.9), room="rG0"),
            Outlet(id="G-03", storey="G", kind=OutletKind.COAX, position=(0.2, 6.6), room="rG0"),
            Outlet(id="G-04", storey="G", kind=OutletKind.TELEPHONE, position=(9.4, 5.0), room="rG1"),
            Outlet(id="U-01", storey="U", kind=OutletKind.DATA, position=(0.2, 5.4), room="rU1"),
            Outlet(id="U-02", storey="U", kind=OutletKind.TELEPHONE, position=(0.2, 1.2), room="rU0"),
            Outlet(id="U-03", storey="U", kind=OutletKind.TELEPHONE, position=(9.4, 1.7), room="rU3"),
            Outlet(id="U-04", storey="U", kind=OutletKind.UNKNOWN, note="On the 1996 list; never found"),
        ),
        meeting_points=(
            MeetingPoint(
                id="M1",
                name="Cellar board",
                storey="B",
                position=(5.5, 6.8),
                kind=MeetingKind.CLOSET,
                enclosure="open wall",
                power_sockets=2,
            ),
        ),
        runs=(
            _run("C01", ("M1", "U-01"), CableKind.CAT5E, 4, 17.0, Topology.HOME_RUN, RunState.DEAD),
            _run(
                "C02", ("M1", "G-01", "G-04"), CableKind.QUAD, 2, 24.0, Topology.DAISY_CHAIN, RunState.ALARM
            ),
            _run("C03", ("M1", "G-02"), CableKind.CAT5E, 4, 9.0, Topology.HOME_RUN, RunState.DEAD),
            _run("C04", ("M1", "U-03"), CableKind.CAT5, 4, 15.0, Topology.HOME_RUN, RunState.DAMAGED),
            _run("C05", ("M1", "U-02"), CableKind.CAT5E, 4, 16.0, Topology.HOME_RUN, RunState.DEAD),
            _run("C06", ("M1", "G-03"), CableKind.COAX, None, 12.0, Topology.UNKNOWN, RunState.UNKNOWN),
            _run("C07", ("M1", "B-01"), CableKind.CAT3, 3, 4.0, Topology.HOME_RUN, RunState.LIVE_TELEPHONE),
            _run("C08", ("M1", "unknown"), CableKind.CAT5E, 4, 14.0, Topology.UNKNOWN, RunState.UNKNOWN),
        ),
    )


def _run(
    name: str,
    ends: tuple[str, ...],
    kind: CableKind,
    pairs: int | None,
    length_m: float,
    topology: Topology,
    state: RunState,
) -> Run:
    measured = kind is CableKind.CAT5E and "unknown" not in ends
    route = ((5.5, 6.8, -1.3), (5.5, 6.8, 3.2), (5.0, 6.95, 3.2), (0.2, 6.95, 3.2), (0.2, 5.4, 3.2))
    return Run(
        id=name,
        ends=ends,
        kind=kind,
        pairs=pairs,
        gauge_awg=24,
        sheath_print="4PR 24AWG VERIFIED" if measured else "",
        length_m=Estimate(
            middle=length_m,
            low=length_m * (0.97 if measured else 0.8),
            high=length_m * (1.03 if measured else 1.3),
            grade=Grade.MEASURED if measured else Grade.INFERRED,
        ),
        topology=topology,
        state=state,
        route=route if name == "C01" else (),
        tests=(RunTest(wire_map=WireMap.GOOD, link_mbps=1000, errors=0, soak_s=600, loop_ohm=3.1),)
        if measured
        else (RunTest(wire_map=WireMap.OPEN),)
        if state is RunState.DAMAGED
        else (),
        traced=Grade.MEASURED if measured else Grade.INFERRED,
    )


@cache
def job() -> Job:
    result = Job(
        id="sample-1",
        title="House with the blue door",
        invented=True,
        country="GB",
        currency="EUR",
        date="2026-03-02",
        house=house(),
        boxes=(
            Box(
                id="X1",
                name="Router of the provider",
                equipment="router HE 2x2",
                storey="B",
                position=(6.1, 6.8),
            ),
        ),
        service=Service(down_mbps=500, up_mbps=50, medium="cable", modem="X1"),
        devices=(Device(id="D1", name="Telephone A", client="phone HE 2x2"),),
        needs=tuple(
            Need(id=f"n{room.id}", room=room.id, uses=("stream 4K",), down_mbps=60 if i % 2 else 100)
            for i, room in enumerate(house().rooms)
            if room.lived_in
        ),
        obligations=(
            Obligation(
                id="O1",
                kind=ObligationKind.MONITORED_ALARM,
                run="C02",
                state=ObligationState.IN_USE,
                who="Alarm receiving centre, account on the panel's lid",
            ),
            Obligation(
                id="O2",
                kind=ObligationKind.TELEPHONE,
                run="C07",
                state=ObligationState.RELEASED,
                sign_off=SignOff(
                    by="The household", date="2026-02-20", words="No telephone is used any more"
                ),
            ),
        ),
        readings=(
            Reading(
                id="q1", quantity=Quantity.DOWN_MBPS, value=41, room="rU1", device="D1", repeats=3, spread=6
            ),
            Reading(
                id="q2", quantity=Quantity.DOWN_MBPS, value=480, room="rB1", device="D1", repeats=3, spread=9
            ),
        ),
        gate=Gate(lead_paint=True, asbestos=None, knob_and_tube=False, asked_about_alarms=True),
        contacts=Contacts(
            household="Invented household", technician="T. Example", firm="Example Low Voltage"
        ),
    )
    require_whole(result)
    return result


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
    _site("U-01", "Study", "U", "C01", 0.0, 74.0, 0.97),
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


def _coverage(sources: tuple[tuple[str, str, float, float, float], ...], ceiling_mbps: float) -> Coverage:
    step_m = 0.3
    xs, ys = np.arange(-0.15, WIDTH_M + 0.3, step_m), np.arange(-0.15, DEPTH_M + 0.3, step_m)
    grid_x, grid_y = np.meshgrid(xs, ys)
    maps, rates = [], {}
    for storey in house().storeys:
        z = storey.elevation_m + 1.2
        powers = []
        for _, _, x, y, source_z in sources:
            distance = np.sqrt((grid_x - x) ** 2 + (grid_y - y) ** 2 + (source_z - z) ** 2)
            walls = 11.0 * ((grid_x - 5.2) * (x - 5.2) < 0) + 9.0 * ((grid_y - 3.4) * (y - 3.4) < 0)
            floors = 17.0 * round(abs(source_z - z) / 2.8)
            powers.append(23 - 47 - 20 * np.log10(np.maximum(distance, 0.5)) - walls - floors)
        power = np.stack(powers)
        best = power.max(axis=0)
        rate = np.clip(ceiling_mbps / (1 + np.exp(-(best + 62) / 7)), 0.5, ceiling_mbps)
        outside = (grid_x < -0.15) | (grid_x > WIDTH_M + 0.15) | (grid_y > DEPTH_M + 0.15)
        rate = np.where(outside, np.nan, rate).astype(np.float32)
        maps.append(
            StoreyMap(
                storey=storey,
                x0_m=float(xs[0]),
                y0_m=float(ys[0]),
                step_m=step_m,
                z_m=z,
                rate_mbps=rate,
                low_mbps=rate * np.float32(0.6),
                high_mbps=np.minimum(rate * np.float32(1.4), np.float32(ceiling_mbps)),
                power_dbm=np.stack([best - 0.0, best - 6.0]).astype(np.float32),
                power_sd_db=np.full((2, *rate.shape), 5.0, np.float32),
                source_index=power.argmax(axis=0).astype(np.int16),
                band_index=np.ones(rate.shape, np.int8),
            )
        )
        rates[storey.id] = (rate, power)
    return Coverage(
        sources=tuple(s[0] for s in sources),
        source_names=tuple(s[1] for s in sources),
        bands=(Band.GHZ_2_4, Band.GHZ_5),
        maps=tuple(maps),
        rooms=tuple(
            _room_rate(room, rates[room.storey], (xs, ys), sources, ceiling_mbps) for room in house().rooms
        ),
    )


def _room_rate(room: Room, field: tuple, axes: tuple, sources: tuple, ceiling_mbps: float) -> RoomRate:  # type: ignore[type-arg]
    (rate, power), (xs, ys) = field, axes
    (x0, y0), (x1, y1) = room.polygon[0], room.polygon[2]
    inside = np.ix_((ys > y0) & (ys < y1), (xs > x0) & (xs < x1))
    median = float(np.nanmedian(rate[inside]))
    need = next((n.down_mbps or 0.0 for n in job().needs if n.room == room.id), 0.0)
    served = float(np.mean(rate[inside] * 0.7 >= need)) * 100
    source = int(power[(slice(None), *inside)].mean(axis=(1, 2)).argmax())
    at_plan = median > 0.95 * ceiling_mbps
    air = f"air 5 GHz from {sources[source][1]}"
    return RoomRate(
        room=room.id,
        name=room.name,
        storey=room.storey,
        need_mbps=need,
        asked=0.9,
        served_pct=round(served, 1),
        met=served >= 90,
        low_mbps=median * 0.6,
        median_mbps=median,
        high_mbps=min(median * 1.4, ceiling_mbps),
        power_dbm=float(power[(source, *inside)].mean()),
        source=sources[source][0],
        source_name=sources[source][1],
        band=Band.GHZ_5,
        narrowest="plan" if at_plan else air,
        links=(LinkRate(name="plan", rate_mbps=500), LinkRate(name=air, rate_mbps=median)),
    )


def _verdict(run: Run) -> RunVerdict:
    good = run.kind is CableKind.CAT5E and run.state is not RunState.DAMAGED
    middle = run.length_m.middle if run.length_m else 15.0
    grade = Grade.MEASURED if good else Grade.INFERRED
    return RunVerdict(
        run=run.id,
        ends=run.ends,
        length_low_m=run.length_m.low if run.length_m else middle,
        length_m=middle,
        length_high_m=run.length_m.high if run.length_m else middle,
        ethernet=(
            EthernetVerdict(
                ethernet="100BASE-TX",
                rate_mbps=100,
                band="likely" if good else "try it",
                chance=0.99 if good else 0.4,
                reason="Two pairs are whole",
                grade=grade,
            ),
            EthernetVerdict(
                ethernet="1000BASE-T",
                rate_mbps=1000,
                band="likely" if good else "no",
                chance=0.97 if good else 0.02,
                reason="Four pairs in one straight run" if good else "A chain with open branches",
                grade=grade,
                lift="" if good else "Pull new cable",
            ),
        ),
        power=(
            PowerVerdict(
                poe_class=3,
                band="likely" if good else "no",
                voltage_at_device_v=50.1 if good else 0.0,
                device_w=13.0,
                reason="Short and thick enough",
                grade=grade,
            ),
        ),
        likely_mbps=1000 if good else 0,
        hoped_mbps=1000 if good else 100,
        poe_class=3 if good else 0,
        usable=good and "unknown" not in run.ends,
        held_by=("O1",) if run.id == "C02" else (),
        sentence="Gigabit, measured over a 10 min full-load soak; not certified."
        if good
        else "Leave it: an alarm hangs on it until O1 is signed off."
        if run.id == "C02"
        else "Not for the network; keep as found and tag both ends.",
    )


@cache
def plan() -> Plan:
    before = _coverage((("X1", "Store", 6.1, 6.8, -1.5),), 500)
    after = _coverage(
        tuple(
            (ap.id, ap.name, *ap.site.position, math.fsum((_elevation(ap.site.storey), ap.site.height_m)))
            for ap in ACCESS_POINTS
        ),
        500,
    )
    return Plan(
        job=job(),
        cabling=tuple(_verdict(run) for run in house().runs),
        before=before,
        choice=_choice(),
        after=after,
        channels=_channels(),
        network=_network(),
        takeoff=_takeoff(),
        order=_order(),
        open_questions=(
            OpenQuestion(
                about=("C08",),
                question="Where does cable C08 come out?",
                guess="Behind fitted furniture on the upper floor",
                costs="One more wired place, perhaps",
                settle="Tone C08 from the cellar board with the wardrobe moved; 10 minutes",
            ),
            OpenQuestion(
                about=("wU6",),
                question="What is the wall between Study and Main bedroom made of?",
                guess="Studs and plasterboard",
                costs="Up to 40 Mb/s in the Main bedroom",
                settle="Read Mb/s on both sides of the wall, door shut; 5 minutes",
            ),
        ),
    )


def _elevation(storey: str) -> float:
    return next(s.elevation_m for s in house().storeys if s.id == storey)


def _choice() -> Choice:
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


def _channels() -> ChannelPlan:
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


def _network() -> Network:
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
            RackItem(unit=6, height_u=1, name="Patch panel", equipment="patch panel 12", draw_w=0),
            RackItem(unit=5, height_u=1, name="Switch", equipment="8-port PoE switch 60 W", draw_w=51),
            RackItem(unit=4, height_u=1, name="Router", equipment="router shelf", draw_w=12),
            RackItem(unit=1, height_u=2, name="UPS", equipment="UPS 12 V 9 Ah", draw_w=4),
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


def _takeoff() -> Takeoff:
    options = (("Only what is needed", 2, 5, 760.0), ("Better", 3, 6, 1290.0), ("Good", 4, 6, 1540.0))
    return Takeoff(
        parts=(
            PartLine(
                item="ap-he-2x2",
                name="Access point, two streams",
                unit="each",
                need=3,
                spare=0,
                quantity=3,
                unit_price=120,
                price=360,
                because=("AP1", "AP2", "AP3"),
            ),
            PartLine(
                item="jack-cat6",
                name="Jack, category 6",
                unit="each",
                need=9,
                spare=1,
                quantity=10,
                unit_price=4.2,
                price=42,
                because=("C01", "C03", "C05", "P01"),
            ),
            PartLine(
                item="cable-cat6",
                name="Cable, category 6, solid copper",
                unit="m",
                need=17.3,
                spare=0.9,
                quantity=25,
                unit_price=0.6,
                price=15,
                because=("P01",),
                note="5 % waste",
            ),
        ),
        cuts=(
            CutLine(
                id="P01", kind="cable", from_place="M1", to_place="N1 Hall", length_m=17.3, because=("N1",)
            ),
            CutLine(
                id="K1",
                kind="patch cord",
                from_place="panel 1",
                to_place="port 1",
                length_m=0.5,
                because=("AP1",),
            ),
        ),
        tools=(
            ToolLine(name="Tone set", for_what="Finding the far end of C08", because=("C08",)),
            ToolLine(name="Rod set, 10 m", for_what="The new pull to the Hall", because=("P01",)),
        ),
        labour=(
            LabourLine(
                task="Terminate a jack",
                norm="jack",
                visit=1,
                count=9,
                minutes=72,
                minutes_90=96,
                because=("C01", "C03"),
            ),
            LabourLine(
                task="Pull a new run",
                norm="fish_easy",
                visit=1,
                count=1,
                minutes=60,
                minutes_90=180,
                because=("P01",),
            ),
        ),
        quote=Quote(
            currency="EUR",
            parts=620,
            labour=410,
            margin=260,
            tax=0,
            total=1290,
            total_90=1610,
            options=tuple(
                QuoteOption(
                    name=name,
                    access_points=count,
                    rooms_served=rooms,
                    rooms_total=7,
                    parts=total * 0.48,
                    labour=total * 0.32,
                    margin=total * 0.2,
                    tax=0,
                    total=total,
                    total_90=total * 1.25,
                    chosen=name == "Better",
                    words="Every room in which people live, but for the Workshop." if count == 3 else "",
                )
                for name, count, rooms, total in options
            ),
            included=("Three wired access points, set up and tested", "Labels on both ends of every cable"),
            excluded=("Making good of plaster and paint", "Work by an electrician"),
            assumptions=("The floor void above the Hall is open",),
            unknowns=("Cable C08 is not priced until its far end is found.",),
            deposit=320,
        ),
    )


def _order() -> tuple[Task, ...]:
    return (
        Task(
            id="T01",
            title="Ask about alarms, pendants, lift and entry phone; sign the list",
            stage="gate",
            visit=1,
            place="Front door",
            minutes=15,
            start_min=0,
            person=1,
            cautions=("Built before 1978: treat paint as lead until tested; keep to the local rule.",),
        ),
        Task(
            id="T02",
            title="Photograph the cellar board before anything is disconnected",
            stage="trace",
            visit=1,
            place="Basement",
            minutes=10,
            minutes_90=15,
            needs=("T01",),
            start_min=15,
            person=1,
            photo=True,
            because=("M1",),
            cautions=(
                "Idle lines carry 50 to 60 V dc and about 90 V ac while ringing: do not touch bare pairs.",
            ),
        ),
        Task(
            id="T03",
            title="Break the chain C02 at G-01",
            stage="terminate",
            visit=1,
            place="Living room",
            minutes=20,
            minutes_90=35,
            needs=("T02",),
            because=("C02", "G-01"),
            held="O1: a monitored alarm depends on C02 and nobody has signed that it may go",
            cautions=("Cutting an alarm line calls somebody out, or leaves nobody called.",),
        ),
        Task(
            id="T04",
            title="Pull P01 from the cellar board to the Hall ceiling",
            stage="run",
            visit=1,
            place="Hall",
            minutes=60,
            minutes_90=180,
            needs=("T02",),
            start_min=25,
            person=2,
            tools=("Rod set, 10 m",),
            because=("P01", "N1"),
            cautions=(
                "Ladder one out for four up, footed.",
                "Find mains before drilling; seal every hole through a plate with fire-stop.",
            ),
        ),
        Task(
            id="T05",
            title="Terminate and label C01, C03, C05 and P01, T568B throughout",
            stage="terminate",
            visit=1,
            place="Basement",
            minutes=72,
            minutes_90=96,
            needs=("T04",),
            start_min=85,
            person=1,
            tools=("Punch-down tool",),
        ),
        Task(
            id="T06",
            title="Repeat the before readings: same places, device, hours and doors",
            stage="prove",
            visit=2,
            place="Every room",
            minutes=45,
            minutes_90=60,
            needs=("T05",),
            start_min=0,
            person=1,
        ),
    )
