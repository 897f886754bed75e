"""What is left of a problem once equal rows are merged and ways that no best choice holds are gone.

Everything here keeps the answer: its cost, what it meets, and which of equally cheap choices comes first.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from operator import le

import numpy as np

from rehaul.arrays import Bools, Wholes
from rehaul.exact.coverage import merged_kinds, merged_rows
from rehaul.exact.feeding.figures import Figures


@dataclass(frozen=True)
class Core:
    """Ways that may be chosen, and what they serve of what the held ones leave open."""

    figures: Figures
    ways: Wholes  # (n,) as numbered by the figures, rising
    held: Bools  # (n,) chosen in any case
    rows: Bools  # (rows, n) served by; none that a held way serves
    weights: Wholes  # (requirements, rows) in steps
    short: Wholes  # (requirements,) weight still asked for, in steps
    fewer: Wholes  # (counted,) number still asked for
    can_meet: Bools  # (asked,) met if every way stood at once

    @property
    def plain(self) -> bool:
        """Nothing is shared and nothing counted: which ways, and what they serve, is all there is."""
        f = self.figures
        shares = f.uses[self.ways].any() or f.takes[self.ways].any()
        return len(self.short) > 0 and not len(f.least) and not shares

    def only(self, ways: Iterable[int], held: Iterable[int] = ()) -> Core:
        """The same with fewer ways, some of them held.

        Parameters: `ways` and `held` as numbered by the figures. What was held stays so where its way stays.
        **Source**: docs/exact.md, "What the search does": what can go.
        """
        stay = np.isin(self.ways, np.fromiter(ways, dtype=np.int64))
        hold = np.isin(self.ways[stay], np.fromiter(held, dtype=np.int64)) | self.held[stay]
        return _core(self.figures, self.ways[stay], hold, self.rows[:, stay], self.weights, self.short)


def without_group(core: Core, group: str) -> Core:
    """The core of the same problem, where this group may hold no way: `core_of` would come to the same ways.

    Raises BadInput where the problem asks for the group, or has none of that name.

    **Validity**: what goes first goes group by group, so the ways of the others are those they were.
    **Source**: docs/exact.md, "What the search does": what can go.
    """
    figures = core.figures.held_to(forbidden=(group,))
    others = core.ways[figures.group[core.ways] != figures.groups[group]]
    return replace(core, figures=figures).only(others.tolist())


def core_of(figures: Figures) -> Core:
    """The problem reduced: forbidden, impossible, useless and outdone ways left out, equal rows merged.

    Ways are left out where they are forbidden, not the fixed one of their group, do not fit even alone, cost
    and give nothing, or are outdone by another of their group.

    **Validity**: the first of the cheapest choices is the same as before, for any number met. **Source**:
    docs/exact.md, "Why it is exact": what goes first changes nothing.
    """
    problem = figures.problem
    fixed = {place for place, way in enumerate(figures.ways) if way.id in problem.fixed}
    taken = {int(figures.group[place]) for place in fixed}
    taken |= {figures.groups[name] for name in problem.forbidden}
    free = [way for way in range(len(figures.ways)) if int(figures.group[way]) not in taken]
    ways = sorted(fixed | {way for way in free if figures.fits_alone[way]})
    steps = figures.coverage.steps
    index = np.array(ways, dtype=np.int64)
    kinds, kind_of, weights = merged_kinds(figures.serves[index], steps.weights)
    bits = _bits(kinds)
    stay = _worth_keeping(figures, index, [bits[kind] for kind in kind_of.tolist()])
    index, rows = index[stay], np.ascontiguousarray(kinds[kind_of[stay]].T)
    return _core(figures, index, np.isin(index, list(fixed)), rows, weights, steps.needs)


def _core(figures: Figures, ways: Wholes, held: Bools, rows: Bools, weights: Wholes, needs: Wholes) -> Core:
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


def _worth_keeping(figures: Figures, ways: Wholes, served: Sequence[int]) -> Bools:
    """Ways that are neither useless nor outdone by another of their group, (ways,); `served` as bits.

    A way in the place of one it outdoes keeps the rest of the choice standing, meets as much and comes
    before it: it costs less, or as much at a better rate, or as much at the same rate with an earlier id.
    """
    stay = np.ones(len(ways), dtype=np.bool_)
    carrying: Bools = np.asarray(figures.beside.any(axis=0))
    by_group: dict[int, list[int]] = {}
    for place, way in enumerate(ways.tolist()):
        by_group.setdefault(int(figures.group[way]), []).append(place)
    for group, places in by_group.items():
        traits = {place: _Traits(figures, int(ways[place]), served[place], carrying) for place in places}
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

    def __init__(self, figures: Figures, way: int, served: int, carrying: Bools) -> None:
        self.rank = (int(figures.cost[way]), -int(figures.rate[way]), way)
        self.served = served
        self.uses = frozenset(np.flatnonzero(figures.uses[way]).tolist())
        self.takes = figures.takes[way].tolist()
        self.counts = figures.counts[:, way].tolist()
        self.beside = frozenset(np.flatnonzero(figures.beside[way]).tolist() if figures.hangs[way] else ())
        self.carries = frozenset(np.flatnonzero(figures.beside[:, way]).tolist() if carrying[way] else ())

    @property
    def useless(self) -> bool:
        return self.rank[0] > 0 and not self.served and not any(self.counts) and not self.carries

    def outdoes(self, other: _Traits) -> bool:
        """Takes no more and gives no less."""
        return (
            not other.served & ~self.served
            and self.uses <= other.uses
            and all(map(le, self.takes, other.takes))
            and all(map(le, other.counts, self.counts))
            and other.carries <= self.carries
            and (not self.beside or (bool(other.beside) and other.beside <= self.beside))
        )


def _bits(serves: Bools) -> Sequence[int]:
    """What each serves, (ways, rows), as the bits of one number."""
    return [int.from_bytes(way.tobytes(), "big") for way in np.packbits(serves, axis=1)]
