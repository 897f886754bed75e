"""Laws of tracing and of live lines, over random houses."""

from __future__ import annotations

import math

from hypothesis import given, settings
from hypothesis import strategies as st

from counts import counted
from rehaul.house import (
    Decision,
    Obligation,
    ObligationKind,
    ObligationState,
    Run,
    RunState,
    SignOff,
    held_reasons,
)
from rehaul.tracing import (
    Bag,
    Bridge,
    Continuity,
    LinkLight,
    Method,
    Plug,
    ReadingLog,
    Resistance,
    Tone,
    ToneHeard,
    Trust,
    classify,
    fit_label,
    label_text,
    length_from_loop,
    plan_codes,
    single_faults,
    solve,
)
from rehaul.tracing.labels import text_length_m
from rehaul.tracing.partitions import blocks_of, conductor_pairs, joined
from rehaul.tracing.plugs import edges_of, pair_resistances_ohm, renamed
from rehaul.tracing.trust import permutations_of

OUTLETS = [f"1-{k:02d}" for k in range(6)]
ENDS = [f"c{k}" for k in range(6)]
PLANS = {
    (conductors, trust): plan_codes(OUTLETS, ENDS, Bag(plugs=6), conductors, trust)
    for conductors, trust in ((4, Trust.COLOURS), (6, Trust.TWIST), (8, Trust.COLOURS), (8, Trust.A_OR_B))
}
KIT = tuple((ohm, 2) for ohm in (12000.0, 20000.0, 36000.0, 51000.0, 68000.0, 100000.0))
PLANS[4, Trust.TWIST] = plan_codes(OUTLETS, ENDS, Bag(plugs=6, resistors=KIT), 4, Trust.TWIST)
assert PLANS[4, Trust.TWIST].method is Method.RESISTORS


@st.composite
def houses(draw):
    """A plan, what is truly on each end with one fault at most, and truthful readings in any order.

    Colours are as untrusty as the plan allows: every outlet calls the conductors by its own permutation.
    """
    (conductors, trust), plan = draw(st.sampled_from(sorted(PLANS.items(), key=lambda item: str(item[0]))))
    called = list(permutations_of(trust, conductors))
    order = list(draw(st.permutations(OUTLETS)))
    truth: dict[str, tuple[str, ...]] = {}
    readings = []
    for k, end in enumerate(ENDS):
        size = draw(st.sampled_from([0, 1, 1, 1, 1, 2]))
        truth[end] = tuple(sorted(order[:size]))
        order = order[size:]
        fault = draw(st.sampled_from([None, None, *single_faults(conductors)])) if size < 2 else None
        names = {outlet: draw(st.sampled_from(called)) for outlet in truth[end]}
        loop_ohm = draw(st.sampled_from([0.0, 4.0, 19.9]))
        for number in range(1, len(plan.rounds) + 1):
            plugs = [
                renamed(plan.problem.plug(outlet, number) or Plug("none"), names[outlet])
                for outlet in truth[end]
            ]
            mask = 0
            for plug in plugs:
                mask = joined(mask, plug.mask(conductors), conductors)
            shown = fault.seen(mask, conductors) if fault else mask
            readings.append(Continuity(f"p{k}-{number}", end, blocks_of(shown, conductors), round=number))
            pair = draw(st.integers(0, len(conductor_pairs(conductors)) - 1))
            ohm = float(pair_resistances_ohm([edges_of(plugs, fault)], conductors)[0, pair]) + loop_ohm
            between = conductor_pairs(conductors)[pair]
            readings.append(Resistance(f"o{k}-{number}", end, between, ohm, round=number))
        other = draw(st.sampled_from(OUTLETS))
        heard = ToneHeard.LOUD if other in truth[end] else ToneHeard.NONE
        readings.append(Tone(f"t{k}", end, other, heard))
        if truth[end] and fault is None:
            readings.append(LinkLight(f"l{k}", end, truth[end][0], draw(st.sampled_from([0, 100, 1000]))))
    count = draw(st.integers(0, len(readings)))
    return plan, truth, list(draw(st.permutations(readings)))[:count]


@given(houses())
@settings(max_examples=counted(60, 150), deadline=None)
def test_truthful_readings_are_never_called_contradictory_and_never_mislead(house) -> None:
    plan, truth, readings = house
    log = ReadingLog()
    before: dict[str, set[tuple[str, ...]]] = {}
    for reading in readings:
        log = log.added(reading)
        answer = solve(log, plan.problem)
        assert not answer.contradictions
        for end in answer.ends:
            assert set(end.reaches) <= set(truth[end.end])
            # Two outlets heard on one cable raise the question of a third; all else only shrinks.
            possible = {p.outlets for p in end.possible if len(p.outlets) <= 2}
            assert truth[end.end] in possible
            assert possible <= before.get(end.end, possible)  # what is struck out stays out
            assert math.isclose(sum(p.chance for p in end.possible), 1.0)
            before[end.end] = possible


@given(houses(), st.data())
@settings(max_examples=counted(24, 60), deadline=None)
def test_a_contradiction_needs_every_reading_it_names(house, data) -> None:
    plan, _, readings = house
    log = ReadingLog(tuple(readings))
    end = data.draw(st.sampled_from(ENDS))
    outlet = data.draw(st.sampled_from(OUTLETS))
    log = log.added(Tone("lie", end, outlet, data.draw(st.sampled_from([ToneHeard.LOUD, ToneHeard.NONE]))))
    answer = solve(log, plan.problem)
    for found in answer.contradictions:
        for blamed in found.ends:
            assert answer.end(blamed).reaches == ()
        if not any(isinstance(r, Bridge) for r in log.entries):
            kept = [r for r in log.entries if r.id in found.readings]
            for left_out in kept:
                rest = ReadingLog(tuple(r for r in kept if r is not left_out))
                assert not solve(rest, plan.problem).contradictions


def test_chains_that_other_ends_allow_add_nothing_to_what_is_blamed() -> None:
    """Two outlets met from one cable let all be taken for longer chains: a third reading was named."""
    pattern = Continuity("pattern", "c0", ((1, 2, 3, 4, 5, 6, 7),), round=1)
    quiet, loud = Tone("quiet", "c0", "1-00", ToneHeard.NONE), Tone("loud", "c2", "1-01", ToneHeard.LOUD)
    lights = [LinkLight(f"light {outlet}", "c3", outlet, 100) for outlet in ("1-00", "1-02")]
    log = ReadingLog((pattern, quiet, loud, *lights))
    (found,) = solve(log, PLANS[8, Trust.COLOURS].problem).contradictions
    assert (found.ends, found.readings) == (("c0", "c2"), ("pattern", "loud"))


@given(st.permutations(range(1, 9)), st.sets(st.integers(1, 8)))
def test_any_wire_map_is_classified(images, opens) -> None:
    wires = {pin: (None if pin in opens else images[pin - 1]) for pin in range(1, 9)}
    result = classify(wires)
    assert bool(result.faults) == (bool(opens) or list(images) != list(range(1, 9)))
    assert result.link.by_standard_mbps <= result.link.mbps
    assert result.link.mbps in (0, 100, 1000)
    if opens:
        assert result.link.mbps < 1000


@given(st.dictionaries(st.integers(1, 8), st.sets(st.integers(1, 8)), max_size=8))
def test_any_tangle_of_shorts_is_classified(far_pins) -> None:
    result = classify(far_pins)
    tangled = any(far_pins.get(pin, set()) != {pin} for pin in range(1, 9))
    assert bool(result.faults) == tangled
    assert result.sentence.endswith(".")


RUN_STATES = st.sampled_from(list(RunState))
SIGN_OFF = SignOff(by="A. Person", date="2030-01-31", words="tested")


@st.composite
def registers(draw):
    runs = [Run(id=f"r{k}", ends=("o", "m"), state=draw(RUN_STATES)) for k in range(4)]
    obligations = [
        Obligation(
            id=f"b{k}",
            kind=draw(st.sampled_from(list(ObligationKind))),
            run=draw(st.sampled_from(runs)).id,
            state=draw(st.sampled_from(list(ObligationState))),
            sign_off=draw(st.sampled_from([None, SIGN_OFF])),
        )
        for k in range(draw(st.integers(0, 5)))
    ]
    decisions = [
        Decision(id=f"d-{run.id}", run=run.id, sign_off=SIGN_OFF) for run in runs if draw(st.booleans())
    ]
    return runs, obligations, decisions


@given(registers())
@settings(max_examples=counted(120, 300))
def test_nothing_live_or_owed_may_be_cut_without_a_recorded_decision(register) -> None:
    runs, obligations, decisions = register
    for run in runs:
        own = [o for o in obligations if o.run == run.id]
        decided = any(d.run == run.id for d in decisions)
        reasons = held_reasons(run, obligations, decisions)
        if not reasons:
            assert run.state is RunState.DEAD or decided or any(o.sign_off for o in own)
            assert all(o.sign_off for o in own)
            assert all(o.state in (ObligationState.MOVED, ObligationState.RELEASED) for o in own)
        assert all(reason.run == run.id and reason.remedy for reason in reasons)
    for run in runs:  # a further obligation never sets a cable free
        more = [*obligations, Obligation(id="bx", kind=ObligationKind.LIFT, run=run.id)]
        assert held_reasons(run, more, decisions)


@given(st.text("ABCDEFGHIKLMNOPRSTUWabcdehimnow0123456789-. ", min_size=1, max_size=40))
def test_a_label_never_loses_its_id_and_stays_readable(alias: str) -> None:
    label = label_text("2-07", alias)
    assert label.lines[0].startswith("2-07")
    assert label.capital_m >= 0.0018
    assert label.length_m <= 0.05 + 1e-12
    assert label.length_m == max(text_length_m(line, label.capital_m) for line in label.lines)
    assert fit_label(label.lines, longest_m=0.05).capital_m == label.capital_m


@given(st.floats(0, 100), st.floats(0, 100), st.sampled_from([22, 23, 24, 26]))
def test_more_loop_is_more_length(first: float, second: float, gauge: int) -> None:
    low, high = sorted((first, second))
    a, b = length_from_loop(low, gauge), length_from_loop(high, gauge)
    assert a.length_m <= b.length_m
    assert a.low_m <= a.length_m <= a.high_m
    assert a.high_m <= b.high_m + 1e-9


@given(st.lists(st.tuples(st.sampled_from(ENDS), st.sampled_from(ENDS)), max_size=4))
@settings(max_examples=30, deadline=None)
def test_joined_ends_have_one_answer(pairs) -> None:
    plan = PLANS[8, Trust.COLOURS]
    log = ReadingLog()
    for k, (a, b) in enumerate(pairs):
        log = log.added(Bridge(f"b{k}", a, b, True))
    log = log.added(Tone("t", "c0", OUTLETS[0], ToneHeard.LOUD))
    answer = solve(log, plan.problem)
    joined_to = {"c0"}
    for _ in pairs:
        for a, b in pairs:
            if {a, b} & joined_to:
                joined_to |= {a, b}
    for end in ENDS:
        assert (OUTLETS[0] in answer.end(end).reaches) == (end in joined_to)
