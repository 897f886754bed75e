"""Rules on the choice: it is what its own problem says, and on small houses nothing does better."""

from __future__ import annotations

from collections.abc import Iterator

from rehaul.auditor.finding import PlanFinding, finding
from rehaul.auditor.reading import RowView
from rehaul.auditor.trial import (
    ChoiceView,
    OutcomeView,
    Thing,
    one_change_away,
    outcome,
    problem_of,
)
from rehaul.auditor.views import access_points, plates
from rehaul.auditor.walk import best_of_all
from rehaul.house import Job
from rehaul.words import say

CENT = 1  # hundredths
HALF_STEP = 0.006  # of money printed to hundredths


def choice_agrees(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """One point of the front is chosen; access points and outlets are its ways, and they fit together.

    Broken by no or several chosen points, by chosen ways that are not the point's or not in the problem, by
    an access point or outlet fed by none of them, by ways that do not fit together, and by a cost that is
    not theirs (a hundredth forgiven).

    **Validity**: costs of ways and of work are the plan's own; they are added up, not priced again.
    **Source**: docs/auditor.md, `choice-agrees`.
    """
    chosen = [row for row in plan.rows("choice", "front") if row.flag("chosen")]
    if len(chosen) != 1:
        yield finding(say("audit_work.points_chosen", count=len(chosen)), "front")
        return
    problem = problem_of(plan)
    ways = plan.names("choice", "ways")
    if set(ways) != set(chosen[0].names("ways")):
        yield finding(say("audit_work.point_differs"), *ways)
    known = {way.id for way in problem.ways}
    for name in sorted(set(ways) - known):
        yield finding(say("audit_work.way_unknown", way=name), name)
    for who, way in [(ap.id, ap.way) for ap in access_points(plan)] + [(p.id, p.way) for p in plates(plan)]:
        if way and way not in ways:
            yield finding(say("audit_work.way_not_chosen", name=who, way=way), who, way)
        elif not way:
            yield finding(say("audit_work.no_way", name=who), who)
    found = _outcome_of(problem, ways)
    if found is None:
        yield finding(say("audit_work.ways_do_not_fit"), *ways)
    elif abs(found.cost - 100 * plan.number("choice", "cost")) > CENT:
        yield finding(
            say("audit_work.ways_cost", cost=found.cost / 100, said=plan.number("choice", "cost")),
            "cost",
        )


def front_is_honest(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """Every point of the front costs what its ways cost, and serves more than every cheaper one.

    Broken by a point whose ways do not fit together (at no cost that is passed over: doing nothing holds no
    pin), whose cost is not theirs, or whose number of rooms is not the number of rooms named; by one that
    serves no more than a cheaper one and does not say that it is beaten, the chosen one aside, and by one
    that says so and is not.

    **Validity**: how many rooms the ways of a point truly serve is not worked out here; the chosen point is
    tried in `nothing_does_better`. **Source**: docs/auditor.md, `front-is-honest`.
    """
    yield from _rises(plan)
    problem = problem_of(plan)
    for row in plan.rows("choice", "front"):
        found = _outcome_of(problem, row.names("ways"))
        rooms = row.number("rooms_served")
        if found is None and row.number("cost") == 0:  # doing nothing is offered whatever was pinned
            continue
        if found is None:
            yield finding(say("audit_work.point_does_not_fit", rooms=rooms), *row.names("ways"))
        elif abs(found.cost - 100 * row.number("cost")) > CENT:
            yield finding(
                say("audit_work.point_costs", rooms=rooms, cost=found.cost / 100, said=row.number("cost")),
                *row.names("ways"),
            )
        if row.number("rooms_served") != len(row.names("rooms")):
            yield finding(say("audit_work.point_names", rooms=rooms, named=len(row.names("rooms"))), "front")


def _rises(plan: RowView) -> Iterator[PlanFinding]:
    """What serves no more than something cheaper is told as beaten, and nothing else is."""
    front = plan.rows("choice", "front")
    for row in front:
        cost, rooms = row.number("cost"), row.number("rooms_served")
        cheaper = [one for one in front if one.number("cost") < cost - HALF_STEP]
        better = [one for one in cheaper if one.number("rooms_served") >= rooms]
        beaten = row.has("beaten") and row.flag("beaten")
        if better and not beaten and not row.flag("chosen"):
            yield finding(
                say("audit_work.point_beaten", rooms=rooms, cost=cost, less=better[0].number("cost")), "front"
            )
        if beaten and not better:
            yield finding(say("audit_work.point_not_beaten", rooms=rooms, cost=cost), "front")


def proof_holds(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """The bound is not above the cost, the gap follows from both, and what is proven has none.

    The gap is what the bound leaves of the cost, in per cent. Broken by a bound above the cost (half a
    hundredth forgiven), by a proven choice with a gap above 0.01 %, and by a gap said to be smaller than it
    is.

    **Validity**: nothing is asked where a budget is set; that the bound itself is right is not worked out
    here. **Source**: docs/auditor.md, `proof-holds`.
    """
    choice = plan.row("choice")
    cost, bound, gap = (choice.number(name) for name in ("cost", "bound", "gap_pct"))
    if bound > cost + HALF_STEP and job.choices.budget is None:
        yield finding(say("audit_work.bound_above", bound=bound, cost=cost), "bound")
    real = 100 * (cost - bound) / cost if cost > 0 else 0.0
    if choice.flag("proven") and real > 0.01 and job.choices.budget is None:
        yield finding(say("audit_work.proven_with_gap", gap=real), "proven")
    if gap + 0.06 < real and job.choices.budget is None:
        yield finding(say("audit_work.gap_differs", gap=real, said=gap), "gap")


def nothing_does_better(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """No choice meets more, and none as much for less: all are tried where they are few, else all near by.

    Broken by a choice of the plan's own problem that meets more within the budget, or meets as much for more
    than a hundredth less. Where a budget is set but the plan is over it, its own cost is the limit.

    **Validity**: exact up to 65,536 branches of `best_of_all`; beyond that only choices that differ in one
    group are tried. Budgets aside it judges by the problem as printed: what that leaves out it cannot see.
    **Source**: docs/auditor.md; the problem of docs/choosing.md.
    """
    problem = problem_of(plan)
    ways = _ways_of(problem, plan.names("choice", "ways"))
    chosen = None if ways is None else outcome(problem, ways)
    if ways is None or chosen is None:
        return
    budget = job.choices.budget
    most = None if budget is None else max(round(100 * budget), chosen.cost)
    best = best_of_all(problem, chosen, most)
    if best is None:
        near = (outcome(problem, other) for other in one_change_away(problem, ways))
        within = [found for found in near if found is not None and (most is None or found.cost <= most)]
        best = min([chosen, *within], key=lambda found: found.rank)
    if len(best.met) > len(chosen.met):
        yield finding(
            say("audit_work.more_can_be_met", best=len(best.met), cost=best.cost / 100, met=len(chosen.met)),
            *(problem.names()[place] for place in sorted(best.met - chosen.met)),
        )
    elif best.cost < chosen.cost - CENT:
        yield finding(
            say("audit_work.as_much_for_less", best=best.cost / 100, cost=chosen.cost / 100),
            "cost",
        )


def _ways_of(problem: ChoiceView, names: tuple[str, ...]) -> tuple[Thing, ...] | None:
    ways = {way.id: way for way in problem.ways}
    return tuple(ways[name] for name in names) if set(names) <= set(ways) else None


def _outcome_of(problem: ChoiceView, names: tuple[str, ...]) -> OutcomeView | None:
    ways = _ways_of(problem, names)
    return None if ways is None else outcome(problem, ways)
