"""The delivered share: its table, and ranges and chances of share times ladder against drawing them."""

import numpy as np
import pytest

from link_rates import chance_of_rate
from rehaul.errors import OutOfRange
from rehaul.facts.delivered import OTHER_NETWORKS, delivered_shares
from rehaul.wlan import (
    WHOLE,
    Asks,
    Generation,
    RadioLink,
    ShareSpread,
    air_of_others,
    chance,
    chance_of_asks,
    goodput_mbps,
    goodput_range,
    part_sd,
    receiver_sd_db,
    usual_share,
)

HE80 = RadioLink("5", Generation.HE, 80, 2, up_lag_db=6.0)
SHARE = ShareSpread(-0.6, 0.4, 0.5)
DRAWS = 200_000


def drawn(power_dbm: float, sd_db: float, share: ShareSpread, seed: int) -> tuple[np.ndarray, np.ndarray]:
    """Rates down and up at one place, one power and one share for both ways."""
    random = np.random.default_rng(seed)
    power = power_dbm + np.hypot(sd_db, receiver_sd_db()) * random.standard_normal(DRAWS)
    factor = np.exp(share.ln_mean + share.sd * random.standard_normal(DRAWS))
    down = factor * goodput_mbps(power, HE80)
    up = factor * goodput_mbps(power - HE80.up_lag_db, HE80, direction="up")
    return down, up


@pytest.mark.parametrize("power_dbm", [-41.3, -58.7, -66.2, -74.5, -80.9])
@pytest.mark.parametrize("sd_db", [0.0, 3.4, 7.1])
def test_ranges_and_chances_are_those_of_drawing(power_dbm: float, sd_db: float) -> None:
    """Three in a hundred of each end, which drawing itself knows to about one; chances to half a per cent."""
    down, up = drawn(power_dbm, sd_db, SHARE, 7)
    top = 1.1 * float(goodput_mbps(0.0, HE80))
    expected = np.quantile(np.minimum(down, top), [0.05, 0.5, 0.95])
    found = [float(part) for part in goodput_range(power_dbm, sd_db, HE80, delivered=SHARE)]
    assert found == pytest.approx(expected, rel=0.03, abs=0.3)
    for rate in (15.0, 90.0, 300.0, 700.0):
        chance = float(chance_of_rate(rate, power_dbm, sd_db, HE80, delivered=SHARE))
        assert chance == pytest.approx(np.mean(down >= rate), abs=0.005)
        both = float(chance_of_asks(Asks(rate, 0.4 * rate), power_dbm, sd_db, HE80, delivered=SHARE))
        assert both == pytest.approx(np.mean((down >= rate) & (up >= 0.4 * rate)), abs=0.005)


def test_a_share_without_spread_is_a_plain_factor() -> None:
    power = np.linspace(-90, -30, 13)
    half = ShareSpread(float(np.log(0.5)))
    whole = goodput_range(power, 6.0, HE80)
    for part, all_of_it in zip(goodput_range(power, 6.0, HE80, delivered=half), whole, strict=True):
        assert part == pytest.approx(0.5 * all_of_it)
    often = chance_of_rate(100.0, power, 6.0, HE80, delivered=half)
    assert often == pytest.approx(chance_of_rate(200.0, power, 6.0, HE80), abs=1e-6)
    assert goodput_range(power, 6.0, HE80, delivered=WHOLE)[1] == pytest.approx(goodput_mbps(power, HE80))


def test_a_share_of_next_to_no_spread_comes_to_the_plain_factor() -> None:
    """The looked-up table meets the exact branch, but for the 1.645 spreads of the share itself, 5 %."""
    power = np.arange(-78.0, -30.0, 3.7)
    exact = goodput_range(power, 6.0, HE80, delivered=ShareSpread(-0.3))
    near = goodput_range(power, 6.0, HE80, delivered=ShareSpread(-0.3, 0.0, 0.03))
    for part, other in zip(near, exact, strict=True):
        assert part == pytest.approx(other, rel=0.06, abs=1.0)


def test_never_more_than_the_fastest_mode_can() -> None:
    high = goodput_range(-30.0, 3.0, HE80, delivered=ShareSpread(0.0, 1.0, 1.0))[2]
    top = float(goodput_mbps(0.0, HE80))
    assert float(high) == pytest.approx(1.1 * top, rel=1e-4)
    assert chance_of_rate(1.11 * top, -30.0, 3.0, HE80, delivered=ShareSpread(0.0, 1.0, 1.0)) == 0


def test_no_signal_gives_nothing_whatever_the_spread() -> None:
    for part in goodput_range([-np.inf, np.nan, -200.0], 15.0, HE80, delivered=SHARE):
        assert part.tolist() == [0, 0, 0]
    assert chance_of_rate(1.0, [-np.inf, np.nan, -200.0], 15.0, HE80, delivered=SHARE).tolist() == [0, 0, 0]
    assert chance_of_rate(0.0, -200.0, 15.0, HE80, delivered=SHARE) == pytest.approx(1)


def test_the_usual_share_adds_up_its_kinds() -> None:
    for band in ("2.4", "5", "6"):
        rows = delivered_shares(band)
        usual = usual_share(band)
        assert usual.ln_mean == pytest.approx(sum(row.ln_mean for row in rows))
        assert usual.sd**2 == pytest.approx(sum(row.ln_sd**2 for row in rows))
        quiet = usual_share(band, frozenset({OTHER_NETWORKS}))
        assert quiet.median * air_of_others(band) == pytest.approx(usual.median)
        assert quiet.own_sd < usual.own_sd and quiet.shared_sd == usual.shared_sd
        boxes = usual_share(band, frozenset({"device"}))
        assert boxes.shared_sd == pytest.approx(part_sd(band, ("box",))) and boxes.median > usual.median


def test_devices_deliver_less_on_the_crowded_band() -> None:
    assert usual_share("2.4").median < usual_share("5").median < 0.7


def test_no_chance_is_a_subnormal_number() -> None:
    """Sums over those take ten times as long as others."""
    chances = chance._chances_of(np.array([0.0, 1e-40, 1e-37, 0.5, 1.0]))
    assert chances.tolist() == np.array([0.0, 0.0, 1e-37, 0.5, 1.0], dtype=np.float32).tolist()
    reached = chance._reached()
    assert reached[reached > 0].min() >= np.finfo(np.float32).tiny


def test_a_spread_below_nought_is_refused() -> None:
    with pytest.raises(OutOfRange):
        ShareSpread(0.0, -0.1, 0.0)
