"""Elements, limit lines and crosstalk at their edges."""

from __future__ import annotations

import numpy as np
import pytest

from rehaul.arrays import Reals
from rehaul.copper import (
    SMALL,
    USUAL,
    CableSection,
    Jack,
    Line,
    Splice,
    Tap,
    against_limits,
    cascade,
    echo_db,
    elfext_db,
    insertion_loss_db,
    limit_line,
    margin_db,
    next_db,
    run_line,
)
from rehaul.copper.twoport import decibels, scattering
from rehaul.errors import BadInput, OutOfRange

AT_100_MHZ = np.array([100e6])


def smooth_echo_db(line: Line) -> Reals:
    """How far below the signal the echo of smooth sections lies at 100 MHz."""
    return decibels(scattering(cascade(line, AT_100_MHZ)).s11)


def test_an_empty_line_is_a_wire() -> None:
    line = Line(())
    assert insertion_loss_db(line, AT_100_MHZ)[0] == pytest.approx(0.0, abs=1e-12)
    assert smooth_echo_db(line)[0] == np.inf
    assert next_db(line, AT_100_MHZ)[0] == np.inf


def test_length_counts_cords_and_not_taps() -> None:
    assert run_line("cat5e", 20.0, taps_m=(10.0,), splices=2).length_m == pytest.approx(24.0)


@pytest.mark.parametrize("length_m", [-1.0, 1001.0, float("nan")])
def test_lengths_out_of_range(length_m: float) -> None:
    with pytest.raises(OutOfRange):
        CableSection("cat5e", length_m)
    with pytest.raises(OutOfRange):
        Tap(length_m, "cat5e")


def test_edges_of_the_ranges_are_inside() -> None:
    CableSection("cat5e", 0.0, temperature_c=-40.0)
    CableSection("cat5e", 1000.0, temperature_c=90.0)
    assert limit_line("class D", "NEXT", np.array([1e6, 100e6])).shape == (2,)


def test_frequencies_must_be_above_nought() -> None:
    with pytest.raises(BadInput):
        cascade(Line((CableSection("cat5e", 1.0),)), np.array([0.0, 1e6]))


def test_limit_lines_refuse_what_they_do_not_cover() -> None:
    with pytest.raises(BadInput) as unknown:
        limit_line("class Z", "NEXT", 1e6)
    assert "class D" in unknown.value.remedy
    with pytest.raises(OutOfRange) as beyond:
        limit_line("class D", "NEXT", 101e6)
    assert "1 to 100 MHz" in beyond.value.remedy and "11801" in beyond.value.source


def test_power_sum_counts_the_other_pairs_where_there_are_any() -> None:
    four, two = (Line((CableSection("cat5e", 50.0),), pairs) for pairs in (4, 2))
    for crosstalk in (next_db, elfext_db):
        assert crosstalk(four, AT_100_MHZ, power_sum=True) == crosstalk(four, AT_100_MHZ) - 3.0
        assert crosstalk(two, AT_100_MHZ, power_sum=True) == crosstalk(two, AT_100_MHZ)


def test_untwisting_lets_more_leak() -> None:
    neat, loose = (next_db(Line((Splice(untwist_m=u),)), AT_100_MHZ)[0] for u in (0.013, 0.13))
    assert neat - loose == pytest.approx(20.0, abs=0.01)


def test_roughness_bounds_the_echo_of_a_smooth_line() -> None:
    line = Line((CableSection("cat5e", 50.0),))
    assert smooth_echo_db(line)[0] > 30.0
    assert echo_db(line, AT_100_MHZ)[0] == pytest.approx(17.0 - 10.0 * np.log10(5.0), abs=0.1)


def test_a_tap_shows_against_the_class_it_breaks() -> None:
    clean, tapped = (
        {found.quantity: found for found in against_limits(run_line("cat5e", 60.0, taps_m=taps), "class D")}
        for taps in ((), (2.0,))
    )
    assert all(found.tightest_db >= -1e-9 for found in clean.values())
    assert tapped["insertion loss"].tightest_db < -10.0
    assert tapped["insertion loss"].tightest_hz == pytest.approx(23e6, rel=0.05)  # a quarter wave of 2 m
    assert tapped["return loss"].tightest_db < 0.0
    assert clean["NEXT"].value_db.shape == clean["NEXT"].limit_db.shape == clean["NEXT"].frequency_hz.shape
    with pytest.raises(BadInput) as unknown:
        against_limits(run_line("cat5e", 60.0), "class Z")
    assert "class D" in unknown.value.remedy


def test_a_joint_has_loss_and_no_echo() -> None:
    line = Line((Jack("cat5e"),))
    assert smooth_echo_db(line)[0] > 250.0
    assert insertion_loss_db(line, AT_100_MHZ)[0] == pytest.approx(0.4)


def test_a_tap_whose_echo_outlasts_the_feedback_fails_the_finite_equaliser_only() -> None:
    """The unlimited bound passes a 10 m tap at 1000BASE-T; a simple port does not."""
    line = run_line("cat5e", 30.0, taps_m=(10.0,))
    assert margin_db(line, "1000BASE-T", None) > 8.0
    assert margin_db(line, "1000BASE-T", SMALL) < -5.0
    assert margin_db(run_line("cat5e", 30.0, taps_m=(13.0,)), "1000BASE-T", USUAL) < -5.0


def test_a_two_metre_tap_costs_a_few_decibels_and_splices_nothing_much() -> None:
    clean = margin_db(run_line("cat5e", 30.0), "1000BASE-T")
    assert 1.0 < clean - margin_db(run_line("cat5e", 30.0, taps_m=(2.0,)), "1000BASE-T") < 5.0
    assert clean - margin_db(run_line("cat5e", 30.0, splices=3), "1000BASE-T") < 2.0
