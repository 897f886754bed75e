"""Who does which stint and when: the shortest finish, then the fewest walks, by a scheduling solver.

One worker thread, a fixed seed and a limit counted in the solver's own deterministic time: the same job
gives the same timetable on every machine.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise, permutations
from typing import TYPE_CHECKING

from rehaul.facts.work import allowances
from rehaul.takeoff.stints import Stint

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

MINUTE_WEIGHT = 1000  # a minute of finish outweighs any number of walks
SEED = 7
EFFORT = 0.1  # deterministic time of the solver, about half a second of processor
GROUND = 0  # the node of every person's round that is no stint


@dataclass(frozen=True)
class Roster:
    """Start and person of every stint; how good it is proven to be."""

    starts_min: tuple[int, ...]
    people: tuple[int, ...]  # 1 or 2, for each stint
    finish_min: int
    walks: int  # times somebody goes from one place to another
    least_finish_min: int  # no timetable of these stints finishes sooner
    proven: bool


def load_solver() -> None:
    """Import the solver ahead of its use: a quarter of a second that may pass beside other work."""
    from ortools.sat.python import cp_model  # noqa: F401


def walk_min(one: Stint, other: Stint, levels_m: Mapping[str, float]) -> int:
    """Minutes from one stint's place to the other's; 0 in one place.

    So much for leaving the room and so much for each storey between; one that is not known counts as the
    same.

    **Source**: `walk_room` and `walk_storey` of the allowances (trade judgement; docs/work.md, "Times").
    """
    if (one.place, one.storey) == (other.place, other.storey):
        return 0
    order = sorted(levels_m, key=lambda storey: levels_m[storey])
    known = one.storey in levels_m and other.storey in levels_m
    floors = abs(order.index(one.storey) - order.index(other.storey)) if known else 0
    return round(allowances()["walk_room"] + floors * allowances()["walk_storey"])


def roster(
    stints: Sequence[Stint], people: int, levels_m: Mapping[str, float], *, effort: float = EFFORT
) -> Roster:
    """The timetable of stints for one or two people.

    Parameters
    ----------
    people : 1 or 2; two never work on one storey at a time, nor at one place where there is one storey
    levels_m : elevation of every storey by its id
    effort : the solver's deterministic time, about seconds

    **Source**: OR-tools CP-SAT; docs/work.md, "Times".
    """
    if not stints:
        return Roster((), (), 0, 0, 0, True)
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    n = len(stints)
    horizon = sum(stint.minutes for stint in stints) + n * max(
        (walk_min(a, b, levels_m) for a, b in permutations(stints, 2)), default=0
    )
    starts = [model.new_int_var(0, horizon, f"start{i}") for i in range(n)]
    finish = model.new_int_var(0, horizon, "finish")
    intervals = [
        model.new_fixed_size_interval_var(starts[i], stints[i].minutes, f"stint{i}") for i in range(n)
    ]
    for i, stint in enumerate(stints):
        model.add(finish >= starts[i] + stint.minutes)
        for before in stint.after:
            model.add(starts[i] >= starts[before] + stints[before].minutes)
    model.add_no_overlap(intervals) if people == 1 else _apart(model, stints, intervals, levels_m)
    does = [[model.new_bool_var(f"does{i}_{p}") for p in range(people)] for i in range(n)]
    walks = []
    for row in does:
        model.add_exactly_one(row)
    model.add(does[0][0] == 1)
    for p in range(people):
        walks += _round(model, stints, starts, [row[p] for row in does], p, levels_m)
    model.minimize(MINUTE_WEIGHT * finish + sum(walks))
    _hint(model, stints, starts, does, finish, levels_m)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = SEED
    solver.parameters.max_deterministic_time = effort
    status = solver.solve(model)
    least = _least_min(stints, people)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):  # so much work that nothing was found in time
        starts_min, finish_min = _in_order(stints, levels_m)
        walked = sum(walk_min(one, other, levels_m) > 0 for one, other in pairwise(stints))
        bound = max(least, int(solver.best_objective_bound // MINUTE_WEIGHT))
        return Roster(starts_min, (1,) * n, finish_min, walked, min(bound, finish_min), False)
    return Roster(
        starts_min=tuple(int(solver.value(start)) for start in starts),
        people=tuple(1 + [bool(solver.value(cell)) for cell in row].index(True) for row in does),
        finish_min=int(solver.value(finish)),
        walks=sum(int(solver.value(walk)) for walk in walks),
        least_finish_min=max(least, int(solver.best_objective_bound // MINUTE_WEIGHT)),
        proven=status == cp_model.OPTIMAL,
    )


def _least_min(stints: Sequence[Stint], people: int) -> int:
    """A bound from below without the solver: the work shared evenly, every place walked to once."""
    work = sum(stint.minutes for stint in stints)
    places = len({(stint.place, stint.storey) for stint in stints})
    walked = max(places - people, 0) * round(allowances()["walk_room"])
    return -(-(work + walked) // people)


def _round(
    model: cp_model.CpModel,
    stints: Sequence[Stint],
    starts: Sequence[cp_model.IntVar],
    mine: Sequence[cp_model.IntVar],
    person: int,
    levels_m: Mapping[str, float],
) -> list[cp_model.IntVar]:
    """One person's round through their stints; returns a literal for every walk it may hold."""
    arcs: list[tuple[int, int, cp_model.LiteralT]] = [(i + 1, i + 1, ~mine[i]) for i in range(len(stints))]
    idle = model.new_bool_var(f"idle{person}")
    arcs.append((GROUND, GROUND, idle))
    walks = []
    reach = _ancestors(stints)
    for i, stint in enumerate(stints):
        arcs.append((GROUND, i + 1, model.new_bool_var(f"first{person}_{i}")))
        arcs.append((i + 1, GROUND, model.new_bool_var(f"last{person}_{i}")))
        model.add_implication(mine[i], ~idle)
        for j, other in enumerate(stints):
            if i == j or j in reach[i]:  # what comes before never follows
                continue
            arc = model.new_bool_var(f"arc{person}_{i}_{j}")
            arcs.append((i + 1, j + 1, arc))
            way = walk_min(stint, other, levels_m)
            model.add(starts[j] >= starts[i] + stint.minutes + way).only_enforce_if(arc)
            if way:
                walks.append(arc)
    model.add_circuit(arcs)
    return walks


def _ancestors(stints: Sequence[Stint]) -> list[set[int]]:
    found: list[set[int]] = []
    for stint in stints:
        found.append(set(stint.after).union(*(found[before] for before in stint.after)))
    return found


def _apart(
    model: cp_model.CpModel,
    stints: Sequence[Stint],
    intervals: Sequence[cp_model.IntervalVar],
    levels_m: Mapping[str, float],
) -> None:
    """Two people are never at one place at a time, nor on one storey of a house that has several."""
    by_place: dict[str, list[cp_model.IntervalVar]] = {}
    for stint, interval in zip(stints, intervals, strict=True):
        several = len(levels_m) > 1 and stint.storey
        by_place.setdefault(f"storey {stint.storey}" if several else stint.place, []).append(interval)
    for together in by_place.values():
        model.add_no_overlap(together)


def _hint(
    model: cp_model.CpModel,
    stints: Sequence[Stint],
    starts: Sequence[cp_model.IntVar],
    does: Sequence[Sequence[cp_model.IntVar]],
    finish: cp_model.IntVar,
    levels_m: Mapping[str, float],
) -> None:
    """A timetable that surely works: everything by the first person, in the given order."""
    known, ends = _in_order(stints, levels_m)
    for i, start in enumerate(known):
        model.add_hint(starts[i], start)
        for person, cell in enumerate(does[i]):
            model.add_hint(cell, int(person == 0))
    model.add_hint(finish, ends)


def _in_order(stints: Sequence[Stint], levels_m: Mapping[str, float]) -> tuple[tuple[int, ...], int]:
    """Starts of all stints, one after another by one person, and when the last ends [min]."""
    now, starts = 0, []
    for i, stint in enumerate(stints):
        now += walk_min(stints[i - 1], stint, levels_m) if i else 0
        starts.append(now)
        now += stint.minutes
    return tuple(starts), now
