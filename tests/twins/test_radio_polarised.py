"""Both polarisations followed on a grid, against the electric field as a vector in space, ray by ray."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parents[1]))
from radio_scenes import strewn, three_storey_house
from rehaul.errors import BadInput
from rehaul.radio import Grid, LayeredKind, Scene, Stack, Transmitter, crossings, field, field_at, grid_over
from rehaul.radio.layers import SlabLayer
from rehaul.radio.slab import slab_response

FREQUENCY = 5.5e9
SLABS = [
    ("brick", 0.2),
    ("plasterboard", 0.03),
    ("concrete", 0.1),
    ("wood", 0.04),
    ("glass", 0.006),
    ("wood", 0.06),
]
KINDS = tuple(LayeredKind(f"{m} {t}", Stack((SlabLayer(m, t),)), 3.0) for m, t in SLABS)


def vector_gain_db(scene: Scene, source: np.ndarray, point: np.ndarray) -> float:
    """Power of an upright unit field carried along the ray as a complex vector."""
    way = point - source
    distance = np.linalg.norm(way)
    k = way / distance
    upright = np.array([0, 0, 1.0]) - k[2] * k
    e = (upright / np.linalg.norm(upright)).astype(complex)
    for crossing in crossings(scene, tuple(source), tuple(point), (FREQUENCY,)):
        if crossing.piece == "panel":
            panel = scene.panels_m[crossing.index]
            normal = np.array([panel[1] - panel[3], panel[2] - panel[0], 0.0])
        else:
            normal = np.array([0, 0, 1.0])
        across = np.cross(normal, k)
        te = across / np.linalg.norm(across)
        tm = np.cross(te, k)
        stack = next(kind.structure for kind in scene.kinds if kind.name == crossing.kind)
        wave = slab_response(stack, FREQUENCY, crossing.angle_deg)
        e = wave.t_te * (e @ te) * te + wave.t_tm * (e @ tm) * tm
    spreading = (299792458 / FREQUENCY / (4 * np.pi * distance)) ** 2
    return float(10 * np.log10(spreading * np.sum(np.abs(e) ** 2)))


def compare(scene: Scene, source: np.ndarray, grid: Grid) -> np.ndarray:
    """Difference of every receiver in dB."""
    bands = (2.442e9, FREQUENCY)
    sender = Transmitter(tuple(source))
    fast = field(scene, sender, grid, bands, polarisation="upright", thickness_tolerance=0)
    slow = [vector_gain_db(scene, source, point) for point in grid.points_m()]
    return np.abs(fast.gain_db[1].ravel() - slow)


@pytest.mark.parametrize("source", [(4.13, 2.71, 2.317), (7.31, 6.17, 5.017)])
def test_house_as_a_vector(source: tuple[float, float, float]) -> None:
    house = three_storey_house()
    scene = Scene(house.panels_m, house.panel_kind, house.plates, (*KINDS, KINDS[2]))
    grid = grid_over(0.013, 0.027, 12, 9, 1.03, (1.0, 3.7, 6.4))
    assert compare(scene, np.array(source), grid).max() < 0.05


@pytest.mark.parametrize("seed", range(3))
def test_strewn_pieces_as_a_vector(seed: int) -> None:
    """Pieces at odd angles are not always met in the order assumed, which turns the field a little."""
    rng = np.random.default_rng(seed)
    loose = strewn(rng, 80)
    scene = Scene(loose.panels_m, loose.panel_kind, loose.plates, KINDS)
    grid = grid_over(0.013, 0.027, 10, 10, 1.03, (1.0, 3.7, 6.4))
    difference = compare(scene, rng.uniform(1, 7, 3), grid)
    assert np.median(difference) < 1e-3
    assert np.quantile(difference, 0.99) < 0.3


def test_straight_up_is_no_special_case() -> None:
    scene, grid = three_storey_house(), grid_over(0, 0, 12, 9, 0.5, (1.0, 3.7))
    found = field(scene, Transmitter((3.25, 2.25, 6.0)), grid, (FREQUENCY,), polarisation="upright")
    assert np.isfinite(found.gain_db).all()


def test_grids_only() -> None:
    with pytest.raises(BadInput, match="grids only"):
        field(three_storey_house(), Transmitter((1, 1, 1)), [(2, 2, 2)], (FREQUENCY,), polarisation="upright")
    assert field_at(three_storey_house(), Transmitter((1, 1, 1)), [(2, 2, 2)], (FREQUENCY,)).gain_db.size == 1


@pytest.mark.parametrize("options", [{"polarisation": "upright"}, {}, {"level": "reflections"}])
def test_parts_of_cells_are_the_mean_power_of_a_finer_grid(options: dict[str, str]) -> None:
    scene, grid = three_storey_house(), grid_over(0, 0, 12, 9, 0.75, (1.0, 3.7))
    sender, bands = Transmitter((3.25, 2.25, 2.2), mounting="ceiling"), (2.442e9, FREQUENCY)
    cells = field(scene, sender, grid, bands, parts=3, **options)  # type: ignore[arg-type]
    fine = field(scene, sender, grid_over(0, 0, 12, 9, 0.25, (1.0, 3.7)), bands, **options)  # type: ignore[arg-type]
    blocks = fine.gain_db.astype(float).reshape(2, 2, 12, 3, 16, 3)
    means = 10 * np.log10(np.mean(10 ** (blocks / 10), axis=(3, 5)))
    assert np.abs(cells.gain_db - means).max() < 1e-3
    spreads = fine.sd_db.reshape(blocks.shape).mean(axis=(3, 5))
    np.testing.assert_allclose(cells.sd_db, spreads, rtol=1e-5)
