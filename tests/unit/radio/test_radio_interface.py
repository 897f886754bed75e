"""The whole interface on one small scene: shapes, spreads, crossings that explain the field."""

from __future__ import annotations

import numpy as np
import pytest

from radio_scenes import box_panels
from rehaul.errors import BadInput
from rehaul.radio import (
    Grid,
    Scene,
    Transmitter,
    crossings,
    field,
    field_at,
    grid_over,
    kind,
    plate,
)

BANDS = (2.442e9, 5.5e9, 6.5e9)


def two_storeys() -> Scene:
    """A box of brick with a timber floor between two storeys and one open stair void."""
    panels = np.vstack([box_panels(0, 0, 6, 5, 0.0, 2.6), box_panels(0, 0, 6, 5, 2.6, 5.2)])
    floor = plate(2.6, [(0, 0), (6, 0), (6, 5), (0, 5)], 1, ([(4, 3), (5, 3), (5, 4), (4, 4)],))
    kinds = (kind("brick-solid"), kind("timber-floor"))
    return Scene(panels, np.zeros(8, dtype=np.int32), (floor,), kinds)


def field_near(**options: object) -> object:
    grid = Grid(0, 0, 1, 2, 2, (1.0,))
    return field(two_storeys(), Transmitter((1, 1, 1)), grid, BANDS, "reflections", **options)  # type: ignore[arg-type]


def test_axes_are_band_storey_y_x() -> None:
    grid = grid_over(-1, -1, 7, 6, 0.5, (1.0, 3.6))
    found = field(two_storeys(), Transmitter((1.0, 1.0, 1.2), (20.0, 23.0, 24.0)), grid, BANDS)
    assert found.gain_db.shape == found.sd_db.shape == (3, *grid.shape) == (3, 2, 14, 16)
    assert np.isfinite(found.power_dbm).all() and (found.sd_db > 3).all()
    assert found.power_dbm[1, 0, 0, 0] - found.gain_db[1, 0, 0, 0] == pytest.approx(23.0, abs=1e-4)


def test_crossings_add_up_to_the_field() -> None:
    scene, start, end = two_storeys(), (1.0, 1.0, 1.2), (9.0, 4.3, 3.9)
    found = crossings(scene, start, end, BANDS)
    assert [crossing.kind for crossing in found] == ["timber-floor", "brick-solid"]
    assert found[0].distance_m < found[1].distance_m
    eased = field(scene, Transmitter(start), [end], BANDS).gain_db[:, 0]
    with_walls = field(scene, Transmitter(start), [end], BANDS, eased=False).gain_db[:, 0]
    empty = Scene(np.empty((0, 6)), np.empty(0, dtype=np.int32), (), ())
    without = field_at(empty, Transmitter(start), [end], BANDS).gain_db[:, 0]
    assert without - with_walls == pytest.approx(sum(c.loss_db for c in found), abs=2e-3)
    assert without - eased == pytest.approx(np.sqrt(sum(c.loss_db**2 for c in found)), abs=1e-2)


def test_stair_void_lets_the_ray_through() -> None:
    through_void = crossings(two_storeys(), (4.5, 3.5, 1.0), (4.5, 3.5, 4.0), BANDS)
    through_boards = crossings(two_storeys(), (2.0, 2.0, 1.0), (2.0, 2.0, 4.0), BANDS)
    assert (len(through_void), len(through_boards)) == (0, 1)


@pytest.mark.parametrize(
    ("what", "words"),
    [
        (lambda: Grid(0, 0, 0.0, 1, 1, (1.0,)), "without cells"),
        (lambda: Transmitter((0.0, float("nan"), 1.0)), "three finite"),
        (lambda: Scene(np.array([[0, 0, 0, 0, 0, 1.0]]), np.zeros(1), (), (kind("stone"),)), "no length"),
        (
            lambda: Scene(np.array([[0, 0, 1, 0, 0, 1.0]]), np.ones(1), (), (kind("stone"),)),
            "not in the list",
        ),
        (lambda: kind("marzipan"), "marzipan"),
        (
            lambda: field(two_storeys(), Transmitter((1, 1, 1)), Grid(0, 0, 1, 2, 2, (1.0,)), BANDS, "all"),
            "all",
        ),
        (lambda: field_near(bounces=3), "3 bounces"),
        (lambda: field_near(polarisation="round"), "round"),
        (lambda: field_at(two_storeys(), Transmitter((0, 0, 1)), [(1, 2)], BANDS), "three finite numbers"),
        (lambda: field_at(two_storeys(), Transmitter((0, 0, 1)), [(1, 2, 3)], ()), "no band"),
        (lambda: field_at(two_storeys(), Transmitter((0, 0, 1), (1.0, 2.0)), [(1, 2, 3)], BANDS), "3 bands"),
    ],
)
def test_bad_input_is_refused_in_words(what: object, words: str) -> None:
    with pytest.raises(BadInput, match=words):
        what()  # type: ignore[operator]


def test_a_grid_without_a_step_is_refused() -> None:
    for step_m in (0.0, -1.0, float("nan")):
        with pytest.raises(BadInput, match="Give a step above 0"):
            grid_over(0, 0, 4, 3, step_m, (1.0,))


def test_grid_and_points_agree_round_edges_whatever_the_tolerance() -> None:
    scene, sender, grid = two_storeys(), Transmitter((1.0, 1.0, 1.2)), Grid(3.0, 1.0, 1.0, 4, 4, (1.2,))
    for tolerance in (0.0, 0.1, 0.3):
        over, at = (
            field(scene, sender, places, BANDS, "full", thickness_tolerance=tolerance).gain_db
            for places in (grid, grid.points_m())
        )
        assert over.reshape(len(BANDS), -1) == pytest.approx(at, abs=2e-3)
