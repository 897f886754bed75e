"""A small job and its finished plan as data, sound in every rule of the auditor, written by hand.

Closet on the ground floor; an access point in the study over an old cable (C01), one in the living room over
the old coax with an adapter at both ends (C02), a wired outlet in the bedroom over a new cable (NC1). The
hall is met today, the kitchen stays short. C03 carries an alarm, the far end of C04 was never found, C05 is
an old chain that stays in the wall.
"""

from __future__ import annotations

import copy
from collections import Counter
from typing import Any

from rehaul.facts.work import allowances, labour
from rehaul.house import (
    Box,
    CableKind,
    Choices,
    Device,
    Gate,
    House,
    Job,
    MeetingPoint,
    Need,
    Obligation,
    ObligationKind,
    Opening,
    OpeningKind,
    Outlet,
    Room,
    Run,
    RunState,
    Service,
    Splitter,
    Storey,
    Wall,
    require_whole,
)

Data = dict[str, Any]
ROOMS = (
    ("rG0", "Hall", "G", 0.0, 0.0, 3.0, 6.0),
    ("rG1", "Living room", "G", 3.0, 0.0, 9.0, 4.0),
    ("rG2", "Kitchen", "G", 3.0, 4.0, 9.0, 6.0),
    ("rU0", "Library", "U", 0.0, 0.0, 4.0, 6.0),
    ("rU1", "Bedroom", "U", 4.0, 0.0, 9.0, 4.0),
    ("rU2", "Bathroom", "U", 4.0, 4.0, 9.0, 6.0),
)
NEEDS = {"rG0": 50.0, "rG1": 100.0, "rG2": 200.0, "rU0": 100.0, "rU1": 25.0}
NAMES = {room: name for room, name, *_ in ROOMS}
STOREYS = {room: storey for room, _, storey, *_ in ROOMS}


def sample_job() -> Job:
    walls = []
    for storey in ("G", "U"):
        corners = [(0.0, 0.0), (9.0, 0.0), (9.0, 6.0), (0.0, 6.0)]
        walls += [
            Wall(id=f"w{storey}{side}", storey=storey, start=start, end=end)
            for side, (start, end) in enumerate(zip(corners, corners[1:] + corners[:1], strict=True))
        ]
        x = 3.0 if storey == "G" else 4.0
        walls.append(Wall(id=f"w{storey}4", storey=storey, start=(x, 0.0), end=(x, 6.0)))
        walls.append(Wall(id=f"w{storey}5", storey=storey, start=(x, 4.0), end=(9.0, 4.0)))
    house = House(
        tenure="owned",
        storeys=(
            Storey(id="G", name="Ground floor", elevation_m=0.0, height_m=2.5, ceiling="hollow"),
            Storey(id="U", name="Upper floor", elevation_m=2.8, height_m=2.4, ceiling="hollow"),
        ),
        rooms=tuple(
            Room(
                id=room,
                name=name,
                storey=storey,
                polygon=((x0, y0), (x1, y0), (x1, y1), (x0, y1)),
                bathroom=name == "Bathroom",
            )
            for room, name, storey, x0, y0, x1, y1 in ROOMS
        ),
        walls=tuple(walls),
        openings=(
            Opening(id="oU3", wall="wU3", kind=OpeningKind.WINDOW, offset_m=0.5, width_m=1.2, sill_m=0.9),
            Opening(id="oG1", wall="wG1", kind=OpeningKind.DOOR, offset_m=2.5, width_m=0.9),
        ),
        outlets=(
            Outlet(id="U-01", storey="U", position=(0.1, 3.0), room="rU0"),
            Outlet(id="G-01", storey="G", position=(8.9, 1.0), room="rG1", mains=True),
            Outlet(id="G-03", storey="G", position=(0.1, 4.0), room="rG0"),
            Outlet(id="G-04", storey="G", position=(8.0, 5.9), room="rG2"),
            Outlet(id="U-03", storey="U", position=(8.9, 3.0), room="rU1"),
            Outlet(id="U-09", storey="U", room="rU0"),
        ),
        meeting_points=(MeetingPoint(id="MP1", name="Closet", storey="G", position=(0.3, 0.3)),),
        splitters=(
            Splitter(
                id="SP1", name="Splitter in the closet", storey="G", position=(0.3, 0.4), passes_mhz=1675.0
            ),
        ),
        runs=(
            Run(id="C01", ends=("MP1", "U-01"), kind=CableKind.CAT5E, pairs=4, state=RunState.DEAD),
            Run(id="C02", ends=("MP1", "SP1", "G-01"), kind=CableKind.COAX, state=RunState.DEAD),
            Run(id="C03", ends=("MP1", "G-03"), kind=CableKind.QUAD, state=RunState.ALARM),
            Run(id="C04", ends=("MP1", "unknown"), kind=CableKind.UNKNOWN),
            Run(id="C05", ends=("MP1", "G-04", "U-03"), kind=CableKind.QUAD, state=RunState.DEAD),
        ),
    )
    job = Job(
        id="sample",
        title="Sample house",
        house=house,
        boxes=(
            Box(id="MD1", name="Modem", equipment="cable modem", storey="G", position=(0.3, 0.3)),
            Box(id="RT1", name="Router", equipment="router HE 2x2", storey="G", position=(0.3, 0.3)),
        ),
        service=Service(down_mbps=450.0, medium="cable", modem="MD1", enters="MP1"),
        devices=(Device(id="D1", name="Phone of the house", client="phone"),),
        needs=tuple(
            Need(id=f"N-{room}", room=room, down_mbps=rate, wired_outlets=int(room == "rU1"))
            for room, rate in NEEDS.items()
        ),
        obligations=(Obligation(id="O1", kind=ObligationKind.MONITORED_ALARM, run="C03", who="Alarm firm"),),
        choices=Choices(margin_pct=25.0, tax_pct=8.0),
        gate=Gate(landlord_agrees=None, licence_checked=None),
    )
    require_whole(job)
    return job


def sample_plan_data() -> Data:
    """The finished plan of the sample job."""
    order = _order()
    return {
        "job": "sample",
        "title": "Sample house",
        "graph": {"before": _before(), "after": _after()},
        "paths": _paths(),
        "cabling": _cabling(),
        "notes": [],
        "before": [_room(room, room == "rG0", 40.0) for room in NEEDS],
        "after": [_room(room, room != "rG2", 60.0) for room in NEEDS],
        "choice": _choice(),
        "drops": _drops(),
        "channels": {
            "channels": [
                {"access_point": name, "band": "5", "channel": channel, "width_mhz": 80, "dfs": False}
                for name, channel in (("AP1", 36), ("AP2", 149), ("RT1", 44))
            ]
        },
        "network": _network(),
        "labels": [
            {"id": name, "on": "tape", "place": "there"}
            for name in ("C01", "C02", "NC1", "U-01", "G-01", "N1", "AP1", "AP2")
        ],
        "takeoff": _takeoff(order),
        "order": order,
        "open_questions": [],
        "checks": [],
    }


def _node(
    name: str, kind: str, storey: str = "", position: list[float] | None = None, room: str = ""
) -> Data:
    return {
        "id": name,
        "kind": kind,
        "name": name,
        "storey": storey,
        "position": position,
        "height_m": 0.3,
        "room": room,
    }


def _link(
    name: str, a: str, b: str, medium: str, rate: float, age: str, *, run: str = "", poe: int = 0, **more: Any
) -> Data:
    return {
        "id": name,
        "a": a,
        "b": b,
        "medium": medium,
        "low_mbps": rate,
        "rate_mbps": rate,
        "high_mbps": rate,
        "chance": 1.0,
        "shares": "",
        "poe_class": poe,
        "run": run,
        "pieces": [name] if run else [],
        "age": age,
        "held": "",
        "length_m": 0.5 if medium == "cord" else 12.0,
        "route": [],
        **more,
    }


_STANDING_NODES = (
    _node("street", "street"),
    _node("MD1", "modem", "G", [0.3, 0.3], "rG0"),
    _node("RT1", "router", "G", [0.3, 0.3], "rG0"),
    _node("MP1", "meeting point", "G", [0.3, 0.3], "rG0"),
    _node("SP1", "splitter", "G", [0.3, 0.4], "rG0"),
    _node("U-01", "outlet", "U", [0.1, 3.0], "rU0"),
    _node("G-01", "outlet", "G", [8.9, 1.0], "rG1"),
    _node("G-03", "outlet", "G", [0.1, 4.0], "rG0"),
    _node("G-04", "outlet", "G", [8.0, 5.9], "rG2"),
    _node("U-03", "outlet", "U", [8.9, 3.0], "rU1"),
)


def _standing_links(used: str) -> list[Data]:
    return [
        _link("line", "street", "MD1", "provider's line", 450.0, "kept"),
        _link("cord-RT1", "MD1", "RT1", "cord", 941.5, "kept"),
        _link("C01", "MP1", "U-01", "twisted pair", 941.5, used, run="C01", poe=8, chance=0.97),
        _link("C02.1", "MP1", "SP1", "coax", 1000.0, used, run="C02", shares="coax C02", chance=0.9),
        _link("C02.2", "SP1", "G-01", "coax", 1000.0, used, run="C02", shares="coax C02", chance=0.9),
        _link("C03", "MP1", "G-03", "twisted pair", 0.0, "kept", run="C03"),
        _link("C05.1", "MP1", "G-04", "twisted pair", 0.0, "kept", run="C05"),
        _link("C05.2", "G-04", "U-03", "twisted pair", 0.0, "kept", run="C05"),
    ]


def _before() -> Data:
    return {"nodes": copy.deepcopy(list(_STANDING_NODES)), "links": _standing_links("kept")}


def _after() -> Data:
    return {
        "nodes": [
            *copy.deepcopy(_STANDING_NODES),
            _node("SW1", "switch", "G", [0.3, 0.3], "rG0"),
            _node("AD1", "adapter", "G", [0.3, 0.3], "rG0"),
            _node("AD2", "adapter", "G", [8.9, 1.0], "rG1"),
            _node("N1", "outlet", "U", [8.0, 0.1], "rU1"),
            _node("AP1", "access point", "U", [0.25, 3.0], "rU0"),
            _node("AP2", "access point", "G", [8.75, 1.0], "rG1"),
        ],
        "links": [
            *_standing_links("old"),
            _link("NC1", "MP1", "N1", "twisted pair", 2353.0, "new", poe=8, length_m=11.0),
            _link("cord-SW1", "RT1", "SW1", "cord", 941.5, "new"),
            _link("cord-P02", "SW1", "MP1", "cord", 941.5, "new", poe=4),
            _link("cord-P03", "SW1", "AD1", "cord", 941.5, "new"),
            _link("cord-AD1", "AD1", "MP1", "cord", 1000.0, "new"),
            _link("cord-AD2", "G-01", "AD2", "cord", 1000.0, "new"),
            _link("cord-P04", "SW1", "MP1", "cord", 941.5, "new"),
            _link("cord-AP1", "U-01", "AP1", "cord", 941.5, "new", poe=8),
            _link("cord-AP2", "AD2", "AP2", "cord", 941.5, "new"),
        ],
    }


def _paths() -> list[Data]:
    links = {link["id"]: link for link in _after()["links"]}
    ways = {
        "AP1": "line cord-RT1 cord-SW1 cord-P02 C01 cord-AP1",
        "AP2": "line cord-RT1 cord-SW1 cord-P03 cord-AD1 C02.1 C02.2 cord-AD2 cord-AP2",
        "N1": "line cord-RT1 cord-SW1 cord-P04 NC1",
    }
    rooms = {"AP1": "rU0", "AP2": "rG1", "N1": "rU1"}
    keys = ("id", "medium", "low_mbps", "rate_mbps", "high_mbps", "chance", "shares", "poe_class")
    return [
        {
            "to": to,
            "kind": "wired outlet" if to == "N1" else "access point",
            "room": rooms[to],
            "links": [{key: links[name][key] for key in keys} for name in names.split()],
            "rate_mbps": 450.0,
            "chance": min(links[name]["chance"] for name in names.split()),
            "narrowest": "line",
        }
        for to, names in ways.items()
    ]


def _cabling() -> list[Data]:
    def row(run: str, *ethernet: tuple[float, str]) -> Data:
        return {
            "run": run,
            "ethernet": [
                {"rate_mbps": rate, "band": band, "chance": 0.9, "lifted_chance": 0.0}
                for rate, band in ethernet
            ],
        }

    return [
        row("C01", (100.0, "likely"), (1000.0, "likely"), (2500.0, "try it")),
        row("C02"),
        row("C03", (100.0, "try it")),
        row("C04", (100.0, "try it"), (1000.0, "no")),
        row("C05", (100.0, "try it")),
    ]


def _room(room: str, met: bool, short_pct: float) -> Data:
    return {
        "room": room,
        "name": NAMES[room],
        "storey": STOREYS[room],
        "need_mbps": NEEDS[room],
        "asked": 0.9,
        "served_pct": 100.0 if met else short_pct,
        "met": met,
        "median_mbps": 400.0 if met else short_pct,
        "up_need_mbps": 5.0,
        "up_served_pct": 100.0,
    }


def _site(name: str, storey: str, position: list[float], room: str, run: str) -> Data:
    return {
        "id": name,
        "name": NAMES[room],
        "storey": storey,
        "position": position,
        "height_m": 1.9,
        "mounting": "wall",
        "room": room,
        "run": run,
        "new_pull_m": 0.0,
        "way": "",
        "spends": "",
        "wire_mbps": 1000.0,
        "poe_class": 4,
        "cost": 100.0,
        "cost_90": 150.0,
        "chance": 0.97,
        "fixing": "screws",
    }


def _choice() -> Data:
    kind = "access point HE 2x2"
    return {
        "words": "Two access points, one outlet; Kitchen stays short.",
        "what_one_more_buys": "One more access point would serve Kitchen",
        "access_points": [
            {
                "id": "AP1",
                "name": "Library",
                "equipment": kind,
                "why": "C01 surfaces here",
                "way": "ap1",
                "supply": False,
                "site": _site("U-01", "U", [0.25, 3.0], "rU0", "C01"),
            },
            {
                "id": "AP2",
                "name": "Living room",
                "equipment": kind,
                "why": "the coax surfaces here",
                "way": "ap2",
                "supply": True,
                "site": _site("G-01", "G", [8.75, 1.0], "rG1", "C02"),
            },
        ],
        "outlets": [
            {"id": "N1", "room": "rU1", "run": "", "pull": "NC1", "rate_mbps": 450.0, "way": "outlet"}
        ],
        "router": {
            "box": "RT1",
            "do": "keep",
            "storey": "G",
            "position": [0.3, 0.3],
            "height_m": 1.0,
            "words": "",
            "cost": 0.0,
        },
        "resources": [{"id": "coax C02", "words": "A pair of adapters on C02", "cost": 150.0}],
        "shortfalls": [
            {"room": "rG2", "name": "Kitchen", "kind": "down", "fix": "a cable", "fix_cost": 200.0}
        ],
        "problem": _problem(),
        "ways": ["standing", "ap1", "ap2", "outlet"],
        "cost": 595.0,
        "bound": 595.0,
        "gap_pct": 0.0,
        "proven": True,
        "front": [
            _point(0.0, "standing", "Hall"),
            _point(215.0, "standing ap1", "Hall,Library"),
            _point(305.0, "standing ap1 outlet", "Hall,Library,Bedroom"),
            _point(595.0, "standing ap1 ap2 outlet", "Hall,Library,Bedroom,Living room", chosen=True),
        ],
        "room_chances": [],
    }


def _point(cost: float, ways: str, rooms: str, *, chosen: bool = False) -> Data:
    return {
        "cost": cost,
        "rooms_served": len(rooms.split(",")),
        "rooms": rooms.split(","),
        "ways": ways.split(),
        "chosen": chosen,
        "beaten": False,
    }


def _problem() -> Data:
    def way(name: str, group: str, cost: float, serves: list[int], **more: Any) -> Data:
        return {
            "id": name,
            "group": group,
            "cost": cost,
            "serves": serves,
            "needs": [],
            "loads": [],
            "ports": 1,
            "watts": 0.0,
            "counts": [],
            "beside": [],
            "rate_mbps": 450.0,
            **more,
        }

    def requirement(room: str, *rows: int) -> Data:
        return {"name": f"{room} down", "room": room, "weights": [[row, 1.0] for row in rows], "need": 1.8}

    return {
        "ways": [
            way("standing", "RT1", 0.0, [0, 1], ports=0),
            way("ap1", "U-01", 120.0, [2, 3, 8, 9], watts=30.0),
            way("ap1 new", "U-01", 300.0, [2, 3, 8, 9], watts=30.0),
            way("ap2", "G-01", 140.0, [4, 5, 6], needs=["coax C02"], loads=[["coax C02", 0.5]], ports=0),
            way("outlet", "rU1", 90.0, [], counts=[["rU1 outlets", 1]]),
        ],
        "rows": 10,
        "requirements": [
            requirement("rG0", 0, 1),
            requirement("rU0", 2, 3),
            requirement("rG1", 4, 5),
            requirement("rG2", 6, 7),
            requirement("rU1", 8, 9),
        ],
        "counted": [{"name": "rU1 outlets", "room": "rU1", "least": 1}],
        "resources": [
            {
                "id": "coax C02",
                "cost": 150.0,
                "needs": [],
                "excludes": "",
                "ports": 1,
                "watts": 0.0,
                "loads": [],
            }
        ],
        "switch_classes": [{"id": "switch 8 PoE 60", "ports": 8, "watts": 60.0, "cost": 95.0}],
        "spare_ports": 2,
        "must": [],
        "forbidden": [],
        "fixed": ["standing"],
    }


def _drops() -> list[Data]:
    def drop(name: str, run: str, way: str, title: str) -> Data:
        return {
            "drop": name,
            "place": "there",
            "run": run,
            "steps": [{"way": way, "title": title, "chance": 0.9, "walk_away_min": None, "reached": 1.0}],
            "words": f"Try {way}.",
        }

    return [
        drop("AP1", "C01", "reuse", "Use the old cable as it is"),
        drop("AP2", "C02", "other medium", "Send Ethernet over the old coax"),
        drop("N1", "", "new cable", "Fish a new cable between storeys"),
    ]


def _network() -> Data:
    def port(number: int, device: str, run: str, panel: int | None, watts: float) -> Data:
        return {
            "port": number,
            "device": device,
            "outlet": "",
            "run": run,
            "panel_port": panel,
            "link": run,
            "rate_mbps": 1000.0,
            "poe_class": 4 if watts else 0,
            "poe_w": watts,
            "cord_m": 0.5,
        }

    def item(name: str, kind: str, units: int) -> Data:
        return {"unit": 1, "height_u": units, "name": name, "equipment": kind, "draw_w": 10.0}

    return {
        "switch": "switch 8 PoE 60",
        "stands": "inside",
        "ports": [
            port(1, "RT1", "", None, 0.0),
            port(2, "AP1", "C01", 1, 30.0),
            port(3, "AD1", "", None, 0.0),
            port(4, "N1", "NC1", 2, 0.0),
        ],
        "poe_budget_w": 60.0,
        "poe_used_w": 30.0,
        "rack": [
            item("Panel", "panel 12", 1),
            item("Switch", "switch 8 PoE 60", 1),
            item("Router", "router HE 2x2", 1),
            item("Battery", "battery 12 V 9 Ah", 2),
        ],
        "notes": [],
    }


class _Steps:
    """Numbers the steps as they come."""

    def __init__(self) -> None:
        self.rows: list[Data] = []

    def add(self, norm: str, title: str, because: str, needs: str = "", **more: Any) -> str:
        name = f"T{len(self.rows) + 1:02d}"
        stage = labour()[norm].stage
        self.rows.append(
            {
                "id": name,
                "key": f"{norm}:{because}",
                "title": title,
                "stage": stage,
                "norm": norm,
                "visit": 1,
                "place": more.pop("place", "Closet, Ground floor"),
                "storey": more.pop("storey", "G"),
                "needs": needs.split(),
                "touches": [],
                "because": because.split(),
                "held": "",
                "hole": False,
                "stop": False,
                "photo": norm == "photo",
                "start_min": 0.0,
                "cautions": [],
                **more,
            }
        )
        return name


def _order() -> list[Data]:
    steps = _Steps()
    add = steps.add
    gate = add("gate", "Ask at the door", "")
    baseline = [add("baseline", f"Measure {NAMES[room]} before the work", room, gate) for room in NEEDS]
    closet = add("photo", "Photograph the closet", "", gate)
    boxes = {name: add("photo", f"Photograph {name}", name, gate) for name in ("U-01", "G-01")}
    checks = {}
    for run in ("C01", "C02", "C03", "C04", "C05"):
        checks[run] = add("live_check", f"Prove that {run} is dead", run, closet)
    tones = {run: add("tone", f"Tone {run}", run, checks[run]) for run in ("C01", "C02", "C04", "C05")}
    fit = {run: add("qualify", f"Qualify {run}", run, tones[run]) for run in ("C01", "C02")}
    board = add("rack", "Mount the panel board", "", closet)
    jack = add(
        "jack",
        "Terminate and label C01 at U-01",
        "C01 U-01",
        f"{fit['C01']} {boxes['U-01']}",
        touches=["C01"],
        place="Library",
        storey="U",
    )
    plate = add("plate", "Fit the plate of U-01", "U-01", jack, place="Library", storey="U")
    panel = add(
        "panel_port", "Terminate and label C01 at the panel", "C01", f"{fit['C01']} {board}", touches=["C01"]
    )
    tests = [add("test", "Test and record C01", "C01", f"{jack} {plate} {panel}")]
    adapters = add(
        "coax_adapter",
        "Fit the adapters of C02",
        "AD1 AD2 C02 G-01",
        f"{fit['C02']} {boxes['G-01']}",
        touches=["C02"],
    )
    tests.append(add("test", "Test and record C02", "C02", adapters))
    pull = add("fish_hard", "Pull NC1 to Bedroom", "NC1", closet, hole=True, place="Bedroom", storey="U")
    seal = add("fire_seal", "Seal the hole of NC1", "NC1", pull, hole=True, place="Bedroom", storey="U")
    new_jack = add("jack", "Terminate and label NC1", "NC1 N1", seal, place="Bedroom", storey="U")
    new_plate = add("plate", "Fit the plate of NC1", "NC1 N1", new_jack, place="Bedroom", storey="U")
    new_panel = add("panel_port", "Terminate and label NC1 at the panel", "NC1", f"{seal} {board}")
    tests.append(add("test", "Test and record NC1", "NC1", f"{new_plate} {new_panel}"))
    tags = [
        add("tag", "Tag C04 as far end not found; leave it whole", "C04", tones["C04"]),
        add("tag", "Tag C05 at both ends as out of use", "C05", tones["C05"]),
    ]
    bond = add("bond", "Check bonding", "", board)
    racked = [
        add("switch", f"Mount {name}", names, bond)
        for name, names in (("Panel", "Panel"), ("Switch", "Switch SW1"), ("Battery", "Battery"))
    ]
    ready = " ".join([*tests, *racked])
    mounted = [
        add("access_point", "Mount AP1 in Library", "AP1 U-01", ready, place="Library", storey="U"),
        add("access_point", "Mount AP2 in Living room", "AP2 G-01", ready, place="Living room"),
    ]
    configure = add("configure", "Set names, channels and networks", "", " ".join(mounted))
    proved = [
        add("prove", f"Measure {NAMES[room]} after the work", room, f"{configure} {' '.join(baseline)}")
        for room in NEEDS
    ]
    add("handover", "Walk the house and hand over the record", "", " ".join([*proved, *tags]))
    return steps.rows


def _takeoff(order: list[Data]) -> Data:
    def part(item: str, need: float, quantity: float, price: float, because: str, unit: str = "each") -> Data:
        return {
            "item": item,
            "name": item,
            "unit": unit,
            "need": need,
            "spare": quantity - need,
            "quantity": quantity,
            "unit_price": price,
            "price": round(quantity * price, 2),
            "because": because.split(),
        }

    def cut(name: str, kind: str, length_m: float, because: str) -> Data:
        return {"id": name, "kind": kind, "from_place": "", "to_place": "", "length_m": length_m} | {
            "because": because.split()
        }

    parts = [
        part("access point HE 2x2", 2, 2, 95.0, "AP1 AP2"),
        part("screw_anchor", 8, 10, 0.15, "AP1 AP2"),
        part("cord_200", 2, 3, 4.0, "AP1 AP2"),
        part("cord_050", 6, 7, 2.6, "RT1 SW1 AD1 AD2 N1"),
        part("switch 8 PoE 60", 1, 1, 95.0, "Switch SW1"),
        part("panel 12", 1, 1, 38.0, "Panel"),
        part("battery 12 V 9 Ah", 1, 1, 90.0, "Battery"),
        part("jack", 4, 5, 4.5, "C01 NC1"),
        part("plate", 2, 3, 2.8, "U-01 NC1"),
        part("cable_cat6", 14.3, 16, 0.62, "NC1", "m"),
        part("fire_seal", 1, 1, 14.0, "NC1"),
        part("label", 8, 9, 0.18, "C01 NC1"),
        part("tag", 4, 5, 0.3, "C04 C05"),
        part("coax_adapter", 2, 2, 68.0, "AD1 AD2 C02"),
        part("mains_supply", 1, 1, 18.0, "AP2"),
    ]
    counts = Counter(row["norm"] for row in order) | {"travel": 2}
    rows = [
        {
            "task": labour()[norm].title,
            "norm": norm,
            "visit": 1,
            "count": count,
            "minutes": round(count * labour()[norm].minutes),
            "minutes_90": round(count * labour()[norm].minutes_90),
            "because": ["work"],
        }
        for norm, count in counts.items()
    ]
    minutes = sum(count * labour()[norm].minutes for norm, count in counts.items())
    money = sum(row["price"] for row in parts)
    work = minutes / 60 * allowances()["labour_per_h"]
    chosen = priced(money, work)
    return {
        "parts": parts,
        "cuts": [
            cut("NC1", "cable", 14.3, "N1"),
            cut("cord-AP1", "patch cord", 2.0, "AP1"),
            cut("cord-P02", "patch cord", 0.5, "AP1 C01"),
        ],
        "tools": [],
        "labour": rows,
        "holes": [{"id": "H01", "cable": "NC1", "place": "Bedroom", "through": "floor", "seal": "sealant"}],
        "quote": {
            "currency": "USD",
            **chosen,
            "options": [
                _offer("Do nothing", 0, 1, priced(0.0, 0.0), "As it is: serves Hall"),
                _offer("Only what is needed", 1, 3, priced(300.0, 900.0), "Serves Hall, Library, Bedroom"),
                _offer("Good", 2, 4, chosen, "Serves all but Kitchen", chosen=True),
            ],
            "included": ["2 access points, mounted, connected and named by room"],
            "excluded": [],
            "assumptions": [],
            "unknowns": [],
        },
    }


def priced(parts: float, work: float, margin_pct: float = 25.0, tax_pct: float = 8.0) -> Data:
    """Parts and labour with margin and tax, as the sample job asks."""
    net = (parts + work) / (1 - margin_pct / 100)
    total = net * (1 + tax_pct / 100)
    return {
        "parts": round(parts, 2),
        "labour": round(work, 2),
        "margin": round(net - parts - work, 2),
        "tax": round(net * tax_pct / 100, 2),
        "total": round(total, 2),
        "total_90": round(total * 1.1, 2),
    }


def _offer(name: str, aps: int, rooms: int, money: Data, words: str, *, chosen: bool = False) -> Data:
    return {
        "name": name,
        "access_points": aps,
        "rooms_served": rooms,
        "rooms_total": len(NEEDS),
        **money,
        "chosen": chosen,
        "words": words,
    }
