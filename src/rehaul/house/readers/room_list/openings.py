"""Doors, windows and gaps of a room list: between two rooms, or in one side of a room."""

from __future__ import annotations

import re
from dataclasses import dataclass

from rehaul.house.model import OpeningKind, Wall
from rehaul.house.readers.room_list.entries import Listing, OpeningEntry
from rehaul.house.readers.room_list.placing import ClearSpace
from rehaul.house.readers.room_list.walls import Stretch
from rehaul.house.readers.room_list.words import BY, LENGTH, leading_name, length_m, options
from rehaul.words import say

SIDES = ("left", "right", "top", "bottom", "outside")
SIZES_M = {  # width, height, sill: taken where the list does not say
    "door": (0.80, 2.00, 0.0),
    "window": (1.20, 1.20, 0.90),
    "gap": (0.90, 2.00, 0.0),
}
ON_LINE_M = 0.5
REMEDY = "refused_rooms.write_example_door_hall"
_SIZE = re.compile(rf"^(?P<width>{LENGTH})(?:{BY}(?P<height>{LENGTH}))?(?:[\s,]+(?P<rest>.*))?$")


@dataclass(frozen=True)
class Sought:
    """An opening line, understood but not yet on a wall."""

    entry: OpeningEntry
    room: str
    other: str | None  # the room on the far side, or none
    side: str  # one of SIDES, or nothing between rooms
    rest: str


def understood(listing: Listing, entry: OpeningEntry, names: list[str]) -> Sought:
    """The rooms or the side that an opening line names, among the storey's rooms `names`.

    What stands behind them (sizes, place along the wall) comes back as `rest`, unread. Raises BadInput,
    which names the line, where it begins with no room or says neither side nor second room. **Source**:
    docs/readers.md, "A room list by tape or laser": openings.
    """
    first = leading_name(entry.words, names)
    if first is None:
        raise listing.refuse(
            entry.line, say("refused_rooms.starts_no_room_storey", words=entry.words), say(REMEDY)
        )
    room, rest = first
    dash = re.match(r"[-–—]\s*|to\s+", rest)
    if dash:
        rest = rest[dash.end() :]
    word, _, after = rest.partition(" ")
    if word.strip(",").lower() in SIDES:
        return Sought(entry, room, None, word.strip(",").lower(), after.strip(" ,"))
    second = leading_name(rest, names) if dash else None
    if second is None:
        raise listing.refuse(
            entry.line, say("refused_rooms.does_not_say_which", words=entry.words), say(REMEDY)
        )
    return Sought(entry, room, second[0], "", second[1])


def opened(listing: Listing, sought: list[Sought], stretches: list[Stretch]) -> list[Stretch]:
    """The stretches that stay when rooms said to be open to each other lose the wall between them.

    Lines of other kinds are passed over. Raises BadInput, which names the line, for rooms without a wall in
    common.
    """
    pairs = {}
    for item in sought:
        if item.entry.kind == "open":
            if item.other is None:
                raise listing.refuse(
                    item.entry.line,
                    say("refused_rooms.open_needs_two_rooms"),
                    say("refused_rooms.write_open_kitchen_pantry"),
                )
            pairs[tuple(sorted((item.room, item.other)))] = item
    kept = [stretch for stretch in stretches if stretch.rooms not in pairs]
    for pair, item in pairs.items():
        if not any(stretch.rooms == pair for stretch in stretches):
            raise listing.refuse(
                item.entry.line,
                say("refused_rooms.no_wall_common", room=item.room, other=item.other),
                say("refused_rooms.check_places"),
            )
    return kept


@dataclass(frozen=True)
class Placed:
    """An opening on a wall: what a house needs to know."""

    wall: Wall
    kind: OpeningKind
    offset_m: float
    width_m: float
    height_m: float
    sill_m: float
    assumed: bool  # its size was not given


def put(
    listing: Listing, item: Sought, stretches: list[Stretch], boxes: dict[str, ClearSpace], walls: list[Wall]
) -> Placed:
    """The opening on its wall, in the middle where the line does not say how far along [m].

    A size that is not given is a usual one, and `assumed` says so. Raises BadInput, which names the line,
    where there is no such wall or it is too short. **Source**: docs/readers.md, "A room list by tape or
    laser": openings.
    """
    stretch = _stretch(listing, item, stretches, boxes)
    width_m, height_m, sill_m, along_m, assumed = _sizes(listing, item)
    low, high = _clear(item, stretch, boxes)
    room_m = high - low
    if width_m > room_m + 0.02 or (along_m or 0.0) + width_m > room_m + 0.02:
        raise listing.refuse(
            item.entry.line,
            say("refused_rooms.opening_does_not_fit", kind=item.entry.kind, room_m=room_m),
            say(REMEDY),
        )
    if along_m is None:
        begin = low + (room_m - width_m) / 2
    else:  # measured from the left, or from the top
        begin = high - along_m - width_m if stretch.upright else low + along_m
    wall = _wall(stretch, begin + width_m / 2, walls)
    if wall is None:
        raise listing.refuse(
            item.entry.line, say("refused_rooms.no_wall_stands"), say("refused_rooms.check_thickness_walls")
        )
    origin = wall.start[1] if stretch.upright else wall.start[0]
    offset_m = max(0.0, round(begin - origin, 4))
    kind = OpeningKind(item.entry.kind)
    return Placed(wall, kind, offset_m, width_m, height_m, sill_m, assumed)


def _stretch(
    listing: Listing, item: Sought, stretches: list[Stretch], boxes: dict[str, ClearSpace]
) -> Stretch:
    if item.other is not None:
        pair = tuple(sorted((item.room, item.other)))
        fitting = [stretch for stretch in stretches if stretch.rooms == pair]
        problem = say("refused_rooms.no_wall_common", room=item.room, other=item.other)
    else:
        fitting = [
            stretch
            for stretch in stretches
            if stretch.rooms == (item.room,) and item.side in ("outside", _side(stretch, boxes[item.room]))
        ]
        problem = say("refused_rooms.no_outer_wall_on", room=item.room)
    if not fitting:
        raise listing.refuse(item.entry.line, problem, say("refused_rooms.check_names_places_rooms"))
    return max(fitting, key=lambda stretch: (round(stretch.length_m, 3), stretch.start))


def _side(stretch: Stretch, box: ClearSpace) -> str:
    if stretch.upright:
        return "left" if stretch.start[0] < (box.x0 + box.x1) / 2 else "right"
    return "bottom" if stretch.start[1] < (box.y0 + box.y1) / 2 else "top"


def _clear(item: Sought, stretch: Stretch, boxes: dict[str, ClearSpace]) -> tuple[float, float]:
    """From where to where the wall stands free in the rooms on both sides."""
    axis = 1 if stretch.upright else 0
    low, high = stretch.start[axis], stretch.end[axis]
    for name in {item.room, *stretch.rooms}:
        box = boxes[name]
        low = max(low, box.y0 if stretch.upright else box.x0)
        high = min(high, box.y1 if stretch.upright else box.x1)
    return low, high


def _wall(stretch: Stretch, middle: float, walls: list[Wall]) -> Wall | None:
    """The wall that stands at the middle of the opening, nearest to the stretch; None where none does."""
    axis = 1 if stretch.upright else 0
    best = []
    for wall in walls:
        upright = wall.start[0] == wall.end[0]
        aside = abs(wall.start[1 - axis] - stretch.start[1 - axis])
        if upright == stretch.upright and aside <= ON_LINE_M and wall.start[axis] <= middle <= wall.end[axis]:
            best.append((round(aside, 4), wall.id, wall))
    return min(best, key=lambda found: found[:2])[2] if best else None


def _sizes(listing: Listing, item: Sought) -> tuple[float, float, float, float | None, bool]:
    width_m, height_m, sill_m = SIZES_M[item.entry.kind]
    line, rest, along_m = item.entry.line, item.rest, None
    found = _SIZE.match(rest)
    if found and not re.match(rf"{LENGTH}\s+along", rest):
        width_m = length_m(listing, found["width"], line)
        height_m = length_m(listing, found["height"], line) if found["height"] else height_m
        rest = found["rest"] or ""
    for option in options(rest):
        if match := re.fullmatch(rf"(?P<length>{LENGTH})\s+along", option):
            along_m = length_m(listing, match["length"], line)
        elif match := re.fullmatch(rf"sill\s+(?P<length>{LENGTH})", option):
            sill_m = length_m(listing, match["length"], line)
        else:
            raise listing.refuse(line, say("refused_rooms.option_not_understood", option=option), say(REMEDY))
    return width_m, height_m, sill_m, along_m, not found
