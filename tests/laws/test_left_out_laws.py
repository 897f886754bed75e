"""What second bounces leave out, over drawn houses: proven for every receiver, and never more than said."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parents[1]))
from counts import counted
from radio_scenes import box_panels, strewn, three_storey_house
from rehaul.radio import Grid, Scene, Transmitter, grid_over
from rehaul.radio.band import as_bands
from rehaul.radio.bounces import add_bounces
from rehaul.radio.faint import FAINT_DB, LEFT_OUT, LEFT_OUT_DB
from rehaul.radio.lanes import few_for
from rehaul.radio.losstable import THICKNESS_TOLERANCE
from rehaul.radio.solve import on_grid, problem
from rehaul.radio.summed import begin
from rehaul.radio.tables import folded, lane_tables

BANDS = as_bands((2.442e9, 5.5e9, 6.525e9))
HEIGHTS_M = (1.0, 3.7, 6.4)
ALL_DB = 1e6  # nothing is as faint as this
PLACE = st.tuples(st.floats(0.3, 8.7), st.floats(0.3, 7.7), st.floats(0.3, 6.7))


def drawn_house(seed: int, panels: int) -> Scene:
    """Four walls round panels and plates thrown about in them."""
    loose = strewn(np.random.default_rng(seed), panels, plates=2)
    kinds = np.append(loose.panel_kind, [0, 1, 2, 0]).astype(np.int32)
    return Scene(np.vstack([loose.panels_m, box_panels(0, 0, 9, 8, 0, 7)]), kinds, loose.plates, loose.kinds)


def powers(
    scene: Scene, transmitter: Transmitter, grid: Grid, bounces: int, faint_db: float
) -> tuple[np.ndarray, np.ndarray]:
    """Power of every receiver (receiver, band), and the share of it that is said to be left out."""
    of = problem(scene, transmitter, BANDS)
    gain, sd = on_grid(scene, of, grid, "direct", "mixed", 1)
    power, scatter = np.zeros((2, gain[0].size, few_for(len(BANDS))), dtype=np.float32)
    begin(
        gain.reshape(len(BANDS), -1), np.ascontiguousarray(sd[0]).reshape(-1), of.shadowing_db, power, scatter
    )
    left_out = add_bounces(
        (of.bodies, of.body_table), folded(scene), lane_tables(scene, BANDS, THICKNESS_TOLERANCE, False),
        (of.source, of.axis, of.pattern),
        ((grid.x0_m, grid.y0_m), grid.step_m, np.array(grid.z_m), grid.ny, grid.nx, of.free_db),
        (of.nearest_m, of.together), bounces, power, scatter, faint_db,
    )  # fmt: skip
    return power[:, : len(BANDS)].astype(float), left_out


def check(scene: Scene, transmitter: Transmitter, grid: Grid) -> float:
    """The bound holds for every receiver and band; returns the largest share that was left out."""
    once, nothing = powers(scene, transmitter, grid, 1, FAINT_DB)
    whole, none = powers(scene, transmitter, grid, 2, ALL_DB)
    found, left_out = powers(scene, transmitter, grid, 2, FAINT_DB)
    assert not nothing.any() and not none.any()
    missing = (whole - found) / once
    assert (missing <= left_out[:, None] + 1e-5).all()
    assert left_out.max() <= LEFT_OUT
    assert (10 * np.log10(whole / found)).max() <= LEFT_OUT_DB
    assert missing.min() > -1e-5  # nothing is found that is not there
    return float(left_out.max())


@settings(max_examples=counted(12, 60), deadline=None)
@given(st.integers(0, 10**6), st.integers(3, 40), PLACE)
def test_what_is_left_out_is_proven(seed: int, panels: int, place: tuple[float, float, float]) -> None:
    grid = grid_over(0.13, 0.17, 8.9, 7.9, 0.57, HEIGHTS_M)
    check(drawn_house(seed, panels), Transmitter(place, 20.0, "ceiling"), grid)


@settings(max_examples=counted(4, 20), deadline=None)
@given(PLACE)
def test_and_in_a_house_of_three_storeys(place: tuple[float, float, float]) -> None:
    grid = grid_over(0, 0, 12, 9, 0.5, HEIGHTS_M)
    assert check(three_storey_house(), Transmitter(place, 20.0, "wall", 40.0), grid) > 1e-3
