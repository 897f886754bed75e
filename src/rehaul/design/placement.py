"""Which sites get which access point: least cost that meets what is asked, proven, and the front of cost."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from rehaul.design.coverage import Choice, Problem
from rehaul.design.exact import Progress, solve_exact


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
    progress : called now and then with the best cost so far and the proven bound

    Returns
    -------
    The choice. `feasible` is false where what was asked cannot be met by any choice; it then holds the
    cheapest of those that meet the most requirements.

    **Validity** exact where `proven`; costs are compared in hundredths of the money unit, weights of places
    to 1e-9 of their total. A limit of time makes the answer depend on the machine; `proven` ones never do.
    """
    wanted = len(problem.requirements) if enough is None else enough
    choice = None
    for count in range(min(wanted, reachable(problem)), -1, -1):
        choice = solve_exact(problem, time_limit_s, enough=count, progress=progress)
        if choice.feasible or not choice.proven:
            return choice if count == wanted else replace(choice, feasible=False)
    return choice or solve_exact(problem, time_limit_s, enough=0)


def front(problem: Problem, time_limit_s: float = 10.0) -> tuple[FrontPoint, ...]:
    """Least cost for every number of requirements met, from none to as many as can be.

    Numbers that a cheaper or equally cheap choice already passes are left out.

    **Validity** each point as exact as its `choice` says; the limit of time holds for each point.
    """
    points: list[FrontPoint] = []
    start: tuple[int, ...] | None = None
    count = reachable(problem)
    while count >= 0:
        choice = solve_exact(problem, time_limit_s, enough=count, start=start)
        if choice.feasible and (not points or choice.cost < points[-1].choice.cost):
            points.append(FrontPoint(sum(choice.met), choice))
            start = choice.options
        count -= 1
    return tuple(reversed(points))


def reachable(problem: Problem) -> int:
    """The most requirements that could be met if every option stood at once."""
    everything = np.flatnonzero(problem.allowed).tolist()
    return int(np.count_nonzero(problem.served(everything) >= problem.steps.needs))
