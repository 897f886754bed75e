"""What to read next, with chances and bits worked out by hand."""

from __future__ import annotations

import pytest

from rehaul.tracing import Continuity, ReadingLog, Suggestion, Tone, ToneHeard, next_best_reading, problem
from rehaul.tracing.plugs import strap_plug


def log_of(*readings: Continuity | Tone) -> ReadingLog:
    log = ReadingLog()
    for reading in readings:
        log = log.added(reading)
    return log


def loud(name: str, end: str, outlet: str) -> Tone:
    return Tone(name, end, outlet, ToneHeard.LOUD)


def where(found: tuple[Suggestion, ...]) -> list[tuple[str, str, str]]:
    return [(one.kind, one.end, one.outlet or one.other_end or str(one.round)) for one in found]


def test_a_tone_tells_nearly_a_bit_where_an_outlet_is_as_likely_as_not() -> None:
    """Of two outlets each alone has 0.42 and both 0.06: yes at 0.48, which is 0.99885 bits."""
    found = next_best_reading(ReadingLog(), problem(["a", "b"], ["1"], 4))
    assert where(found) == [("tone", "1", "a"), ("tone", "1", "b")]
    assert [one.bits for one in found] == [pytest.approx(0.99885, abs=1e-5)] * 2
    assert [one.minutes for one in found] == [5.0, 5.0] and "a" in found[0].sentence


def test_nothing_is_advised_where_nothing_may_be_tied_or_toned() -> None:
    asked = problem(["a", "b", "c"], ["1", "2"], 4, [{"a": strap_plug(0b000001, 4)}])
    every = next_best_reading(ReadingLog(), asked, at_most=99)
    assert len(every) == 2 * (1 + 3)
    held = next_best_reading(ReadingLog(), asked, ends=["2"], outlets=["a", "c"], at_most=99)
    assert set(where(held)) == {("continuity", "2", "1"), ("tone", "2", "a"), ("tone", "2", "c")}
    assert next_best_reading(ReadingLog(), asked, ends=[]) == ()
    bag = next_best_reading(ReadingLog(), asked, toner=False)
    assert set(where(bag)) == {("continuity", "1", "1"), ("continuity", "2", "1")}
    assert next_best_reading(ReadingLog(), asked, toner=False, rounds=[]) == (), "no plug is in place"
    assert len(next_best_reading(ReadingLog(), asked)) == 5, "five at most unless more are asked for"
    assert next_best_reading(ReadingLog(), asked, at_most=2) == every[:2]


def test_a_pattern_is_read_once_at_an_end_even_in_part() -> None:
    rounds = [{"a": strap_plug(0b000001, 4)}, {"b": strap_plug(0b000001, 4)}]
    asked = problem(["a", "b"], ["1", "2"], 4, rounds)
    part = Continuity("R1", "1", (), (1, 3), 1)
    found = where(next_best_reading(log_of(part), asked, toner=False))
    assert set(found) == {("continuity", "1", "2"), ("continuity", "2", "1"), ("continuity", "2", "2")}


def test_two_ends_at_one_outlet_are_first_asked_whether_they_are_joined() -> None:
    """One question with two answers is one bit, and a minute at the end."""
    asked = problem(["a", "b"], ["1", "2", "3"], 4)
    log = log_of(loud("T1", "1", "a"), loud("T2", "2", "a"))
    first, *others = next_best_reading(log, asked, at_most=99)
    assert where((first,)) == [("bridge", "1", "2")] and (first.bits, first.minutes, first.round) == (
        1.0,
        1.0,
        0,
    )
    assert others and all(one.kind == "tone" for one in others)
    assert where(next_best_reading(log, asked, ends=["1", "2"]))[0] == ("bridge", "1", "2")
    for ends in (["1", "3"], ["2", "3"]):
        kinds = {one.kind for one in next_best_reading(log, asked, ends=ends)}
        assert kinds == {"tone"}, "one of both is held"


def test_what_rests_on_one_reading_is_confirmed_where_that_may_be() -> None:
    """Both outlets are found and nothing is left to learn; a second reading of an end settles it."""
    asked = problem(["a", "b"], ["1", "2"], 4)
    sure = [loud("T1", "1", "a"), loud("T2", "2", "b"), Tone("T3", "1", "b", ToneHeard.NONE)]
    sure += [Tone("T4", "2", "a", ToneHeard.NONE)]
    found = next_best_reading(log_of(*sure), asked)
    assert where(found) == [("confirm", "1", "a"), ("confirm", "2", "b")]
    assert [(one.bits, one.minutes, one.round) for one in found] == [(0.0, 4.0, 0)] * 2
    assert where(next_best_reading(log_of(*sure), asked, ends=["2"])) == [("confirm", "2", "b")]
    assert where(next_best_reading(log_of(*sure), asked, outlets=["a"])) == [("confirm", "1", "a")]
    twice = log_of(*sure, loud("T5", "1", "a"))
    assert where(next_best_reading(twice, asked)) == [("confirm", "2", "b")]


def test_what_a_pattern_tells_of_one_pair_by_hand() -> None:
    """One pair, a strap in a and then in b. Nowhere has 0.1, a and b 0.42 each, both 0.06; faults included.

    Round 1 shows the strap with 0.48: 0.99885 bits. That hangs on faults too: of nowhere one in twenty (a
    short), of a 0.01 in 0.42 (two opens), of b 0.005 in 0.42 (a short): 0.02864, 0.06818 and 0.03913 bits
    tell of these alone. Once it was seen, a has 0.41 / 0.48, both 0.06 / 0.48, nowhere and b 0.005 / 0.48
    each; round 2 shows it with 0.15625: 0.62526 bits, of which 0.08116 tell of a short at a.
    """
    asked = problem(["a", "b"], ["1"], 2, [{"a": strap_plug(1, 2)}, {"b": strap_plug(1, 2)}])
    found = next_best_reading(ReadingLog(), asked, toner=False)
    assert where(found) == [("continuity", "1", "1"), ("continuity", "1", "2")]
    assert [one.bits for one in found] == [pytest.approx(0.99885 - 0.13595, abs=2e-5)] * 2
    assert [one.minutes for one in found] == [1.0, 1.0]
    seen = log_of(Continuity("R1", "1", ((1, 2),)))
    (second,) = next_best_reading(seen, asked, toner=False)
    assert (second.round, second.bits) == (2, pytest.approx(0.62526 - 0.08116, abs=2e-5))
