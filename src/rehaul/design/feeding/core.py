"""What is left of a problem once equal rows are merged and ways that no best choice holds are gone.

Everything here keeps the answer: its cost, what it meets, and which of equally cheap choices comes first.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from rehaul.design.coverage import BoolArray, IntArray, merged_rows
from rehaul.design.feeding.covers import covers_of
from rehaul.design.feeding.figures import WHOLE_MEDIUM, Figures


@dataclass(frozen=True)
class Core:
    """Ways that may be chosen, and what they serve of what the held ones leave open."""

    figures: Figures
    ways: IntArray  # (n,) as numbered by the figures, rising
    held: BoolArray  # (n,) chosen in any case
    rows: BoolArray  # (rows, n) served by; none that a held way serves
    weights: IntArray  # (requirements, rows) in steps
    short: IntArray  # (requirements,) weight still asked for, in steps
    fewer: IntArray  # (counted,) number still asked for
    can_meet: BoolArray  # (asked,) met if every way stood at once

    @property
    def plain(self) -> bool:
        """Nothing is shared and nothing counted: which ways, and what they serve, is all there is."""
        f, ways = self.figures, self.ways
        return (
            len(self.short) > 0
            and not len(f.least)
            and not any(f.uses[way] or f.loads[way] for way in ways.tolist())
            and not f.ports[ways].any()
            and not f.power[ways].any()
        )

    @cached_property
    def covers(self) -> tuple[tuple[IntArray, ...] | None, ...]:
        """For each requirement the sets of ways of which it needs one each; None where they are too many."""
        return tuple(
            covers_of(self.rows, weights, int(short)) if short > 0 else None
            for weights, short in zip(self.weights, self.short, strict=True)
        )

    def only(self, ways: Iterable[int], held: Iterable[int] = ()) -> Core:
        """The same with fewer ways, some of them held."""
        stay = np.isin(self.ways, np.fromiter(ways, dtype=np.int64))
        hold = np.isin(self.ways[stay], np.fromiter(held, dtype=np.int64)) | self.held[stay]
        return _core(self.figures, self.ways[stay], hold, self.rows[:, stay], self.weights, self.short)


def core_of(figures: Figures) -> Core:
    """The problem reduced: forbidden, impossible, useless and outdone ways left out, equal rows merged."""
    problem = figures.problem
    fixed = {place for place, way in enumerate(figures.ways) if way.id in problem.fixed}
    taken = {int(figures.group[place]) for place in fixed}
    taken |= {figures.groups[name] for name in problem.forbidden}
    free = [way for way in range(len(figures.ways)) if int(figures.group[way]) not in taken]
    ways = sorted(fixed | {way for way in free if _fits_alone(figures, way)})
    steps = figures.coverage.steps
    index = np.array(ways, dtype=np.int64)
    rows, weights = merged_rows(figures.serves[index], steps.weights)
    stay = _worth_keeping(figures, index, rows)
    index, rows = index[stay], rows[:, stay]
    return _core(figures, index, np.isin(index, list(fixed)), rows, weights, steps.needs)


def _core(
    figures: Figures, ways: IntArray, held: BoolArray, rows: BoolArray, weights: IntArray, needs: IntArray
) -> Core:
    fulfilled = rows[:, held].any(axis=1) if held.any() else np.zeros(len(rows), dtype=np.bool_)
    short = needs - weights[:, fulfilled].sum(axis=1)
    left = np.ascontiguousarray(rows[~fulfilled].T)
    left[held] = False
    merged, merged_weights = merged_rows(left, weights[:, ~fulfilled])
    counts = figures.counts[:, ways]
    fewer = figures.least - counts[:, held].sum(axis=1)
    most = np.zeros(len(fewer), dtype=np.int64)
    for group in np.unique(figures.group[ways[~held]]):
        there = (figures.group[ways] == group) & ~held
        most += counts[:, there].max(axis=1, initial=0)
    return Core(
        figures=figures,
        ways=ways,
        held=held,
        rows=merged,
        weights=merged_weights,
        short=short,
        fewer=fewer,
        can_meet=np.concatenate([merged_weights.sum(axis=1) >= short, most >= fewer]),
    )


def _fits_alone(figures: Figures, way: int) -> bool:
    """Whether the way fits with what it needs, were it the only one."""
    used = figures.uses[way]
    ports = int(figures.ports[way]) + sum(int(figures.resource_ports[r]) for r in used)
    power = int(figures.power[way]) + sum(int(figures.resource_power[r]) for r in used)
    if (ports or power) and figures.switch_for(ports, power) < 0:
        return False
    taken: dict[int, int] = {}
    for loads in (figures.loads[way], *(figures.resource_loads[r] for r in used)):
        for medium, share in loads:
            taken[medium] = taken.get(medium, 0) + share
    sets = [name for r in used if (name := figures.resources[r].excludes)]
    return max(taken.values(), default=0) <= WHOLE_MEDIUM and len(set(sets)) == len(sets)


def _worth_keeping(figures: Figures, ways: IntArray, rows: BoolArray) -> BoolArray:
    """Ways that are neither useless nor outdone by another of their group, (ways,).

    A way in the place of one it outdoes keeps the rest of the choice standing, meets as much and comes
    before it: it costs less, or as much at a better rate, or as much at the same rate with an earlier id.
    """
    served = _bits(rows)
    stay = np.ones(len(ways), dtype=np.bool_)
    by_group: dict[int, list[int]] = {}
    for place, way in enumerate(ways.tolist()):
        by_group.setdefault(int(figures.group[way]), []).append(place)
    for group, places in by_group.items():
        traits = {place: _Traits(figures, int(ways[place]), served[place]) for place in places}
        for place in sorted(places, key=lambda p: traits[p].rank):
            mine = traits[place]
            useless = group not in figures.must and mine.useless
            if useless or any(
                stay[other] and traits[other].rank < mine.rank and traits[other].outdoes(mine)
                for other in places
            ):
                stay[place] = False
    return stay


class _Traits:
    """What a way takes and gives, for comparing it with others of its group."""

    def __init__(self, figures: Figures, way: int, served: int) -> None:
        self.rank = (int(figures.cost[way]), -int(figures.rate[way]), way)
        self.served = served
        self.uses = figures.uses[way]
        self.loads = dict(figures.loads[way])
        self.ports, self.power = int(figures.ports[way]), int(figures.power[way])
        self.counts = figures.counts[:, way].tolist()

    @property
    def useless(self) -> bool:
        return self.rank[0] > 0 and not self.served and not any(self.counts)

    def outdoes(self, other: _Traits) -> bool:
        """Takes no more and gives no less."""
        return (
            not other.served & ~self.served
            and self.uses <= other.uses
            and self.ports <= other.ports
            and self.power <= other.power
            and all(mine >= theirs for mine, theirs in zip(self.counts, other.counts, strict=True))
            and all(share <= other.loads.get(medium, 0) for medium, share in self.loads.items())
        )


def _bits(rows: BoolArray) -> Sequence[int]:
    """The rows each way serves, as the bits of one number."""
    packed = np.packbits(rows, axis=0)
    return [int.from_bytes(packed[:, way].tobytes(), "big") for way in range(rows.shape[1])]
