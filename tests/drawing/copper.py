"""Telephone and data cable: stars, chains in one piece and in segments, joints, taps, tests and faults."""

from __future__ import annotations

from drawing.sketch import Sketch
from rehaul.house import Bell, Outlet, Room, Run

PAIRS = {
    "quad": (2, 2, 1, None),
    "cat3": (2, 3, 4, None),
    "cat5": (4, 4, None),
    "cat5e": (4, 4, 4, None),
    "cat6": (4,),
    "cat6a": (4,),
    "unknown": (None, 2, 4),
}
FAULTS = ("open", "short", "crossed", "reversed", "split pair")
CONDUIT_M = (0.016, 0.02, 0.025)
WANTED = ("spliced", "tapped", "damaged", "conduit", "link-100", "wire-map-fault", "certified", "errors")


def draw_copper(sketch: Sketch) -> None:
    """All twisted and telephone cable."""
    layout = _layout(sketch)
    kind = _kind(sketch)
    if layout != "none":
        rooms = _rooms_with_plates(sketch)
        half = len(rooms) // 2
        if layout in ("home runs", "mixed"):
            for room in rooms if layout == "home runs" else rooms[:half]:
                _home_run(sketch, room, kind)
        if layout in ("chain in one", "mixed"):
            _chain_in_one(sketch, rooms[half:] if layout == "mixed" else rooms, kind)
        if layout == "chain in segments":
            _chain_in_segments(sketch, rooms, kind)
        _tie(sketch, kind)
    _lost_and_dead(sketch, kind)
    _details(sketch)
    _to_the_outbuilding(sketch)
    _bell(sketch)


def _layout(sketch: Sketch) -> str:
    for layout in ("none", "home runs", "chain in one", "chain in segments", "mixed"):
        if f"copper: {layout}" in sketch.themes:
            return layout
    return sketch.weighed(
        {"home runs": 4.0, "chain in one": 2.0, "chain in segments": 1.7, "mixed": 1.6, "none": 0.6}
    )


def _kind(sketch: Sketch) -> str:
    for kind in PAIRS:
        if f"kind: {kind}" in sketch.themes:
            return kind
    year = sketch.year if sketch.maybe(0.7) else sketch.dice.randint(sketch.year, 2020)  # rewired since
    if year < 1985:
        return sketch.weighed({"quad": 6.0, "cat3": 2.0, "unknown": 1.0})
    if year < 1998:
        return sketch.weighed({"quad": 2.0, "cat3": 4.0, "cat5": 2.0, "unknown": 1.0})
    if year < 2006:
        return sketch.weighed({"cat3": 1.5, "cat5": 3.0, "cat5e": 4.0})
    return sketch.weighed({"cat5e": 6.0, "cat6": 3.0, "cat6a": 1.0})


def _rooms_with_plates(sketch: Sketch) -> list[Room]:
    """Rooms where a plate sits: most of those lived in, some halls, in the order of a walk."""
    rooms = [room for room in sketch.lived_in() if sketch.maybe(0.8)] or sketch.lived_in()
    rooms += [room for room in sketch.indoors() if room.name.startswith("Hall") and sketch.maybe(0.3)]
    rooms += [room for room in sketch.indoors() if room.household and sketch.maybe(0.5)]
    return rooms[:6]


def _hub(sketch: Sketch) -> str:
    """Where cables start: where they meet, else nobody knows."""
    return sketch.points[0].id if sketch.points else "unknown"


def _plate(sketch: Sketch, room: Room) -> Outlet:
    kind = sketch.weighed({"telephone": 6.0, "data": 2.0, "unknown": 1.0, "blank plate": 0.7})
    return sketch.add_outlet(room, kind)


def _run(sketch: Sketch, ends: tuple[str, ...], kind: str, topology: str, **more: object) -> Run:
    values: dict[str, object] = {
        "id": sketch.new_id("C", 2),
        "ends": ends,
        "kind": kind,
        "pairs": sketch.pick(PAIRS.get(kind, (None,))),
        "gauge_awg": sketch.weighed({24: 4.0, None: 3.0, 22: 0.7, 26: 0.6}),
        "length_m": _length(sketch, len(ends) - 1),
        "topology": topology if sketch.maybe(0.8) else "unknown",
        "state": sketch.weighed(
            {"unknown": 4.0, "dead": 4.0, "live telephone": 0.5, "alarm": 0.15, "damaged": 0.2}
        ),
        "traced": sketch.weighed({"unknown": 3.0, "inferred": 2.0, "measured": 4.0}),
    }
    run = Run.model_validate(values | more)
    sketch.runs.append(run)
    return run


def _length(sketch: Sketch, spans: int) -> dict[str, object] | None:
    if sketch.maybe(0.35):
        return None
    middle = round(spans * sketch.between(5.0, 22.0), 1)
    spread = sketch.pick((0.03, 0.15, 0.3))
    return {
        "middle": middle,
        "low": round(middle * (1 - spread), 1),
        "high": round(middle * (1 + spread), 1),
        "grade": "measured" if spread < 0.1 else "inferred",
    }


def _home_run(sketch: Sketch, room: Room, kind: str) -> None:
    hub = sketch.pick(sketch.points).id if sketch.points and sketch.maybe(0.4) else _hub(sketch)
    plate = _plate(sketch, room)
    route = _route(sketch, hub, plate) if sketch.maybe(0.1) else ()
    _run(sketch, (hub, plate.id), kind, "home run", route=route)


def _tie(sketch: Sketch, kind: str) -> None:
    """Where cables meet in two places, something usually joins them."""
    if len(sketch.points) > 1 and sketch.maybe(0.7):
        _run(sketch, (sketch.points[0].id, sketch.points[1].id), kind, "home run")


def _route(sketch: Sketch, hub: str, plate: Outlet) -> tuple[tuple[float, float, float], ...]:
    """Up to the ceiling, across along both axes, and down to the plate."""
    point = next((point for point in sketch.points if point.id == hub), None)
    if point is None or point.storey != plate.storey or plate.position is None:
        return ()
    storey = next(storey for storey in sketch.storeys if storey.id == plate.storey)
    (x0, y0), (x1, y1) = point.position, plate.position
    top = round(storey.elevation_m + storey.height_m - 0.1, 2)
    start, end = storey.elevation_m + point.height_m, storey.elevation_m + plate.height_m
    return ((x0, y0, round(start, 2)), (x0, y0, top), (x1, y0, top), (x1, y1, top), (x1, y1, round(end, 2)))


def _chain_in_one(sketch: Sketch, rooms: list[Room], kind: str) -> None:
    plates = tuple(_plate(sketch, room).id for room in rooms)
    ends = (_hub(sketch), *plates)
    if len(set(ends)) > 1:
        _run(sketch, ends, kind, "daisy chain" if len(ends) > 2 else "home run")


def _chain_in_segments(sketch: Sketch, rooms: list[Room], kind: str) -> None:
    """The same chain as somebody enters it who sees two cables in every box."""
    before = _hub(sketch)
    for room in rooms:
        plate = _plate(sketch, room).id
        _run(sketch, (before, plate), kind, sketch.pick(("daisy chain", "unknown")))
        before = plate


def _lost_and_dead(sketch: Sketch, kind: str) -> None:
    if sketch.wants("far-end-lost", 0.15):
        near = _hub(sketch)
        if near == "unknown":  # both ends lost is no cable: one comes out of a plate
            near = _plate(sketch, sketch.pick(sketch.indoors())).id
        _run(sketch, (near, "unknown"), kind, "unknown", state="unknown", traced="unknown")
    if sketch.wants("never-located", 0.1):
        room = sketch.pick(sketch.indoors())
        plate = sketch.add_outlet(room, "unknown", position=None, note="On an old list, never found")
        if sketch.maybe(0.6):
            _run(sketch, (_hub(sketch), plate.id), kind, "unknown", traced="inferred")


def _details(sketch: Sketch) -> None:
    """What is known of single cables: joints, taps, conduits, tests, damage."""
    for index, run in enumerate(sketch.runs):
        facts: dict[str, object] = {}
        for what in ("spliced", "tapped", "conduit"):
            if sketch.maybe(0.06):
                facts |= _told(sketch, run, what)
        if sketch.maybe(0.25):
            test = {"good": 4.0, "link-100": 1.0, "wire-map-fault": 1.0, "certified": 0.6, "errors": 0.5}
            facts |= _told(sketch, run, sketch.weighed(test))
        sketch.runs[index] = Run.model_validate(run.model_dump() | facts)
    for what in WANTED:
        if what in sketch.themes and sketch.runs:
            index = sketch.dice.randrange(len(sketch.runs))
            run = sketch.runs[index]
            sketch.runs[index] = Run.model_validate(run.model_dump() | _told(sketch, run, what))


def _told(sketch: Sketch, run: Run, what: str) -> dict[str, object]:
    """The fields of a cable of which that is true."""
    narrow = run.pairs is not None and run.pairs < 4
    match what:
        case "spliced":
            return {"splices": sketch.dice.randint(1, 3), "topology": "spliced"}
        case "tapped":
            taps = tuple(sketch.between(2.0, 14.0, 1) for _ in range(sketch.dice.randint(1, 2)))
            return {"taps_m": taps}
        case "damaged":
            short = sketch.maybe(0.5)
            test = {"wire_map": "short" if short else "open", "by": "Invented technician"}
            if short and run.ends[0] != "unknown":
                test |= {"fault_ohm": sketch.between(0.5, 4.0), "from_end": run.ends[0]}
            return {"state": "damaged", "tests": (test,)}
        case "conduit":
            return {
                "in_conduit": True,
                "conduit_bore_m": sketch.pick(CONDUIT_M),
                "conduit_others": sketch.weighed({0: 4.0, 1: 1.0, 3: 1.0}),
            }
        case "link-100":
            return {"tests": ({"wire_map": "good", "link_mbps": 100, "port_mbps": sketch.pick((100, 1000))},)}
        case "wire-map-fault":
            return {"tests": ({"wire_map": sketch.pick(FAULTS)},)}
        case "certified":
            kind = run.kind.value if run.kind.value in ("cat5e", "cat6", "cat6a") else "cat5e"
            return {"tests": ({"wire_map": "good", "certified_to": kind},), "kind": kind, "pairs": 4}
        case "errors":
            return {"tests": ({"wire_map": "good", "link_mbps": 1000, "errors": 340, "soak_s": 600},)}
        case _:
            rate = 100 if narrow else sketch.weighed({1000: 5.0, 2500: 1.0})
            test = {"wire_map": "good", "link_mbps": rate, "port_mbps": max(rate, 1000), "errors": 0}
            return {"tests": (test | {"soak_s": 600, "loop_ohm": sketch.between(0.8, 6.0)},)}


def _to_the_outbuilding(sketch: Sketch) -> None:
    """What somebody buried once: glass as it should be, or copper as it should not."""
    barns = [room for room in sketch.rooms if room.outbuilding]
    if not barns or not sketch.wants("fibre-to-outbuilding", 0.4):
        return
    plate = sketch.add_outlet(barns[0], "data")
    kind = "fibre" if "fibre-to-outbuilding" in sketch.themes or sketch.maybe(0.6) else "cat5e"
    pairs = None if kind == "fibre" else 4
    _run(sketch, (_hub(sketch), plate.id), kind, "home run", pairs=pairs, gauge_awg=None, state="unknown")


def _bell(sketch: Sketch) -> None:
    if not sketch.wants("bell", 0.07):
        return
    hall = sketch.pick([room for room in sketch.indoors() if not room.lived_in] or sketch.indoors())
    door = sketch.add_outlet(hall, "blank plate", height_m=1.3, note="Bell push at the door")
    run = _run(sketch, (_hub(sketch), door.id), "bell wire", "home run", pairs=1, state="unknown")
    sketch.bells.append(
        Bell.model_validate(
            {
                "id": sketch.new_id("BELL"),
                "run": run.id,
                "transformer_v": sketch.pick((8.0, 16.0, 24.0)),
                "load_va": sketch.pick((8.0, 10.0, 20.0)),
                "needs_v": sketch.pick((0.0, 8.0, 10.0)),
            }
        )
    )
