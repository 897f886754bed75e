"""Pieces of the field by hand: a body's usual room, spread of thickness, a field turned by walls."""

from __future__ import annotations

import numpy as np
import pytest

from rehaul.errors import BadInput
from rehaul.radio.diffuse import DiffuseRoom, usual_room
from rehaul.radio.losstable import _nodes
from rehaul.radio.spans import add_span, turn_span


def test_the_usual_room_is_a_living_room() -> None:
    """4.5 by 4 by 2.5 m: floor and ceiling 36 m² and 17 m of wall by 2.5, 78.5 m²; 45 m³."""
    assert usual_room() == (78.5, 45.0)
    assert usual_room().surface_m2 == 2 * 4.5 * 4 + 2 * (4.5 + 4) * 2.5
    assert usual_room().volume_m3 == 4.5 * 4 * 2.5


def test_a_cube_of_three_metres_as_a_diffuse_field_knows_it() -> None:
    """54 m² of which half swallows, 27 m²; 27 m³: ways of 108 / 54 = 2 m, a decay on 108 / 27 = 4 m."""
    cube = DiffuseRoom(54.0, 27.0)
    assert (cube.absorbing_m2, cube.free_path_m, cube.decay_m) == (27.0, 2.0, 4.0)
    assert cube.as_row() == pytest.approx((0.930842, 2.0, 0.25), abs=1e-6)  # 25.132741 / 27


@pytest.mark.parametrize("size", [(0.0, 27.0), (54.0, 0.0), (-1.0, 27.0), (54.0, -1.0), (float("nan"), 27.0)])
def test_a_room_has_a_surface_and_a_volume(size: tuple[float, float]) -> None:
    with pytest.raises(BadInput):
        DiffuseRoom(*size).as_row()


def test_a_thickness_spreads_evenly_or_not_at_all() -> None:
    """Five parts of 0.95 to 1.05 are 0.02 wide each, their middles 0.96 and so on."""
    assert _nodes(1.0, 0.0, 5).tolist() == [1.0]
    assert _nodes(1.0, 0.05, 5) == pytest.approx([0.96, 0.98, 1.0, 1.02, 1.04])
    assert _nodes(10.0, 4.0, 2).tolist() == [8.0, 12.0]


TE, TM = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)  # what a piece lets through: te, and tm as real and imaginary


def turned(
    lets: tuple[float, float, float],
    normal: tuple[float, float],
    at: tuple[float, float, float],
    upright: complex,
    level: complex,
    bands: int = 1,
) -> list[tuple[complex, complex]]:
    """Upright and level field of a receiver at x, y, rise behind a piece; band b has b + 1 times as much."""
    x, y, rise = at
    table = np.repeat(np.tile(lets, bands)[:, None], 4, axis=1).astype(np.float32)
    far = np.array([1 / np.sqrt(x * x + y * y + rise * rise)], dtype=np.float32)
    field = np.zeros((4 * bands + 2, 1), dtype=np.float32)
    for b in range(bands):
        field[4 * b : 4 * b + 4, 0] = (b + 1) * np.array([upright.real, upright.imag, level.real, level.imag])
    turn_span(np.float32(0.5), np.float32(0.0), far, table, normal, x, y, rise, 1.5, field)
    assert field[4 * bands :, 0].tolist() == [1.5, 2.25]
    rows = field[:, 0].astype(float)
    return [(complex(*rows[4 * b : 4 * b + 2]), complex(*rows[4 * b + 2 : 4 * b + 4])) for b in range(bands)]


@pytest.mark.parametrize(
    ("normal", "at"),
    [((0.0, 1.0), (3.0, 4.0, 0.0)), ((1.0, 0.0), (4.0, 3.0, 0.0)), ((0.6, 0.8), (5.0, 0.0, 0.0))],
)
def test_a_wall_on_one_s_own_height_knows_upright_from_level(
    normal: tuple[float, float], at: tuple[float, float, float]
) -> None:
    """The plane of incidence lies flat: what is upright is te, what is level tm, however the wall runs."""
    assert turned(TE, normal, at, 2 + 1j, 3 - 1j) == [(pytest.approx(2 + 1j), pytest.approx(0))]
    assert turned(TM, normal, at, 2 + 1j, 3 - 1j) == [(pytest.approx(0), pytest.approx(3 - 1j))]


def test_a_plate_passes_what_is_level_as_te() -> None:
    """A floor or ceiling stands across the rise: te is level there, tm upright."""
    assert turned(TE, (0.0, 0.0), (3.0, 4.0, 2.0), 2 + 1j, 3 - 1j) == [(0, pytest.approx(3 - 1j))]
    assert turned(TM, (0.0, 0.0), (3.0, 4.0, 2.0), 2 + 1j, 3 - 1j) == [(pytest.approx(2 + 1j), 0)]


def test_a_wall_that_is_met_aslant_mixes_both() -> None:
    """A wall along x, a receiver at 4, 3 and 20/3 above: 25/3 away.

    te has 4 upright and -20/3 * 3 / (25/3) = -2.4 level, so 25/sqrt(34) and -15/sqrt(34) of five: shares of
    25/34 upright, 9/34 level and -15/34 across. Of an upright field te alone leaves 25/34 and -15/34; tm
    alone, a quarter turn late, leaves i times the rest: 9/34 and 15/34.
    """
    place = (4.0, 3.0, 20 / 3)
    assert turned(TE, (0.0, 1.0), place, 34, 0) == [
        (pytest.approx(25, abs=1e-4), pytest.approx(-15, abs=1e-4))
    ]
    assert turned((0.0, 0.0, 1.0), (0.0, 1.0), place, 34, 0) == [
        (pytest.approx(9j, abs=1e-4), pytest.approx(15j, abs=1e-4))
    ]


def test_te_and_tm_at_once_through_a_wall_that_is_met_aslant() -> None:
    """The same place, tm a quarter turn late, a field of 34 upright and 34 i level.

    Along te are 25 - 15i and -15 + 9i of it. The rest, 9 + 15i and 15 + 25i, times i is -15 + 9i and
    -25 + 15i. Together 10 - 6i and -40 + 24i.
    """
    found = turned((1.0, 0.0, 1.0), (0.0, 1.0), (4.0, 3.0, 20 / 3), 34, 34j)
    assert found == [(pytest.approx(10 - 6j, abs=1e-4), pytest.approx(-40 + 24j, abs=1e-4))]


def test_a_wall_across_the_corner_from_above() -> None:
    """Normal 0.6 and 0.8, receiver at 5, 10 and 10 above, 15 away: te has 0.8 * 5 - 0.6 * 10 = -2 upright
    and -10 * (0.6 * 5 + 0.8 * 10) / 15 = -22/3 level, as 3 to 11: 9/130 of what is upright stay, 33/130 turn.
    """
    found = turned(TE, (0.6, 0.8), (5.0, 10.0, 10.0), 130, 0)
    assert found == [(pytest.approx(9, abs=1e-3), pytest.approx(33, abs=1e-3))]


def test_tm_turns_both_parts_of_a_field_where_nothing_is_te() -> None:
    """(2 + 1i)(3 + 4i) is 2 + 11i: upright behind a plate, level behind a wall on one's own height."""
    late = (0.0, 3.0, 4.0)
    assert turned(late, (0.0, 0.0), (3.0, 4.0, 2.0), 2 + 1j, 0) == [(pytest.approx(2 + 11j), 0)]
    assert turned(late, (0.0, 1.0), (3.0, 4.0, 0.0), 0, 2 + 1j) == [(0, pytest.approx(2 + 11j))]


@pytest.mark.parametrize("bands", [1, 2, 3, 4, 5])
def test_every_band_is_turned_by_itself(bands: int) -> None:
    found = turned(TE, (0.0, 0.0), (3.0, 4.0, 2.0), 1, 1, bands)
    assert found == [(0, b + 1) for b in range(bands)]


def test_a_loss_is_read_between_the_steps_of_its_table_and_not_beyond_the_last() -> None:
    """0, 10 and 20 dB at three steps, and a column beyond that pads: 5, 15, and 20 at the last, not 30."""
    loss = np.array([[0.0, 10.0, 20.0, 40.0]] * 4, dtype=np.float32)
    out = np.zeros((6, 3), dtype=np.float32)
    ones = np.ones(3, dtype=np.float32)
    add_span(np.float32(0.5), np.float32(1.0), ones, loss, 2.0, out)
    assert out[:4].tolist() == [[5.0, 15.0, 20.0]] * 4
    assert out[4].tolist() == [2.0] * 3 and out[5].tolist() == [4.0] * 3
