"""What to do before the first plug and after the last: ask, measure, and give a line back."""

from __future__ import annotations

from dataclasses import dataclass

from rehaul.errors import Held
from rehaul.facts.live_lines import live_checks
from rehaul.house import Job, Run, RunState, Ties, line_signs, require_may_disconnect, still_disconnected
from rehaul.house.line_checks import words_of
from rehaul.house.obligations import LIVE_STATES
from rehaul.house.ties import NO_PAIRS
from rehaul.words import Saying, say, term


@dataclass(frozen=True)
class Card:
    """One thing to do at the meeting point, to be recorded as a line check."""

    what: str  # as in `LineCheck`
    at: str  # the meeting point
    do: str
    expect: str
    caution: str
    runs: tuple[str, ...]  # the cables it is about
    run: str = ""  # the one cable it is recorded for; empty where it is about every cable there
    why: str = ""  # where something on record does not do

    @property
    def sentence(self) -> Saying:
        """The card in words, its cables named."""
        expect = say("tracing.expect", expect=self.expect) if self.expect else ""
        said = [part for part in (self.do, self.why, expect, self.caution) if part]
        return say(
            "tracing.card", runs=self.runs, parts=[say("tracing.stopped", words=part) for part in said]
        )


@dataclass(frozen=True)
class ProposedState:
    """A state to note for a cable, and what was found on it."""

    run: str
    state: RunState
    because: str


def cards_first(ties: Ties, at: str) -> tuple[Card, ...]:
    """What must be on record before anything is tied at the meeting point `at`, in the order it is done.

    None where all of it is on record: only then may there be rounds and walks.

    **Source**: docs/trace.md, "Line checks"; fact table `live_lines`.
    """
    return tuple(_card(check.what, at, check.runs, why=check.why) for check in ties.missing(at))


def card_disconnect(job: Job, at: str) -> Card | None:
    """Taking the line off at the demarcation, offered where a line is live and nobody depends on any.

    None where no line at `at` is live, one there is off already, or an open obligation, DSL or an
    unanswered question forbids it (`house.require_may_disconnect`).

    **Source**: docs/trace.md, "Taking the line off"; fact table `live_lines`.
    """
    runs = tuple(run.id for run in _copper(job, at) if _is_live(job, run))
    if not runs or any(check.at == at for check in still_disconnected(job.line_checks)):
        return None
    try:
        require_may_disconnect(job)
    except Held:
        return None
    return _card("disconnected", at, runs)


def cards_last(job: Job) -> tuple[Card, ...]:
    """Lines to be given back when the tracing is over, wherever they were taken off.

    None where every line is connected. **Source**: docs/trace.md, "Line checks"; fact table `live_lines`.
    """
    return tuple(
        _card("reconnected", check.at, tuple(run.id for run in _copper(job, check.at)), run=check.run or "")
        for check in still_disconnected(job.line_checks)
    )


def off_sentences(job: Job) -> tuple[str, ...]:
    """Every line that is still disconnected, said first wherever the tracing speaks.

    None where all are connected. One sentence for each, with where, on which cable and since when, as far
    as it was recorded.
    """
    return tuple(
        say(
            "tracing.line_off",
            at=check.at,
            cable=say("tracing.off_cable", run=check.run) if check.run else "",
            since=say("tracing.off_since", time=check.time) if check.time else "",
        )
        for check in still_disconnected(job.line_checks)
    )


def proposed_states(job: Job, at: str) -> tuple[ProposedState, ...]:
    """States to note for cables at `at` that were found live by themselves and are noted otherwise.

    Proposed only: the job stays as it is. A voltage found somewhere at the point proposes nothing for a
    single cable, though it holds all of them meanwhile. **Source**: docs/trace.md, "Line checks".
    """
    found = []
    for run in _copper(job, at):
        live = line_signs(run, job.line_checks).live
        if live and live.run == run.id and run.state not in LIVE_STATES:
            found.append(ProposedState(run.id, RunState.LIVE_TELEPHONE, words_of(live)))
    return tuple(found)


def _is_live(job: Job, run: Run) -> bool:
    return run.state is RunState.LIVE_TELEPHONE or line_signs(run, job.line_checks).live is not None


def _copper(job: Job, at: str) -> list[Run]:
    return [run for run in job.house.runs if at in run.ends and run.kind not in NO_PAIRS]


def _card(what: str, at: str, runs: tuple[str, ...], *, run: str = "", why: str = "") -> Card:
    row = next(row for row in live_checks() if row.applies == "line check" and row.id == what)
    return Card(
        what, at, term(row.do), term(row.expect), term(row.caution), (run,) if run else runs, run, why
    )
