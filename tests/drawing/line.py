"""The service: how it comes in, where it ends, and the boxes that stand on it."""

from __future__ import annotations

from drawing.sketch import Sketch
from rehaul.house import Box, MeetingPoint, Outlet, Room, Run, Service
from rehaul.house.base import Point

RATES = {  # down and up, Mb/s
    "dsl": ((16, 1), (25, 5), (50, 10), (100, 40), (175, 40), (250, 40)),
    "cable": ((100, 10), (250, 25), (400, 20), (1000, 50), (1200, 50)),
    "fibre": ((100, 50), (300, 150), (600, 300), (1000, 400), (1000, 1000), (2000, 1000)),
    "wireless": ((16, 2), (50, 8), (150, 20), (300, 30)),
    "unknown": ((50, 10), (100, 20), (200, 20)),
}
MODEM_OF = {"dsl": "dsl modem", "cable": "cable modem", "fibre": "optical terminal"}
TYPOS = ("router HE2x2", "acces point HE 2x2", "old white router", "swich 8 PoE 60")


def draw_line(sketch: Sketch) -> None:
    """Service, modem, router, and what was bolted on since."""
    medium = next((name for name in RATES if f"medium: {name}" in sketch.themes), "")
    usual = {"fibre": 3.0, "cable": 3.0, "dsl": 3.0, "wireless": 1.0, "unknown": 0.8}
    medium = medium or sketch.weighed(usual)
    if sketch.wants("fibre-in-the-house"):
        medium = "fibre"
    line = _line_run(sketch, medium)
    place = _where_it_ends(sketch, line)
    modem = _modem_and_router(sketch, medium, place)
    enters = line.ends[0] if line is not None and line.ends[0] != "unknown" else None
    if enters is None and sketch.points and sketch.maybe(0.5):
        enters = sketch.points[0].id
    known = not sketch.wants("modem-unknown", 0.06)
    places = {place.id for place in (*sketch.points, *sketch.outlets)}
    down, up = (2000, 1000) if "two-gigabit" in sketch.themes else sketch.pick(RATES[medium])
    sketch.service = Service.model_validate(
        {
            "down_mbps": down,
            "up_mbps": up,
            "medium": medium,
            "modem": modem if known else None,
            "run": line.id if line is not None and sketch.maybe(0.85) else None,
            "enters": enters if enters in places and sketch.maybe(0.7) else None,
        }
    )
    _more_boxes(sketch)
    if sketch.wants("typo", 0.02):
        index = sketch.dice.randrange(len(sketch.boxes))
        typo = sketch.boxes[index].model_copy(update={"equipment": sketch.pick(TYPOS)})
        sketch.boxes[index] = typo


def _line_run(sketch: Sketch, medium: str) -> Run | None:
    """The cable in the house that the provider's line comes in on."""
    plates = {outlet.id for outlet in sketch.outlets if outlet.position is not None}
    reaching = [run for run in sketch.runs if any(end in plates for end in run.ends)]
    if medium == "cable":
        coax = [run for run in reaching if run.kind == "coax"]
        return coax[0] if coax else None
    if medium == "dsl":
        return _dsl_pair(sketch, [run for run in reaching if run.kind not in ("coax", "bell wire", "fibre")])
    if medium == "fibre" and sketch.wants("fibre-in-the-house", 0.2):
        room = sketch.pick(sketch.lived_in())
        plate = sketch.add_outlet(room, "data", note="Optical socket")
        start = sketch.points[0].id if sketch.points else "unknown"
        run = Run.model_validate(
            {
                "id": sketch.new_id("C", 2),
                "ends": (start, plate.id),
                "kind": "fibre",
                "topology": "home run",
                "state": "unknown",
                "traced": "measured",
            }
        )
        sketch.runs.append(run)
        return run
    return None


def _dsl_pair(sketch: Sketch, copper: list[Run]) -> Run | None:
    if not copper or not sketch.wants("dsl-taps", 0.75):
        return None
    chosen = next((run for run in copper if len(run.ends) > 2), copper[0])
    if sketch.wants("dsl-taps", 0.3):
        taps = tuple(sketch.between(3.0, 18.0, 1) for _ in range(sketch.dice.randint(1, 3)))
        tapped = chosen.model_copy(update={"taps_m": taps})
        sketch.runs[sketch.runs.index(chosen)] = tapped
        return tapped
    return chosen


Place = Room | MeetingPoint | Outlet


def _where_it_ends(sketch: Sketch, line: Run | None) -> Place:
    """The plate at the far end of the line, else where cables meet, else some room."""
    can = next((point for point in sketch.points if point.enclosure == "flush metal can"), None)
    if can is not None and sketch.wants("modem-in-can", 0.35):
        return can
    if line is not None and sketch.maybe(0.85):
        plates = {outlet.id: outlet for outlet in sketch.outlets if outlet.position is not None}
        known = [plates[end] for end in line.ends if end in plates]
        if known:
            return sketch.pick(known)
    if sketch.points and sketch.maybe(0.45):
        return sketch.points[0]
    return sketch.pick(sketch.lived_in() if sketch.maybe(0.75) else sketch.indoors())


def _at(sketch: Sketch, place: Place) -> tuple[str, Point, float]:
    if isinstance(place, Room):
        return place.storey, sketch.by_the_wall(place), sketch.between(0.3, 1.6, 1)
    assert place.position is not None
    height_m = place.height_m if isinstance(place, MeetingPoint) else sketch.between(0.3, 1.4, 1)
    return place.storey, place.position, height_m


def _box(sketch: Sketch, name: str, equipment: str, place: Place, **more: object) -> Box:
    storey, position, height_m = _at(sketch, place)
    values: dict[str, object] = {
        "id": sketch.new_id("X"),
        "name": name,
        "equipment": equipment,
        "storey": storey,
        "position": position,
        "height_m": height_m,
        "keep": sketch.maybe(0.85),
        "movable": sketch.weighed({None: 5.0, True: 3.0, False: 1.0}),
    }
    box = Box.model_validate(values | more)
    sketch.boxes.append(box)
    return box


def _modem_and_router(sketch: Sketch, medium: str, place: Place) -> str:
    """The box that the line ends in; one that is modem and router at once, or two with a cord."""
    apart = medium in MODEM_OF and sketch.maybe(0.55)
    stays = sketch.wants("router-fixed", 0.06)
    movable = {"movable": False} if stays else {}
    if not apart:
        only = {"keep": True, "fed_by": "unknown", **movable}
        return _box(sketch, "Provider's router", "router HE 2x2", place, **only).id
    modem = _box(sketch, "Modem", MODEM_OF[medium], place, keep=True, movable=False, fed_by="unknown")
    radios = sketch.maybe(0.85)
    equipment = "router HE 2x2" if radios else "router wired"
    beside: Place = place
    if sketch.maybe(0.15):
        beside = sketch.pick(sketch.lived_in())
    feed = sketch.weighed({"cord": 6.0, "unknown": 2.0})
    _box(sketch, "Router", equipment, beside, fed_by=feed, radio=radios and sketch.maybe(0.95), **movable)
    return modem.id


def _more_boxes(sketch: Sketch) -> None:
    for feed, chance in (("cord", 0.05), ("wireless", 0.08), ("power line", 0.05), ("unknown", 0.06)):
        if sketch.wants(f"extra: {feed}", chance):
            room = sketch.pick(sketch.lived_in())
            name = f"Extra box, {room.name.lower()}"
            keep = sketch.maybe(0.6)
            _box(sketch, name, "access point HE 2x2", room, fed_by=feed, keep=keep)
    ends = {end: run for run in sketch.runs if run.kind.value.startswith("cat") for end in run.ends}
    fed = [outlet for outlet in sketch.outlets if outlet.id in ends and outlet.position is not None]
    if fed and sketch.wants("extra: run", 0.08):
        plate = sketch.pick(fed)
        run = ends[plate.id].id
        _box(sketch, "Extra box on a plate", "access point HE 2x2", plate, fed_by="run", run=run)
    if sketch.wants("old-switch", 0.07):
        place: Place = sketch.points[0] if sketch.points else sketch.pick(sketch.indoors())
        _box(sketch, "Old switch", "switch 8 PoE 60", place, fed_by="cord")
