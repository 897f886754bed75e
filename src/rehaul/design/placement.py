"""Which sites get which access point: least cost that meets what is asked, proven, and the front of cost."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from rehaul.design.coverage import Choice, Problem
from rehaul.design.general import solve_general

Progress = Callable[[float, float], None]  # cost of the best so far, proven bound; money


@dataclass(frozen=True)
class FrontPoint:
    """The least that meeting this many requirements costs."""

    met: int
    choice: Choice


def solve(
    problem: Problem,
    time_limit_s: float = 10.0,
    *,
    enough: int | None = None,
    progress: Progress | None = None,
) -> Choice:
    """Least cost that meets every requirement, or `enough` of them; where that cannot be, as many as can be.

    Parameters
    ----------
    problem : sites, kinds, costs, what they serve and what is asked
    time_limit_s : stop here with the best found and the gap that remains
    enough : number of requirements to meet; all where None
    progress : called with the best cost so far and the proven bound

    Returns
    -------
    The choice. `feasible` is false where what was asked cannot be met by any choice; it then holds the
    cheapest of those that meet the most requirements.

    **Validity** exact where `proven`; costs are compared in hundredths of the money unit.
    """
    wanted = len(problem.requirements) if enough is None else enough
    for count in range(min(wanted, _reachable(problem)), -1, -1):
        choice = solve_general(problem, time_limit_s, enough=count)
        if choice.feasible or not choice.proven:
            break
    if progress is not None:
        progress(choice.cost, choice.bound)
    return choice if count == wanted else replace(choice, feasible=False)


def front(problem: Problem, time_limit_s: float = 10.0) -> tuple[FrontPoint, ...]:
    """Least cost for every number of requirements met, from none to as many as can be.

    Numbers that a cheaper or equally cheap choice already passes are left out.

    **Validity** each point as exact as its `choice` says.
    """
    points: list[FrontPoint] = []
    for count in range(_reachable(problem), -1, -1):
        choice = solve_general(problem, time_limit_s, enough=count)
        met = sum(choice.met)
        if choice.feasible and (not points or choice.cost < points[-1].choice.cost):
            points.append(FrontPoint(met, choice))
    return tuple(reversed(points))


def _reachable(problem: Problem) -> int:
    """The most requirements that could be met if every option stood at once."""
    merged = problem.merged
    everything = np.flatnonzero(problem.allowed).tolist()
    return int(np.count_nonzero(merged.served(everything) >= merged.needs))
