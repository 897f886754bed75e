"""Where each room lies: side by side as the words say, with a wall's thickness between."""

from __future__ import annotations

import re
from dataclasses import dataclass

from rehaul.house.readers.room_list.entries import Listing, RoomEntry, StoreyEntry
from rehaul.house.readers.room_list.words import LENGTH, leading_name, length_m, options
from rehaul.units import METRES_PER_FOOT
from rehaul.words import say

SIDES = ("right of", "left of", "above", "below")
_AT = re.compile(r"^at\s+(-?[\d.,]+)\s*/\s*(-?[\d.,]+)$")
_ALONG = re.compile(rf"^(?P<length>{LENGTH})\s+along$")
_THROUGH = re.compile(rf"^through\s+(?P<length>{LENGTH})$")
REMEDY = "refused_rooms.write_example_right_hall"


@dataclass
class ClearSpace:
    """A room's clear space on the plan, metres."""

    entry: RoomEntry
    x0: float
    y0: float
    x1: float
    y1: float
    beside: str | None = None  # the room it was measured from
    lived_in: bool = True
    void: bool = False  # open to the storey below

    @classmethod
    def at(cls, entry: RoomEntry, x0: float, y0: float) -> ClearSpace:
        """A room's clear space with its lower left corner, of least x and y, at a point [m].

        Its size is the entry's; beside what it lies is not known yet.
        """
        return cls(entry, x0, y0, x0 + entry.width_m, y0 + entry.length_m)


@dataclass(frozen=True)
class _Wish:
    """What the words after a room's size ask for."""

    side: str = ""  # one of SIDES, "over", "at", or nothing
    other: str = ""
    align: str = "start"
    along_m: float = 0.0
    through_m: float | None = None
    x_m: float = 0.0
    y_m: float = 0.0
    lived_in: bool = True
    void: bool = False


def place_storey(
    listing: Listing, storey: StoreyEntry, below: dict[str, ClearSpace], notes: list[str]
) -> dict[str, ClearSpace]:
    """The rooms of a storey by name, placed as their words say; `below` holds those of the storeys under it.

    In the order of the list. A room waits until the one it is placed from stands. Raises BadInput, which
    names the line, where rooms wait for each other or a word is not understood.
    """
    names = [room.name for room in storey.rooms]
    wishes = {room.name: _wish(listing, room, names, list(below)) for room in storey.rooms}
    placed: dict[str, ClearSpace] = {}
    waiting = list(storey.rooms)
    while waiting:
        ready = [room for room in waiting if _can_place(wishes[room.name], placed)]
        if not ready:
            room = waiting[0]
            raise listing.refuse(
                room.line,
                say("refused_rooms.rooms_wait_for_each_other", name=room.name, other=wishes[room.name].other),
                say("refused_rooms.place_one_them_from"),
            )
        for room in ready:
            wish = wishes[room.name]
            box = _placed(storey, room, wish, placed, below)
            box.lived_in, box.void = wish.lived_in, wish.void
            placed[room.name] = box
            if below and not wish.side:
                notes.append(say("readers.stands_over_nothing", room=room.name))
        waiting = [room for room in waiting if room.name not in placed]
    return {room.name: placed[room.name] for room in storey.rooms}


def _can_place(wish: _Wish, placed: dict[str, ClearSpace]) -> bool:
    return wish.side not in SIDES or wish.other in placed


def _placed(
    storey: StoreyEntry,
    room: RoomEntry,
    wish: _Wish,
    placed: dict[str, ClearSpace],
    below: dict[str, ClearSpace],
) -> ClearSpace:
    if wish.side == "over":
        base = below[wish.other]
        return ClearSpace.at(room, base.x0, base.y1 - room.length_m)
    if wish.side == "at":
        return ClearSpace.at(room, wish.x_m, wish.y_m)
    if not wish.side:
        return ClearSpace.at(room, 0.0, -room.length_m)
    other = placed[wish.other]
    gap_m = wish.through_m or storey.inner_m
    if wish.side in ("right of", "left of"):
        x0 = other.x1 + gap_m if wish.side == "right of" else other.x0 - gap_m - room.width_m
        slack = (other.y1 - other.y0) - room.length_m
        box = ClearSpace.at(room, x0, other.y1 - room.length_m - _shift_m(wish, slack))
    else:
        y0 = other.y1 + gap_m if wish.side == "above" else other.y0 - gap_m - room.length_m
        slack = (other.x1 - other.x0) - room.width_m
        box = ClearSpace.at(room, other.x0 + _shift_m(wish, slack), y0)
    box.beside = wish.other
    return box


def _shift_m(wish: _Wish, slack_m: float) -> float:
    """How far the room is moved from being flush with the left or the top."""
    share = {"start": 0.0, "centre": 0.5, "end": 1.0}[wish.align]
    return wish.along_m + share * slack_m


def _wish(listing: Listing, room: RoomEntry, names: list[str], lower: list[str]) -> _Wish:
    wish: dict[str, object] = {}
    first_words = room.words
    for side in (*SIDES, "over"):
        if re.match(rf"{side}\b", first_words, re.IGNORECASE):
            known = lower if side == "over" else [name for name in names if name != room.name]
            found = leading_name(first_words[len(side) :].strip(), known)
            if found is None:
                storey = "a storey below" if side == "over" else "this storey"
                raise listing.refuse(
                    room.line,
                    say("refused_rooms.names_no_other_room", first_words=first_words, storey=storey),
                    say("refused_rooms.check_name_rooms_are"),
                )
            wish |= {"side": side, "other": found[0]}
            first_words = found[1]
    for option in options(first_words):
        wish |= _option(listing, room, option)
    if not wish.get("side") and room is not _first(listing, room):
        raise listing.refuse(
            room.line, say("refused_rooms.nothing_says_where_lies", name=room.name), say(REMEDY)
        )
    return _Wish(**wish)  # type: ignore[arg-type]


def _first(listing: Listing, room: RoomEntry) -> RoomEntry:
    return next(storey.rooms[0] for storey in listing.storeys if room in storey.rooms)


def _option(listing: Listing, room: RoomEntry, option: str) -> dict[str, object]:
    plain = option.lower()
    if plain in ("start", "end"):
        return {"align": plain}
    if plain in ("centre", "center", "middle"):
        return {"align": "centre"}
    if plain == "not lived in":
        return {"lived_in": False}
    if plain == "void":
        return {"void": True, "lived_in": False}
    if found := _ALONG.match(plain):
        return {"along_m": length_m(listing, found["length"], room.line)}
    if found := _THROUGH.match(plain):
        return {"through_m": length_m(listing, found["length"], room.line)}
    if found := _AT.match(plain):
        x, y = (float(part.replace(",", ".")) for part in found.groups())
        scale = METRES_PER_FOOT if listing.imperial else 1.0
        return {"side": "at", "x_m": x * scale, "y_m": y * scale}
    raise listing.refuse(room.line, say("refused_rooms.option_not_understood", option=option), say(REMEDY))
