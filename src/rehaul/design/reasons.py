"""Why this choice: what each part is for, what another site would cost, what more money would buy."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from rehaul.design.coverage import COST_STEP, CoverProblem, Selection
from rehaul.design.exact import solve_exact


@dataclass(frozen=True)
class Addition:
    """One more option, and what it buys."""

    option: int
    cost: float
    newly_met: tuple[int, ...]  # requirements
    gained: float  # share of weight newly served, summed over the requirements that fall short


@dataclass(frozen=True)
class ChoiceChange:
    """A choice that does more, and what it costs beyond the present one."""

    choice: Selection
    extra_cost: float
    added: tuple[int, ...]
    dropped: tuple[int, ...]


def lost_without(problem: CoverProblem, choice: Selection, option: int) -> tuple[int, ...]:
    """Requirements that are met now and would not be without this option."""
    rest = [other for other in choice.options if other != option]
    short = problem.served(rest) < problem.steps.needs
    return tuple(i for i, met in enumerate(choice.met) if met and short[i])


def cost_of_pinning(
    problem: CoverProblem, choice: Selection, site: int, time_limit_s: float = 2.0
) -> ChoiceChange | None:
    """What it costs to put something at this site and still meet as many; None where that cannot be.

    Zero or more where `choice` is proven: why not that site.
    """
    pinned = replace(problem, pinned=(*problem.pinned, site))
    return _change(choice, solve_exact(pinned, time_limit_s, enough=sum(choice.met)))


def cost_of_banning(
    problem: CoverProblem, choice: Selection, site: int, time_limit_s: float = 2.0
) -> ChoiceChange | None:
    """What it costs to do without this site and still meet as many: why this site. None where none can."""
    if site in problem.must_hold:
        return None
    banned = replace(problem, forbidden=(*problem.forbidden, site))
    return _change(choice, solve_exact(banned, time_limit_s, enough=sum(choice.met)))


def one_more(problem: CoverProblem, choice: Selection) -> Addition | None:
    """The option that, added at a free site, newly meets most; among equals serves most for its cost.

    None where no option adds anything to a requirement that falls short.
    """
    needs, totals = problem.steps.needs, problem.steps.totals
    now = problem.served(choice.options)
    best: tuple[tuple[float, float], Addition] | None = None
    for option in np.flatnonzero(problem.allowed).tolist():
        if int(problem.site[option]) in choice.sites:
            continue
        then = problem.served([*choice.options, option])
        newly = tuple(int(i) for i in np.flatnonzero((now < needs) & (then >= needs)))
        more = np.minimum(then, needs) - np.minimum(now, needs)
        gained = float((more / totals).sum())
        if gained <= 0:
            continue
        cost = int(problem.cost_steps[option]) * COST_STEP
        rank = (float(len(newly)), gained / max(cost, COST_STEP))
        if best is None or rank > best[0]:
            best = (rank, Addition(option, round(cost, 2), newly, gained))
    return best[1] if best else None


def cheapest_fix(
    problem: CoverProblem, choice: Selection, requirement: int, time_limit_s: float = 2.0
) -> ChoiceChange | None:
    """The cheapest choice that meets this requirement besides all that are met now; None where none does."""
    kept = [i for i, met in enumerate(choice.met) if met or i == requirement]
    narrowed = replace(problem, requirements=tuple(problem.requirements[i] for i in kept))
    return _change(choice, solve_exact(narrowed, time_limit_s))


def most_reachable(problem: CoverProblem, requirement: int) -> float:
    """Share of a requirement's weight served if every option stood at once."""
    everything = np.flatnonzero(problem.allowed).tolist()
    return float(problem.served(everything)[requirement] / problem.steps.totals[requirement])


def _change(choice: Selection, other: Selection) -> ChoiceChange | None:
    if not other.feasible:
        return None
    return ChoiceChange(
        choice=other,
        extra_cost=round(other.cost - choice.cost, 2),
        added=tuple(sorted(set(other.options) - set(choice.options))),
        dropped=tuple(sorted(set(choice.options) - set(other.options))),
    )
