"""The way up as physics: it grows with the device's power, falls as the way down does, and is one path."""

from dataclasses import replace

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from one_way import best_chance
from rehaul.facts.wlan_equipment import access_point_radios, client_radios
from rehaul.predict import Air, Asked, LinkRate, Radiator, chance_met, serves
from rehaul.predict.air import through_mbps
from rehaul.wlan import after_hop_mbps, before_hop_mbps, goodput_mbps, link_between
from rehaul.wlan.goodput import STEPS_PER_DB

PAIRS = sorted(
    (box, client, band)
    for box, band in access_point_radios()
    for client, other in client_radios()
    if band == other
)
RATE = st.floats(0.1, 900.0)
POWER = st.lists(st.floats(-95.0, -25.0), min_size=1, max_size=8)


def air(pair: tuple[str, str, str], power: list[float], sd_db: float = 5.0, hop_mbps: float = 0.0) -> Air:
    box, client, band = pair
    link = link_between(box, client, band)  # type: ignore[arg-type]
    assert link is not None
    station = Radiator("AP1", "Hall", box, (0.0, 0.0, 2.5), hop_mbps=hop_mbps)
    powers = np.array(power, dtype=np.float32)
    return Air(station, band, link, powers, np.full_like(powers, sd_db))  # type: ignore[arg-type]


@given(st.sampled_from(PAIRS), POWER, st.integers(0, 10 * STEPS_PER_DB))
def test_a_louder_device_never_gets_less_up(
    pair: tuple[str, str, str], power: list[float], steps: int
) -> None:
    """By whole steps of the table of rates: the power that arrives is rounded to them, the lag of the answers
    that go the other way is not, and by a part of a step the one may stand while the other moves."""
    gain_db = steps / STEPS_PER_DB
    plain = air(pair, power)
    louder = replace(plain, link=replace(plain.link, up_lag_db=plain.link.up_lag_db - gain_db))
    for less, more in zip(plain.up_range_mbps(), louder.up_range_mbps(), strict=True):
        assert np.all(more >= less - 1e-3)


@given(st.sampled_from(PAIRS), POWER, st.floats(0.0, 20.0))
def test_up_falls_with_the_way_as_down_does(
    pair: tuple[str, str, str], power: list[float], loss_db: float
) -> None:
    near = air(pair, power)
    far = replace(near, power_dbm=near.power_dbm - np.float32(loss_db))
    assert np.allclose(near.up_power_dbm - far.up_power_dbm, near.power_dbm - far.power_dbm, atol=1e-4)
    for less, more in zip(far.up_range_mbps(), near.up_range_mbps(), strict=True):
        assert np.all(less <= more + 1e-3)


@given(st.sampled_from(PAIRS), POWER)
def test_equal_powers_and_ears_carry_alike(pair: tuple[str, str, str], power: list[float]) -> None:
    plain = air(pair, power)
    alike = replace(plain, link=replace(plain.link, up_lag_db=0.0, noise_figure_up_db=7.0))
    for down, up in zip(alike.range_mbps(), alike.up_range_mbps(), strict=True):
        assert np.allclose(down, up)


@given(st.sampled_from(PAIRS), POWER, RATE)
def test_the_chance_is_a_half_where_the_middle_carries_just_so_much(
    pair: tuple[str, str, str], power: list[float], rate: float
) -> None:
    found = air(pair, power)
    median = goodput_mbps(found.up_power_dbm, found.link, direction="up")
    sure = found.chance_of(rate, up=True)
    assert np.all(sure[median >= rate * 1.05] >= 0.5 - 0.02)
    assert np.all(sure[median < rate * 0.95] <= 0.5 + 0.02)


@given(st.sampled_from(PAIRS), POWER, RATE, RATE, st.floats(0.5, 0.99))
def test_asking_for_up_never_serves_more(
    pair: tuple[str, str, str], power: list[float], down: float, up: float, sure: float
) -> None:
    here = [air(pair, power)]
    only_down, both = (Asked("R", down, sure, pair[1], rate) for rate in (0.0, up))
    assert np.all(serves(here, both) <= serves(here, only_down))
    assert np.all(chance_met(here[0], both) <= chance_met(here[0], only_down) + 1e-6)


@given(st.floats(0.1, 1000.0), st.floats(1.0, 1000.0))
def test_a_hop_takes_and_never_gives(air_mbps: float, hop_mbps: float) -> None:
    left = float(after_hop_mbps(air_mbps, hop_mbps))
    assert left < min(air_mbps, hop_mbps) * (1 + 1e-5)
    assert np.isclose(1 / left, 1 / air_mbps + 1 / hop_mbps, rtol=1e-4)
    assert float(after_hop_mbps(air_mbps, 0.0)) == np.float32(air_mbps)
    if left < 0.95 * hop_mbps:
        assert np.isclose(before_hop_mbps(left, hop_mbps), air_mbps, rtol=1e-2)


@given(st.sampled_from(PAIRS), POWER, RATE, st.floats(5.0, 800.0))
def test_rates_and_chances_through_a_hop_agree(
    pair: tuple[str, str, str], power: list[float], rate: float, hop_mbps: float
) -> None:
    """Where the middle rate through the hop is enough, the chance is a half or more."""
    found = air(pair, power, hop_mbps=hop_mbps)
    for up in (False, True):
        middle = (found.up_range_mbps() if up else found.range_mbps())[1]
        through = through_mbps(found.radiator, middle, up=up)
        chance = best_chance([found], rate, up=up)
        assert np.all(chance[through >= rate * 1.05] >= 0.5 - 0.02)
        assert np.all(chance[through < rate * 0.95] <= 0.5 + 0.02)
        assert np.all(through < hop_mbps)


@given(st.sampled_from(PAIRS), POWER, st.floats(1.0, 50.0))
def test_the_line_up_bounds_all(pair: tuple[str, str, str], power: list[float], up_mbps: float) -> None:
    found = air(pair, power)
    wired = replace(
        found,
        radiator=replace(found.radiator, wire=(LinkRate(name="plan", rate_mbps=1e4, up_mbps=up_mbps),)),
    )
    assert np.all(through_mbps(wired.radiator, found.up_range_mbps()[2], up=True) <= np.float32(up_mbps))
    assert not best_chance([wired], up_mbps * 1.01, up=True).any()
