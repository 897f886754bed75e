"""Why this choice of feeds: what each part is for, what another place costs, what more money would buy."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum

import numpy as np

from rehaul.arrays import Reals
from rehaul.clock import Clock
from rehaul.exact.coverage import COST_STEP
from rehaul.exact.feeding.core import Core, core_of, without_group
from rehaul.exact.feeding.figures import Figures, Tally
from rehaul.exact.feeding.problem import FeedChoice, FeedProblem
from rehaul.exact.feeding.solve import Solver, solve_feeds


@dataclass(frozen=True)
class FeedChange:
    """Another choice, and what it costs beyond the present one."""

    choice: FeedChoice
    extra_cost: float
    added: tuple[str, ...]  # ways
    dropped: tuple[str, ...]


class Unsettled(Enum):
    """Time was up before another choice was found or shown not to be."""

    UNSETTLED = "unsettled"


@dataclass(frozen=True)
class FeedAddition:
    """One more way, and what it buys."""

    way: str
    cost: float  # with what it needs that is not there yet, and the larger switch
    newly_met: tuple[int, ...]  # places in `met`
    gained: float  # share newly served or counted, summed over what falls short


def lost_without(
    problem: FeedProblem, choice: FeedChoice, part: str, *, figures: Figures | None = None
) -> tuple[int, ...]:
    """What is met now and would not be without this way, or without this resource and all that hangs on it.

    Parameters: `figures`, those of the problem, where several parts are asked about.

    Returns places in `choice.met`. **Source**: docs/choosing.md, "Why this choice".
    """
    figures = figures or Figures(problem)
    names = {resource.id: place for place, resource in enumerate(figures.resources)}
    rest = [
        way
        for way in _chosen(figures, choice)
        if figures.ways[way].id != part and not (part in names and figures.uses[way, names[part]])
    ]
    then = figures.met_by(rest)
    return tuple(i for i, met in enumerate(choice.met) if met and not then[i])


def cost_of_group(
    problem: FeedProblem,
    choice: FeedChoice,
    group: str,
    time_limit_s: float = 2.0,
    *,
    figures: Figures | None = None,
    within: Clock | None = None,
) -> FeedChange | Unsettled | None:
    """What it costs to choose a way of this group and still meet as many; None where no choice does.

    `Unsettled` where time was up before either was known. Parameters: `time_limit_s` for the search, a part
    of the limit `within`; `figures`, those of the problem, where several groups are asked about. Nought or
    more where `choice` is proven: why not there. Raises BadInput for a group that the problem forbids or does
    not have. **Source**: docs/choosing.md, "Why this choice".
    """
    figures = figures or Figures(problem)
    other = _solved(core_of(figures.held_to(must=(group,))), choice, time_limit_s, within)
    return _change(figures, choice, other)


def cost_without_group(
    problem: FeedProblem,
    choice: FeedChoice,
    group: str,
    time_limit_s: float = 2.0,
    *,
    core: Core | None = None,
    within: Clock | None = None,
) -> FeedChange | Unsettled | None:
    """What it costs to do without this group and still meet as many: why there. None where none can.

    `Unsettled` where time was up before either was known. Parameters: `group`, of a chosen way;
    `time_limit_s` for the search, a part of the limit `within`; `core`, that of the problem, where several
    groups are asked about. The cost beyond the present one is money, 0 or more where `choice` is proven. None
    can do without a group that must hold a way. **Source**: docs/choosing.md, "Why this choice".
    """
    held = {way.group for way in problem.ways if way.id in problem.fixed}
    if group in held or group in problem.must:
        return None
    core = core or core_of(Figures(problem))
    other = _solved(without_group(core, group), choice, time_limit_s, within)
    return _change(core.figures, choice, other)


def cheapest_fix(
    problem: FeedProblem,
    choice: FeedChoice,
    requirement: int,
    time_limit_s: float = 2.0,
    *,
    within: Clock | None = None,
) -> FeedChange | Unsettled | None:
    """The cheapest choice that meets this besides all that is met now; None where none does.

    `Unsettled` where time was up before either was known.

    Parameters
    ----------
    requirement : place in `choice.met`
    time_limit_s : for the search, a part of the limit `within`

    **Source**: docs/choosing.md, "Why this choice".
    """
    kept = {i for i, met in enumerate(choice.met) if met or i == requirement}
    first = len(problem.requirements)
    narrowed = replace(
        problem,
        requirements=tuple(r for i, r in enumerate(problem.requirements) if i in kept),
        counted=tuple(c for i, c in enumerate(problem.counted) if first + i in kept),
    )
    return _change(Figures(problem), choice, solve_feeds(narrowed, time_limit_s, within=within))


def one_more(problem: FeedProblem, choice: FeedChoice) -> FeedAddition | None:
    """The way that, added in a free group, newly meets most; among equals gains most for its cost.

    Its cost is all that the choice would cost more. None where no way that fits adds to what falls short.
    **Source**: docs/choosing.md, "Why this choice".
    """
    figures = Figures(problem)
    now = figures.tally(_chosen(figures, choice))
    taken = {int(figures.group[way]) for way in now.ways}
    before = _shares(figures, now)
    best: tuple[tuple[float, float, float], FeedAddition] | None = None
    for way in core_of(figures).ways.tolist():
        if int(figures.group[way]) in taken:
            continue
        then = figures.carried((*now.ways, way))
        gained = float((_shares(figures, then) - before).sum())
        if not then.fits or gained <= 0:
            continue
        newly = tuple(i for i, met in enumerate(then.met) if met and not now.met[i])
        cost = then.cost - now.cost
        rank = (float(len(newly)), gained / max(cost, 1), float(figures.rate[way]))
        if best is None or rank > best[0]:
            best = (rank, FeedAddition(figures.ways[way].id, round(cost * COST_STEP, 2), newly, gained))
    return best[1] if best else None


def _chosen(figures: Figures, choice: FeedChoice) -> list[int]:
    return [place for place, way in enumerate(figures.ways) if way.id in choice.ways]


def _shares(figures: Figures, tally: Tally) -> Reals:
    """Share of each thing asked that is there, no more than is asked."""
    steps = figures.coverage.steps
    served = np.minimum(tally.served, steps.needs) / steps.totals
    counted = np.minimum(tally.counted, figures.least) / np.maximum(figures.least, 1)
    return np.concatenate([served, counted])


def _solved(core: Core, choice: FeedChoice, time_limit_s: float, within: Clock | None) -> FeedChoice:
    """The cheapest that still meets as many."""
    problem, solver = core.figures.problem, Solver(core.figures.problem, core)
    return solve_feeds(problem, time_limit_s, enough=sum(choice.met), solver=solver, within=within)


def _change(figures: Figures, choice: FeedChoice, other: FeedChoice) -> FeedChange | Unsettled | None:
    if not other.feasible:
        return None if other.proven or other.ways else Unsettled.UNSETTLED
    tally = figures.tally(_chosen(figures, other))  # told over all that is asked
    told = replace(
        other,
        served=tuple(float(value) for value in tally.served / figures.coverage.steps.totals),
        met=tally.met,
        counted=tuple(int(value) for value in tally.counted),
    )
    return FeedChange(
        choice=told,
        extra_cost=round(other.cost - choice.cost, 2),
        added=tuple(sorted(set(other.ways) - set(choice.ways))),
        dropped=tuple(sorted(set(choice.ways) - set(other.ways))),
    )
