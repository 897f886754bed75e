"""Small pieces of the field by hand: crossings, bends, sums of losses, decibels, bands and antennas."""

from __future__ import annotations

import numpy as np
import pytest

from rehaul.errors import BadInput
from rehaul.radio.antenna import Transmitter
from rehaul.radio.band import FrequencyBand, as_bands
from rehaul.radio.cells import over_cells
from rehaul.radio.decibels import decibels, powers
from rehaul.radio.diffraction import bend, knife_edge_db
from rehaul.radio.easing import eased_counts, eased_spreads, from_eased, to_eased
from rehaul.radio.geometry import FlatScene, find_mirrors, outward_order, panel_cosine, plate_cosine
from rehaul.radio.straight import straight_losses

Point = tuple[float, float, float]
WALL = np.array([1.0, -1.0, 1.0, 1.0, 0.0, 2.5])  # from (1, -1) to (1, 1), 2.5 m high


@pytest.mark.parametrize(
    ("source", "place", "cosine"),
    [
        ((0, 0, 1), (2, 0, 1), 1.0),
        ((2, 0, 1), (0, 0, 1), 1.0),  # from behind
        ((0, 0, 1), (4, 3, 1), 0.8),  # 4 along 5
        ((0, 0, 1), (4, -3, 1), 0.8),
        ((0, 0, 1), (1, 0, 1), -1.0),  # ends on it
        ((0, 0, 1), (0.5, 0, 1), -1.0),  # before it
        ((1, 0, 1), (2, 0, 1), -1.0),  # starts on it
        ((0, 0, 1), (-2, 0, 1), -1.0),  # the other way
        ((0, 0, 1), (2, 2, 1), -1.0),  # of its two ends that on the right hand counts
        ((0, 0, 1), (2, -2, 1), 0.5**0.5),
        ((2, 0, 1), (0, 2, 1), 0.5**0.5),  # from behind that is the other one
        ((2, 0, 1), (0, -2, 1), -1.0),
        ((0, 0, 1), (2, 3, 1), -1.0),
        ((0, 0, 1), (2, -3, 1), -1.0),
        ((0, 0, 1), (2, 0, -1), 0.5**0.5),  # at its foot it counts, at its top no more
        ((0, 0, 1), (2, 0, -1.1), -1.0),
        ((0, 0, 1), (2, 0, 4), -1.0),
        ((0, 0, 1), (2, 0, 3), 0.5**0.5),
    ],
)
def test_which_rays_cross_a_wall(source: Point, place: Point, cosine: float) -> None:
    assert panel_cosine(WALL, *source, *place) == pytest.approx(cosine)


OUTER = np.array([[0, 0, 4, 0], [4, 0, 4, 4], [4, 4, 0, 4], [0, 4, 0, 0]], dtype=float)
VOID = np.array([[1, 1, 2, 1], [2, 1, 2, 2], [2, 2, 1, 2], [1, 2, 1, 1]], dtype=float)
HOLED = np.vstack([OUTER, VOID])  # four metres by four with a void of one by one


@pytest.mark.parametrize(
    ("source", "place", "cosine"),
    [
        ((3, 3, 1), (3, 3, 3), 1.0),
        ((3, 3, 3), (3, 3, 1), 1.0),
        ((1.5, 1.5, 1), (1.5, 1.5, 3), -1.0),  # through the void
        ((0.5, 0.5, 1), (3.5, 0.5, 5), 0.8),  # 4 up and 3 along
        ((0.5, 0.5, 1), (0.5, 3.5, 5), 0.8),
        ((3, 3, 1), (3, 3, 2), -1.0),  # ends there
        ((3, 3, 2), (3, 3, 3), -1.0),  # starts there
        ((3, 3, 1), (3, 3, 1.5), -1.0),
        ((3, 3, 1), (21, 3, 3), -1.0),  # meets that height at 12
        ((3, 3, 1), (3, -21, 3), -1.0),
        ((-1, 0, 1), (-1, 0, 3), -1.0),
    ],
)
def test_which_rays_cross_a_floor(source: Point, place: Point, cosine: float) -> None:
    assert plate_cosine(2.0, HOLED, *source, *place) == pytest.approx(cosine)


def flat_scene(panels: list[list[float]], levels: list[float]) -> FlatScene:
    whole = np.zeros(len(panels), dtype=np.int32), np.zeros(len(levels), dtype=np.int32)
    edges, starts = np.vstack([HOLED] * len(levels)), 8 * np.arange(len(levels) + 1, dtype=np.int32)
    return FlatScene(np.array(panels), whole[0], np.array(levels), whole[1], edges, starts)


def test_pieces_from_the_source_outward() -> None:
    """Upstairs last, the floor between before it but after all walls down here, the near wall first.

    The long wall's nearest point is 2 m off, though its ends are far; the short one is 5 m off, beyond
    its end.
    """
    walls = [[3.0, 4.0, 6.0, 4.0, 0.0, 2.5], [-9.0, -2.0, 9.0, -2.0, 0.0, 2.5], [0.5, -1, 0.5, 1, 2.6, 5.0]]
    found = outward_order(flat_scene(walls, [2.5]), np.array([0.0, 0.0, 1.0]))
    assert found.tolist() == [1, 0, 3, 2]
    turned = outward_order(flat_scene(walls, [2.5]), np.array([0.0, 0.0, 4.0]))
    assert turned.tolist() == [2, 3, 1, 0]


def test_walls_of_one_plane_are_one_mirror() -> None:
    """However they are drawn; a plane a millimetre on is another. x = 1, y = 2 and 0.8 x + 0.6 y = 0."""
    walls = [
        [1.0, 0.0, 1.0, 1.0, 0.0, 2.5], [1.0, 5.0, 1.0, 4.0, 0.0, 2.5], [0.0, 2.0, 3.0, 2.0, 0.0, 2.5],
        [3.0, 2.0, 0.0, 2.0, 0.0, 2.5], [0.0, 0.0, 3.0, -4.0, 0.0, 2.5], [1.001, 0.0, 1.001, 1.0, 0.0, 2.5],
    ]  # fmt: skip
    found = find_mirrors(flat_scene(walls, [2.5, 0.0, 2.5]))
    assert found.levels_m.tolist() == [0.0, 2.5] and len(found.planes) == 4
    each = found.planes[found.plane_of_panel]
    assert each == pytest.approx(
        np.array([(1, 0, 1), (1, 0, 1), (0, 1, 2), (0, 1, 2), (0.8, 0.6, 0), (1, 0, 1.001)])
    )


def test_what_one_straight_ray_crosses_adds_up() -> None:
    """A wall square on and a floor at 0.8: tables of 0 dB grazing and 10 square on, so 10 and 8 dB."""
    table = np.repeat(np.array([[[0.0, 10.0, 10.0]], [[0.0, 20.0, 20.0]]]), 2, axis=1).astype(np.float32)
    table[:, 1] *= 2
    sd = np.array([1.0, 3.0], dtype=np.float32)
    scene = flat_scene([[9.0, -9.0, 9.0, 9.0, 0.0, 1.5]], [2.0])
    points = np.array([(3.5, 0.5, 5.0), (10.5, 0.5, 1.0), (0.6, 0.5, 1.0)])
    out = np.full((3, 4), 7.0, dtype=np.float32)
    kinds = scene._replace(plate_kind=np.array([1], dtype=np.int32))
    straight_losses(*kinds, table, sd, np.array([0.5, 0.5, 1.0]), points, out)
    assert out == pytest.approx(np.array([(16, 32, 3, 9), (10, 20, 1, 1), (0, 0, 0, 0)]), abs=1e-5)


@pytest.mark.parametrize(
    ("nu", "loss_db"),
    [(-0.79, 0.0), (-0.78, 0.0), (-0.77, 0.069), (0.0, 6.033), (0.1, 6.9), (2.4, 20.539)],
)
def test_a_knife_edge(nu: float, loss_db: float) -> None:
    """6.9 + 20 log10(sqrt((nu - 0.1)² + 1) + nu - 0.1): at 2.4 of 2.5080 + 2.3 = 4.8080, 13.639 more."""
    assert knife_edge_db(nu) == pytest.approx(loss_db, abs=1e-3)


def round_the_edge(source: Point, place: Point, length: float = 20.0) -> tuple[float, ...]:
    """Round an upright edge at 0, 0, of a screen that goes on to positive x."""
    zero, up, inward = np.zeros(3), np.array([0.0, 0.0, 1.0]), np.array([1.0, 0.0, 0.0])
    return bend(zero, up, length, inward, *map(float, source), *map(float, place))


def test_the_way_round_an_edge() -> None:
    """3 behind and 4 beside on either side: 5 and 5, and cos of the turn (-9 + 16) / 25.

    With 24 more up it is 26 long, past the edge half way up, and the turn's cosine (-9 + 16 + 144) / 169.
    """
    assert round_the_edge((3, -4, 5), (3, 4, 5)) == pytest.approx((10, 5, np.arccos(0.28), 5))
    assert round_the_edge((3, 4, 5), (3, -4, 5)) == pytest.approx((10, 5, np.arccos(0.28), 5))
    assert round_the_edge((3, -4, 0), (3, 4, 24)) == pytest.approx((26, 13, np.arccos(151 / 169), 12))
    assert round_the_edge((6, -8, 3), (3, 4, 3)) == pytest.approx((15, 10, np.arccos(0.28), 3))


@pytest.mark.parametrize(
    ("source", "place", "length"),
    [
        ((-3, -4, 5), (-3, 4, 5), 20.0),  # in sight, past the screen
        ((-3, -4, 5), (3, 4, 5), 20.0),  # just touching it
        ((3, -4, 5), (3, -1, 5), 20.0),  # both on one side
        ((3, 0, 5), (3, 4, 5), 20.0),  # in the screen's plane
        ((3, -4, 5), (3, 4, 5), 4.9),  # the edge ends below
        ((3, -4, -1), (3, 4, -1), 20.0),  # or begins above
    ],
)
def test_where_no_way_goes_round(source: Point, place: Point, length: float) -> None:
    assert round_the_edge(source, place, length) == (-1.0, 0.0, 0.0, 0.0)


def test_the_ends_of_an_edge_belong_to_it() -> None:
    assert round_the_edge((3, -4, 5), (3, 4, 5), 5.0)[3] == 5.0
    assert round_the_edge((3, -4, 0), (3, 4, 0), 5.0)[3] == 0.0


def test_losses_on_one_way_count_by_the_root_of_their_squares() -> None:
    """3 and 4 dB together are 5. Spreads of 2 dB: 2 (3 + 4) / 5 if they lie off alike, and 4 by squares."""
    loss = np.array([[3.0], [4.0]], dtype=np.float32)
    assert to_eased(loss).tolist() == [[9.0], [16.0]]
    spreads = eased_spreads(np.array([[2.0, 4.0], [4.0, 4.0]], np.float32), np.array([2.0, 2.0], np.float32))
    assert spreads.tolist() == [6.0, 8.0]
    sums = np.array([[[25.0, 0.0], [14.0, 0.0], [100.0, 0.0]]], dtype=np.float32)
    from_eased(sums)
    assert sums[0, :, 0] == pytest.approx([5.0, 2.8, 4.0]) and sums[0, :, 1].tolist() == [0.0, 0.0, 0.0]
    two = np.array([[[16.0], [64.0], [12.0], [36.0]]], dtype=np.float32)  # bands of 4 and 8 dB, mean 6
    from_eased(two)
    assert two[0, :, 0] == pytest.approx([4.0, 8.0, 2.0, 1.0])


def test_how_far_an_eased_sum_moves_with_each_kind() -> None:
    """3 and 4 dB: by 3 / 5 and 4 / 5. A body that costs half of its 8 dB counts a quarter of 64: as 4 dB."""
    counts = np.array([[1.0, 1.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.5, 0.0]], dtype=np.float32)
    found = eased_counts(counts, np.array([3.0, 4.0, 8.0], np.float32), np.array([False, False, True]))
    assert found == pytest.approx(np.array([(0.6, 0.6, 0), (0.8, 0, 0), (0, 0.4, 0)]), abs=1e-6)


def test_decibels_and_powers() -> None:
    power = np.array([1.0, 2.0, 10.0, 0.001, 1.5e9], dtype=np.float32)
    level = [0.0, 3.0103, 10.0, -30.0, 91.76091]
    decibels(power)
    assert power == pytest.approx(np.array(level), abs=5e-5)
    back = np.array([*level, -400.0, -361.0], dtype=np.float32)
    powers(back)
    assert back[:5] == pytest.approx(np.array([1.0, 2.0, 10.0, 0.001, 1.5e9]), rel=2e-5)
    assert 0 <= back[5] <= back[6] < 1e-36


def test_a_cell_has_the_mean_power_of_its_receivers() -> None:
    """Powers of 10, 10, 1 and 1 have a mean of 5.5, 7.404 dB; spreads of 1 to 4 a mean of 2.5."""
    gain = np.zeros((1, 1, 2, 4), dtype=np.float32)
    gain[0, 0] = [[10, 0, -50, -50], [10, 0, -50, -50]]
    sd = np.array([[[[1, 2, 5, 5], [3, 4, 5, 9]]]], dtype=np.float32)
    mean, spread = over_cells(gain, sd, 2)
    assert mean.shape == spread.shape == (1, 1, 1, 2)
    assert mean[0, 0, 0] == pytest.approx([7.40363, -50.0], abs=1e-3)
    assert spread[0, 0, 0].tolist() == [2.5, 6.0]


@pytest.mark.parametrize("wrong", [(0.0, 0.0), (-1.0, 0.0), (1.0, 2.0), (1.0, -0.1), (float("inf"), 0.0)])
def test_a_band_lies_above_nothing(wrong: tuple[float, float]) -> None:
    with pytest.raises(BadInput):
        FrequencyBand(*wrong)


def test_a_band_in_equal_parts() -> None:
    """Three parts of 60 are 20 wide: 80, 100 and 120."""
    assert FrequencyBand(100.0, 60.0).nodes_hz(3) == pytest.approx([80, 100, 120])
    assert FrequencyBand(100.0).nodes_hz(3).tolist() == [100.0]
    assert FrequencyBand(1.0, 1.9).width_hz == 1.9
    wide = FrequencyBand(5.5e9, 8e7)
    assert as_bands([wide, 2.4e9]) == (wide, FrequencyBand(2.4e9, 0.0))
    with pytest.raises(BadInput):
        as_bands([])


def test_where_an_antenna_points_and_how_strong_it_is() -> None:
    assert Transmitter((0, 0, 0), mounting="ceiling").axis == (0.0, 0.0, -1.0)
    assert Transmitter((0, 0, 0), mounting="desk").axis == (0.0, 0.0, 1.0)
    assert Transmitter((0, 0, 0), mounting="wall", azimuth_deg=90).axis == pytest.approx((0, 1, 0))
    assert Transmitter((0, 0, 0), 17.0).eirp_per_band_dbm(2).tolist() == [17.0, 17.0]
    two = Transmitter((0, 0, 0), (17.0, 20.0))
    assert two.eirp_per_band_dbm(2).tolist() == [17.0, 20.0]
    for count in (1, 3):
        with pytest.raises(BadInput):
            two.eirp_per_band_dbm(count)
    nan = float("nan")
    for wrong in (((0, 0), 1, 0), ((0, 0, nan), 1, 0), ((0, 0, 0), nan, 0), ((0, 0, 0), 1, nan)):
        with pytest.raises(BadInput):
            Transmitter(wrong[0], wrong[1], azimuth_deg=wrong[2])  # type: ignore[arg-type]
