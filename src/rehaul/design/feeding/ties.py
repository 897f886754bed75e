"""Which of equally cheap choices is taken: the best rates, then the ids that come first.

Ids come first as words do: the sorted ids are compared one by one, and a choice that ends sooner comes
before one that goes on. The choice that takes early ids wherever it can is found a few ids at a time, each
worth more than all later ones together; cut off where what it has so far does all that is asked, it is the
first of all.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from rehaul.design.feeding.core import Core
from rehaul.design.feeding.engine import OPTIMAL, relax
from rehaul.design.feeding.figures import Tally
from rehaul.design.feeding.program import INFINITY, Program, program_of
from rehaul.design.feeding.checked import Clock, search

AT_A_TIME = 16  # ids; the first of them is worth 2^15
ROUNDING = 0.01  # hundredths; what the bound of the solver may miss by


def first_of_equals(core: Core, best: Tally, count: int, clock: Clock) -> tuple[Tally, bool]:
    """The first of the choices that cost as little as `best`, the cheapest, and meet `count`.

    Returns
    -------
    The choice, and whether it is sure that it comes first.
    """
    narrow = narrowed(core, best, count, clock)
    open_ways = set(narrow.ways[~narrow.held].tolist()) - set(best.ways)
    if not open_ways:
        return _shortest(core, best, best.ways, count), True
    program = _as_cheap(narrow, best, count)
    if core.figures.rate[list(open_ways)].any():
        objective = np.zeros(len(program.cost))
        objective[: program.ways] = -core.figures.rate[narrow.ways]
        found = search(program, objective, clock, most_cost=best.cost)
        if found.status != OPTIMAL or found.tally is None:
            return _better(best, found.tally), False
        best = found.tally
    return _first_ids(program, narrow, best, count, clock)


def narrowed(core: Core, best: Tally, count: int, clock: Clock) -> Core:
    """Without the ways that no choice as cheap as `best` holds; those that all of them hold are held."""
    program = program_of(core, count)
    relaxed = relax(program, program.cost, clock.left_s)
    if relaxed is None:
        return core
    room = best.cost - relaxed.value + ROUNDING
    reduced, values = relaxed.reduced[: program.ways], relaxed.values[: program.ways]
    chosen = np.isin(core.ways, best.ways)
    stay = chosen | ~((values < 0.5) & (reduced > room))
    held = chosen & (values > 0.5) & (-reduced > room)
    return core.only(core.ways[stay].tolist(), core.ways[held].tolist())


def _as_cheap(core: Core, best: Tally, count: int) -> Program:
    program = program_of(core, count)
    priced = np.flatnonzero(program.cost)
    if len(priced):
        step = float(np.gcd.reduce(program.cost[priced].astype(np.int64)))
        program.add(priced, program.cost[priced] / step, -INFINITY, best.cost // step)
    return program


def _first_ids(program: Program, core: Core, best: Tally, count: int, clock: Clock) -> tuple[Tally, bool]:
    figures = core.figures
    rates = figures.rate[core.ways]
    if rates.any():
        step = float(np.gcd.reduce(rates[rates > 0]))
        program.add(np.flatnonzero(rates), rates[rates > 0] / step, best.rate / step, INFINITY)
    undecided = np.flatnonzero(~core.held).tolist()
    while undecided:
        now, undecided = undecided[:AT_A_TIME], undecided[AT_A_TIME:]
        objective = np.zeros(len(program.cost))
        objective[now] = -(2.0 ** np.arange(len(now))[::-1])
        found = search(program, objective, clock, most_cost=best.cost, least_rate=best.rate)
        if found.status != OPTIMAL or found.tally is None:
            return _better(best, found.tally), False
        best = found.tally
        program.low[now] = program.high[now] = np.isin(core.ways[now], best.ways)
        decided = [way for way in best.ways if way <= int(core.ways[now[-1]])]
        shortest = _shortest(core, best, decided, count)
        if shortest is not best:
            return shortest, True
    return _shortest(core, best, best.ways, count), True


def _shortest(core: Core, best: Tally, ways: Sequence[int], count: int) -> Tally:
    """As few of the first ways as cost as much at the same rate and do as much; `best` where none do."""
    for length in range(min(len(ways), len(best.ways) - 1) + 1):
        tally = core.figures.tally(ways[:length])
        if tally.fits and tally.cost == best.cost and tally.rate == best.rate and sum(tally.met) >= count:
            return tally
    return best


def _better(one: Tally, other: Tally | None) -> Tally:
    return one if other is None or one.key <= other.key else other
