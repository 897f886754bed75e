"""The house and the job of the sample plan."""

from __future__ import annotations

from functools import cache

from rehaul.house import (
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

WIDTH_M, DEPTH_M = 9.6, 7.2
STOREYS = (("B", "Lower floor", -2.5, 2.2), ("G", "Ground floor", 0.0, 2.6), ("U", "Upper floor", 2.9, 2.5))
ROOMS = {
    "B": (("Workshop", 0.0, 0.0, 5.2, 7.2), ("Store", 5.2, 0.0, 4.4, 7.2)),
    "G": (
        ("Living room", 0.0, 0.0, 5.2, 7.2),
        ("Kitchen", 5.2, 3.4, 4.4, 3.8),
        ("Hall", 5.2, 0.0, 4.4, 3.4),
    ),
    "U": (
        ("Main bedroom", 0.0, 0.0, 5.2, 3.6),
        ("Sewing room", 0.0, 3.6, 5.2, 3.6),
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
        service=Service(down_mbps=320, up_mbps=160, medium="fibre", modem="X1"),
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
                id="q1", quantity=Quantity.DOWN_MBPS, value=38, room="rU1", device="D1", repeats=3, spread=6
            ),
            Reading(
                id="q2", quantity=Quantity.DOWN_MBPS, value=306, room="rB1", device="D1", repeats=3, spread=9
            ),
        ),
        gate=Gate(lead_paint=True, asbestos=None, knob_and_tube=False, asked_about_alarms=True),
        contacts=Contacts(
            household="Invented household", technician="T. Example", firm="Example Low Voltage"
        ),
    )
    require_whole(result)
    return result
