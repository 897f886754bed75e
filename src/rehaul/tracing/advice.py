"""Which reading to take next: the one expected to teach most."""

from __future__ import annotations

import itertools
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from rehaul.facts.trace_numbers import trace_number
from rehaul.tracing.asked import TracingQuestion
from rehaul.tracing.belief import Belief, believe
from rehaul.tracing.hypotheses import table
from rehaul.tracing.readings import Continuity, ReadingLog
from rehaul.tracing.solving import EndStanding, entropy_bits, group_chances, solve
from rehaul.words import Saying, say


@dataclass(frozen=True)
class Suggestion:
    """One reading worth taking, what it is expected to teach and what it takes."""

    kind: Literal["continuity", "tone", "bridge", "confirm"]
    end: str
    outlet: str  # empty for continuity
    other_end: str  # of a bridge
    round: int  # of continuity, else 0
    bits: float
    minutes: float
    sentence: Saying


def next_best_reading(
    log: ReadingLog,
    problem: TracingQuestion,
    *,
    rounds: Sequence[int] | None = None,
    toner: bool = True,
    ends: Collection[str] | None = None,
    outlets: Collection[str] | None = None,
    at_most: int = 5,
) -> tuple[Suggestion, ...]:
    """Readings worth taking next, best first.

    Parameters
    ----------
    log, problem : what is known
    rounds : rounds whose plugs are in place now; all if left out
    toner : whether a toner is in the bag
    ends, outlets : where anything may be tied, toned or read at all; everywhere if left out
    at_most : how many suggestions to give

    Returns
    -------
    contradictions between ends come first, then readings by expected bits about which outlets the end
    reaches; where nothing is left to learn, ends that rest on a single reading, to be confirmed

    **Source**: mutual information of the reading's outcome with what the end reaches.
    """
    belief = believe(log, problem)
    chances = group_chances(belief)
    open_rounds = range(1, len(problem.rounds) + 1) if rounds is None else rounds
    free_ends = set(problem.ends if ends is None else ends)
    free_outlets = set(problem.outlets if outlets is None else outlets)
    suggestions = [s for s in _bridges(belief) if {s.end, s.other_end} <= free_ends]
    seen = {
        (reading.end, reading.round)
        for end in problem.ends
        for reading in belief.readings[end]
        if isinstance(reading, Continuity)
    }
    for index, end in enumerate(problem.ends):
        if end not in free_ends:
            continue
        for number in open_rounds:
            if (end, number) not in seen:
                bits = _continuity_bits(belief, end, chances[index], number)
                suggestions.append(_continuity(end, number, bits))
        if toner:
            tones = _tones(belief, end, chances[index])
            suggestions += [s for s in tones if s.outlet in free_outlets]
    useful = [s for s in suggestions if s.kind == "bridge" or s.bits > 1e-6]
    useful.sort(key=lambda s: (s.kind != "bridge", -round(s.bits, 9), s.minutes))
    if not useful:
        useful = [s for s in _confirmations(log, problem) if s.end in free_ends and s.outlet in free_outlets]
    return tuple(useful[:at_most])


def _continuity_bits(belief: Belief, end: str, chances: NDArray[np.float64], number: int) -> float:
    """Bits that one full pattern is expected to tell about the set of outlets of this end."""
    rows = table(belief.problem)
    alive = belief.alive[end]
    weights = np.where(alive, rows.chances, 0.0)
    mass = np.bincount(rows.group_of_row, weights, minlength=len(rows.groups))
    scale = np.divide(chances, mass, out=np.zeros_like(mass), where=mass > 0)
    weights = weights * scale[rows.group_of_row]
    outcomes, outcome = np.unique(rows.masks[number - 1], return_inverse=True)
    joint = np.zeros((len(outcomes), len(rows.groups)))
    np.add.at(joint, (outcome, rows.group_of_row), weights)
    return entropy_bits(chances) + entropy_bits(joint.sum(axis=1)) - entropy_bits(joint.ravel())


def _continuity(end: str, number: int, bits: float) -> Suggestion:
    sentence = say("tracing.read_pattern", end=end, number=number, bits=bits)
    return Suggestion("continuity", end, "", "", number, bits, trace_number("minutes at an end"), sentence)


def _tones(belief: Belief, end: str, chances: NDArray[np.float64]) -> list[Suggestion]:
    rows = table(belief.problem)
    minutes = trace_number("minutes with toner")
    suggestions = []
    for outlet, yes in zip(belief.problem.outlets, chances @ rows.member, strict=True):
        bits = entropy_bits(np.array([yes, max(0.0, 1.0 - yes)]))
        sentence = say("tracing.tone_at", outlet=outlet, end=end, bits=bits)
        suggestions.append(Suggestion("tone", end, outlet, "", 0, bits, minutes, sentence))
    return suggestions


def _bridges(belief: Belief) -> list[Suggestion]:
    suggestions = []
    for ends, _ in belief.conflicts:
        for first, second in itertools.pairwise(ends):
            sentence = say("tracing.are_they_joined", first=first, second=second)
            minutes = trace_number("minutes at an end")
            suggestions.append(Suggestion("bridge", first, "", second, 0, 1.0, minutes, sentence))
    return suggestions


def _confirmations(log: ReadingLog, problem: TracingQuestion) -> list[Suggestion]:
    minutes = trace_number("minutes per link")
    return [
        Suggestion(
            "confirm",
            answer.end,
            answer.reaches[0],
            "",
            0,
            0.0,
            minutes,
            say("tracing.rests_on_one", end=answer.end, outlet=answer.reaches[0]),
        )
        for answer in solve(log, problem).ends
        if answer.reaches and answer.standing is not EndStanding.CONFIRMED
    ]
