"""Loss, leaks, chances and reasons of single cables, each worked out beside the test."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from rehaul.copper import (
    CableSection,
    Jack,
    Line,
    RunFacts,
    Splice,
    Tap,
    against_limits,
    cable_loss_db,
    coax_band,
    coax_chance,
    coax_loss_at_db,
    coax_rate_mbps,
    echo_db,
    elfext_db,
    limit_line,
    margins,
    next_db,
    other_media,
    splitter_loss_db,
    splitter_range_db,
    tap_notch_hz,
)
from rehaul.copper import chances as judging
from rehaul.copper.chances import four_pair_chance, kind_chances, tap_scenarios, workmanship_chance
from rehaul.copper.crosstalk import alien_next_db
from rehaul.copper.margin import received
from rehaul.copper.margins import _place, run_line
from rehaul.copper.section import attenuation
from rehaul.errors import BadInput, OutOfRange
from rehaul.facts.ethernet import ethernet_needs

MHZ_100 = np.array([1e8])
CLEAN = RunFacts("cat5e", 4, (12.0, 15.0, 18.0), "home run", state="dead")


def test_each_limit_of_a_class_is_held_against_its_own_curve() -> None:
    """Class D has six that a line can be held against; its delay and the cable's own are not of them."""
    line = run_line("cat5e", 40.0)
    found = {one.quantity: one for one in against_limits(line, "class D")}
    assert set(found) == {"insertion loss", "NEXT", "PSNEXT", "ELFEXT", "PSELFEXT", "return loss"}
    for one in found.values():
        assert (one.frequency_hz[0], one.frequency_hz[-1], len(one.frequency_hz)) == (1e6, 1e8, 200)
        good = (one.limit_db - one.value_db) * (1 if one.quantity == "insertion loss" else -1)
        assert one.tightest_db == min(good) and one.tightest_hz == one.frequency_hz[np.argmin(good)]
    for name in ("NEXT", "ELFEXT"):
        assert found[name].value_db - found[f"PS{name}"].value_db == pytest.approx(3.0), "all other pairs"  # type: ignore[index]
    assert found["return loss"].value_db[0] == pytest.approx(17.0), "rough as its category allows"
    with pytest.raises(BadInput) as refusal:
        against_limits(line, "cat5e")
    said = refusal.value.remedy
    assert all(f"'class {name}'" in said for name in ("D", "E", "EA")) and "cat" not in said


def test_limit_lines_by_hand() -> None:
    """Class E, 100 MHz: 1.05 (18.2 + 1.69 + 0.025) + 0.8 dB; 74.3 - 30 and 94 - 40 dB together; 19 - 7 dB."""
    assert limit_line("class E", "insertion loss", 1e8)[0] == pytest.approx(1.05 * 19.915 + 0.8)
    both = 10 ** (-44.3 / 20) + 2 * 10 ** (-54 / 20)
    assert limit_line("class E", "NEXT", 1e8)[0] == pytest.approx(-20 * math.log10(both))
    echo = limit_line("class E", "return loss", np.array([1e6, 20e6, 200e6]))
    assert echo == pytest.approx([19.0, 19.0, 9.0]), "never above its cap"
    assert limit_line("channel", "delay", 1e8)[0] == pytest.approx(547.6)
    assert limit_line("cat3", "cable NEXT", np.array([16e6, 1.6e6])) == pytest.approx([23.2, 38.2])


def test_a_cable_loses_more_when_it_is_warm_thin_or_a_cord() -> None:
    """Category 5e at 100 MHz: 19.67 + 2.3 + 0.005 dB in 100 m."""

    def db(piece: CableSection) -> float:
        return float(attenuation(piece, MHZ_100).total[0]) * 100 * 20 / math.log(10)

    assert db(CableSection("cat5e", 1.0)) == pytest.approx(21.975)
    assert db(CableSection("cat5e", 1.0, temperature_c=45.0)) == pytest.approx(21.975 * 1.1)
    assert db(CableSection("cat5e", 1.0, awg=26)) == pytest.approx(19.67 * 0.511 / 0.405 + 2.305)
    cord = run_line("cat5e", 1.0).elements[0]
    assert isinstance(cord, CableSection) and db(cord) == pytest.approx(21.975 * 1.2)


def test_what_leaks_at_the_near_end_by_hand() -> None:
    """A jack leaks at 43 dB; one behind 100 m of cable (21.975 dB there and as much back) hardly counts."""
    assert next_db(Line((Jack("cat5e"),)), MHZ_100)[0] == pytest.approx(43.0)
    assert next_db(Line((Jack("cat6"),)), np.array([1e7]))[0] == pytest.approx(74.0), "20 dB a decade"
    loose = next_db(Line((Splice("cat5e", untwist_m=0.13),)), MHZ_100)[0]
    assert loose == pytest.approx(23.0) and next_db(Line((Splice("cat5e", 0.001),)), MHZ_100) == [43.0]
    cable = CableSection("cat5e", 100.0)
    passed = 10 ** (-2 * 21.975 / 10)
    alone = 10**-3.53 * (1 - passed)
    assert next_db(Line((cable,)), MHZ_100)[0] == pytest.approx(-10 * math.log10(alone))
    far_jack = alone + passed * 10**-4.3
    assert next_db(Line((cable, Jack("cat5e"))), MHZ_100)[0] == pytest.approx(-10 * math.log10(far_jack))
    through = 10 ** (-2 * 0.4 / 10)  # twice the jack's 0.4 dB
    near_jack = 10**-4.3 + through * alone
    assert next_db(Line((Jack("cat5e"), cable)), MHZ_100)[0] == pytest.approx(-10 * math.log10(near_jack))
    assert next_db(Line((Tap(5.0, "cat5e"), cable)), MHZ_100) == next_db(Line((cable,)), MHZ_100)
    assert next_db(Line((cable,)), np.array([1e9]))[0] == pytest.approx(20.3, abs=0.01), "15 dB a decade"


def test_what_leaks_at_the_far_end_and_from_other_cables_by_hand() -> None:
    fifty = CableSection("cat5e", 50.0)
    assert elfext_db(Line((fifty,)), MHZ_100)[0] == pytest.approx(23.8 + 10 * math.log10(2))
    assert elfext_db(Line((fifty,)), np.array([1e7]))[0] == pytest.approx(43.8 + 10 * math.log10(2))
    assert elfext_db(Line((Jack("cat6"),)), np.array([1e7]))[0] == pytest.approx(63.1)
    both = 0.5 * 10**-2.38 + 10**-3.51
    assert elfext_db(Line((fifty, Jack("cat5e"))), MHZ_100)[0] == pytest.approx(-10 * math.log10(both))
    assert elfext_db(Line((fifty, Tap(3.0, "cat5e"))), MHZ_100) == elfext_db(Line((fifty,)), MHZ_100)
    passed = 10 ** (-21.975 / 10)  # 50 m there and back
    one = 10**-4.65 * (1 - passed)
    assert alien_next_db(Line((fifty,)), MHZ_100)[0] == pytest.approx(-10 * math.log10(one))
    two = one + passed * one
    assert alien_next_db(Line((fifty, Jack(), fifty)), MHZ_100)[0] == pytest.approx(-10 * math.log10(two))
    ten_times = alien_next_db(Line((CableSection("cat5e", 1000.0),)), np.array([1e7]))[0]
    assert ten_times == pytest.approx(61.5, abs=0.01), "15 dB a decade, all of it"
    assert echo_db(Line((CableSection("cat6", 9.0), fifty)), np.array([2e7]))[0] == pytest.approx(
        17.0, abs=0.01
    )


def test_lines_and_their_parts_keep_within_what_is_known() -> None:
    for pairs in (1, 25):
        assert Line((), pairs).pairs == pairs
    for pairs in (0, 26):
        with pytest.raises(OutOfRange):
            Line((), pairs)
    assert Splice(untwist_m=0.0).untwist_m == 0.0 and Splice(untwist_m=1.0).untwist_m == 1.0
    for make in (CableSection, lambda kind, length_m, **more: Tap(length_m, kind, **more)):
        assert make("cat5e", 1000.0, temperature_c=-40.0) != make("cat5e", 0.0, temperature_c=90.0)
        for length_m, warm_c in ((-0.1, 20.0), (1000.1, 20.0), (1.0, -40.1), (1.0, 90.1)):
            with pytest.raises(OutOfRange):
                make("cat5e", length_m, temperature_c=warm_c)
    with pytest.raises(OutOfRange):
        Splice(untwist_m=1.01)
    there = Line((Jack("cat5e"), CableSection("cat3", 5.0)), 2)
    assert there.reversed() == Line((CableSection("cat3", 5.0), Jack("cat5e")), 2)


def test_a_run_s_parts_in_their_order() -> None:
    plain = run_line("cat6", 30.0, splices=2, pairs=2)
    names = [type(part).__name__ for part in plain.elements]
    assert names == ["Cord", "Jack", "CableSection", "Splice", "Splice", "CableSection", "Jack", "Cord"]
    lengths = [part.length_m for part in plain.elements if isinstance(part, CableSection)]
    assert lengths == [1.0, 15.0, 15.0, 3.0] and plain.pairs == 2
    tapped = run_line("cat3", 30.0, taps_m=(2.0, 4.0))
    lengths = [part.length_m for part in tapped.elements if isinstance(part, CableSection | Tap)]
    assert lengths == [1.0, 10.0, 2.0, 10.0, 4.0, 10.0, 3.0]
    kinds = {part.kind for part in tapped.elements if not isinstance(part, Tap)}
    assert kinds == {"cat5e", "cat3"}, "cords of telephone cable are of Category 5e"


def test_cells_of_a_grid() -> None:
    grid = np.array([1.0, 3.0, 7.0])
    assert [tuple(map(float, _place(grid, x))) for x in (0.0, 1.0, 2.0, 3.0, 6.0, 7.0, 9.0)] == [
        (0, -0.5), (0, 0.0), (0, 0.5), (1, 0.0), (1, 0.75), (1, 1.0), (1, 1.5),
    ]  # fmt: skip


def test_facts_of_a_run_keep_within_what_is_known() -> None:
    least = RunFacts("quad", 0, (0.0, 0.0, 0.0), taps_m=(0.0,), loop_ohm=0.0, temperature_c=-40.0)
    most = RunFacts("quad", 100, (1000.0,) * 3, taps_m=(1000.0,), loop_ohm=1e4, temperature_c=90.0)
    assert (least.pairs, most.pairs) == (0, 100)
    colds = ({"temperature_c": -40.1}, {"temperature_c": 90.1})
    for wrong in ({"loop_ohm": 10_001.0}, {"loop_ohm": -0.1}, *colds, {"taps_m": (1000.1,)}):
        with pytest.raises(OutOfRange):
            replace(most, **wrong)  # type: ignore[arg-type]
    for bad in ({"pairs": 101}, {"length_m": (1.0, 2.0, 1000.1)}, {"length_m": (2.0, 1.0, 3.0)}):
        with pytest.raises(BadInput):
            replace(most, **bad)  # type: ignore[arg-type]


def test_what_an_unknown_cable_may_be() -> None:
    """Of four kinds 0.3, 0.3, 0.15 and 0.25; four pairs have half of Category 3 and 95 % of the better."""
    unknown = RunFacts()
    assert kind_chances(unknown) == pytest.approx({"quad": 0.3, "cat3": 0.3, "cat5": 0.15, "cat5e": 0.25})
    four = kind_chances(replace(unknown, pairs=4))  # 0, 0.15, 0.1425, 0.2375: 0.53 together
    assert four == pytest.approx({"cat3": 0.15 / 0.53, "cat5": 0.1425 / 0.53, "cat5e": 0.2375 / 0.53})
    two = kind_chances(replace(unknown, pairs=3))  # 0.3, 0.15, 0.0075, 0.0125: 0.47 together
    assert two["quad"] == pytest.approx(0.3 / 0.47) and two["cat5e"] == pytest.approx(0.0125 / 0.47)
    assert [four_pair_chance(replace(unknown, pairs=n), "cat3") for n in (None, 3, 4)] == [0.5, 0.0, 1.0]
    assert four_pair_chance(unknown, "quad") == 0.0


def test_what_may_hang_on_a_run_and_how_sound_its_joints_are() -> None:
    chained = (((2.0,), 0.185), ((8.0,), 0.63), ((20.0,), 0.185))
    assert tap_scenarios(replace(CLEAN, topology="tap")) == chained
    assert tap_scenarios(replace(CLEAN, topology="daisy chain")) == chained
    assert tap_scenarios(replace(CLEAN, topology="unknown")) == (
        ((), 0.5), ((2.0,), 0.0925), ((8.0,), 0.315), ((20.0,), 0.0925),
    )  # fmt: skip
    assert tap_scenarios(replace(CLEAN, topology="unknown", taps_m=(3.0,))) == (((3.0,), 1.0),)

    def sound(**more: object) -> float:
        return workmanship_chance(replace(CLEAN, **more))  # type: ignore[arg-type]

    assert (
        sound() == pytest.approx(0.95) and sound(wire_map_ok=True) == 1.0 and sound(wire_map_ok=False) == 0.0
    )
    assert sound(splices=2) == pytest.approx(0.95 * 0.93**2) == sound(topology="spliced")
    assert sound(topology="spliced", splices=1) == pytest.approx(0.95 * 0.93)
    assert sound(state="damaged") == pytest.approx(0.095) and sound(state="damaged", wire_map_ok=True) == 1.0


def test_loss_of_coax_and_splitters_by_hand() -> None:
    """RG-59 at the top of the band: 32.81 dB in 100 m; between rows along the root of frequency."""
    assert cable_loss_db(10.0, "RG-59") == pytest.approx(3.281)
    share = (math.sqrt(1300) - math.sqrt(1000)) / (math.sqrt(1675) - math.sqrt(1000))
    assert cable_loss_db(100.0, "RG-11", 1.3e9) == pytest.approx(14.27 + share * 4.10)
    assert cable_loss_db(0.0) == 0.0 and cable_loss_db(1000.0, "RG-59") == pytest.approx(328.1)
    for length_m in (-0.1, 1000.1):
        with pytest.raises(OutOfRange):
            cable_loss_db(length_m)
    assert splitter_loss_db(3, 0, 1) == pytest.approx(4.6) and splitter_loss_db(3, 0, 3) == pytest.approx(9.2)
    assert splitter_loss_db(3, 1, 3) == pytest.approx(24.6) and splitter_loss_db(3, 2, 3) == pytest.approx(
        20.0
    )
    assert splitter_loss_db(2, 1, 0) == pytest.approx(4.6) and splitter_loss_db(8, 3, 3) == 0.0
    assert splitter_range_db(3, across=False) == pytest.approx((4.6, 9.2))
    assert splitter_range_db(3, across=True) == pytest.approx((20.0, 24.6))
    assert splitter_range_db(1, across=True) == splitter_range_db(1, across=False) == (0.0, 0.0)
    assert splitter_loss_db(32, 0, 32) == pytest.approx(23.0)
    for ways, port in ((33, 1), (0, 0), (2, 3), (2, -1)):
        with pytest.raises(BadInput):
            splitter_loss_db(ways, 0, port)


def test_what_coax_carries_over_a_loss() -> None:
    """2500 Mb/s up to 45 dB; ten bits a tone, one less for each 3.01 dB; nothing beyond 60 dB."""
    bit = 10 * math.log10(2)
    assert [coax_rate_mbps(db) for db in (0.0, 45.0, 60.1)] == [2500.0, 2500.0, 0.0]
    assert coax_rate_mbps(45.0 + 4 * bit) == pytest.approx(1500.0)
    assert coax_rate_mbps(60.0) == pytest.approx(2500 * (1 - 15 / bit / 10))
    assert coax_loss_at_db(1500.0) == pytest.approx(45 + 4 * bit) and coax_loss_at_db(2500.0) == 45.0
    assert coax_loss_at_db(1.0) == 60.0
    assert coax_chance(50.0, 50.0) == 0.5 and coax_chance(50.0, 60.0) == pytest.approx(0.95)
    assert coax_chance(60.0, 50.0) == pytest.approx(0.05)
    assert [coax_band(db) for db in (40.0, 60.0, 75.0)] == ["likely", "try it", "no"]


def test_an_open_branch_takes_out_its_quarter_wave() -> None:
    """0.66 · 299.8 Mm/s / (4 · 10 m) = 4.95 MHz."""
    assert tap_notch_hz(10.0) == pytest.approx(4.9466e6, rel=1e-4)
    assert tap_notch_hz(0.01) > 1e9 and tap_notch_hz(5000.0) < 1e4
    for length_m in (0.009, 5000.1):
        with pytest.raises(OutOfRange):
            tap_notch_hz(length_m)


def test_other_media_within_reach_and_why() -> None:
    assert [len(other_media("coax", length_m=m)) for m in (90.0, 90.1, 100.0, 100.1)] == [2, 1, 1, 0]
    (glass,) = other_media("fibre", length_m=5000.0)
    assert (glass.band, glass.evidence, glass.rate_mbps, glass.rate_low_mbps) == (
        "likely",
        "inferred",
        1000,
        1000,
    )
    (pair,) = other_media("telephone pair", path_db=99.0)
    assert (pair.band, pair.evidence) == ("try it", "inferred") and pair.reason != glass.reason
    assert len(other_media("coax", live_dsl=True)) == 2, "DSL is on the pair"
    known, unknown = other_media("coax", path_db=40.0)[0], other_media("coax")[0]
    assert (known.band, known.evidence) == ("likely", "inferred") and "40 dB" in known.reason
    assert (unknown.band, unknown.evidence) == ("try it", "unknown") and unknown.reason != pair.reason


def test_a_margin_of_one_standard_deviation_holds_five_times_in_six(monkeypatch: pytest.MonkeyPatch) -> None:
    """Category 5e: 2.5 dB of spread up to 100 MHz, one more for each octave beyond; 400 MHz are two octaves.

    Promised are 100 m of what its standard promises, without taps: else never above three quarters.
    """
    monkeypatch.setattr(
        judging, "margins_db", lambda kinds, m, cases: np.full((len(kinds), 3, len(cases), 6), 2.5)
    )
    alone = judging._holds(CLEAN, ("cat5e",), ((),))[0, 0, 0]
    one, four_and_a_half = 0.8413447, 0.7107427  # of the normal distribution, at 1 and at 2.5 / 4.5
    assert alone[[0, 1, 2, 3]] == pytest.approx(one) and alone[5] == pytest.approx(four_and_a_half)
    assert alone[4] == pytest.approx(0.75), "5GBASE-T: one octave, 0.762, but nobody promises it"
    tapped = judging._holds(CLEAN, ("cat5e",), ((2.0,),))[0, 0, 0]
    assert tapped[0] == pytest.approx(0.75)
    far = judging._holds(replace(CLEAN, length_m=(99.0, 100.0, 101.0)), ("cat5e",), ((),))[0, :, 0, 2]
    assert far == pytest.approx([one, one, 0.75])
    quad = judging._holds(CLEAN, ("quad",), ((),))[0, 0, 0]
    assert quad[0] == pytest.approx(0.6615389), "2.5 of 6 dB"


def test_what_arrives_is_told_from_when_it_arrives() -> None:
    """The bulk of a line's delay is taken out: its pulse stands at the beginning, however long it is."""
    for length_m in (10.0, 90.0):
        got = received(run_line("cat5e", length_m), ethernet_needs()["1000BASE-T"])
        pulse = np.abs(np.fft.irfft(got.response, n=1024))
        assert np.argmax(np.roll(pulse, 8)) < 24, length_m
        assert got.symbol_rate_hz == 125e6 and len(got.response) == len(got.noise) == 257


def test_hot_and_thin_cable_counts_as_longer() -> None:
    """0.4 % a kelvin; 24 AWG is 0.511 mm thick, 26 AWG 0.405."""
    assert judging._alike(replace(CLEAN, temperature_c=45.0), "cat5e") == pytest.approx(1.1)
    assert judging._alike(replace(CLEAN, awg=26), "cat5e") == pytest.approx(0.511 / 0.405)
    assert judging._alike(CLEAN, "cat5e") == 1.0


def test_margins_between_taps_of_the_grid_and_of_several(monkeypatch: pytest.MonkeyPatch) -> None:
    """A margin that falls by a decibel for each metre of taps, at any length; 2.4 m lie between 2 and 3."""

    def direct(kind: str, taps_m: tuple[float, ...], row: int) -> np.ndarray:
        return np.full(6, -sum(taps_m))

    monkeypatch.setattr(margins, "_direct_db", direct)
    for tap_m, db in ((0.0, 0.0), (0.1, -0.1), (2.0, -2.0), (2.4, -2.4), (30.0, -30.0), (40.0, -30.0)):
        assert margins._one_tap_db("cat5e", tap_m, 3) == pytest.approx(np.full(6, db)), tap_m
    assert np.all(margins._any_taps_db("cat5e", (), 3) == 0.0)
    assert margins._any_taps_db("cat5e", (2.4,), 3) == pytest.approx(np.full(6, -2.4))
    both = margins._any_taps_db("cat5e", (2.4, 7.5), 3)
    assert both == pytest.approx(np.full(6, -10.0)), "on the grid 2 and 8 m, together"


def test_a_pair_that_carries_a_live_line_offers_nothing_else() -> None:
    assert other_media("telephone pair", live_dsl=True) == ()
    assert other_media("telephone pair", length_m=1e6) == ()


def test_margins_between_two_lengths_of_the_grid(monkeypatch: pytest.MonkeyPatch) -> None:
    """A quarter of the way from 10 dB to 2 dB is 8 dB; beyond the grid the last slope goes on."""
    grid = margins.LENGTHS_M
    curves = np.full((1, grid.size, 1, 1), 10.0)
    curves[0, -1] = 2.0
    monkeypatch.setattr(margins, "_curves_db", lambda kinds, cases, rows: curves)
    last, step = float(grid[-1]), float(grid[-1] - grid[-2])
    lengths = np.array([[0.0, grid[0], grid[-2], last - 0.75 * step, last, last + step]])
    found = margins.margins_db(("cat5e",), lengths)[0, :, 0, 0]
    assert found.tolist() == pytest.approx([10.0, 10.0, 10.0, 8.0, 2.0, -6.0])


def test_no_line_is_worked_out_that_no_run_lies_beside(monkeypatch: pytest.MonkeyPatch) -> None:
    """Those of the grid on either side of each run; one alone where a run is as long as it."""
    asked = set()

    def direct(kind: str, taps_m: tuple[float, ...], row: int) -> np.ndarray:
        asked.add(row)
        return np.full(6, float(margins.LENGTHS_M[row]))

    monkeypatch.setattr(margins, "_direct_db", direct)
    monkeypatch.setattr(margins, "_curves_db", margins._curves_db.__wrapped__)
    found = margins.margins_db(("cat5e", "cat3"), np.array([[12.0, 25.0], [25.0, 0.5]]))
    assert found[..., 0, 0] == pytest.approx(np.array([[12.0, 25.0], [25.0, 1.0]]))
    assert asked == {0, 1, 2}
    assert margins.margins_db(("cat5e",), np.array([[400.0]]))[0, 0, 0, 0] == pytest.approx(400.0)
    assert asked == {0, 1, 2, 5, 6}
