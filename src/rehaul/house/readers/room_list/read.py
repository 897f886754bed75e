"""The whole reading of a room list: lines, places, walls, openings, storeys."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise

from rehaul.errors import BadInput
from rehaul.facts.foreign_names import meaning
from rehaul.house.integrity import require_house
from rehaul.house.model import House, Opening, OpeningKind, Room, Slab, Storey, Wall
from rehaul.house.readers.report import ElementCounts, ReadReport
from rehaul.house.readers.room_list.cells import cells_of
from rehaul.house.readers.room_list.entries import FLOOR_M, HEIGHT_M, Listing, StoreyEntry
from rehaul.house.readers.room_list.openings import opened, put, understood
from rehaul.house.readers.room_list.placing import ClearSpace, place_storey
from rehaul.house.readers.room_list.table import looks_like_table, parse_table
from rehaul.house.readers.room_list.text import parse_lines
from rehaul.house.readers.room_list.walls import (
    Stretch,
    closed_at_corners,
    merged,
    outer_walls,
    reaching_out,
    stretches_of,
)
from rehaul.words import say

BELOW_GROUND = ("cellar", "basement", "keller", "sous-sol")


@dataclass
class _House:
    """The house while it is built."""

    storeys: list[Storey] = field(default_factory=list)
    rooms: list[Room] = field(default_factory=list)
    walls: list[Wall] = field(default_factory=list)
    openings: list[Opening] = field(default_factory=list)


def read_room_list(text: str, *, where: str = "room list") -> ReadReport:
    """The house that a room list describes, as plain lines or as a table with named columns.

    Both forms are in docs/readers.md. `where` is the file's name, for refusals. What was assumed stands in
    the notes of the report. Raises BadInput, which names the line where there is one; nothing is left out
    in silence.
    """
    if "\0" in text:
        raise BadInput(
            say("refused_rooms.no_text"), where=where, remedy=say("refused_rooms.save_list_as_text")
        )
    listing = parse_table(text, where) if looks_like_table(text) else parse_lines(text, where)
    if not any(storey.rooms for storey in listing.storeys):
        raise BadInput(
            say("refused_rooms.no_room_listed"),
            where=where,
            remedy=say("refused_rooms.write_one_line_kitchen"),
        )
    notes: list[str] = []
    house = _House()
    boxes: dict[str, ClearSpace] = {}
    ids = _storey_ids(listing)
    plans = []
    for storey in listing.storeys:
        placed = place_storey(listing, storey, boxes, notes)
        boxes |= placed
        plans.append(placed)
    _to_the_corner(listing, boxes)
    elevations_m = _elevations_m(listing, ids)
    for storey, storey_id, elevation_m, placed in zip(listing.storeys, ids, elevations_m, plans, strict=True):
        _add_storey(listing, house, storey, storey_id, elevation_m, placed, notes)
    whole = House(
        name=listing.house,
        storeys=tuple(house.storeys),
        rooms=tuple(house.rooms),
        walls=tuple(house.walls),
        openings=tuple(house.openings),
    )
    require_house(whole, where=where)
    return ReadReport(whole, _counts(whole), (), tuple(dict.fromkeys(notes)))


def _counts(house: House) -> ElementCounts:
    kinds = [opening.kind for opening in house.openings]
    return ElementCounts(
        storeys=len(house.storeys),
        walls=len(house.walls),
        doors=kinds.count(OpeningKind.DOOR),
        windows=kinds.count(OpeningKind.WINDOW),
        rooms=len(house.rooms),
    )


def _storey_ids(listing: Listing) -> list[str]:
    """1, 2, ... from the first storey that is not below ground; B1 downwards for those that are."""
    under = [
        (storey.elevation_m or 0.0) < -0.5 or any(word in storey.name.casefold() for word in BELOW_GROUND)
        for storey in listing.storeys
    ]
    below = under.index(False) if False in under else len(under)
    return [f"B{below - i}" if i < below else str(i - below + 1) for i in range(len(under))]


def _to_the_corner(listing: Listing, boxes: dict[str, ClearSpace]) -> None:
    """Move everything so that the outer faces of the house start at 0, 0."""
    outer_m = max(storey.outer_m for storey in listing.storeys)
    dx = outer_m - min(box.x0 for box in boxes.values())
    dy = outer_m - min(box.y0 for box in boxes.values())
    for box in boxes.values():
        box.x0, box.x1, box.y0, box.y1 = box.x0 + dx, box.x1 + dx, box.y0 + dy, box.y1 + dy


def _add_storey(
    listing: Listing,
    house: _House,
    storey: StoreyEntry,
    storey_id: str,
    elevation_m: float,
    boxes: dict[str, ClearSpace],
    notes: list[str],
) -> None:
    house.storeys.append(_storey(elevation_m, storey, storey_id, boxes, notes))
    if not boxes:
        notes.append(say("readers.no_rooms_listed", storey=storey.name))
        return
    cells = cells_of(listing, storey, boxes, notes)
    stretches = stretches_of(storey, boxes, cells)
    sought = [understood(listing, entry, list(boxes)) for entry in storey.openings]
    kept = opened(listing, sought, stretches)
    inner = [stretch for stretch in kept if not stretch.outer]
    if any(len(stretch.rooms) == 1 for stretch in inner):
        notes.append(say("readers.rooms_enclose_space", storey=storey.name))
    between = reaching_out(storey, merged(inner), cells)
    outside = closed_at_corners(storey, outer_walls(storey, cells), between)
    walls = [
        _wall(storey, storey_id, stretch, f"w{len(house.walls) + count}")
        for count, stretch in enumerate([*outside, *between], start=1)
    ]
    house.walls += walls
    house.rooms += [
        _room(storey_id, box, f"r{len(house.rooms) + count}") for count, box in enumerate(boxes.values(), 1)
    ]
    for item in sought:
        if item.entry.kind != "open":
            placed = put(listing, item, kept, boxes, walls)
            kind = placed.kind
            number = sum(1 for opening in house.openings if opening.kind is kind) + 1
            prefix = {OpeningKind.DOOR: "d", OpeningKind.WINDOW: "win", OpeningKind.GAP: "g"}[kind]
            house.openings.append(
                Opening(
                    id=f"{prefix}{number}",
                    wall=placed.wall.id,
                    kind=kind,
                    offset_m=placed.offset_m,
                    width_m=round(placed.width_m, 4),
                    height_m=round(placed.height_m, 4),
                    sill_m=round(placed.sill_m, 4),
                )
            )
            if placed.assumed:
                notes.append(say("readers.size_not_given", line=item.entry.line, kind=kind.value))


def _elevations_m(listing: Listing, ids: list[str]) -> list[float]:
    """Finished floors: as stated, else each on top of the one before, with storey 1 at 0."""
    rises = [
        (below.height_m or HEIGHT_M) + (above.floor.thickness_m or FLOOR_M)
        for below, above in pairwise(listing.storeys)
    ]
    first = listing.storeys[0].elevation_m
    ground = ids.index("1") if "1" in ids else len(ids) - 1
    heights = [-sum(rises[:ground]) if first is None else first]
    for storey, rise in zip(listing.storeys[1:], rises, strict=True):
        heights.append(heights[-1] + rise if storey.elevation_m is None else storey.elevation_m)
    return heights


def _storey(
    elevation_m: float, storey: StoreyEntry, storey_id: str, boxes: dict[str, ClearSpace], notes: list[str]
) -> Storey:
    floor_m = storey.floor.thickness_m or FLOOR_M
    if storey.height_m is None:
        notes.append(say("readers.no_height_given", storey=storey.name, height_m=HEIGHT_M))
    for code, made, thickness_m in (
        ("readers.outer_walls_so_thick", storey.outer, storey.outer_m),
        ("readers.inner_walls_so_thick", storey.inner, storey.inner_m),
    ):
        if made.thickness_m is None:
            notes.append(say(code, storey=storey.name, thickness_m=thickness_m))
    return Storey(
        id=storey_id,
        name=storey.name[:80],
        elevation_m=round(elevation_m, 4),
        height_m=round(storey.height_m or HEIGHT_M, 4),
        floor=Slab(
            construction=storey.floor.construction,
            thickness_m=round(floor_m, 4),
            voids=tuple(_corners(box) for box in boxes.values() if box.void),
        ),
    )


def _wall(storey: StoreyEntry, storey_id: str, stretch: Stretch, wall_id: str) -> Wall:
    made = storey.outer if stretch.outer else storey.inner
    return Wall(
        id=wall_id,
        storey=storey_id,
        start=stretch.start,
        end=stretch.end,
        thickness_m=stretch.thickness_m,
        construction=made.construction,
    )


def _room(storey_id: str, box: ClearSpace, room_id: str) -> Room:
    lived_in = box.lived_in and meaning("room", box.entry.name) != "not lived in"
    return Room(id=room_id, name=box.entry.name, storey=storey_id, polygon=_corners(box), lived_in=lived_in)


def _corners(box: ClearSpace) -> tuple[tuple[float, float], ...]:
    x0, y0, x1, y1 = (round(value, 4) for value in (box.x0, box.y0, box.x1, box.y1))
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
