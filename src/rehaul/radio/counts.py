"""How often a straight path passes through each construction: what a correction of its loss multiplies."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rehaul.radio.bodies import BodyTables, FlatBodies, round_grid, round_points
from rehaul.radio.geometry import any_order
from rehaul.radio.grid import Cells, Grid
from rehaul.radio.losstable import COSINE_STEPS, THICKNESS_TOLERANCE
from rehaul.radio.power_field import as_points
from rehaul.radio.scene import Scene
from rehaul.radio.shadow import COUNT, shade_grid
from rehaul.radio.straight import straight_losses
from rehaul.radio.tables import bodies, body_tables, flat


def crossing_counts(
    scene: Scene, position_m: tuple[float, float, float], places: Grid | Cells | ArrayLike
) -> NDArray[np.float32]:
    """Crossings of each kind between a transmitter and every receiver.

    Parameters: `position_m`, the transmitter; `places`, a Grid, some Cells of one, or points (k, 3) [m].
    Returns (kind, storey, y, x) or (kind, k): whole numbers of pieces, and of a body that part of one
    crossing by which its loss there is what it is straight through.
    **Validity**, **Source**: the same straight path as `field` at the direct level.
    """
    if isinstance(places, Cells):
        return places.of(crossing_counts(scene, position_m, places.grid))
    kinds = len(scene.kinds)
    nothing = np.zeros(kinds, dtype=np.float32)
    source = np.array(position_m, dtype=np.float64)
    pieces = flat(scene)
    if isinstance(places, Grid):
        storeys, ny, nx = places.shape
        found = np.zeros((storeys, ny, kinds, nx), dtype=np.float32)
        shade_grid(
            *pieces, any_order(pieces), np.zeros((kinds, 1, 2), dtype=np.float32), nothing, source,
            (places.x0_m, places.y0_m), places.step_m, np.array(places.z_m), found, COUNT,
        )  # fmt: skip
        counts = np.ascontiguousarray(found.transpose(2, 0, 1, 3))
        for k, some, one_each in _by_kind(scene):
            parts = np.zeros((storeys, ny, 2, nx), dtype=np.float32)
            origin, heights = (places.x0_m, places.y0_m), np.array(places.z_m)
            round_grid(some, one_each, source, origin, places.step_m, heights, False, parts)
            counts[k] += parts[:, :, 0]
        return counts
    table = np.zeros((kinds, kinds, COSINE_STEPS + 2), dtype=np.float32)
    table[np.arange(kinds), np.arange(kinds)] = 1.0  # each kind counts in a row of its own
    points = as_points(places)
    out = np.empty((len(points), kinds + 2), dtype=np.float32)
    straight_losses(*pieces, table, nothing, source, points, out)
    counts = np.ascontiguousarray(out[:, :kinds].T)
    for k, some, one_each in _by_kind(scene):
        parts = np.zeros((len(points), 2), dtype=np.float32)
        round_points(some, one_each, source, points, False, parts)
        counts[k] += parts[:, 0]
    return counts


@lru_cache(maxsize=16)
def _by_kind(scene: Scene) -> tuple[tuple[int, FlatBodies, BodyTables], ...]:
    """The bodies of each kind, in no band, with a spread of 1: what is summed then is how often."""
    if not scene.bodies:
        return ()
    found = []
    every, table = bodies(scene), body_tables(scene, (), THICKNESS_TOLERANCE)
    of_kind = np.array([body.kind for body in scene.bodies])
    for k in np.unique(of_kind):
        own = of_kind == k
        one_each = BodyTables(
            table.wave_root,
            np.ascontiguousarray(table.through[own]),
            np.ones(own.sum(), dtype=np.float32),
            table.per_db[own],
        )
        found.append((int(k), every.only(own), one_each))
    return tuple(found)
