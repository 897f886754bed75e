"""Reflections on a grid by images of planes, against every panel tried alone, and against a room by hand."""

from __future__ import annotations

import sys
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parents[1]))
from radio_scenes import KINDS, box_panels, strewn, three_storey_house
from rehaul.radio import (
    Scene,
    SlabLayer,
    Stack,
    Transmitter,
    crossings,
    field,
    field_at,
    grid_over,
    plate,
)
from rehaul.radio.band import as_bands
from rehaul.radio.faint import FAINT_DB
from rehaul.radio.geometry import panel_cosine, plate_cosine
from rehaul.radio.losstable import COSINE_STEPS
from rehaul.radio.tables import flat, tables
from slab_losses import reflection_loss_db

BANDS = (2.442e9, 5.5e9, 6.5e9)
LEFT_OUT_DB = 0.05  # what pairs of mirrors fainter by FAINT_DB than all there is may add up to here


def test_faint_is_faint() -> None:
    assert FAINT_DB >= 20


@pytest.mark.parametrize("seed", range(4))
def test_strewn_pieces(seed: int) -> None:
    rng = np.random.default_rng(seed)
    scene, grid = strewn(rng, 40), grid_over(-1, -1, 11, 11, 1.1, (1.0, 3.7, 6.4))
    transmitter = Transmitter(tuple(rng.uniform(0.5, 7, 3)), 20.0, "ceiling")
    fast = field(scene, transmitter, grid, BANDS, "reflections")
    slow = field_at(scene, transmitter, grid.points_m(), BANDS, "reflections")
    difference = fast.gain_db.reshape(3, -1) - slow.gain_db
    assert np.abs(difference).max() < 5e-3  # single reflections are all followed
    assert np.abs(fast.sd_db.reshape(3, -1) - slow.sd_db).max() < 0.1


def test_house() -> None:
    scene, grid = three_storey_house(), grid_over(0.017, 0.031, 12, 9, 0.9, (1.0, 3.7, 6.4))
    transmitter = Transmitter((4.13, 2.71, 2.317), 20.0, "wall", 30.0)
    fast = field(scene, transmitter, grid, BANDS, "reflections")
    slow = field_at(scene, transmitter, grid.points_m(), BANDS, "reflections")
    difference = fast.gain_db.reshape(3, -1) - slow.gain_db
    assert np.abs(difference).max() < 5e-3  # single reflections are all followed


@pytest.mark.parametrize("count", [1, 4, 5, 9])
def test_any_number_of_bands(count: int) -> None:
    """Bands of a receiver are taken four and eight together; how many there are changes none of them."""
    rng = np.random.default_rng(11)
    scene, grid = strewn(rng, 30), grid_over(0.2, 0.1, 9, 9, 1.7, (1.0, 3.7))
    transmitter, bands = Transmitter((3.1, 4.2, 2.3), 20.0, "ceiling"), np.linspace(2.4e9, 6.9e9, 9)
    all_of_them = field(scene, transmitter, grid, bands, "reflections")
    slow = field_at(scene, transmitter, grid.points_m(), bands[:count], "reflections")
    some = field(scene, transmitter, grid, bands[:count], "reflections")
    assert np.abs(some.gain_db.reshape(count, -1) - slow.gain_db).max() < 5e-3
    assert some.gain_db == pytest.approx(all_of_them.gain_db[:count], abs=1e-4)
    assert some.sd_db.reshape(count, -1) == pytest.approx(slow.sd_db, abs=1e-2)
    twice = field(scene, transmitter, grid, bands[:count], "reflections", bounces=2)
    assert (twice.gain_db >= some.gain_db - 1e-3).all() and (twice.gain_db > some.gain_db + 0.01).any()


def test_empty_room_by_hand() -> None:
    """One box room, isotropic antennas: the straight ray and four images, written out."""
    room = Scene(box_panels(0, 0, 5, 4, 0, 3), np.zeros(4, dtype=np.int32), (), KINDS)
    source, point = np.array([1.3, 1.1, 1.5]), np.array([3.7, 2.9, 1.2])
    frequency = 5.5e9
    found = field_at(room, Transmitter(tuple(source)), [point], (frequency,), "reflections").gain_db[0, 0]
    images = [source * [-1, 1, 1], source * [1, -1, 1], [10 - 1.3, 1.1, 1.5], [1.3, 8 - 1.1, 1.5]]
    normals = [0, 1, 0, 1]
    wave = 299792458 / frequency
    total = (wave / (4 * np.pi * np.linalg.norm(point - source))) ** 2
    for image, axis in zip(np.array(images), normals, strict=True):
        way = point - image
        angle = np.degrees(np.arccos(abs(way[axis]) / np.linalg.norm(way)))
        mirror_db = _averaged_reflection_db(angle, frequency)
        total += (wave / (4 * np.pi * np.linalg.norm(way))) ** 2 * 10 ** (-mirror_db / 10)
    assert found == pytest.approx(10 * np.log10(total), abs=0.02)


def _averaged_reflection_db(angle_deg: float, frequency_hz: float) -> float:
    """Reflection of the first kind, averaged over ±5 % of thickness the way the tables say."""
    structure = KINDS[0].structure
    assert isinstance(structure, Stack)
    powers = []
    for stretch in 1 + 0.05 * np.linspace(-0.8, 0.8, 5):
        layers = tuple(SlabLayer(layer.material, layer.thickness_m * stretch) for layer in structure.layers)
        powers.append(10 ** (-reflection_loss_db(Stack(layers), frequency_hz, angle_deg) / 10))
    return float(-10 * np.log10(np.mean(powers)))


def test_a_plate_throws_back_downward() -> None:
    """Above the only plate nothing is added; below it the image adds."""
    ring = [(-9, -9), (9, -9), (9, 9), (-9, 9)]
    scene = Scene(np.empty((0, 6)), np.empty(0, dtype=np.int32), (plate(2.5, ring, 6),), KINDS)
    transmitter = Transmitter((0.0, 0.0, 1.0))
    points = [(2.0, 1.0, 1.2), (2.0, 1.0, 3.5)]
    more = field_at(scene, transmitter, points, BANDS, "reflections").gain_db
    less = field_at(scene, transmitter, points, BANDS).gain_db
    assert (more[:, 0] > less[:, 0] + 0.1).all()
    assert more[:, 1] == pytest.approx(less[:, 1], abs=1e-4)


def test_reflections_go_both_ways() -> None:
    rng = np.random.default_rng(9)
    scene = strewn(rng, 40)
    for _ in range(10):
        a, b = rng.uniform(0, 8, (2, 3))
        there = field_at(scene, Transmitter(tuple(a)), [b], BANDS, "reflections")
        back = field_at(scene, Transmitter(tuple(b)), [a], BANDS, "reflections")
        assert there.gain_db == pytest.approx(back.gain_db, abs=2e-3)


def plain_double_reflections(scene: Scene, source: np.ndarray, point: np.ndarray, band: int) -> float:
    """Power of all paths over two mirrors, every ordered pair of pieces tried on its own."""
    pieces, table = flat(scene), tables(scene.kinds, as_bands(BANDS))
    cosines = np.arange(COSINE_STEPS + 2) / COSINE_STEPS
    mirrors = [
        (_panel_plane(panel), k, panel, None)
        for panel, k in zip(pieces.panels_m, pieces.panel_kind, strict=True)
    ]
    for q, slab in enumerate(scene.plates):
        ring = pieces.edges_m[pieces.edge_start[q] : pieces.edge_start[q + 1]]
        mirrors.append(((np.array([0, 0, 1.0]), slab.z_m), slab.kind, None, ring))

    def bounce(mirror, start, end):
        """Image of start, its hit on the way to end and the cosine there; None where there is none."""
        (normal, offset), _, panel, ring = mirror
        before, after = normal @ start - offset, normal @ end - offset
        if before * after <= 1e-12:
            return None
        image = start - 2 * before * normal
        if panel is not None:
            cosine = panel_cosine(panel, *image, *end)
        else:
            cosine = plate_cosine(offset, ring, *image, *end)
        return None if cosine < 0 else (image, image + (end - image) * before / (before + after), cosine)

    def lost(kind, cosine):
        return np.interp(cosine, cosines, table.reflection_db[kind, band])

    total = 0.0
    for one in mirrors:
        (normal, offset), _, _, _ = one
        image = source - 2 * (normal @ source - offset) * normal
        for two in mirrors:
            if two is one:
                continue
            last = bounce(two, image, point)
            if last is None:
                continue
            early = bounce(one, source, last[1])
            if early is None:
                continue
            corners = [source, early[1], last[1], point]
            loss = lost(one[1], early[2]) + lost(two[1], last[2])
            for a, b in pairwise(corners):
                near, far = a + (b - a) * 1e-7, b + (a - b) * 1e-7
                loss += sum(c.loss_db[band] for c in crossings(scene, tuple(near), tuple(far), BANDS))
            way = np.linalg.norm(point - last[0])
            total += (299792458 / BANDS[band] / (4 * np.pi * way)) ** 2 * 10 ** (-loss / 10)
    return total


def _panel_plane(panel: np.ndarray) -> tuple[np.ndarray, float]:
    normal = np.array([panel[1] - panel[3], panel[2] - panel[0], 0.0])
    normal /= np.linalg.norm(normal)
    return normal, float(normal[:2] @ panel[:2])


@pytest.mark.parametrize("seed", range(3))
def test_double_reflections_pair_by_pair(seed: int) -> None:
    rng = np.random.default_rng(seed)
    scene = strewn(rng, 14, plates=2)
    scene = Scene(
        np.vstack([scene.panels_m, box_panels(0, 0, 9, 8, 0, 7)]),
        np.append(scene.panel_kind, [0, 1, 2, 0]).astype(np.int32),
        scene.plates,
        scene.kinds,
    )
    grid = grid_over(0.51, 0.37, 8.4, 7.6, 2.31, (1.03, 4.11))
    source = rng.uniform(1, 6, 3)
    once = field(scene, Transmitter(tuple(source)), grid, BANDS, "reflections")
    twice = field(scene, Transmitter(tuple(source)), grid, BANDS, "reflections", bounces=2)
    for band in (0, 1):
        more = [plain_double_reflections(scene, source, point, band) for point in grid.points_m()]
        expected = 10 * np.log10(10 ** (once.gain_db[band].ravel() / 10) + more)
        assert np.abs(twice.gain_db[band].ravel() - expected).max() < LEFT_OUT_DB
    assert (twice.gain_db - once.gain_db).max() > 0.5
