"""Each room with its half of the walls around it, evened out so that neighbours share their edges.

A tape is good to a few centimetres, so the sizes around a loop never close. Sides that face each other, or
run on in one line, are put at their common mean; a misfit larger than a wall cannot be evened out.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

import shapely

from rehaul.house.readers.room_list.entries import Listing, StoreyEntry
from rehaul.house.readers.room_list.placing import ClearSpace
from rehaul.words import say

CLOSING_M = 0.15  # misfit that is evened out between facing sides
FLUSH_M = 0.08  # sides of neighbours that were meant to be in one line
FACING_M = 0.10  # least length over which two rooms count as facing
WORTH_TELLING_M = 0.015

RoomSide = tuple[str, str]  # room, and one of x0 x1 y0 y1


@dataclass(frozen=True)
class RoomCell:
    """A room and half of its walls, metres."""

    name: str
    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def shape(self) -> shapely.Polygon:
        return shapely.box(self.x0, self.y0, self.x1, self.y1)


def cells_of(
    listing: Listing, storey: StoreyEntry, boxes: dict[str, ClearSpace], notes: list[str]
) -> dict[str, RoomCell]:
    """The cells of a storey's rooms by name: each room with half of its walls, edges shared with neighbours.

    `boxes` are the rooms' clear spaces as placed [m]; a misfit of up to 0.15 m is evened out, and told in
    `notes` where it is worth it. Raises BadInput, which names the line, where two rooms overlap by more.
    **Source**: docs/readers.md, "A room list by tape or laser": what is done with it.
    """
    half_m = storey.inner_m / 2
    sides: dict[RoomSide, float] = {}
    for name, box in boxes.items():
        sides |= {
            (name, "x0"): box.x0 - half_m,
            (name, "x1"): box.x1 + half_m,
            (name, "y0"): box.y0 - half_m,
            (name, "y1"): box.y1 + half_m,
        }
    groups = _Groups(sides)
    for one, other in combinations(boxes, 2):
        _refuse_overlap(listing, boxes[one], boxes[other])
        if boxes[one].beside == other or boxes[other].beside == one:
            _join_placed(groups, boxes, one, other)
        for axis, cross in (("x", "y"), ("y", "x")):
            _join_near(groups, sides, one, other, axis, cross)
    even = groups.means()
    _tell(groups, sides, even, notes)
    return {
        name: RoomCell(name, even[name, "x0"], even[name, "y0"], even[name, "x1"], even[name, "y1"])
        for name in boxes
    }


class _Groups:
    """Sides that lie in one line (union-find)."""

    def __init__(self, sides: dict[RoomSide, float]) -> None:
        self._value = sides
        self._leader = {side: side for side in sides}

    def find(self, side: RoomSide) -> RoomSide:
        while self._leader[side] != side:
            side = self._leader[side]
        return side

    def join(self, one: RoomSide, other: RoomSide) -> None:
        low, high = sorted((self.find(one), self.find(other)))
        self._leader[high] = low

    def members(self) -> dict[RoomSide, list[RoomSide]]:
        found: dict[RoomSide, list[RoomSide]] = {}
        for side in self._leader:
            found.setdefault(self.find(side), []).append(side)
        return found

    def means(self) -> dict[RoomSide, float]:
        result: dict[RoomSide, float] = {}
        for group in self.members().values():
            mean = round(sum(self._value[side] for side in group) / len(group), 4)
            result |= dict.fromkeys(group, mean)
        return result


def _refuse_overlap(listing: Listing, one: ClearSpace, other: ClearSpace) -> None:
    across = min(one.x1, other.x1) - max(one.x0, other.x0)
    along = min(one.y1, other.y1) - max(one.y0, other.y0)
    if min(across, along) > CLOSING_M:
        later = max(one, other, key=lambda box: box.entry.line)
        earlier = one if later is other else other
        raise listing.refuse(
            later.entry.line,
            say(
                "refused_rooms.rooms_overlap",
                name=later.entry.name,
                other=earlier.entry.name,
                across=across,
                along=along,
            ),
            say("refused_rooms.check_sizes_say_where"),
        )


def _join_placed(groups: _Groups, boxes: dict[str, ClearSpace], one: str, other: str) -> None:
    """A room placed beside another shares its wall, however thick."""
    a, b = boxes[one], boxes[other]
    gaps = {("x1", "x0"): b.x0 - a.x1, ("x0", "x1"): a.x0 - b.x1, ("y1", "y0"): b.y0 - a.y1}
    gaps["y0", "y1"] = a.y0 - b.y1
    mine, theirs = max(gaps, key=lambda pair: gaps[pair])
    groups.join((one, mine), (other, theirs))


def _join_near(
    groups: _Groups, sides: dict[RoomSide, float], one: str, other: str, axis: str, cross: str
) -> None:
    shared = min(sides[one, f"{cross}1"], sides[other, f"{cross}1"]) - max(
        sides[one, f"{cross}0"], sides[other, f"{cross}0"]
    )
    for mine, theirs in ((f"{axis}1", f"{axis}0"), (f"{axis}0", f"{axis}1")):
        if shared > FACING_M and abs(sides[one, mine] - sides[other, theirs]) <= CLOSING_M:
            groups.join((one, mine), (other, theirs))
    for same in (f"{axis}0", f"{axis}1"):
        if shared > -CLOSING_M and abs(sides[one, same] - sides[other, same]) <= FLUSH_M:
            groups.join((one, same), (other, same))


def _tell(
    groups: _Groups, sides: dict[RoomSide, float], even: dict[RoomSide, float], notes: list[str]
) -> None:
    for group in groups.members().values():
        misfit = max(sides[side] for side in group) - min(sides[side] for side in group)
        moved = max(abs(sides[side] - even[side]) for side in group)
        if moved > WORTH_TELLING_M and misfit <= 2 * CLOSING_M:
            names = sorted({name for name, _ in group})
            notes.append(say("readers.sizes_miss_closing", rooms=names, misfit_cm=misfit * 100))
