"""One fault never gives a wrong answer: every single open, short, cross and join, for every code book."""

from __future__ import annotations

from collections import Counter
from itertools import combinations, product

import pytest

from rehaul.errors import BadInput
from rehaul.tracing import (
    Bag,
    Continuity,
    Guarantee,
    Method,
    ReadingLog,
    Resistance,
    Tone,
    ToneHeard,
    Trust,
    correcting_codes,
    detecting_codes,
    plan_codes,
    problem,
    single_faults,
    solve,
    strap_plug,
)
from rehaul.tracing.asked import TracingQuestion
from rehaul.tracing.codebook import Word, images
from rehaul.tracing.partitions import blocks_of, conductor_pairs, joined
from rehaul.tracing.plugs import edges_of, pair_resistances_ohm
from rehaul.tracing.trust import orbit

BOOKS = [
    (4, Trust.COLOURS, 1),
    (4, Trust.COLOURS, 2),
    (4, Trust.PAIR_COLOURS, 2),
    (4, Trust.TWIST, 1),
    (4, Trust.TWIST, 2),
    (4, Trust.NONE, 2),
    (6, Trust.COLOURS, 1),
    (6, Trust.A_OR_B, 1),
    (6, Trust.TWIST, 1),
    (6, Trust.NONE, 1),
    (8, Trust.COLOURS, 1),
    (8, Trust.A_OR_B, 1),
    (8, Trust.PAIR_COLOURS, 1),
    (8, Trust.TWIST, 1),
    (8, Trust.NONE, 1),
]
OUTLETS = 8  # of each book here; the full 24 of a plan are in the slow test below


def plugged(words: tuple[Word, ...], conductors: int, trust: Trust) -> TracingQuestion:
    outlets = [f"o{k}" for k in range(len(words))]
    rounds = [
        {o: strap_plug(word[number], conductors) for o, word in zip(outlets, words, strict=True)}
        for number in range(len(words[0]))
    ]
    return problem(outlets, ["end"], conductors, rounds, trust=trust)


def outcome(question: TracingQuestion, shown: Word, truth: set[str]) -> str:
    log = ReadingLog(
        tuple(
            Continuity(f"r{k}", "end", blocks_of(mask, question.conductors), round=k)
            for k, mask in enumerate(shown, start=1)
        )
    )
    answer = solve(log, question)
    end = answer.end("end")
    if not set(end.reaches) <= truth:
        return "wrong"
    if not answer.contradictions and all(set(p.outlets) != truth for p in end.possible):
        return "wrong"  # the truth was struck out
    return "right" if end.reaches and set(end.reaches) == truth else "not decided"


def every_single_thing(words: tuple[Word, ...], conductors: int, trust: Trust):
    """(kind, what is shown, the outlets truly reached) for all that can be out of the ordinary, once."""
    question = plugged(words, conductors, trust)
    empty = (0,) * len(words[0])
    for outlet, word in (("", empty), *zip(question.outlets, words, strict=True)):
        truth = {outlet} - {""}
        yield "clean", word, truth
        for fault in single_faults(conductors):
            yield fault.kind.value, tuple(fault.seen(mask, conductors) for mask in word), truth
    for (a, first), (b, second) in combinations(list(zip(question.outlets, words, strict=True)), 2):
        turned = [orbit(mask, conductors, trust) for mask in second]
        for other in list(product(*turned))[:: max(1, len(turned[0]) // 3)]:
            shown = tuple(joined(x, y, conductors) for x, y in zip(first, other, strict=True))
            yield "join", shown, {a, b}


@pytest.mark.parametrize(("conductors", "trust", "rounds"), BOOKS)
@pytest.mark.parametrize("book", [detecting_codes, correcting_codes])
def test_one_thing_wrong_never_names_another_outlet(book, conductors, trust, rounds) -> None:
    words = book(conductors, trust, rounds)[:OUTLETS]
    question = plugged(words, conductors, trust)
    seen: Counter[tuple[str, str]] = Counter()
    for kind, shown, truth in every_single_thing(words, conductors, trust):
        result = outcome(question, shown, truth)
        assert result != "wrong", (kind, shown, truth)
        seen[kind, result] += 1
        if kind == "clean" and truth:
            assert result == "right"
        if book is correcting_codes and kind != "join" and truth:
            assert result == "right", (kind, shown, truth)
    assert seen["clean", "right"] == len(words)


@pytest.mark.parametrize("rounds", [1, 2])
def test_a_book_that_breaks_the_rule_is_caught(rounds: int) -> None:
    """The check above has teeth: patterns one cross apart, read at face value, do mislead."""
    near, far = (0b000001,) * rounds, (0b000010,) * rounds  # 1-2 tied, 1-3 tied
    assert far in images(near, 4, Trust.COLOURS)
    question = plugged((near, far), 4, Trust.COLOURS)
    assert outcome(question, far, {"o1"}) == "not decided"  # the solver does not guess


@pytest.mark.slow
def test_a_plan_for_24_outlets_names_each_through_every_single_fault() -> None:
    outlets = [f"1-{k:02d}" for k in range(24)]
    plan = plan_codes(outlets, ["end"], Bag(plugs=24), 8)
    assert plan.guarantee is Guarantee.CORRECTS
    assert len(plan.rounds) == 1
    words = tuple((dict(plan.rounds[0])[outlet].mask(8),) for outlet in outlets)
    wrong = [
        (kind, shown, truth)
        for kind, shown, truth in every_single_thing(words, 8, Trust.COLOURS)
        if (result := outcome(plugged(words, 8, Trust.COLOURS), shown, truth)) == "wrong"
        or (kind != "join" and truth and result != "right")
    ]
    assert not wrong


def test_words_of_a_book_are_apart_by_every_single_fault() -> None:
    """The same promise, straight from the masks and without the solver."""
    for conductors, trust, rounds in BOOKS:
        words = detecting_codes(conductors, trust, rounds)
        for word in words[:40]:
            clash = images(word, conductors, trust) & set(words) - {word}
            assert not clash
            assert word not in images((0,) * rounds, conductors, trust)
        pictures: Counter[Word] = Counter()
        for word in (*correcting_codes(conductors, trust, rounds), (0,) * rounds):
            pictures.update(images(word, conductors, trust))
        assert max(pictures.values()) == 1


KIT = tuple((ohm, 8) for ohm in (12000.0, 20000.0, 36000.0, 51000.0, 68000.0, 100000.0, 270000.0))


@pytest.mark.parametrize("trust", list(Trust))
@pytest.mark.parametrize("conductors", [2, 4, 6, 8])
@pytest.mark.parametrize("bag", [Bag(plugs=9), Bag(plugs=3), Bag(plugs=9, resistors=KIT), Bag(toner=True)])
def test_every_plan_names_every_outlet_when_nothing_is_wrong(conductors: int, trust: Trust, bag: Bag) -> None:
    if trust is Trust.A_OR_B and conductors < 6:
        return
    outlets = [f"o{k}" for k in range(7)]
    if conductors == 2 and not bag.resistors and not bag.toner:
        with pytest.raises(BadInput):  # one pair has no two words that one fault cannot mix up
            plan_codes(outlets, ["end"], bag, conductors, trust)
        return
    plan = plan_codes(outlets, ["end"], bag, conductors, trust)
    for outlet in outlets:
        log = ReadingLog()
        for number in range(1, len(plan.rounds) + 1):
            plugs = [p] if (p := plan.problem.plug(outlet, number)) else []
            if plan.method is Method.STRAPS:
                ties = plugs[0].ties if plugs else ()
                log = log.added(Continuity(f"c{number}", "end", ties, round=number))
            elif plan.method is Method.RESISTORS:
                shown = pair_resistances_ohm([edges_of(plugs, None)], conductors)[0]
                for pair, ohm in zip(conductor_pairs(conductors), shown, strict=True):
                    log = log.added(
                        Resistance(f"{number}{pair}", "end", pair, float(ohm) + 5.0, round=number)
                    )
        if plan.method is Method.TONER:
            log = log.added(Tone("t", "end", outlet, ToneHeard.LOUD))
            for other in outlets:
                if other != outlet:
                    log = log.added(Tone(f"t{other}", "end", other, ToneHeard.NONE))
        end = solve(log, plan.problem).end("end")
        assert end.reaches == (outlet,)
        assert not end.faults
        if plan.chains_seen:
            unplugged_together = len({len(placed) for placed in plan.rounds} | {7}) > 1
            assert unplugged_together or not end.may_also
