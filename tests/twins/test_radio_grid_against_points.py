"""The grid kernel visits shadows; its twins test every piece against every receiver."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parents[1]))
from radio_scenes import strewn, three_storey_house
from rehaul.radio import Scene, Transmitter, field, field_at, grid_over
from rehaul.radio.tables import tables

BANDS = (2.442e9, 5.5e9, 6.5e9)


@pytest.mark.parametrize("seed", range(12))
def test_strewn_pieces(seed: int) -> None:
    rng = np.random.default_rng(seed)
    scene, grid = strewn(rng, 120), grid_over(-1, -1, 11, 11, 0.37, (1.0, 3.7, 6.4))
    transmitter = Transmitter(tuple(rng.uniform(0.5, 7, 3)), 20.0, "ceiling")
    fast = field(scene, transmitter, grid, BANDS)
    slow = field_at(scene, transmitter, grid.points_m(), BANDS)
    assert np.abs(fast.gain_db.reshape(3, -1) - slow.gain_db).max() < 2e-3
    assert np.abs(fast.sd_db.reshape(3, -1) - slow.sd_db).max() < 1e-4


@pytest.mark.parametrize("z_m", [0.413, 1.117, 2.613, 4.317, 7.019])
def test_house(z_m: float) -> None:
    """Odd heights: a ray exactly through the edge of a door may fall either side of it."""
    scene, grid = three_storey_house(), grid_over(0, 0, 12, 9, 0.25, (1.0, 3.7, 6.4))
    transmitter = Transmitter((4.13, 2.71, z_m))
    fast = field(scene, transmitter, grid, BANDS)
    slow = field_at(scene, transmitter, grid.points_m(), BANDS)
    assert np.abs(fast.gain_db.reshape(3, -1) - slow.gain_db).max() < 5e-3


def test_source_level_with_receivers() -> None:
    scene, grid = three_storey_house(), grid_over(0, 0, 12, 9, 0.25, (3.7,))
    transmitter = Transmitter((4.13, 2.71, 3.7))
    fast = field(scene, transmitter, grid, BANDS)
    slow = field_at(scene, transmitter, grid.points_m(), BANDS)
    assert np.abs(fast.gain_db.reshape(3, -1) - slow.gain_db).max() < 5e-3


@pytest.mark.parametrize("end", [(2.0, 3.5), (2.0, -3.5), (-2.0, 3.5), (-2.0, -3.5)])
@pytest.mark.parametrize("across", [False, True])
@pytest.mark.parametrize("turned", [False, True])
def test_a_wall_whose_end_is_level_with_the_source(
    end: tuple[float, float], across: bool, turned: bool
) -> None:
    """A box beside a corner: its ray along the row of the grid is the edge of the shadow."""
    x, y = end
    level, far = ((0.0, x), (y, x)) if across else ((x, 0.0), (x, y))
    ends = 5.0 + np.array([far, level] if turned else [level, far])
    walls = np.array([[*ends[0], *ends[1], 0.0, 9.0]])
    scene = Scene(walls, np.zeros(1, dtype=np.int32), (), strewn(np.random.default_rng(1), 1).kinds)
    grid, transmitter = grid_over(0, 0, 10, 10, 0.5, (1.0, 3.7)), Transmitter((5.0, 5.0, 2.0))
    points = grid.points_m()
    fast = field(scene, transmitter, grid, BANDS).gain_db.reshape(3, -1)
    slow = field_at(scene, transmitter, points, BANDS).gain_db
    from_source = points[:, :2] - (5.0, 5.0)
    beside = [np.abs(from_source[:, 0] * b[1] - from_source[:, 1] * b[0]) for b in (level, far)]
    clear = np.minimum(*beside) > 1e-6  # exactly on an edge it may fall either side
    open_air = field_at(
        Scene(np.empty((0, 6)), np.empty(0, dtype=np.int32), (), ()), transmitter, points, BANDS
    )
    assert 10 < (open_air.gain_db - slow > 0.01)[0, clear].sum() < 0.4 * clear.sum()
    assert np.abs(fast - slow)[:, clear].max() < 2e-3


def plain_loss_db(scene: Scene, source: np.ndarray, point: np.ndarray, band: int) -> float:
    """Eased loss of one ray the way a textbook does it: solve for where the line meets each plane."""
    table = tables(scene.kinds, _bands()).loss_db
    cosines = np.arange(table.shape[2]) / (table.shape[2] - 2)
    way = point - source
    total = 0.0
    for panel, kind in zip(scene.panels_m, scene.panel_kind, strict=True):
        foot, along = np.array([*panel[:2], 0.0]), np.array([panel[2] - panel[0], panel[3] - panel[1], 0.0])
        normal = np.cross(along, [0, 0, 1.0])
        normal /= np.linalg.norm(normal)
        t = normal @ (foot - source) / (normal @ way)
        meet = source + t * way
        u = (meet - foot) @ along / (along @ along)
        if 0 < t < 1 and 0 < u < 1 and panel[4] < meet[2] < panel[5]:
            total += np.interp(abs(normal @ way) / np.linalg.norm(way), cosines, table[kind, band] ** 2)
    for slab in scene.plates:
        t = (slab.z_m - source[2]) / way[2]
        if 0 < t < 1:
            meet = (source + t * way)[:2]
            if sum(_inside(ring, meet) for ring in (slab.outer_m, *slab.holes_m)) % 2:
                cosine = abs(way[2]) / np.linalg.norm(way)
                total += np.interp(cosine, cosines, table[slab.kind, band] ** 2)
    return float(np.sqrt(total))


def _bands():
    from rehaul.radio.band import as_bands

    return as_bands(BANDS)


def _inside(ring: np.ndarray, point: np.ndarray) -> bool:
    """Winding number by angles: nothing in common with the even-odd test of the program."""
    towards = ring - point
    angles = np.arctan2(towards[:, 1], towards[:, 0])
    turns = (np.diff(np.append(angles, angles[0])) + np.pi) % (2 * np.pi) - np.pi
    return bool(abs(turns.sum()) > np.pi)


def test_points_against_textbook() -> None:
    rng = np.random.default_rng(5)
    scene = strewn(rng, 60)
    empty = Scene(np.empty((0, 6)), np.empty(0, dtype=np.int32), (), ())
    points = rng.uniform(0, 8, (150, 3))
    transmitter = Transmitter((4.1, 5.2, 3.3))
    losses = (
        field_at(empty, transmitter, points, BANDS).gain_db
        - field_at(scene, transmitter, points, BANDS).gain_db
    )
    source = np.array(transmitter.position_m)
    for band in range(3):
        plain = [plain_loss_db(scene, source, point, band) for point in points]
        assert np.abs(losses[band] - plain).max() < 1e-2
