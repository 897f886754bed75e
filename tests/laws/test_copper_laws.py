"""What must hold for every line: passivity, reciprocity, halves that make the whole, bounds, order."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from counts import counted
from rehaul.copper import (
    CableSection,
    Cord,
    Element,
    Jack,
    Line,
    RunFacts,
    Splice,
    Tap,
    cascade,
    elfext_db,
    insertion_loss_db,
    margin_db,
    next_db,
    run_line,
    scattering,
    settling,
    verdicts,
)
from rehaul.copper.chances import chances
from rehaul.facts.cables import cables
from rehaul.facts.ethernet import ETHERNETS

FREQUENCIES_HZ = np.geomspace(0.3e6, 600e6, 160)

kinds = st.sampled_from(list(cables()))
lengths_m = st.floats(0.0, 120.0)
temperatures_c = st.floats(-20.0, 70.0)
gauges = st.sampled_from([None, 22, 24, 26])
sections = st.builds(CableSection, kinds, lengths_m, gauges, temperatures_c)
elements = st.one_of(
    sections,
    st.builds(Cord, kinds, st.floats(0.0, 10.0)),
    st.builds(Tap, st.floats(0.0, 40.0), kinds, gauges, temperatures_c),
    st.builds(Jack, kinds),
    st.builds(Splice, kinds),
)
lines = st.lists(elements, min_size=1, max_size=7).map(lambda parts: Line(tuple(parts)))


@given(lines)
@settings(max_examples=counted(24, 60), deadline=None)
def test_no_line_gives_more_than_it_gets(line: Line) -> None:
    s = scattering(cascade(line, FREQUENCIES_HZ))
    for out, through in ((s.s11, s.s21), (s.s22, s.s12)):
        assert np.all(np.abs(out) ** 2 + np.abs(through) ** 2 <= 1.0 + 1e-9)


@given(lines)
@settings(max_examples=counted(20, 40), deadline=None)
def test_every_line_is_reciprocal(line: Line) -> None:
    forth = scattering(cascade(line, FREQUENCIES_HZ))
    back = scattering(cascade(line.reversed(), FREQUENCIES_HZ))
    assert np.allclose(forth.s21, back.s21, rtol=1e-9, atol=1e-12)
    assert np.allclose(forth.s11, back.s22, rtol=1e-7, atol=1e-9)


@given(lines)
@settings(max_examples=counted(20, 40), deadline=None)
def test_the_chain_determinant_is_one(line: Line) -> None:
    chain = cascade(line, FREQUENCIES_HZ)
    size = np.abs(chain.a * chain.d) + np.abs(chain.b * chain.c)
    assert np.all(np.abs(chain.a * chain.d - chain.b * chain.c - 1.0) <= 1e-9 * np.maximum(size, 1.0))


@given(sections, st.floats(0.01, 0.99))
@settings(max_examples=counted(24, 60), deadline=None)
def test_two_parts_make_the_whole(whole: CableSection, share: float) -> None:
    first = CableSection(whole.kind, whole.length_m * share, whole.awg, whole.temperature_c)
    second = CableSection(whole.kind, whole.length_m * (1.0 - share), whole.awg, whole.temperature_c)
    one = scattering(cascade(Line((whole,)), FREQUENCIES_HZ))
    two = scattering(cascade(Line((first, second)), FREQUENCIES_HZ))
    assert np.allclose(one.s21, two.s21, rtol=1e-9, atol=1e-12)
    assert np.allclose(one.s11, two.s11, rtol=1e-7, atol=1e-9)
    for crosstalk in (next_db, elfext_db):
        a, b = (crosstalk(Line(parts), FREQUENCIES_HZ) for parts in ((whole,), (first, second)))
        assert np.allclose(a, b, atol=1e-6) or whole.length_m < 1e-6


@given(kinds.filter(lambda kind: kind != "quad"), st.floats(5.0, 100.0), st.floats(1.0, 50.0))
@settings(max_examples=counted(24, 60), deadline=None)
def test_longer_loses_more(kind: str, length_m: float, more_m: float) -> None:
    """Quad is left out: its impedance is not the port's, and its echoes make loss ripple with length."""
    short, long = (Line((CableSection(kind, metres),)) for metres in (length_m, length_m + more_m))  # type: ignore[arg-type]
    above = FREQUENCIES_HZ[FREQUENCIES_HZ > 4e6]
    assert np.all(insertion_loss_db(long, above) > insertion_loss_db(short, above))
    assert np.all(next_db(long, above) <= next_db(short, above) + 1e-9)


@given(sections.filter(lambda section: section.kind != "quad"), st.floats(1.0, 20.0))
@settings(max_examples=counted(20, 40), deadline=None)
def test_warmer_loses_more(section: CableSection, warmer_c: float) -> None:
    warm = CableSection(section.kind, section.length_m, section.awg, section.temperature_c + warmer_c)
    above = FREQUENCIES_HZ[FREQUENCIES_HZ > 4e6]
    cold_db, warm_db = (insertion_loss_db(Line((part,)), above) for part in (section, warm))
    assert np.all(warm_db >= cold_db - 1e-9)


@given(kinds, st.floats(1.0, 110.0), st.floats(0.0, 30.0), st.integers(0, 4), st.sampled_from(ETHERNETS))
@settings(max_examples=counted(32, 80), deadline=None)
def test_a_finite_equaliser_never_beats_the_ideal_one(
    kind: str, length_m: float, tap_m: float, splices: int, ethernet: str
) -> None:
    line = run_line(kind, length_m, taps_m=(tap_m,) if tap_m else (), splices=splices)  # type: ignore[arg-type]
    finite = margin_db(line, ethernet)  # type: ignore[arg-type]
    ideal = margin_db(line, ethernet, None)  # type: ignore[arg-type]
    assert finite <= ideal + 1e-6


runs = st.builds(
    RunFacts,
    category=st.sampled_from([*cables(), "unknown"]),
    pairs=st.sampled_from([None, 1, 2, 3, 4]),
    length_m=st.tuples(*[st.floats(0.5, 90.0)] * 3).map(lambda three: tuple(sorted(three))),
    topology=st.sampled_from(["home run", "daisy chain", "spliced", "tap", "unknown"]),
    splices=st.sampled_from([None, 0, 3]),
    state=st.sampled_from(["dead", "live telephone", "alarm", "damaged", "unknown"]),
    awg=gauges,
    temperature_c=temperatures_c,
    wire_map_ok=st.sampled_from([None, True, False]),
    link_mbps=st.sampled_from([None, 100.0, 1000.0]),
    tried_mbps=st.sampled_from([None, 100.0, 1000.0]),
    errors=st.sampled_from([None, 0, 12]),
    certified=st.sampled_from(["", "class C", "class D", "class E"]),
)


@given(runs)
@settings(max_examples=counted(60, 150), deadline=None)
def test_every_run_gets_verdicts_that_hang_together(run: RunFacts) -> None:
    found = verdicts(run)
    assert tuple(item.ethernet for item in found) == ETHERNETS
    for item in found:
        assert 0.0 <= item.probability <= 1.0
        assert item.lifted_probability >= item.probability
        assert item.reason.endswith(".") and item.reason.count(". ") == 0
        assert item.lift
    for slow, fast in pairwise(found):
        assert slow.probability >= fast.probability - 1e-12, (slow.ethernet, fast.ethernet)
        assert slow.lifted_probability >= fast.lifted_probability - 1e-12, (slow.ethernet, fast.ethernet)


@pytest.mark.parametrize("length_m", [30.0, 45.0, 60.0, 80.0])
def test_a_fast_rate_is_no_surer_than_a_slow_one_on_old_cable(length_m: float) -> None:
    found = verdicts(RunFacts("cat3", 4, (length_m, length_m, length_m), "home run"))
    assert all(slow.probability >= fast.probability for slow, fast in pairwise(found))


def test_errors_at_a_rate_are_a_reason_not_to_trust_a_faster_one() -> None:
    run = RunFacts("cat6", 4, (10.0, 10.0, 10.0), "home run", link_mbps=100.0, tried_mbps=100.0, errors=12)
    _, slow, fast, *_ = verdicts(run)
    assert (slow.band, fast.band, fast.evidence) == ("no", "no", "measured")
    assert "12" in fast.reason


@given(runs, st.sampled_from(ETHERNETS))
@settings(max_examples=counted(40, 100), deadline=None)
def test_answers_average_to_what_is_known_now(run: RunFacts, ethernet: str) -> None:
    """No reading can be expected to move the chance one way: that is what makes it a reading."""
    now = chances(run)[ETHERNETS.index(ethernet)]  # type: ignore[arg-type]
    for reading in settling(run, ethernet):  # type: ignore[arg-type]
        assert abs(sum(answer.chance for answer in reading.answers) - 1.0) < 1e-12
        assert abs(sum(answer.chance * answer.probability for answer in reading.answers) - now) < 1e-9


@given(st.floats(1.0, 80.0), st.floats(0.5, 25.0), st.sampled_from(["cat3", "cat5e", "cat6"]))
@settings(max_examples=counted(20, 40), deadline=None)
def test_a_tap_never_makes_a_verdict_better(length_m: float, tap_m: float, kind: str) -> None:
    length = (length_m, length_m, length_m)
    clear = verdicts(RunFacts(kind, 4, length, "home run"))  # type: ignore[arg-type]
    tapped = verdicts(RunFacts(kind, 4, length, "tap", taps_m=(tap_m,)))  # type: ignore[arg-type]
    for without, with_tap in zip(clear, tapped, strict=True):
        assert with_tap.probability <= without.probability + 0.02


@given(st.floats(1.0, 80.0), st.floats(0.5, 25.0), st.floats(0.5, 25.0))
@settings(max_examples=15, deadline=None)
def test_a_second_tap_never_makes_a_verdict_better(length_m: float, first_m: float, second_m: float) -> None:
    length = (length_m, length_m, length_m)
    one, two = (
        verdicts(RunFacts("cat5e", 4, length, "tap", taps_m=taps))
        for taps in ((first_m,), (first_m, second_m))
    )
    for single, double in zip(one, two, strict=True):
        assert double.probability <= single.probability + 1e-12


def test_elements_are_a_closed_union() -> None:
    assert set(Element.__args__) == {CableSection, Tap, Jack, Splice}
