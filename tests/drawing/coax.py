"""Coaxial cable: trees of splitters in a cascade, amplifiers, and what still lives on them."""

from __future__ import annotations

from drawing.sketch import Sketch
from rehaul.house import Outlet, Room, Run, Splitter

SERIES = ("RG-59", "RG-6", "RG-6", "unknown", "RG-11")


def draw_coax(sketch: Sketch) -> None:
    """A tree, a few single cables, or none."""
    layout = next((name for name in ("cascade", "tree", "single") if f"coax: {name}" in sketch.themes), "")
    layout = layout or sketch.weighed({"none": 5.5, "tree": 1.6, "cascade": 1.2, "single": 1.7})
    if layout == "none":
        return
    rooms = [room for room in sketch.lived_in() if sketch.maybe(0.75)] or sketch.lived_in()
    rooms = rooms[:5]
    if layout == "single":
        for room in rooms[:3]:
            _cable(sketch, (_entry(sketch), _plate(sketch, room).id), state="unknown")
    else:
        _tree(sketch, rooms, cascade=layout == "cascade" and len(rooms) > 1)


def _entry(sketch: Sketch) -> str:
    return sketch.points[-1].id if sketch.points else "unknown"


def _plate(sketch: Sketch, room: Room) -> Outlet:
    return sketch.add_outlet(room, "coax")


def _cable(sketch: Sketch, ends: tuple[str, ...], **more: object) -> Run:
    middle = sketch.between(4.0, 24.0, 1)
    values: dict[str, object] = {
        "id": sketch.new_id("C", 2),
        "ends": ends,
        "kind": "coax",
        "coax": sketch.pick(SERIES),
        "length_m": None
        if sketch.maybe(0.5)
        else {"middle": middle, "low": round(middle * 0.8, 1), "high": round(middle * 1.25, 1)},
        "topology": sketch.pick(("home run", "unknown")),
        "state": sketch.weighed({"unknown": 4.0, "dead": 4.0, "damaged": 0.3}),
        "traced": sketch.weighed({"unknown": 2.0, "inferred": 2.0, "measured": 4.0}),
    }
    run = Run.model_validate(values | more)
    sketch.runs.append(run)
    return run


def _tree(sketch: Sketch, rooms: list[Room], *, cascade: bool) -> None:
    """One splitter, or a second one behind an output of the first."""
    upper = rooms[: (len(rooms) + 1) // 2] if cascade else rooms
    lower = rooms[len(upper) :]
    first = _splitter(sketch, len(upper) + (1 if cascade else 0), amplifier=sketch.wants("amplifier", 0.15))
    feed = _cable(sketch, (_entry(sketch), first.id))
    _looked(sketch, first, feed)
    for room in upper:
        _cable(sketch, (first.id, _plate(sketch, room).id))
    if lower:
        second = _splitter(sketch, len(lower), amplifier=False)
        between = _cable(sketch, (first.id, second.id))
        _looked(sketch, second, between)
        for room in lower:
            _cable(sketch, (second.id, _plate(sketch, room).id))


def _splitter(sketch: Sketch, used: int, *, amplifier: bool) -> Splitter:
    room = sketch.pick(sketch.indoors())
    old = sketch.wants("old-splitter", 0.5)
    splitter = Splitter.model_validate(
        {
            "id": sketch.new_id("S"),
            "name": "Amplifier" if amplifier else "Splitter",
            "storey": room.storey,
            "position": None if sketch.wants("splitter-not-found", 0.1) else sketch.by_the_wall(room),
            "ways": next(ways for ways in (2, 3, 4, 8) if ways >= used),
            "passes_mhz": sketch.pick((1002, 1002, 862)) if old else sketch.pick((None, 1218, 1675, 2300)),
            "amplifier": amplifier,
            "capped": sketch.weighed({None: 3.0, True: 1.0, False: 2.0}),
        }
    )
    sketch.splitters.append(splitter)
    return splitter


def _looked(sketch: Sketch, splitter: Splitter, feed: Run) -> None:
    """Somebody looked which coax is on its input, or nobody did."""
    if sketch.wants("input-unknown", 0.3):
        return
    index = next(i for i, known in enumerate(sketch.splitters) if known.id == splitter.id)
    sketch.splitters[index] = splitter.model_copy(update={"input": feed.id})
