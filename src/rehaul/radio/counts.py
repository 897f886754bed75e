"""How often a straight path passes through each construction: what a correction of its loss multiplies."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rehaul.radio.field import as_points
from rehaul.radio.geometry import any_order
from rehaul.radio.grid import Grid
from rehaul.radio.losstable import COSINE_STEPS
from rehaul.radio.scene import Scene
from rehaul.radio.shadow import shade_grid
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
    kinds = len(scene.kinds)
    table = np.zeros((kinds, kinds, COSINE_STEPS + 2), dtype=np.float32)
    table[np.arange(kinds), np.arange(kinds)] = 1.0  # each kind counts in a row of its own
    nothing = np.zeros(kinds, dtype=np.float32)
    source = np.array(position_m, dtype=np.float64)
    pieces = flat(scene)
    if isinstance(places, Grid):
        storeys, ny, nx = places.shape
        found = np.zeros((storeys, ny, kinds + 2, nx), dtype=np.float32)
        shade_grid(
            *pieces, any_order(pieces), table, nothing, source,
            (places.x0_m, places.y0_m), places.step_m, np.array(places.z_m), found, False,
        )  # fmt: skip
        return np.ascontiguousarray(found[:, :, :kinds].transpose(2, 0, 1, 3))
    points = as_points(places)
    out = np.empty((len(points), kinds + 2), dtype=np.float32)
    straight_losses(*pieces, table, nothing, source, points, out)
    return np.ascontiguousarray(out[:, :kinds].T)
