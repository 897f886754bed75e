"""Chances before any reading, what a meter may show, plugs and readings of a job, cards; by hand."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from rehaul.errors import BadInput, OutOfRange
from rehaul.facts.trace_numbers import trace_number
from rehaul.house import (
    House,
    Job,
    LineCheck,
    MeetingPoint,
    Outlet,
    PlacedPlug,
    Run,
    SignOff,
    Storey,
    TraceReading,
)
from rehaul.tracing import (
    Bridge,
    Continuity,
    LinkLight,
    ReadingLog,
    Resistance,
    Tone,
    ToneHeard,
    Trust,
    Withdrawn,
    problem,
)
from rehaul.tracing.cards import card_disconnect, cards_last, off_sentences, proposed_states
from rehaul.tracing.codeplan import Bag, Method, plan_codes
from rehaul.tracing.endblame import EndEvidence, LikelyEnd, likely_end
from rehaul.tracing.hypotheses import _choices, resistance_rows, table
from rehaul.tracing.journal import log_of, question_of, rounds_of
from rehaul.tracing.length import length_from_loop
from rehaul.tracing.meanwhile import link_meanwhile
from rehaul.tracing.plugs import resistor_plug, strap_plug

SIGNED = SignOff(by="Owner", date="2026-11-20", words="Agreed")


def test_chances_before_any_reading_by_hand() -> None:
    """Of two outlets: none 0.08, each alone 0.8 / 2, both 0.06, and 0.06 for all faults at each of three."""
    found = table(problem(["a", "b"], ["1"], 4))
    chance: dict[Any, float] = {}
    for row, value in zip(found.rows, found.chances, strict=True):
        key = (row.outlets, row.fault is not None)
        chance[key] = chance.get(key, 0.0) + float(value)
    assert chance == {
        ((), False): pytest.approx(0.08), (("a",), False): pytest.approx(0.4),
        (("b",), False): pytest.approx(0.4),
        (("a", "b"), False): pytest.approx(0.06), ((), True): pytest.approx(0.02),
        (("a",), True): pytest.approx(0.02), (("b",), True): pytest.approx(0.02),
    }  # fmt: skip
    assert found.chances.sum() == pytest.approx(1.0)
    assert found.groups == ((), ("a",), ("b",), ("a", "b"))
    assert found.member.tolist() == [[False, False], [True, False], [False, True], [True, True]]
    pairs = table(problem(["a", "b", "c"], ["1"], 4))
    joined = [c for row, c in zip(pairs.rows, pairs.chances, strict=True) if len(row.outlets) == 2]
    assert joined == [pytest.approx(0.02)] * 3, "a pair of three is a third of it"
    long = table(replace(problem(["a", "b", "c"], ["1"], 4), long_chains=(("a", "b", "c"),)))
    (all_three,) = (c for row, c in zip(long.rows, long.chances, strict=True) if len(row.outlets) == 3)
    assert all_three == pytest.approx(0.0036 / 1.0036), "joined twice over: 0.06 of 0.06"


def test_every_way_to_look_over_the_rounds() -> None:
    assert _choices([]) == [()]
    assert _choices([(1, 2), (3,)]) == [(1, 3), (2, 3)]
    assert len(_choices([(1, 2), (3, 4), (5, 6, 7)])) == 12


@pytest.mark.parametrize(
    ("ohm", "allowed"),
    [
        (981.5, False), (981.9, True), (1000.0, True), (1038.1, True), (1038.5, False), (0.0, False),
        (1e6, False), (2e6, False), (math.inf, False),
    ],
)  # fmt: skip
def test_what_a_resistor_may_read(ohm: float, allowed: bool) -> None:
    """1000 ohm: 1 % of the part, 0.8 of the meter and 0.3 ohm below are 981.7; above, 20 more: 1038.3."""
    asked = problem(["a"], ["1"], 4, [{"a": resistor_plug(1000.0, 2)}])
    found = table(asked)
    rows = resistance_rows(found, (2, 1), ohm, 1)
    clean = next(n for n, row in enumerate(found.rows) if row.outlets == ("a",) and row.fault is None)
    nowhere = next(n for n, row in enumerate(found.rows) if row.outlets == () and row.fault is None)
    assert bool(rows[clean]) is allowed
    assert bool(rows[nowhere]) is (ohm > trace_number("open above")), "nothing plugged in reads open"


def test_two_plugs_of_a_chain_hang_side_by_side() -> None:
    """1000 and 3000 ohm side by side are 750."""
    asked = problem(["a", "b"], ["1"], 2, [{"a": resistor_plug(1000.0, 1), "b": resistor_plug(3000.0, 1)}])
    found = table(asked)
    chain = next(n for n, row in enumerate(found.rows) if row.outlets == ("a", "b"))
    assert found.resistances_ohm[0, chain, 0] == pytest.approx(750.0)
    one = next(n for n, row in enumerate(found.rows) if row.outlets == ("b",) and row.fault is None)
    assert found.resistances_ohm[0, one, 0] == pytest.approx(3000.0)


def seen(name: str, kind: str, **more: Any) -> TraceReading:
    return TraceReading.model_validate({"id": name, "kind": kind, **more})


def test_what_a_reading_leaves_out_counts_as_the_least() -> None:
    rows = [
        seen("1", "continuity", end="C1", ties=((1, 2),), tested=(1, 2), round=2),
        seen("2", "resistance", end="C1", conductors=(2, 3)),
        seen("3", "resistance", end="C1", ohm=0.0, conductors=(3, 4), round=3),
        seen("4", "tone", end="C1", outlet="a", heard="none"),
        seen("5", "tone", end="C1", outlet="a", heard="faint"),
        seen("6", "link", end="C1", outlet="a"),
        seen("7", "link", end="C1", outlet="a", rate_mbps=100),
        seen("8", "bridge", end="C1", other="C2", joined=False),
        seen("9", "bridge", end="C1", other="C2", joined=True),
        seen("10", "withdrawn", other="4", reason="wrong end"),
    ]
    assert log_of(rows).entries == (
        Continuity("1", "C1", ((1, 2),), (1, 2), 2),
        Resistance("2", "C1", (2, 3), math.inf, 1),
        Resistance("3", "C1", (3, 4), 0.0, 3),
        Tone("4", "C1", "a", ToneHeard.NONE),
        Tone("5", "C1", "a", ToneHeard.FAINT),
        LinkLight("6", "C1", "a", 0),
        LinkLight("7", "C1", "a", 100),
        Bridge("8", "C1", "C2", False),
        Bridge("9", "C1", "C2", True),
        Withdrawn("10", "4", "wrong end"),
    )
    assert [entry.id for entry in log_of(rows).standing()] == ["1", "2", "3", "5", "6", "7", "8", "9"]


def test_the_log_refuses_what_cannot_be() -> None:
    log = ReadingLog().added(Tone("1", "C1", "a", ToneHeard.NONE))
    for entry, words in (
        (Tone("1", "C1", "b", ToneHeard.LOUD), "in the log already"),
        (Withdrawn("2", "9", ""), "no reading 9"),
        (Resistance("2", "C1", (1, 2), -0.1), "is not a reading"),
        (Resistance("2", "C1", (1, 2), math.nan), "is not a reading"),
    ):
        with pytest.raises(BadInput, match=words):
            log.added(entry)
    assert len(log.added(Resistance("2", "C1", (1, 2), 0.0)).added(Withdrawn("3", "1", "")).entries) == 3


def test_plugs_by_round_the_later_of_two_stands() -> None:
    def plug(name: str, outlet: str, number: int, *ties: tuple[int, ...], **more: Any) -> PlacedPlug:
        return PlacedPlug.model_validate(
            {"id": name, "outlet": outlet, "round": number, "ties": ties, **more}
        )

    rows = [
        plug("G1", "a", 1, (1, 2)), plug("G2", "a", 1, (1, 3), (2, 4)), plug("G3", "b", 3),
        plug("G4", "c", 3, resistors=((1, 2, 470.0),)),
    ]  # fmt: skip
    first, second, third = rounds_of(rows)
    assert {outlet: (plug.name, plug.ties) for outlet, plug in first.items()} == {
        "a": ("13+24", ((1, 3), (2, 4)))
    }
    assert second == {} and (third["b"].name, third["c"].name) == ("bare", "G4")
    assert rounds_of([]) == ()


def house(*runs: dict[str, Any], **more: Any) -> Job:
    made = House(
        storeys=(Storey(id="1", name="Ground", elevation_m=0),),
        outlets=tuple(Outlet(id=f"1-0{n}", storey="1", position=(n, 1)) for n in (1, 2, 3)),
        meeting_points=tuple(
            MeetingPoint(id=name, name=name, storey="1", position=(1, 1)) for name in ("M1", "M2")
        ),
        runs=tuple(
            Run.model_validate({"id": f"C{n}", "ends": ("M1", f"1-0{n}"), "kind": "quad", **run})
            for n, run in enumerate(runs, 1)
        ),
    )
    return Job(id="j", title="Invented", house=made, **more)


@pytest.mark.parametrize(
    ("runs", "conductors", "gauge"),
    [
        (({"pairs": 4, "gauge_awg": 24}, {"pairs": 3, "gauge_awg": 24}), 6, 24),
        (({"pairs": 4, "gauge_awg": 24}, {"pairs": 4, "gauge_awg": 22}), 8, None),
        (({"pairs": 4, "gauge_awg": 24}, {}), 4, None),
        (({"pairs": 1}, {"pairs": 4}), 2, None),
        (({"pairs": 25, "kind": "cat3"}, {"pairs": 6, "kind": "cat3"}), 8, None),
    ],
)
def test_as_many_conductors_are_counted_on_as_the_smallest_cable_has(
    runs: tuple[dict[str, Any], ...], conductors: int, gauge: int | None
) -> None:
    found = question_of(house(*runs), "M1")
    assert (found.conductors, found.gauge_awg) == (conductors, gauge)
    assert found.outlets == ("1-01", "1-02", "1-03") and found.ends == ("C1", "C2")
    with pytest.raises(BadInput, match="no cable with pairs"):
        question_of(house(*runs), "M2")


LIVE = LineCheck(id="L1", at="M1", what="voltage", run="C1", dc_v=48.0, ac_v=0.0)
OFF = LineCheck(id="L2", at="M1", what="disconnected", run="C1", time="10:30", sign_off=SIGNED)


def test_a_live_line_found_is_proposed_as_such_for_its_own_cable_alone() -> None:
    here = house({"state": "unknown"}, {"state": "unknown"}, line_checks=(LIVE,))
    ((row),) = proposed_states(here, "M1")
    assert (row.run, row.state.value) == ("C1", "live telephone") and "48 V" in row.because
    known = house({"state": "live telephone"}, {}, line_checks=(LIVE,))
    assert proposed_states(known, "M1") == () and proposed_states(here, "M2") == ()
    all_there = LIVE.model_copy(update={"run": None})
    assert proposed_states(house({}, {}, line_checks=(all_there,)), "M1") == ()


def test_a_line_taken_off_is_given_back_and_said_until_it_is() -> None:
    here = house({"state": "unknown"}, {}, line_checks=(LIVE, OFF))
    (card,) = cards_last(here)
    assert (card.what, card.at, card.run, card.runs) == ("reconnected", "M1", "C1", ("C1",))
    (said,) = off_sentences(here)
    assert all(word in said for word in ("M1", "C1", "10:30"))
    bare = OFF.model_copy(update={"run": None, "time": ""})
    all_off = house({"state": "unknown"}, {}, line_checks=(LIVE, bare))
    assert cards_last(all_off)[0].runs == ("C1", "C2") and "C1" not in off_sentences(all_off)[0]
    assert card_disconnect(here, "M1") is None, "it is off already"
    back = LineCheck(id="L3", at="M1", what="reconnected", run="C1", sign_off=SIGNED)
    again = house({"state": "unknown"}, {}, line_checks=(LIVE, OFF, back))
    assert cards_last(again) == off_sentences(again) == ()


def test_a_quiet_house_offers_nothing_to_take_off() -> None:
    assert card_disconnect(house({"state": "dead"}, {"state": "dead"}), "M1") is None


WHOLE = {(1, 2): (1, 2), (3, 6): (3, 6), (4, 5): (4, 5), (7, 8): (7, 8)}
SWAPPED = {(1, 2): (3, 6), (3, 6): (1, 2), (4, 5): (7, 8), (7, 8): (4, 5)}


def without(*pairs: tuple[int, int]) -> dict[tuple[int, int], tuple[int, int]]:
    return {pair: far for pair, far in WHOLE.items() if pair not in pairs}


@pytest.mark.parametrize(
    ("whole", "split", "mbps", "by_standard"),
    [
        (WHOLE, (), 1000, 1000),
        (SWAPPED, (), 1000, 1000),
        (without((7, 8)), (), 100, 0),
        (without((4, 5), (7, 8)), (), 100, 0),
        (without((1, 2)), (), 0, 0),
        (without((3, 6)), (), 0, 0),
        (WHOLE, ((1, 2), (3, 6)), 100, 0),
        (WHOLE, ((4, 5), (7, 8)), 100, 0),
        (without((7, 8)), ((7, 8),), 100, 0),
        ({**WHOLE, (4, 5): (1, 2)}, (), 100, 0),
        ({**WHOLE, (3, 6): (4, 5)}, (), 0, 0),
    ],
)
def test_the_link_that_comes_up_meanwhile(whole: Any, split: Any, mbps: int, by_standard: int) -> None:
    found = link_meanwhile(whole, split)
    assert (found.mbps, found.by_standard_mbps) == (mbps, by_standard)


def test_what_is_said_of_a_link_hangs_on_what_spoils_it() -> None:
    said = [
        link_meanwhile(whole, split).sentence
        for whole, split in (
            (WHOLE, ()), (WHOLE, ((1, 2),)), (WHOLE, ((4, 5),)), (without((7, 8)), ()), (without((1, 2)), ()),
        )
    ]  # fmt: skip
    assert len(set(said)) == 5
    assert link_meanwhile(without((7, 8)), ((7, 8),)).sentence == said[3], (
        "a pair that never arrives spoils nothing"
    )


@pytest.mark.parametrize(
    ("known", "end"),
    [
        ({"fault_at_m": 1.0}, "near"),
        ({"fault_at_m": 1.01}, "either"),
        ({"fault_at_m": 19.0, "length_m": 20.0}, "far"),
        ({"fault_at_m": 18.99, "length_m": 20.0}, "between the ends"),
        ({"fault_at_m": 1.01, "length_m": 20.0}, "between the ends"),
        ({"near_is_plug": True, "far_is_plug": False}, "near"),
        ({"near_is_plug": False, "far_is_plug": True}, "far"),
        ({"near_is_plug": True, "far_is_plug": True}, "either"),
        ({"near_is_plug": True}, "either"),
        ({"far_is_plug": True}, "either"),
        ({"fault_at_m": 0.5, "near_is_plug": False, "far_is_plug": True}, "near"),
        ({}, "either"),
    ],
)
def test_which_end_to_open_first(known: dict[str, Any], end: str) -> None:
    found, why = likely_end(faults_present=True, evidence=EndEvidence(**known))
    assert found.value == end and why
    assert likely_end(faults_present=False, evidence=EndEvidence(**known))[0] is LikelyEnd.NONE
    assert likely_end(faults_present=True, evidence=None)[0] is LikelyEnd.EITHER


def test_a_length_from_a_loop_by_hand() -> None:
    """24 AWG is 84.2 ohm a kilometre; there and back with 2 % of lay 171.8, so 17.18 ohm are 100 m.

    The range: 0.8 % of meter, 6 of gauge, 1.5 of lay and 3.9 of ten kelvin are 7.4 % together; 0.3 ohm of
    meter and 0.2 of splices are 2.1 m.
    """
    found = length_from_loop(17.18, 24)
    assert found.length_m == pytest.approx(100.0, rel=3e-3)
    assert found.high_m - found.length_m == pytest.approx(math.hypot(7.7, 2.1), rel=0.03)
    assert found.length_m - found.low_m == pytest.approx(math.hypot(7.1, 2.1), rel=0.03)
    warm = length_from_loop(17.18, 24, temperature_c=45.0)
    assert warm.length_m == pytest.approx(100.0 / (1 + 0.00393 * 25), rel=3e-3)
    short = length_from_loop(0.1, 24)
    assert short.low_m == 0.0 < short.length_m < short.high_m
    for ohm in (-0.1, 1000.1):
        with pytest.raises(OutOfRange):
            length_from_loop(ohm, 24)


def test_the_fewest_rounds_that_the_bag_allows() -> None:
    """Three plugs for seven outlets are rounds of three, three and one; a toner needs no meter."""
    outlets = [f"o{n}" for n in range(7)]
    found = plan_codes(outlets, ["1"], Bag(plugs=3), 8)
    assert found.method is Method.STRAPS and [len(placed) for placed in found.rounds] == [3, 3, 1]
    assert [outlet for placed in found.rounds for outlet, _ in placed] == outlets
    assert "3" in found.sentence
    one = plan_codes(outlets, ["1"], Bag(plugs=7), 8)
    assert len(one.rounds) == 1 and len({plug.name for _, plug in one.rounds[0]}) == 7
    assert len(one.plugs) == 7 and "one round" in one.sentence
    assert "2 rounds" in plan_codes(outlets[:6], ["1"], Bag(plugs=3), 8).sentence
    assert plan_codes(outlets, ["1"], Bag(plugs=7, meter=False, toner=True), 8).method is Method.TONER
    with pytest.raises(BadInput, match="nothing to trace with"):
        plan_codes(outlets, ["1"], Bag(plugs=7, meter=False), 8)


def test_a_resistor_counts_where_there_is_one_for_each_pair_it_takes() -> None:
    """Two on each plug where there are two pairs: of a value held once, none; of a value held twice, one."""
    single = Bag(plugs=1, resistors=((1000.0, 1),))
    double = Bag(plugs=1, resistors=((1000.0, 2),))
    assert plan_codes(["a"], ["1"], single, 4).method is Method.STRAPS
    assert plan_codes(["a"], ["1"], double, 4).method is Method.RESISTORS
    assert plan_codes(["a"], ["1"], single, 2).method is Method.RESISTORS, "one pair takes one"
    none = plan_codes(["a"], ["1"], Bag(plugs=1, resistors=((1000.0, 9),)), 4, Trust.NONE)
    assert none.method is Method.STRAPS, "where nothing is known, no resistor finds its pair again"


def test_masks_of_a_strap_are_those_shown() -> None:
    asked = problem(["a"], ["1"], 4, [{"a": strap_plug(0b000001, 4)}])
    found = table(asked)
    clean = [n for n, row in enumerate(found.rows) if row.outlets == ("a",) and row.fault is None]
    assert found.masks[0, clean].tolist() == [1] and not np.isnan(found.resistances_ohm[0, clean, 0]).any()


def test_a_question_names_each_thing_once_and_its_rounds_from_one() -> None:
    for outlets, ends, where in ((["a", "a"], ["1"], "outlets"), (["a"], ["1", "1"], "ends")):
        with pytest.raises(BadInput, match="used twice") as fault:
            problem(outlets, ends, 4)
        assert fault.value.where == where
    for rounds, where in (([{"b": strap_plug(1, 4)}], "round 1"), ([{}, {"b": strap_plug(1, 4)}], "round 2")):
        with pytest.raises(BadInput, match="outlet b is not on the list") as fault:
            problem(["a"], ["1"], 4, rounds)
        assert fault.value.where == where
