"""A walk through all choices of a problem: those that cannot be better are left out by three plain bounds."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import reduce
from operator import add, or_
from typing import NamedTuple

from rehaul.auditor.trial import WHOLE, ChoiceView, OutcomeView, Thing, switch_cost

MOST_TRIALS = 1 << 16


def best_of_all(problem: ChoiceView, known: OutcomeView, most: int | None) -> OutcomeView | None:
    """The best of all choices that cost at most `most`, or None where they are too many to try.

    Three kinds of branch are left out: those that cannot meet more than the best so far and cost as much
    already; those that could not meet as much if every way still open stood at once; and those where, to meet
    as much, something not met yet needs one way more that brings the cost to that of the best.

    Parameters: `known`, an outcome that can be had; `most` in hundredths, no limit where None. Returns
    `known` itself where nothing is better.

    **Validity**: exact up to 65,536 branches. **Source**: docs/auditor.md, `nothing-does-better`.
    """
    try:
        return _Trial(problem, known, most).best_of_all()
    except _TooManyError:
        return None


class _TooManyError(Exception):
    """More choices than are tried."""


@dataclass(frozen=True)
class _Weight:
    """A way or a resource as the walk weighs it: with a way goes what the ways of its group alone use."""

    cost: int
    ports: float
    watts: float
    loads: tuple[tuple[str, float], ...]
    uses: int = 0  # resources of a way, as bits
    rivals: int = 0  # resources that exclude this one, or one that the way uses, as bits
    serves: int = 0
    counts: tuple[float, ...] = ()
    bit: int = 0  # a way's own
    beside: int = 0  # bits of the ways of which one must be there too


class _Sum(NamedTuple):
    """What a choice comes to so far; a walk makes tens of thousands."""

    ways: int = 0  # bits
    used: int = 0  # resources, as bits
    cost: int = 0  # without the switch
    ports: float = 0.0
    watts: float = 0.0
    loads: tuple[tuple[str, float], ...] = ()
    serves: int = 0
    counts: tuple[float, ...] = ()
    beside: tuple[int, ...] = ()  # of each way that needs another: bits of those


class _Trial:
    """One walk through all choices, group by group."""

    def __init__(self, problem: ChoiceView, known: OutcomeView, most: int | None) -> None:
        self.problem, self.best, self.most = problem, known, most
        self.tried = 1
        self.seen: dict[int, int] = {}  # what kinds of place meet, as bits of places
        self.switches: dict[tuple[float, float], int | None] = {}  # what ports and watts cost
        names = {name: place for place, name in enumerate(problem.resources)}
        sets: dict[str, int] = {}
        for name, thing in problem.resources.items():
            if thing.excludes:
                sets[thing.excludes] = sets.get(thing.excludes, 0) | 1 << names[name]
        self.resources = [
            _Weight(
                *(thing.cost, thing.ports, thing.watts, thing.loads),
                rivals=sets.get(thing.excludes, 0) & ~(1 << names[name]),
            )
            for name, thing in problem.resources.items()
        ]
        bits = {way.id: 1 << place for place, way in enumerate(problem.ways)}
        self.groups = self._lone_with_their_ways(
            [
                tuple(None if way is None else self._weight(way, names, bits) for way in options)
                for options in problem.groups()
            ]
        )
        self.groups.sort(key=_said_early)  # what closes most branches first
        self.open = [(0, tuple(0.0 for _ in problem.counted))]  # what all ways from a group on give together
        for options in reversed(self.groups):
            served, counts = self.open[-1]
            for way in options:
                if way is not None:
                    served |= way.serves
                    counts = _plus(counts, way.counts)
            self.open.append((served, counts))
        self.open.reverse()
        self.least = self._least_more()

    def _weight(self, way: Thing, names: dict[str, int], bits: dict[str, int]) -> _Weight | None:
        """The way, or None where what it needs is not there."""
        if not set(way.needs) <= set(names):
            return None
        counts = dict(way.counts)
        return _Weight(
            *(way.cost, way.ports, way.watts, way.loads),
            uses=sum(1 << names[name] for name in set(way.needs)),
            serves=way.serves,
            counts=tuple(counts.get(name, 0.0) for name, _ in self.problem.counted),
            bit=bits[way.id],
            beside=sum(bits.get(name, 0) for name in set(way.beside)) if way.beside else 0,
        )

    def _lone_with_their_ways(
        self, groups: list[tuple[_Weight | None, ...]]
    ) -> list[tuple[_Weight | None, ...]]:
        """The same groups, with what no other group uses in the weight of the ways themselves.

        What excludes another stays among what a way uses, at no cost.
        """
        used = (reduce(or_, (way.uses for way in options if way), 0) for options in groups)
        users = Counter(place for bits in used for place in _places(bits))
        lone = {place: self.resources[place] for place, number in users.items() if number == 1}
        for place, thing in lone.items():
            self.resources[place] = _Weight(0, 0.0, 0.0, (), rivals=thing.rivals)
        gone = sum(1 << place for place, thing in lone.items() if not thing.rivals)

        def with_its_own(way: _Weight) -> _Weight:
            own = [lone[place] for place in _places(way.uses) if place in lone]
            return replace(
                way,
                cost=way.cost + sum(thing.cost for thing in own),
                ports=way.ports + sum(thing.ports for thing in own),
                watts=way.watts + sum(thing.watts for thing in own),
                loads=(*way.loads, *(load for thing in own for load in thing.loads)),
                uses=way.uses & ~gone,
                rivals=reduce(or_, (self.resources[place].rivals for place in _places(way.uses)), 0),
            )

        return [tuple(way and with_its_own(way) for way in options) for options in groups]

    def _least_more(self) -> list[list[tuple[float, int]]]:
        """What a way that gives anything of each thing asked costs at least, of the groups from each on.

        Of each group (cost, bit of the thing asked), the dearest first.
        """
        kinds = [reduce(or_, (bit for bit, _ in each.weights), 0) for each in self.problem.asked]
        least = [tuple(math.inf for _ in (*kinds, *self.problem.counted))]
        for options in reversed(self.groups):
            found = list(least[-1])
            for way in options:
                if way is not None:
                    gives = (*(bool(way.serves & bits) for bits in kinds), *(n > 0 for n in way.counts))
                    found = [min(a, way.cost) if b else a for a, b in zip(found, gives, strict=True)]
            least.append(tuple(found))
        return [
            sorted(((cost, 1 << place) for place, cost in enumerate(row)), reverse=True)
            for row in reversed(least)
        ]

    def best_of_all(self) -> OutcomeView:
        self._go(0, _Sum(counts=tuple(0.0 for _ in self.problem.counted)), 0)
        return self.best

    def _go(self, place: int, so_far: _Sum, cost: int) -> None:
        """All choices that begin so; `cost` grows with every way, so it bounds all that follow."""
        if self.most is not None and cost > self.most:
            return
        known, best_cost = len(self.best.met), self.best.cost
        served, counts = self.open[place]
        hoped = self._met(so_far.serves | served, _plus(so_far.counts, counts))
        if hoped.bit_count() < known + (cost >= best_cost):
            return
        limit = best_cost if hoped.bit_count() == known else math.inf  # all of it has to be met, for less
        if limit < math.inf:
            missing = hoped & ~self._met(so_far.serves, so_far.counts)
            for least, bit in self.least[place]:  # the dearest first
                if cost + least < limit:
                    break
                if missing & bit:
                    return
        if place == len(self.groups):
            if all(so_far.ways & others for others in so_far.beside):
                found = OutcomeView(frozenset(_places(hoped)), cost)
                if found.rank < self.best.rank:
                    self.best = found
            return
        self.tried += len(self.groups[place])
        if self.tried > MOST_TRIALS:
            raise _TooManyError
        for way in self.groups[place]:
            if way is None:
                self._go(place + 1, so_far, cost)
            elif cost + way.cost < limit and not way.rivals & (so_far.used | way.uses):
                more = self._with(so_far, way)
                then = self._cost(more)
                if then is not None and then < limit:
                    self._go(place + 1, more, then)

    def _with(self, so_far: _Sum, way: _Weight) -> _Sum:
        """One way more, with what it uses and nothing did before."""
        used = so_far.used | way.uses
        cost, ports, watts = so_far.cost + way.cost, so_far.ports + way.ports, so_far.watts + way.watts
        loads = (*so_far.loads, *way.loads)
        fresh = way.uses & ~so_far.used
        while fresh:
            resource = self.resources[(fresh & -fresh).bit_length() - 1]
            cost, ports, watts = cost + resource.cost, ports + resource.ports, watts + resource.watts
            loads = (*loads, *resource.loads)
            fresh &= fresh - 1
        beside = (*so_far.beside, way.beside) if way.beside else so_far.beside
        counts = _plus(so_far.counts, way.counts)
        return _Sum(
            *(so_far.ways | way.bit, used, cost, ports, watts, loads, so_far.serves | way.serves),
            counts,
            beside,
        )

    def _cost(self, found: _Sum) -> int | None:
        """With the switch; None where it does not fit on one or a medium is taken more than whole."""
        taken: dict[str, float] = {}
        for medium, share in found.loads:
            taken[medium] = taken.get(medium, 0.0) + share
        if any(share > WHOLE for share in taken.values()):
            return None
        asked = found.ports, found.watts
        if asked not in self.switches:
            self.switches[asked] = switch_cost(self.problem, *asked)
        switch = self.switches[asked]
        return None if switch is None else found.cost + switch

    def _met(self, served: int, counts: tuple[float, ...]) -> int:
        """What these kinds of place and numbers meet, as bits of places."""
        asked = self.problem.asked
        met = self.seen.get(served)
        if met is None:
            met = self.seen[served] = sum(1 << i for i, each in enumerate(asked) if each.is_met(served))
        for i, number in enumerate(counts, len(asked)):
            if number >= self.problem.counted[i - len(asked)][1]:
                met |= 1 << i
        return met


def _places(bits: int) -> Iterator[int]:
    """Places of the bits that are set, the lowest first."""
    while bits:
        yield (bits & -bits).bit_length() - 1
        bits &= bits - 1


def _said_early(options: tuple[_Weight | None, ...]) -> tuple[bool, float, int]:
    """Groups that may not stay empty come first, then those that count, then those that serve most."""
    ways = [way for way in options if way is not None]
    served = 0
    for way in ways:
        served |= way.serves
    return None in options, -sum(sum(way.counts) for way in ways), -served.bit_count()


def _plus(one: tuple[float, ...], other: tuple[float, ...]) -> tuple[float, ...]:
    return tuple(map(add, one, other))
