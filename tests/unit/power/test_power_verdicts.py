"""Power verdicts for runs the trade knows, and the sentences that go with them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from rehaul.copper import RunFacts
from rehaul.errors import BadInput, OutOfRange
from rehaul.facts.poe import poe_classes
from rehaul.power import (
    bell,
    bundle_advice,
    bundle_rise_c,
    cabinet_temperature_c,
    code_checks,
    conductor_ohm,
    heat_advice,
    length_from_resistance_m,
    poe,
    switch_budget,
    ups_minutes,
)

CLEAN = RunFacts("cat5e", 4, (25.0, 30.0, 35.0), "home run", state="dead")


def test_a_clean_run_carries_every_class() -> None:
    assert [poe(CLEAN, number).band for number in poe_classes()] == ["likely"] * 8
    result = poe(CLEAN, 4)
    assert result.feasible and result.lift == ""
    low, high = result.voltage_range_v
    assert 42.5 < low < result.voltage_at_device_v < high < 50.0


def test_thin_wire_of_full_length_passes_the_source_limit() -> None:
    thin = RunFacts("cat5e", 4, (100.0, 100.0, 100.0), "home run", awg=26)
    assert [number for number in poe_classes() if poe(thin, number).band != "no"] == [1, 2, 3]
    assert "Class 4 over about 100 m of 26 AWG would go past 0.6 A or 30 W" in poe(thin, 4).reason


def test_two_pairs_stop_at_class_4() -> None:
    two = RunFacts("quad", None, (10.0, 15.0, 20.0), "home run")
    assert poe(two, 4).feasible
    refused = poe(two, 5)
    assert refused.band == "no" and "class 4 is the most on two pairs" in refused.reason
    assert refused.lift == "Ask for class 4 or less"


def test_one_pair_takes_no_power() -> None:
    refused = poe(replace(CLEAN, pairs=1), 3)
    assert refused.band == "no" and refused.lift == "Pull a new cable"


@pytest.mark.parametrize("state", ["live telephone", "alarm"])
def test_power_never_meets_a_live_line(state: str) -> None:
    refused = poe(replace(CLEAN, state=state), 3)  # type: ignore[arg-type]
    assert refused.band == "no" and "never feed power" in refused.reason


def test_a_chain_is_powered_only_once_joined() -> None:
    chained = replace(CLEAN, topology="daisy chain", splices=3, temperature_c=55.0, awg=26)
    assert poe(chained, 4).band == "no" and "Join the run" in poe(chained, 4).lift
    joined = poe(chained, 4, joined=True)
    assert joined.band == "likely"
    assert joined.voltage_at_device_v < poe(CLEAN, 4).voltage_at_device_v


def test_a_wrong_wire_map_is_never_powered() -> None:
    assert poe(replace(CLEAN, wire_map_ok=False), 3).band == "no"


def test_a_measured_loop_beats_a_guess() -> None:
    measured = replace(CLEAN, awg=None, loop_ohm=30.0)
    result = poe(measured, 4)
    assert result.evidence == "measured" and result.band == "no"
    assert "measured at 30 ohm" in result.reason


def test_unknown_runs_are_a_trial() -> None:
    result = poe(RunFacts(length_m=(5.0, 20.0, 40.0)), 4)
    assert result.band == "try it" and result.evidence == "unknown" and result.lift


def test_a_higher_source_voltage_helps() -> None:
    assert poe(CLEAN, 4, 55.0).current_a < poe(CLEAN, 4).current_a
    with pytest.raises(OutOfRange):
        poe(CLEAN, 4, 12.0)
    with pytest.raises(BadInput):
        poe(CLEAN, 9)


def test_switch_budget() -> None:
    assert switch_budget((4, 4), 120.0).easy
    tight = switch_budget((4, 4), 60.0)
    assert tight.fits and not tight.easy
    over = switch_budget((4, 4, 4), 60.0)
    assert (
        not over.fits and over.reason.startswith("Of 60 W, 90 W are set aside") and "too much" in over.reason
    )


@pytest.mark.parametrize(("loop_ohm", "feasible"), [(24.0, True), (27.0, False)])
def test_a_class_says_what_resistance_it_counts_on(loop_ohm: float, feasible: bool) -> None:
    """Class 4: 12.5 ohm for a pairset, 25 for the loop of one pair that a meter reads."""
    result = poe(replace(CLEAN, loop_ohm=loop_ohm), 4)
    assert result.feasible is feasible
    assert ("it counts on 12.5 ohm in a pairset, and this one has about 14" in result.reason) is not feasible


def test_bundle_advice() -> None:
    assert "Split the bundle" in bundle_advice(30, 5.0, 25.0)
    assert "loosen it" in bundle_advice(20, 20.0, 25.0)
    assert "keep it out of there" in bundle_advice(20, bundle_rise_c(20, 0.96, 24), 55.0)
    assert bundle_advice(6, bundle_rise_c(6, 0.6, 24), 25.0) == ""


def test_a_can_in_an_attic_is_too_hot_and_a_fan_helps() -> None:
    sealed = cabinet_temperature_c(60.0, "flush wall can", "attic in summer")
    vented = cabinet_temperature_c(60.0, "flush wall can", "room", airflow_m3_per_h=40.0)
    assert "vent it" in heat_advice(sealed) and "within" in heat_advice(vented)


def test_old_bell_wire() -> None:
    weak = bell(16.0, 20.0, 20.0, 22, needs_v=16.0)
    assert not weak.feasible and weak.voltage_v > 12.0 and "below the 16 V" in weak.reason
    assert "cannot carry" in bell(16.0, 20.0, 20.0, 24).reason


def test_everything_lasts_less_than_the_core_alone() -> None:
    assert ups_minutes(76.0, 12.0, 9.0) < ups_minutes(35.0, 12.0, 9.0)
    with pytest.raises(OutOfRange):
        ups_minutes(0.0, 12.0, 9.0)


@pytest.mark.parametrize("country", ["US", "CA", "UK", "EU", "AU", "NZ"])
def test_code_checks_end_in_the_local_code(country: str) -> None:
    checks = code_checks(country)
    assert any(item.check == "separation from power" for item in checks)
    assert all(item.advice.endswith("Check your local code.") for item in checks)
    assert all(item.source for item in checks)


@pytest.mark.parametrize(
    ("country", "check", "advice"),
    [
        (
            "US",
            "separation from power",
            (
                "Separation from power, data cable beside light and power conductors: at least 50 mm;"
                " a raceway or a cable sheath on the power side. Check your local code."
            ),
        ),
        (
            "US",
            "bonding conductor",
            (
                "Bonding conductor, primary protector and cable shield to the building ground:"
                " 14 AWG or thicker. Check your local code."
            ),
        ),
        (
            "UK",
            "bonding conductor",
            "Bonding conductor, functional earth of a rack: at least 4 mm². Check your local code.",
        ),
        (
            "NZ",
            "same box as power",
            (
                "Same box as power, data cable and mains in one box: never; a listed divider between them."
                " Check your local code."
            ),
        ),
        (
            "AU",
            "separation at a distance",
            (
                "Separation at a distance, long parallel runs beside unshielded power lines under 480 V:"
                " at least 125 mm. Check your local code."
            ),
        ),
    ],
)
def test_a_check_says_how_far_and_what_relaxes_it(country: str, check: str, advice: str) -> None:
    """Each figure as its row of the table has it: 0.05 m is 50 mm, 0.125 m is 125 mm."""
    assert [row.advice for row in code_checks(country) if row.check == check] == [advice]


def test_an_unknown_country_gets_the_common_checks() -> None:
    assert {item.check for item in code_checks("ZZ")} == {"same box as power", "separation at a distance"}


def test_resistance_near_nought_is_a_length_near_nought() -> None:
    low, middle, high = length_from_resistance_m(0.1, 24)
    assert low == 0.0 and middle < 1.0 < high


def test_an_unlisted_gauge_is_refused() -> None:
    with pytest.raises(BadInput):
        conductor_ohm(10.0, 25)
