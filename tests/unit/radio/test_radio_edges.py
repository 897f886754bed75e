"""Bends: which edges are found, how far round, and how they add to the field."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parents[2]))
from radio_scenes import strewn
from rehaul.radio import LayeredKind, Scene, Transmitter, field, field_at, grid_over, kind, plate
from rehaul.radio.band import as_bands
from rehaul.radio.diffraction import bend, knife_edge_db
from rehaul.radio.edges import Edges
from rehaul.radio.tables import edges

BANDS = (2.442e9, 5.5e9, 6.5e9)
KINDS = (kind("metal-body"), kind("concrete-slab"), kind("door-hollow"), kind("stud-plasterboard"))


def scene_of(panels: list[tuple[float, ...]], kinds: list[int], plates: tuple = ()) -> Scene:
    return Scene(np.array(panels).reshape(-1, 6), np.array(kinds, dtype=np.int32), plates, KINDS)


def edges_of(scene: Scene) -> Edges:
    return edges(scene, as_bands(BANDS))


def test_a_screen_has_two_ends_and_a_top() -> None:
    found = edges_of(scene_of([(0, -2, 0, 2, 0, 2)], [0]))
    assert len(found.length_m) == 3
    assert sorted(found.length_m) == [2, 2, 4]


def test_door_in_a_concrete_wall_has_two_jambs_with_the_door_beside() -> None:
    wall = [(0, 0, 2, 0, 0, 2.5), (3, 0, 5, 0, 0, 2.5), (2, 0, 3, 0, 2, 2.5), (2, 0, 3, 0, 0, 2)]
    crossing_walls = [(0, -1, 0, 1, 0, 2.5), (5, -1, 5, 1, 0, 2.5)]
    ceiling = plate(2.5, [(-1, -2), (6, -2), (6, 2), (-1, 2)], 3)
    found = edges_of(scene_of(wall + crossing_walls, [1, 1, 1, 2, 1, 1], (ceiling,)))
    upright = found.along[:, 2] == 1
    jambs = upright & (np.abs(found.start_m[:, 1]) < 1e-9)
    assert sorted(found.start_m[jambs, 0]) == [2, 3]
    assert found.length_m[jambs] == pytest.approx(2.0)
    assert (found.beside_db[jambs] > 0.3).all()  # the shut door
    assert (found.beside_db[~jambs] == 0).all()


def test_light_walls_are_gone_through_not_round() -> None:
    assert len(edges_of(scene_of([(0, -2, 0, 2, 0, 2)], [3])).length_m) == 0


def test_rim_of_a_stair_void_points_into_the_slab() -> None:
    slab = plate(2.7, [(0, 0), (9, 0), (9, 9), (0, 9)], 1, ([(4, 4), (6, 4), (6, 6), (4, 6)],))
    found = edges_of(scene_of([], [], (slab,)))
    rim = np.abs(found.middle_m[:, :2] - 5).max(axis=1) < 1.5
    assert rim.sum() == 4
    away = found.middle_m[rim, :2] - 5
    assert (np.sum(away * found.inward[rim, :2], axis=1) > 0).all()


def test_the_shortest_way_round_by_search() -> None:
    """The bend's length is the least over all places on the edge, and its angle is that of the two legs."""
    rng = np.random.default_rng(4)
    seen = 0
    for _ in range(200):
        start, along, into = rng.normal(size=3), rng.normal(size=3), rng.normal(size=3)
        along /= np.linalg.norm(along)
        into -= (into @ along) * along
        into /= np.linalg.norm(into)
        a, b = rng.normal(size=3) * 2, rng.normal(size=3) * 2
        way, first, angle, place = bend(start, along, 2.0, into, *a, *b)
        if way < 0:
            continue
        seen += 1
        spots = start + np.linspace(0, 2, 20001)[:, None] * along
        ways = np.linalg.norm(spots - a, axis=1) + np.linalg.norm(spots - b, axis=1)
        assert way == pytest.approx(ways.min(), abs=1e-6)
        corner = start + place * along
        legs = corner - a, b - corner
        assert first == pytest.approx(np.linalg.norm(legs[0]))
        cosine = legs[0] @ legs[1] / np.linalg.norm(legs[0]) / np.linalg.norm(legs[1])
        assert angle == pytest.approx(np.arccos(cosine), abs=1e-6)
    assert seen > 10


def test_power_behind_a_tall_screen_by_hand() -> None:
    """Only the near end counts: free space over the bent way, and a knife edge."""
    screen = scene_of([(0, -50, 0, 0.5, -50, 50)], [0])
    source, point, frequency = np.array([-3.0, -1.0, 1.0]), np.array([2.0, -1.5, 1.0]), 5.5e9
    corner, wave = np.array([0, 0.5, 1.0]), 299792458 / frequency
    first, second = np.linalg.norm(corner - source), np.linalg.norm(point - corner)
    cosine = (corner - source) @ (point - corner) / first / second
    nu = np.arccos(cosine) * np.sqrt(2 * first * second / (wave * (first + second)))
    bent = -20 * np.log10(4 * np.pi * (first + second) / wave) - knife_edge_db(nu)
    direct = field_at(screen, Transmitter(tuple(source)), [point], (frequency,)).gain_db[0, 0]
    full = field_at(screen, Transmitter(tuple(source)), [point], (frequency,), "full").gain_db[0, 0]
    assert full == pytest.approx(10 * np.log10(10 ** (bent / 10) + 10 ** (direct / 10)), abs=0.1)


def test_grid_and_points_agree() -> None:
    rng = np.random.default_rng(1)
    heavy = tuple(LayeredKind(k.name, k.structure, k.sd_db) for k in (KINDS[0], KINDS[1]) * 4)
    loose = strewn(rng, 25)
    scene = Scene(loose.panels_m, loose.panel_kind, loose.plates, heavy)
    grid = grid_over(0.013, 0.027, 9, 9, 1.03, (1.0, 4.0))
    transmitter = Transmitter((4.3, 3.9, 2.1), 20.0, "ceiling")
    fast = field(scene, transmitter, grid, BANDS, "full")
    slow = field_at(scene, transmitter, grid.points_m(), BANDS, "full")
    assert np.abs(fast.gain_db.reshape(3, -1) - slow.gain_db).max() < 0.05
    assert (fast.gain_db >= field(scene, transmitter, grid, BANDS, "reflections").gain_db - 1e-4).all()
