"""Everything one end can be if at most one thing is out of the ordinary on its cable.

Ordinary: it reaches one outlet, or none. Out of the ordinary: several outlets on the cable, or one open,
short or cross. One row per explanation; every reading strikes out rows.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, cached_property
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Bools
from rehaul.facts.trace_numbers import trace_number
from rehaul.tracing.asked import TracingQuestion
from rehaul.tracing.faults import Fault, single_faults
from rehaul.tracing.partitions import bit_of, conductor_pairs, joined
from rehaul.tracing.plugs import PlugEdges, edges_of, pair_resistances_ohm, renamed
from rehaul.tracing.trust import Trust, canonical_masks, orbit, pair_orbits, permutations_of


@dataclass(frozen=True)
class Hypothesis:
    """One explanation of an end: the outlets it reaches and what is wrong on the way."""

    outlets: tuple[str, ...]
    fault: Fault | None = None


@dataclass(frozen=True)
class Explanations:
    """All explanations of an end, with what each would show."""

    problem: TracingQuestion
    rows: tuple[Hypothesis, ...]
    chances: NDArray[np.float64]  # (row) before any reading; sums to 1
    masks: NDArray[np.int64]  # (round, row) pattern shown, as the mask that stands for its orbit
    reaches: Bools  # (row, outlet)
    group_of_row: NDArray[np.int64]  # (row) index into `groups`
    groups: tuple[tuple[str, ...], ...]  # the different sets of outlets
    member: Bools  # (group, outlet)

    @cached_property
    def resistances_ohm(self) -> NDArray[np.float64]:
        """What each row shows without the cable's own resistance: (round, row, pair) [ohm].

        Not a number where the row leaves it open: several outlets that call the conductors differently.
        """
        conductors = self.problem.conductors
        rounds = []
        for number in range(1, len(self.problem.rounds) + 1):
            networks = [_network(self.problem, row, number) for row in self.rows]
            distinct = sorted({network for network in networks if network is not None})
            index = {network: k for k, network in enumerate(distinct)}
            values = pair_resistances_ohm(distinct, conductors)
            unknown = np.full((1, values.shape[1]), np.nan)
            values = np.concatenate([values, unknown])
            rounds.append(values[[-1 if network is None else index[network] for network in networks]])
        return np.array(rounds)


def _network(problem: TracingQuestion, row: Hypothesis, round_number: int) -> PlugEdges | None:
    """What hangs on the cable by this explanation; None if that depends on how outlets call conductors."""
    plugs = [plug for outlet in row.outlets if (plug := problem.plug(outlet, round_number))]
    found = edges_of(plugs, row.fault)
    if len(plugs) < 2 or problem.trust is Trust.COLOURS:
        return found
    alike = sorted(edges_of([renamed(plug, range(1, problem.conductors + 1)) for plug in plugs], None))
    for images in permutations_of(problem.trust, problem.conductors):
        for turned in range(1, len(plugs)):
            trial = [renamed(p, images) if k == turned else p for k, p in enumerate(plugs)]
            same = [renamed(p, range(1, problem.conductors + 1)) for p in trial]
            if sorted(edges_of(same, None)) != alike:
                return None
    return found


@cache
def table(problem: TracingQuestion) -> Explanations:
    """The explanations of one end of this problem (all ends share them), each with what it would show.

    Chances before any reading come from practice values and only put a list in order: nothing that is
    called certain rests on them. An explanation that several patterns fit has a row for each.

    **Validity**: at most one fault, or up to `chain_limit` outlets (and `long_chains`), on a cable.
    **Source**: fact table `trace_numbers` (chance clean, nowhere, faulty, joined); docs/trace.md,
    "Readings".
    """
    rows: list[Hypothesis] = []
    patterns: list[list[int]] = []
    weights: list[float] = []
    faults = single_faults(problem.conductors)
    chance = trace_number

    def add(
        outlets: tuple[str, ...], fault: Fault | None, shown: list[tuple[int, ...]], weight: float
    ) -> None:
        choices = _choices(shown)
        for choice in choices:
            rows.append(Hypothesis(outlets, fault))
            patterns.append(list(choice))
            weights.append(weight / len(choices))

    many = max(len(problem.outlets), 1)
    for outlets in ((), *((outlet,) for outlet in problem.outlets)):
        share = chance("chance clean") / many if outlets else chance("chance nowhere")
        fault_share = chance("chance faulty") / (many + 1) / len(faults)
        add(outlets, None, _shown(problem, outlets, None), share)
        for fault in faults:
            add(outlets, fault, _shown(problem, outlets, fault), fault_share)
    chains = [
        chain for size in range(2, problem.chain_limit + 1) for chain in combinations(problem.outlets, size)
    ]
    for chain in chains:
        add(chain, None, _shown(problem, chain, None), chance("chance joined") / len(chains))
    for chain in problem.long_chains:
        add(chain, None, _shown(problem, chain, None), chance("chance joined") ** (len(chain) - 1))

    groups = tuple(dict.fromkeys(row.outlets for row in rows))
    group_index = {group: k for k, group in enumerate(groups)}
    chances = np.array(weights)
    return Explanations(
        problem=problem,
        rows=tuple(rows),
        chances=chances / chances.sum(),
        masks=np.array(patterns, dtype=np.int64).reshape(len(rows), len(problem.rounds)).T,
        reaches=np.array([[outlet in row.outlets for outlet in problem.outlets] for row in rows]),
        group_of_row=np.array([group_index[row.outlets] for row in rows]),
        groups=groups,
        member=np.array([[outlet in group for outlet in problem.outlets] for group in groups]),
    )


def _choices(shown: list[tuple[int, ...]]) -> list[tuple[int, ...]]:
    choices: list[tuple[int, ...]] = [()]
    for options in shown:
        choices = [(*choice, option) for choice in choices for option in options]
    return choices


def _shown(problem: TracingQuestion, outlets: tuple[str, ...], fault: Fault | None) -> list[tuple[int, ...]]:
    """For each round, the patterns this explanation can show (several only where colours are not trusted)."""
    n = problem.conductors
    canonical = canonical_masks(n, problem.trust)
    shown = []
    for number in range(1, len(problem.rounds) + 1):
        seen = {0}
        for outlet in outlets:
            plug = problem.plug(outlet, number)
            mask = plug.mask(n) if plug else 0
            # The first outlet fixes how unknown colours are called; those after it may differ from it.
            masks = (mask,) if seen == {0} else orbit(mask, n, problem.trust)
            seen = {joined(a, b, n) for a in seen for b in masks}
        if fault is not None:
            seen = {fault.seen(mask, n) for mask in seen}
        shown.append(tuple(sorted({canonical[mask] for mask in seen})))
    return shown


def continuity_rows(
    table: Explanations, observed: int, round_number: int, tested: tuple[int, ...] | None
) -> Bools:
    """Rows that show exactly this pattern on the conductors that were probed: an array (row).

    Parameters
    ----------
    observed : mask of the conductors that beep together
    round_number : from 1
    tested : the conductors that were probed; None for all

    **Validity**: where only some were probed, they are taken to be those they are called, whatever the
    trust. **Source**: docs/trace.md, "Readings".
    """
    problem = table.problem
    shown = table.masks[round_number - 1]
    if tested is None or len(tested) == problem.conductors:
        return np.asarray(shown == canonical_masks(problem.conductors, problem.trust)[observed])
    probed = sum(bit_of(problem.conductors, a, b) for a, b in combinations(sorted(tested), 2))
    return np.asarray((shown & probed) == observed)


def resistance_rows(table: Explanations, pair: tuple[int, int], ohm: float, round_number: int) -> Bools:
    """Rows in which this reading is possible between these two conductors.

    Validity: parts within their tolerance, meter within its own, cable loop from zero to the loop limit.
    **Source**: docs/trace.md, "Resistors"; tolerances of the fact table `trace_numbers`.
    """
    problem = table.problem
    index = conductor_pairs(problem.conductors).index((min(pair), max(pair)))
    scale = trace_number("resistor tolerance") + trace_number("meter scale")
    offset = trace_number("meter offset")
    allowed: Bools = np.isnan(table.resistances_ohm[round_number - 1][:, index])
    for k in pair_orbits(problem.conductors, problem.trust)[index]:
        nominal = table.resistances_ohm[round_number - 1][:, k]
        low = nominal * (1 - scale) - offset
        high = nominal * (1 + scale) + trace_number("loop limit") + offset
        open_shown = nominal > trace_number("open above")
        if ohm > trace_number("open above"):
            allowed |= open_shown
        else:
            allowed |= ~open_shown & (low <= ohm) & (ohm <= high)
    return allowed
