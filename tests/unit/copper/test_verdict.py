"""Verdicts say the right thing for runs the trade knows, and what would lift them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from rehaul.copper import RunFacts, other_media, settling, verdict, verdicts
from rehaul.copper.chances import chances
from rehaul.copper.run import CopperTopology
from rehaul.errors import BadInput, OutOfRange
from rehaul.facts.coax import coax_limit
from rehaul.facts.ethernet import Ethernet

CLEAN = RunFacts("cat5e", 4, (12.0, 15.0, 18.0), "home run", state="dead")


def bands(run: RunFacts) -> list[str]:
    return [item.band for item in verdicts(run)]


def test_a_clean_home_run_of_category_5e() -> None:
    assert bands(CLEAN) == ["likely"] * 4 + ["try it"] * 2
    found = verdict(CLEAN, "1000BASE-T")
    assert found.evidence == "inferred"
    assert found.rate_mbps == 1000
    assert "within the 100 m promised" in found.reason
    assert "full-load error count" in found.lift


def test_quad_has_two_pairs_and_no_promise() -> None:
    quad = RunFacts("quad", 2, (10.0, 15.0, 20.0), "home run")
    gigabit = verdict(quad, "1000BASE-T")
    assert gigabit.band == "no"
    assert gigabit.probability == 0.0
    assert gigabit.reason == "1000BASE-T needs 4 pairs and this run has 2."
    assert gigabit.lift == "Pull a four-pair cable, or use another medium"
    assert verdict(quad, "100BASE-TX").band == "try it"


def test_quad_of_unknown_count_still_has_two_pairs() -> None:
    found = verdict(RunFacts("quad", None, (10.0, 15.0, 20.0), "home run"), "2.5GBASE-T")
    assert found.band == "no" and "quad has two" in found.reason


def test_category_3_is_a_trial_beyond_ten_megabits() -> None:
    run = RunFacts("cat3", 4, (10.0, 15.0, 20.0), "home run")
    assert verdict(run, "10BASE-T").band == "likely"
    for ethernet in ("100BASE-TX", "1000BASE-T", "2.5GBASE-T"):
        found = verdict(run, ethernet)
        assert found.band == "try it"
        assert "No standard promises" in found.reason


@pytest.mark.parametrize("ethernet", ["100BASE-TX", "1000BASE-T", "2.5GBASE-T", "10GBASE-T"])
def test_a_ten_metre_tap_stops_what_a_clean_run_carries(ethernet: Ethernet) -> None:
    tapped = verdict(replace(CLEAN, topology="tap", taps_m=(10.0,)), ethernet)
    assert tapped.band == "no"
    assert tapped.reason.startswith("10 m of cable hangs on the line")
    assert "join the run straight through" in tapped.lift.lower()
    assert tapped.lifted_band == verdict(CLEAN, ethernet).band


def test_a_short_tap_is_no_promise() -> None:
    assert verdict(replace(CLEAN, topology="tap", taps_m=(2.0,)), "1000BASE-T").band == "try it"


def test_two_taps_are_worse_than_one() -> None:
    one, two = (verdict(replace(CLEAN, taps_m=taps), "2.5GBASE-T") for taps in ((3.0,), (3.0, 4.0)))
    assert two.probability < one.probability


def test_a_few_sound_splices_cost_little() -> None:
    spliced = verdict(replace(CLEAN, topology="spliced", splices=1), "1000BASE-T")
    assert spliced.band == "likely"
    assert 0.05 < verdict(CLEAN, "1000BASE-T").probability - spliced.probability < 0.1
    assert "remake the splices" in spliced.lift


def test_a_chain_as_found_is_lifted_by_joining() -> None:
    chained = verdict(replace(CLEAN, topology="daisy chain"), "1000BASE-T")
    assert chained.band == "try it"
    assert chained.lifted_band == "likely"


def test_unknown_survey_values_give_a_probability_between() -> None:
    unknown = verdict(RunFacts(length_m=(5.0, 15.0, 30.0)), "1000BASE-T")
    length_m = (5.0, 15.0, 30.0)
    good = verdict(RunFacts("cat5e", 4, length_m, "home run"), "1000BASE-T")
    poor = verdict(RunFacts("quad", 2, length_m, "home run"), "1000BASE-T")
    assert poor.probability < unknown.probability < good.probability
    assert unknown.evidence == "unknown"
    assert "sheath print" in unknown.lift and "count the pairs" in unknown.lift.lower()


def test_counting_pairs_settles_an_unknown_cable() -> None:
    run = RunFacts(length_m=(5.0, 15.0, 30.0), topology="home run")
    two, none, four = (verdict(replace(run, pairs=pairs), "1000BASE-T").probability for pairs in (2, None, 4))
    assert two == 0.0 < none < four


def test_the_most_telling_reading_comes_first() -> None:
    readings = settling(RunFacts(length_m=(5.0, 15.0, 30.0)), "1000BASE-T")
    assert [reading.worth for reading in readings] == sorted((r.worth for r in readings), reverse=True)
    assert readings[0].reading == "count the pairs"
    assert {reading.reading for reading in readings} >= {"read the sheath print", "read the wire map"}
    assert settling(replace(CLEAN, wire_map_ok=True), "1000BASE-T") == ()


def test_a_wrong_wire_map_stops_everything_until_mended() -> None:
    wrong = verdict(replace(CLEAN, wire_map_ok=False), "100BASE-TX")
    assert wrong.band == "no" and wrong.lifted_band == "likely"
    assert wrong.lift.startswith("Re-terminate both ends")


def test_damage_is_named() -> None:
    damaged = verdict(replace(CLEAN, state="damaged"), "100BASE-TX")
    assert damaged.band == "no" and damaged.lifted_band == "likely"
    assert damaged.reason == "The run is noted as damaged."


def test_a_live_line_waits_for_a_sign_off() -> None:
    for state in ("live telephone", "alarm"):
        assert "sign it off" in verdict(replace(CLEAN, state=state), "1000BASE-T").lift  # type: ignore[arg-type]


def test_a_link_that_ran_beats_inference() -> None:
    old = RunFacts("cat3", 4, (10.0, 15.0, 20.0), "home run", link_mbps=1000.0, errors=0)
    found = {item.ethernet: item for item in verdicts(old)}
    assert found["1000BASE-T"].band == "likely" and found["1000BASE-T"].evidence == "measured"
    assert found["100BASE-TX"].band == "likely"
    assert found["2.5GBASE-T"].band == "no"
    assert "missing or split pair" in found["2.5GBASE-T"].lift


def test_gigabit_ports_say_nothing_of_faster_rates() -> None:
    tried = replace(CLEAN, link_mbps=1000.0, tried_mbps=1000.0, errors=0)
    assert verdict(tried, "1000BASE-T").evidence == "measured"
    faster = verdict(tried, "2.5GBASE-T")
    assert faster.evidence == "inferred" and faster.band == "likely"
    assert "split pair" not in faster.lift


def test_errors_under_load_are_a_no() -> None:
    found = verdict(replace(CLEAN, link_mbps=1000.0, errors=37), "1000BASE-T")
    assert found.band == "no" and "37 errors" in found.reason and found.evidence == "measured"


def test_an_uncounted_link_is_not_yet_proven() -> None:
    counted, uncounted = (
        verdict(replace(CLEAN, link_mbps=1000.0, errors=e), "1000BASE-T") for e in (0, None)
    )
    assert uncounted.probability < counted.probability
    assert "not counted" in uncounted.reason


def test_a_certificate_outranks_everything() -> None:
    found = verdict(replace(CLEAN, certified="class D"), "1000BASE-T")
    assert found.evidence == "certified" and found.band == "likely"
    for ethernet in ("2.5GBASE-T", "10GBASE-T"):
        assert verdict(replace(CLEAN, certified="class D"), ethernet).evidence == "inferred"
        assert verdict(replace(CLEAN, certified="class EA"), ethernet).evidence == "certified"


def test_heat_and_thin_wire_lower_the_chance() -> None:
    long = RunFacts("cat5e", 4, (80.0, 85.0, 90.0), "home run")
    cool = verdict(long, "5GBASE-T").probability
    assert verdict(replace(long, temperature_c=60.0), "5GBASE-T").probability < cool
    assert verdict(replace(long, awg=26), "5GBASE-T").probability < cool


def test_beyond_the_promised_length() -> None:
    found = verdict(RunFacts("cat6", 4, (50.0, 60.0, 70.0), "home run"), "10GBASE-T")
    assert found.band == "try it" and "beyond the 37 m promised" in found.reason
    assert verdict(RunFacts("cat5e", 4, (400.0, 450.0, 500.0), "home run"), "100BASE-TX").band == "no"


def test_other_media() -> None:
    coax = other_media("coax", length_m=20.0)
    assert [option.rate_mbps for option in coax] == sorted((o.rate_mbps for o in coax), reverse=True)
    assert all("excerpt" in option.source or "memory" in option.source for option in coax)
    assert other_media("telephone pair") and not other_media("telephone pair", live_dsl=True)
    assert other_media("power line", length_m=500.0) == ()


def test_a_splitter_tree_explains_coax_that_works_here_and_not_there() -> None:
    last_db = coax_limit("last link loss")
    assert other_media("coax", path_db=last_db - 30.0)[0].band == "likely"
    assert other_media("coax", path_db=last_db + 30.0)[0].band == "no"
    unknown = other_media("coax")[0]
    assert unknown.band == "try it" and unknown.evidence == "unknown"


@pytest.mark.parametrize(
    "wrong",
    [
        {"category": "cat9"},
        {"length_m": (20.0, 10.0, 5.0)},
        {"length_m": (-1.0, 0.0, 1.0)},
        {"length_m": (float("nan"), 1.0, 2.0)},
        {"pairs": -1},
    ],
)
def test_nonsense_is_refused(wrong: dict[str, object]) -> None:
    with pytest.raises(BadInput) as refusal:
        RunFacts(**wrong)  # type: ignore[arg-type]
    assert refusal.value.remedy


@pytest.mark.parametrize("wrong", [{"taps_m": (-2.0,)}, {"temperature_c": 200.0}, {"loop_ohm": float("nan")}])
def test_values_out_of_range_are_refused(wrong: dict[str, object]) -> None:
    with pytest.raises(OutOfRange):
        RunFacts(**wrong)  # type: ignore[arg-type]


@pytest.mark.parametrize("kind", ["quad", "cat3"])
@pytest.mark.parametrize("topology", ["home run", "daisy chain", "unknown"])
def test_telephone_cable_is_never_likelier_than_category_5e(kind: str, topology: CopperTopology) -> None:
    """Its row spreads wider, which must not make a rate likelier where both are likely to fail."""
    for length_m in (20.0, 60.0, 120.0, 200.0):
        facts = RunFacts(kind, 4, (length_m,) * 3, topology)
        telephone, data = chances(facts), chances(replace(facts, category="cat5e"))
        assert all(one <= other for one, other in zip(telephone, data, strict=True)), length_m
