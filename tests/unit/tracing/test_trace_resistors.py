"""Resistor plugs: what can be told apart, and every single fault through the solver."""

from __future__ import annotations

import math
from itertools import combinations, pairwise

import numpy as np
import pytest

from rehaul.errors import BadInput
from rehaul.facts.trace_numbers import trace_number
from rehaul.tracing import (
    Bag,
    Fault,
    FaultKind,
    Guarantee,
    Method,
    Plug,
    ReadingLog,
    Resistance,
    Trust,
    chain_safe_values,
    plan_codes,
    plug_on_pins,
    problem,
    resistor_plug,
    separable_values,
    single_faults,
    solve,
)
from rehaul.tracing.partitions import conductor_pairs
from rehaul.tracing.plugs import edges_of, pair_resistances_ohm, through
from rehaul.tracing.resistors import _apart, _chain_safe, reading_range_ohm

TENTHS = (10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91)


def e24_values(low_ohm: float, high_ohm: float) -> tuple[float, ...]:
    """Every value of the E24 series (IEC 60063) between two values, both included [ohm]."""
    values = (float(tenths * 10**decade) for decade in range(6) for tenths in TENTHS)
    return tuple(value for value in values if low_ohm <= value <= high_ohm)


HOUSE = chain_safe_values((5100.0, 6200.0, 12000.0, 15000.0, 47000.0, 100000.0))


@pytest.mark.parametrize("values", [e24_values(100, 1e5), e24_values(330, 9100), (330.0, 331.0, 5000.0)])
def test_separable_values_never_share_a_reading(values: tuple[float, ...]) -> None:
    chosen = separable_values(values)
    ranges = [reading_range_ohm(0.0), *(reading_range_ohm(value) for value in chosen)]
    for (_, high), (low, _) in pairwise(ranges):
        assert high < low


def test_separable_is_the_most_there_are() -> None:
    """Against every subset of a small bag."""
    bag = (25.0, 30.0, 41.0, 45.0, 70.0, 72.0, 95.0, 300.0, 305.0)

    def apart(values: tuple[float, ...]) -> bool:
        ranges = sorted([reading_range_ohm(0.0), *(reading_range_ohm(v) for v in values)])
        return all(high < low for (_, high), (low, _) in pairwise(ranges))

    most = max(k for k in range(len(bag) + 1) if any(apart(c) for c in combinations(bag, k)))
    assert len(separable_values(bag)) == most


def test_every_e24_value_from_390_ohm_up_is_apart() -> None:
    values = e24_values(390, 100000)
    assert separable_values(values) == values
    assert len(separable_values(e24_values(100, 100000))) == 66


def test_chain_safe_values_tell_all_singles_and_parallels_apart() -> None:
    for values in (HOUSE, chain_safe_values(e24_values(1000, 100000))):
        assert len(values) >= 6
        shown = [*values, *(a * b / (a + b) for a, b in combinations(values, 2))]
        ranges = sorted(reading_range_ohm(ohm) for ohm in shown)
        assert all(high < low for (_, high), (low, _) in pairwise(ranges))


@pytest.mark.parametrize(
    ("values", "best", "looks"),
    [
        ((1000.0, 2000.0, 5000.0), (1000.0, 2000.0, 5000.0), 3),
        ((1000.0, 1500.0, 3000.0), (1000.0, 1500.0), 3),
        ((1000.0, 1010.0, 3000.0, 10000.0), (1000.0, 3000.0, 10000.0), 4),
    ],
)
def test_sets_that_cannot_grow_past_the_best_are_not_looked_at(
    values: tuple[float, ...], best: tuple[float, ...], looks: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """1000, 1000 with 2000, then with 5000 as well: three looks, and nothing else can hold three.

    1500 beside 3000 reads 1000, so of the second three only two go together: 1000 and 1500 at the second
    look; the third adds 3000 in vain, and what is left holds two at the most. Of the four, 1010 is too near
    1000: the second look is in vain, the fourth has found three, and what starts at 1010 holds no more.
    """
    seen = []

    def apart(ranges: list[tuple[float, float]]) -> bool:
        seen.append(len(ranges))
        return _apart(ranges)

    monkeypatch.setattr("rehaul.tracing.resistors._apart", apart)
    assert _chain_safe.__wrapped__(values) == best
    assert len(seen) == looks


def test_a_kit_of_seven_values() -> None:
    kit = (12000.0, 20000.0, 36000.0, 51000.0, 68000.0, 100000.0, 270000.0)
    assert chain_safe_values(kit) == kit
    plan = plan_codes(
        [f"o{k}" for k in range(7)], ["e"], Bag(plugs=7, resistors=tuple((r, 2) for r in kit)), 8
    )
    assert plan.method is Method.RESISTORS  # before straps: two faults at once mislead it less
    assert plan.chains_seen


def readings_of(plugs: list[Plug], fault, loop_ohm: float, scale: float) -> ReadingLog:
    """All pairs measured; part and meter at the same end of their tolerance, cable loop added."""
    shown = pair_resistances_ohm([edges_of(plugs, fault)], 4)[0]
    log = ReadingLog()
    for k, (pair, ohm) in enumerate(zip(conductor_pairs(4), shown, strict=True)):
        read = math.inf if math.isinf(ohm) else max(0.0, ohm * scale + loop_ohm)
        log = log.added(Resistance(f"r{k}", "end", pair, float(read)))
    return log


@pytest.mark.parametrize("loop_ohm", [0.0, 10.0, 20.0])
@pytest.mark.parametrize("sign", [-1, 1])
@pytest.mark.parametrize("trust", [Trust.COLOURS, Trust.PAIR_COLOURS, Trust.TWIST])
def test_every_single_fault_on_a_quad_is_seen_through(loop_ohm: float, sign: int, trust: Trust) -> None:
    outlets = [f"o{k}" for k in range(len(HOUSE))]
    plugs = {outlet: resistor_plug(ohm, 2) for outlet, ohm in zip(outlets, HOUSE, strict=True)}
    question = problem(outlets, ["end"], 4, [plugs], trust=trust)
    scale = 1 + sign * (trace_number("resistor tolerance") + trace_number("meter scale"))
    for outlet in outlets:
        for fault in (None, *single_faults(4)):
            answer = solve(readings_of([plugs[outlet]], fault, loop_ohm, scale), question)
            assert answer.end("end").reaches == (outlet,), (outlet, fault)
    for a, b in combinations(outlets, 2):
        answer = solve(readings_of([plugs[a], plugs[b]], None, loop_ohm, scale), question)
        assert answer.end("end").reaches == (a, b)
        assert answer.joins == (("end", (a, b)),)


def test_the_same_value_on_two_pairs_survives_an_open_pair_with_two_readings() -> None:
    plugs = {"a": resistor_plug(HOUSE[0], 2), "b": resistor_plug(HOUSE[1], 2)}
    question = problem(["a", "b"], ["end"], 4, [plugs])
    log = ReadingLog().added(Resistance("1", "end", (1, 2), math.inf))
    log = log.added(Resistance("2", "end", (3, 4), HOUSE[1]))
    assert solve(log, question).end("end").reaches == ("b",)


def test_resistance_network_against_hand_formulas() -> None:
    plug = Plug("x", ties=((1, 3),), resistors=((1, 2, 1000.0), (3, 4, 3000.0)))
    shown = dict(zip(conductor_pairs(4), pair_resistances_ohm([plug_edges(plug)], 4)[0], strict=True))
    assert shown[1, 2] == pytest.approx(1000.0, rel=1e-6)
    assert shown[2, 4] == pytest.approx(4000.0, rel=1e-5)
    assert shown[1, 3] == pytest.approx(0.001, rel=1e-3)
    two = pair_resistances_ohm([edges_of([resistor_plug(5100, 1), resistor_plug(6200, 1)], None)], 2)
    assert two[0, 0] == pytest.approx(5100 * 6200 / 11300, rel=1e-9)
    assert np.isinf(pair_resistances_ohm([()], 2)[0, 0])


def plug_edges(plug: Plug):
    return edges_of([plug], None)


def test_plan_prefers_resistors_where_straps_take_more_rounds() -> None:
    outlets = [f"o{k}" for k in range(6)]
    bag = Bag(plugs=6, resistors=tuple((ohm, 2) for ohm in HOUSE))
    plan = plan_codes(outlets, outlets, bag, 4)
    assert (plan.method, len(plan.rounds), plan.chains_seen) == (Method.RESISTORS, 1, True)
    assert plan.guarantee is Guarantee.CORRECTS
    straps = plan_codes(outlets, outlets, Bag(plugs=6), 4)
    assert (straps.method, len(straps.rounds)) == (Method.STRAPS, 2)


def test_plugs_by_pins() -> None:
    plug = Plug("x", ties=((1, 2, 4),), resistors=((5, 6, 1000.0),))
    on_b = plug_on_pins(plug, "T568B")  # tip and ring of pair 1 on 5 and 4, ring of pair 2 on 2
    assert (on_b.ties, on_b.resistors) == (((2, 4, 5),), ((3, 6, 1000.0),))
    assert plug_on_pins(plug, "T568A").ties == ((4, 5, 6),)
    with pytest.raises(BadInput):
        plug_on_pins(plug, "two pairs")


def test_two_broken_conductors_are_two_lost_nodes() -> None:
    tied = edges_of([Plug("x", ties=((1, 2, 3),))], None)
    once = through(tied, Fault(FaultKind.OPEN, (1,)))
    twice = through(once, Fault(FaultKind.OPEN, (3,)))
    assert np.isinf(pair_resistances_ohm([twice], 3)).all()
    resistors = edges_of([Plug("y", resistors=((1, 2, 100.0), (2, 3, 100.0)))], None)
    lost = through(resistors, Fault(FaultKind.OPEN, (2,)))
    assert pair_resistances_ohm([lost], 3)[0].tolist() == pytest.approx([math.inf, 200.0, math.inf])
