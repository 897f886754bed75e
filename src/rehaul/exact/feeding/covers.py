"""Cuts that see what ways share, compiled.

A coverage cut says that ways with these coefficients, none above one, come to one where something is met.
Three ways that take a third each satisfy it, and a resource that all three need is then a third paid. But
without that resource none of them is there. So ways that need it may be left out of the cut, and the
resource put in their place with coefficient one: where it stands nothing is claimed, and where it does not
the ways left out are nought. The ports of ways and of what they need make the switch such a resource too.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from rehaul.exact.cuts import ROUNDING, best_divisor, positive, rounded
from rehaul.exact.planes import Count, gains_at
from rehaul.exact.simplex import Tableau, add_row
from rehaul.kernels.loops import inner

SHARED_LEAST = 1e-3  # a cut of this kind broken by less is not added


@inner
def add_covers(
    wood: Any,
    t: Tableau,
    count: Count,
    x: NDArray[np.float64],
    flags: NDArray[np.float64],
    row: NDArray[np.float64],
    least: float,
) -> int:
    """Add the strongest cut of every requirement that (x, flags) breaks, and those that see resources.

    Parameters: `wood`, the search's `Wood`; `x` (ways,), `flags` (requirements,) from 0 to 1; `row`
    (columns,) scratch; `least`, breach below which a coverage cut is not worth a row.

    **Validity**: every cut holds for every whole choice. **Source**: the heads of this module and of
    `exact.cuts`.
    """
    ways = len(x)
    gains_at(wood.planes, count, x)
    share, taken = np.zeros(ways), positive(x)
    added = 0
    for g in range(len(wood.alone)):
        if t.high[ways + g] == 0.0 or t.size[0] + 2 >= len(t.rows):
            continue
        flag = t.value[ways + g]
        if g < len(wood.need):
            short = float(wood.need[g] - count.whole[g])
            if short > 0.0:
                broken, divisor = best_divisor(count, g, short, x, flag)
                for way in range(ways):
                    share[way] = rounded(float(count.gain[g, way]), short, divisor)
                if broken > least:
                    _add(t, share, row, ways + g)
                    added += 1
                added += _add_seeing(wood, t, share, x, taken, row, ways + g, flag)
                continue
        for way in range(ways):
            share[way] = wood.alone[g, way]
        added += _add_seeing(wood, t, share, x, taken, row, ways + g, flag)
    return added


@inner
def _add(t, share, row, met):  # type: ignore[no-untyped-def]
    row[:] = 0.0
    row[: len(share)] = share
    row[met] = -1.0 + ROUNDING
    add_row(t, row, 0.0)


@inner
def _add_seeing(wood, t, share, x, taken, row, met, flag):  # type: ignore[no-untyped-def]
    """Put resources for ways where that breaks the cut more; add it where it is broken then."""
    ways, kinds = len(x), wood.uses.shape[1]
    total = 0.0
    for way in taken:
        total += share[way] * x[way]
    row[:] = 0.0
    row[:ways] = share
    put = False
    used = np.zeros(kinds, np.bool_)
    for _ in range(kinds):
        at, most = -1, 1e-6
        for q in range(kinds):
            if used[q]:
                continue
            saved = -_stands(wood, t, q)
            for way in taken:
                if wood.uses[way, q]:
                    saved += row[way] * x[way]
            if saved > most:
                at, most = q, saved
        if at < 0:
            break
        used[at] = True
        put = True
        total -= most
        for way in range(ways):
            if wood.uses[way, at]:
                row[way] = 0.0
    if not put or flag - total < SHARED_LEAST:
        return 0
    for q in range(kinds):
        if used[q]:
            if q < kinds - 1:
                row[wood.resource + q] = 1.0
            else:
                row[wood.resource + q :] = 1.0
    row[met] = -1.0 + ROUNDING
    add_row(t, row, 0.0)
    return 1


@inner
def _stands(wood, t, q):  # type: ignore[no-untyped-def]
    """Value of a resource; the last stands for the switch, of whatever class."""
    if q < wood.uses.shape[1] - 1:
        return t.value[wood.resource + q]
    total = 0.0
    for column in range(wood.resource + q, len(t.cost)):
        total += t.value[column]
    return total
