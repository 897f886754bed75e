"""The compiled search over feeds, driven: what it finds is judged in whole numbers, then come the ties."""

from __future__ import annotations

import time
from dataclasses import dataclass, field

import numpy as np

from rehaul.arrays import Bools, Reals, Wholes
from rehaul.clock import LOOK_S, Clock
from rehaul.exact.feeding.core import Core
from rehaul.exact.feeding.figures import Tally
from rehaul.exact.feeding.nearby import given, near, polish, shared_of, without
from rehaul.exact.feeding.program import meeting
from rehaul.exact.feeding.rounds import KNOWN, TYING
from rehaul.exact.feeding.scene import Carried, Ground, ground_of, names_of, node_of
from rehaul.exact.feeding.tree import DONE, FINISHED, JUDGED, KEPT, NEW, PAUSED, SEEN, in_vain, run
from rehaul.exact.planes import count_for
from rehaul.exact.simplex import drop_slack_rows
from rehaul.exact.trail import DEPTH, FRESH, KEEP, NODES, fix, undo_to

FIRST_NODES, GROWTH = 80, 4  # nodes before starting afresh with fewer ways
FEWER = 0.8  # of the ways; more than that left is not worth starting afresh for
MANY_WAYS = 250  # of fewer a node takes less than to ask what can be left out


@dataclass(frozen=True)
class BestFound:
    """The best choice found."""

    tally: Tally | None
    bound: float  # hundredths; nothing that does as much costs less
    proven: bool  # no cheaper one, none as cheap that comes first; or none at all
    nodes: int
    left: Left | None = field(default=None, compare=False)  # where time was up: to go on from


@dataclass
class SharedLearnt:
    """What searches of one core that differ in what they have to meet may share."""

    ground: Ground | None = None
    rows: Carried | None = None
    rises: tuple[Reals, Wholes] | None = None  # how columns lifted the bound, of a search of the same columns


@dataclass(frozen=True)
class Left:
    """What is left of a search: no choice better than its best lies outside."""

    core: Core
    warm: SharedLearnt


def find(
    core: Core,
    count: int,
    clock: Clock,
    *,
    start: Tally | None = None,
    below: int | None = None,
    beside: Tally | None = None,
    warm: SharedLearnt | None = None,
    many_ways: int = MANY_WAYS,
) -> BestFound:
    """The first of the cheapest choices that meet `count`.

    Parameters
    ----------
    start : a choice known to meet as many
    beside : a choice of the same core that meets another number; one near it is looked for
    below : only what costs less than this is looked for; hundredths
    warm : kept from search to search of the same core; the answer does not depend on it
    many_ways : from so many on those that carry others are tried at the root, each as the only one

    **Source**: docs/exact.md, "What the search does": branching and ties.
    """
    warm = warm or SharedLearnt()
    most_nodes, nodes, bound = FIRST_NODES, 0, 0.0
    while True:
        hunt = _Hunt(core, count, warm, start, below)
        many = len(core.ways) >= many_ways
        known = hunt.best is not None or many
        came = hunt.strict(clock, 1)
        if came == PAUSED:
            hunt.look_nearby(beside)
            if nodes == 0:
                warm.rows = hunt.carried()
            if known:
                hunt.back_to_root()
                if many:
                    hunt.rule_out_carriers(clock)
            if known and 0.0 < hunt.left < FEWER:
                core, warm, start = hunt.narrowed(), SharedLearnt(rows=hunt.carried()), hunt.best
                continue
            came = hunt.strict(clock, most_nodes)
        nodes += int(hunt.node.numbers[NODES])
        bound = max(bound, hunt.bound)
        if came == FINISHED:
            warm.rises = hunt.rises
            finished = hunt.equals(clock)
            cost = hunt.best.cost if hunt.best else 0
            return BestFound(hunt.best, float(cost), finished, nodes)
        if clock.is_up():
            left = Left(core, SharedLearnt(warm.ground, hunt.carried(), hunt.rises))
            return BestFound(hunt.best, bound, False, nodes, left)
        hunt.shake(clock)
        warm = SharedLearnt(warm.ground, hunt.carried(), hunt.rises)
        start = hunt.best
        most_nodes *= GROWTH


class _Pace:
    """How many nodes to look at before the clock: where nodes are many places wide, each takes its time.

    Timed on the wall: who breaks off a search that gets little of the processor waits no longer.
    """

    def __init__(self) -> None:
        self._nodes, self._began_s = 0, time.perf_counter()

    def nodes(self, most: int = 1000) -> int:
        """So many that they take about as long as they ought to, doubling from one."""
        now_s = time.perf_counter()
        took_s, self._began_s = now_s - self._began_s, now_s
        if self._nodes:
            self._nodes = min(2 * self._nodes, max(1, int(self._nodes * LOOK_S / max(took_s, 1e-6))))
        else:
            self._nodes = 1
        return min(self._nodes, most)


@dataclass
class _Kept:
    """Bounds of columns within which choices as good as the best may lie."""

    low: Reals
    high: Reals
    bound: float


class _Hunt:
    """One search tree."""

    def __init__(
        self, core: Core, count: int, warm: SharedLearnt, start: Tally | None, below: int | None
    ) -> None:
        self.core, self.count = core, count
        ground = warm.ground = warm.ground or ground_of(core)
        self.program = meeting(ground.frame, count)
        self.scale, self.wood = ground.scale, ground.wood
        kept_rows = ground.kept_of(self.program)
        self.node = node_of(self.program, self.wood.worth, self.wood.unit, kept_rows, warm.rows)
        self.columns = len(self.wood.worth)
        if warm.rises is not None:
            self.node.rise[:], self.node.seen[:] = warm.rises
        self.scratch = count_for(self.wood.planes, len(core.short))
        self.shared = shared_of(core, count)
        self.kept: list[_Kept] = []
        self.best: Tally | None = None
        if below is not None:  # one unit above the worst that is below: the best at that cost itself
            self.node.limit[0] = (below - 1) // self.scale.cost_step + self.wood.unit
        if start is not None:
            self._take(start)

    def strict(self, clock: Clock, most_nodes: int) -> int:
        """Until nothing better is left, FINISHED; or PAUSED after so many nodes or where time is up."""
        last, pace = int(self.node.numbers[NODES]) + most_nodes, _Pace()
        while True:
            came = self._run(pace.nodes(last - int(self.node.numbers[NODES])))
            if came == FINISHED or self.node.numbers[NODES] >= last or clock.is_up():
                return came

    def equals(self, clock: Clock) -> bool:
        """Until nothing as good comes first; True where it got there."""
        if self.best is None:
            return True
        node, t = self.node, self.node.tableau
        node.numbers[TYING] = 1
        limit = float(node.limit[0]) + self.wood.error
        for kept in sorted((kept for kept in self.kept if kept.bound <= limit), key=lambda kept: kept.bound):
            t.low[: self.columns], t.high[: self.columns] = kept.low, kept.high
            node.bound[0] = kept.bound
            node.numbers[DEPTH], node.numbers[FRESH], node.numbers[KNOWN] = 0, 1, NEW
            pace = _Pace()
            while self._run(pace.nodes()) != FINISHED:
                if clock.is_up():
                    return False
        return True

    def look_nearby(self, beside: Tally | None) -> None:
        """Whole choices near another, and near the present point, things it half pays for as half paid."""
        if beside is not None:
            self._take_near(np.isin(self.core.ways, beside.ways) | self.core.held)
        value = self.node.tableau.value
        point = value[: len(self.core.ways)].copy()
        paying = value[self.program.paying]
        paid = np.array([paying[at].sum() for at in self.program.bundles.standing_for.values()])
        for shared in (self.shared, given(self.shared, paid)):
            chosen = self.core.held.copy()
            if near(shared, self.wood.planes, self.scratch, point, chosen):
                self._take_near(chosen)

    def shake(self, clock: Clock) -> None:
        """Take what is shared off the best, or give it away, and build up anew; keep what is better."""
        even = np.zeros(len(self.core.ways))
        bundles = [np.searchsorted(self.program.bundles.used, one) for one in self.program.bundles.shared]
        better = True
        while better and self.best is not None:
            better = False
            for resources in bundles:
                chosen = np.isin(self.core.ways, self.best.ways)
                users = chosen & self.shared.uses[:, resources].any(axis=1)
                share = np.zeros(len(self.shared.resource_cost))
                share[resources] = 1.0
                changed = without(self.shared, resources) if users.any() else given(self.shared, share)
                chosen = chosen & ~users if users.any() else self.core.held.copy()
                if near(changed, self.wood.planes, self.scratch, even, chosen):
                    better = self._take_near(chosen) or better
                if clock.is_up():
                    return

    def _take_near(self, chosen: Bools) -> bool:
        if self.best is not None and np.array_equal(chosen, self.node.best):
            return False
        polish(self.shared, self.wood.planes, self.scratch, chosen)
        return self._take(self._tally(chosen))

    def back_to_root(self) -> None:
        """To look at the root anew, with what was ruled out there."""
        node = self.node
        undo_to(node, node.mark[0])
        node.numbers[DEPTH], node.numbers[FRESH], node.numbers[KNOWN] = 0, 1, NEW

    def rule_out_carriers(self, clock: Clock) -> None:
        """Of the ways that others hang on, those that no choice as good as the best takes."""
        node, t = self.node, self.node.tableau
        for alike in self._carriers:
            free = [way for way in alike if t.low[way] < t.high[way]]
            if free and not clock.is_up() and in_vain(self.wood, node, self.scratch, np.array(free)):
                for way in free:
                    fix(node, way, 0.0)

    @property
    def _carriers(self) -> list[list[int]]:
        """Ways of one group that the same others hang on, together."""
        alike: dict[tuple[int, bytes], list[int]] = {}
        for way in np.flatnonzero(self.shared.beside.any(axis=0)).tolist():
            hang = self.shared.beside[:, way].tobytes()
            alike.setdefault((int(self.shared.group[way]), hang), []).append(way)
        return list(alike.values())

    @property
    def left(self) -> float:
        """Share of the ways that the root has not ruled out; the whole where what it takes cannot stand."""
        stands, taken = self._standing, self.node.tableau.low[: len(self.core.ways)] > 0.0
        return 1.0 if np.any(taken & ~stands) else float(stands.mean())

    @property
    def _standing(self) -> Bools:
        """Ways that the root has not ruled out, nor all that they hang on, (ways,)."""
        stay = self.node.tableau.high[: len(self.core.ways)] > 0.0
        while True:
            then = stay & (~self.shared.hangs | self.shared.beside[:, stay].any(axis=1))
            if then.all() or np.array_equal(then, stay):
                return then
            stay = then

    def narrowed(self) -> Core:
        """Without the ways that the root has ruled out."""
        t, ways = self.node.tableau, self.core.ways
        return self.core.only(ways[self._standing].tolist(), ways[t.low[: len(ways)] > 0.0].tolist())

    @property
    def rises(self) -> tuple[Reals, Wholes]:
        """How much each column lifted the bound, summed, and how often, down and up."""
        return self.node.rise, self.node.seen

    def carried(self) -> Carried:
        """Rows of the small program that bind."""
        t, keep = self.node.tableau, int(self.node.numbers[KEEP])
        drop_slack_rows(t, keep)
        rows = slice(keep, int(t.size[0]))
        return Carried(names_of(self.program), t.rows[rows].copy(), t.right[rows].copy())

    @property
    def bound(self) -> float:
        """What is proven of the cost so far, in hundredths."""
        node, depth = self.node, int(self.node.numbers[DEPTH])
        still = [float(node.bound[d]) for d in range(depth + 1) if d == depth or node.side[d] < DONE]
        still += [kept.bound for kept in self.kept]
        if self.best is not None:
            still.append(self.best.cost / self.scale.cost_step)
        steps = np.ceil(max(min(still, default=0.0), 0.0) - self.wood.error)
        return float(steps * self.scale.cost_step)

    def _run(self, most_nodes: int) -> int:
        """Some nodes more; FINISHED or PAUSED."""
        node, t = self.node, self.node.tableau
        last = int(node.numbers[NODES]) + most_nodes
        while True:
            came = int(run(self.wood, node, self.scratch, last - int(node.numbers[NODES])))
            if came == SEEN:
                self._judge()
                node.numbers[KNOWN] = JUDGED
            elif came == KEPT:
                low, high = t.low[: self.columns].copy(), t.high[: self.columns].copy()
                self.kept.append(_Kept(low, high, float(node.bound[node.numbers[DEPTH]])))
            else:
                return came

    def _judge(self) -> None:
        """The whole choice at which the tableau stands, and in the strict search a cheaper one near it."""
        t, n = self.node.tableau, len(self.core.ways)
        chosen = (t.low[:n] == 1.0) | ((t.high[:n] == 1.0) & (t.value[:n] > 0.5))
        if self._take(self._tally(chosen)) and not self.node.numbers[TYING]:
            self._take_near(chosen)

    def _tally(self, chosen: Bools) -> Tally:
        return self.core.figures.tally(self.core.ways[chosen].tolist())

    def _take(self, tally: Tally) -> bool:
        """Keep the choice if it does what is asked and comes before the best."""
        if not tally.fits or sum(tally.met) < self.count:
            return False
        worth = self.scale.worth(tally.cost, tally.rate)
        if self.best is None and worth > self.node.limit[0] - self.wood.unit / 2:
            return False  # not below what was asked
        if self.best is not None and tally.key >= self.best.key:
            return False
        self.best = tally
        self.node.limit[0] = min(worth, float(self.node.limit[0]))
        self.node.best[:] = np.isin(self.core.ways, tally.ways)
        return True
