"""Walls from what they cover on the plan: centre lines and thickness of long narrow polygons.

A straight wall covers one strip. A bent or curved one covers several: each is found between two faces that
run against each other at a wall's distance.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient

THICKEST_WALL_M = 0.9
THINNEST_WALL_M = 0.02
SHORTEST_STRIP_M = 0.05
FILLED_SHARE = 0.75  # a straight wall fills at least this share of its strip (its ends may be mitred)
OPPOSED_COSINE = -math.cos(math.radians(4))

StripPlan = NDArray[np.float64]


@dataclass(frozen=True)
class Strip:
    """A straight piece of wall on the plan, metres."""

    start: tuple[float, float]
    end: tuple[float, float]
    thickness_m: float

    @property
    def length_m(self) -> float:
        return math.dist(self.start, self.end)

    @property
    def along(self) -> StripPlan:
        """Unit vector from start to end."""
        return (np.array(self.end) - self.start) / self.length_m

    def measure(self, points: StripPlan) -> tuple[StripPlan, StripPlan]:
        """Distance of plan points along the strip from its start, and across from its middle [m].

        Each is (point,). `points` (point, xy). Across is positive to the left, seen from the start.
        """
        relative = points - np.array(self.start)
        along = self.along
        return relative @ along, relative @ np.array([-along[1], along[0]])


def strips_of(covered: BaseGeometry, direction: StripPlan | None = None) -> tuple[Strip, ...]:
    """The strips that a wall covers [m]: one where it is straight, several where it is bent.

    None where no two of its faces run along each other. `covered` is what it covers on the plan;
    `direction` (xy) says which way it runs, where that is known. **Validity**: walls of 0.02 to 0.9 m;
    round walls come in straight pieces.
    """
    if covered.is_empty:
        return ()
    straight = _straight(covered, direction)
    if straight:
        return (straight,)
    bent = tuple(strip for part in _polygons(covered) for strip in _between_faces(part))
    return bent


def _straight(covered: BaseGeometry, direction: StripPlan | None) -> Strip | None:
    along = direction if direction is not None else _long_side(covered)
    if along is None:
        return None
    along = along / np.hypot(*along)
    across = np.array([-along[1], along[0]])
    corners = shapely.get_coordinates(covered)
    side_low, side_high = (corners @ across).min(), (corners @ across).max()
    thickness = float(side_high - side_low)
    if not THINNEST_WALL_M <= thickness <= THICKEST_WALL_M:
        return None
    for part in _polygons(covered):
        reach = np.ptp(shapely.get_coordinates(part) @ along)
        if part.area > 0.01 * covered.area and part.area < FILLED_SHARE * reach * thickness:
            return None
    middle = across * (side_low + side_high) / 2
    far = np.array([(corners @ along).min() - 1, (corners @ along).max() + 1])
    line = shapely.LineString([along * far[0] + middle, along * far[1] + middle])
    inside = shapely.get_coordinates(line.intersection(covered)) @ along
    if not len(inside) or np.ptp(inside) < SHORTEST_STRIP_M:
        return None
    return Strip(_point(along * inside.min() + middle), _point(along * inside.max() + middle), thickness)


def _long_side(covered: BaseGeometry) -> StripPlan | None:
    box = covered.minimum_rotated_rectangle
    if box.geom_type != "Polygon":
        return None
    corners = shapely.get_coordinates(box)
    sides = corners[1:3] - corners[:2]
    return np.asarray(sides[np.argmax(np.hypot(sides[:, 0], sides[:, 1]))])


def _polygons(covered: BaseGeometry) -> Iterator[shapely.Polygon]:
    for part in shapely.get_parts(covered):
        if part.geom_type == "Polygon" and not part.is_empty:
            yield part


def _between_faces(part: shapely.Polygon) -> list[Strip]:
    """Pair opposed edges, the nearest first; each stretch of an edge is a face of one strip only."""
    part = orient(part.simplify(0.005))
    edges = [edge for ring in (part.exterior, *part.interiors) for edge in _edges(ring)]
    candidates = sorted(
        (found for i, one in enumerate(edges) for other in edges[i + 1 :] if (found := _strip(one, other))),
        key=lambda found: (round(found.thickness_m, 4), found.start, found.end),
    )
    taken: BaseGeometry = shapely.Polygon()
    chosen: list[Strip] = []
    for strip in candidates:
        area = shapely.LineString([strip.start, strip.end]).buffer(strip.thickness_m / 2, cap_style="flat")
        fresh = area.difference(taken).area
        if fresh > 0.5 * area.area and part.intersection(area).area > 0.95 * area.area:
            chosen.append(_to_the_ends(strip, part))
            taken = taken.union(area)
    return chosen


def _edges(ring: shapely.LinearRing) -> Iterator[tuple[StripPlan, StripPlan]]:
    points = shapely.get_coordinates(ring)
    for start, end in pairwise(points):
        if np.hypot(*(end - start)) > SHORTEST_STRIP_M / 2:
            yield start, end


def _strip(one: tuple[StripPlan, StripPlan], other: tuple[StripPlan, StripPlan]) -> Strip | None:
    """The strip between two edges of a polygon that run against each other, or none."""
    (a, b), (c, d) = one, other
    along, back = (b - a) / np.hypot(*(b - a)), (d - c) / np.hypot(*(d - c))
    if along @ back > OPPOSED_COSINE:
        return None
    across = np.array([-along[1], along[0]])
    thickness = float(((c + d) / 2 - a) @ across)  # the inside of an anticlockwise ring lies to the left
    low = max(0.0, float((d - a) @ along))
    high = min(float((b - a) @ along), float((c - a) @ along))
    if not THINNEST_WALL_M <= thickness <= THICKEST_WALL_M or high - low < SHORTEST_STRIP_M:
        return None
    if high - low < thickness / 4:
        return None
    middle = a + across * thickness / 2
    return Strip(_point(middle + along * low), _point(middle + along * high), thickness)


def _to_the_ends(strip: Strip, part: shapely.Polygon) -> Strip:
    """The strip drawn out inside the polygon by at most half a thickness: there it meets the next leg."""
    along, reach = strip.along, strip.thickness_m / 2
    start, end = np.array(strip.start) - along * reach, np.array(strip.end) + along * reach
    line = shapely.LineString([start, end]).intersection(part)
    for piece in shapely.get_parts(line):
        points = shapely.get_coordinates(piece)
        if piece.distance(shapely.Point((start + end) / 2)) < 1e-6 and len(points) > 1:
            distances = np.sort(points @ along)
            base = np.array(strip.start) - along * (np.array(strip.start) @ along)
            return Strip(
                _point(base + along * distances[0]), _point(base + along * distances[-1]), strip.thickness_m
            )
    return strip


def _point(position: StripPlan) -> tuple[float, float]:
    return (round(float(position[0]), 4), round(float(position[1]), 4))
