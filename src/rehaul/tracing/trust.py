"""How far the colours at the two ends can be believed, and what a pattern looks like then.

A level of trust is a group of permutations of the conductors. Two patterns that one of them turns into
each other cannot be told apart, so a pattern is known by the smallest mask of its orbit.
"""

from __future__ import annotations

from collections.abc import Iterator
from enum import StrEnum
from functools import cache
from itertools import permutations, product

import numpy as np

from rehaul.errors import BadInput
from rehaul.tracing.partitions import conductor_pairs, labels_of, mask_of, partitions
from rehaul.words import say


class Trust(StrEnum):
    """What is known about which conductor is which at the two ends."""

    COLOURS = "every colour"  # each conductor is known at both ends
    A_OR_B = "colours, but T568A or T568B at the outlet"  # orange and green pairs may have changed places
    PAIR_COLOURS = "pair colours only"  # which pair is known, not which wire of it
    TWIST = "twist only"  # which two wires are a pair is known, not which pair
    NONE = "nothing"


def permutations_of(trust: Trust, conductors: int) -> Iterator[tuple[int, ...]]:
    """The permutations that this trust cannot tell from none: conductor i may really be images[i - 1].

    A group: none of them first, or among them. All n! where nothing is trusted, so 40,320 of eight
    conductors.

    **Validity**: whole pairs where pairs are trusted, and at least three for `A_OR_B`. **Source**: T568A and
    T568B differ by pairs 2 and 3 (TIA-568 as quoted in the fact table `terminations`); docs/trace.md,
    "Straps".

    >>> list(permutations_of(Trust.PAIR_COLOURS, 2))
    [(1, 2), (2, 1)]
    """
    pairs = conductors // 2
    identity = tuple(range(1, conductors + 1))
    if trust is Trust.COLOURS:
        yield identity
    elif trust is Trust.A_OR_B:
        yield identity
        yield (1, 2, 5, 6, 3, 4, *identity[6:])
    elif trust is Trust.NONE:
        yield from permutations(identity)
    else:
        orders = permutations(range(pairs)) if trust is Trust.TWIST else iter([tuple(range(pairs))])
        for order in orders:
            for flips in product((0, 1), repeat=pairs):
                yield tuple(2 * order[p] + 1 + (side ^ flips[p]) for p in range(pairs) for side in (0, 1))


def _require(trust: Trust, conductors: int) -> None:
    if trust in (Trust.PAIR_COLOURS, Trust.TWIST) and conductors % 2:
        raise BadInput(
            say("refused_tracing.odd_conductors", conductors=conductors),
            where="conductors",
            remedy=say("refused_tracing.use_even"),
        )
    if trust is Trust.A_OR_B and conductors < 6:
        raise BadInput(
            say("refused_tracing.pairs_differ"),
            where="conductors",
            remedy=say("refused_tracing.use_three_pairs"),
        )


@cache
def canonical_masks(conductors: int, trust: Trust) -> dict[int, int]:
    """For every partition mask, the mask that stands for all it cannot be told from.

    The smallest of its orbit; with nothing trusted the pattern of the same group sizes, the largest first.
    Raises BadInput for half pairs, or less than three pairs with `A_OR_B`. **Source**: docs/trace.md,
    "Straps": a pattern is known by its orbit.
    """
    _require(trust, conductors)
    masks = partitions(conductors)
    if trust is Trust.NONE:
        return {mask: _by_sizes(mask, conductors) for mask in masks}
    pairs = conductor_pairs(conductors)
    index = {pair: k for k, pair in enumerate(pairs)}
    bits = np.array([[mask >> k & 1 for k in range(len(pairs))] for mask in masks], dtype=np.int64)
    best = np.array(masks, dtype=np.int64)
    for images in permutations_of(trust, conductors):
        weights = [
            1 << index[min(images[a - 1], images[b - 1]), max(images[a - 1], images[b - 1])] for a, b in pairs
        ]
        best = np.minimum(best, bits @ np.array(weights, dtype=np.int64))
    return dict(zip(masks, best.tolist(), strict=True))


def _by_sizes(mask: int, conductors: int) -> int:
    labels = labels_of(mask, conductors)
    sizes = sorted((labels.count(label) for label in set(labels)), reverse=True)
    blocks, start = [], 1
    for size in sizes:
        if size > 1:
            blocks.append(range(start, start + size))
        start += size
    return mask_of(blocks, conductors)


@cache
def pair_orbits(conductors: int, trust: Trust) -> tuple[tuple[int, ...], ...]:
    """For each pair of conductors, which pairs (by index) it may really be under this trust, in order.

    The index is the bit of `conductor_pairs`. Raises BadInput as `canonical_masks` does. **Source**:
    docs/trace.md, "Straps": a pattern is known by its orbit.
    """
    _require(trust, conductors)
    pairs = conductor_pairs(conductors)
    if trust is Trust.NONE:
        return tuple(tuple(range(len(pairs))) for _ in pairs)
    index = {pair: k for k, pair in enumerate(pairs)}
    orbits: list[set[int]] = [set() for _ in pairs]
    for images in permutations_of(trust, conductors):
        for k, (a, b) in enumerate(pairs):
            low, high = sorted((images[a - 1], images[b - 1]))
            orbits[k].add(index[low, high])
    return tuple(tuple(sorted(orbit)) for orbit in orbits)


@cache
def orbit(mask: int, conductors: int, trust: Trust) -> tuple[int, ...]:
    """Every mask that this one cannot be told from, itself included, fewest ties first.

    `mask` is a partition; KeyError for another set of ties. **Source**: docs/trace.md, "Straps": a pattern is
    known by its orbit.
    """
    canonical = canonical_masks(conductors, trust)
    return tuple(other for other, name in canonical.items() if name == canonical[mask])
