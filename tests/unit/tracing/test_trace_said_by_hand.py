"""What is said beside the answer: of link lights, of a toner alone, of a contradiction; by hand."""

from __future__ import annotations

import pytest

from rehaul.tracing import (
    Bag,
    LinkLight,
    Method,
    ReadingLog,
    Resistance,
    Tone,
    ToneHeard,
    plan_codes,
    problem,
    solve,
)
from rehaul.tracing.codebook import Guarantee
from rehaul.tracing.plugs import strap_plug
from rehaul.tracing.solving import EndAnswer


def answer(*readings: object, **more: object) -> EndAnswer:
    log = ReadingLog()
    for reading in readings:
        log = log.added(reading)  # type: ignore[arg-type]
    rounds = [{"a": strap_plug(0b000001, 4)}]  # ties the first pair, and nothing in the others
    return solve(log, problem(["a", "b"], ["1", "2"], 4, rounds, **more)).end("1")  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("rate_mbps", "words", "reaches"),
    [
        (0, ("no link proves nothing",), ()),
        (1, ("link at 1",), ("a",)),
        (10, ("link at 10",), ("a",)),
        (100, ("link at 100",), ("a",)),
        (1000, (), ("a",)),
        (2500, (), ("a",)),
    ],
)
def test_a_link_below_a_gigabit_is_slow_and_none_proves_nothing(
    rate_mbps: int, words: tuple[str, ...], reaches: tuple[str, ...]
) -> None:
    found = answer(LinkLight("L7", "1", "a", rate_mbps))
    assert found.reaches == reaches and len(found.notes) == len(words)
    for note, start in zip(found.notes, words, strict=True):
        assert note.startswith(start) and "L7" in note


def test_the_loop_is_the_middle_of_what_the_strap_showed() -> None:
    """4, 5 and 7 ohm through the strap on 1 and 2: 5 is the middle."""
    heard = Tone("T1", "1", "a", ToneHeard.LOUD)
    loops = [Resistance(f"R{n}", "1", (1, 2), ohm) for n, ohm in enumerate((4.0, 7.0, 5.0))]
    assert answer(heard, *loops).loop_ohm == 5.0
    assert answer(heard, *loops).length is None, "without a gauge it is no length"
    assert answer(heard, *loops, gauge_awg=24).length is not None
    assert answer(heard).loop_ohm is None and answer(heard, gauge_awg=24).length is None


def test_with_a_toner_alone_nothing_is_guaranteed_and_every_chain_is_heard() -> None:
    found = plan_codes(["a", "b"], ["1"], Bag(toner=True), 8, gauge_awg=24)
    assert (found.method, found.guarantee, found.chains_seen) == (Method.TONER, Guarantee.NONE, True)
    assert found.rounds == () and found.plugs == () and found.problem.gauge_awg == 24
    assert found.sentence.startswith("Toner on one outlet at a time")


def test_a_plan_of_codes_is_shown_without_the_whole_question() -> None:
    """What a failed test or a log prints of it stays one line: the question holds every outlet and plug."""
    shown = repr(plan_codes(["a", "b"], ["1"], Bag(toner=True), 8))
    assert shown.startswith("CodePlan(method=") and "sentence=" in shown
    assert "problem=" not in shown and "outlets" not in shown
