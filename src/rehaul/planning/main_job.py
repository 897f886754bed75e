"""The whole main job, on one page."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field, replace

from rehaul.auditor import RULES, SIGNED_RULES, PlanFinding, audit_plan
from rehaul.beside import result_of, unwaited
from rehaul.design.after import graph_after, paths_of
from rehaul.design.choosing import Chosen, at_point, choose
from rehaul.design.devices import with_new_radios
from rehaul.design.dsl import dsl_notes
from rehaul.design.judged import as_it_turns_out, pin_words, with_gets
from rehaul.design.networking import network
from rehaul.design.offered import chosen_at
from rehaul.design.placing import placing_of
from rehaul.design.reasoned import reasoned
from rehaul.design.results import ChannelPlan, Choice, Network
from rehaul.design.wanted import DropDecision, drop_decisions
from rehaul.house import Job
from rehaul.network import Graph, Path, RunVerdict, closer_looks
from rehaul.network.standing import standing_graph
from rehaul.planning.answer import Answer, answer_of
from rehaul.planning.document import plan_data
from rehaul.planning.outcome import Outcome, outcome_of
from rehaul.planning.survey import Survey, survey_of
from rehaul.predict import (
    Calibration,
    Coverage,
    Radiator,
)
from rehaul.predict.kept import KeptHouse
from rehaul.predict.size import require_plan_memory
from rehaul.progress import Progress, silent
from rehaul.proof.questions import OpenQuestion, open_questions
from rehaul.proof.worse import worse_rooms
from rehaul.takeoff import (
    Alternative,
    ProposedChange,
    Quote,
    Scope,
    SignedPlan,
    SiteCheck,
    Standing,
    Takeoff,
    Task,
    Timetable,
    counterpart,
    hold_sources,
    offer_named,
    order,
    proposed_changes,
    scope_of,
    site_checks,
    standing_of,
    takeoff,
    timetable,
    timetable_now,
)
from rehaul.takeoff.labels import LabelLine, labels_of
from rehaul.takeoff.schedule_model import load_solver
from rehaul.words import REFERENCE, speaking

SEARCHING = "what stands where, and what feeds it"
PREDICTING = "channels, and what the house will get"
REASONING = "why, and what else there is"
ORDERING = "switch, power, parts and order of work"
AUDITING = "the auditor reads it"
SOON_S = 0.5  # after so long an answer is told though it is not proven yet
PROOF_S = 10.0  # the proof may take so long; both of the processor (`rehaul.clock`)


@dataclass(frozen=True)
class Plan:
    """Everything that follows from a job: what is, what will be, and how to get there."""

    job: Job
    cabling: tuple[RunVerdict, ...]  # what each old run can do
    before: Coverage  # what the house gets today
    choice: Choice  # where access points go, and why
    after: Coverage  # what it will get
    channels: ChannelPlan
    network: Network
    takeoff: Takeoff
    order: tuple[Task, ...]  # tasks in the order of work
    open_questions: tuple[OpenQuestion, ...]
    graph_before: Graph = field(
        default_factory=Graph
    )  # the network from the street to every box, as it stands
    graph_after: Graph = field(default_factory=Graph)  # and as the plan makes it
    paths: tuple[Path, ...] = ()  # to every access point and wired outlet
    labels: tuple[LabelLine, ...] = ()  # what is written on every label
    findings: tuple[PlanFinding, ...] = ()  # the auditor's; with one open nothing is proven
    radiators: tuple[Radiator, ...] = ()  # every box that radiates once the plan is done, at its widths
    calibration: Calibration | None = None  # what the readings say of the house
    timetable: Timetable | None = None  # the same tasks, with how good their order is proven to be
    checks: tuple[SiteCheck, ...] = ()  # thin wires, heat, battery, codes: what to look at on site
    drops: tuple[DropDecision, ...] = ()  # each wanted drop: what to try, in which order, when to stop
    standing: Standing | None = None  # the accepted offer that is in force
    changes: tuple[ProposedChange, ...] = ()  # what a new plan would say otherwise; proposed, not in force
    new_quote: Quote | None = None  # the offers that may be accepted instead, where one is in force


@dataclass(frozen=True, eq=False)
class Weighed:
    """A job surveyed and chosen for: every offer is planned from this, and none of it is signed."""

    survey: Survey
    chosen: Chosen
    fresh: Plan  # of the choice itself


def plan(job: Job, *, progress: Progress = silent) -> Plan:
    """From what stands in a house to a wired network, with its price and the order of work.

    Once an offer is accepted its plan stays in force; what would be planned now is in `changes`.
    """
    return in_force(job, weigh(job, progress=progress), progress=progress)


@speaking(REFERENCE)  # a plan is one whoever reads it; `again` says it to a reader
def weigh(
    job: Job,
    *,
    kept: KeptHouse | None = None,
    progress: Progress = silent,
    told: Callable[[Answer], None] | None = None,
) -> Weighed:
    """What stands, what it gives, and what to choose, with the plan of that choice.

    Parameters: `job`, whole (`require_whole`); offers accepted and steps ticked off in it are left aside.
    `kept` is what weighing the job before an edit left, and is left more: the plan is the same to the last
    bit, sooner. `progress` is called with the words of each stage, `told` with what is chosen, gets and
    costs, before the rest is worked out, and again where a long search found better; either may raise to
    break off.

    Returns what was surveyed and chosen, and the plan of that choice as audited. Raises BadInput where the
    job names a site that is none, or the machine has too little memory.

    **Source**: docs/choosing.md, docs/work.md.
    """
    job = job.model_copy(update={"accepted_offers": (), "ticks": ()})  # neither changes what would be planned
    require_plan_memory(job)
    survey = survey_of(job, kept, progress=progress)
    with ThreadPoolExecutor(1) as beside:  # the search lets go of the interpreter
        beside.submit(load_solver)
        progress(SEARCHING)
        placing = placing_of(job, survey.scene, survey.receivers, survey.calibration, survey.kept)
        for limit_s in (SOON_S, PROOF_S):  # on all but the largest houses the first is never up
            chosen = choose(
                job, placing, time_limit_s=limit_s, kept=survey.kept, look=lambda: progress(SEARCHING)
            )
            if chosen.found_any or limit_s == PROOF_S:
                progress(PREDICTING)
                outcome = outcome_of(survey, chosen)
                if told is not None:
                    told(answer_of(survey, chosen, outcome))
            if chosen.choice.proven:
                break
        progress(REASONING)
        chosen = reasoned(job, chosen, lambda: progress(REASONING))
    return Weighed(survey, chosen, planned(survey, chosen, outcome, progress=progress))


def planned(
    survey: Survey, chosen: Chosen, outcome: Outcome | None = None, *, progress: Progress = silent
) -> Plan:
    """Everything that follows from a choice.

    Parameters: `chosen`, with its reasons, of `choose` or of another point of its front; `outcome`, of the
    same choice where it is known already.

    Returns the plan, audited: graph, channels, what the rooms will get, boxes, parts, price, order of work.

    **Validity**: one pass: channels follow from the sites and do not change them (docs/choosing.md).
    """
    job, cabling = survey.job, survey.cabling
    if outcome is None:
        progress(PREDICTING)
        outcome = outcome_of(survey, chosen)
    graph, channels, after = outcome.graph, outcome.channels, outcome.after
    choice = as_it_turns_out(with_gets(job, outcome.seen_by(chosen.choice), after), survey.before)
    chosen = replace(chosen, choice=choice)
    progress(ORDERING)
    wired = network(job, chosen, graph)
    scope = scope_of(job, chosen, wired, graph, cabling)
    with unwaited() as beside:  # the solver lets go of the interpreter
        tasks = order(scope)
        coming = beside.submit(timetable, job, tasks)
        parts = takeoff(scope, tasks, alternatives(job, chosen, scope, lambda: progress(ORDERING)))
        drops = drop_decisions(job, choice, cabling)
        times = result_of(coming, lambda: progress(ORDERING))
    wired = wired.model_copy(
        update={
            "notes": (
                *wired.notes,
                *dsl_notes(job, choice.router),
                *worse_rooms(survey.before, after),
                *pin_words(choice),
            )
        }
    )
    found = Plan(
        job=job,
        cabling=closer_looks(job, cabling),
        before=survey.before,
        choice=choice,
        after=after,
        channels=channels,
        network=wired,
        takeoff=parts,
        order=times.tasks,
        open_questions=open_questions(job, cabling, after),
        graph_before=standing_graph(job),
        graph_after=graph,
        paths=paths_of(graph, chosen),
        labels=labels_of(scope),
        radiators=outcome.radiators,
        calibration=survey.calibration,
        drops=drops,
        timetable=times,
        checks=site_checks(job, choice, wired),
    )
    return audited(found, progress)


def audited(found: Plan, progress: Progress = silent) -> Plan:
    """The plan with what its auditor finds; while anything is open, nothing in it may say `proven`.

    Once an offer is signed and its plan was kept, the rules of how it was chosen are left aside
    (`SIGNED_RULES`). `progress` is called before each rule, and may raise to break off.

    **Validity**: a sound plan comes back unchanged. **Source**: docs/auditor.md.
    """
    signed = found.standing is not None and found.standing.kept == "all"
    progress(AUDITING)
    rules = SIGNED_RULES if signed else RULES
    findings = audit_plan(found.job, plan_data(found), rules, lambda: progress(AUDITING))
    if not findings:
        return found
    return replace(found, findings=findings, choice=found.choice.model_copy(update={"proven": False}))


def offered(weighed: Weighed, name: str, *, progress: Progress = silent) -> Plan:
    """The plan of one offer of the new quote. Raises BadInput where none has that name.

    Parameters: `name`, of an offer of `weighed.fresh.takeoff.quote`. The chosen offer's plan is there
    already; any other is planned anew at its point of the front, with that offer marked as the chosen one.
    """
    option = offer_named(weighed.fresh.takeoff.quote, name)
    if option.chosen:
        return weighed.fresh
    point = next(point for point in weighed.chosen.choice.front if point.ways == option.ways)
    chosen = chosen_at(weighed.survey.job, weighed.chosen, point)
    found = planned(weighed.survey, chosen, progress=progress)
    options = tuple(o.model_copy(update={"chosen": o == option}) for o in weighed.fresh.takeoff.quote.options)
    quote = found.takeoff.quote.model_copy(update={"options": options})
    return replace(found, takeoff=found.takeoff.model_copy(update={"quote": quote}))


@speaking(REFERENCE)
def signed_offer(weighed: Weighed, name: str, *, progress: Progress = silent) -> SignedPlan:
    """What is kept with an offer that is accepted. Raises BadInput where none has that name.

    Parameters: `name`, of an offer of the new quote. What is kept holds all that is printed, so that it
    stays as signed whatever the tables say later; `fullest`: it was the offer that the choice itself is.

    **Source**: docs/work.md, "what is signed".
    """
    option = offer_named(weighed.fresh.takeoff.quote, name)
    return _signed_plan(offered(weighed, name, progress=progress), option.name, fullest=option.chosen)


@speaking(REFERENCE)
def in_force(job: Job, weighed: Weighed, *, progress: Progress = silent) -> Plan:
    """The plan in force: as signed where an offer is accepted and its plan was kept, else the new one.

    Parameters: `weighed`, of the same job. With a signed plan the choice, price and boxes are the signed
    ones, rates are predicted anew, the order has its ticks, and `changes` says what a new plan would do
    otherwise.

    **Source**: docs/work.md, "what is signed".
    """
    fresh = replace(weighed.fresh, job=job)
    accepted = standing_of(job)
    if accepted is None:
        return fresh
    standing, signed = accepted
    fresh = replace(fresh, standing=standing, new_quote=fresh.takeoff.quote)
    if signed is None:
        return audited(replace(fresh, findings=()), progress)
    progress("what is signed, and what a new plan would change")
    option = counterpart(signed, fresh.choice.front, fresh.takeoff.quote)
    other = offered(weighed, option.name) if option else fresh
    then, survey = with_new_radios(job, signed.choice.devices), weighed.survey
    after = survey.gets(then, signed.radiators, survey.chances(then, signed.radiators))
    times = timetable_now(job, signed)
    asking = {need.room for need in job.needs}
    short = tuple(row for row in signed.choice.shortfalls if row.room in asking)
    mine = _signed_plan(other, signed.option, fullest=signed.fullest)
    found = replace(
        fresh,
        choice=with_gets(job, signed.choice.model_copy(update={"shortfalls": short}), after),
        after=after,
        channels=signed.channels,
        network=signed.network,
        takeoff=signed.takeoff,
        order=times.tasks,
        open_questions=open_questions(job, fresh.cabling, after),
        graph_after=signed.graph,
        paths=signed.paths,
        radiators=signed.radiators,
        drops=signed.drops,
        timetable=times,
        checks=signed.checks,
        labels=signed.labels,
        changes=proposed_changes(job, signed, mine),
        findings=(),
    )
    return audited(found, progress)


def _signed_plan(found: Plan, option: str, *, fullest: bool) -> SignedPlan:
    """What is kept of a plan when its offer is signed."""
    assert found.timetable is not None
    return SignedPlan(
        option=option,
        fullest=fullest,
        served=tuple(next((p.rooms for p in found.choice.front if p.chosen), ())),
        choice=found.choice,
        channels=found.channels,
        network=found.network,
        takeoff=found.takeoff,
        timetable=found.timetable,
        graph=found.graph_after,
        paths=found.paths,
        radiators=found.radiators,
        drops=found.drops,
        checks=found.checks,
        labels=found.labels,
        rooms=found.after.rooms,
        holds=hold_sources(found.job, found.order),
    )


def alternatives(job: Job, chosen: Chosen, scope: Scope, look: Callable[[], None]) -> Iterator[Alternative]:
    """Every point of the front, with the work it would be; that of the chosen one is `scope` itself.

    Gives points with their work, cheapest first, for the quote. Doing nothing is the first of them. `look` is
    called before each, and may raise to break off.
    """
    for point in chosen.choice.front:
        look()
        if point.chosen:
            yield point, scope
            continue
        other = at_point(job, chosen.placing, chosen.choice, point)
        graph = graph_after(job, other)
        yield point, scope_of(job, other, network(job, other, graph), graph, scope.verdicts)
