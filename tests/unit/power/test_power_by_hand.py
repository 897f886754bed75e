"""Formulas of power on thin wires worked out by hand, and the edges of every limit."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from rehaul.copper import RunFacts
from rehaul.errors import OutOfRange
from rehaul.facts.poe import poe_class_row
from rehaul.power import (
    bell,
    bundle_advice,
    bundle_rise_c,
    cabinet_rise_c,
    cabinet_temperature_c,
    conductor_ohm,
    deliver,
    heat_advice,
    length_from_resistance_m,
    loop_resistance_ohm,
    pairset_ohm,
    poe,
    switch_budget,
    ups_minutes,
    ups_minutes_range,
)
from rehaul.power.powered_run import _attempt, _pairset_range_ohm


def test_copper_by_hand() -> None:
    """24 AWG has 84.20 ohm in 1000 m at 20 °C, and 0.393 % more for each kelvin."""
    assert conductor_ohm(50.0, 24) == pytest.approx(4.21)
    assert conductor_ohm(50.0, 24, 30.0) == pytest.approx(4.21 * 1.0393)
    assert loop_resistance_ohm(50.0, 24) == pytest.approx(8.42)
    assert pairset_ohm(50.0, 24, splices=3) == pytest.approx(4.21 + 0.15), "two conductors each way"
    for length_m, warm_c in ((-0.1, 20.0), (1e5 + 1, 20.0), (1.0, -40.1), (1.0, 90.1)):
        with pytest.raises(OutOfRange):
            conductor_ohm(length_m, 24, warm_c)
    assert conductor_ohm(1e5, 24, 90.0) > conductor_ohm(1e5, 24, -40.0) > 0, "edges are inside"


def test_a_length_with_its_errors_by_hand() -> None:
    """8.42 ohm: 50 m. Meter 0.3 of 8.42 is 3.56 %, copper 8 %: together 8.76 %."""
    error = math.hypot(0.3 / 8.42, 0.08)
    low, middle, high = length_from_resistance_m(8.42, 24)
    assert middle == pytest.approx(50.0)
    assert (low, high) == (pytest.approx(50 / (1 + error)), pytest.approx(50 / (1 - error)))
    low, middle, high = length_from_resistance_m(8.42, None)
    assert middle == pytest.approx(50.0)
    assert low == pytest.approx(8.42 / (2 * 0.13386) / (1 + error))  # 26 AWG
    assert high == pytest.approx(8.42 / (2 * 0.05294) / (1 - error))  # 22 AWG
    low, middle, high = length_from_resistance_m(0.3, None)
    assert (low, middle) == (0.0, pytest.approx(0.3 / (2 * 0.0842)))
    assert high == pytest.approx(0.6 / (2 * 0.05294))
    assert length_from_resistance_m(0.2, 26)[1:] == (
        pytest.approx(0.2 / 0.26772),
        pytest.approx(0.5 / 0.26772),
    )


def test_constant_power_at_the_end_of_a_line() -> None:
    """50 V, 10 ohm, 40 W: I = (50 - sqrt(2500 - 1600)) / 20 = 1 A, so 40 V and 10 W lost."""
    got = deliver(50.0, 10.0, 40.0)
    assert got is not None
    assert (got.current_a, got.voltage_v, got.loss_w) == (
        pytest.approx(1),
        pytest.approx(40),
        pytest.approx(10),
    )
    assert deliver(50.0, 10.0, 62.5) is not None and deliver(50.0, 10.0, 62.6) is None, "V² / 4R"
    near = deliver(50.0, 0.0, 100.0)
    assert near is not None and (near.current_a, near.voltage_v, near.loss_w) == (2.0, 50.0, 0.0)


def test_a_bell_by_hand() -> None:
    """16 V over 10 m of 18 AWG (0.419 ohm) at 10 VA: 0.6356 A, so 15.73 V."""
    found = bell(16.0, 10.0, 10.0, 18)
    ohm = 2 * 10 * 0.02095
    amps = (16 - math.sqrt(256 - 4 * ohm * 10)) / (2 * ohm)
    assert found.feasible and found.current_a == pytest.approx(amps)
    assert found.voltage_v == pytest.approx(16 - amps * ohm)
    exact = bell(16.0, 10.0, 10.0, 18, needs_v=found.voltage_v)
    assert exact.feasible and "below" not in exact.reason
    short = bell(16.0, 10.0, 10.0, 18, needs_v=found.voltage_v + 0.01)
    assert not short.feasible and "below the" in short.reason
    never = bell(16.0, 200.0, 100.0, 24)
    assert (never.feasible, never.voltage_v, never.current_a) == (False, 0.0, 0.0)


def test_heat_in_a_bundle_by_hand() -> None:
    """16 cables of four pairs at 0.6 A, 24 AWG: 64 pairs of 2 · 0.3² · 0.0842 W a metre are 0.970 W.

    The bundle is 5.5 mm · 4 · 1.15 = 25.3 mm thick. Surface: 0.970 / (pi · 0.0253 · 7) = 1.74 K; inside:
    0.970 / (4 pi · 0.12) = 0.64 K.
    """
    watts = 64 * 2 * 0.09 * 0.0842
    wanted = watts / (math.pi * 0.0253 * 7) + watts / (4 * math.pi * 0.12)
    assert bundle_rise_c(16, 0.6, 24) == pytest.approx(wanted, rel=1e-6) == pytest.approx(2.386, abs=0.01)
    assert bundle_rise_c(16, 0.6, 24, pairs=2) == pytest.approx(wanted / 2)


@pytest.mark.parametrize(
    ("cables", "rise", "ambient", "words"),
    [(24, 15.0, 45.0, ""), (25, 1.0, 20.0, "Split"), (24, 15.1, 20.0, "allowed"), (24, 15.0, 45.1, "rating")],
)
def test_limits_of_a_bundle(cables: int, rise: float, ambient: float, words: str) -> None:
    said = bundle_advice(cables, rise, ambient)
    assert words in said and bool(words) == bool(said)


def test_heat_where_boxes_sit_by_hand() -> None:
    """30 W: in a can 12 K; with 10 m³ an hour 30 / (2.5 + 3.35) = 5.13 K."""
    assert cabinet_rise_c(30.0, "flush wall can") == pytest.approx(12.0)
    assert cabinet_rise_c(30.0, "flush wall can", airflow_m3_per_h=10.0) == pytest.approx(30 / 5.85)
    cool = cabinet_temperature_c(0.0, "cupboard", "room")
    assert cabinet_temperature_c(24.0, "cupboard", "room") == pytest.approx(cool + 2.0)
    assert "within" in heat_advice(40.0) and "above" in heat_advice(40.1)
    assert "vent it" in heat_advice(50.0) and "air passes" in heat_advice(50.0, vented=True)
    assert "it is closed" in heat_advice(50.0, vented=False)


def test_minutes_on_battery_by_hand() -> None:
    """12 V 9 Ah: 108 Wh, 85 % out of the inverter, 80 % when aged; at 36.72 W two hours and a half new.

    Aged 2 h; drawn 3.6 A where rated for 0.45: slower by (1/8)^0.2 = 0.660.
    """
    assert ups_minutes(36.72, 12.0, 9.0, aged=False) == pytest.approx(150.0)
    assert ups_minutes(36.72, 12.0, 9.0) == pytest.approx(120.0)
    low, best = ups_minutes_range(36.72, 12.0, 9.0)
    assert best == pytest.approx(150.0) and low == pytest.approx(120 * (1 / 8) ** 0.2)
    gentle = ups_minutes_range(1.0, 12.0, 9.0)
    assert gentle[0] == pytest.approx(ups_minutes(1.0, 12.0, 9.0)), "never longer than rated"


@pytest.mark.parametrize(
    ("classes", "drawn", "fits", "easy", "words"),
    [
        ((4, 3), None, True, False, "little to spare"),  # 45.4 of 48; headroom is 38.4
        ((4, 3), 38.4, True, True, "with headroom"),
        ((4, 3), 38.5, True, False, "little to spare"),
        ((4, 3, 1), 10.0, False, False, "too much"),  # 49.4
        ((3, 3, 3), None, True, False, "little to spare"),  # 46.2
        ((), None, True, True, "with headroom"),
    ],
)
def test_a_switch_of_48_watts(
    classes: tuple[int, ...], drawn: float | None, fits: bool, easy: bool, words: str
) -> None:
    found = switch_budget(classes, 48.0, drawn_w=drawn)
    assert (found.fits, found.easy) == (fits, easy) and words in found.reason
    assert found.reserved_w == pytest.approx(sum({1: 4, 3: 15.4, 4: 30}[n] for n in classes))


def test_limits_of_a_class() -> None:
    """Class 4 at 50 V over 12.5 ohm: I = (50 - sqrt(2500 - 4 · 12.5 · 25.5)) / 25 = 0.6 A, and no more."""
    row = poe_class_row(4)
    got = _attempt(row, 50.0, 12.5)
    assert got is not None and got.current_a == pytest.approx(0.6, abs=1e-9)
    assert _attempt(row, 50.0, 12.51) is None
    two = _attempt(poe_class_row(6), 50.0, 12.5)
    assert two is not None and two.current_a == pytest.approx(1.2, abs=1e-9), "two pairsets side by side"
    with pytest.raises(OutOfRange):
        poe(facts(), 4, 43.9)
    assert poe(facts(), 4, 44.0).poe_class == 4 and poe(facts(), 4, 57.0).feasible


@pytest.mark.parametrize("poe_class", range(1, 9))
def test_every_class_is_carried_at_the_ohms_that_it_counts_on(poe_class: int) -> None:
    """Classes 1, 5, 7 and 8 then draw 4.006, 45.08, 75.004 and 90.04 W: what is printed is rounded."""
    row = poe_class_row(poe_class)
    got = _attempt(row, row.source_min_v, row.channel_ohm)
    assert got is not None and got.voltage_v >= row.device_min_v
    assert _attempt(row, row.source_min_v, row.channel_ohm * 1.15) is None


def facts(**more: object) -> RunFacts:
    given: dict[str, object] = {
        "category": "cat5", "pairs": 4, "length_m": (10.0, 20.0, 30.0), "topology": "home run", "splices": 1,
        "state": "dead", "awg": None, **more,
    }  # fmt: skip
    return RunFacts(**given)  # type: ignore[arg-type]


def test_a_pairset_s_range_from_a_loop_or_from_lengths() -> None:
    assert _pairset_range_ohm(facts(loop_ohm=4.0)) == pytest.approx((1.85, 2.0, 2.15))
    assert _pairset_range_ohm(facts(loop_ohm=0.2))[0] == 0.0
    told = _pairset_range_ohm(facts(awg=24))
    assert told == pytest.approx([length * 0.0842 + 0.05 for length in (10, 20, 30)])
    guessed = _pairset_range_ohm(facts(category="unknown", splices=None))
    assert guessed == pytest.approx([10 * 0.0842, 20 * 0.0842, 30 * 0.13386]), "thin where it is long"


def test_verdicts_by_what_is_settled() -> None:
    well = poe(facts(), 4)
    assert (well.band, well.lift, well.evidence) == ("likely", "", "inferred")
    assert well.voltage_range_v[0] < well.voltage_at_device_v < well.voltage_range_v[1]
    assert well.loss_w == pytest.approx(well.current_a**2 * _pairset_range_ohm(facts())[1])
    assert poe(facts(pairs=None), 4).band == poe(facts(topology="unknown"), 4).band == "try it"
    assert (
        poe(facts(state="damaged"), 4).band == "try it" and poe(facts(topology="spliced"), 4).band == "likely"
    )
    assert (
        poe(facts(topology="daisy chain"), 4).band == "no"
        and poe(facts(topology="daisy chain"), 4, joined=True).band == "likely"
    )
    assert (
        poe(facts(pairs=2), 4).feasible
        and not poe(facts(pairs=2), 5).feasible
        and not poe(facts(pairs=1), 1).feasible
    )
    far = poe(facts(length_m=(80.0, 170.0, 200.0), awg=24), 4)
    assert (far.feasible, far.band, far.voltage_at_device_v) == (
        False,
        "try it",
        0.0,
    ) and "go past" in far.reason
    gone = poe(facts(length_m=(170.0, 180.0, 200.0), awg=24), 4)
    assert gone.band == "no" and gone.voltage_range_v == (0.0, 0.0)
    assert (
        poe(facts(loop_ohm=3.0), 4).evidence == "measured"
        and poe(facts(category="unknown"), 4).evidence == "unknown"
    )


@pytest.mark.parametrize(
    ("asked", "least", "most", "beyond"),
    [
        (lambda v: bell(v, 0.0, 1.0, 18), 1.0, 60.0, (0.9, 60.1)),
        (lambda va: bell(16.0, va, 1.0, 18), 0.0, 200.0, (-0.1, 200.1)),
        (lambda w: ups_minutes(w, 12.0, 9.0), 0.1, 1e5, (0.09, 100_001.0)),
        (lambda v: ups_minutes(10.0, v, 9.0), 1.0, 1000.0, (0.9, 1000.1)),
        (lambda ah: ups_minutes(10.0, 12.0, ah), 0.1, 1e4, (0.09, 10_001.0)),
        (lambda w: cabinet_rise_c(w, "cupboard"), 0.0, 1e4, (-0.1, 10_001.0)),
        (lambda m3: cabinet_rise_c(1.0, "cupboard", airflow_m3_per_h=m3), 0.0, 1e4, (-0.1, 10_001.0)),
        (lambda n: bundle_rise_c(n, 0.5, 24), 1, 400, (0, 401)),
        (lambda a: bundle_rise_c(2, a, 24), 0.0, 2.0, (-0.1, 2.1)),
        (lambda ohm: length_from_resistance_m(ohm, 24), 0.0, 1e5, (-0.1, 100_001.0)),
        (lambda v: poe(facts(), 3, v), 44.0, 57.0, (43.9, 57.1)),
    ],
)
def test_edges_of_what_may_be_asked_are_inside(
    asked: Callable[[float], object], least: float, most: float, beyond: tuple[float, float]
) -> None:
    assert asked(least) is not None and asked(most) is not None
    for value in beyond:
        with pytest.raises(OutOfRange):
            asked(value)


def test_four_fifths_of_a_switch_s_budget_is_still_easy() -> None:
    found = switch_budget((4,), 50.0, drawn_w=40.0)
    assert found.easy and (found.reserved_w, found.drawn_w, found.budget_w) == (30.0, 40.0, 50.0)
    assert switch_budget((4,), 30.0).fits, "to the last watt"


def test_a_bell_wire_that_is_warm_or_thin_delivers_less() -> None:
    """10 m of 24 AWG are 1.684 ohm at 20 °C, and 0.393 % more for each of 40 K."""
    warm = bell(16.0, 10.0, 10.0, 24, temperature_c=60.0)
    ohm = 1.684 * (1 + 0.00393 * 40)
    amps = (16 - math.sqrt(256 - 40 * ohm)) / (2 * ohm)
    assert (
        warm.voltage_v == pytest.approx(16 - amps * ohm) and warm.voltage_v < bell(16, 10, 10, 24).voltage_v
    )


def test_what_a_source_gives_at_most_stops_a_class_before_its_current_does() -> None:
    """Class 1: 4.008 W at 44 V are 0.09109 A; 3.84 W at the device leave 42.16 V: 1.844 V over 20.25 ohm."""
    row = poe_class_row(1)
    got = _attempt(row, 44.0, 20.22)
    assert got is not None and got.voltage_v == pytest.approx(42.16, abs=0.01)
    assert _attempt(row, 44.0, 20.28) is None


def test_a_reading_little_above_the_meter_s_error_leaves_a_wide_range() -> None:
    """0.31 ohm: 0.3 of error and 8 % are 97 %; no less than a tenth is divided by."""
    low, middle, high = length_from_resistance_m(0.31, 24)
    assert middle == pytest.approx(0.31 / 0.1684)
    assert high == pytest.approx(middle / 0.1) and low == pytest.approx(middle / 1.971, rel=1e-3)
    assert length_from_resistance_m(0.31, 24, 45.0)[1] == pytest.approx(middle / (1 + 0.00393 * 25))
