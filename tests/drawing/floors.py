"""One storey as rectangles that share their walls: packing, wall lines, doors and windows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from random import Random

Point = tuple[float, float]
NARROWEST_M = 1.5  # a room that somebody would still build
CLEAR_M = 0.12  # between an opening and the end of its wall, or the next opening


@dataclass(frozen=True)
class Rect:
    """A rectangle between centre lines of walls."""

    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def width(self) -> float:
        return self.x1 - self.x0

    @property
    def depth(self) -> float:
        return self.y1 - self.y0

    @property
    def area(self) -> float:
        return self.width * self.depth

    @property
    def corners(self) -> tuple[Point, ...]:
        """Anticlockwise from the lower left."""
        return ((self.x0, self.y0), (self.x1, self.y0), (self.x1, self.y1), (self.x0, self.y1))


@dataclass
class Line:
    """A straight wall between two ends, along x or along y, and what is cut into it."""

    upright: bool  # runs along y, at x = at
    at: float
    low: float
    high: float
    outer: bool
    thickness_m: float
    party: bool = False  # a neighbour lives behind it
    taken: list[tuple[float, float, str]] = field(default_factory=list)  # from, to, kind

    @property
    def ends(self) -> tuple[Point, Point]:
        if self.upright:
            return (self.at, self.low), (self.at, self.high)
        return (self.low, self.at), (self.high, self.at)

    def holds(self, upright: bool, at: float, middle: float) -> bool:
        return self.upright == upright and abs(self.at - at) < 1e-6 and self.low < middle < self.high

    def place(self, dice: Random, low: float, high: float, width_m: float, kind: str) -> float | None:
        """Cut an opening somewhere between `low` and `high`; its near edge from the wall's start, or None."""
        low, high = max(low, self.low) + CLEAR_M, min(high, self.high) - CLEAR_M
        free = [(low, high)]
        for start, end, _ in self.taken:
            free = [
                piece
                for one, other in free
                for piece in ((one, min(other, start - CLEAR_M)), (max(one, end + CLEAR_M), other))
            ]
        free = [(one, other) for one, other in free if other - one >= width_m]
        if not free:
            return None
        one, other = free[dice.randrange(len(free))]
        start = round(one + (other - one - width_m) * dice.random(), 2)
        self.taken.append((start, round(start + width_m, 2), kind))
        return round(start - self.low, 2)


@dataclass(frozen=True)
class Edge:
    """One side of a room on a wall line; `inward` is +1 where the room lies to the right of or above it."""

    upright: bool
    at: float
    low: float
    high: float
    inward: int
    line: Line


@dataclass
class Space:
    """A room between centre lines, anticlockwise, with straight corners."""

    corners: tuple[Point, ...]
    use: str = "room"
    edges: list[Edge] = field(default_factory=list)

    @property
    def area(self) -> float:
        following = (*self.corners[1:], self.corners[0])
        return 0.5 * sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(self.corners, following, strict=True))

    def inner(self) -> tuple[Point, ...]:
        """Its outline inside the walls."""
        shifted = [edge.at + edge.inward * edge.line.thickness_m / 2 for edge in self.edges]
        found = []
        for index, edge in enumerate(self.edges):
            before, here = shifted[index - 1], shifted[index]
            x, y = (here, before) if edge.upright else (before, here)
            found.append((round(x, 3), round(y, 3)))
        return tuple(found)

    def by_the_wall(self, dice: Random, reach_m: float = 0.05) -> Point:
        """A place at the foot of one of its walls, clear of doors where that can be."""
        point: Point = self.corners[0]
        long_enough = [edge for edge in self.edges if edge.high - edge.low > 0.9] or self.edges
        for _ in range(6):
            edge = long_enough[dice.randrange(len(long_enough))]
            margin = min(0.4, (edge.high - edge.low) / 2)
            along = edge.low + margin + (edge.high - edge.low - 2 * margin) * dice.random()
            off = edge.at + edge.inward * (edge.line.thickness_m / 2 + reach_m)
            point = (round(off, 2), round(along, 2)) if edge.upright else (round(along, 2), round(off, 2))
            if not any(low <= along <= high and kind != "window" for low, high, kind in edge.line.taken):
                return point
        return point

    def middle(self) -> Point:
        """A place surely inside: the middle of the largest rectangle at its first corner."""
        (x0, y0), (x1, y1) = self.corners[0], self.corners[2]
        return (round((x0 + x1) / 2, 2), round((y0 + y1) / 2, 2))


@dataclass
class Floor:
    """The walls and rooms of one storey."""

    lines: list[Line] = field(default_factory=list)
    spaces: list[Space] = field(default_factory=list)

    def join(self, spaces: list[Space]) -> None:
        """Add rooms and find the wall line of each of their sides."""
        for space in spaces:
            following = (*space.corners[1:], space.corners[0])
            for (ax, ay), (bx, by) in zip(space.corners, following, strict=True):
                upright = abs(ax - bx) < 1e-9
                at, low, high = (ax, *sorted((ay, by))) if upright else (ay, *sorted((ax, bx)))
                # Anticlockwise: going up, the room lies to the left; going right, it lies above.
                inward = (-1 if by > ay else 1) if upright else (1 if bx > ax else -1)
                line = next(line for line in self.lines if line.holds(upright, at, (low + high) / 2))
                space.edges.append(Edge(upright, at, low, high, inward, line))
        self.spaces += spaces

    def shared(self) -> Iterator[tuple[int, int, Line, float, float]]:
        """Pairs of rooms with a stretch of wall between them long enough for a door."""
        for one in range(len(self.spaces)):
            for other in range(one + 1, len(self.spaces)):
                for a in self.spaces[one].edges:
                    for b in self.spaces[other].edges:
                        if a.line is b.line and a.inward != b.inward:
                            low, high = max(a.low, b.low), min(a.high, b.high)
                            if high - low > 0.75 + 2 * CLEAR_M:
                                yield one, other, a.line, low, high


def surround(rect: Rect, thickness_m: float, *, party: frozenset[str] = frozenset()) -> list[Line]:
    """The four outer walls of a rectangle; sides named in `party` have a neighbour behind them."""
    return [
        Line(True, rect.x0, rect.y0, rect.y1, True, thickness_m, "left" in party),
        Line(True, rect.x1, rect.y0, rect.y1, True, thickness_m, "right" in party),
        Line(False, rect.y0, rect.x0, rect.x1, True, thickness_m, "front" in party),
        Line(False, rect.y1, rect.x0, rect.x1, True, thickness_m, "back" in party),
    ]


def pack(dice: Random, rect: Rect, count: int, thickness_m: float) -> tuple[list[Rect], list[Line]]:
    """About `count` rooms in a rectangle by cutting it in two again and again, with the walls between."""
    across = rect.width >= rect.depth
    side = rect.width if across else rect.depth
    if count < 2 or side < 2 * NARROWEST_M + 0.2:
        return [rect], []
    first = count // 2 if dice.random() < 0.5 else count - count // 2
    share = first / count * (0.8 + 0.4 * dice.random())
    cut_m = round(min(max(side * share, NARROWEST_M), side - NARROWEST_M), 2)
    if across:
        at = round(rect.x0 + cut_m, 2)
        parts = Rect(rect.x0, rect.y0, at, rect.y1), Rect(at, rect.y0, rect.x1, rect.y1)
        line = Line(True, at, rect.y0, rect.y1, False, thickness_m)
    else:
        at = round(rect.y0 + cut_m, 2)
        parts = Rect(rect.x0, rect.y0, rect.x1, at), Rect(rect.x0, at, rect.x1, rect.y1)
        line = Line(False, at, rect.x0, rect.x1, False, thickness_m)
    rooms, lines = pack(dice, parts[0], first, thickness_m)
    more, further = pack(dice, parts[1], count - first, thickness_m)
    return rooms + more, [line, *lines, *further]


def carve(dice: Random, rect: Rect, thickness_m: float) -> tuple[list[Space], list[Line]]:
    """A small store cut out of the upper right corner of a room, which becomes an L."""
    width = round(min(1.1 + 0.5 * dice.random(), rect.width / 2), 2)
    depth = round(min(1.1 + 0.5 * dice.random(), rect.depth / 2), 2)
    x, y = round(rect.x1 - width, 2), round(rect.y1 - depth, 2)
    bent = Space(
        ((rect.x0, rect.y0), (rect.x1, rect.y0), (rect.x1, y), (x, y), (x, rect.y1), (rect.x0, rect.y1))
    )
    store = Space(Rect(x, y, rect.x1, rect.y1).corners, "store")
    lines = [
        Line(True, x, y, rect.y1, False, thickness_m),
        Line(False, y, x, rect.x1, False, thickness_m),
    ]
    return [bent, store], lines
