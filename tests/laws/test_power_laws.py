"""Energy is kept, more copper never hurts, and every refusal says why."""

from __future__ import annotations

import math

from hypothesis import given
from hypothesis import strategies as st

from rehaul.copper import RunFacts
from rehaul.power import (
    bell,
    bundle_rise_c,
    cabinet_rise_c,
    deliver,
    length_from_resistance_m,
    loop_resistance_ohm,
    poe,
    switch_budget,
    ups_minutes,
    ups_minutes_range,
)

classes = st.integers(1, 8)
gauges = st.sampled_from([22, 23, 24, 26, 28])


@given(st.floats(1.0, 60.0), st.floats(0.0, 50.0), st.floats(0.0, 100.0))
def test_energy_is_kept(source_v: float, line_ohm: float, load_w: float) -> None:
    got = deliver(source_v, line_ohm, load_w)
    if got is None:
        assert source_v**2 < 4.0 * line_ohm * load_w
        return
    assert math.isclose(source_v * got.current_a, load_w + got.loss_w, rel_tol=1e-9, abs_tol=1e-9)
    assert math.isclose(got.voltage_v * got.current_a, load_w, rel_tol=1e-6, abs_tol=1e-6)
    assert got.voltage_v >= source_v / 2.0 - 1e-6  # the stable solution


@given(classes, st.floats(1.0, 100.0), st.floats(0.1, 50.0), gauges)
def test_shorter_never_gets_less(number: int, length_m: float, more_m: float, awg: int) -> None:
    short, long = (
        poe(RunFacts("cat5e", 4, (m, m, m), "home run", awg=awg), number)
        for m in (length_m, length_m + more_m)
    )
    assert short.voltage_at_device_v >= long.voltage_at_device_v
    assert short.feasible or not long.feasible


@given(classes, st.floats(1.0, 100.0), st.floats(20.0, 60.0), st.floats(0.0, 30.0))
def test_an_attic_never_helps(number: int, length_m: float, cool_c: float, hotter_c: float) -> None:
    length = (length_m, length_m, length_m)
    cool = poe(RunFacts("cat5e", 4, length, "home run", temperature_c=cool_c), number)
    hot = poe(RunFacts("cat5e", 4, length, "home run", temperature_c=cool_c + hotter_c), number)
    assert hot.voltage_at_device_v <= cool.voltage_at_device_v


@given(classes, st.sampled_from([0, 1, 2, 3]), st.floats(1.0, 60.0))
def test_two_pairs_carry_class_4_at_most(number: int, pairs: int, length_m: float) -> None:
    result = poe(RunFacts("cat3", pairs, (length_m, length_m, length_m), "home run"), number)
    if pairs < 2 or number > 4:
        assert result.band == "no"
        assert result.reason and result.lift


@given(st.floats(1.0, 200.0), gauges, st.floats(-10.0, 60.0))
def test_length_comes_back_from_resistance(length_m: float, awg: int, temperature_c: float) -> None:
    ohm = loop_resistance_ohm(length_m, awg, temperature_c)
    low, middle, high = length_from_resistance_m(ohm, awg, temperature_c)
    assert low <= middle <= high
    assert math.isclose(middle, length_m, rel_tol=1e-9)


@given(st.floats(0.0, 60.0))
def test_an_unknown_gauge_spans_the_known_ones(ohm: float) -> None:
    low, middle, high = length_from_resistance_m(ohm, None)
    assert low <= middle <= high
    for awg in (22, 24, 26):
        _, known, _ = length_from_resistance_m(ohm, awg)
        assert low <= known <= high


@given(st.integers(1, 100), st.floats(0.05, 1.0), gauges)
def test_more_cables_and_current_are_warmer(cables: int, pair_a: float, awg: int) -> None:
    rise = bundle_rise_c(cables, pair_a, awg)
    assert bundle_rise_c(cables + 1, pair_a, awg) > rise
    assert bundle_rise_c(cables, pair_a * 1.1, awg) > rise


@given(st.floats(0.0, 500.0), st.floats(0.0, 100.0))
def test_air_carries_heat_away(load_w: float, airflow: float) -> None:
    assert cabinet_rise_c(load_w, "flush wall can", airflow_m3_per_h=airflow) <= cabinet_rise_c(
        load_w, "flush wall can"
    )


@given(st.floats(1.0, 500.0), st.floats(1.0, 200.0))
def test_the_range_of_minutes_holds_the_rated_ones(load_w: float, battery_ah: float) -> None:
    low, high = ups_minutes_range(load_w, 12.0, battery_ah)
    assert low <= ups_minutes(load_w, 12.0, battery_ah) <= high


@given(st.lists(classes, max_size=16).map(tuple), st.floats(1.0, 800.0))
def test_a_switch_never_gives_more_than_it_has(numbers: tuple[int, ...], budget_w: float) -> None:
    budget = switch_budget(numbers, budget_w)
    assert budget.fits == (budget.reserved_w <= budget_w)
    assert budget.fits or not budget.easy


@given(st.floats(8.0, 24.0), st.floats(0.0, 30.0), st.floats(1.0, 60.0), gauges)
def test_a_bell_never_gains_voltage(source_v: float, load_va: float, length_m: float, awg: int) -> None:
    result = bell(source_v, load_va, length_m, awg)
    assert 0.0 <= result.voltage_v <= source_v
    assert result.reason.endswith(".")
