"""A core made ready for the compiled search: objective, pool of rows, small program, scratch."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rehaul.arrays import Bools, Reals, Wholes
from rehaul.exact.coverage import kinds_of
from rehaul.exact.feeding.core import Core
from rehaul.exact.feeding.figures import MEDIA
from rehaul.exact.feeding.program import Program, ProgramRow, frame_of
from rehaul.exact.feeding.rounds import RoundNode, Wood
from rehaul.exact.planes import Planes, planes_of
from rehaul.exact.simplex import begin_with, new_tableau
from rehaul.exact.trail import FRESH, KEEP

SPARE = 200  # rows of the small program beyond one for each column
ROUNDING = 1e-11  # given away on the right side of rows that are not whole
RAISED = 1e-2  # of one unit of the objective; by more a bound could not tell rates apart
ERROR_LEAST, ERROR = 1e-9, 1e-12  # and of the sum of the objective; what rounding may add to a bound
MET, RESOURCE, CLASS = 10**6, 2 * 10**6, 3 * 10**6  # names of columns begin here; ways begin at nought


@dataclass(frozen=True)
class Scale:
    """Cost and rate as one number in steps of cost: rates only tell equal costs apart."""

    cost_step: int  # hundredths
    rate_step: int
    times: int  # what one step of cost is worth in steps of rate

    def worth(self, cost: int, rate: int) -> float:
        """The least is the best.

        Parameters: `cost` [hundredths] and `rate` [0.1 Mb/s], multiples of the steps.

        **Validity**: a lower cost is always less, whatever the rates: all rates together are less than one
        step of cost. **Source**: docs/exact.md, "Why it is exact": rates are less than one step of cost.
        """
        return (cost // self.cost_step * self.times - rate // self.rate_step) / self.times


Held = tuple[Reals, Reals]  # (rows, columns) and right side (rows,): `rows @ x >= right`


@dataclass(frozen=True)
class Carried:
    """Rows that hold for every choice of a problem, by the names of their columns."""

    names: Wholes
    rows: Reals  # (rows, names)
    right: Reals


def scale_of(core: Core, program: Program) -> Scale:
    """Steps that all costs and rates are multiples of.

    **Validity**: holds for choices of this core: the best rates of all groups add up to less than `times`.
    **Source**: docs/exact.md, "Why it is exact": rates are less than one step of cost.
    """
    rates, group = core.figures.rate[core.ways], core.figures.group[core.ways]
    rate_step = max(int(np.gcd.reduce(rates)), 1)
    most = sum(int(rates[group == g].max()) for g in np.unique(group)) // rate_step
    return Scale(max(int(np.gcd.reduce(program.cost.astype(np.int64))), 1), rate_step, most + 1)


def names_of(program: Program) -> Wholes:
    """A number for every column that stays its own when others go.

    Returns (columns,): ways by the number that the figures give them, then what is asked, resources and
    classes, each from its own start. Rows are carried from search to search by these. **Source**:
    docs/exact.md, "Why it is exact": one proof may serve several k.
    """
    return np.concatenate(
        [
            program.core.ways,
            MET + np.arange(len(program.core.can_meet)),
            RESOURCE + np.array([bundle[0] for bundle in program.bundles.shared], dtype=np.int64),
            CLASS + np.array(program.classes, dtype=np.int64),
        ]
    )


def planes_for(core: Core) -> Planes:
    """What the ways serve, in bits.

    One requirement without weight where nothing is asked of places, so that compiled code has something to
    count. **Source**: docs/exact.md, "What the search does": counting.
    """
    if len(core.short) and len(core.rows):
        return planes_of(np.ascontiguousarray(core.rows.T), core.weights)
    nothing = np.zeros((max(len(core.short), 1), 1), dtype=np.int64)
    return planes_of(np.zeros((len(core.ways), 1), dtype=np.bool_), nothing)


def wood_of(program: Program, scale: Scale, planes: Planes) -> tuple[Wood, Held]:
    """What stays the same, and the rows that the small program holds from the start.

    Returns the tables and rows: those with a right side above 0
    are held from the start, the others wait in the pool until a point breaks them. Rows that hold anyway are
    left out. **Source**: docs/exact.md, "What the search does": small program.
    """
    core = program.core
    worth = program.cost / scale.cost_step
    worth[: program.ways] -= core.figures.rate[core.ways] / scale.rate_step / scale.times
    held, pool = _sides(program.rows)
    lengths = [len(columns) for columns, _, _ in pool]
    wood = Wood(
        planes=planes,
        need=core.short,
        worth=worth,
        first=np.concatenate([[0], np.cumsum(lengths)]).astype(np.int64),
        column=np.concatenate([row[0] for row in pool] or [np.zeros(0, dtype=np.int64)]),
        entry=np.concatenate([row[1] for row in pool] or [np.zeros(0)]),
        right=np.array([row[2] for row in pool], dtype=np.float64),
        group=core.figures.group[core.ways],
        uses=_uses(program),
        resource=program.first_bundle,
        alone=_alone(core),
        unit=1.0 / scale.times,
        error=ERROR_LEAST + ERROR * float(np.abs(worth).sum()),
    )
    return wood, _dense(held, len(worth))


@dataclass(frozen=True)
class Ground:
    """What all searches of one core have in common, however many have to be met."""

    frame: Program
    scale: Scale
    wood: Wood
    kept: Held

    def kept_of(self, program: Program) -> Held:
        """Rows held from the start: the core's own, and those that came to its frame in `program`.

        **Source**: docs/exact.md, "What the search does": small program.
        """
        more, _ = _sides(program.rows[len(self.frame.rows) :])
        return _together(self.kept, _dense(more, len(program.low)))


def ground_of(core: Core) -> Ground:
    """A core made ready once for all numbers that may have to be met.

    **Source**: docs/exact.md, "What the search does": small program.
    """
    frame = frame_of(core)
    scale = scale_of(core, frame)
    wood, kept = wood_of(frame, scale, planes_for(core))
    return Ground(frame, scale, wood, kept)


Side = tuple[Wholes, Reals, float]  # columns, entries, right side: no less than that


def _sides(rows: list[ProgramRow]) -> tuple[list[Side], list[Side]]:
    """Rows one side each: those with a right side above 0, then the others; what holds anyway is left out."""
    held: list[Side] = []
    pool: list[Side] = []
    for columns, values, least, most in rows:
        for sign, bound in ((1.0, least), (-1.0, -most)):
            if not np.isfinite(bound) or (len(columns) and bound <= np.minimum(sign * values, 0.0).sum()):
                continue
            right = bound if np.all(values == np.rint(values)) else bound - ROUNDING
            (held if right > 0.0 else pool).append((columns, sign * values, right))
    return held, pool


def _dense(sides: list[Side], columns: int) -> Held:
    rows = np.zeros((len(sides), columns))
    for row, (at, entries, _) in zip(rows, sides, strict=True):
        row[at] = entries
    return rows, np.array([right for _, _, right in sides], dtype=np.float64)


def _together(first: Held, more: Held) -> Held:
    return np.concatenate([first[0], more[0]]), np.concatenate([first[1], more[1]])


def _uses(program: Program) -> Bools:
    """Bundles that a way uses, and last whether it takes of the switch, itself or by them."""
    uses = program.bundles.users
    takes: Bools = np.asarray(program.bundles.takes[:, :MEDIA].any(axis=1))
    taking = takes[: program.ways] | uses[:, takes[program.ways :]].any(axis=1)
    return np.ascontiguousarray(np.column_stack([uses, taking]))


def _alone(core: Core) -> Reals:
    """Share of each thing still asked that a way does alone, no more than the whole, (asked, ways).

    Nought where nothing is asked any more: a cut would bind what is met in any case.
    """
    kinds, kind_of = kinds_of(np.ascontiguousarray(core.rows.T))
    served = (core.weights.astype(np.float64) @ kinds.T.astype(np.float64))[
        :, kind_of
    ]  # whole, far below 2^53
    counted = np.where(core.held, 0, core.figures.counts[:, core.ways])
    asked = np.concatenate([core.short, core.fewer])[:, None]
    share = np.minimum(np.concatenate([served, counted]) / np.maximum(asked, 1), 1.0)
    return np.ascontiguousarray(np.where(asked > 0, share, 0.0))  # loops are compiled for one order


def node_of(program: Program, worth: Reals, unit: float, kept: Held, carried: Carried | None) -> RoundNode:
    """The open root, its small program holding the kept rows and those carried over.

    Parameters: `worth` (columns,) the objective, of which two values differ by `unit` at least; `kept`, as
    `wood_of` gives them; `carried`, rows of an earlier search or None. Columns that no longer stand count as
    0 in carried rows. **Source**: docs/exact.md, "What the search does": small program.
    """
    columns = len(worth)
    rows, right = kept if carried is None else _together(kept, moved(carried, program))
    capacity = columns + SPARE + len(right)
    tableau = new_tableau(worth, capacity, RAISED * unit)
    tableau.low[:columns] = program.low
    tableau.high[:columns] = program.high
    begin_with(tableau, rows, right)
    own = ("body", "constant", "basic", "nonbasic", "at_high", "price", "low", "high", "value", "size")
    depth = columns + 2
    numbers = np.zeros(7, dtype=np.int64)
    numbers[FRESH], numbers[KEEP] = 1, len(kept[1])
    return RoundNode(
        tableau=tableau,
        trial=tableau._replace(**{name: getattr(tableau, name).copy() for name in own}),
        branch=np.zeros(depth, dtype=np.int64),
        side=np.zeros(depth, dtype=np.int64),
        upward=np.zeros(depth, dtype=np.bool_),
        trail=np.zeros(columns, dtype=np.int64),
        entered=np.zeros(depth, dtype=np.int64),
        mark=np.zeros(depth, dtype=np.int64),
        bound=np.full(depth, -np.inf),
        numbers=numbers,
        limit=np.full(1, np.inf),
        best=np.zeros(program.ways, dtype=np.bool_),
        price=np.zeros(capacity),
        red=np.zeros(columns),
        row=np.zeros(columns),
        rise=np.zeros((2, columns)),
        seen=np.zeros((2, columns), dtype=np.int64),
    )


def moved(carried: Carried, program: Program) -> Held:
    """The carried rows over these columns; what is left out stands at nought.

    With fewer ways resources come together in other bundles, or into the ways of one group. **Source**:
    docs/exact.md, "Why it is exact": one proof may serve several k.
    """
    names = names_of(program)
    if np.array_equal(names, carried.names):
        return carried.rows, carried.right
    at = {name: column for column, name in enumerate(names.tolist())}
    stands, paying = program.bundles.standing_for, program.paying
    rows = np.zeros((len(carried.right), len(at)))
    for name, column in zip(carried.names.tolist(), carried.rows.T, strict=True):
        if RESOURCE <= name < CLASS:
            rows[:, paying[stands.get(name - RESOURCE, [])]] += column[:, None]
        elif name in at:
            rows[:, at[name]] += column
    return rows, carried.right
