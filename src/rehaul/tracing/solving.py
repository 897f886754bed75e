"""From the readings to which end is which outlet, with what is wrong and what contradicts what."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Bools
from rehaul.errors import BadInput
from rehaul.facts.trace_numbers import trace_number
from rehaul.tracing.asked import TracingQuestion
from rehaul.tracing.belief import Belief, believe, certain_outlets
from rehaul.tracing.faults import Fault
from rehaul.tracing.hypotheses import table
from rehaul.tracing.length import LengthEstimate, length_from_loop
from rehaul.tracing.partitions import conductor_pairs
from rehaul.tracing.readings import LinkLight, Reading, ReadingLog, Resistance
from rehaul.words import Saying, say


class EndStanding(StrEnum):
    """How sure an end is."""

    CONFIRMED = "confirmed"  # would stand if any one of its readings were wrong
    READ = "read"  # follows from its own readings, if at most one thing is wrong on the cable
    INFERRED = "inferred"  # follows only because other ends took the other outlets
    SEVERAL = "several possible"
    UNREAD = "not read yet"
    CONFLICT = "readings contradict each other"


@dataclass(frozen=True)
class Contradiction:
    """Readings that cannot all be true, and what to do; none of the ends is decided meanwhile."""

    ends: tuple[str, ...]
    readings: tuple[str, ...]
    sentence: Saying


@dataclass(frozen=True)
class Possibility:
    """One set of outlets an end may reach, and its chance."""

    outlets: tuple[str, ...]
    chance: float


@dataclass(frozen=True)
class EndAnswer:
    """What is known of one end."""

    end: str
    standing: EndStanding
    reaches: tuple[str, ...]  # certain; several are a chain or a join
    may_also: tuple[str, ...]  # not excluded besides
    possible: tuple[Possibility, ...]  # likeliest first
    faults: tuple[Fault, ...]  # one of these is present; empty where none need be
    notes: tuple[str, ...]
    loop_ohm: float | None
    length: LengthEstimate | None


@dataclass(frozen=True)
class Answer:
    """Everything the log says so far."""

    ends: tuple[EndAnswer, ...]
    contradictions: tuple[Contradiction, ...]
    unlocated_ends: tuple[str, ...]
    unlocated_outlets: tuple[str, ...]
    joins: tuple[tuple[str, tuple[str, ...]], ...]  # end, outlets on its cable
    bits_left: float  # what is still to be learnt

    def end(self, end: str) -> EndAnswer:
        """The answer for one end, by its id. Raises BadInput where the problem has no such end.

        An end that nobody read has one too: nothing certain, everything possible.
        """
        for found in self.ends:
            if found.end == end:
                return found
        raise BadInput(
            say("refused_tracing.no_end", end=end), where="answer", remedy=say("refused_tracing.name_end")
        )


def solve(log: ReadingLog, problem: TracingQuestion) -> Answer:
    """What the readings say, with nothing averaged away.

    Parameters
    ----------
    log : the readings so far, in any order
    problem : ends, outlets and plugs

    Returns
    -------
    per end the outlets it reaches for certain and those still possible; faults; contradictions by name

    Raises: BadInput for a reading that names an end, outlet, conductor or round that does not exist.

    **Validity**: certain means certain if at most one thing is wrong on each cable: one open, short or
    cross, or more than one outlet. Two faults at once can mislead; a confirming reading is for that.
    **Source**: exact elimination over all single-fault explanations; all-different over the outlets.
    """
    belief = believe(log, problem)
    chances = group_chances(belief)
    answers = tuple(_answer(belief, end, chances[index]) for index, end in enumerate(problem.ends))
    reached = {outlet for answer in answers for outlet in answer.reaches}
    return Answer(
        ends=answers,
        contradictions=tuple(_contradiction(belief, ends, readings) for ends, readings in belief.conflicts),
        unlocated_ends=tuple(answer.end for answer in answers if not answer.reaches),
        unlocated_outlets=tuple(outlet for outlet in problem.outlets if outlet not in reached),
        joins=tuple((answer.end, answer.reaches) for answer in answers if len(answer.reaches) > 1),
        bits_left=float(sum(entropy_bits(row) for row in chances)),
    )


def group_chances(belief: Belief) -> NDArray[np.float64]:
    """Chance of each set of outlets for each end: (end, group).

    Exact for one end on its own; that an outlet has one cable enters by scaling columns in turn
    (Sinkhorn), which is an approximation and decides nothing that is called certain. **Source**: scaling in
    turn (Sinkhorn 1967), from memory; docs/trace.md, "Readings".
    """
    problem = belief.problem
    rows = table(problem)
    group_count = len(rows.groups)
    weights = np.zeros((len(problem.ends), group_count))
    for index, end in enumerate(problem.ends):
        alive = belief.alive[end]
        mass = np.bincount(rows.group_of_row[alive], rows.chances[alive], minlength=group_count)
        mass = np.where(belief.domains[end], mass, 0.0)
        weights[index] = mass / mass.sum() if mass.sum() else 0.0
    member = rows.member.astype(float)
    apart = [index for index, end in enumerate(problem.ends) if not belief.shares_outlets(end)]
    for _ in range(12):
        load = weights[apart] @ member
        scale = 1.0 / np.maximum(load.sum(axis=0), 1.0)
        factor = np.prod(np.where(member > 0, scale, 1.0), axis=1)
        weights[apart] *= factor
        total = weights[apart].sum(axis=1, keepdims=True)
        weights[apart] = np.divide(weights[apart], total, out=np.zeros_like(weights[apart]), where=total > 0)
    return weights


def entropy_bits(chances: NDArray[np.float64]) -> float:
    """Shannon entropy of a row of chances that sum to 1 [bit]; 0 where one is certain.

    **Source**: -sum p log2 p, C. E. Shannon, A Mathematical Theory of Communication (1948).

    >>> entropy_bits(np.array([0.5, 0.25, 0.25, 0.0]))
    1.5
    """
    positive = chances[chances > 0]
    return float(-(positive * np.log2(positive)).sum()) + 0.0


def _answer(belief: Belief, end: str, chances: NDArray[np.float64]) -> EndAnswer:
    rows = table(belief.problem)
    domain = belief.domains[end]
    readings = belief.readings[end]
    reaches: tuple[str, ...] = ()
    may_also: tuple[str, ...] = ()
    if end in belief.in_conflict:
        standing = EndStanding.CONFLICT
    else:
        certain = certain_outlets(domain, rows.member)
        reaches = _named(belief.problem, certain)
        if reaches:
            may_also = _named(belief.problem, rows.member[domain].any(axis=0) & ~certain)
        standing = _standing(belief, end, certain, readings)
    order = sorted(np.flatnonzero(chances > 0).tolist(), key=lambda g: (-chances[g], rows.groups[g]))
    possible = tuple(Possibility(rows.groups[g], float(chances[g])) for g in order)
    loop_ohm = _loop_ohm(belief, end, readings) if reaches else None
    gauge = belief.problem.gauge_awg
    return EndAnswer(
        end=end,
        standing=standing,
        reaches=reaches,
        may_also=may_also,
        possible=possible,
        faults=_faults(belief, end) if reaches else (),
        notes=_notes(readings),
        loop_ohm=loop_ohm,
        length=length_from_loop(loop_ohm, gauge) if loop_ohm is not None and gauge else None,
    )


def _named(problem: TracingQuestion, outlets: Bools) -> tuple[str, ...]:
    return tuple(outlet for outlet, there in zip(problem.outlets, outlets.tolist(), strict=True) if there)


def _standing(belief: Belief, end: str, certain: Bools, readings: Sequence[Reading]) -> EndStanding:
    if not certain.any():
        return EndStanding.SEVERAL if readings else EndStanding.UNREAD
    member = table(belief.problem).member

    def holds(domain: Bools) -> bool:
        return bool(certain_outlets(domain, member)[certain].all())

    if not holds(belief.own_domain(end)):
        return EndStanding.INFERRED
    if all(holds(belief.own_domain(end, without=reading.id)) for reading in readings):
        return EndStanding.CONFIRMED
    return EndStanding.READ


def _faults(belief: Belief, end: str) -> tuple[Fault, ...]:
    rows = table(belief.problem)
    left = belief.alive[end] & belief.domains[end][rows.group_of_row]
    kept = [rows.rows[k].fault for k in np.flatnonzero(left).tolist()]
    if None in kept:
        return ()
    return tuple(sorted({fault for fault in kept if fault is not None}))


def _loop_ohm(belief: Belief, end: str, readings: Sequence[Reading]) -> float | None:
    """Median of the loops read through a strap, cable there and back."""
    rows = table(belief.problem)
    alive = belief.alive[end]
    loops = []
    for reading in readings:
        if isinstance(reading, Resistance) and math.isfinite(reading.ohm):
            a, b = sorted(reading.conductors)
            column = conductor_pairs(belief.problem.conductors).index((a, b))
            shown = rows.resistances_ohm[reading.round - 1][alive, column]
            if (shown < 1.0).all() and reading.ohm <= trace_number("loop limit"):
                loops.append(reading.ohm)
    return float(np.median(loops)) if loops else None


def _notes(readings: Sequence[Reading]) -> tuple[str, ...]:
    notes = []
    for reading in readings:
        if isinstance(reading, LinkLight) and 0 < reading.rate_mbps < 1000:
            notes.append(say("tracing.link_slow", rate_mbps=reading.rate_mbps, reading=reading.id))
        if isinstance(reading, LinkLight) and reading.rate_mbps == 0:
            notes.append(say("tracing.link_proves_nothing", reading=reading.id))
    return tuple(notes)


def _contradiction(belief: Belief, ends: tuple[str, ...], readings: tuple[str, ...]) -> Contradiction:
    if len(ends) == 1 and len(readings) == 1:
        sentence = say("tracing.fits_no_outlet", end=ends[0], reading=readings[0])
    elif len(ends) == 1:
        sentence = say("tracing.not_all_true", end=ends[0], readings=readings)
    else:
        sentence = say("tracing.more_ends_than_outlets", ends=ends, readings=readings)
    return Contradiction(ends, readings, sentence)
