"""Who does which stint and when: the shortest finish, then the fewest walks, by a scheduling solver.

One worker thread, a fixed seed and a limit counted in the solver's own deterministic time: the same job
gives the same timetable on every machine.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise, permutations
from typing import Protocol

from rehaul.facts.work import allowances
from rehaul.takeoff.schedule_model import ScheduleModel
from rehaul.takeoff.stints import Stint

MINUTE_WEIGHT = 1000  # a minute of finish outweighs any number of walks
SEED = 7
EFFORT = 0.1  # deterministic time of the solver, a fifth of a second of processor or so
GROUND = 0  # the node of every person's round that is no stint
REMEMBERED = 100  # rosters: an edit seldom changes the work of more than one phase


class Somewhere(Protocol):
    """What is done at one place."""

    @property
    def place(self) -> str: ...
    @property
    def storey(self) -> str: ...


@dataclass(frozen=True)
class _Work:
    """What a roster depends on of a stint."""

    place: str
    storey: str
    minutes: int
    after: tuple[int, ...]


@dataclass(frozen=True)
class Roster:
    """Start and person of every stint; how good it is proven to be."""

    starts_min: tuple[int, ...]
    people: tuple[int, ...]  # 1 or 2, for each stint
    finish_min: int
    walks: int  # times somebody goes from one place to another
    least_finish_min: int  # no timetable of these stints finishes sooner
    proven: bool


def walk_min(one: Somewhere, other: Somewhere, levels_m: Mapping[str, float]) -> int:
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
    works = tuple(_Work(one.place, one.storey, one.minutes, one.after) for one in stints)
    return _rostered(works, people, tuple(levels_m.items()), effort)


@lru_cache(REMEMBERED)
def _rostered(
    stints: tuple[_Work, ...], people: int, levels: tuple[tuple[str, float], ...], effort: float
) -> Roster:
    if not stints:
        return Roster((), (), 0, 0, 0, True)
    levels_m = dict(levels)
    model = ScheduleModel()
    n = len(stints)
    horizon = sum(stint.minutes for stint in stints) + n * max(
        (walk_min(a, b, levels_m) for a, b in permutations(stints, 2)), default=0
    )
    starts = [model.whole(0, horizon) for _ in stints]
    finish = model.whole(0, horizon)
    intervals = [model.interval(start, stint.minutes) for start, stint in zip(starts, stints, strict=True)]
    for i, stint in enumerate(stints):
        model.at_least([(1, finish), (-1, starts[i])], stint.minutes)
        for before in stint.after:
            model.at_least([(1, starts[i]), (-1, starts[before])], stints[before].minutes)
    model.apart(intervals) if people == 1 else _apart(model, stints, intervals, levels_m)
    does = [[model.yes_no() for _ in range(people)] for _ in stints]
    walks: list[int] = []
    for row in does:
        model.exactly_one(row)
    model.is_yes(does[0][0])
    for p in range(people):
        walks += _round(model, stints, starts, [row[p] for row in does], levels_m, finish)
    model.minimise([(MINUTE_WEIGHT, finish), *((1, walk) for walk in walks)])
    _hint(model, stints, starts, does, finish, levels_m)
    found = model.solved(effort, SEED)
    least = _least_min(stints, people)
    least = max(least, int(found.bound // MINUTE_WEIGHT))
    if not found.values:  # so much work that nothing was found in time
        starts_min, finish_min = _in_order(stints, levels_m)
        walked = sum(walk_min(one, other, levels_m) > 0 for one, other in pairwise(stints))
        return Roster(starts_min, (1,) * n, finish_min, walked, min(least, finish_min), False)
    return Roster(
        starts_min=tuple(found.values[start] for start in starts),
        people=tuple(1 + [bool(found.values[cell]) for cell in row].index(True) for row in does),
        finish_min=found.values[finish],
        walks=sum(found.values[walk] for walk in walks),
        least_finish_min=least,
        proven=found.proven,
    )


def _least_min(stints: Sequence[_Work], people: int) -> int:
    """A bound from below without the solver: the work shared evenly, every place walked to once."""
    work = sum(stint.minutes for stint in stints)
    places = len({(stint.place, stint.storey) for stint in stints})
    walked = max(places - people, 0) * round(allowances()["walk_room"])
    return -(-(work + walked) // people)


def _round(
    model: ScheduleModel,
    stints: Sequence[_Work],
    starts: Sequence[int],
    mine: Sequence[int],
    levels_m: Mapping[str, float],
    finish: int,
) -> list[int]:
    """One person's round through their stints; returns a literal for every walk it may hold."""
    arcs = [(i + 1, i + 1, ~mine[i]) for i in range(len(stints))]
    idle = model.yes_no()
    arcs.append((GROUND, GROUND, idle))
    walks = []
    takes = [(-stint.minutes, does) for stint, does in zip(stints, mine, strict=True)]
    reach = _ancestors(stints)
    for i, stint in enumerate(stints):
        arcs += [(GROUND, i + 1, model.yes_no()), (i + 1, GROUND, model.yes_no())]
        model.implies(mine[i], ~idle)
        for j, other in enumerate(stints):
            if i == j or j in reach[i]:  # what comes before never follows
                continue
            arc = model.yes_no()
            arcs.append((i + 1, j + 1, arc))
            way = walk_min(stint, other, levels_m)
            model.at_least([(1, starts[j]), (-1, starts[i])], stint.minutes + way, when=arc)
            if way:
                walks.append(arc)
                takes.append((-way, arc))
    model.circuit(arcs)
    model.at_least([(1, finish), *takes], 0)  # follows from the rest, and proves much of it
    return walks


def _ancestors(stints: Sequence[_Work]) -> list[set[int]]:
    found: list[set[int]] = []
    for stint in stints:
        found.append(set(stint.after).union(*(found[before] for before in stint.after)))
    return found


def _apart(
    model: ScheduleModel,
    stints: Sequence[_Work],
    intervals: Sequence[int],
    levels_m: Mapping[str, float],
) -> None:
    """Two people are never at one place at a time, nor on one storey of a house that has several."""
    by_place: dict[str, list[int]] = {}
    for stint, interval in zip(stints, intervals, strict=True):
        several = len(levels_m) > 1 and stint.storey
        by_place.setdefault(f"storey {stint.storey}" if several else stint.place, []).append(interval)
    for together in by_place.values():
        model.apart(together)


def _hint(
    model: ScheduleModel,
    stints: Sequence[_Work],
    starts: Sequence[int],
    does: Sequence[Sequence[int]],
    finish: int,
    levels_m: Mapping[str, float],
) -> None:
    """A timetable that surely works: everything by the first person, in the given order."""
    known, ends = _in_order(stints, levels_m)
    values: list[tuple[int, int]] = []
    for i, start in enumerate(known):
        values.append((starts[i], start))
        values += [(cell, int(person == 0)) for person, cell in enumerate(does[i])]
    model.hint([*values, (finish, ends)])


def _in_order(stints: Sequence[_Work], levels_m: Mapping[str, float]) -> tuple[tuple[int, ...], int]:
    """Starts of all stints, one after another by one person, and when the last ends [min]."""
    now, starts = 0, []
    for i, stint in enumerate(stints):
        now += walk_min(stints[i - 1], stint, levels_m) if i else 0
        starts.append(now)
        now += stint.minutes
    return tuple(starts), now
