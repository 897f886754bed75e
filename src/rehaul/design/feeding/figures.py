"""The choice over feeds in whole numbers, and what a set of ways comes to.

Money in hundredths, rates in tenths of a megabit per second, power in milliwatts, shares of a medium in
millionths, weights of places as in the coverage problem: every comparison is exact. Ways and resources stand
in the order of their ids, so the order in which they were given plays no part.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from rehaul.design.coverage import COST_STEP, BoolArray, IntArray, Problem
from rehaul.design.feeding.problem import FeedChoice, FeedProblem, Resource, Way, index_of

RATES_PER_MBPS = 10
MILLIWATTS = 1000
WHOLE_MEDIUM = 10**6
ROUNDING = 1e-3  # of one step: what a float may miss a whole number by

Loads = tuple[tuple[int, int], ...]  # medium, share in millionths
Key = tuple[int, int, tuple[int, ...]]  # cost, rate turned round, ways: the least is chosen


@dataclass(frozen=True)
class Tally:
    """What a set of ways comes to."""

    ways: tuple[int, ...]
    resources: tuple[int, ...]
    switch: int  # -1 where none is needed
    fits: bool  # one way of a group, and within what is shared
    cost: int  # hundredths
    rate: int
    served: IntArray  # (requirements,) in steps
    counted: IntArray  # (counted,)
    met: tuple[bool, ...]

    @property
    def key(self) -> Key:
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
        self.serves: BoolArray = problem.serves[order]
        self.groups = index_of(sorted({way.group for way in self.ways}))
        self.group: IntArray = np.array([self.groups[way.group] for way in self.ways], dtype=np.int64)
        self.must = {self.groups[name] for name in problem.must}
        self.must |= {self.groups[way.group] for way in self.ways if way.id in problem.fixed}
        self.cost = _steps([way.cost for way in self.ways], 1 / COST_STEP)
        self.rate = _steps([way.rate_mbps for way in self.ways], RATES_PER_MBPS)
        self.ports: IntArray = np.array([way.ports for way in self.ways], dtype=np.int64)
        self.power = _steps([way.watts for way in self.ways], MILLIWATTS)
        self.resource_cost = _steps([r.cost for r in self.resources], 1 / COST_STEP)
        self.resource_ports: IntArray = np.array([r.ports for r in self.resources], dtype=np.int64)
        self.resource_power = _steps([r.watts for r in self.resources], MILLIWATTS)
        both: tuple[Way | Resource, ...] = (*self.ways, *self.resources)
        media = index_of(sorted({medium for user in both for medium, _ in user.loads}))
        self.media = len(media)
        self.loads = [_loads(way, media) for way in self.ways]
        self.resource_loads = [_loads(resource, media) for resource in self.resources]
        places = index_of(resource.id for resource in self.resources)
        self.direct = [tuple(sorted({places[n] for n in user.needs})) for user in both]
        self.uses = [self._in_turn(way) for way in range(len(self.ways))]
        counted = index_of(count.name for count in problem.counted)
        self.counts: IntArray = np.zeros((len(counted), len(self.ways)), dtype=np.int64)
        for place, way in enumerate(self.ways):
            for name, number in way.counts:
                if name in counted:
                    self.counts[counted[name], place] += number
        self.least: IntArray = np.array([c.least for c in problem.counted], dtype=np.int64)
        # the cheapest that is enough; of equal ones the smallest
        self.classes = sorted(
            problem.switch_classes, key=lambda c: (_hundredths(c.cost), c.ports, c.watts, c.id)
        )
        self.class_cost = _steps([c.cost for c in self.classes], 1 / COST_STEP)
        self.class_ports: IntArray = np.array(
            [c.ports - problem.spare_ports for c in self.classes], dtype=np.int64
        )
        self.class_power = _steps([c.watts for c in self.classes], MILLIWATTS)

    def direct_of(self, resource: int) -> tuple[int, ...]:
        """Resources that a resource needs itself."""
        return self.direct[len(self.ways) + resource]

    def _in_turn(self, way: int) -> frozenset[int]:
        found: set[int] = set()
        waiting = list(self.direct[way])
        while waiting:
            resource = waiting.pop()
            if resource not in found:
                found.add(resource)
                waiting += self.direct_of(resource)
        return frozenset(found)

    @cached_property
    def coverage(self) -> Problem:
        """Ways and places without what is shared."""
        return self.part(np.arange(len(self.ways), dtype=np.int64))

    def part(self, ways: IntArray) -> Problem:
        """These ways and their places without what is shared; a group is a site."""
        group = self.group[ways]
        return Problem(
            site=group,
            kind=np.zeros(len(ways), dtype=np.int64),
            cost=np.asarray(self.cost[ways] * COST_STEP, dtype=np.float64),
            serves=self.serves[ways],
            requirements=self.problem.requirements,
            pinned=tuple(sorted(self.must & set(group.tolist()))),
        )

    def switch_for(self, ports: int, power: int) -> int:
        """The cheapest class with these ports, the spare ones and this power; -1 where none has."""
        enough = np.flatnonzero((self.class_ports >= ports) & (self.class_power >= power))
        return int(enough[0]) if len(enough) else -1

    def met_by(self, ways: Sequence[int]) -> tuple[bool, ...]:
        """What these ways meet of what is asked, whether they fit together or not."""
        return (*self._served(ways)[1], *self._counted(ways)[1])

    def _served(self, ways: Sequence[int]) -> tuple[IntArray, list[bool]]:
        served = self.coverage.served(ways)
        return served, (served >= self.coverage.steps.needs).tolist()

    def _counted(self, ways: Sequence[int]) -> tuple[IntArray, list[bool]]:
        counted = self.counts[:, list(ways)].sum(axis=1)
        return counted, (counted >= self.least).tolist()

    def tally(self, ways: Sequence[int]) -> Tally:
        """What these ways come to together."""
        chosen = tuple(sorted(ways))
        index = list(chosen)
        used = sorted(frozenset().union(*(self.uses[way] for way in chosen)))
        ports = int(self.ports[index].sum() + self.resource_ports[used].sum())
        power = int(self.power[index].sum() + self.resource_power[used].sum())
        needs_switch = ports > 0 or power > 0
        switch = self.switch_for(ports, power) if needs_switch else -1
        groups = self.group[index].tolist()
        fits = len(set(groups)) == len(groups) and self.must <= set(groups)
        fits = fits and (switch >= 0 or not needs_switch) and self._shares_fit(chosen, used)
        cost = int(self.cost[index].sum() + self.resource_cost[used].sum())
        served, first = self._served(chosen)
        counted, second = self._counted(chosen)
        return Tally(
            ways=chosen,
            resources=tuple(used),
            switch=switch,
            fits=fits,
            cost=cost + (int(self.class_cost[switch]) if switch >= 0 else 0),
            rate=int(self.rate[index].sum()),
            served=served,
            counted=counted,
            met=(*first, *second),
        )

    def _shares_fit(self, ways: Sequence[int], used: Sequence[int]) -> bool:
        taken = [0] * self.media
        for loads in (*(self.loads[way] for way in ways), *(self.resource_loads[r] for r in used)):
            for medium, share in loads:
                taken[medium] += share
        sets = [name for r in used if (name := self.resources[r].excludes)]
        return max(taken, default=0) <= WHOLE_MEDIUM and len(set(sets)) == len(sets)

    def choice(
        self, tally: Tally, *, bound: float, proven: bool, nodes: int, wanted: int, possible: bool = True
    ) -> FeedChoice:
        """The tally with names and money; `bound` in hundredths."""
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


def _loads(user: Way | Resource, media: dict[str, int]) -> Loads:
    """Shares in millionths, rounded down: three thirds are a whole."""
    total: dict[int, int] = {}
    for medium, share in user.loads:
        steps = int(np.floor(share * WHOLE_MEDIUM + ROUNDING))
        total[media[medium]] = total.get(media[medium], 0) + steps
    return tuple(sorted(total.items()))
