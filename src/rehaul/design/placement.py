"""Which sites get which access point: least cost that meets what is asked, proven, and the front of cost."""

from __future__ import annotations

from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace

import numpy as np

from rehaul.design.coverage import CoverProblem, Selection
from rehaul.design.exact import BoundProgress, SharedWarm, solve_exact

CHAINS = 2  # searches of a front side by side


@dataclass(frozen=True)
class FrontStep:
    """The least that meeting this many requirements costs."""

    met: int
    choice: Selection


def solve(
    problem: CoverProblem,
    time_limit_s: float = 10.0,
    *,
    enough: int | None = None,
    progress: BoundProgress | None = None,
) -> Selection:
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


def front(problem: CoverProblem, time_limit_s: float = 10.0) -> tuple[FrontStep, ...]:
    """Least cost for every number of requirements met, from none to as many as can be.

    Numbers that a cheaper or equally cheap choice already passes are left out. Searched in two threads.

    **Validity** each point as exact as its `choice` says; the limit of time holds for each point.
    """
    counts = list(range(reachable(problem), -1, -1))
    with ThreadPoolExecutor(CHAINS) as pool:  # the compiled search runs outside the interpreter's lock
        parts = [counts[first::CHAINS] for first in range(CHAINS)]
        found = pool.map(lambda part: _chain(problem, part, time_limit_s), parts)
        choices = [choice for part in found for choice in part if choice.feasible]
    points: list[FrontStep] = []
    for choice in sorted(choices, key=lambda choice: (-sum(choice.met), choice.cost)):
        if not points or choice.cost < points[-1].choice.cost:
            points.append(FrontStep(sum(choice.met), choice))
    return tuple(reversed(points))


def _chain(problem: CoverProblem, counts: Sequence[int], time_limit_s: float) -> list[Selection]:
    """Choices for falling numbers of requirements, each search starting from the one before."""
    warm = SharedWarm()
    start: tuple[int, ...] | None = None
    choices = []
    for count in counts:
        choice = solve_exact(problem, time_limit_s, enough=count, start=start, warm=warm)
        start = choice.options if choice.feasible else None
        choices.append(choice)
    return choices


def reachable(problem: CoverProblem) -> int:
    """The most requirements that could be met if every option stood at once."""
    everything = np.flatnonzero(problem.allowed).tolist()
    return int(np.count_nonzero(problem.served(everything) >= problem.steps.needs))
