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
    scene: Scene, position_m: ArrayLike, places: Grid | Cells | ArrayLike
) -> NDArray[np.float32]:
    """Crossings of each kind between a transmitter and every receiver.

    Parameters: `position_m` (3,), the transmitter, or (n, 3) of several; `places`, a Grid, some Cells of one,
    or points (k, 3) [m]. Returns (kind, storey, y, x) or (kind, k), of several with an axis for them before:
    whole numbers of pieces, and of a body that part of one crossing by which its loss there is what it is
    straight through.
    **Validity**, **Source**: the same straight path as `field` at the direct level.
    """
    sources = np.array(position_m, dtype=np.float64)
    if sources.ndim == 1:
        found: NDArray[np.float32] = crossing_counts(scene, sources[None], places)[0]
        return found
    if isinstance(places, Cells):
        return places.of(_on_grid(scene, sources, places.grid))
    if isinstance(places, Grid):
        return _on_grid(scene, sources, places)
    points = as_points(places)
    counts = np.empty((len(sources), len(scene.kinds), len(points)), dtype=np.float32)
    for n, source in enumerate(sources):
        counts[n] = _at_points(scene, source, points)
    return counts


def _on_grid(scene: Scene, sources: NDArray[np.float64], grid: Grid) -> NDArray[np.float32]:
    """Crossings of each kind from each source (n, kind, storey, y, x)."""
    kinds, pieces, (storeys, ny, nx) = len(scene.kinds), flat(scene), grid.shape
    nothing = np.zeros(kinds, dtype=np.float32)
    origin, heights = (grid.x0_m, grid.y0_m), np.array(grid.z_m)
    found = np.zeros((len(sources), storeys, ny, kinds, nx), dtype=np.float32)
    shade_grid(
        *pieces, any_order(pieces), np.zeros((kinds, 1, 2), dtype=np.float32), nothing, sources,
        origin, grid.step_m, heights, found, COUNT,
    )  # fmt: skip
    counts = np.ascontiguousarray(found.transpose(0, 3, 1, 2, 4))
    for k, some, one_each in _by_kind(scene):
        parts = np.zeros((len(sources), storeys, ny, 2, nx), dtype=np.float32)
        round_grid(some, one_each, sources, origin, grid.step_m, heights, False, parts)
        counts[:, k] += parts[:, :, :, 0]
    return counts


def _at_points(scene: Scene, source: NDArray[np.float64], points: NDArray[np.float64]) -> NDArray[np.float32]:
    """Crossings of each kind from one source (kind, k)."""
    kinds, pieces = len(scene.kinds), flat(scene)
    nothing = np.zeros(kinds, dtype=np.float32)
    table = np.zeros((kinds, kinds, COSINE_STEPS + 2), dtype=np.float32)
    table[np.arange(kinds), np.arange(kinds)] = 1.0  # each kind counts in a row of its own
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
