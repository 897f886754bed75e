"""Wall ends brought to where they meet: the centre line of the wall they run into.

Models and drawings end a wall at the face of the next one; left so, a path could slip between the two.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from rehaul.house.readers.strips import SHORTEST_STRIP_M, Strip

SLACK_M = 0.03
LEAST_SINE = 0.2  # walls at a flatter angle than about 12 degrees do not meet, they run along


def joined(strips: Sequence[Strip]) -> list[Strip]:
    """The same strips, each end moved by at most half the other wall's thickness to meet its centre line.

    Walls at a flatter angle than about 12 degrees are not brought together. A strip that would get shorter
    than a wall can be stays as it was. Order and number are kept; points are rounded. **Source**:
    docs/readers.md, "A building model (IFC)": ends are brought to the centre line of the wall they run into.
    """
    if len(strips) < 2:
        return list(strips)
    starts = np.array([strip.start for strip in strips])
    ends = np.array([strip.end for strip in strips])
    lengths = np.array([strip.length_m for strip in strips])
    along = (ends - starts) / lengths[:, None]
    thick = np.array([strip.thickness_m for strip in strips])
    result = []
    for index, strip in enumerate(strips):
        at_start = _reach_m(index, starts[index], -along[index], starts, along, lengths, thick)
        at_end = _reach_m(index, ends[index], along[index], starts, along, lengths, thick)
        if strip.length_m + at_start + at_end < SHORTEST_STRIP_M:
            result.append(strip)
            continue
        start = starts[index] - along[index] * at_start
        end = ends[index] + along[index] * at_end
        result.append(replace(strip, start=_rounded(start), end=_rounded(end)))
    return result


def _reach_m(
    index: int,
    tip: NDArray[np.float64],
    outward: NDArray[np.float64],
    starts: NDArray[np.float64],
    along: NDArray[np.float64],
    lengths: NDArray[np.float64],
    thick: NDArray[np.float64],
) -> float:
    """How far the tip must go outward (less than zero: back) to the nearest centre line it belongs to."""
    sine = outward[0] * along[:, 1] - outward[1] * along[:, 0]
    crossing = np.abs(sine) >= LEAST_SINE
    crossing[index] = False
    safe = np.where(crossing, sine, 1.0)
    gap = starts - tip
    reach = (gap[:, 0] * along[:, 1] - gap[:, 1] * along[:, 0]) / safe
    met = (gap[:, 0] * outward[1] - gap[:, 1] * outward[0]) / safe  # along the other wall
    margin = thick[index] / 2 + SLACK_M
    fits = crossing & (np.abs(reach) <= thick / 2 / np.abs(safe) + SLACK_M)
    fits &= (met >= -margin) & (met <= lengths + margin)
    if not fits.any():
        return 0.0
    return float(reach[fits][np.argmin(np.abs(reach[fits]))])


def _rounded(point: NDArray[np.float64]) -> tuple[float, float]:
    return (round(float(point[0]), 4), round(float(point[1]), 4))
