"""The whole reading of a drawing: walls, what fills their gaps, and rooms named by the words in them."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import shapely

from rehaul.errors import BadInput
from rehaul.facts.foreign_names import meaning
from rehaul.house.integrity import require_house
from rehaul.house.model import House, Opening, OpeningKind, Room, Storey, Wall
from rehaul.house.readers.dxf.drawing import DxfDrawing, open_drawing
from rehaul.house.readers.dxf.faces import WallRun, runs_of
from rehaul.house.readers.joints import joined
from rehaul.house.readers.report import ElementCounts, Log, ReadReport
from rehaul.words import say

HEIGHT_M = 2.4
SIZES_M = {"door": (2.0, 0.0), "window": (1.2, 0.9), "gap": (2.0, 0.0)}  # height and sill, taken as usual
SMALLEST_ROOM_M2 = 0.8
NARROWEST_M = 0.4
REACH_M = 0.6
PREFIX = {"door": "d", "window": "win", "gap": "g"}


def read_dxf(path: Path) -> ReadReport:
    """One storey from a DXF drawing: walls as double or single lines, openings, and rooms.

    Raises BadInput for a file that is not a drawing, or that draws no walls. **Source**: docs/readers.md, "A
    drawing (DXF)".
    """
    log = Log()
    drawing = open_drawing(path, log)
    runs = _met(runs_of(drawing.walls))
    if not runs:
        raise BadInput(
            say("refused_house.no_line_long_enough"),
            where=path.name,
            remedy=say("refused_house.check_drawings_unit"),
        )
    walls = tuple(_wall(run, f"w{number}") for number, run in enumerate(runs, start=1))
    openings = _openings(drawing, runs, walls, log)
    rooms = _rooms(drawing, runs)
    storey = Storey(id="1", name=path.stem[:80] or "Storey", elevation_m=0.0, height_m=HEIGHT_M)
    house = House(
        name=path.stem[:80] or "House", storeys=(storey,), walls=walls, openings=openings, rooms=rooms
    )
    require_house(house, where=path.name)
    _say(log, house, runs)
    kinds = [opening.kind for opening in openings]
    counts = ElementCounts(
        storeys=1,
        walls=len(walls),
        doors=kinds.count(OpeningKind.DOOR),
        windows=kinds.count(OpeningKind.WINDOW),
        rooms=len(rooms),
    )
    return ReadReport(house, counts, log.not_understood(), tuple(log.notes))


def _met(runs: list[WallRun]) -> list[WallRun]:
    """Runs with their ends on the centre lines they run into; gaps keep their place in the house."""
    result = []
    for run, strip in zip(runs, joined([run.strip for run in runs]), strict=True):
        moved = float((np.array(run.strip.start) - strip.start) @ strip.along)
        gaps = tuple((round(low + moved, 4), round(high + moved, 4)) for low, high in run.gaps)
        result.append(replace(run, strip=strip, gaps=gaps))
    return result


def _wall(run: WallRun, wall_id: str) -> Wall:
    return Wall(
        id=wall_id,
        storey="1",
        start=run.strip.start,
        end=run.strip.end,
        thickness_m=run.strip.thickness_m if run.paired else None,
    )


def _openings(
    drawing: DxfDrawing, runs: list[WallRun], walls: tuple[Wall, ...], log: Log
) -> tuple[Opening, ...]:
    """Gaps take the kind of the mark that lies in them; a mark on a whole wall makes its own opening."""
    spans = [(index, low, high) for index, run in enumerate(runs) for low, high in run.gaps]
    kinds = ["gap"] * len(spans)
    extra: list[tuple[int, float, float, str]] = []
    for kind, points in drawing.marks:
        best = _nearest(points, runs)
        if best is None:
            log.leave(kind, say("readers.no_wall_near", near_m=REACH_M))
            continue
        index, low, high = best
        inside = [
            number
            for number, (wall, gap_low, gap_high) in enumerate(spans)
            if wall == index and min(high, gap_high) - max(low, gap_low) > 0.3 * (gap_high - gap_low)
        ]
        for number in inside:
            kinds[number] = kind
        known = any(wall == index and min(high, b) - max(low, a) > 0 for wall, a, b, _ in extra)
        if not inside and not known and high - low >= NARROWEST_M:
            extra.append((index, low, high, kind))
    found = [(*span, kind) for span, kind in zip(spans, kinds, strict=True)] + extra
    made: list[Opening] = []
    for index, low, high, kind in sorted(found):
        height_m, sill_m = SIZES_M[kind]
        number = sum(opening.kind == kind for opening in made) + 1
        low, high = max(0.0, low), min(high, runs[index].strip.length_m)
        if high - low >= NARROWEST_M / 2:
            made.append(
                Opening(
                    id=f"{PREFIX[kind]}{number}",
                    wall=walls[index].id,
                    kind=OpeningKind(kind),
                    offset_m=round(low, 4),
                    width_m=round(high - low, 4),
                    height_m=height_m,
                    sill_m=sill_m,
                )
            )
    return tuple(made)


def _nearest(points: list[tuple[float, float]], runs: list[WallRun]) -> tuple[int, float, float] | None:
    """The wall that a mark lies on or touches, and from where to where along it."""
    shape = shapely.MultiPoint(points)
    best: tuple[float, int] | None = None
    for index, run in enumerate(runs):
        line = shapely.LineString([run.strip.start, run.strip.end])
        distance = float(np.mean([line.distance(shapely.Point(p)) for p in points]))
        if line.distance(shape) <= REACH_M and (best is None or distance < best[0] - 1e-9):
            best = (distance, index)
    if best is None:
        return None
    along, _ = runs[best[1]].strip.measure(np.array(points))
    return best[1], float(along.min()), float(along.max())


def _rooms(drawing: DxfDrawing, runs: list[WallRun]) -> tuple[Room, ...]:
    """Every face that the walls enclose, drawn in by half a wall, named by the words in it."""
    lines = shapely.unary_union([_drawn_on(run) for run in runs])
    bodies = shapely.unary_union([_body(run) for run in runs])
    faces = [face.difference(bodies) for face in shapely.get_parts(shapely.polygonize([lines]))]
    parts = [part for face in faces for part in shapely.get_parts(face) if part.geom_type == "Polygon"]
    parts = [part.simplify(0.005) for part in parts if part.area >= SMALLEST_ROOM_M2]
    parts.sort(key=lambda part: (round(-part.centroid.y, 2), round(part.centroid.x, 2)))
    rooms: list[Room] = []
    for number, part in enumerate(parts, start=1):
        inside = [text for text, spot in drawing.words if part.contains(shapely.Point(spot))]
        words = [text for text in inside if any(letter.isalpha() for letter in text)]
        name = (words[0] if words else f"Room {number}")[:76]
        same = sum(room.name == name or room.name.startswith(f"{name} (") for room in rooms)
        corners = shapely.get_coordinates(part.exterior)[:-1].tolist()
        rooms.append(
            Room(
                id=f"r{number}",
                name=f"{name} ({same + 1})" if same else name,
                storey="1",
                polygon=tuple((round(x, 4), round(y, 4)) for x, y in corners),
                lived_in=meaning("room", name) != "not lived in",
            )
        )
    return tuple(rooms)


def _drawn_on(run: WallRun) -> shapely.LineString:
    """The centre line a hair longer, so that lines which meet really cross."""
    along = run.strip.along * 0.01
    return shapely.LineString([np.array(run.strip.start) - along, np.array(run.strip.end) + along])


def _body(run: WallRun) -> shapely.Polygon:
    half_m = run.strip.thickness_m / 2 if run.paired else 0.001
    return shapely.LineString([run.strip.start, run.strip.end]).buffer(half_m, cap_style="square")


def _say(log: Log, house: House, runs: list[WallRun]) -> None:
    log.note(say("readers.drawing_has_no_heights", height_m=HEIGHT_M))
    log.note(say("readers.drawing_says_no_material"))
    lone = sum(not run.paired for run in runs)
    if lone:
        log.note(say("readers.walls_as_one_line", lone=lone, walls=len(runs)))
    if not house.rooms:
        log.note(say("readers.no_walls_enclose"))
    widest = max((opening.width_m for opening in house.openings), default=0.0)
    if widest > 3.0:
        log.note(say("readers.widest_opening", widest_m=widest))
