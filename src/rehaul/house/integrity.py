"""Whole-document rules that no single field can hold: ids are unique, references lead somewhere,
nothing stands outside the house. Broken ones are refused, not repaired.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from rehaul.errors import BadInput
from rehaul.house.base import UNKNOWN, Model, Point
from rehaul.house.geometry import house_bounds, point_in_bounds, polygon_area, wall_length_m
from rehaul.house.job import Job
from rehaul.house.model import House
from rehaul.words import say

OUTSIDE_TOLERANCE_M = 1.0  # surveys are rough; a plate this far outside the walls is a slip
SHORTEST_WALL_M = 0.01
WIDEST_M = 20_000.0  # of a house, whatever a file says: its units are wrong, or a point has strayed
HIGHEST_M = 10_000.0  # of a point, as elevations have it
FURTHEST_M = 1e7  # from the origin of the sheet: drawings on the grid of a country stay below


def require_whole(job: Job, *, where: str = "job") -> None:
    """Raise BadInput for the first broken rule of the document, naming the field's path.

    Asked after every edit: rules look first whether anything is wrong, and then for where.
    """
    for rule in RULES:
        for path, problem, remedy in rule(job):
            raise BadInput(
                problem, where=say("refused_common.place_in", where=where, place=path), remedy=remedy
            )


Breach = tuple[str, str, str]  # path, problem, remedy


def _duplicate_ids(job: Job) -> Iterator[Breach]:
    names = [item.id for _, items in _tables(job) for item in items]  # type: ignore[attr-defined]
    if len(set(names)) == len(names):
        return
    seen: dict[str, str] = {}
    for path, entity in entities(job):
        name = entity.id  # type: ignore[attr-defined]
        if name in seen:
            yield (
                f"{path}.id",
                say("refused_whole.id_used", name=name, where=seen[name]),
                say("refused_whole.give_own_id"),
            )
        seen[name] = path


def entities(job: Job) -> Iterator[tuple[str, Model]]:
    """Every entity of a job that has an id, with its path in the document, such as `house.walls[3]`.

    In the order of the document, list by list.
    """
    for path, items in _tables(job):
        for index, entity in enumerate(items):
            yield f"{path}[{index}]", entity


def _tables(job: Job) -> Iterator[tuple[str, tuple[Model, ...]]]:
    """Every list of entities that have an id, with its path in the document."""
    for holder, prefix in ((job.house, "house."), (job, "")):
        for field in type(holder).model_fields:
            value = getattr(holder, field)
            if isinstance(value, tuple) and value and hasattr(value[0], "id"):
                yield f"{prefix}{field}", value


def _ids(items: tuple[Model, ...]) -> set[str]:
    return {item.id for item in items}  # type: ignore[attr-defined]


def _references(job: Job) -> Iterator[Breach]:
    house = job.house
    storeys, rooms, walls = _ids(house.storeys), _ids(house.rooms), _ids(house.walls)
    runs, boxes, devices = _ids(house.runs), _ids(job.boxes), _ids(job.devices)
    links: list[tuple[str, tuple[Model, ...], str, set[str], str]] = [
        ("house.rooms", house.rooms, "storey", storeys, "storey"),
        ("house.walls", house.walls, "storey", storeys, "storey"),
        ("house.bodies", house.bodies, "storey", storeys, "storey"),
        ("house.openings", house.openings, "wall", walls, "wall"),
        ("house.outlets", house.outlets, "storey", storeys, "storey"),
        ("house.outlets", house.outlets, "room", rooms, "room"),
        ("house.meeting_points", house.meeting_points, "storey", storeys, "storey"),
        ("boxes", job.boxes, "storey", storeys, "storey"),
        ("needs", job.needs, "room", rooms, "room"),
        ("obligations", job.obligations, "run", runs, "run"),
        ("readings", job.readings, "room", rooms, "room"),
        ("readings", job.readings, "storey", storeys, "storey"),
        ("readings", job.readings, "device", devices, "device"),
        ("heard", job.heard, "room", rooms, "room"),
        ("placed_plugs", job.placed_plugs, "outlet", _ids(house.outlets), "outlet"),
        ("trace_readings", job.trace_readings, "end", runs, "run"),
        ("trace_readings", job.trace_readings, "outlet", _ids(house.outlets), "outlet"),
        ("decisions", job.decisions, "run", runs, "run"),
        ("house.hazards", house.hazards, "storey", storeys, "storey"),
        ("house.hazards", house.hazards, "room", rooms, "room"),
        ("house.bells", house.bells, "run", runs, "run"),
        ("house.splitters", house.splitters, "storey", storeys, "storey"),
        ("house.splitters", house.splitters, "input", runs, "run"),
        ("boxes", job.boxes, "run", runs, "run"),
        ("line_checks", job.line_checks, "at", _ids(house.meeting_points), "meeting point"),
        ("line_checks", job.line_checks, "run", runs, "run"),
        ("line_checks", job.line_checks, "outlet", _ids(house.outlets), "outlet"),
        ("line_checks", job.line_checks, "other", _ids(job.line_checks), "line check"),
    ]
    for path, items, field, known, what in links:
        if {getattr(item, field) for item in items} <= known | {None}:
            continue
        for index, item in enumerate(items):
            target = getattr(item, field)
            if target is not None and target not in known:
                yield (
                    f"{path}[{index}] ({item.id}).{field}",  # type: ignore[attr-defined]
                    say("refused_whole.no_such_thing", what=what, target=target),
                    say("refused_whole.add_or_name", what=what),
                )
    for name in job.choices.to_be_moved:
        if name not in _ids(job.obligations):
            yield (
                "choices.to_be_moved",
                say("refused_whole.no_obligation", name=name),
                say("refused_whole.enter_obligation"),
            )
    if job.service.modem is not None and job.service.modem not in boxes:
        yield (
            "service.modem",
            say("refused_whole.no_box", name=job.service.modem),
            say("refused_whole.add_box"),
        )
    if job.service.run is not None and job.service.run not in runs:
        yield "service.run", say("refused_whole.no_run", name=job.service.run), say("refused_whole.add_run")
    if job.service.enters is not None and job.service.enters not in _ids(house.outlets) | _ids(
        house.meeting_points
    ):
        yield (
            "service.enters",
            say("refused_whole.no_outlet_or_point", name=job.service.enters),
            say("refused_whole.add_place"),
        )


def _cable_ends(job: Job) -> Iterator[Breach]:
    house = job.house
    known = _ids(house.outlets) | _ids(house.meeting_points) | _ids(house.splitters) | {UNKNOWN}
    for index, run in enumerate(house.runs):
        path = f"house.runs[{index}] ({run.id}).ends"
        for end in run.ends:
            if end not in known:
                yield (
                    path,
                    say("refused_whole.no_cable_end", end=end),
                    say("refused_whole.name_end_or_unknown"),
                )
        named = [end for end in run.ends if end != UNKNOWN]
        if len(set(named)) != len(named):
            yield path, say("refused_whole.same_end_twice"), say("refused_whole.name_each_end_once")


def _routes(job: Job) -> Iterator[Breach]:
    bounds = house_bounds(job.house) if any(run.route for run in job.house.runs) else None
    for index, run in enumerate(job.house.runs):
        path = f"house.runs[{index}] ({run.id}).route"
        if len(run.route) == 1:
            yield path, say("refused_whole.route_of_one_point"), say("refused_whole.give_two_points")
        for number, (x, y, z) in enumerate(run.route):
            if abs(z) > HIGHEST_M:
                yield (
                    f"{path}[{number}]",
                    say("refused_whole.no_house_so_high", z=z),
                    say("refused_whole.check_point_and_unit"),
                )
            if bounds and not point_in_bounds((x, y), bounds, OUTSIDE_TOLERANCE_M):
                yield (
                    f"{path}[{number}]",
                    say("refused_whole.route_leaves_house", x=x, y=y),
                    say("refused_whole.check_point_or_route"),
                )


def _walls(job: Job) -> Iterator[Breach]:
    for index, wall in enumerate(job.house.walls):
        if wall_length_m(wall) < SHORTEST_WALL_M:
            yield (
                f"house.walls[{index}] ({wall.id}).end",
                say("refused_whole.wall_without_length"),
                say("refused_whole.give_two_ends"),
            )


def _openings(job: Job) -> Iterator[Breach]:
    walls = {wall.id: wall for wall in job.house.walls}
    for index, opening in enumerate(job.house.openings):
        wall = walls.get(opening.wall)
        if wall and opening.offset_m + opening.width_m > wall_length_m(wall) + 0.05:
            yield (
                f"house.openings[{index}] ({opening.id}).offset_m",
                say(
                    "refused_whole.opening_past_wall",
                    ends_m=opening.offset_m + opening.width_m,
                    wall=wall.id,
                    long_m=wall_length_m(wall),
                ),
                say("refused_whole.move_or_narrow"),
            )


def _reach(job: Job) -> Iterator[Breach]:
    """No house is as wide as a town, and none stands off the Earth."""
    shell = [(point, place) for place, points in _shell(job.house) for point in points]
    for axis in (0, 1) if shell else ():
        values = [point[axis] for point, _ in shell]
        low, high = min(values), max(values)
        if high - low > WIDEST_M or max(high, -low) > FURTHEST_M:
            far = max(low, high, key=abs)
            field, number, entity, part = shell[values.index(far)][1]
            yield (
                f"house.{field}[{number}] ({entity.id}){part}",  # type: ignore[attr-defined]
                say("refused_whole.reaches_too_far", far=far, most_km=WIDEST_M / 1000),
                say("refused_whole.check_point_and_unit"),
            )


_Place = tuple[str, int, Model, str]  # list, number in it, thing, and its field in words


def _shell(house: House) -> Iterator[tuple[_Place, Iterable[Point]]]:
    """Every point that the house itself has, with its place."""
    for number, storey in enumerate(house.storeys):
        for ring in (*storey.floor.outlines, *storey.floor.voids):
            yield ("storeys", number, storey, ".floor"), ring
    for number, wall in enumerate(house.walls):
        yield ("walls", number, wall, ""), (wall.start, wall.end)
    for number, room in enumerate(house.rooms):
        yield ("rooms", number, room, ".polygon"), room.polygon
    for number, body in enumerate(house.bodies):
        yield ("bodies", number, body, ".corner"), (body.corner,)


def _settings(job: Job) -> Iterator[Breach]:
    for index, box in enumerate(job.boxes):
        bands = [row.band for row in box.set_to]
        for number, band in enumerate(bands):
            if band in bands[:number]:
                yield (
                    f"boxes[{index}] ({box.id}).set_to[{number}].band",
                    say("refused_whole.band_named_twice", band=band),
                    say("refused_whole.say_band_once"),
                )


def _rooms(job: Job) -> Iterator[Breach]:
    for index, room in enumerate(job.house.rooms):
        if abs(polygon_area(room.polygon)) < 1e-4:
            yield (
                f"house.rooms[{index}] ({room.id}).polygon",
                say("refused_whole.room_without_area"),
                say("refused_whole.give_three_corners"),
            )


def _inside(job: Job) -> Iterator[Breach]:
    house = job.house
    bounds = house_bounds(house)
    if bounds is None:
        return
    placed: list[tuple[str, str, tuple[Model, ...]]] = [
        ("outlet", "house.outlets", house.outlets),
        ("meeting point", "house.meeting_points", house.meeting_points),
        ("splitter", "house.splitters", house.splitters),
        ("box", "boxes", job.boxes),
        ("reading", "readings", job.readings),
    ]
    for what, path, items in placed:
        for index, item in enumerate(items):
            position = item.position  # type: ignore[attr-defined]
            if position is not None and not point_in_bounds(position, bounds, OUTSIDE_TOLERANCE_M):
                yield (
                    f"{path}[{index}] ({item.id}).position",  # type: ignore[attr-defined]
                    say("refused_whole.outside_house", what=what, x=position[0], y=position[1]),
                    say(
                        "refused_whole.check_place_in_house",
                        x0=bounds[0],
                        x1=bounds[2],
                        y0=bounds[1],
                        y1=bounds[3],
                    ),
                )


RULES: tuple[Callable[[Job], Iterator[Breach]], ...] = (
    _duplicate_ids,
    _references,
    _cable_ends,
    _routes,
    _walls,
    _reach,
    _openings,
    _settings,
    _rooms,
    _inside,
)


def require_house(house: House, *, where: str = "house") -> None:
    """Hold a house alone to the rules of a whole document, as a reader of foreign files must.

    `where` is what it is called in the refusal. Raises BadInput for the first broken rule, naming the
    field's path.
    """
    require_whole(Job(id="check", title="check", house=house), where=where)
