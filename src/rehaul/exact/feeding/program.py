"""The reduced problem as rows of a mixed-integer program.

Columns, all whole, in this order: a way, something asked for met, a bundle of resources, a class of switch.
What ways serve is no row here: it comes in as cuts.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np

from rehaul.arrays import Bools, Reals, Wholes
from rehaul.exact.feeding.bundles import Bundles, bundles_of
from rehaul.exact.feeding.core import Core
from rehaul.exact.feeding.figures import MEDIA, WHOLE_MEDIUM

INFINITY = float("inf")
ProgramRow = tuple[Wholes, Reals, float, float]  # columns, values, least, most


@dataclass
class Program:
    """Bounds, costs and rows; more rows may be added."""

    core: Core
    bundles: Bundles
    classes: list[int]  # as numbered by the figures
    low: Reals
    high: Reals
    cost: Reals
    rows: list[ProgramRow] = field(default_factory=list)

    @property
    def ways(self) -> int:
        """Number of ways; they are the first columns."""
        return len(self.core.ways)

    @property
    def first_bundle(self) -> int:
        """Column of the first bundle of resources."""
        return len(self.core.ways) + len(self.core.can_meet)

    @property
    def paying(self) -> Wholes:
        """Columns of ways, then of bundles: all that costs, takes and excludes."""
        bundles = self.first_bundle + np.arange(len(self.bundles.shared))
        return np.concatenate([np.arange(self.ways), bundles])

    def add(
        self, columns: Wholes | list[int], values: Reals | list[float], least: float, most: float
    ) -> None:
        """Add `least <= values @ columns <= most`."""
        self.rows.append(
            (np.asarray(columns, dtype=np.int64), np.asarray(values, dtype=np.float64), least, most)
        )

    def at_most(self, left: list[int], right: list[int]) -> None:
        """Add `sum of left <= sum of right`.

        **Source**: docs/exact.md, "The problem": shared things are paid once.
        """
        self.add([*left, *right], [1.0] * len(left) + [-1.0] * len(right), -INFINITY, 0.0)


def frame_of(core: Core) -> Program:
    """The program of a core before it is said how many have to be met: the same for every number.

    Costs are hundredths, all columns from 0 to 1. **Source**: docs/exact.md, "the problem".
    """
    f, bundles = core.figures, bundles_of(core)
    classes = _classes_worth(bundles)
    n, g, q, c = len(core.ways), len(core.can_meet), len(bundles.shared), len(classes)
    columns = n + g + q + c
    low, high, cost = np.zeros(columns), np.ones(columns), np.zeros(columns)
    low[:n] = core.held
    high[n : n + g] = core.can_meet
    cost[n + g + q :] = f.class_cost[classes]
    program = Program(core, bundles, classes, low, high, cost)
    cost[program.paying] = bundles.cost
    _add_groups(program)
    _add_beside(program)
    _add_needs(program)
    _add_shared(program)
    _add_switch(program)
    _add_counted(program)
    return program


def meeting(frame: Program, count: int) -> Program:
    """The program whose solutions meet `count` of what is asked, for its least cost.

    Parameters: `frame`, of `frame_of`; it stays as it is.

    **Validity**: what ways serve is not in it: coverage comes in as cuts, so that alone it may be met by too
    little.
    **Source**: docs/exact.md, "the problem".
    """
    core, low = frame.core, frame.low.copy()
    met = slice(frame.ways, frame.first_bundle)
    sure = np.concatenate([core.short <= 0, core.fewer <= 0])
    low[met] = core.can_meet if count >= np.count_nonzero(core.can_meet) else sure
    program = replace(frame, low=low, rows=list(frame.rows))
    if len(core.can_meet) and count:
        columns = np.arange(met.start, met.stop)
        program.add(columns, np.ones(len(columns)), float(count), INFINITY)
    return program


def _members(core: Core) -> dict[int, list[int]]:
    members: dict[int, list[int]] = {}
    for place, group in enumerate(core.figures.group[core.ways].tolist()):
        members.setdefault(group, []).append(place)
    return members


def _add_groups(program: Program) -> None:
    must = program.core.figures.must
    members = _members(program.core)
    for group, places in members.items():
        if group in must or len(places) > 1:
            program.add(places, [1.0] * len(places), 1.0 if group in must else 0.0, 1.0)
    for _ in must - set(members):
        program.add([], [], 1.0, 1.0)  # nothing can stand where something must


def _add_beside(program: Program) -> None:
    """Ways of a group that hang on the same others come to no more than those together."""
    core = program.core
    beside = core.figures.beside[core.ways][:, core.ways]
    for places in _members(core).values():
        hanging: dict[bytes, list[int]] = {}
        for place in places:
            if core.figures.hangs[core.ways[place]]:
                hanging.setdefault(beside[place].tobytes(), []).append(place)
        for together in hanging.values():
            program.at_most(together, np.flatnonzero(beside[together[0]]).tolist())


def _add_needs(program: Program) -> None:
    """Ways of a group that need a bundle together take it at most once; it takes what it needs in turn."""
    f, core, first = program.core.figures, program.core, program.first_bundle
    shared, users = program.bundles.shared, program.bundles.users
    home = {resource: place for place, bundle in enumerate(shared) for resource in bundle}
    above: list[set[int]] = [set() for _ in shared]  # bundles that need this one themselves
    for place, bundle in enumerate(shared):
        needed = {home[r] for resource in bundle for r in f.resource_needs[resource] if r in home}
        for other in sorted(needed - {place}):
            above[other].add(place)
            program.at_most([first + place], [first + other])
    for places in _members(core).values():
        for place in range(len(shared)):
            using = [way for way in places if users[way, place]]
            above_uses = ([way for way in places if users[way, other]] for other in above[place])
            if using and using not in above_uses:
                program.at_most(using, [first + place])


def _add_shared(program: Program) -> None:
    """One resource of a set at most; no medium is taken more than whole."""
    f, core, columns = program.core.figures, program.core, program.paying
    for at in range(int(f.excludes.max(initial=-1)) + 1):
        members = program.bundles.of_set(at)
        of_set = np.flatnonzero(members)
        groups = {
            int(core.figures.group[core.ways[place]]) if place < program.ways else -place for place in of_set
        }
        if len(groups) > 1 or members.max(initial=0) > 1:
            program.add(columns[of_set], members[of_set].astype(np.float64), 0.0, 1.0)
    for shares in program.bundles.takes[:, MEDIA:].T:
        if shares.sum() > WHOLE_MEDIUM:
            used = np.flatnonzero(shares)
            program.add(columns[used], shares[used] / WHOLE_MEDIUM, -INFINITY, 1.0)


def _classes_worth(bundles: Bundles) -> list[int]:
    """Classes of switch that are not outdone by one as cheap; none where nothing takes of the switch."""
    f = bundles.core.figures
    if not bundles.takes[:, :MEDIA].any():
        return []
    worth: list[int] = []
    for kind in range(len(f.classes)):  # cheapest first
        outdone = any(np.all(f.class_room[other] >= f.class_room[kind]) for other in worth)
        if f.class_room[kind, 0] >= 0 and not outdone:
            worth.append(kind)
    return worth


def _add_switch(program: Program) -> None:
    f, core, kinds = program.core.figures, program.core, program.classes
    columns = program.paying.tolist()
    first = program.first_bundle + len(program.bundles.shared)
    classes = list(range(first, first + len(kinds)))
    taken = program.bundles.takes[:, :MEDIA]
    if len(classes) > 1:
        program.add(classes, [1.0] * len(classes), 0.0, 1.0)
    for amounts, room in zip(taken.T, f.class_room[kinds].T, strict=True):
        used = np.flatnonzero(amounts)
        if len(used):
            scale = float(amounts.max())
            values = [*(amounts[used] / scale), *(-room / scale)]
            program.add([*(columns[u] for u in used), *classes], values, -INFINITY, 0.0)
    takes: Bools = np.asarray(taken.any(axis=1))
    for places in _members(core).values():
        if using := [place for place in places if takes[place]]:
            program.at_most(using, classes)
    for place in np.flatnonzero(takes[program.ways :]).tolist():
        program.at_most([program.first_bundle + place], classes)


def _add_counted(program: Program) -> None:
    core = program.core
    counts = np.where(core.held, 0, core.figures.counts[:, core.ways])
    for place, (numbers, fewer) in enumerate(zip(counts, core.fewer, strict=True)):
        met = program.ways + len(core.short) + place
        _add_asked(program, met, np.flatnonzero(numbers), numbers[numbers > 0], int(fewer))


def _add_asked(program: Program, met: int, columns: Wholes, amounts: Wholes, short: int) -> None:
    """The amounts reach what is short where `met` is one; no amount counts for more than that."""
    if short <= 0 or program.high[met] == 0.0:
        return
    counted = np.minimum(amounts, short)
    scale = float(counted.max())
    program.add([*columns, met], [*(counted / scale), -float(short) / scale], 0.0, INFINITY)
