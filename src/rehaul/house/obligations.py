"""What holds a cable: the one rule by which it may be cut, moved or counted on, and what would release it.

A cable that is live, not known to be dead, or that somebody depends on is held until a decision is
recorded: who, when, in what words. Believing that a line is unused is not a decision.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from rehaul.errors import BadInput
from rehaul.facts.live_lines import release_rules
from rehaul.house.job import Job, Obligation, ObligationKind, ObligationState
from rehaul.house.line_checks import LineSigns, line_signs, remedy_of, words_of
from rehaul.house.model import Run, RunState
from rehaul.house.trail import Decision, LineCheck
from rehaul.same import Same
from rehaul.words import Reader, Saying, reader, say, term

FREE_STATES = (ObligationState.MOVED, ObligationState.RELEASED)
LIVE_STATES = (RunState.LIVE_TELEPHONE, RunState.ALARM)
_KINDS_OF_STATE = {
    RunState.LIVE_TELEPHONE: (ObligationKind.TELEPHONE, ObligationKind.DSL, ObligationKind.FAX),
    RunState.ALARM: (ObligationKind.MONITORED_ALARM, ObligationKind.PENDANT_ALARM),
}
_FIRST_QUESTION = {  # codes
    RunState.LIVE_TELEPHONE: "holds.live_telephone",
    RunState.ALARM: "holds.alarm",
    RunState.UNKNOWN: "holds.not_tested",
    RunState.DAMAGED: "holds.damaged",
}


@dataclass(frozen=True)
class HeldReason:
    """Why a cable may not be cut, and what would release it."""

    run: str  # or a plate, where the plate itself is the reason
    obligation: str  # id; empty where the state of the cable itself holds it
    problem: str
    remedy: str
    untested: bool = False  # only a test on the day is missing: a plan may count on it, nobody may cut it

    def __str__(self) -> str:
        return self.words

    @property
    def words(self) -> Saying:
        """Cable, problem and remedy in sentences."""
        return say("holds.reason", run=self.run, problem=self.problem, remedy=self.remedy)


def held_reasons(
    run: Run,
    obligations: Sequence[Obligation] = (),
    decisions: Sequence[Decision] = (),
    line_checks: Sequence[LineCheck] = (),
) -> tuple[HeldReason, ...]:
    """Every reason why this cable may not be cut; empty if it may.

    Parameters
    ----------
    run : the cable, with its state
    obligations : the register; those of other cables are left out
    decisions : recorded decisions about cables themselves
    line_checks : what was measured where cables meet; it counts at once, whatever the state noted

    **Source**: docs/trace.md, "Before anything": what may be cut.
    """
    own = [obligation for obligation in obligations if obligation.run == run.id]
    signs = line_signs(run, line_checks)
    decided = any(decision.run == run.id for decision in decisions)
    reasons = list(found_reasons(run, signs, own, decided=decided))
    kinds = _KINDS_OF_STATE.get(run.state, ())
    moved = any(obligation.kind in kinds and not _held_by(obligation) for obligation in own)
    if run.state in _FIRST_QUESTION and not decided and not moved:
        reasons.append(_of_state(run, signs))
    if signs.disconnected and not decided:
        off, again = say("holds.off_for_tracing"), say("holds.connect_again")
        reasons.append(HeldReason(run.id, "", off, again, untested=True))
    return (*reasons, *(reason for obligation in own if (reason := _held_by(obligation))))


def found_reasons(
    run: Run, signs: LineSigns, own: Sequence[Obligation], *, decided: bool
) -> tuple[HeldReason, ...]:
    """What line checks found on a cable that holds it: live, live once, or somebody whom nobody named.

    `own`: the obligations on it; `decided`: somebody decided about the cable itself, which settles what
    was found once, never what is live now.
    """
    reasons = []
    if signs.live:
        remedy = say("words.sentences", parts=[remedy_of(signs.live), say("holds.enter_who_depends")])
        problem = say("holds.found_on_it", found=words_of(signs.live))
        reasons.append(HeldReason(run.id, "", problem, remedy))
    elif signs.once_live and not decided and not any(not _held_by(one) for one in own):
        problem = say("holds.found_before", found=words_of(signs.once_live))
        reasons.append(HeldReason(run.id, "", problem, say("holds.record_who_decided")))
    if signs.unnamed and not own:
        reasons.append(HeldReason(run.id, "", say("holds.nobody_named"), say("holds.enter_who")))
    return tuple(reasons)


@dataclass(frozen=True)
class _Known:
    """What was found of a job as one reader reads it, by cable: a plan asks a dozen times of each."""

    reasons: dict[str, tuple[HeldReason, ...]] = field(default_factory=dict)
    uses: dict[str, str] = field(default_factory=dict)
    open: dict[str, tuple[Obligation, ...]] = field(default_factory=dict)


@lru_cache(maxsize=4)  # jobs are large, and nobody asks again of one that was edited
def _known_of(job: Same[Job], whom: Reader) -> _Known:
    return _Known()


def held_on(job: Job, run_id: str) -> tuple[HeldReason, ...]:
    """Every reason why a cable of the job may not be cut or moved yet; empty if it may.

    As `held_reasons`, with all that the job has on record. Raises BadInput for a cable that the job does
    not have.
    """
    known = _known_of(Same(job), reader()).reasons
    if run_id not in known:
        run = _run(job, run_id)
        known[run_id] = held_reasons(run, job.obligations, job.decisions, job.line_checks)
    return known[run_id]


def open_obligations(job: Job, run_id: str) -> tuple[Obligation, ...]:
    """Obligations of a job that still hold a run, in the job's order; empty for a run that nobody depends on.

    Whether the cable itself is known to be dead is another question: see `held_on`.
    """
    known = _known_of(Same(job), reader()).open
    if run_id not in known:
        known[run_id] = tuple(o for o in job.obligations if o.run == run_id and _held_by(o))
    return known[run_id]


def use_hold(job: Job, run_id: str) -> str:
    """Why a plan may not count on a run as it is, for people; empty where it may.

    A run that only waits for a test may be counted on: the order of work has the test before any cut.
    One that is noted as live never counts without anybody named behind it, decision or not. Raises BadInput
    for a run that the job does not have. **Source**: docs/trace.md, "Before anything": what may be cut.
    """
    known = _known_of(Same(job), reader()).uses
    if run_id not in known:
        known[run_id] = _use_hold(job, run_id)
    return known[run_id]


def _use_hold(job: Job, run_id: str) -> str:
    run = _run(job, run_id)
    holders = open_obligations(job, run_id)
    if holders:
        named = [say("holds.name_and_more", name=one.kind.words, more=one.id) for one in holders]
        return say("holds.held_by", holders=named, n=len(named), run=run_id)
    stranger = _stranger(job, run)
    if stranger:
        return say("holds.held_by_household", run=run_id, household=stranger)
    known = any(obligation.run == run_id for obligation in job.obligations)
    live = [reason for reason in held_on(job, run_id) if not reason.untested]
    if live and run.state not in LIVE_STATES:
        return say("holds.held_because", reason=live[0].words)
    if live or (run.state in LIVE_STATES and not known):
        return say("holds.held_as_noted", run=run_id, state=run.state.value)
    return ""


def _run(job: Job, run_id: str) -> Run:
    found = next((run for run in job.house.runs if run.id == run_id), None)
    if found is None:
        raise BadInput(
            say("refused_house.no_cable", run=run_id), where="run", remedy=say("refused_house.name_a_cable")
        )
    return found


def _stranger(job: Job, run: Run) -> str:
    """Another household in whose rooms a run comes out, and which has not let go of it; empty for none."""
    if any(o.run == run.id and o.kind is ObligationKind.OTHER_HOUSEHOLD for o in job.obligations):
        return ""  # on record: what is still open of it holds the run by itself
    whose = {room.id: room.household.strip() for room in job.house.rooms}
    plates = (outlet for outlet in job.house.outlets if outlet.id in run.ends)
    return next((name for outlet in plates if (name := whose.get(outlet.room or "", ""))), "")


def counts_on(job: Job, run_id: str) -> bool:
    """Whether a plan may count on a run: nothing holds it, or the household has all that does moved first.

    A run that is live without anybody named behind it never counts: nobody can be asked to move.
    """
    if not use_hold(job, run_id):
        return True
    holders = open_obligations(job, run_id)
    return bool(holders) and {holder.id for holder in holders} <= set(job.choices.to_be_moved)


def _of_state(run: Run, signs: LineSigns) -> HeldReason:
    untested = run.state not in LIVE_STATES
    if untested and not (signs.unasked or signs.live or signs.once_live):
        decide = say("holds.record_who_decided")
        return HeldReason(run.id, "", say("holds.measured_dead"), decide, untested)
    return HeldReason(run.id, "", say(_FIRST_QUESTION[run.state]), say("holds.go_through_checks"), untested)


def _held_by(obligation: Obligation) -> HeldReason | None:
    rule = release_rules()[obligation.kind.value]
    name = obligation.kind.words
    if obligation.who:
        name = say("holds.name_and_more", name=name, more=obligation.who)
    release, state = term(rule.release), str(obligation.state)
    if obligation.state not in FREE_STATES:
        problem, remedy = say("holds.depends_on_it", name=name, state=state), release
    elif obligation.sign_off is None:
        problem, remedy = say("holds.not_signed", name=name, state=state), say("holds.record_who_signed")
    elif rule.needs_words and not obligation.sign_off.words.strip():
        problem, remedy = say("holds.signed_without_words", name=name), release
    else:
        return None
    return HeldReason(obligation.run, obligation.id, problem, remedy)
