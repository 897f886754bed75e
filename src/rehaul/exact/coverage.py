"""The placement problem as arrays: options at sites, places they serve, what is asked of groups of places.

An option is one kind of access point at one site. A place is a spot (or a spot in one of several
sampled fields) with a weight in one or more requirements. Weights and costs are held as whole
numbers inside, so that every comparison of the search is exact.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from rehaul.arrays import Bools, Reals, Wholes
from rehaul.errors import BadInput
from rehaul.words import say

COST_STEP = 0.01  # money is compared in hundredths of its unit
WEIGHT_STEPS = 10**9  # fractional weights are kept to this share of their total


@dataclass(frozen=True)
class Requirement:
    """At least `share` of the weight of these places is served."""

    name: str
    places: Wholes  # (n,) indices of places
    weights: Reals  # (n,) positive, in any unit
    share: float  # 0 to 1

    def __post_init__(self) -> None:
        if not 0.0 <= self.share <= 1.0:
            raise BadInput(
                say("refused_exact.share", share=self.share),
                where=self.name,
                remedy=say("refused_exact.give_share"),
            )
        if len(self.places) != len(self.weights) or len(self.places) == 0:
            raise BadInput(
                say("refused_exact.weights"),
                where=self.name,
                remedy=say("refused_exact.give_places"),
            )
        if not np.all(np.isfinite(self.weights)) or np.any(self.weights <= 0):
            raise BadInput(
                say("refused_exact.weight"), where=self.name, remedy=say("refused_exact.leave_weightless")
            )


@dataclass(frozen=True)
class CoverProblem:
    """Sites, kinds, costs and what they serve.

    At most one option stands at a site. `pinned` sites must hold one, `forbidden` ones must not.
    """

    site: Wholes  # (options,)
    kind: Wholes  # (options,)
    cost: Reals  # (options,) money, not negative
    serves: Bools  # (options, places)
    requirements: tuple[Requirement, ...]
    pinned: tuple[int, ...] = ()
    forbidden: tuple[int, ...] = ()
    pinned_options: tuple[int, ...] = field(default=())  # options that must stand as they are

    def __post_init__(self) -> None:
        options = len(self.site)
        if not len(self.kind) == len(self.cost) == len(self.serves) == options:
            raise BadInput(
                say("refused_exact.rows_differ"),
                where="placement",
                remedy=say("refused_exact.row_per_option"),
            )
        if np.any(~np.isfinite(self.cost)) or np.any(self.cost < 0):
            raise BadInput(
                say("refused_exact.cost"), where="placement", remedy=say("refused_common.give_costs_from_0")
            )
        known = set(self.site.tolist())
        for number in (*self.pinned, *self.forbidden):
            if number not in known:
                raise BadInput(
                    say("refused_exact.no_site", number=number),
                    where="placement",
                    remedy=say("refused_exact.pin_existing"),
                )
        both = sorted(set(self.pinned) & set(self.forbidden))
        if both:
            raise BadInput(
                say("refused_exact.pinned_and_forbidden", site=both[0]),
                where="placement",
                remedy=say("refused_common.decide_for_one"),
            )
        if self.serves.ndim != 2 or any(np.any(r.places >= self.serves.shape[1]) for r in self.requirements):
            raise BadInput(
                say("refused_common.no_such_place"),
                where="placement",
                remedy=say("refused_common.check_indices"),
            )

    @cached_property
    def cost_steps(self) -> Wholes:
        """Costs in whole hundredths, (options,)."""
        return np.rint(self.cost / COST_STEP).astype(np.int64)

    @cached_property
    def allowed(self) -> Bools:
        """Options that may be chosen at all, (options,)."""
        free = ~np.isin(self.site, np.asarray(self.forbidden, dtype=np.int64))
        for option in self.pinned_options:
            free &= (self.site != self.site[option]) | (np.arange(len(self.site)) == option)
        return free

    @cached_property
    def must_hold(self) -> tuple[int, ...]:
        """Sites that must hold an option."""
        return tuple(sorted({*self.pinned, *(int(self.site[o]) for o in self.pinned_options)}))

    @cached_property
    def steps(self) -> WholeSteps:
        """Weights and needs in whole steps."""
        return _steps(self)

    def served(self, options: Sequence[int]) -> Wholes:
        """Weight served in each requirement by these options together, in steps, (requirements,).

        Parameters: `options`, rows of `serves`. A place that several serve counts once; a step is one where
        the weights are whole, else 1e-9 of their total. **Source**: docs/exact.md, "The problem": a
        requirement.
        """
        if not len(options):
            return np.zeros(len(self.requirements), dtype=np.int64)
        covered = self.serves[list(options)].any(axis=0)
        return np.asarray(self.steps.weights @ covered.astype(np.int64), dtype=np.int64)

    @cached_property
    def merged(self) -> Merged:
        """The same problem with equal rows merged."""
        return _merge(self)


@dataclass(frozen=True)
class WholeSteps:
    """Weights and needs in whole steps."""

    weights: Wholes  # (requirements, places), 0 where a place is not asked for
    totals: Wholes  # (requirements,)
    needs: Wholes  # (requirements,)


@dataclass(frozen=True)
class Merged:
    """Places that the same options serve, put together."""

    rows: Bools  # (rows, options) served by
    weights: Wholes  # (requirements, rows)
    needs: Wholes  # (requirements,)


@dataclass(frozen=True)
class Selection:
    """What to put where, and how sure it is that nothing cheaper would do."""

    options: tuple[int, ...]
    sites: tuple[int, ...]
    cost: float
    served: tuple[float, ...]  # share of each requirement's weight
    met: tuple[bool, ...]
    feasible: bool  # everything asked is met
    bound: float  # nothing that does as much costs less than this
    proven: bool
    nodes: int

    @property
    def gap(self) -> float:
        """Share of the cost that might still be saved; 0 where proven."""
        return 0.0 if self.proven or self.cost <= 0 else max(0.0, (self.cost - self.bound) / self.cost)


def choice_of(
    problem: CoverProblem,
    options: Sequence[int],
    *,
    bound: float,
    proven: bool,
    nodes: int,
    enough: int | None = None,
    possible: bool = True,
) -> Selection:
    """A `Selection` for these options, its cost and served shares computed afresh from the problem.

    Parameters
    ----------
    options : rows of the problem, in any order
    bound : money; nothing that does as much costs less
    enough : number of requirements that count as all; every one where None
    possible : False where nothing does what was asked, so that this is not feasible whatever it meets

    **Source**: docs/exact.md, "The problem": money in hundredths.
    """
    steps = problem.steps
    chosen = tuple(sorted(int(option) for option in options))
    served = problem.served(chosen)
    met = tuple(bool(value) for value in served >= steps.needs)
    wanted = len(met) if enough is None else enough
    return Selection(
        options=chosen,
        sites=tuple(int(problem.site[option]) for option in chosen),
        cost=round(int(problem.cost_steps[list(chosen)].sum()) * COST_STEP, 2),
        served=tuple(float(value) for value in served / steps.totals),
        met=met,
        feasible=possible and sum(met) >= wanted,
        bound=round(bound, 2),
        proven=proven,
        nodes=nodes,
    )


def _steps(problem: CoverProblem) -> WholeSteps:
    weights = np.zeros((len(problem.requirements), problem.serves.shape[1]), dtype=np.int64)
    needs = np.zeros(len(problem.requirements), dtype=np.int64)
    for index, requirement in enumerate(problem.requirements):
        steps = _weight_steps(requirement.weights)
        np.add.at(weights[index], requirement.places, steps)
        needs[index] = _share_of(int(steps.sum()), requirement.share)
    return WholeSteps(weights, weights.sum(axis=1), needs)


def _merge(problem: CoverProblem) -> Merged:
    rows, weights = merged_rows(problem.serves & problem.allowed[:, None], problem.steps.weights)
    return Merged(rows, weights, problem.steps.needs)


def merged_rows(serves: Bools, weights: Wholes) -> tuple[Bools, Wholes]:
    """Places that the same options serve, put together.

    Parameters
    ----------
    serves : (options, places)
    weights : (requirements, places) in steps

    Returns
    -------
    (rows, options) and (requirements, rows); places that nothing serves or nobody asks for are left out.

    **Source**: docs/exact.md, "What the search does": equal places become one.
    """
    kinds, kind_of, merged = merged_kinds(serves, weights)
    return np.ascontiguousarray(np.ascontiguousarray(kinds.T)[:, kind_of]), merged


def merged_kinds(serves: Bools, weights: Wholes) -> tuple[Bools, Wholes, Wholes]:
    """The same, and options that serve alike put together as well.

    Parameters: as `merged_rows`. Returns (kinds, rows), the kind of each option (options,), and
    (requirements, rows); kinds are in the order of the first option of each. **Source**: docs/exact.md, "What
    the search does": equal places become one.
    """
    keep = np.bitwise_or.reduce(serves, axis=0) & weights.any(axis=0)
    if not keep.any():
        none = np.zeros((len(weights), 0), dtype=np.int64)
        return np.zeros((1, 0), dtype=np.bool_), np.zeros(len(serves), dtype=np.int64), none
    kinds, kind_of = kinds_of(serves)
    keys = _columns(kinds[:, keep])
    place_of: dict[bytes, int] = {}
    for place, key in enumerate(keys):
        place_of.setdefault(key, place)
    order = sorted(place_of)  # the same whatever the order of places
    number = {key: n for n, key in enumerate(order)}
    first = np.array([place_of[key] for key in order], dtype=np.intp)
    inverse = np.array([number[key] for key in keys], dtype=np.intp)
    merged = np.zeros((len(weights), len(first)), dtype=np.int64)
    for index, steps in enumerate(weights[:, keep].astype(np.float64)):  # whole and far below 2^53
        merged[index] = np.bincount(inverse, weights=steps, minlength=len(first))
    return np.ascontiguousarray(kinds[:, np.flatnonzero(keep)[first]]), kind_of, merged


def kinds_of(serves: Bools) -> tuple[Bools, Wholes]:
    """Options that serve alike as one, in the order of the first of each, and which of these each is.

    Parameters: `serves` (options, places). Returns (kinds, places) and (options,). **Source**: docs/exact.md,
    "What the search does": equal places become one.
    """
    if not serves.size:
        return serves[:1], np.zeros(len(serves), dtype=np.int64)
    packed = np.packbits(serves, axis=1)
    text, size = packed.tobytes(), packed.shape[1]
    number: dict[bytes, int] = {}
    kind_of = [number.setdefault(text[at : at + size], len(number)) for at in range(0, len(text), size)]
    first = np.unique(kind_of, return_index=True)[1]
    return serves[first], np.array(kind_of, dtype=np.int64)


def _columns(flags: Bools) -> list[bytes]:
    """Each column of a table of flags, as bytes."""
    packed = np.ascontiguousarray(np.packbits(flags, axis=0).T)
    text, size = packed.tobytes(), packed.shape[1]
    return [text[at : at + size] for at in range(0, len(text), size)]


def _weight_steps(weights: Reals) -> Wholes:
    """Weights as whole numbers: as they are where whole, else to 1e-9 of their total."""
    if np.all(weights == np.rint(weights)) and weights.sum() < WEIGHT_STEPS:
        return weights.astype(np.int64)
    steps: Wholes = np.maximum(np.rint(weights * (WEIGHT_STEPS / weights.sum())), 1.0).astype(np.int64)
    return steps


def _share_of(total: int, share: float) -> int:
    """The least whole number that is at least `share` of `total`, forgiving the rounding of the share."""
    return int(np.ceil(total * share - 1e-9 * max(total, 1)))
