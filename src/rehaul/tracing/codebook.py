"""Strap codes that one fault cannot turn into each other.

A code word is the pattern an outlet gets in each round (one round, or two where one does not hold enough
words). Every open or short changes the number of ties by one or changes nothing, so words whose patterns
all have the same number of ties never turn into each other by an open or short; in parallel, two
different patterns of equal ties always have more ties than either. Only crosses are left to exclude, word
by word. The empty word counts too, so a cable that ends nowhere is never taken for a plugged outlet.
"""

from __future__ import annotations

from enum import StrEnum
from functools import cache
from itertools import product

from rehaul.tracing.faults import fault_pictures
from rehaul.tracing.partitions import joined, partitions, tie_count
from rehaul.tracing.trust import Trust, canonical_masks, orbit

Word = tuple[int, ...]  # a pattern mask for each round
_MOST_WORDS = 6000  # longest list of words searched
ENOUGH = 24  # codes that a house needs at most in one go


class Guarantee(StrEnum):
    """What one fault (an open, a short, a cross, or a second outlet on the cable) can do to a reading."""

    CORRECTS = "one fault is seen through"
    DETECTS = "one fault is never taken for another outlet"
    NONE = "one fault can mislead"


@cache
def images(word: Word, conductors: int, trust: Trust) -> frozenset[Word]:
    """What one open, short or cross can make of a word (the same fault in every round), itself included.

    Every pattern stands as the smallest mask that the trust cannot tell from it. **Source**: docs/trace.md,
    "Straps".
    """
    pictures = fault_pictures(conductors)
    canonical = canonical_masks(conductors, trust)
    rounds = [[canonical[mask], *(canonical[seen] for seen in pictures[mask].tolist())] for mask in word]
    return frozenset(zip(*rounds, strict=True))


@cache
def _join_images(first: Word, second: Word, conductors: int, trust: Trust) -> frozenset[Word]:
    """What two words in parallel can look like; several, where colours are not trusted."""
    canonical = canonical_masks(conductors, trust)
    rounds = [
        {canonical[joined(a, other, conductors)] for other in orbit(b, conductors, trust)}
        for a, b in zip(first, second, strict=True)
    ]
    return frozenset(product(*rounds))


@cache
def patterns(conductors: int, trust: Trust) -> tuple[int, ...]:
    """One pattern per orbit, fewest ties first, the empty one left out.

    Returns
    -------
    masks of `partitions`; with every colour trusted 14, 202 and 4,139 on 4, 6 and 8 conductors

    **Source**: Bell numbers less one where all colours are trusted (docs/trace.md, "Straps").

    >>> len(patterns(4, Trust.COLOURS)), len(patterns(4, Trust.TWIST))
    (14, 6)
    """
    canonical = canonical_masks(conductors, trust)
    return tuple(mask for mask in partitions(conductors)[1:] if canonical[mask] == mask)


@cache
def detecting_codes(conductors: int, trust: Trust, rounds: int = 1) -> tuple[Word, ...]:
    """Words of which one open, short, cross or join of two never looks like another word.

    The number of ties is the smallest that yields 24 words, or else the one that yields most. Greedy, so
    a lower bound on what exists. **Source**: docs/trace.md, "Straps".
    """
    best: tuple[Word, ...] = ()
    for ties in range(2, conductors):
        equal = [mask for mask in patterns(conductors, trust) if tie_count(mask, conductors) == ties]
        if len(equal) ** rounds > _MOST_WORDS:
            continue
        words: list[Word] = []
        taken: set[Word] = set()
        for word in product(equal, repeat=rounds):
            if word in taken:
                continue
            reach = images(word, conductors, trust)
            if not reach.intersection(words):  # over two rounds with unknown colours, both ways matter
                words.append(word)
                taken |= reach
        if len(words) > len(best):
            best = tuple(words)
        if len(best) >= ENOUGH:
            break
    return best


@cache
def correcting_codes(conductors: int, trust: Trust, rounds: int = 1) -> tuple[Word, ...]:
    """Words whose pictures under every single open, short and cross never overlap, nor with those of an
    empty cable or of two other words in parallel: the outlet is named rightly through one fault. Two
    words in parallel never look like either of them alone.

    Greedy, so a lower bound on what exists; at most 24 words. **Source**: docs/trace.md, "Straps".
    """
    if len(patterns(conductors, trust)) ** rounds > _MOST_WORDS:
        return ()
    words: list[Word] = []
    taken = set(images((0,) * rounds, conductors, trust))
    joins: set[Word] = set()
    for word in product(patterns(conductors, trust), repeat=rounds):
        reach = images(word, conductors, trust)
        if reach & taken or reach & joins:
            continue
        fresh = [(code, _join_images(code, word, conductors, trust)) for code in words]
        if any(
            seen & {code, word} or (seen & taken) - images(code, conductors, trust) for code, seen in fresh
        ):
            continue
        words.append(word)
        taken |= reach
        joins.update(*(seen for _, seen in fresh))
        if len(words) == ENOUGH:
            break
    return tuple(words)
