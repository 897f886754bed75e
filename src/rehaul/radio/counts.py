"""How often a straight path passes through each construction: what a correction of its loss multiplies."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rehaul.radio.field import as_points
from rehaul.radio.grid import Grid
from rehaul.radio.losstable import COSINE_STEPS
from rehaul.radio.scene import Scene
from rehaul.radio.straight import straight_losses
from rehaul.radio.tables import flat


def crossing_counts(
    scene: Scene, position_m: tuple[float, float, float], places: Grid | ArrayLike
) -> NDArray[np.float32]:
    """Crossings of each kind between a transmitter and every receiver.

    Parameters: `position_m`, the transmitter; `places`, a Grid or points (k, 3) [m]. Returns whole
    numbers as (kind, storey, y, x) or (kind, k).
    **Validity**, **Source**: the same straight path as `field` at the direct level.
    """
    points = places.points_m() if isinstance(places, Grid) else as_points(places)
    kinds = len(scene.kinds)
    table = np.zeros((kinds, kinds, COSINE_STEPS + 2), dtype=np.float32)
    table[np.arange(kinds), np.arange(kinds)] = 1.0  # each kind counts in a row of its own
    out = np.empty((len(points), kinds + 2), dtype=np.float32)
    source = np.array(position_m, dtype=np.float64)
    straight_losses(*flat(scene), table, np.zeros(kinds, dtype=np.float32), source, points, out)
    counts = np.ascontiguousarray(out[:, :kinds].T)
    return counts.reshape(kinds, *places.shape) if isinstance(places, Grid) else counts
