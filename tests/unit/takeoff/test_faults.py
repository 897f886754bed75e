"""Fault distance: what a wire with a short in it reads from both ends comes back."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rehaul.house import Estimate, Run, RunTest, WireMap
from rehaul.power import loop_resistance_ohm
from rehaul.takeoff import fault_place


def run(length_m: float | None, *readings: tuple[str, float]) -> Run:
    length = None if length_m is None else Estimate(middle=length_m, low=length_m, high=length_m)
    tests = tuple(RunTest(wire_map=WireMap.SHORT, from_end=end, fault_ohm=ohm) for end, ohm in readings)
    return Run(id="C1", ends=("M1", "2-01"), gauge_awg=24, length_m=length, tests=tests)


@given(st.floats(2, 80), st.floats(0, 1), st.floats(0, 20), st.floats(0, 1))
def test_the_place_comes_back_whatever_the_contact_and_the_leads(
    length_m: float, share: float, contact_ohm: float, leads_ohm: float
) -> None:
    per_m = loop_resistance_ohm(1.0, 24)
    one, other = share * length_m, (1 - share) * length_m
    added = contact_ohm + leads_ohm
    place = fault_place(run(length_m, ("M1", per_m * one + added), ("2-01", per_m * other + added)))
    assert place is not None and place.other_distance_m is not None
    assert place.distance_m[1] == pytest.approx(one, abs=1e-6)
    assert place.other_distance_m[1] == pytest.approx(other, abs=1e-6)
    assert place.contact_ohm == pytest.approx(added, abs=1e-6)


def test_the_sheet_s_example() -> None:
    """3.0 ohm on a shorted 24 AWG pair is 17.8 m (source sheet of the trade, computed)."""
    place = fault_place(run(None, ("M1", 3.0)))
    assert place is not None and place.distance_m[1] == pytest.approx(17.8, abs=0.1)
    assert place.distance_m[0] < 17.8 < place.distance_m[2]
    assert "from M1" in place.words


def test_a_later_reading_rules_and_none_is_none() -> None:
    place = fault_place(run(None, ("M1", 3.0), ("M1", 1.5)))
    assert place is not None and place.distance_m[1] == pytest.approx(8.9, abs=0.1)
    assert fault_place(run(20.0)) is None
