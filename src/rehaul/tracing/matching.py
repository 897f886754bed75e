"""Which single choices survive when no two may choose the same: all-different, by one maximum matching."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from scipy.sparse import csr_array
from scipy.sparse.csgraph import breadth_first_order, connected_components, maximum_bipartite_matching

Chooser = tuple[str, ...]  # ends that count as one


def surviving_choices(
    choices: Mapping[Chooser, frozenset[str]],
) -> tuple[dict[Chooser, frozenset[str]], frozenset[str]]:
    """Choices that occur in some complete assignment, and the values every complete assignment uses up.

    Parameters
    ----------
    choices : for each chooser the values open to it, none of them empty

    Returns
    -------
    the same mapping with impossible values removed, and the values no chooser outside may take.
    Both are empty where no complete assignment exists; `too_few_choices` says who is to blame.

    Source: Regin's filtering of the all-different constraint (AAAI 1994): an edge is in some maximum
    matching if it is in the matching, in an alternating cycle, or on an alternating path from a free value.
    """
    choosers, values, matched = _matching(choices)
    if not choosers:
        return {}, frozenset()
    if -1 in matched:
        return {}, frozenset()
    n, m = len(choosers), len(values)
    column = {value: k for k, value in enumerate(values)}
    # Directed graph: chooser -> its matched value, every other value -> the choosers it is open to.
    edges: list[tuple[int, int]] = []
    for row, chooser in enumerate(choosers):
        for value in choices[chooser]:
            k = column[value]
            if matched[row] == k:
                edges.append((row, n + k))
            else:
                edges.append((n + k, row))
    size = n + m + 1
    free = [k for k in range(m) if k not in set(matched)]
    edges += [(size - 1, n + k) for k in free]
    tails, heads = zip(*edges, strict=True)
    graph = csr_array((np.ones(len(edges)), (tails, heads)), shape=(size, size))
    _, component = connected_components(graph, directed=True, connection="strong")
    reached = set(breadth_first_order(graph, size - 1, directed=True, return_predecessors=False).tolist())
    kept = {
        chooser: frozenset(
            value
            for value in choices[chooser]
            if matched[row] == column[value]
            or component[row] == component[n + column[value]]
            or n + column[value] in reached
        )
        for row, chooser in enumerate(choosers)
    }
    used_up = frozenset(value for value, k in column.items() if n + k not in reached)
    return kept, used_up


def too_few_choices(choices: Mapping[Chooser, frozenset[str]]) -> tuple[Chooser, ...]:
    """A smallest set of choosers, none of which can be left out, with fewer values than choosers; or none.

    None where all of them can choose at once. Smallest by leaving out one after the other: no part of it
    does, but another set may have fewer. **Source**: Hall's theorem (1935), by maximum matchings.

    >>> too_few_choices({("C1",): frozenset("a"), ("C2",): frozenset("a"), ("C3",): frozenset("ab")})
    (('C1',), ('C2',))
    """
    blamed = dict(sorted(choices.items()))
    if -1 not in _matching(blamed)[2]:
        return ()
    for chooser in tuple(blamed):
        rest = {other: values for other, values in blamed.items() if other != chooser}
        if -1 in _matching(rest)[2]:
            blamed = rest
    return tuple(blamed)


def _matching(choices: Mapping[Chooser, frozenset[str]]) -> tuple[list[Chooser], list[str], list[int]]:
    choosers = sorted(choices)
    values = sorted(set().union(*choices.values())) if choices else []
    if not choosers or not values:
        return choosers, values, [-1] * len(choosers)
    column = {value: k for k, value in enumerate(values)}
    rows = [row for row, chooser in enumerate(choosers) for _ in choices[chooser]]
    columns = [column[value] for chooser in choosers for value in sorted(choices[chooser])]
    graph = csr_array((np.ones(len(rows)), (rows, columns)), shape=(len(choosers), len(values)))
    return choosers, values, maximum_bipartite_matching(graph, perm_type="column").tolist()
