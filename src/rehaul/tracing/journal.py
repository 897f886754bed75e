"""Tracing as the job document keeps it: plugs and readings, to who is who and what to read next."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from rehaul.errors import BadInput
from rehaul.house import Job, PlacedPlug, Ties, TraceReading
from rehaul.tracing.advice import Suggestion, next_best_reading
from rehaul.tracing.asked import TracingQuestion, problem
from rehaul.tracing.job_tracing import ends_at
from rehaul.tracing.plugs import Plug
from rehaul.tracing.readings import (
    Bridge,
    Continuity,
    Entry,
    LinkLight,
    ReadingLog,
    Resistance,
    Tone,
    ToneHeard,
    Withdrawn,
)
from rehaul.tracing.solving import Answer, solve
from rehaul.tracing.trust import Trust
from rehaul.words import say

MOST_CONDUCTORS = 8


@dataclass(frozen=True)
class Traced:
    """What the readings of a job say so far, and the readings that would say most next."""

    question: TracingQuestion
    answer: Answer
    next_readings: tuple[Suggestion, ...]  # best first


def traced(job: Job, meeting_point: str, *, trust: Trust = Trust.COLOURS) -> Traced:
    """Who is who at a meeting point, and the next readings there where nothing forbids one.

    Raises BadInput where no cable ends there.
    """
    question = question_of(job, meeting_point, trust=trust)
    log = log_of(job.trace_readings)
    ties = Ties(job)
    free = [end for end in question.ends if not ties.reasons(end)]
    suggestions: tuple[Suggestion, ...] = ()
    if free and not ties.missing(meeting_point):
        plates = [o.id for o in job.house.outlets if o.position is not None and not ties.reasons(o.id)]
        suggestions = next_best_reading(log, question, ends=free, outlets=plates)
    return Traced(question, solve(log, question), suggestions)


def question_of(job: Job, meeting_point: str, *, trust: Trust = Trust.COLOURS) -> TracingQuestion:
    """The tracing question of a job: its outlets, the cables that end here, and the plugs as they stood.

    Counted on are as many pairs as the smallest cable has (two where nobody wrote it), at most four; the
    gauge only where all have one. Raises BadInput where no cable with pairs ends here. **Source**:
    docs/trace.md, "Straps".
    """
    runs = ends_at(job.house, meeting_point)
    if not runs:
        raise BadInput(
            say("refused_tracing.no_cable_ends"),
            where=say("refused_common.where_meeting_point", name=meeting_point),
            remedy=say("refused_tracing.enter_cables"),
        )
    gauges = {run.gauge_awg for run in runs}
    return problem(
        [outlet.id for outlet in job.house.outlets],
        [run.id for run in runs],
        min(MOST_CONDUCTORS, 2 * min(run.pairs or 2 for run in runs)),
        rounds_of(job.placed_plugs),
        trust=trust,
        gauge_awg=gauges.pop() if len(gauges) == 1 else None,
    )


def rounds_of(plugs: Sequence[PlacedPlug]) -> tuple[dict[str, Plug], ...]:
    """The plugs of each round by outlet; of two in one outlet in one round the later one stands.

    A round in which no plug was noted is empty: readings name rounds by their number.
    """
    last = max((plug.round for plug in plugs), default=0)
    rounds: list[dict[str, Plug]] = [{} for _ in range(last)]
    for plug in plugs:
        name = "+".join("".join(map(str, block)) for block in plug.ties) or "bare"
        rounds[plug.round - 1][plug.outlet] = Plug(
            plug.id if plug.resistors else name, plug.ties, plug.resistors
        )
    return tuple(rounds)


def log_of(readings: Sequence[TraceReading]) -> ReadingLog:
    """The readings as a log, in the order they stand in the document.

    What a reading leaves out counts as the least: ohms not given as open, a tone as not heard, a link as
    none. Raises BadInput for an id that stands twice, or a withdrawal of what is not before it.
    """
    log = ReadingLog()
    for reading in readings:
        log = log.added(_entry(reading))
    return log


def _entry(seen: TraceReading) -> Entry:
    end, outlet, other = seen.end or "", seen.outlet or "", seen.other or ""
    if seen.kind == "continuity":
        return Continuity(seen.id, end, seen.ties, seen.tested, seen.round)
    if seen.kind == "resistance":
        ohm = math.inf if seen.ohm is None else seen.ohm
        return Resistance(seen.id, end, seen.conductors or (1, 2), ohm, seen.round)
    if seen.kind == "tone":
        return Tone(seen.id, end, outlet, ToneHeard(seen.heard or "none"))
    if seen.kind == "link":
        return LinkLight(seen.id, end, outlet, int(seen.rate_mbps or 0))
    if seen.kind == "bridge":
        return Bridge(seen.id, end, other, bool(seen.joined))
    return Withdrawn(seen.id, other, seen.reason)
