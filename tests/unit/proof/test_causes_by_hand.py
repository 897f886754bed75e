"""What each fault does to a house, and how readings wander about it: worked out by hand, fault by fault."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

import numpy as np
import pytest
from scipy import integrate, stats

from planted_faults import link
from rehaul.facts.causes import Cause
from rehaul.proof.causes import (
    STATES,
    Case,
    States,
    _answers,
    _between,
    _Drawn,
    _evenly_in_logs,
    _one_air,
    _shares,
    _sound,
    _with_fault,
    states_of,
)
from rehaul.proof.diagnosis import (
    INSTRUCTIONS,
    LOOKS,
    SOFT,
    _densities,
    _middle,
    _narrowest,
    _next_test,
    _Weighed,
    diagnose,
    noisy,
)
from rehaul.wlan import goodput_mbps

CASE = Case(
    plan_down_mbps=400.0,
    plan_up_mbps=80.0,
    link_mbps=1000.0,
    near_dbm=-42.0,
    room_dbm=-60.0,
    room_sd_db=5.0,
    near_link=link("laptop"),
    test_link=link("laptop"),
    device_link=link("phone"),
    old_links=(link("old laptop"), link("television")),
    slow_band_link=link("phone", "2.4"),
)
RNG = np.random.default_rng


def drawn(**more: Any) -> _Drawn:
    """Every house alike, nothing lost anywhere."""
    whole = np.ones(STATES)
    plain: dict[str, Any] = {
        "arrives": whole, "link_mbps": 1000.0, "down_share": whole, "up_share": whole, "busy_pct": 0 * whole,
        "hop_mbps": np.inf * whole, "run_delay_ms": 0.4 * whole, "receiver_db": 0 * whole,
        "near_dbm": -42.0 * whole, "room_dbm": -60.0 * whole, "clinging_db": 0 * whole, "device_share": whole,
        "other_share": whole, "near_share": whole, "device_near_share": whole, "links": (link("phone"),),
        "near_links": (link("phone"),),
    }  # fmt: skip
    return _Drawn(**{**plain, **more})


def read(case: Case = CASE, **more: Any) -> dict[str, float]:
    """What every test reads where all houses are alike."""
    given = {
        k: v * np.ones(STATES) if isinstance(v, float) and k != "link_mbps" else v for k, v in more.items()
    }
    found = _answers(case, drawn(**given))
    assert all(np.all(values == values[0]) for values in found.values())
    return {test: float(values[0]) for test, values in found.items()}


WIDE = replace(CASE, plan_down_mbps=1e5, plan_up_mbps=1e5, link_mbps=1e6)  # only the air is narrow


def test_a_sound_house_reads_its_plan_and_its_air() -> None:
    found = read()
    assert (found["modem down"], found["modem up"]) == (400.0, 80.0)
    assert (found["run down"], found["run up"], found["run link"]) == (400.0, 80.0, 1000.0)
    assert (found["near power"], found["room power"], found["channel busy"]) == (-42.0, -60.0, 0.0)
    assert (found["right radio"], found["fed by cable"], found["run delay"]) == (1.0, 1.0, 0.4)
    assert found["room up"] == 80.0, "up is held by the plan"
    assert read(arrives=0.5)["modem down"] == 200.0 and read(arrives=0.5)["run up"] == 40.0


def test_a_link_of_100_carries_what_is_left_of_it_each_way() -> None:
    """1448 bytes of payload in 1538 on the wire: 94.15 of 100; a mismatch leaves a fifth of it."""
    wide = replace(CASE, plan_up_mbps=400.0)
    found = _answers(wide, drawn(link_mbps=100.0, down_share=np.full(STATES, 0.2)))
    assert found["run up"][0] == pytest.approx(94.15, abs=0.01)
    assert found["run down"][0] == pytest.approx(94.15 / 5, abs=0.01)
    other = _answers(wide, drawn(link_mbps=100.0, up_share=np.full(STATES, 0.2)))
    assert other["run down"][0] == pytest.approx(94.15, abs=0.01)
    assert other["run up"][0] == pytest.approx(94.15 / 5, abs=0.01)


@pytest.mark.parametrize(
    ("test", "share", "held"),
    [
        ("room down", "device_share", "phone"),
        ("room up", "device_share", "phone"),
        ("other device down", "other_share", "laptop"),
        ("near down", "near_share", "laptop"),
        ("device near down", "device_near_share", "phone"),
    ],
)
def test_the_air_gives_a_device_its_share_of_what_is_free_and_takes_turns_with_a_hop(
    test: str, share: str, held: str
) -> None:
    """Half delivered, half; half busy, half again; a hop as fast as the air, half. Weaker by 6 dB, less."""
    power = -42.0 if "near" in test else -60.0
    alone = float(goodput_mbps(power, link(held)))
    fast: dict[str, Any] = {"link_mbps": 1e6}
    assert read(WIDE, **fast)[test] == pytest.approx(alone, rel=1e-5)
    assert read(WIDE, **fast, **{share: 0.5})[test] == pytest.approx(alone / 2, rel=1e-5)
    assert read(WIDE, **fast, busy_pct=50.0)[test] == pytest.approx(alone / 2, rel=1e-5)
    assert read(WIDE, **fast, hop_mbps=alone)[test] == pytest.approx(alone / 2, rel=1e-5)
    for other in {"device_share", "other_share", "near_share", "device_near_share"} - {share}:
        assert read(WIDE, **fast, **{other: 0.5})[test] == pytest.approx(alone, rel=1e-5), other
    deaf = float(goodput_mbps(power - 12.0, link(held)))
    assert deaf < alone
    assert read(WIDE, **fast, receiver_db=-12.0)[test] == pytest.approx(deaf, rel=1e-5)
    assert read(receiver_db=-12.0)["room power"] == -60.0, (
        "what is shown is the power, not what is made of it"
    )


def test_a_device_that_clings_hears_a_weaker_radio_and_the_good_one_beside_it_does_not() -> None:
    found, well = (read(WIDE, link_mbps=1e6, clinging_db=loss) for loss in (12.0, 0.0))
    assert found["room power"] == -72.0
    assert found["room down"] == pytest.approx(float(goodput_mbps(-72.0, link("phone"))), rel=1e-5)
    assert found["room link"] < well["room link"]
    for same in (
        "other device down",
        "near down",
        "device near down",
        "device near link",
        "other device link",
    ):
        assert found[same] == well[same], same


def test_a_hop_by_radio_holds_the_run_both_ways() -> None:
    found = read(hop_mbps=30.0)
    assert (found["run down"], found["run up"]) == (30.0, 30.0) and found["modem down"] == 400.0


def test_air_and_hop_take_turns() -> None:
    hundred = np.array([100.0, 100.0, 100.0, 0.0])
    hop = np.array([np.inf, 100.0, 50.0, 50.0])
    assert _one_air(hundred, hop) == pytest.approx([100.0, 50.0, 100 / 3, 0.001], rel=1e-4)


def changed(cause: Cause) -> tuple[set[str], _Drawn, _Drawn]:
    sound = _sound(CASE, RNG(1))
    faulty = _with_fault(CASE, cause, sound, RNG(2))
    differs = {
        one.name
        for one in fields(_Drawn)
        if not np.array_equal(np.asarray(getattr(sound, one.name), dtype=object),
                              np.asarray(getattr(faulty, one.name), dtype=object))
    }  # fmt: skip
    return differs, sound, faulty


@pytest.mark.parametrize(
    ("cause", "differs"),
    [
        ("plan", set()),
        ("modem", {"arrives"}),
        ("pair open", {"link_mbps"}),
        ("half duplex", {"link_mbps", "down_share", "up_share"}),
        ("wireless hop", {"hop_mbps", "run_delay_ms", "fed_by_cable"}),
        ("old device", {"links", "near_links"}),
        ("neighbour", {"busy_pct"}),
        ("wrong access point", {"clinging_db", "links", "right_radio"}),
        ("walls", {"room_dbm"}),
    ],
)
def test_a_fault_changes_what_it_is_about_and_nothing_else(cause: Cause, differs: set[str]) -> None:
    assert changed(cause)[0] == differs


def test_how_far_each_fault_goes() -> None:
    """Ranges of the fact table of diagnosis numbers, each reached to within a hundredth by 2000 houses."""

    def spans(values: Any, low: float, high: float) -> bool:
        part = 0.01 * (high - low)
        return bool(low <= values.min() < low + part and high - part < values.max() <= high)

    _, sound, faulty = changed("modem")
    assert spans(faulty.arrives, 0.02, 0.85) and spans(sound.busy_pct, 2, 25)
    _, _, faulty = changed("pair open")
    assert faulty.link_mbps == 100.0
    _, _, faulty = changed("half duplex")
    bad, good = (fn(faulty.down_share, faulty.up_share) for fn in (np.minimum, np.maximum))
    assert np.all(good == 1.0) and spans(bad, 0.02, 0.5) and faulty.link_mbps == 100.0
    assert np.mean(faulty.down_share < 1) == pytest.approx(0.5, abs=0.04), "either way alike often"
    _, _, faulty = changed("neighbour")
    assert spans(faulty.busy_pct, 30, 95)
    _, _, faulty = changed("wrong access point")
    assert spans(faulty.clinging_db, 5, 35) and faulty.links == (link("phone"), link("phone", "2.4"))
    assert not faulty.right_radio
    _, sound, faulty = changed("walls")
    assert spans(sound.room_dbm - faulty.room_dbm, 6, 30)
    _, _, faulty = changed("old device")
    assert faulty.links == faulty.near_links == CASE.old_links
    none = _with_fault(replace(CASE, old_links=()), "old device", sound, RNG(2))
    assert none.links == (link("phone"),), "no older one known: it is what it is said to be"
    only = _with_fault(replace(CASE, slow_band_link=None), "wrong access point", sound, RNG(2))
    assert only.links == (link("phone"),)
    _, sound, faulty = changed("wireless hop")
    more = faulty.run_delay_ms - sound.run_delay_ms
    assert 1.0 <= more.min() < 1.05 and 14.3 < more.max() <= 15.0
    assert np.median(more) == pytest.approx(np.sqrt(15), rel=0.08), "each doubling alike often"
    assert set(np.unique(faulty.fed_by_cable)) == {0.0, 1.0}
    assert np.mean(faulty.fed_by_cable) == pytest.approx(0.2, abs=0.03), "a fifth look fed by cable"
    strong = float(goodput_mbps(-55.0, link("laptop")))
    assert 0 < np.median(faulty.hop_mbps) < strong
    busier = _with_fault(CASE, "wireless hop", replace(sound, busy_pct=np.full(STATES, 50.0)), RNG(2))
    quiet = _with_fault(CASE, "wireless hop", replace(sound, busy_pct=np.zeros(STATES)), RNG(2))
    assert busier.hop_mbps == pytest.approx(quiet.hop_mbps / 2), "others on the channel take from it too"


def test_sound_houses_wander_as_the_table_says() -> None:
    sound = _sound(CASE, RNG(5))
    assert np.mean(sound.arrives) == pytest.approx(1.0, abs=0.004)
    assert np.std(sound.arrives) == pytest.approx(0.04, rel=0.06)
    assert np.mean(sound.receiver_db) == pytest.approx(0.0, abs=0.2)
    assert np.std(sound.receiver_db) == pytest.approx(2.5, rel=0.06)
    assert np.mean(sound.near_dbm) == pytest.approx(-42.0, abs=0.25)
    assert np.std(sound.near_dbm) == pytest.approx(3.0, rel=0.06)
    # Student's t of five degrees: nine tenths within 2.015 of the spread, here 5 dB
    assert np.mean(np.abs(sound.room_dbm + 60.0) < 2.015 * 5.0) == pytest.approx(0.9, abs=0.025)
    assert np.median(sound.room_dbm) == pytest.approx(-60.0, abs=0.4)
    assert np.median(sound.run_delay_ms) == pytest.approx(np.sqrt(0.1 * 1.0), rel=0.1)


def test_devices_share_a_box_and_a_place_and_nothing_else() -> None:
    """The two devices in a room share the box and the room; one device at two places, the box and itself."""
    device, other, beside, device_beside = (np.log(share) for share in _shares(CASE, RNG(5)))

    def together(a: Any, b: Any) -> float:
        return float(np.corrcoef(a, b)[0, 1])

    crossed = together(device, beside)  # the box alone
    for more in ((device, other), (device, device_beside), (other, beside), (beside, device_beside)):
        assert together(*more) > crossed + 0.1
    assert crossed > 0.05 and together(other, device_beside) == pytest.approx(crossed, abs=0.06)
    spreads = [np.std(one) for one in (device, other, beside, device_beside)]
    assert max(spreads) < 1.08 * min(spreads)


def test_some_states_keep_their_share_of_what_was_drawn() -> None:
    states = States("plan", {"modem down": np.array([1.0, 2.0, 3.0, 4.0])}, 0.8)
    some = states.where(np.array([True, False, False, False]))
    assert (len(some), some.share) == (1, pytest.approx(0.2))
    none = some.where(np.array([False]))
    assert (len(none), none.share, none.where(np.array([], dtype=bool)).share) == (0, 0.0, 0.0)
    plan, *others = states_of(CASE)
    assert plan.share == 1.0 and len(plan) == STATES and all(0 < one.share < 1 for one in others)


def test_draws_reach_from_low_to_high() -> None:
    even = _between(RNG(3), "walls", "db")
    assert even.shape == (STATES,) and np.mean(even) == pytest.approx(18.0, abs=0.5)
    logs = _evenly_in_logs(RNG(3), "cable_delay")
    assert logs.min() >= 0.1 and logs.max() <= 1.0 and np.mean(logs < 0.316) == pytest.approx(0.5, abs=0.04)


@pytest.mark.parametrize("test", [name for name in INSTRUCTIONS if name != "run link" and name not in LOOKS])
def test_what_a_reading_may_be_has_chance_one(test: Any) -> None:
    """On the scale it is compared on: logarithms, softened near nothing, for rates and delays."""
    middle, soft = {"channel busy": 40.0}.get(test, 50.0), SOFT.get(test)

    def density(x: float, which: int) -> float:
        value = np.exp(x) - soft if soft else x
        return float(_densities(test, value, np.array(middle))[which])

    at = np.log(middle + soft) if soft else middle
    whole = integrate.quad(density, at - 80, at + 80, args=(0,), points=[at], limit=200)[0]
    assert whole == pytest.approx(1.0, abs=2e-3)
    # a slip that reads low: four in five, and the lower the rarer
    low = integrate.quad(density, at - 30, at, args=(1,), limit=200)[0]
    high = integrate.quad(density, at, at + 30, args=(1,), limit=200)[0]
    drops = test not in ("channel busy", "run delay")
    assert low - high == pytest.approx(0.8 if drops else 0.0, abs=0.05)


@pytest.mark.parametrize(
    ("test", "sd"),
    [
        ("near power", 3.0), ("room power", 3.0), ("channel busy", 10.0), ("run delay", 0.3),
        ("room link", 0.2), ("device near link", 0.2), ("modem down", 0.04), ("run up", 0.04),
        ("near down", 0.18), ("room up", 0.18),
    ],
)  # fmt: skip
def test_readings_wander_as_their_kind_does(test: Any, sd: float) -> None:
    """As many spreads off as Student's t of five degrees says, by the test of Kolmogorov and Smirnov."""
    expected = np.full(4000, 60.0)
    found = noisy(test, expected, RNG(11))
    soft = SOFT.get(test)
    off = np.log((found + soft) / (60.0 + soft)) if soft else found - 60.0
    assert stats.kstest(off / sd, stats.t(5).cdf).pvalue > 0.01
    usual = _densities(test, 60.0, np.array(60.0))[0]
    assert float(usual) == pytest.approx(stats.t(5).pdf(0) / sd)


def test_a_look_and_a_link_by_cable_are_read_as_they_are() -> None:
    for test in ("run link", "right radio", "fed by cable"):
        expected = np.array([0.0, 1.0])
        assert np.array_equal(noisy(test, expected, RNG(1)), expected)  # type: ignore[arg-type]
    usual, slipped = _densities("run link", 100.0, np.array([100.0, 1000.0]))
    assert usual.tolist() == [1.0, 0.0] and slipped.tolist() == [0.25, 0.25]
    usual, slipped = _densities("right radio", 0.0, np.array([0.0, 1.0]))
    assert usual.tolist() == [1.0, 0.0] and slipped.tolist() == [0.5, 0.5]


def test_the_middle_is_that_of_the_weights() -> None:
    values = np.array([30.0, 10.0, 20.0])
    assert _middle(values, np.array([0.2, 0.2, 0.6])) == 20.0
    assert _middle(values, np.array([0.7, 0.2, 0.1])) == 30.0
    assert _middle(values, np.array([0.1, 0.6, 0.3])) == 10.0


def weighed(**reads: float) -> _Weighed:
    """A cause of which two states are drawn, each with what the tests read in it."""
    values = {test: np.full(4, reads.get(test.replace(" ", "_"), 50.0)) for test in INSTRUCTIONS}
    return _Weighed(States("plan", values, 1.0), False, {})


def test_the_next_test_is_the_one_on_which_the_causes_differ() -> None:
    """Two causes alike likely that differ in one reading by far: one bit, less what slips."""
    shares = np.array([0.5, 0.5])
    for test in ("room down", "channel busy", "run link", "fed by cable"):
        apart = {"room down": (20.0, 200.0), "run link": (100.0, 1000.0), "fed by cable": (0.0, 1.0)}
        low, high = apart.get(test, (0.0, 90.0))
        name = test.replace(" ", "_")
        found = _next_test([weighed(**{name: low}), weighed(**{name: high})], shares, {}, 0)
        assert found is not None and found.test == test and 0.6 < found.bits <= 1.0
        assert found.between == ("plan", "plan") and "once more" not in found.instruction
    nothing = _next_test([weighed(), weighed()], shares, {}, 0)
    assert nothing is not None and nothing.bits == 0.0
    every: Any = dict.fromkeys(INSTRUCTIONS, (50.0, 50.0))
    assert _next_test([weighed(), weighed()], shares, every, 0) is None, (
        "all read twice: nothing more to read"
    )
    once: Any = {"run link": (1000.0,)}
    pair = [weighed(run_link=100.0), weighed(run_link=1000.0)]
    assert _next_test(pair, shares, once, 0).instruction != _next_test(pair, shares, {}, 0).instruction  # type: ignore[union-attr]


def test_evidence_names_what_speaks_for_the_first_cause_at_most_twice() -> None:
    reads: dict[Any, float] = {
        "modem down": 399.0, "run link": 100.0, "run down": 94.0, "near down": 93.0, "run up": 79.0,
    }  # fmt: skip
    found = diagnose(CASE, reads)
    assert found.causes[0].cause == "pair open" and found.sure and len(found.evidence) == 2
    assert any("100" in line and "1000" in line for line in found.evidence), found.evidence
    assert sum(one.probability for one in found.causes) == pytest.approx(1.0, abs=2e-3)
    states = _Weighed(states_of(CASE)[0], True, {})
    assert _narrowest(states) != _narrowest(replace(states, far=False))
