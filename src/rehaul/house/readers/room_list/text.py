"""Plain lines: `Kitchen 3.10 x 4.20 right of Hall`. One thing a line; a hash starts a remark."""

from __future__ import annotations

import re

from rehaul.facts.foreign_names import Subject
from rehaul.house.readers.room_list.entries import (
    Build,
    Listing,
    OpeningEntry,
    RoomEntry,
    StoreyEntry,
)
from rehaul.house.readers.room_list.words import BY, LENGTH, build, length_m, options, require_span
from rehaul.words import say

OPENING_KINDS = ("door", "window", "gap", "open")
MOST_ROOMS = 500
LONGEST_LINE = 300
_SETTING = re.compile(r"^(house|units|storey|story|outer|inner|floor)\b[\s:]*(.*)$", re.IGNORECASE)
_OPENING = re.compile(rf"^({'|'.join(OPENING_KINDS)})\s+(.+)$", re.IGNORECASE)
_ROOM = re.compile(
    rf"^(?P<name>.+?)[\s:,]+(?P<width>{LENGTH}){BY}(?P<length>{LENGTH})(?:[\s,]+(?P<words>.*))?$"
)
_NO_NAME = re.compile(rf"^{LENGTH}{BY}{LENGTH}")


def parse_lines(text: str, where: str) -> Listing:
    """Everything that stands in the list, unplaced, line by line; a hash starts a remark.

    `where` is the file's name, for refusals. Raises BadInput, which names the line.
    """
    listing = Listing(where)
    defaults: dict[str, Build] = {}
    for line, raw in enumerate(text.splitlines(), start=1):
        content = raw.split("#", 1)[0].strip()
        if content:
            take_line(listing, defaults, line, content)
    return listing


def take_line(listing: Listing, defaults: dict[str, Build], line: int, content: str) -> None:
    """Add one line to the listing: a room, an opening or a setting.

    `defaults` holds constructions named before the first storey; `line` counts from 1 and `content` has no
    remark. Raises BadInput, which names the line, where it is none of these, or over 300 letters long.
    **Source**: docs/readers.md, "A room list by tape or laser".
    """
    if len(content) > LONGEST_LINE:
        raise listing.refuse(
            line,
            say("refused_rooms.line_over_letters_long", longest_line=LONGEST_LINE),
            say("refused_rooms.write_one_thing_line"),
        )
    content = " ".join(content.split())
    setting = _SETTING.match(content)
    opening = _OPENING.match(content)
    if _looks_like_a_room(content) and not opening:
        _take_room(listing, defaults, line, content)
    elif opening:
        current_storey(listing, defaults, line).openings.append(
            OpeningEntry(line, opening[1].lower(), opening[2].strip())
        )
    elif setting:
        _take_setting(listing, defaults, line, setting[1].lower(), setting[2].strip())
    else:
        raise listing.refuse(
            line,
            say("refused_rooms.line_not_understood", content=content[:40]),
            say("refused_rooms.write_room_like_kitchen"),
        )


def _looks_like_a_room(content: str) -> bool:
    return _ROOM.match(content) is not None or _NO_NAME.match(content) is not None


def _take_room(listing: Listing, defaults: dict[str, Build], line: int, content: str) -> None:
    found = _ROOM.match(content)
    if found is None:
        raise listing.refuse(
            line, say("refused_rooms.room_no_name"), say("refused_rooms.write_name_before_size")
        )
    add_room(
        listing,
        current_storey(listing, defaults, line),
        RoomEntry(
            line,
            found["name"].strip(" :,"),
            length_m(listing, found["width"], line),
            length_m(listing, found["length"], line),
            (found["words"] or "").strip(),
        ),
    )


def add_room(listing: Listing, storey: StoreyEntry, room: RoomEntry) -> None:
    """Add a room to a storey of the listing.

    Its name must be new in the whole house, whatever the case, and have at most 80 letters; a list has at
    most 500 rooms. Raises BadInput, which names the line, otherwise.
    """
    for other in (known for floor in listing.storeys for known in floor.rooms):
        if other.name.casefold() == room.name.casefold():
            raise listing.refuse(
                room.line,
                say("refused_rooms.already_room_on_line", name=other.name, line=other.line),
                say("refused_rooms.give_every_room_name"),
            )
    if len(room.name) > 80:
        raise listing.refuse(
            room.line, say("refused_rooms.rooms_name_too_long"), say("refused_rooms.use_at_most_80")
        )
    if sum(len(floor.rooms) for floor in listing.storeys) >= MOST_ROOMS:
        raise listing.refuse(
            room.line,
            say("refused_rooms.more_than_rooms", most_rooms=MOST_ROOMS),
            say("refused_rooms.split_list_building"),
        )
    storey.rooms.append(room)


def current_storey(listing: Listing, defaults: dict[str, Build], line: int) -> StoreyEntry:
    """The storey that lines belong to now; a list that names none gets a ground floor.

    `defaults` as in `new_storey`.
    """
    if not listing.storeys:
        new_storey(listing, defaults, line, "Ground floor")
    return listing.storeys[-1]


def new_storey(listing: Listing, defaults: dict[str, Build], line: int, name: str) -> StoreyEntry:
    """Start a storey with the constructions named so far, and hand it back.

    `defaults` are those by part (`outer`, `inner`, `floor`). Raises BadInput, which names the line, for a
    name that another storey has.
    """
    if any(storey.name.casefold() == name.casefold() for storey in listing.storeys):
        raise listing.refuse(
            line, say("refused_rooms.already_storey", name=name), say("refused_rooms.give_name_own")
        )
    storey = StoreyEntry(line, name)
    for part, value in defaults.items():
        setattr(storey, part, value)
    listing.storeys.append(storey)
    return storey


def _take_setting(listing: Listing, defaults: dict[str, Build], line: int, key: str, value: str) -> None:
    if key in ("storey", "story"):
        _take_storey(listing, defaults, line, value)
    elif key == "house":
        listing.house = value[:80] or "House"
    elif key == "units":
        if value.lower() not in ("metric", "feet"):
            raise listing.refuse(
                line,
                say("refused_rooms.units_are_not_known", value=value),
                say("refused_rooms.write_units_metric_units"),
            )
        listing.imperial = value.lower() == "feet"
    else:
        set_build(listing, defaults, line, key, value)


def set_build(listing: Listing, defaults: dict[str, Build], line: int, part: str, value: str) -> None:
    """Note what walls or the floor are made of: of this storey, or of all where none has begun.

    `part` is `outer`, `inner` or `floor`; `value` as `words.build` takes it, which raises BadInput.
    """
    subject: Subject = "floor" if part == "floor" else "wall"
    made = build(listing, subject, value, line)
    if listing.storeys:
        setattr(listing.storeys[-1], part, made)
    else:
        defaults[part] = made


def _take_storey(listing: Listing, defaults: dict[str, Build], line: int, value: str) -> None:
    name, *rest = options(value) or [""]
    if not name:
        raise listing.refuse(
            line, say("refused_rooms.storey_no_name"), say("refused_rooms.write_storey_ground_height")
        )
    storey = new_storey(listing, defaults, line, name)
    for option in rest:
        word, _, text = option.partition(" ")
        if word.lower() == "height":
            storey.height_m = length_m(listing, text, line)
            require_span(listing, "storey_height_m", storey.height_m, line)
        elif word.lower() == "at":
            storey.elevation_m = elevation_m(listing, text, line)
        else:
            raise listing.refuse(
                line,
                say("refused_rooms.option_not_understood", option=option),
                say("refused_rooms.write_storey_height_and_level"),
            )


def elevation_m(listing: Listing, text: str, line: int) -> float:
    """Height of a finished floor [m]; it may be zero or below.

    Otherwise as `words.length_m`, which raises BadInput. **Source**: docs/readers.md, "A room list by tape or
    laser": storeys.
    """
    plain = text.strip()
    sign = -1.0 if plain.startswith("-") else 1.0
    digits = plain.lstrip("+-").strip()
    if re.fullmatch(r"0+(?:[.,]0+)?\s*(?:m|cm|mm|ft|')?", digits):
        return 0.0
    return sign * length_m(listing, digits, line)
