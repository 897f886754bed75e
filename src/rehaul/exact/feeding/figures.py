"""The choice over feeds in whole numbers, and what a set of ways comes to.

Money in hundredths, rates in tenths of a megabit per second, power in milliwatts, shares of a medium in
millionths, weights of places as in the coverage problem: every comparison is exact. Ways and resources stand
in the order of their ids, so the order in which they were given plays no part.
"""

from __future__ import annotations

import copy
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Bools, Wholes
from rehaul.exact.coverage import COST_STEP, CoverProblem
from rehaul.exact.feeding.problem import FeedChoice, FeedProblem, Resource, Way, index_of

RATES_PER_MBPS = 10
MILLIWATTS = 1000
WHOLE_MEDIUM = 10**6
MEDIA = 2  # what is taken: ports, power, then a share of each medium
ROUNDING = 1e-3  # of one step: what a float may miss a whole number by

FigureKey = tuple[int, int, tuple[int, ...]]  # cost, rate turned round, ways: the least is chosen


@dataclass(frozen=True)
class Tally:
    """What a set of ways comes to."""

    ways: tuple[int, ...]
    resources: tuple[int, ...]
    switch: int  # -1 where none is needed
    fits: bool  # one way of a group, and within what is shared
    cost: int  # hundredths
    rate: int
    served: Wholes  # (requirements,) in steps
    counted: Wholes  # (counted,)
    met: tuple[bool, ...]

    @property
    def key(self) -> FigureKey:
        """What choices that do as much are compared by."""
        return self.cost, -self.rate, self.ways


class Figures:
    """A problem in whole numbers; ways and resources are numbered in the order of their ids."""

    def __init__(self, problem: FeedProblem) -> None:
        self.problem = problem
        given = [way.id for way in problem.ways]
        order = sorted(range(len(given)), key=given.__getitem__)
        self.ways: tuple[Way, ...] = tuple(problem.ways[i] for i in order)
        self.resources: tuple[Resource, ...] = tuple(sorted(problem.resources, key=lambda r: r.id))
        self.serves: Bools = problem.serves[order]
        self.groups = index_of(sorted({way.group for way in self.ways}))
        self.group: Wholes = np.array([self.groups[way.group] for way in self.ways], dtype=np.int64)
        self.must = {self.groups[name] for name in problem.must}
        self.must |= {self.groups[way.group] for way in self.ways if way.id in problem.fixed}
        self.cost = _steps([way.cost for way in self.ways], 1 / COST_STEP)
        self.rate = _steps([way.rate_mbps for way in self.ways], RATES_PER_MBPS)
        self.resource_cost = _steps([r.cost for r in self.resources], 1 / COST_STEP)
        users: tuple[Way | Resource, ...] = (*self.ways, *self.resources)
        media = index_of(sorted({medium for user in users for medium, _ in user.loads}))
        self.takes = _takes(self.ways, media)
        self.resource_takes = _takes(self.resources, media)
        sets = index_of(sorted({r.excludes for r in self.resources if r.excludes}))
        self.excludes: Wholes = np.array([sets.get(r.excludes, -1) for r in self.resources], dtype=np.int64)
        places = index_of(resource.id for resource in self.resources)
        self.needs = [tuple(sorted({places[n] for n in way.needs})) for way in self.ways]
        at = {way.id: place for place, way in enumerate(self.ways)}
        self.beside: Bools = np.zeros((len(self.ways), len(self.ways)), dtype=np.bool_)
        for place, way in enumerate(self.ways):
            self.beside[place, [at[other] for other in way.beside]] = True
        self.hangs: Bools = np.asarray(self.beside.any(axis=1))  # (ways,) only chosen beside another
        self.resource_needs = [tuple(sorted({places[n] for n in r.needs})) for r in self.resources]
        self.uses: Bools = np.zeros((len(self.ways), len(self.resources)), dtype=np.bool_)
        for place, needs in enumerate(self.needs):
            self.uses[place, self._in_turn(needs)] = True
        counted = index_of(count.name for count in problem.counted)
        self.counts: Wholes = np.zeros((len(counted), len(self.ways)), dtype=np.int64)
        for place, way in enumerate(self.ways):
            for name, number in way.counts:
                if name in counted:
                    self.counts[counted[name], place] += number
        self.least: Wholes = np.array([c.least for c in problem.counted], dtype=np.int64)
        # the cheapest that is enough; of equal ones the smallest
        self.classes = sorted(
            problem.switch_classes, key=lambda c: (_hundredths(c.cost), c.ports, c.watts, c.id)
        )
        self.class_cost = _steps([c.cost for c in self.classes], 1 / COST_STEP)
        self.class_room: Wholes = np.stack(  # (classes, 2) ports beside the spare ones, power
            [
                np.array([c.ports - problem.spare_ports for c in self.classes], dtype=np.int64),
                _steps([c.watts for c in self.classes], MILLIWATTS),
            ],
            axis=1,
        )

    def held_to(self, must: Sequence[str] = (), forbidden: Sequence[str] = ()) -> Figures:
        """The same ways, of groups of which more must hold one, or may not.

        Parameters: names of groups, beside those of the problem. Raises BadInput for a group that there is
        not, or that is asked for and forbidden. Tables are shared: nobody changes them.
        """
        problem = self.problem.held_to(must, forbidden)
        found = copy.copy(self)
        found.problem = problem
        found.must = self.must | {self.groups[name] for name in must}
        return found

    def _in_turn(self, needs: Sequence[int]) -> list[int]:
        found: set[int] = set()
        waiting = list(needs)
        while waiting:
            resource = waiting.pop()
            if resource not in found:
                found.add(resource)
                waiting += self.resource_needs[resource]
        return list(found)

    @cached_property
    def coverage(self) -> CoverProblem:
        """Ways and places without what is shared."""
        return self.part(np.arange(len(self.ways), dtype=np.int64))

    def part(self, ways: Wholes) -> CoverProblem:
        """These ways and their places without what is shared; a group is a site.

        Parameters: `ways` (n,) numbers of ways. Option i of the answer is `ways[i]`; groups that must hold
        one are pinned. **Source**: docs/exact.md, "The problem", without what is shared.
        """
        group = self.group[ways]
        return CoverProblem(
            site=group,
            kind=np.zeros(len(ways), dtype=np.int64),
            cost=np.asarray(self.cost[ways] * COST_STEP, dtype=np.float64),
            serves=self.serves[ways],
            requirements=self.problem.requirements,
            pinned=tuple(sorted(self.must & set(group.tolist()))),
        )

    def met_by(self, ways: Sequence[int]) -> tuple[bool, ...]:
        """What these ways meet of what is asked, whether they fit together or not.

        Returns requirements, then counted ones, in the order of the problem. **Source**: docs/exact.md, "The
        problem": how much is asked.
        """
        return (*self._served(ways)[1], *self._counted(ways)[1])

    def _served(self, ways: Sequence[int]) -> tuple[Wholes, list[bool]]:
        served = self.coverage.served(ways)
        return served, (served >= self.coverage.steps.needs).tolist()

    def _counted(self, ways: Sequence[int]) -> tuple[Wholes, list[bool]]:
        counted = self.counts[:, list(ways)].sum(axis=1)
        return counted, (counted >= self.least).tolist()

    def tally(self, ways: Sequence[int]) -> Tally:
        """What these ways come to together.

        Parameters: `ways`, numbers in any order. Resources that they need in turn and the cheapest switch
        that is enough are in it; `fits` is false, and the cost then means nothing, where they do not go
        together.

        **Validity**: exact: see the head of this module for the steps. **Source**: docs/exact.md, "The
        problem".
        """
        chosen = tuple(sorted(ways))
        index = list(chosen)
        used = np.flatnonzero(self.uses[index].any(axis=0))
        taken = self.takes[index].sum(axis=0) + self.resource_takes[used].sum(axis=0)
        switch, enough = self._switch_for(taken)
        groups = self.group[index].tolist()
        sets = [at for at in self.excludes[used].tolist() if at >= 0]
        served, first = self._served(chosen)
        counted, second = self._counted(chosen)
        cost = int(self.cost[index].sum() + self.resource_cost[used].sum())
        return Tally(
            ways=chosen,
            resources=tuple(used.tolist()),
            switch=switch,
            fits=enough
            and bool(np.all(self.beside[np.ix_(index, index)].any(axis=1) | ~self.hangs[index]))
            and len(set(groups)) == len(groups)
            and self.must <= set(groups)
            and len(set(sets)) == len(sets)
            and bool(np.all(taken[MEDIA:] <= WHOLE_MEDIUM)),
            cost=cost + (int(self.class_cost[switch]) if switch >= 0 else 0),
            rate=int(self.rate[index].sum()),
            served=served,
            counted=counted,
            met=(*first, *second),
        )

    def carried(self, ways: Sequence[int]) -> Tally:
        """The same, with the cheapest way for each that hangs on one which is not there.

        Parameters: `ways`, numbers. What fits comes first, then what costs least; where nothing can carry a
        way the tally does not fit.

        **Validity**: ways are added one by one, so that for several that hang on others it need not be the
        cheapest. **Source**: docs/exact.md, "The problem": one way hangs on others.
        """
        tally = self.tally(ways)
        for way in tally.ways:
            if self.hangs[way] and not self.beside[way, list(tally.ways)].any():
                taken = set(self.group[list(tally.ways)].tolist())
                more = [
                    self.tally((*tally.ways, other))
                    for other in np.flatnonzero(self.beside[way]).tolist()
                    if int(self.group[other]) not in taken
                ]
                tally = min(more, key=lambda one: (not one.fits, one.key), default=tally)
        return tally

    def _switch_for(self, taken: Wholes) -> tuple[int, bool]:
        """The cheapest class with room for this and the spare ports, -1 for none; whether that will do."""
        if not taken[:MEDIA].any():
            return -1, True
        enough = np.flatnonzero(np.all(self.class_room >= taken[:MEDIA], axis=1))
        return (int(enough[0]), True) if len(enough) else (-1, False)

    @cached_property
    def fits_alone(self) -> Bools:
        """Ways that fit with what they need, were each the only one, (ways,)."""
        taken = self.takes + self.uses.astype(np.int64) @ self.resource_takes
        room = np.all(taken[:, None, :MEDIA] <= self.class_room[None], axis=2).any(axis=1)
        fits = (room | ~taken[:, :MEDIA].any(axis=1)) & np.all(taken[:, MEDIA:] <= WHOLE_MEDIUM, axis=1)
        for at in range(int(self.excludes.max(initial=-1)) + 1):
            fits &= self.uses[:, self.excludes == at].sum(axis=1) <= 1
        return np.asarray(fits, dtype=np.bool_)

    def choice(
        self, tally: Tally, *, bound: float, proven: bool, nodes: int, wanted: int, possible: bool = True
    ) -> FeedChoice:
        """The tally with names and money; `bound` in hundredths.

        Parameters: `wanted`, how many have to be met to be feasible; `possible`, false where nothing does
        what was asked. Where proven the cost is the bound, and the gap is 0. **Source**: docs/exact.md, "The
        problem".
        """
        sure = float(tally.cost) if proven else min(bound, float(tally.cost))
        totals = self.coverage.steps.totals
        return FeedChoice(
            ways=tuple(self.ways[way].id for way in tally.ways),
            resources=tuple(self.resources[r].id for r in tally.resources),
            switch=self.classes[tally.switch].id if tally.switch >= 0 else "",
            cost=round(tally.cost * COST_STEP, 2),
            served=tuple(float(value) for value in tally.served / totals),
            met=tally.met,
            feasible=possible and tally.fits and sum(tally.met) >= wanted,
            bound=round(sure * COST_STEP, 2),
            proven=proven,
            gap=0.0 if proven or tally.cost <= 0 else (tally.cost - sure) / tally.cost,
            nodes=nodes,
            counted=tuple(int(value) for value in tally.counted),
        )


def _steps(values: Sequence[float], per_unit: float) -> NDArray[np.int64]:
    return np.rint(np.asarray(values, dtype=np.float64) * per_unit).astype(np.int64)


def _hundredths(cost: float) -> int:
    return int(_steps([cost], 1 / COST_STEP)[0])


def _takes(users: Sequence[Way | Resource], media: dict[str, int]) -> Wholes:
    """Ports, power and shares of media, (users, 2 + media); shares rounded down: three thirds are a whole."""
    takes = np.zeros((len(users), MEDIA + len(media)), dtype=np.int64)
    takes[:, 0] = [user.ports for user in users]
    takes[:, 1] = _steps([user.watts for user in users], MILLIWATTS)
    for place, user in enumerate(users):
        for medium, share in user.loads:
            takes[place, MEDIA + media[medium]] += int(np.floor(share * WHOLE_MEDIUM + ROUNDING))
    return takes
