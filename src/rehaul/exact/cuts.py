"""Cuts of the coverage and the bound they prove, compiled.

What a set of options serves is submodular. At any point x the places that x covers in full count at
their whole weight and the others count once for every option that serves them: more than any choice
serves, so what is missing at x bounds every choice that meets the need (a Benders cut). Because options
are whole, the cut is rounded where that is stronger (mixed-integer rounding).

**Source** idea: Cordeau, Furini, Ljubic, "Benders decomposition for very large scale partial set covering
and maximal covering location problems", 2019 [memory].
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from rehaul.exact.planes import Count, Planes, gains_at
from rehaul.exact.simplex import Tableau, add_row
from rehaul.kernels.loops import compiled, inner

WHOLE_WITHIN = 1e-6  # of 0 or 1, a value counts as whole
CUT_LEAST = 1e-6  # a cut broken by less is not added; its right side is one
ROUNDING = 1e-11  # given away on the right side of every cut
LEAST_PART = 1e-3  # of a divisor; rounding over less would magnify errors
FREE, MUST = 0, 1


class SearchTables(NamedTuple):
    """What does not change during a search; costs in hundredths, weights in whole steps."""

    planes: Planes
    need: NDArray[np.int64]  # (groups,)
    cost: NDArray[np.int64]  # (options,)
    site: NDArray[np.int64]  # (options,) 0 to sites - 1
    must: NDArray[np.int8]  # (sites,) MUST where the site has to hold an option
    by_cost: NDArray[np.int64]  # (options,) cheapest first
    enough: int  # requirements to meet
    step: int  # all costs are multiples of this


@compiled
def rounded(gain: float, short: float, divisor: float) -> float:
    """Coefficient of an option that adds `gain` where `short` is missing, rounded over `divisor`.

    Options are whole, so from `sum gain x >= short` follows the same with these coefficients and 1 on the
    right (mixed-integer rounding). A divisor of 0 gives the plain share. **Source**: mixed-integer rounding
    (Nemhauser and Wolsey), from memory; docs/exact.md, "Why it is exact".
    """
    if divisor <= 0.0:
        return min(gain / short, 1.0)
    times = short / divisor
    part = times - np.floor(times)
    own = gain / divisor
    value = np.floor(own) * part + min(own - np.floor(own), part)
    return min(value / (part * np.ceil(times)), 1.0)  # type: ignore[no-any-return]


@inner
def enough_met(scene: SearchTables, whole: NDArray[np.int64]) -> bool:
    """Whether these weights meet as many needs as are asked for.

    Parameters: `whole` (groups,) in whole steps of weight. **Source**: docs/exact.md, "The problem": how much
    is asked.
    """
    met = 0
    for g in range(len(scene.need)):
        met += whole[g] >= scene.need[g]
    return met >= scene.enough


@inner
def positive(x: NDArray[np.float64]) -> NDArray[np.int64]:
    """Options that a point takes at all, rising: few of many, and sums over the others are nought.

    Parameters: `x` (options,) from 0 to 1.
    """
    found = np.zeros(len(x), np.int64)
    many = 0
    for o in range(len(x)):
        if x[o] > 1e-9:
            found[many] = o
            many += 1
    return found[:many]


@inner
def best_divisor(
    count: Count, g: int, short: float, x: NDArray[np.float64], flag: float
) -> tuple[float, float]:
    """The divisor whose rounded cut x breaks most, and by how much; 0 where the plain cut is as good.

    Parameters: `count`, as `gains_at` left it at x; `g`, the requirement, of which `short` is missing;
    `flag`, its value.

    Returns (breach, divisor). The gains of options that x takes in part are
    tried.

    **Validity**: the cut holds whatever the divisor is; a poor one is only weaker. **Source**: mixed-integer
    rounding (Nemhauser and Wolsey), from memory; docs/exact.md, "Why it is exact".
    """
    taken = positive(x)
    best, divisor = 0.0, 0.0
    for candidate in range(-1, len(taken)):
        d = 0.0
        if candidate >= 0:
            if not WHOLE_WITHIN < x[taken[candidate]] < 1.0 - WHOLE_WITHIN:
                continue
            d = float(count.gain[g, taken[candidate]])
            times = short / d if d > 0.0 else 0.0
            if d <= 0.0 or d >= short or times - np.floor(times) < LEAST_PART:
                continue
        broken = flag
        for o in taken:
            broken -= rounded(float(count.gain[g, o]), short, d) * x[o]
            if broken <= best:
                break
        if broken > best + 1e-9:
            best, divisor = broken, d
    return best, divisor


@inner
def add_cuts(
    scene: SearchTables,
    t: Tableau,
    count: Count,
    x: NDArray[np.float64],
    flags: NDArray[np.float64],
    row: NDArray[np.float64],
    least: float,
) -> int:
    """Add the strongest cut of every group at x that (x, flags) breaks; returns how many.

    Parameters: `x` (options,), `flags` (groups,) from 0 to 1; `row` (options + groups,) scratch; `least`,
    breach below which a cut is not worth a row.

    **Validity**: every cut holds for every whole choice; 1e-9 is given away for rounding. A full tableau
    takes none.
    **Source**: the head of this module.
    """
    options = len(scene.cost)
    gains_at(scene.planes, count, x)
    added = 0
    for g in range(len(scene.need)):
        short = float(scene.need[g] - count.whole[g])
        if short <= 0.0 or t.high[options + g] == 0.0 or t.size[0] >= len(t.rows):
            continue
        broken, divisor = best_divisor(count, g, short, x, flags[g])
        if broken <= least:
            continue
        row[:] = 0.0
        for o in range(options):
            if count.gain[g, o] > 0:
                row[o] = rounded(float(count.gain[g, o]), short, divisor)
        row[options + g] = -1.0 + ROUNDING
        add_row(t, row, 0.0)
        added += 1
    return added


@inner
def add_site_rows(
    scene: SearchTables, t: Tableau, row: NDArray[np.float64], has_row: NDArray[np.bool_]
) -> int:
    """Add "one option at most" for every site that the present point breaks.

    Parameters: `row` (options + groups,) scratch; `has_row` (sites,), which is kept in step. Returns how
    many were added; a full tableau takes none. **Source**: docs/exact.md, "The problem": one way in a group.
    """
    options = len(scene.cost)
    total = np.zeros(len(scene.must))
    for o in range(options):
        total[scene.site[o]] += t.value[o]
    added = 0
    for s in range(len(total)):
        if total[s] > 1.0 + 1e-7 and not has_row[s] and t.size[0] < len(t.rows):
            row[:] = 0.0
            for o in range(options):
                if scene.site[o] == s:
                    row[o] = -1.0
            add_row(t, row, -1.0)
            has_row[s] = True
            added += 1
    return added


@inner
def safe_bound(
    scene: SearchTables,
    t: Tableau,
    price: NDArray[np.float64],
    red: NDArray[np.float64],
    best_at: NDArray[np.bool_],
    contrib: NDArray[np.float64],
    pick: NDArray[np.int64],
) -> float:
    """Least cost left by the cuts at these prices, whatever the simplex believes.

    The rows are weighed into the objective with their prices; what remains splits into sites and flags
    and is solved exactly. `red` becomes each variable's reduced cost, `contrib` each site's share.
    **Source**: weak duality (Neumaier and Shcherbina 2004, abstract read); docs/exact.md, "Why it is exact".
    """
    options = len(scene.cost)
    groups = len(scene.need)
    for o in range(options):
        red[o] = scene.cost[o]
    red[options:] = 0.0
    total = 0.0
    for k in range(t.size[0]):
        p = price[k]
        if p > 0.0 and t.right[k] == 0.0:  # a coverage cut; site and count rows are met exactly below
            row = t.rows[k]
            for j in range(options + groups):
                red[j] -= p * row[j]
    for s in range(len(scene.must)):
        contrib[s] = np.inf if scene.must[s] == MUST else 0.0
        pick[s] = -1
    for o in range(options):
        if t.low[o] == 1.0:
            contrib[scene.site[o]] = -np.inf
            pick[scene.site[o]] = o
    for o in range(options):
        s = scene.site[o]
        if t.high[o] == 1.0 and contrib[s] != -np.inf and red[o] < contrib[s]:
            contrib[s] = red[o]
            pick[s] = o
    for s in range(len(scene.must)):
        if contrib[s] == -np.inf:
            contrib[s] = red[pick[s]]
        total += contrib[s]
    taken = 0
    for g in range(groups):
        if t.low[options + g] == 1.0:
            total += red[options + g]
            taken += 1
    best_at[:] = False
    while taken < scene.enough:
        least, at = np.inf, -1
        for g in range(groups):
            free = t.low[options + g] == 0.0 and t.high[options + g] == 1.0
            if free and not best_at[g] and red[options + g] < least:
                least, at = red[options + g], g
        if at < 0:
            return np.inf
        best_at[at] = True
        total += least
        taken += 1
    return total
