"""What must hold of rates and shares whatever the numbers."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from link_rates import alone_mbps, chance_of_rate, contending_mbps
from rehaul.facts.modulation import Generation, Ladder, guard_intervals_us
from rehaul.wlan import (
    Asks,
    Mode,
    RadioLink,
    ShareSpread,
    after_hop_mbps,
    air_share,
    chance_of_asks,
    goodput_mbps,
    goodput_range,
    phy_rate_mbps,
    shared_mbps,
    top_mcs,
    walk,
    widths_mhz,
)
from rehaul.wlan.rates import is_defined


@st.composite
def links(draw: st.DrawFn) -> RadioLink:
    generation = draw(st.sampled_from(Generation))
    return RadioLink(
        "5",
        generation,
        draw(st.sampled_from(widths_mhz(generation))),
        draw(st.integers(1, 2)),
        draw(st.sampled_from(guard_intervals_us()[generation])),
        draw(st.sampled_from(Ladder)),
    )


@st.composite
def modes(draw: st.DrawFn) -> Mode:
    link = draw(links())
    mcs = draw(st.integers(0, top_mcs(link.generation, link.width_mhz) - 1))  # VHT may lack its top step
    return Mode(link.generation, mcs, link.width_mhz, link.streams, link.guard_us)


powers = st.lists(st.floats(-120, -20), min_size=2, max_size=20)
rates = st.lists(st.floats(0, 1000), min_size=1, max_size=8)


@given(modes())
def test_air_and_payload_in_their_order(mode: Mode) -> None:
    udp, tcp = alone_mbps(mode, "udp"), alone_mbps(mode, "tcp")
    assert 0 < tcp < udp < mode.rate_mbps


@given(modes())
def test_a_higher_step_carries_more(mode: Mode) -> None:
    if is_defined(mode.generation, mode.mcs + 1, mode.width_mhz, mode.streams):
        higher = Mode(mode.generation, mode.mcs + 1, mode.width_mhz, mode.streams, mode.guard_us)
        assert higher.rate_mbps > mode.rate_mbps
        assert alone_mbps(higher, "udp") > alone_mbps(mode, "udp")


@given(modes())
def test_rate_is_linear_in_streams(mode: Mode) -> None:
    one = phy_rate_mbps(mode.generation, mode.mcs, mode.width_mhz, 1, mode.guard_us)
    assert np.isclose(mode.rate_mbps, mode.streams * one)


@given(modes(), st.integers(1, 12))
def test_more_stations_never_carry_more_in_all(mode: Mode, stations: int) -> None:
    assert contending_mbps(mode, stations + 1) <= contending_mbps(mode, stations) + 1e-9


@given(links(), powers)
def test_goodput_never_falls_with_power(link: RadioLink, power: list[float]) -> None:
    carried = goodput_mbps(sorted(power), link)
    assert (np.diff(carried) >= 0).all() and (carried >= 0).all()


@given(links(), st.floats(-110, -30), st.floats(0, 12))
def test_the_range_is_ordered(link: RadioLink, power: float, sd: float) -> None:
    low, median, high = goodput_range(power, sd, link)
    assert low <= median <= high


@given(links(), st.floats(-110, -30), st.floats(0, 12), st.floats(0.1, 900), st.floats(1, 2))
def test_more_is_less_likely(link: RadioLink, power: float, sd: float, rate: float, factor: float) -> None:
    often, seldom = (chance_of_rate(r, power, sd, link) for r in (rate, rate * factor))
    assert 0 <= seldom <= often <= 1


shares = st.builds(ShareSpread, st.floats(-1.5, 0), st.floats(0, 0.6), st.floats(0.05, 0.8))


@given(links(), st.floats(-110, -30), st.floats(0, 12), shares)
def test_the_range_of_what_is_delivered_is_ordered(
    link: RadioLink, power: float, sd: float, share: ShareSpread
) -> None:
    low, median, high = goodput_range(power, sd, link, delivered=share)
    assert 0 <= low <= median <= high


@given(links(), powers, st.floats(0, 12), shares)
def test_what_is_delivered_never_falls_with_power(
    link: RadioLink, power: list[float], sd: float, share: ShareSpread
) -> None:
    for part in goodput_range(sorted(power), sd, link, delivered=share):
        assert (np.diff(part) >= -1e-4 * part[1:]).all()


@given(links(), powers, st.floats(0, 12), st.floats(0.1, 900), st.floats(1, 2), shares)
def test_chance_falls_with_the_rate_and_rises_with_power(
    link: RadioLink, power: list[float], sd: float, rate: float, factor: float, share: ShareSpread
) -> None:
    often, seldom = (
        chance_of_rate(r, sorted(power), sd, link, delivered=share) for r in (rate, rate * factor)
    )
    assert (seldom >= 0).all() and (often <= 1).all()
    assert (seldom <= often + 1e-6).all()
    assert (np.diff(often) >= -1e-6).all()


@given(links(), st.floats(-80, -30), st.floats(1, 10), shares)
def test_chances_and_ranges_are_one_distribution(
    link: RadioLink, power: float, sd: float, share: ShareSpread
) -> None:
    """Below the low end lies a twentieth, below the middle a half: worked out from two tables."""
    low, median, _ = goodput_range(power, sd, link, delivered=share)
    for rate, chance in ((float(low), 0.95), (float(median), 0.5)):
        if 0.5 < rate < 0.9 * float(goodput_mbps(0.0, link)):
            assert abs(float(chance_of_rate(rate, power, sd, link, delivered=share)) - chance) < 0.02


@given(links(), st.floats(-95, -30), st.floats(0, 10), st.floats(1, 400), st.floats(0, 400), shares)
def test_both_ways_are_no_surer_than_the_harder(
    link: RadioLink, power: float, sd: float, down: float, up: float, share: ShareSpread
) -> None:
    both, alone, back = (
        float(chance_of_asks(asks, power, sd, link, delivered=share))
        for asks in (Asks(down, up), Asks(down, 0.0), Asks(0.0, up))
    )
    assert both <= min(alone, back) + 1e-6


@given(rates, st.sampled_from(["turns", "airtime"]), st.floats(0.1, 1), st.data())
def test_the_air_is_never_overspent(
    rate: list[float], fairness: str, share: float, data: st.DataObject
) -> None:
    alone = np.array([value if value > 0.01 else 0.0 for value in rate])
    asked = np.array(data.draw(st.lists(st.floats(0, 800), min_size=len(rate), max_size=len(rate))))
    got = shared_mbps(alone, asked, fairness=fairness, air_share=share)  # type: ignore[arg-type]
    spent = np.divide(got, alone, out=np.zeros_like(alone), where=alone > 0).sum()
    assert spent <= share * (1 + 1e-9)
    assert (got <= np.where(alone > 0, asked, 0) * (1 + 1e-9) + 1e-12).all()
    unmet = (got < asked * (1 - 1e-6) - 1e-9) & (alone > 0)
    if unmet.any():  # nothing is left over while somebody waits
        assert np.isclose(spent, share, rtol=1e-6)


@given(st.lists(st.tuples(st.floats(-100, -40), st.floats(0, 100)), max_size=6), st.floats(-100, -40))
def test_one_more_neighbour_never_leaves_more_air(heard: list[tuple[float, float]], level: float) -> None:
    before = air_share([h for h, _ in heard], [b for _, b in heard])
    after = air_share([*[h for h, _ in heard], level], [*[b for _, b in heard], 30.0])
    assert 0 < after <= before + 1e-12


@given(st.lists(st.floats(0.1, 1000), min_size=2, max_size=2))
def test_the_order_of_hops_does_not_matter_and_each_one_takes(rates: list[float]) -> None:
    forth, back = (float(after_hop_mbps(a, b)) for a, b in (rates, rates[::-1]))
    assert np.isclose(forth, back, rtol=1e-5) and forth < min(rates)


@given(st.lists(powers.map(lambda p: p[:2]), min_size=1, max_size=30), st.floats(0, 15))
def test_a_walk_never_serves_below_the_floor(steps: list[list[float]], gain: float) -> None:
    power = np.array(steps).T
    done = walk(power, gain_db=gain)
    served = done.serving >= 0
    assert (power[done.serving, np.arange(power.shape[1])][served] >= -82).all()
    assert (power.max(axis=0)[~served] < -82).all()
    assert (done.lost_db >= 0).all()
