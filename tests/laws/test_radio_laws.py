"""Physics as properties: energy, reciprocity, turning and moving the house, more wall means more loss."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parents[1]))
from radio_scenes import strewn, three_storey_house
from rehaul.facts.constructions import constructions
from rehaul.facts.materials import materials
from rehaul.radio import (
    FrequencyBand,
    Grid,
    Plate,
    Scene,
    SlabLayer,
    Stack,
    Transmitter,
    field,
    field_at,
    kind,
    loss_table,
)
from rehaul.radio import slab as slab_module
from rehaul.radio.slab import slab_response
from slab_losses import transmission_loss_db

BANDS = (2.442e9, 5.5e9, 6.5e9)
BULK = sorted(name for name, row in materials().items() if row.kind == "bulk")
ANY_LAYER = st.one_of(
    st.builds(SlabLayer, st.sampled_from(BULK), st.floats(0.0005, 0.4)),
    st.builds(SlabLayer, st.sampled_from(["foil", "metal lath", "low-e coating"]), st.just(0.0)),
)
ANY_STACK = st.builds(Stack, st.lists(ANY_LAYER, min_size=1, max_size=5).map(tuple))
GHZ, ANGLE_DEG = st.floats(2.4, 7.1), st.floats(0, 89.9)


@given(ANY_STACK, GHZ, ANGLE_DEG)
def test_a_slab_never_makes_power(stack: Stack, ghz: float, angle_deg: float) -> None:
    wave = slab_response(stack, ghz * 1e9, angle_deg)
    for t, r in ((wave.t_te, wave.r_te), (wave.t_tm, wave.r_tm)):
        assert abs(t) ** 2 + abs(r) ** 2 <= 1 + 1e-9


@given(ANY_STACK, GHZ, ANGLE_DEG)
def test_a_slab_is_the_same_from_both_sides(stack: Stack, ghz: float, angle_deg: float) -> None:
    turned = slab_response(Stack(stack.layers[::-1]), ghz * 1e9, angle_deg)
    wave = slab_response(stack, ghz * 1e9, angle_deg)
    assert abs(turned.t_te - wave.t_te) < 1e-9 and abs(turned.t_tm - wave.t_tm) < 1e-9


@given(st.floats(0.001, 0.3), GHZ, ANGLE_DEG)
def test_without_loss_nothing_is_lost(thickness_m: float, ghz: float, angle_deg: float) -> None:
    with pytest.MonkeyPatch.context() as patch:
        clear = materials()["glass"].model_copy(update={"conductivity_at_1_ghz": 0.0})
        patch.setattr(slab_module, "material", lambda name: clear)
        wave = slab_response(Stack((SlabLayer("glass", thickness_m),)), ghz * 1e9, angle_deg)
    assert abs(wave.t_te) ** 2 + abs(wave.r_te) ** 2 == pytest.approx(1, abs=1e-9)
    assert abs(wave.t_tm) ** 2 + abs(wave.r_tm) ** 2 == pytest.approx(1, abs=1e-9)


@given(st.sampled_from(["concrete", "brick", "plywood", "chipboard"]), st.floats(0.02, 0.3), GHZ)
def test_half_a_wave_thicker_is_more_loss(name: str, thickness_m: float, ghz: float) -> None:
    """Half a wavelength leaves the resonance where it was, so only the absorption grows."""
    half_wave_m = 0.299792458 / ghz / np.sqrt(materials()[name].permittivity) / 2
    thin = transmission_loss_db(Stack((SlabLayer(name, thickness_m),)), ghz * 1e9, 0.0)
    thick = transmission_loss_db(Stack((SlabLayer(name, thickness_m + half_wave_m),)), ghz * 1e9, 0.0)
    assert thick > thin


@given(st.lists(st.floats(0.02, 0.3), min_size=2, max_size=2), GHZ, ANGLE_DEG, st.sampled_from(BULK))
def test_two_halves_are_the_whole(halves: list[float], ghz: float, angle_deg: float, name: str) -> None:
    apart = slab_response(Stack(tuple(SlabLayer(name, half) for half in halves)), ghz * 1e9, angle_deg)
    whole = slab_response(Stack((SlabLayer(name, sum(halves)),)), ghz * 1e9, angle_deg)
    assert abs(apart.t_te - whole.t_te) < 1e-9 and abs(apart.r_tm - whole.r_tm) < 1e-9


@pytest.mark.parametrize("name", sorted(constructions()))
def test_every_construction_has_a_sane_table(name: str) -> None:
    for band in (FrequencyBand(2.442e9, 83e6), FrequencyBand(5.5e9, 700e6), FrequencyBand(6.525e9, 1.2e9)):
        table = loss_table(kind(name).structure, band)
        assert (table.loss_db >= 0).all() and np.isfinite(table.loss_db).all()
        assert (table.transmitted_te + table.reflected_te <= 1 + 1e-9).all()
        assert (table.transmitted_tm + table.reflected_tm <= 1 + 1e-9).all()
        assert 0.2 < table.loss_db[-1] < 60


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 10_000))
def test_a_path_is_the_same_both_ways(seed: int) -> None:
    rng = np.random.default_rng(seed)
    scene, (a, b) = strewn(rng, 40), rng.uniform(0, 8, (2, 3))
    there = field_at(scene, Transmitter(tuple(a)), [b], BANDS)
    back = field_at(scene, Transmitter(tuple(b)), [a], BANDS)
    assert there.gain_db == pytest.approx(back.gain_db, abs=1e-3)
    assert there.sd_db == pytest.approx(back.sd_db, abs=1e-4)


def moved(scene: Scene, turn: np.ndarray, shift: np.ndarray) -> Scene:
    """The scene with plan turned by a matrix, then shifted."""
    ends = scene.panels_m[:, :4].reshape(-1, 2) @ turn.T + shift[:2]
    panels = np.hstack([ends.reshape(-1, 4), scene.panels_m[:, 4:] + shift[2]])
    plates = tuple(
        Plate(
            slab.z_m + shift[2],
            slab.outer_m @ turn.T + shift[:2],
            tuple(hole @ turn.T + shift[:2] for hole in slab.holes_m),
            slab.kind,
        )
        for slab in scene.plates
    )
    return replace(scene, panels_m=panels, plates=plates)


@settings(max_examples=20, deadline=None)
@given(st.integers(0, 10_000), st.floats(0, 2 * np.pi))
def test_turning_and_moving_the_house_changes_nothing(seed: int, angle: float) -> None:
    rng = np.random.default_rng(seed)
    scene, points, start = strewn(rng, 40), rng.uniform(0, 8, (40, 3)), rng.uniform(0, 8, 3)
    turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
    shift = np.array([13.0, -7.0, 2.0])

    def carry(places: np.ndarray) -> np.ndarray:
        return np.hstack([places[:, :2] @ turn.T, places[:, 2:]]) + shift

    before = field_at(scene, Transmitter(tuple(start)), points, BANDS)
    after = field_at(
        moved(scene, turn, shift), Transmitter(tuple(carry(start[None])[0])), carry(points), BANDS
    )
    assert after.gain_db == pytest.approx(before.gain_db, abs=2e-3)


@settings(max_examples=20, deadline=None)
@given(st.integers(0, 10_000))
def test_one_more_wall_never_helps(seed: int) -> None:
    rng = np.random.default_rng(seed)
    scene, points = strewn(rng, 30), rng.uniform(0, 8, (60, 3))
    fewer = replace(scene, panels_m=scene.panels_m[:-1], panel_kind=scene.panel_kind[:-1])
    transmitter = Transmitter(tuple(rng.uniform(0, 8, 3)))
    more_walls = field_at(scene, transmitter, points, BANDS)
    fewer_walls = field_at(fewer, transmitter, points, BANDS)
    assert (more_walls.gain_db <= fewer_walls.gain_db + 1e-4).all()


@pytest.mark.parametrize("level", ["direct", "reflections", "full"])
def test_the_map_of_a_turned_house_is_the_turned_map(level: str) -> None:
    """A quarter turn counter-clockwise about the middle of the plan, and a shift; odd places avoid edges."""
    house, turn = three_storey_house(), np.array([[0.0, -1.0], [1.0, 0.0]])
    shift = np.array([9.0, 4.0, 1.5])
    source = np.array([4.137, 2.713, 2.317])
    there = np.array([*(turn @ source[:2] + shift[:2]), source[2] + shift[2]])
    grid = Grid(0.413, 0.371, 0.5, 23, 17, (1.01, 3.73))
    turned = Grid(9.0 - (0.371 + 16 * 0.5), 4.413, 0.5, 17, 23, (2.51, 5.23))
    before = field(house, Transmitter(tuple(source), 20, "ceiling"), grid, BANDS, level)  # type: ignore[arg-type]
    after = field(
        moved(house, turn, shift),
        Transmitter(tuple(there), 20, "ceiling"),
        turned,
        BANDS,
        level,  # type: ignore[arg-type]
    )
    expected = np.swapaxes(before.gain_db, 2, 3)[..., ::-1]
    assert np.abs(after.gain_db - expected).max() < 0.02


def test_same_input_same_bytes() -> None:
    grid, sender = Grid(0.4, 0.4, 0.5, 22, 16, (1.0, 3.7)), Transmitter((4.1, 2.7, 2.3))
    maps = [field(three_storey_house(), sender, grid, BANDS, "full").gain_db.tobytes() for _ in range(2)]
    assert maps[0] == maps[1]
