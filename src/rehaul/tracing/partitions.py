"""Which conductors are tied together: a set partition, held as a bit mask of tied pairs.

Conductors are numbered 1..n in colour order: pair 1 tip, pair 1 ring, pair 2 tip, ... Bit k of a mask
says that the k-th pair of conductors (1-2, 1-3, ..., 1-n, 2-3, ...) beeps on a continuity meter.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cache

from rehaul.errors import BadInput
from rehaul.words import say

MAX_CONDUCTORS = 8
Blocks = tuple[tuple[int, ...], ...]


@cache
def conductor_pairs(conductors: int) -> tuple[tuple[int, int], ...]:
    """Every pair of conductors (low, high), in the order of the bits of a mask.

    **Source**: docs/trace.md, "Straps".

    >>> conductor_pairs(3)
    ((1, 2), (1, 3), (2, 3))
    """
    return tuple((a, b) for a in range(1, conductors + 1) for b in range(a + 1, conductors + 1))


@cache
def bit_of(conductors: int, a: int, b: int) -> int:
    """The mask with only the bit of conductors a and b set, in either order.

    ValueError for conductors that the cable does not have.

    >>> bit_of(4, 3, 1)
    2
    """
    return 1 << conductor_pairs(conductors).index((min(a, b), max(a, b)))


def mask_of(blocks: Iterable[Sequence[int]], conductors: int, *, where: str = "") -> int:
    """The mask of a partition given by the blocks that are tied; conductors not named stand alone.

    Raises BadInput where a conductor is out of range, named twice, or a block holds fewer than two.
    **Source**: docs/trace.md, "Straps".
    """
    seen: set[int] = set()
    mask = 0
    for block in blocks:
        for conductor in block:
            if not 1 <= conductor <= conductors:
                raise BadInput(
                    say("refused_tracing.no_conductor", conductor=conductor, conductors=conductors),
                    where=where or say("refused_tracing.where_tied"),
                    remedy=say("refused_tracing.number_conductors", conductors=conductors),
                )
            if conductor in seen:
                raise BadInput(
                    say("refused_tracing.conductor_twice", conductor=conductor),
                    where=where or say("refused_tracing.where_tied"),
                    remedy=say("refused_tracing.group_once"),
                )
            seen.add(conductor)
        if len(block) < 2:
            raise BadInput(
                say("refused_tracing.group_of_one"),
                where=where or say("refused_tracing.where_tied"),
                remedy=say("refused_tracing.leave_out"),
            )
        for position, a in enumerate(block):
            for b in block[position + 1 :]:
                mask |= bit_of(conductors, a, b)
    return mask


def labels_of(mask: int, conductors: int) -> list[int]:
    """For each conductor (index 0 is conductor 1) the lowest conductor of its block.

    **Validity**: of a mask that is a partition (`mask_of`, `closed`); other sets of ties give no whole
    blocks. **Source**: docs/trace.md, "Straps".

    >>> labels_of(mask_of([(1, 2), (3, 4)], 4), 4)
    [1, 1, 3, 3]
    """
    labels = list(range(1, conductors + 1))
    for k, (a, b) in enumerate(conductor_pairs(conductors)):
        if mask >> k & 1:
            labels[b - 1] = min(labels[a - 1], labels[b - 1])
    return labels


def blocks_of(mask: int, conductors: int) -> Blocks:
    """The tied groups (two or more conductors) of a partition mask, in the order of their lowest conductor.

    The other way round than `mask_of`; empty where nothing is tied.

    >>> blocks_of(mask_of([(3, 4), (1, 2)], 4), 4)
    ((1, 2), (3, 4))
    """
    groups: dict[int, list[int]] = {}
    for conductor, label in enumerate(labels_of(mask, conductors), start=1):
        groups.setdefault(label, []).append(conductor)
    return tuple(tuple(group) for group in groups.values() if len(group) > 1)


def tie_count(mask: int, conductors: int) -> int:
    """How many ties make this partition: conductors less blocks, its rank in the partition lattice.

    An open or a short changes it by one or not at all; the codes of `codebook` rest on that. **Source**: rank
    in the lattice of partitions (Birkhoff, Lattice theory, 1940), from memory; docs/trace.md, "Straps".

    >>> tie_count(mask_of([(1, 2, 3)], 4), 4)
    2
    """
    return conductors - len(set(labels_of(mask, conductors)))


@cache
def closed(mask: int, conductors: int) -> int:
    """The partition that any set of ties makes: what touches what touches a third, touches it too.

    **Source**: union of sets by a forest (Galler and Fisher 1964), from memory; docs/trace.md, "Straps".

    >>> blocks_of(closed(bit_of(4, 1, 2) | bit_of(4, 2, 3), 4), 4)
    ((1, 2, 3),)
    """
    parent = list(range(conductors + 1))

    def root(node: int) -> int:
        while parent[node] != node:
            node = parent[node]
        return node

    for k, (a, b) in enumerate(conductor_pairs(conductors)):
        if mask >> k & 1:
            low, high = sorted((root(a), root(b)))
            parent[high] = low
    result = 0
    for k, (a, b) in enumerate(conductor_pairs(conductors)):
        if root(a) == root(b):
            result |= 1 << k
    return result


def joined(first: int, second: int, conductors: int) -> int:
    """What a meter sees where two outlets hang on the same cable: both patterns in parallel.

    **Validity**: both outlets call the conductors by the same names, and no wire is broken between them.
    **Source**: docs/trace.md, "Straps".

    >>> blocks_of(joined(mask_of([(1, 2)], 4), mask_of([(2, 4)], 4), 4), 4)
    ((1, 2, 4),)
    """
    return closed(first | second, conductors)


def opened(mask: int, conductor: int, conductors: int) -> int:
    """The partition seen when one conductor is broken on the way: it is tied to nothing.

    The others of its group stay together, for they are tied at the plug beyond the break. **Source**:
    docs/trace.md, "Straps".

    >>> blocks_of(opened(mask_of([(1, 2, 3)], 4), 2, 4), 4)
    ((1, 3),)
    """
    for other in range(1, conductors + 1):
        if other != conductor:
            mask &= ~bit_of(conductors, conductor, other)
    return mask


def shorted(mask: int, a: int, b: int, conductors: int) -> int:
    """The partition seen when conductors a and b touch on the way: their groups become one.

    **Source**: docs/trace.md, "Straps".

    >>> blocks_of(shorted(mask_of([(1, 2), (3, 4)], 4), 2, 3, 4), 4)
    ((1, 2, 3, 4),)
    """
    return closed(mask | bit_of(conductors, a, b), conductors)


def permuted(mask: int, images: Sequence[int], conductors: int) -> int:
    """The partition after conductor i has become images[i - 1].

    `images` holds each of 1 to `conductors` once. **Source**: docs/trace.md, "Straps".

    >>> blocks_of(permuted(mask_of([(1, 2)], 4), (3, 4, 1, 2), 4), 4)
    ((3, 4),)
    """
    result = 0
    for k, (a, b) in enumerate(conductor_pairs(conductors)):
        if mask >> k & 1:
            result |= bit_of(conductors, images[a - 1], images[b - 1])
    return result


def crossed(mask: int, a: int, b: int, conductors: int) -> int:
    """The partition seen when conductors a and b change places on the way.

    **Source**: docs/trace.md, "Straps".

    >>> blocks_of(crossed(mask_of([(1, 2)], 4), 2, 3, 4), 4)
    ((1, 3),)
    """
    images = list(range(1, conductors + 1))
    images[a - 1], images[b - 1] = b, a
    return permuted(mask, images, conductors)


@cache
def partitions(conductors: int) -> tuple[int, ...]:
    """Every partition as a mask, fewest ties first, then by size of mask: a Bell number of them.

    Raises BadInput outside 2 to 8 conductors. **Source**: Bell numbers: 15, 203 and 4,140 on 4, 6 and 8;
    docs/trace.md, "Straps".
    """
    if not 2 <= conductors <= MAX_CONDUCTORS:
        raise BadInput(
            say("refused_tracing.too_many_to_code", conductors=conductors),
            where="conductors",
            remedy=say("refused_tracing.use_2_to_8"),
        )
    found: list[int] = []

    def grow(labels: list[int]) -> None:
        if len(labels) == conductors:
            groups: dict[int, list[int]] = {}
            for conductor, label in enumerate(labels, start=1):
                groups.setdefault(label, []).append(conductor)
            found.append(mask_of((g for g in groups.values() if len(g) > 1), conductors))
            return
        for label in range(max(labels, default=-1) + 2):
            grow([*labels, label])

    grow([])
    return tuple(sorted(found, key=lambda mask: (tie_count(mask, conductors), mask)))
