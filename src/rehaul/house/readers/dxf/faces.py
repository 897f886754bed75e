"""Walls from lines: two that run side by side are the faces of one wall, a lone one is its centre line."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from rehaul.house.geometry import PlainPoint
from rehaul.house.readers.strips import Strip

THINNEST_M, THICKEST_M = 0.05, 0.60
SHORTEST_PAIR_M = 0.20
SHORTEST_LONE_M = 0.50
PARALLEL_SINE = 0.03
WIDEST_GAP_M = 4.0
ONE_LINE_M = 0.03
FromTo = tuple[float, float]


@dataclass(frozen=True)
class WallRun:
    """A wall along one line, and the gaps in it, each from and to along the wall."""

    strip: Strip
    paired: bool  # both faces are drawn, so the thickness is known
    gaps: tuple[FromTo, ...] = ()


@dataclass
class _Line:
    """A drawn line and the parts of it that are not yet the face of a wall."""

    start: NDArray[np.float64]
    along: NDArray[np.float64]
    length_m: float
    free: list[FromTo]


def runs_of(lines: list[tuple[PlainPoint, PlainPoint]]) -> list[WallRun]:
    """All walls that lines draw, with gaps bridged where a wall runs on in line.

    `lines` are pairs of points [m]. Two that run side by side at 0.05 to 0.6 m are the faces of one wall; a
    lone one of 0.5 m and more is a centre line, taken as 0.1 m thick. Pairs come first, then lone ones; the
    order of the lines does not matter. **Validity**: straight walls. **Source**: docs/readers.md, "A drawing
    (DXF)".
    """
    drawn = [_line(start, end) for start, end in sorted({(min(a, b), max(a, b)) for a, b in lines})]
    candidates = []
    shapes = [shapely.LineString([line.start, line.start + line.along * line.length_m]) for line in drawn]
    near = shapely.STRtree(shapes).query(shapes, predicate="dwithin", distance=THICKEST_M)
    for index, other in sorted(zip(*near.tolist(), strict=True)):
        found = _facing(drawn[index], drawn[other]) if index < other else None
        if found:
            candidates.append((round(found[0], 3), index, other, found))
    candidates.sort(key=lambda item: item[:3])
    strips = [strip for _, i, j, found in candidates for strip in _pair(drawn[i], drawn[j], found)]
    lone = [
        _strip(line, span, 0.0, 0.1)
        for line in drawn
        for span in line.free
        if span[1] - span[0] >= SHORTEST_LONE_M
    ]
    return _bridged(strips, paired=True) + _bridged(lone, paired=False)


def _line(start: PlainPoint, end: PlainPoint) -> _Line:
    a, b = np.array(start), np.array(end)
    length = float(np.hypot(*(b - a)))
    return _Line(a, (b - a) / length, length, [(0.0, length)])


def _facing(one: _Line, other: _Line) -> tuple[float, float, FromTo, float] | None:
    """Distance, side, the stretch of `one` that faces `other`, and where that is on `other`."""
    across = np.array([-one.along[1], one.along[0]])
    if abs(float(other.along @ across)) > PARALLEL_SINE:
        return None
    relative = other.start - one.start
    offset = float(relative @ across)
    if not THINNEST_M <= abs(offset) <= THICKEST_M:
        return None
    shift = float(relative @ one.along)
    sign = 1.0 if float(one.along @ other.along) > 0 else -1.0
    low, high = sorted((shift, shift + sign * other.length_m))
    span = (max(0.0, low), min(one.length_m, high))
    return (abs(offset), offset, span, shift) if span[1] - span[0] >= SHORTEST_PAIR_M else None


def _pair(one: _Line, other: _Line, found: tuple[float, float, FromTo, float]) -> list[Strip]:
    """Strips where both lines are still free; what they cover is free no more."""
    thickness, offset, span, shift = found
    sign = 1.0 if float(one.along @ other.along) > 0 else -1.0
    strips = []
    for mine in list(one.free):
        for theirs in list(other.free):
            ends = sorted((shift + sign * theirs[0], shift + sign * theirs[1]))
            low, high = max(span[0], mine[0], ends[0]), min(span[1], mine[1], ends[1])
            if high - low >= max(SHORTEST_PAIR_M, 0.8 * thickness):
                strips.append(_strip(one, (low, high), offset / 2, thickness))
                one.free = _without(one.free, (low, high))
                back = sorted((sign * (low - shift), sign * (high - shift)))
                other.free = _without(other.free, (back[0], back[1]))
    return strips


def _without(free: list[FromTo], taken: FromTo) -> list[FromTo]:
    left = []
    for low, high in free:
        left += [(low, min(high, taken[0]))] if low < taken[0] else []
        left += [(max(low, taken[1]), high)] if high > taken[1] else []
    return [span for span in left if span[1] - span[0] > 1e-3]


def _strip(line: _Line, span: FromTo, aside_m: float, thickness_m: float) -> Strip:
    base = line.start + np.array([-line.along[1], line.along[0]]) * aside_m
    ends = (base + line.along * span[0], base + line.along * span[1])
    start, end = ((round(float(p[0]), 4), round(float(p[1]), 4)) for p in ends)
    return Strip(start, end, round(thickness_m, 4))


def _bridged(strips: list[Strip], *, paired: bool) -> list[WallRun]:
    """Strips that run on in one line, joined; the stretch between is a gap in the wall."""
    waiting = sorted(strips, key=lambda strip: (strip.start, strip.end))
    runs = []
    while waiting:
        first = waiting.pop(0)
        members = [(0.0, first.length_m)]
        grown = True
        while grown:
            grown = False
            for other in waiting:
                along, across = first.measure(np.array([other.start, other.end]))
                span = (float(along.min()), float(along.max()))
                near = min(abs(span[0] - m[1]) for m in members), min(abs(span[1] - m[0]) for m in members)
                same = abs(other.thickness_m - first.thickness_m) <= ONE_LINE_M
                if same and float(np.abs(across).max()) <= ONE_LINE_M and min(near) <= WIDEST_GAP_M:
                    members.append(span)
                    waiting.remove(other)
                    grown = True
                    break
        runs.append(_run(first, sorted(members), paired))
    return runs


def _run(first: Strip, members: list[FromTo], paired: bool) -> WallRun:
    low, high = members[0][0], max(member[1] for member in members)
    origin, along = np.array(first.start), first.along
    ends = (origin + along * low, origin + along * high)
    start, end = ((round(float(p[0]), 4), round(float(p[1]), 4)) for p in ends)
    gaps, reached = [], members[0][1]
    for begin, stop in members[1:]:
        if begin - reached > 0.3:
            gaps.append((round(reached - low, 4), round(begin - low, 4)))
        reached = max(reached, stop)
    return WallRun(Strip(start, end, first.thickness_m), paired, tuple(gaps))
