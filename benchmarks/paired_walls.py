"""Walls from the lines of their faces: two faces a wall's thickness apart are one wall.

Measured sets give walls as the outline of the free space, or as the lines of a drawing. A wall stands
where two parallel faces overlap; it is as thick as they are apart, and what it is made of is what an
unnamed wall of that thickness most likely is (`rehaul.facts.guesses`). A face without a partner is the
outside of the building, a shaft or a thing drawn beside a wall; it counts as a thin wall.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

THINNEST_M, THICKEST_M = 0.05, 0.45
LEAST_M = 0.02  # of an overlap that counts
REACH_M = 0.25  # from the end of a wall to the centre line of the one it meets


@dataclass(frozen=True)
class Wall:
    """A stretch of wall on its centre line, across one axis of the plan."""

    axis: int  # 0: runs along x, 1: along y
    at_m: float  # the other coordinate of its centre line
    start_m: float
    end_m: float
    thickness_m: float

    def ends_m(self) -> tuple[float, float, float, float]:
        """x0, y0, x1, y1."""
        if self.axis == 0:
            return self.start_m, self.at_m, self.end_m, self.at_m
        return self.at_m, self.start_m, self.at_m, self.end_m


def paired(faces_m: NDArray[np.float64], lone_m: float) -> list[Wall]:
    """Walls from faces (k, 4) that run along the axes of the plan; a lone face counts as `lone_m` thick.

    Stretch by stretch along each axis, faces are taken two by two from the nearest pair on.
    """
    walls: list[Wall] = []
    along = np.abs(faces_m[:, 2:] - faces_m[:, :2])
    for axis in (0, 1):
        run = faces_m[(along[:, axis] >= along[:, 1 - axis]) & (along[:, axis] > LEAST_M)]
        start, end = np.sort(run[:, [axis, axis + 2]], axis=1).T
        at = run[:, [1 - axis, 3 - axis]].mean(axis=1)
        cuts = np.unique(np.round(np.concatenate([start, end]), 3)).tolist()
        for low, high in pairwise(cuts):
            here = np.unique(at[(start <= low + LEAST_M) & (end >= high - LEAST_M)])
            walls += [Wall(axis, middle, low, high, thick) for middle, thick in _by_nearest(here)]
    whole = [wall for wall in _joined(walls) if wall.thickness_m or wall.end_m - wall.start_m > THICKEST_M]
    return [_met(wall, whole) if wall.thickness_m else replace(wall, thickness_m=lone_m) for wall in whole]


def _by_nearest(at_m: NDArray[np.float64]) -> list[tuple[float, float]]:
    """(middle, thickness) of faces paired from the nearest on; a lone face has no thickness."""
    places = at_m.tolist()
    gaps = [(b - a, a, b) for a, b in pairwise(places) if THINNEST_M <= b - a <= THICKEST_M]
    left, found = set(places), []
    for gap, a, b in sorted(gaps):
        if a in left and b in left:
            left -= {a, b}
            found.append(((a + b) / 2, gap))
    return found + [(alone, 0.0) for alone in sorted(left)]


def _joined(walls: list[Wall]) -> list[Wall]:
    """Stretches end to end as one wall."""
    joined: list[Wall] = []
    for wall in sorted(walls, key=lambda w: (w.axis, round(w.at_m, 2), round(w.thickness_m, 2), w.start_m)):
        last = joined[-1] if joined else wall
        alike = abs(last.at_m - wall.at_m) < 0.03 and abs(last.thickness_m - wall.thickness_m) < 0.03
        if alike and last.axis == wall.axis and last.end_m == wall.start_m:
            joined[-1] = replace(last, end_m=wall.end_m)
        else:
            joined.append(wall)
    return joined


def _met(wall: Wall, walls: list[Wall]) -> Wall:
    """The wall as far as the centre lines of the walls it meets, so that no ray slips through a corner."""
    ends = [wall.start_m, wall.end_m]
    for other in walls:
        if other.axis != wall.axis and other.start_m - REACH_M <= wall.at_m <= other.end_m + REACH_M:
            if 0 < wall.start_m - other.at_m <= REACH_M:
                ends[0] = min(ends[0], other.at_m)
            if 0 < other.at_m - wall.end_m <= REACH_M:
                ends[1] = max(ends[1], other.at_m)
    return replace(wall, start_m=ends[0], end_m=ends[1])
