"""Links of generic classes, and maps of them."""

import numpy as np
import pytest

from link_rates import alone_mbps, chance_of_rate
from rehaul.errors import BadInput, OutOfRange
from rehaul.wlan import (
    Generation,
    Mode,
    RadioLink,
    goodput_mbps,
    goodput_range,
    link_between,
    link_rate_mbps,
    mode_at,
    phy_rate_mbps,
    power_needed_dbm,
    rate_ladder,
)

HE80 = RadioLink("5", Generation.HE, 80, 2)


def test_strong_signal_gives_the_top_mode() -> None:
    top = alone_mbps(Mode(Generation.HE, 11, 80, 2, 0.8), "tcp")
    assert goodput_mbps(-30.0, HE80) == pytest.approx(top, rel=1e-4)
    assert goodput_mbps(20.0, HE80) == pytest.approx(top, rel=1e-4)


def test_the_link_rate_shown_is_that_of_the_best_mode() -> None:
    for power in (-85.0, -70.0, -55.0, -40.0):
        mode = mode_at(power, HE80)
        assert mode is not None
        rate = phy_rate_mbps(mode.generation, mode.mcs, mode.width_mhz, mode.streams, mode.guard_us)
        assert link_rate_mbps(power, HE80) == pytest.approx(rate, rel=1e-5)
        assert rate > goodput_mbps(power, HE80)
    assert link_rate_mbps(-109.0, HE80) == 0


def test_no_signal_gives_nothing() -> None:
    assert goodput_mbps([-np.inf, np.nan, -130.0, -101.5], HE80).tolist() == [0, 0, 0, 0]


def test_shape_and_single_precision() -> None:
    carried = goodput_mbps(np.full((2, 3, 4), -60.0), HE80)
    assert carried.shape == (2, 3, 4) and carried.dtype == np.float32


def test_an_old_single_stream_laptop_far_off_gets_a_few_tens() -> None:
    link = link_between("access point HE 2x2", "old laptop", "5")
    assert link is not None and (link.generation, link.streams, link.width_mhz) == (Generation.HT, 1, 40)
    assert 10 < goodput_mbps(-78.0, link) < 60


def test_the_lesser_radio_rules() -> None:
    link = link_between("access point EHT 2x2 tri-band", "phone", "5", width_mhz=160)
    assert link is not None and (link.generation, link.width_mhz) == (Generation.HE, 80)
    narrow = link_between("access point HE 2x2", "phone", "5", width_mhz=40)
    assert narrow is not None and narrow.width_mhz == 40
    assert link_between("access point HE 2x2", "phone", "6") is None


def test_unknown_classes_are_named() -> None:
    with pytest.raises(BadInput, match=r"no device class 'toaster'.*tablet"):
        link_between("access point HE 2x2", "toaster", "5")
    with pytest.raises(BadInput, match="no access point class"):
        link_between("mast", "phone", "5")


def test_falling_back_reaches_further_and_never_carries_less() -> None:
    stiff = RadioLink("5", Generation.HE, 80, 2, falls_back=False)
    power = np.arange(-100.0, -30.0, 0.5)
    assert (goodput_mbps(power, HE80) >= goodput_mbps(power, stiff) - 1e-3).all()
    assert goodput_mbps(-92.0, HE80) > 2 * goodput_mbps(-92.0, stiff)


def test_each_end_has_its_own_noise() -> None:
    deaf = RadioLink("5", Generation.HE, 80, 2, noise_figure_up_db=10)
    for direction in ("down", "up"):
        assert goodput_mbps(-70, deaf, direction=direction) < goodput_mbps(-70, HE80)
    both = RadioLink("5", Generation.HE, 80, 2, noise_figure_down_db=10, noise_figure_up_db=10)
    assert goodput_mbps(-70, both) == goodput_mbps(-73, HE80)


def test_a_device_that_is_not_heard_back_gets_nothing() -> None:
    weak = RadioLink("5", Generation.HE, 80, 2, up_lag_db=12.0)
    floor = power_needed_dbm(0.5, HE80)
    assert goodput_mbps(floor + 6, HE80) > 0 and goodput_mbps(floor + 6, weak) == 0
    assert goodput_mbps(-30.0, weak) == goodput_mbps(-30.0, HE80)
    middle = goodput_mbps(-70.0, weak) / goodput_mbps(-70.0, HE80)
    assert 0.8 < middle < 0.99  # slower answers cost a little


def test_up_is_down_seen_from_the_other_end() -> None:
    lag = RadioLink("5", Generation.HE, 80, 2, up_lag_db=6.0)
    lead = RadioLink("5", Generation.HE, 80, 2, up_lag_db=-6.0)
    power = np.arange(-95.0, -30.0)
    assert (goodput_mbps(power, lag, direction="up") == goodput_mbps(power, lead)).all()


def test_a_country_that_allows_less_brings_the_two_ends_closer() -> None:
    able = link_between("access point HE 2x2", "phone", "5")
    held = link_between("access point HE 2x2", "phone", "5", eirp_dbm=20.0)
    assert able is not None and held is not None
    assert able.up_lag_db == 6 and held.up_lag_db == 1


def test_range_holds_the_median_and_widens_with_the_spread() -> None:
    low, median, high = goodput_range(-65.0, 4.0, HE80)
    assert low < median < high
    wider_low, _, wider_high = goodput_range(-65.0, 8.0, HE80)
    assert wider_low < low and wider_high > high
    sharp = goodput_range(-65.0, 0.0, HE80, receiver_spread=False)
    assert sharp[0] == sharp[1] == sharp[2]


def test_probability_agrees_with_the_range() -> None:
    low, median, _ = goodput_range(-70.0, 6.0, HE80)
    assert chance_of_rate(float(low), -70.0, 6.0, HE80) == pytest.approx(0.95, abs=0.01)
    assert chance_of_rate(float(median), -70.0, 6.0, HE80) == pytest.approx(0.5, abs=0.01)


def test_probability_at_the_ends() -> None:
    assert chance_of_rate(2000.0, -20.0, 5.0, HE80) == 0
    assert chance_of_rate(0.0, -90.0, 5.0, HE80) == 1
    assert chance_of_rate(50.0, [np.nan, -np.inf], 5.0, HE80).tolist() == [0, 0]
    need = power_needed_dbm(50.0, HE80)
    certain = chance_of_rate(50.0, [need, need - 0.1], 0.0, HE80, receiver_spread=False)
    assert certain.tolist() == [1, 0]


def test_power_needed_is_the_least() -> None:
    for rate in (1.0, 25.0, 100.0, 900.0):
        need = power_needed_dbm(rate, HE80)
        assert goodput_mbps(need, HE80) >= rate > goodput_mbps(need - 0.1, HE80)
    assert power_needed_dbm(1e6, HE80) == np.inf


def test_rungs_rise() -> None:
    ladder = rate_ladder(HE80)
    assert (np.diff(ladder.rung_mbps) > 0).all() and (np.diff(ladder.power_dbm) > 0).all()


def test_bad_words_are_refused() -> None:
    with pytest.raises(OutOfRange, match="no direction"):
        goodput_mbps(-60, HE80, direction="sideways")  # type: ignore[arg-type]
    with pytest.raises(OutOfRange, match="no transport"):
        goodput_mbps(-60, HE80, transport="pigeon")  # type: ignore[arg-type]
    with pytest.raises(OutOfRange, match="0 or more"):
        goodput_range(-60, -1.0, HE80)
    with pytest.raises(OutOfRange, match="no channel of 80"):
        RadioLink("2.4", Generation.HT, 80, 1)
    with pytest.raises(BadInput, match="guard"):
        RadioLink("5", Generation.HE, 80, 1, guard_us=0.4)
