"""Readings typed in one at a time: matches, elimination, contradictions by name, joins, toner only."""

from __future__ import annotations

from itertools import permutations

import pytest

from rehaul.errors import BadInput
from rehaul.tracing import (
    Bag,
    Bridge,
    Continuity,
    EndStanding,
    Fault,
    FaultKind,
    LinkLight,
    Reading,
    ReadingLog,
    Resistance,
    Tone,
    ToneHeard,
    Withdrawn,
    next_best_reading,
    plan_codes,
    problem,
    solve,
)

OUTLETS = ["0-01", "1-01", "1-02", "2-01"]
ENDS = ["A", "B", "C", "D"]
PLAN = plan_codes(OUTLETS, ENDS, Bag(plugs=4), 8, gauge_awg=24)
PLUGS = dict(PLAN.rounds[0])
TONER = problem(OUTLETS, ENDS, 4)


def log_of(*entries: Reading | Withdrawn) -> ReadingLog:
    log = ReadingLog()
    for entry in entries:
        log = log.added(entry)
    return log


def pattern(ident: str, end: str, outlet: str) -> Continuity:
    return Continuity(ident, end, PLUGS[outlet].ties)


def test_nothing_read_leaves_everything_possible() -> None:
    answer = solve(ReadingLog(), PLAN.problem)
    assert answer.unlocated_ends == tuple(ENDS)
    assert {end.standing for end in answer.ends} == {EndStanding.UNREAD}
    assert answer.bits_left > 4


def test_order_of_readings_does_not_matter() -> None:
    readings = [pattern("1", "A", "1-02"), pattern("2", "B", "0-01"), Tone("3", "C", "2-01", ToneHeard.LOUD)]
    answers = {repr(solve(log_of(*order), PLAN.problem).ends) for order in permutations(readings)}
    assert len(answers) == 1


def test_an_end_never_located_stays_listed() -> None:
    log = log_of(*(pattern(o, e, o) for o, e in zip(OUTLETS[:3], ENDS[:3], strict=True)))
    answer = solve(log, PLAN.problem)
    assert answer.unlocated_ends == ("D",)
    assert answer.unlocated_outlets == ("2-01",)
    last = answer.end("D")
    assert last.reaches == ()  # it may as well end nowhere: likely is not certain
    assert [p.outlets for p in last.possible][:2] == [("2-01",), ()]


def test_fault_is_named_and_the_outlet_still_found() -> None:
    fault = Fault(FaultKind.OPEN, (1,))
    shown = [b for b in (tuple(c for c in block if c != 1) for block in PLUGS["0-01"].ties) if len(b) > 1]
    end = solve(log_of(Continuity("1", "A", tuple(shown))), PLAN.problem).end("A")
    assert end.reaches == ("0-01",)
    assert fault in end.faults


def test_two_readings_of_one_end_that_disagree_are_both_named_and_nothing_is_decided() -> None:
    answer = solve(log_of(pattern("1", "A", "0-01"), pattern("2", "A", "2-01")), PLAN.problem)
    assert [(c.ends, c.readings) for c in answer.contradictions] == [(("A",), ("1", "2"))]
    assert answer.end("A").standing is EndStanding.CONFLICT
    assert answer.end("A").reaches == ()
    mended = log_of(pattern("1", "A", "0-01"), pattern("2", "A", "2-01"), Withdrawn("3", "2", "wrong end"))
    assert solve(mended, PLAN.problem).end("A").reaches == ("0-01",)


def test_an_innocent_reading_is_not_blamed() -> None:
    log = log_of(
        pattern("1", "A", "0-01"),
        Tone("2", "A", "1-01", ToneHeard.NONE),
        Tone("3", "A", "1-02", ToneHeard.LOUD),
    )
    (found,) = solve(log, PLAN.problem).contradictions
    assert found.readings == ("1", "3")


def test_two_ends_at_one_outlet_contradict_until_the_bridge_is_measured() -> None:
    log = log_of(pattern("1", "A", "1-01"), pattern("2", "B", "1-01"), pattern("3", "C", "0-01"))
    answer = solve(log, PLAN.problem)
    (found,) = answer.contradictions
    assert found.ends == ("A", "B")
    assert set(found.readings) == {"1", "2"}
    assert answer.end("C").reaches == ("0-01",)
    (first, *_) = next_best_reading(log, PLAN.problem)
    assert (first.kind, first.end, first.other_end) == ("bridge", "A", "B")
    joined = solve(log.added(Bridge("4", "A", "B", True)), PLAN.problem)
    assert not joined.contradictions
    assert joined.end("A").reaches == joined.end("B").reaches == ("1-01",)
    apart = solve(log.added(Bridge("4", "A", "B", False)), PLAN.problem)
    assert set(apart.contradictions[0].readings) == {"1", "2", "4"}


def test_a_chain_shows_as_two_outlets_on_one_end() -> None:
    log = log_of(Tone("1", "A", "0-01", ToneHeard.LOUD), Tone("2", "A", "1-01", ToneHeard.LOUD))
    answer = solve(log, TONER)
    assert answer.joins == (("A", ("0-01", "1-01")),)


def test_one_cable_through_every_outlet_is_found_with_a_toner() -> None:
    log = log_of(*(Tone(f"l{o}", "A", o, ToneHeard.LOUD) for o in OUTLETS[:3]))
    answer = solve(log, TONER)
    assert not answer.contradictions
    assert answer.joins == (("A", tuple(OUTLETS[:3])),)
    assert answer.end("A").may_also == (OUTLETS[3],)
    silent = solve(log.added(Tone("n", "A", OUTLETS[3], ToneHeard.NONE)), TONER)
    assert silent.end("A").may_also == ()
    every = solve(log.added(Tone("n", "A", OUTLETS[3], ToneHeard.LOUD)), TONER)
    assert every.joins == (("A", tuple(OUTLETS)),)
    assert every.unlocated_ends == ("B", "C", "D")


def test_a_long_chain_must_fit_the_pattern_too() -> None:
    log = log_of(pattern("1", "A", "0-01"), *(Tone(f"l{o}", "A", o, ToneHeard.LOUD) for o in OUTLETS[:3]))
    (found,) = solve(log, PLAN.problem).contradictions
    assert "1" in found.readings


def test_a_chain_leaves_no_outlet_to_an_end_that_needs_one_of_its_two() -> None:
    twins = problem(["a", "b", "c"], ["1", "2"], 4, [{"a": PLUG_SAME, "b": PLUG_SAME}])
    log = log_of(
        Tone("1", "1", "a", ToneHeard.LOUD),
        Tone("2", "1", "b", ToneHeard.LOUD),
        Continuity("3", "2", PLUG_SAME.ties),
        Tone("4", "2", "c", ToneHeard.FAINT),
    )
    (found,) = solve(log, twins).contradictions
    assert found.ends == ("1", "2")
    assert found.readings == ("1", "2", "3")


def test_toner_alone_shrinks_what_is_possible_and_keeps_silence() -> None:
    log = ReadingLog()
    for k, outlet in enumerate(OUTLETS[:3]):
        log = log.added(Tone(f"n{k}", "A", outlet, ToneHeard.NONE))
    silent = solve(log, TONER).end("A")
    assert [p.outlets for p in silent.possible] == [("2-01",), ()]
    faint = solve(log.added(Tone("f", "A", "2-01", ToneHeard.FAINT)), TONER).end("A")
    assert faint.reaches == ()
    loud = solve(log.added(Tone("f", "A", "2-01", ToneHeard.LOUD)), TONER).end("A")
    assert loud.reaches == ("2-01",)
    assert loud.may_also == ()


def test_elimination_is_called_inferred() -> None:
    """Two ends that both reach one of two outlets use them up: the third outlet is what is left."""
    strapped = problem(["a", "b", "c"], ["1", "2", "3"], 4, [dict.fromkeys(("a", "b", "c"), PLUG_SAME)])
    log = log_of(*(Continuity(f"c{e}", e, PLUG_SAME.ties) for e in ("1", "2", "3")))
    for end in ("1", "2"):
        log = log.added(Tone(f"t{end}", end, "c", ToneHeard.NONE))
    end = solve(log, strapped).end("3")
    assert end.standing is EndStanding.INFERRED
    assert end.reaches == ("c",)


PLUG_SAME = plan_codes(["x"], ["y"], Bag(plugs=1), 4).rounds[0][0][1]


def test_confirmed_means_any_one_reading_may_be_wrong() -> None:
    log = log_of(pattern("1", "A", "0-01"))
    assert solve(log, PLAN.problem).end("A").standing is EndStanding.READ
    log = log.added(LinkLight("2", "A", "0-01", 100))
    end = solve(log, PLAN.problem).end("A")
    assert end.standing is EndStanding.CONFIRMED
    assert "split pair" in end.notes[0]


def test_length_comes_with_its_range() -> None:
    block = PLUGS["0-01"].ties[0]
    log = log_of(pattern("1", "A", "0-01"), Resistance("2", "A", (block[0], block[1]), 5.15))
    length = solve(log, PLAN.problem).end("A").length
    assert length is not None
    assert length.low_m < 30 < length.high_m


@pytest.mark.parametrize(
    "reading",
    [
        Continuity("1", "Z", ()),
        Continuity("1", "A", ((1, 9),)),
        Continuity("1", "A", ((1, 2), (2, 3))),
        Continuity("1", "A", ((1,),)),
        Continuity("1", "A", (), round=2),
        Resistance("1", "A", (1, 1), 3.0),
        Tone("1", "A", "9-99", ToneHeard.LOUD),
        Bridge("1", "A", "Z", True),
    ],
)
def test_unknown_things_are_refused(reading: Reading) -> None:
    with pytest.raises(BadInput, match="1"):
        solve(log_of(reading), PLAN.problem)


def test_the_log_only_grows() -> None:
    log = log_of(pattern("1", "A", "0-01"))
    with pytest.raises(BadInput):
        log.added(pattern("1", "B", "0-01"))
    with pytest.raises(BadInput):
        log.added(Withdrawn("2", "7", "never read"))
    with pytest.raises(BadInput):
        log.added(Resistance("2", "A", (1, 2), -1.0))
    assert len(log.added(Withdrawn("2", "1", "wrong end")).entries) == 2


def test_part_of_the_conductors_is_enough_where_colours_are_trusted() -> None:
    mask = PLUGS["0-01"].ties
    probed = (1, 2, 3, 4)
    seen = tuple(b for b in (tuple(c for c in block if c in probed) for block in mask) if len(b) > 1)
    end = solve(log_of(Continuity("1", "A", seen, tested=probed)), PLAN.problem).end("A")
    assert any(p.outlets == ("0-01",) for p in end.possible)
