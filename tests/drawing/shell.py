"""The house itself: storeys on each other, rooms with names, doors and windows, a barn, a garden."""

from __future__ import annotations

from drawing.building import STYLES, Style
from drawing.floors import Floor, Line, Rect, Space, carve, pack, surround
from drawing.sketch import Sketch
from rehaul.house import Body, Opening, Room, Slab, Storey, Wall

ROOM_M2 = {"small": 11.0, "usual": 15.0, "wide": 24.0}
NAMES = {
    "day": ("Living room", "Kitchen", "Back room", "Work room", "Garden room", "Parlour", "Music room"),
    "night": ("Main bedroom", "Small bedroom", "Child's room", "Guest room", "Corner room", "Box room"),
    "cellar": ("Workshop", "Laundry", "Wine cellar", "Hobby room", "Boiler room"),
    "attic": ("Loft room", "Loft store", "Under the eaves"),
}


def draw_house(sketch: Sketch) -> None:
    """Storeys, rooms, walls, openings, bodies."""
    style = _style(sketch)
    main, sides, hall = _footprint(sketch)
    for level, (kind, height_m) in enumerate(_levels(sketch)):
        _draw_storey(sketch, style, level, kind, height_m, main, sides, hall)
    _household(sketch)
    _outbuilding(sketch, style, main)
    _outside(sketch, main)
    _bodies(sketch)


def _style(sketch: Sketch) -> Style:
    for style in STYLES:
        if f"built-{style.name}" in sketch.themes:
            sketch.year = sketch.dice.randint(style.first_year, style.last_year)
            break
    else:
        sketch.year = sketch.dice.randint(1890, 2020)
        fitting = [style for style in STYLES if style.first_year <= sketch.year <= style.last_year]
        style = sketch.pick(fitting)
    sketch.style = style.name
    return style


def _footprint(sketch: Sketch) -> tuple[Rect, frozenset[str], Rect | None]:
    """The main rectangle, its party walls, and the hall with the stair that every storey shares."""
    dice = sketch.dice
    terrace = sketch.wants("terrace", 0.12)
    if sketch.wants("tiny"):
        width, depth = sketch.between(4.0, 5.2, 1), sketch.between(4.6, 6.0, 1)
    elif sketch.wants("large"):
        width, depth = sketch.between(11.0, 13.0, 1), sketch.between(8.5, 10.0, 1)
    elif terrace:
        width, depth = sketch.between(4.6, 6.4, 1), sketch.between(8.0, 12.0, 1)
    else:
        width, depth = sketch.between(5.0, 10.0, 1), sketch.between(6.0, 9.5, 1)
    sides = frozenset(("left", "right")) if terrace else frozenset()
    hall_m = sketch.between(1.6, 2.2, 1)
    if sketch.wants("tiny") or (width < 6.0 and not terrace and sketch.maybe(0.3)):
        return Rect(0, 0, width, depth), sides, None
    where = 0.0 if terrace or dice.random() < 0.5 else round((width - hall_m) / 2, 1)
    if 0 < where < 2.0:
        where = 0.0
    far = depth if dice.random() < 0.5 or depth < 6.5 else round(depth * 0.6, 1)
    return Rect(0, 0, width, depth), sides, Rect(where, 0, round(where + hall_m, 1), far)


def _levels(sketch: Sketch) -> list[tuple[str, float]]:
    """Kind and ceiling height of each storey, lowest first."""
    if {"tiny", "flat"} & sketch.themes:
        return [("day", sketch.between(2.3, 2.8))]
    upper = sketch.weighed({0: 4.0, 1: 5.0, 2: 1.0}) if "large" not in sketch.themes else 1
    levels = [("day", sketch.between(2.4, 3.1))]
    levels += [("night", sketch.between(2.3, 2.8)) for _ in range(upper)]
    if sketch.wants("basement", 0.15):
        levels.insert(0, ("cellar", sketch.between(2.0, 2.3)))
    if sketch.wants("attic", 0.12):
        levels.append(("attic", sketch.between(1.9, 2.3)))
    if "four-storeys" in sketch.themes:
        day = next(index for index, (kind, _) in enumerate(levels) if kind == "day")
        while len(levels) < 4:
            levels.insert(day + 1, ("night", sketch.between(2.3, 2.8)))
    return levels[:4]


def _draw_storey(
    sketch: Sketch,
    style: Style,
    level: int,
    kind: str,
    height_m: float,
    main: Rect,
    sides: frozenset[str],
    hall: Rect | None,
) -> None:
    dice = sketch.dice
    storey = _storey(sketch, style, level, kind, height_m, hall)
    floor = Floor(surround(main, style.outer_m, party=sides))
    blocks = [main]
    spaces: list[Space] = []
    if hall is not None:
        blocks = _beside_hall(floor, main, hall, style.inner_m)
        spaces.append(Space(hall.corners, "hall"))
    roominess = {"small": 1.0, "usual": 3.0, "wide": 1.5}
    if {"large", "four-storeys"} & sketch.themes:
        roominess = {"wide": 1.0}
    each_m2 = ROOM_M2[sketch.weighed(roominess)]
    for block in blocks:
        count = 1 if kind == "attic" and dice.random() < 0.7 else max(1, round(block.area / each_m2))
        if hall is None and level == 0:
            count = max(count, 2)
        rects, lines = pack(dice, block, count, style.inner_m)
        floor.lines += lines
        for rect in rects:
            roomy = min(rect.width, rect.depth) > 3.0
            if roomy and sketch.wants("carved", 0.06):
                bent, more = carve(dice, rect, style.inner_m)
                spaces += bent
                floor.lines += more
            else:
                spaces.append(Space(rect.corners))
    if not sides and kind == "day" and sketch.wants("l-shape", 0.08):
        spaces += _wing(sketch, floor, style, main)
    floor.join(spaces)
    sketch.floors[storey.id] = floor
    _name_rooms(sketch, storey, kind, floor)
    _doors(sketch, style, floor, kind)
    _windows(sketch, floor, kind)
    if "every-wall" in sketch.themes:
        _open_every_wall(sketch, floor)
    _as_entities(sketch, style, storey, floor)


def _storey(
    sketch: Sketch, style: Style, level: int, kind: str, height_m: float, hall: Rect | None
) -> Storey:
    words = {"cellar": "Basement", "day": "Ground floor", "attic": "Attic"}
    uppers = sum(storey.name.startswith("Upper") for storey in sketch.storeys)
    slab_m = 0.25 if style.ceiling == "solid" else 0.3
    last = sketch.storeys[-1] if sketch.storeys else None
    first_m = -2.5 if kind == "cellar" and sketch.maybe(0.4) else 0.0
    below = kind == "day" and level == 0 and style.ceiling != "solid"
    stair = (hall.x0 + 0.3, hall.y0 + 0.5, hall.x1 - 0.3, hall.y0 + 3.0) if hall and level else None
    storey = Storey.model_validate(
        {
            "id": str(level),
            "name": words.get(kind, f"Upper floor {uppers + 1}" if uppers else "Upper floor"),
            "elevation_m": first_m if last is None else round(last.elevation_m + last.height_m + slab_m, 2),
            "height_m": height_m,
            "floor": Slab.model_validate(
                {
                    "construction": sketch.pick(style.floors) if sketch.maybe(0.9) else "unknown",
                    "thickness_m": slab_m,
                    "voids": (Rect(*stair).corners,) if stair and sketch.maybe(0.6) else (),
                }
            ),
            "access": sketch.weighed({"unknown": 3.0, "closed": 2.0, "open below": 2.0 if below else 0.0}),
            "ceiling": style.ceiling if sketch.maybe(0.8) else "unknown",
        }
    )
    if kind == "attic" and last is not None and sketch.maybe(0.6):
        sketch.storeys[-1] = last.model_copy(update={"access": "open above"})
    sketch.storeys.append(storey)
    return storey


def _beside_hall(floor: Floor, main: Rect, hall: Rect, thickness_m: float) -> list[Rect]:
    """What is left of the main rectangle beside and behind the hall, with the walls between."""
    blocks = []
    for x, rect in (
        (hall.x0, Rect(main.x0, main.y0, hall.x0, main.y1)),
        (hall.x1, Rect(hall.x1, main.y0, main.x1, main.y1)),
    ):
        if rect.width > 0.1:
            floor.lines.append(Line(True, x, main.y0, main.y1, False, thickness_m))
            blocks.append(rect)
    if hall.y1 < main.y1 - 0.1:
        floor.lines.append(Line(False, hall.y1, hall.x0, hall.x1, False, thickness_m))
        blocks.append(Rect(hall.x0, hall.y1, hall.x1, main.y1))
    return blocks


def _wing(sketch: Sketch, floor: Floor, style: Style, main: Rect) -> list[Space]:
    """An addition against the right wall, which stays as thick as it was."""
    width, depth = sketch.between(2.6, 4.2, 1), round(main.depth * sketch.between(0.45, 0.7), 1)
    wing = Rect(main.x1, main.y0, round(main.x1 + width, 1), round(main.y0 + depth, 1))
    floor.lines += surround(wing, style.outer_m)[1:]
    rects, lines = pack(sketch.dice, wing, 2 if sketch.maybe(0.3) else 1, style.inner_m)
    floor.lines += lines
    return [Space(rect.corners) for rect in rects]


def _name_rooms(sketch: Sketch, storey: Storey, kind: str, floor: Floor) -> None:
    plain = sorted((space for space in floor.spaces if space.use == "room"), key=lambda space: space.area)
    enough = len(plain) > 2 or kind == "night" or not sketch.rooms
    if kind in ("day", "night") and len(plain) > 1 and enough:
        plain[0].use = "bath"
    used = {room.name for room in sketch.rooms}
    fresh = [name for name in NAMES[kind] if name not in used]
    own = {"hall": "Hall" if kind == "day" else "Landing", "bath": "Bathroom", "store": "Store"}
    for space in floor.spaces:
        name = own[space.use] if space.use in own else (fresh.pop(0) if fresh else "Room")
        name = name if name not in used else f"{name} {storey.name.lower()}"
        number = 2
        while name in used:
            name, number = f"{name.rstrip('0123456789 ')} {number}", number + 1
        used.add(name)
        lived = space.use == "room" and (kind in ("day", "night") or sketch.maybe(0.4))
        room = Room.model_validate(
            {
                "id": sketch.new_id("r"),
                "name": name,
                "storey": storey.id,
                "polygon": space.inner(),
                "lived_in": lived,
                "bathroom": space.use == "bath" and sketch.maybe(0.85),
            }
        )
        sketch.rooms.append(room)
        sketch.spaces[room.id] = space


def _doors(sketch: Sketch, style: Style, floor: Floor, kind: str) -> None:
    """Every room is reached, from the hall where it can be; a few have a second door."""
    dice = sketch.dice
    pairs = list(floor.shared())
    reached = {0} if floor.spaces else set()
    while len(reached) < len(floor.spaces):
        ways = [pair for pair in pairs if (pair[0] in reached) != (pair[1] in reached)]
        if not ways:
            break
        from_hall = [pair for pair in ways if pair[0] == 0]
        one, other, line, low, high = sketch.pick(from_hall or ways)
        width_m = sketch.between(0.7, 0.9)
        line.place(dice, low, high, min(width_m, high - low - 0.25), _door_kind(sketch))
        reached |= {one, other}
    for _, _, line, low, high in pairs:
        if sketch.maybe(0.08):
            line.place(dice, low, high, 0.8, "gap" if sketch.maybe(0.5) else "door")
    if kind == "day" and floor.spaces:
        outer = [
            edge
            for edge in floor.spaces[0].edges
            if edge.line.outer and not edge.line.party and edge.high - edge.low > 1.3
        ]
        if outer:
            edge = sketch.pick(outer)
            edge.line.place(dice, edge.low, edge.high, 0.9, "front door")


def _door_kind(sketch: Sketch) -> str:
    return "gap" if sketch.maybe(0.1) else "door"


def _windows(sketch: Sketch, floor: Floor, kind: str) -> None:
    for space in floor.spaces:
        outer = [
            edge
            for edge in space.edges
            if edge.line.outer and not edge.line.party and edge.high - edge.low > 1.2
        ]
        for index, edge in enumerate(outer):
            if sketch.maybe(0.9 if index == 0 and kind != "cellar" else 0.3):
                width_m = min(sketch.between(0.6, 2.2), round(edge.high - edge.low - 0.5, 2))
                edge.line.place(sketch.dice, edge.low, edge.high, width_m, "window")


def _open_every_wall(sketch: Sketch, floor: Floor) -> None:
    for line in floor.lines:
        if not line.taken:
            width_m = round(min(0.7, line.high - line.low - 0.3), 2)
            line.place(sketch.dice, line.low, line.high, width_m, "window" if line.outer else "door")


def _as_entities(sketch: Sketch, style: Style, storey: Storey, floor: Floor) -> None:
    inner = sketch.pick(style.inner)
    outer = sketch.pick(style.outer)
    cellar = storey.name == "Basement"
    unknown = sketch.wants("walls-unknown", 0.05)
    shy = 0.4 if sketch.wants("no-drilling", 0.03) else 0.0
    for line in floor.lines:
        start, end = line.ends
        construction = ("concrete-thick" if cellar else outer) if line.outer else inner
        if (unknown and not line.outer) or sketch.maybe(0.03):
            construction = "unknown"
        wall = Wall.model_validate(
            {
                "id": sketch.new_id("w"),
                "storey": storey.id,
                "start": start,
                "end": end,
                "thickness_m": line.thickness_m if sketch.maybe(0.9) else None,
                "construction": construction,
                "fire_rated": True if line.party and sketch.maybe(0.5) else None,
                "drilling": "forbidden" if sketch.maybe(shy) else "unknown",
            }
        )
        sketch.walls.append(wall)
        for low, high, kind in sorted(line.taken):
            sketch.openings.append(_opening(sketch, style, wall, storey, low - line.low, high - low, kind))


def _opening(
    sketch: Sketch, style: Style, wall: Wall, storey: Storey, offset_m: float, width_m: float, kind: str
) -> Opening:
    window = kind == "window"
    small = storey.height_m < 2.3
    height_m = (0.5 if small else sketch.between(0.9, 1.4)) if window else min(2.0, storey.height_m - 0.05)
    leaf = sketch.pick(style.glass if window else style.doors) if kind != "gap" else "unknown"
    return Opening.model_validate(
        {
            "id": sketch.new_id("o"),
            "wall": wall.id,
            "kind": "window" if window else "gap" if kind == "gap" else "door",
            "offset_m": round(offset_m, 2),
            "width_m": round(width_m, 2),
            "height_m": round(height_m, 2),
            "sill_m": (1.2 if small else 0.9) if window else 0.0,
            "construction": leaf if sketch.maybe(0.75) else "unknown",
            "open": None if window or kind == "gap" else sketch.weighed({None: 6.0, True: 2.0, False: 2.0}),
        }
    )


def _household(sketch: Sketch) -> None:
    """A storey, or the last rooms of the only one, may be another household's."""
    if not sketch.wants("other-household", 0.05):
        return
    top = sketch.storeys[-1].id
    theirs = {room.id for room in sketch.rooms if room.storey == top}
    if len(sketch.storeys) == 1:
        theirs = {room.id for room in sketch.rooms[len(sketch.rooms) - max(1, len(sketch.rooms) // 3) :]}
    if any(room.lived_in and room.id not in theirs for room in sketch.rooms):
        sketch.rooms = [
            room.model_copy(update={"household": "Second household"}) if room.id in theirs else room
            for room in sketch.rooms
        ]


def _outbuilding(sketch: Sketch, style: Style, main: Rect) -> None:
    if not sketch.wants("outbuilding", 0.06):
        return
    ground = next(storey for storey in sketch.storeys if storey.name == "Ground floor")
    away_m = sketch.between(4.0, 20.0, 0)
    width, depth = sketch.between(3.0, 5.0, 1), sketch.between(3.0, 4.0, 1)
    y = round(main.y1 + away_m, 1)
    rect = Rect(1.0, y, round(1.0 + width, 1), round(y + depth, 1))
    floor = Floor(surround(rect, style.outer_m))
    floor.join([Space(rect.corners)])
    for line, kind, opening_m in ((floor.lines[2], "door", 0.9), (floor.lines[3], "window", 1.0)):
        line.place(sketch.dice, line.low, line.high, opening_m, kind)
    if "every-wall" in sketch.themes:
        _open_every_wall(sketch, floor)
    name = sketch.pick(("Barn", "Garage", "Garden office"))
    (space,) = floor.spaces
    room = Room.model_validate(
        {
            "id": sketch.new_id("r"),
            "name": name,
            "storey": ground.id,
            "polygon": space.inner(),
            "outbuilding": True,
            "lived_in": name == "Garden office",
        }
    )
    sketch.rooms.append(room)
    sketch.spaces[room.id] = space
    _as_entities(sketch, style, ground, floor)


def _outside(sketch: Sketch, main: Rect) -> None:
    if not sketch.wants("outside", 0.08):
        return
    ground = next(storey for storey in sketch.storeys if storey.name == "Ground floor")
    out = Rect(main.x0, round(main.y0 - 5.0, 1), main.x1, round(main.y0 - 0.5, 1))
    room = Room.model_validate(
        {
            "id": sketch.new_id("r"),
            "name": sketch.pick(("Garden", "Terrace", "Drive")),
            "storey": ground.id,
            "polygon": out.corners,
            "lived_in": False,
            "outside": True,
        }
    )
    sketch.rooms.append(room)
    sketch.spaces[room.id] = Space(out.corners, "outside")


def _bodies(sketch: Sketch) -> None:
    sizes = {"fridge": (0.6, 0.65, 1.8), "bath": (1.6, 0.7, 0.55), "chimney": (0.9, 0.5, 2.3)}
    for kind, (width, depth, height) in sizes.items():
        if sketch.wants(kind, 0.08):
            room = sketch.pick(sketch.indoors())
            x0, y0 = sketch.spaces[room.id].corners[0]
            sketch.bodies.append(
                Body.model_validate(
                    {
                        "id": sketch.new_id("body"),
                        "storey": room.storey,
                        "kind": kind,
                        "corner": (round(x0 + 0.3, 2), round(y0 + 0.3, 2)),
                        "width_m": width,
                        "depth_m": depth,
                        "height_m": height,
                        "construction": "chimney-breast" if kind == "chimney" else "metal-body",
                    }
                )
            )
