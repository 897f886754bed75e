"""The reduced problem as rows of a mixed-integer program.

Columns: a way, a resource, a class of switch (whole); a merged row served (continuous: once the ways are
whole it may be taken in full); something asked for met (whole).
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from rehaul.design.coverage import BoolArray, FloatArray, IntArray
from rehaul.design.feeding.core import Core
from rehaul.design.feeding.figures import WHOLE_MEDIUM

INFINITY = float("inf")
Row = tuple[IntArray, FloatArray, float, float]  # columns, values, least, most


@dataclass
class Program:
    """Bounds, costs and rows; more rows may be added."""

    core: Core
    resources: list[int]  # as numbered by the figures
    classes: list[int]
    low: FloatArray
    high: FloatArray
    cost: FloatArray
    whole: BoolArray
    first_met: int  # column
    rows: list[Row] = field(default_factory=list)

    @property
    def ways(self) -> int:
        """Number of ways; they are the first columns."""
        return len(self.core.ways)

    def add(
        self, columns: IntArray | list[int], values: FloatArray | list[float], least: float, most: float
    ) -> None:
        """Add `least <= values @ columns <= most`."""
        self.rows.append(
            (np.asarray(columns, dtype=np.int64), np.asarray(values, dtype=np.float64), least, most)
        )

    def at_most(self, left: list[int], right: list[int]) -> None:
        """Add `sum of left <= sum of right`."""
        self.add([*left, *right], [1.0] * len(left) + [-1.0] * len(right), -INFINITY, 0.0)


def program_of(core: Core, count: int) -> Program:
    """The program whose solutions meet `count` of what is asked, for its least cost."""
    f = core.figures
    resources = sorted(frozenset().union(*(f.uses[way] for way in core.ways.tolist())))
    classes = _classes_worth(core, resources)
    n, q, c, r, g = len(core.ways), len(resources), len(classes), len(core.rows), len(core.can_meet)
    first_met = n + q + c + r
    columns = first_met + g
    low, high = np.zeros(columns), np.ones(columns)
    low[:n] = core.held
    high[first_met:] = core.can_meet
    sure = np.concatenate([core.short <= 0, core.fewer <= 0])
    low[first_met:] = core.can_meet if count >= np.count_nonzero(core.can_meet) else sure
    cost = np.zeros(columns)
    cost[:n] = f.cost[core.ways]
    cost[n : n + q] = f.resource_cost[resources]
    cost[n + q : n + q + c] = f.class_cost[classes]
    whole = np.ones(columns, dtype=np.bool_)
    whole[n + q + c : first_met] = False
    program = Program(core, resources, classes, low, high, cost, whole, first_met)
    _add_groups(program)
    _add_needs(program)
    _add_shared(program)
    _add_switch(program)
    _add_service(program)
    if g and count:
        program.add(list(range(first_met, columns)), [1.0] * g, float(count), INFINITY)
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


def _add_needs(program: Program) -> None:
    """Ways of a group that need a resource together take it at most once; it takes what it needs in turn."""
    f, core, n = program.core.figures, program.core, program.ways
    column = {resource: n + place for place, resource in enumerate(program.resources)}
    above: dict[int, list[int]] = {}  # resources that need this one themselves
    for resource in program.resources:
        for other in f.direct_of(resource):
            above.setdefault(other, []).append(resource)
            if other != resource:
                program.at_most([column[resource]], [column[other]])
    for places in _members(core).values():
        users: dict[int, list[int]] = {}
        direct: set[int] = set()
        for place in places:
            way = int(core.ways[place])
            direct.update(f.direct[way])
            for resource in f.uses[way]:
                users.setdefault(resource, []).append(place)
        for resource, using in users.items():
            if resource in direct or all(users.get(other) != using for other in above.get(resource, ())):
                program.at_most(using, [column[resource]])


def _add_shared(program: Program) -> None:
    """One resource of a set at most; no medium is taken more than whole."""
    f, core, n = program.core.figures, program.core, program.ways
    sets: dict[str, list[int]] = {}
    media: dict[int, list[tuple[int, int]]] = {}
    for place, way in enumerate(core.ways.tolist()):
        for medium, share in f.loads[way]:
            media.setdefault(medium, []).append((place, share))
    for place, resource in enumerate(program.resources):
        if name := f.resources[resource].excludes:
            sets.setdefault(name, []).append(n + place)
        for medium, share in f.resource_loads[resource]:
            media.setdefault(medium, []).append((n + place, share))
    for columns in sets.values():
        if len(columns) > 1:
            program.add(columns, [1.0] * len(columns), 0.0, 1.0)
    for taken in media.values():
        if sum(share for _, share in taken) > WHOLE_MEDIUM:
            program.add([c for c, _ in taken], [s / WHOLE_MEDIUM for _, s in taken], -INFINITY, 1.0)


def _classes_worth(core: Core, resources: list[int]) -> list[int]:
    """Classes of switch that are not outdone by one as cheap; none where nothing takes of the switch."""
    f = core.figures
    of_ways, of_resources = (f.ports, f.power), (f.resource_ports, f.resource_power)
    if not any(t[core.ways].any() for t in of_ways) and not any(t[resources].any() for t in of_resources):
        return []
    worth: list[int] = []
    for kind in range(len(f.classes)):  # cheapest first
        outdone = any(
            f.class_ports[other] >= f.class_ports[kind] and f.class_power[other] >= f.class_power[kind]
            for other in worth
        )
        if f.class_ports[kind] >= 0 and not outdone:
            worth.append(kind)
    return worth


def _add_switch(program: Program) -> None:
    f, core, n = program.core.figures, program.core, program.ways
    resources = program.resources
    classes = [n + len(resources) + place for place in range(len(program.classes))]
    ports = [*f.ports[core.ways].tolist(), *f.resource_ports[resources].tolist()]
    power = [*f.power[core.ways].tolist(), *f.resource_power[resources].tolist()]
    if not any(ports) and not any(power):
        return
    if classes:
        program.add(classes, [1.0] * len(classes), 0.0, 1.0)
    for taken, room in (
        (ports, f.class_ports[program.classes].tolist()),
        (power, f.class_power[program.classes].tolist()),
    ):
        used = [column for column, value in enumerate(taken) if value]
        if used:
            scale = float(max(taken))
            values = [*(taken[column] / scale for column in used), *(-value / scale for value in room)]
            program.add([*used, *classes], values, -INFINITY, 0.0)
    takers = [
        [place for place in places if ports[place] or power[place]] for places in _members(core).values()
    ]
    takers += [[n + place] for place in range(len(resources)) if ports[n + place] or power[n + place]]
    for using in takers:
        if using:
            program.at_most(using, classes)


def _add_service(program: Program) -> None:
    """A row is served by the ways that serve it; what is asked is met where enough weight or number is."""
    core = program.core
    first_row = program.first_met - len(core.rows)
    listed = [covers is not None for covers in core.covers]
    by_rows = core.weights[[not known for known in listed]].any(axis=0)
    for place in np.flatnonzero(by_rows).tolist():
        program.at_most([first_row + place], np.flatnonzero(core.rows[place]).tolist())
    for place, (weights, short) in enumerate(zip(core.weights, core.short, strict=True)):
        covers = core.covers[place]
        if covers is not None:
            for ways in covers:
                program.at_most([program.first_met + place], ways.tolist())
            continue
        _add_asked(
            program,
            program.first_met + place,
            first_row + np.flatnonzero(weights),
            weights[weights > 0],
            short,
        )
    counts = np.where(core.held, 0, core.figures.counts[:, core.ways])
    for place, (numbers, fewer) in enumerate(zip(counts, core.fewer, strict=True)):
        column = program.first_met + len(core.short) + place
        _add_asked(program, column, np.flatnonzero(numbers), numbers[numbers > 0], fewer)


def _add_asked(program: Program, met: int, columns: IntArray, amounts: IntArray, short: int) -> None:
    """The amounts reach what is short where `met` is one; no amount counts for more than that."""
    if short <= 0 or program.high[met] == 0.0:
        return
    counted = np.minimum(amounts, short)
    scale = float(counted.max())
    program.add([*columns, met], [*(counted / scale), -float(short) / scale], 0.0, INFINITY)
