"""What options serve, counted in bits: one bit for each place, one plane for each bit of its weight.

The weight a set of options serves is a sum over planes of the plane's value times the places it holds
and the options reach: `and` and count, sixty-four places at a time. Places of equal weight, the usual
case, need one plane; fractional weights need up to thirty.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from rehaul.kernels.loops import compiled, inner

WORD = 64
WHOLE = 1.0 - 1e-9  # a place covered by this much counts as covered
ONE, TWO, FOUR, TOP = np.uint64(1), np.uint64(2), np.uint64(4), np.uint64(56)
PAIRS, FOURS = np.uint64(0x5555555555555555), np.uint64(0x3333333333333333)
EIGHTS, SUMMED = np.uint64(0x0F0F0F0F0F0F0F0F), np.uint64(0x0101010101010101)


class Planes(NamedTuple):
    """Options and weights over the same order of places, padded to whole words."""

    bits: NDArray[np.uint64]  # (options, words)
    reach: NDArray[np.float32]  # (options, places) 1 where served
    group: NDArray[np.int64]  # (planes,) the requirement a plane belongs to
    value: NDArray[np.int64]  # (planes,) weight of one bit
    first: NDArray[np.int64]  # (planes,) first word of the plane
    last: NDArray[np.int64]  # (planes,) one past its last word
    start: NDArray[np.int64]  # (planes,) where its words lie in `mask`
    mask: NDArray[np.uint64]  # (all words of all planes,)


class Count(NamedTuple):
    """Scratch of one thread, and the answer of `gains_at`."""

    cover: NDArray[np.float32]  # (places,)
    open_: NDArray[np.uint64]  # (words,) places not covered in full
    part: NDArray[np.uint64]  # (words,)
    whole: NDArray[np.int64]  # (groups,) weight covered in full
    gain: NDArray[np.int64]  # (groups, options) weight each option adds elsewhere


def planes_of(serves: NDArray[np.bool_], weights: NDArray[np.int64]) -> Planes:
    """Planes of `serves` (options, places) and whole `weights` (groups, places).

    Places are put in an order that keeps every group's places together. **Source**: docs/exact.md, "What the
    search does": counting, in bits.
    """
    order = np.lexsort(weights[::-1] > 0)
    places = serves.shape[1]
    words = max(1, -(-places // WORD))
    reach = np.zeros((len(serves), words * WORD), dtype=np.bool_)
    reach[:, :places] = serves[:, order]
    padded = np.zeros((len(weights), words * WORD), dtype=np.int64)
    padded[:, :places] = weights[:, order]
    rows: list[tuple[int, int, int, int]] = []
    masks: list[NDArray[np.uint64]] = []
    for group, row in enumerate(padded):
        for bit in range(int(row.max(initial=0)).bit_length()):
            mask = _words((row >> bit) & 1 == 1)
            used = np.flatnonzero(mask)
            if len(used):
                rows.append((group, 1 << bit, int(used[0]), int(used[-1]) + 1))
                masks.append(mask[used[0] : used[-1] + 1])
    table = np.array(rows, dtype=np.int64).reshape(-1, 4)
    lengths = table[:, 3] - table[:, 2]
    return Planes(
        bits=_words(reach),
        reach=reach.astype(np.float32),
        group=table[:, 0].copy(),
        value=table[:, 1].copy(),
        first=table[:, 2].copy(),
        last=table[:, 3].copy(),
        start=np.concatenate([[0], np.cumsum(lengths)])[:-1].astype(np.int64),
        mask=np.concatenate(masks) if masks else np.zeros(0, dtype=np.uint64),
    )


def count_for(planes: Planes, groups: int) -> Count:
    """Scratch for these planes.

    Parameters: `groups`, number of requirements. One for each thread: `gains_at` writes into it. **Source**:
    docs/exact.md, "What the search does": counting, in bits.
    """
    options, words = planes.bits.shape
    return Count(
        cover=np.zeros(words * WORD, dtype=np.float32),
        open_=np.zeros(words, dtype=np.uint64),
        part=np.zeros(words, dtype=np.uint64),
        whole=np.zeros(groups, dtype=np.int64),
        gain=np.zeros((groups, options), dtype=np.int64),
    )


def only(planes: Planes, stay: NDArray[np.bool_]) -> Planes:
    """The same planes for some of the options.

    Parameters: `stay` (options,). Order of places and words stays as it is.
    """
    return planes._replace(bits=planes.bits[stay], reach=planes.reach[stay])


def _words(flags: NDArray[np.bool_]) -> NDArray[np.uint64]:
    """Flags along the last axis as words of 64 bits, lowest place in the lowest bit."""
    return np.packbits(flags, axis=-1, bitorder="little").view("<u8").astype(np.uint64)


@inner
def _ones(word):  # type: ignore[no-untyped-def]
    """Number of bits set: in pairs, fours, eights, and the eights summed; compiled, one instruction."""
    pairs = word - ((word >> ONE) & PAIRS)
    fours = (pairs & FOURS) + ((pairs >> TWO) & FOURS)
    return np.int64((((fours + (fours >> FOUR)) & EIGHTS) * SUMMED) >> TOP)


@compiled
def gains_at(planes: Planes, count: Count, x: NDArray[np.float64]) -> None:
    """At the point x: weight covered in full, and what every option would add on the other places.

    Parameters: `x` (options,) from 0 to 1; `count` takes the answer: `whole` (groups,) and `gain` (groups,
    options) in whole steps of weight.

    **Validity**: exact where x is whole; in between, places are covered in single precision, and one just
    short of covered in full may count as covered, which leaves cuts valid. **Source**: docs/exact.md, "What
    the search does": counting, in bits.
    """
    _open_places(planes, count, x)
    count.whole[:] = 0
    count.gain[:] = 0
    for p in range(len(planes.group)):
        g, value, start = planes.group[p], planes.value[p], planes.start[p]
        low, high = planes.first[p], planes.last[p]
        covered = 0
        for w in range(low, high):
            mask = planes.mask[start + w - low]
            part = mask & count.open_[w]
            count.part[w] = part
            covered += _ones(mask ^ part)
        count.whole[g] += value * covered
        _add_gains(planes, count, p)


@inner
def _add_gains(planes, count, p):  # type: ignore[no-untyped-def]
    """What every option would add in one plane, on its places that are open: `part`."""
    g, value, low, high = planes.group[p], planes.value[p], planes.first[p], planes.last[p]
    for o in range(len(planes.bits)):
        bits = planes.bits[o]
        found = 0
        for w in range(low, high):
            found += _ones(bits[w] & count.part[w])
        count.gain[g, o] += value * found


@compiled
def gains_short(planes: Planes, count: Count, x: NDArray[np.float64], need: NDArray[np.int64]) -> None:
    """As `gains_at`, with the gains of those requirements alone that x leaves short; the others' are 0.

    Parameters: `need` (groups,) in whole steps of weight. **Source**: docs/exact.md, "What the search does":
    counting, in bits.
    """
    served_at(planes, count, x)
    count.gain[:] = 0
    for p in range(len(planes.group)):
        g, start = planes.group[p], planes.start[p]
        if count.whole[g] >= need[g]:
            continue
        low, high = planes.first[p], planes.last[p]
        for w in range(low, high):
            count.part[w] = planes.mask[start + w - low] & count.open_[w]
        _add_gains(planes, count, p)


@compiled
def served_at(planes: Planes, count: Count, x: NDArray[np.float64]) -> None:
    """At the point x: weight covered in full, alone.

    As `gains_at`, without the gains, which are left as they were. **Source**: docs/exact.md, "What the search
    does": counting, in bits.
    """
    _open_places(planes, count, x)
    count.whole[:] = 0
    for p in range(len(planes.group)):
        low, start = planes.first[p], planes.start[p]
        covered = 0
        for w in range(low, planes.last[p]):
            covered += _ones(planes.mask[start + w - low] & ~count.open_[w])
        count.whole[planes.group[p]] += planes.value[p] * covered


@compiled
def whole_with(planes: Planes, count: Count, a: int, b: int) -> None:
    """Weight covered in full with the options a and b (-1: none) added to where `gains_at` stood.

    Parameters: `count`, as `gains_at` left it; its `whole` (groups,) takes the answer. **Source**:
    docs/exact.md, "What the search does": counting, in bits.
    """
    for w in range(len(count.open_)):
        left = count.open_[w] & ~planes.bits[a, w]
        count.part[w] = left & ~planes.bits[b, w] if b >= 0 else left
    count.whole[:] = 0
    for p in range(len(planes.group)):
        low, start = planes.first[p], planes.start[p]
        covered = 0
        for w in range(low, planes.last[p]):
            covered += _ones(planes.mask[start + w - low] & ~count.part[w])
        count.whole[planes.group[p]] += planes.value[p] * covered


@inner
def _open_places(planes, count, x):  # type: ignore[no-untyped-def]
    words = len(count.open_)
    for w in range(words):
        count.open_[w] = ~np.uint64(0)
    parts = False
    for o in range(len(x)):
        if x[o] >= WHOLE:
            for w in range(words):
                count.open_[w] &= ~planes.bits[o, w]
        elif x[o] > 1e-12:
            parts = True
    if not parts:
        return
    count.cover[:] = 0.0
    for o in range(len(x)):
        if 1e-12 < x[o] < WHOLE:
            share = np.float32(x[o])
            reach = planes.reach[o]
            for r in range(len(reach)):
                count.cover[r] += share * reach[r]
    least = np.float32(1.0 - 1e-5)  # single precision: a place just short of covered may count as covered
    for w in range(words):
        word = np.uint64(0)
        for b in range(WORD):
            if count.cover[w * WORD + b] >= least:
                word |= np.uint64(1) << np.uint64(b)
        count.open_[w] &= ~word
