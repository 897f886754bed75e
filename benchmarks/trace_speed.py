"""Tracing: time of an answer after each reading, and what two faults at once do to a code.

Run: python benchmarks/trace_speed.py
Times are of the processor, and compared with a plain loop over the same explanations in the same run.
"""

from __future__ import annotations

import statistics
import time
from collections import Counter
from collections.abc import Callable

import numpy as np

from rehaul.tracing import (
    Bag,
    Continuity,
    ReadingLog,
    Resistance,
    Trust,
    Whereabouts,
    chain_safe_values,
    correcting_codes,
    detecting_codes,
    next_best_reading,
    plan_codes,
    plan_walks,
    problem,
    resistor_plug,
    single_faults,
    solve,
    strap_plug,
)
from rehaul.tracing.codebook import Word
from rehaul.tracing.hypotheses import table
from rehaul.tracing.partitions import blocks_of, conductor_pairs
from rehaul.tracing.plugs import edges_of, pair_resistances_ohm, through

CABLES = 24


def timed(work: Callable[[], object]) -> float:
    """Milliseconds of processor time that one call takes."""
    start = time.process_time()
    work()
    return 1000 * (time.process_time() - start)


def plain_answer(log: ReadingLog, plan_problem, rows) -> dict[str, set[tuple[str, ...]]]:
    """Sets of outlets left to each end: a loop over all explanations, no sharing out and no blame."""
    left = {}
    for end in plan_problem.ends:
        shown = [reading for reading in log.entries if reading.end == end]
        left[end] = {
            row.outlets
            for k, row in enumerate(rows.rows)
            if all(blocks_of(int(rows.masks[0, k]), 8) == reading.tied for reading in shown)
        }
    return left


def answers() -> None:
    """24 cables read one after the other, each followed by an answer and the next suggestion."""
    outlets, ends = [f"o{k:02d}" for k in range(CABLES)], [f"e{k:02d}" for k in range(CABLES)]
    planning = timed(lambda: plan_codes(outlets, ends, Bag(plugs=CABLES), 8, gauge_awg=24))
    plan = plan_codes(outlets, ends, Bag(plugs=CABLES), 8, gauge_awg=24)
    plugs = dict(plan.rounds[0])
    first = timed(lambda: table(plan.problem))
    rng = np.random.default_rng(1)
    log = ReadingLog()
    after, advice, waits = [], [], []
    for k, index in enumerate(rng.permutation(CABLES).tolist()):
        log = log.added(Continuity(f"r{k}", ends[k], plugs[outlets[index]].ties))
        start = time.perf_counter()
        after.append(timed(lambda log=log: solve(log, plan.problem)))
        waits.append(1000 * (time.perf_counter() - start))
        advice.append(timed(lambda log=log: next_best_reading(log, plan.problem)))
    plain = timed(lambda: plain_answer(log, plan.problem, table(plan.problem)))
    print(f"plan for {CABLES} outlets, code search included: {planning:.0f} ms, once")
    print(f"explanations of an end: {len(table(plan.problem).rows)}, tabulated in {first:.0f} ms, once")
    print(f"answer after a reading: median {statistics.median(after):.1f} ms, worst {max(after):.1f} ms")
    print(f"  by the clock:         median {statistics.median(waits):.1f} ms, worst {max(waits):.1f} ms")
    print(f"next best reading:      median {statistics.median(advice):.1f} ms, worst {max(advice):.1f} ms")
    print(
        f"plain loop, matches only: {plain:.1f} ms = {plain / statistics.median(after):.1f} times an answer"
    )


def walks() -> None:
    """Shortest walk over three storeys."""
    rng = np.random.default_rng(2)
    places = [
        Whereabouts(f"o{k}", int(rng.integers(0, 3)), *rng.uniform(0, 14, size=2).tolist())
        for k in range(CABLES)
    ]
    closet = Whereabouts("closet", 0, 0.0, 0.0)
    for people in (1, 2):
        spent = timed(lambda people=people: plan_walks(places, closet, at_once=CABLES, people=people))
        plan = plan_walks(places, closet, at_once=CABLES, people=people)
        proven = "proven shortest" if plan.proven else "not proven"
        print(f"{CABLES} outlets, {people} people: {plan.length_m:.0f} m, {proven}, {spent:.0f} ms")


def two_faults(name: str, words: tuple[Word, ...], conductors: int, trust: Trust) -> None:
    """Every outlet with every two faults in turn: right, not decided, rejected, wrong."""
    outlets = [f"o{k}" for k in range(len(words))]
    rounds = [
        {o: strap_plug(word[number], conductors) for o, word in zip(outlets, words, strict=True)}
        for number in range(len(words[0]))
    ]
    question = problem(outlets, ["end"], conductors, rounds, trust=trust)
    known: dict[Word, tuple[tuple[str, ...], bool]] = {}
    seen: Counter[str] = Counter()
    for outlet, word in zip(outlets, words, strict=True):
        for first in single_faults(conductors):
            once = tuple(first.seen(mask, conductors) for mask in word)
            for second in single_faults(conductors):
                if second == first:
                    continue
                shown = tuple(second.seen(mask, conductors) for mask in once)
                if shown not in known:
                    log = ReadingLog(
                        tuple(
                            Continuity(f"r{k}", "end", blocks_of(mask, conductors), round=k)
                            for k, mask in enumerate(shown, start=1)
                        )
                    )
                    answer = solve(log, question)
                    known[shown] = (answer.end("end").reaches, bool(answer.contradictions))
                reaches, rejected = known[shown]
                if rejected:
                    seen["rejected"] += 1
                elif not reaches:
                    seen["not decided"] += 1
                else:
                    seen["right" if reaches == (outlet,) else "wrong"] += 1
    print(f"two faults, {name}, {len(words)} words, {sum(seen.values())} cases: {shares(seen)}")


def two_faults_on_resistors() -> None:
    """A quad with six chain-safe values, all six pairs of conductors measured, every two faults in turn."""
    values = chain_safe_values((5100.0, 6200.0, 12000.0, 15000.0, 47000.0, 100000.0))
    plugs = {f"o{k}": resistor_plug(ohm, 2) for k, ohm in enumerate(values)}
    question = problem(list(plugs), ["end"], 4, [plugs])
    seen: Counter[str] = Counter()
    for outlet, plug in plugs.items():
        for first in single_faults(4):
            for second in single_faults(4):
                if first == second:
                    continue
                edges = through(through(edges_of([plug], None), first), second)
                shown = pair_resistances_ohm([edges], 4)[0]
                log = ReadingLog(
                    tuple(
                        Resistance(f"r{k}", "end", pair, float(ohm))
                        for k, (pair, ohm) in enumerate(zip(conductor_pairs(4), shown, strict=True))
                    )
                )
                answer = solve(log, question)
                reaches = answer.end("end").reaches
                if answer.contradictions:
                    seen["rejected"] += 1
                elif not reaches:
                    seen["not decided"] += 1
                else:
                    seen["right" if reaches == (outlet,) else "wrong"] += 1
    print(f"two faults, quad, six resistors, {sum(seen.values())} cases: {shares(seen)}")


def shares(seen: Counter[str]) -> str:
    """Kinds of outcome in per cent."""
    total = sum(seen.values())
    kinds = ("right", "not decided", "rejected", "wrong")
    return ", ".join(f"{kind} {100 * seen[kind] / total:.1f} %" for kind in kinds)


if __name__ == "__main__":
    answers()
    walks()
    two_faults("8 conductors, correcting", correcting_codes(8, Trust.COLOURS), 8, Trust.COLOURS)
    two_faults("8 conductors, correcting", correcting_codes(8, Trust.COLOURS)[:8], 8, Trust.COLOURS)
    two_faults("8 conductors, detecting", detecting_codes(8, Trust.COLOURS)[:24], 8, Trust.COLOURS)
    two_faults("6 conductors, detecting", detecting_codes(6, Trust.COLOURS), 6, Trust.COLOURS)
    two_faults("quad, detecting, two rounds", detecting_codes(4, Trust.COLOURS, 2), 4, Trust.COLOURS)
    two_faults_on_resistors()
