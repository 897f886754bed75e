"""Power over thin wires against class tables, wire tables and worked examples."""

from __future__ import annotations

import pytest

from published import Published
from rehaul.facts.conductors import conductors
from rehaul.facts.poe import poe_classes
from rehaul.power import (
    bell,
    bundle_rise_c,
    cabinet_rise_c,
    conductor_ohm,
    deliver,
    length_from_resistance_m,
    loop_resistance_ohm,
    pairset_ohm,
    ups_minutes,
)

PRACTICE = "trade handbook example"


@pytest.mark.parametrize(
    ("poe_class", "volts"), [(3, 37.0), (4, 42.5), (5, 44.3), (6, 42.5), (7, 42.9), (8, 41.1)]
)
def test_least_voltage_at_the_device(poe_class: int, volts: float) -> None:
    """The device minimum is what the longest channel leaves at full source power."""
    row = poe_classes()[poe_class]
    current = row.source_w / row.source_min_v
    left = row.source_min_v - current * row.channel_ohm / row.pairsets
    place = f"class {poe_class} device voltage"
    Published(volts, "V", "IEEE 802.3 clauses 33 and 145", place, "memory", 0.1, "rounded to 0.1 V").check(
        left
    )
    assert row.device_min_v == volts


def test_class_4_over_60_m() -> None:
    row = poe_classes()[4]
    got = deliver(row.source_min_v, pairset_ohm(60.0, 24), row.device_w)
    assert got is not None
    document, place = "I = (V - sqrt(V² - 4RP)) / 2R", "24 AWG, 60 m, class 4"
    Published(0.54, "A", document, place, "computed", 0.005, "two digits").check(got.current_a)
    Published(47.3, "V", document, place, "computed", 0.05, "three digits").check(got.voltage_v)


@pytest.mark.parametrize(("awg", "metres"), [(26, 93.0), (24, 148.0)])
def test_length_of_twelve_and_a_half_ohms(awg: int, metres: float) -> None:
    document = "IEEE 802.3 clause 33, 12.5 ohm pairset"
    Published(12.5, "ohm", document, f"{metres:g} m of {awg} AWG", "computed", 0.07, "whole metres").check(
        pairset_ohm(metres, awg)
    )


@pytest.mark.parametrize("awg", sorted(conductors()))
def test_gauges_follow_the_geometric_rule(awg: int) -> None:
    """Diameter 0.127 mm · 92^((36-n)/39); resistance from 17.241 nohm·m."""
    row = conductors()[awg]
    diameter_m = 0.127e-3 * 92 ** ((36 - awg) / 39)
    ohm_per_km = 17.241e-9 / (3.141592653589793 * diameter_m**2 / 4) * 1000
    rule = "ASTM B258 wire gauge rule"
    Published(diameter_m * 1e3, "mm", rule, f"{awg} AWG", "computed", 0.001, "rounded to 1 µm").check(
        row.diameter_m * 1e3
    )
    Published(
        ohm_per_km, "ohm/km", rule, f"{awg} AWG", "computed", 0.01 * ohm_per_km, "drawn copper, 1 %"
    ).check(row.resistance_ohm)


def test_gauge_guess_changes_length() -> None:
    ratio = conductor_ohm(1.0, 24) / conductor_ohm(1.0, 22)
    Published(1.59, "1", "wire gauge table", "22 against 24 AWG", "excerpt", 0.005, "two digits").check(ratio)


def test_fault_distance() -> None:
    Published(17.8, "m", PRACTICE, "3.0 ohm on a shorted 24 AWG pair", "computed", 0.05, "one digit").check(
        length_from_resistance_m(3.0, 24)[1]
    )


@pytest.mark.parametrize(("metres", "below", "above"), [(10.0, 2.0, 2.0), (30.0, 2.8, 3.4), (60.0, 4.6, 5.7)])
def test_length_range(metres: float, below: float, above: float) -> None:
    low, middle, high = length_from_resistance_m(loop_resistance_ohm(metres, 24), 24)
    document, place = "loop resistance to length, 95 %", f"24 AWG, {metres:g} m"
    why = "the worked range was simulated, ours is a sum of squares"
    Published(below, "m", document, place, "computed", 0.5, why).check(middle - low)
    Published(above, "m", document, place, "computed", 0.5, why).check(high - middle)


def test_bundle_of_a_hundred() -> None:
    why = "still-air coefficients are assumptions: within 30 %"
    Published(
        7.2,
        "K",
        "TIA profile quoted by ciinet.com on PoE in conduit",
        "100 cables, 600 mA",
        "excerpt",
        2.2,
        why,
    ).check(bundle_rise_c(100, 0.6, 24))


def test_doorbell_over_bell_wire() -> None:
    Published(12.6, "V", PRACTICE, "16 V, 20 VA, 20 m of 22 AWG", "computed", 0.06, "three digits").check(
        bell(16.0, 20.0, 20.0, 22).voltage_v
    )
    assert not bell(16.0, 20.0, 20.0, 24).feasible


@pytest.mark.parametrize(("load", "minutes"), [(76.0, 58.0), (35.0, 126.0)])
def test_battery_minutes(load: float, minutes: float) -> None:
    Published(
        minutes, "min", PRACTICE, f"aged 12 V 9 Ah at {load:g} W", "computed", 0.6, "whole minutes"
    ).check(ups_minutes(load, 12.0, 9.0))


def test_closed_enclosures() -> None:
    Published(5.0, "K", PRACTICE, "60 W in a cupboard", "common practice", 0.5, "about").check(
        cabinet_rise_c(60.0, "cupboard")
    )
    Published(24.0, "K", PRACTICE, "60 W in a flush wall can", "common practice", 0.5, "about").check(
        cabinet_rise_c(60.0, "flush wall can")
    )
