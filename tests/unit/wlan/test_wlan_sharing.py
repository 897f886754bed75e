"""Shares of the air, neighbours and hops."""

import numpy as np
import pytest

from link_rates import contending_each_mbps
from rehaul.errors import OutOfRange
from rehaul.wlan import (
    Backoff,
    Generation,
    Mode,
    after_hop_mbps,
    air_share,
    before_hop_mbps,
    shared_mbps,
)


def test_one_slow_client_holds_all_to_its_pace() -> None:
    assert shared_mbps([640.0, 640.0, 10.0]).tolist() == pytest.approx([1 / (2 / 640 + 1 / 10)] * 3)


def test_equal_time_keeps_the_fast_ones_fast() -> None:
    assert shared_mbps([640.0, 640.0, 10.0], fairness="airtime").tolist() == pytest.approx(
        [640 / 3, 640 / 3, 10 / 3]
    )


def test_what_one_leaves_goes_to_the_rest() -> None:
    got = shared_mbps([100.0, 100.0, 100.0], [5.0, 100.0, 100.0])
    assert got.tolist() == pytest.approx([5, 47.5, 47.5])
    assert shared_mbps([100.0, 50.0], [10.0, 10.0]).tolist() == [10, 10]


def test_a_client_out_of_reach_gets_and_takes_nothing() -> None:
    assert shared_mbps([0.0, 80.0]).tolist() == [0, 80]
    assert shared_mbps([0.0, 0.0]).tolist() == [0, 0]


def test_neighbours_take_their_part() -> None:
    assert shared_mbps([100.0], air_share=0.25).tolist() == [25]


def test_bad_rates_are_refused() -> None:
    for bad in ([-1.0], [np.nan]):
        with pytest.raises(OutOfRange):
            shared_mbps(bad)


def test_only_networks_above_carrier_sense_count() -> None:
    assert air_share([-90.0, -70.0], [50.0, 20.0]) == pytest.approx(0.8)
    assert air_share([-82.0], [20.0]) == pytest.approx(0.8)
    assert air_share([]) == 1


def test_a_full_channel_still_leaves_an_equal_turn() -> None:
    assert air_share([-60.0, -60.0], [90.0, 90.0]) == pytest.approx(1 / 3)


def test_unknown_load_is_the_usual_one() -> None:
    assert air_share([-60.0]) == pytest.approx(0.9)


def test_airtime_is_a_percentage() -> None:
    with pytest.raises(OutOfRange, match="0 to 100"):
        air_share([-60.0], [130.0])


def test_hops() -> None:
    assert after_hop_mbps([300, 100, 0], 300).tolist() == pytest.approx([150, 75, 0])
    assert after_hop_mbps([300, 0], 0).tolist() == [300, 0]
    assert before_hop_mbps(75, 300) == pytest.approx(100)
    assert before_hop_mbps(300, 300) == np.inf and before_hop_mbps(50, 0) == 50
    for air, hop in ((-1, 5), (5, -1)):
        with pytest.raises(OutOfRange):
            after_hop_mbps(air, hop)


@pytest.mark.parametrize(
    ("stations", "attempt", "busy", "success"),
    [(1, 0.25, 0.25, 1.0), (2, 0.5, 0.75, 2 / 3), (3, 0.5, 7 / 8, 3 / 7)],
)
def test_a_slot_of_stations_that_toss_a_coin(
    stations: int, attempt: float, busy: float, success: float
) -> None:
    """Three coins fall eight ways: in one nobody sends, in three just one does. One alone never collides."""
    found = Backoff(stations, attempt, 0.0)
    assert (found.busy, found.success) == (pytest.approx(busy), pytest.approx(success))


def test_a_far_station_slows_a_near_one_on_the_same_air() -> None:
    near = Mode(Generation.HE, 11, 80, 2, 0.8)
    far = Mode(Generation.HE, 0, 80, 2, 0.8)
    near_mbps, far_mbps = contending_each_mbps((near, far))
    (fair_mbps, _) = contending_each_mbps((near, near))
    assert far_mbps < near_mbps < 0.75 * fair_mbps
    assert contending_each_mbps((far, near)) == pytest.approx((far_mbps, near_mbps))
