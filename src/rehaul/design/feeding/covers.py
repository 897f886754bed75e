"""What a requirement of coverage comes to in ways alone: of every set that falls short, one more is needed.

A room that asks for nine tenths of its places is a threshold over many rows; as a program it leaves a wide
gap. Yet few boxes reach a room, so that the sets of boxes that do not do can be listed outright. Each largest
set that falls short gives one row: the room is met only with something outside it. These rows say all that
the places say, and leave almost no gap.
"""

from __future__ import annotations

import numpy as np

from rehaul.design.coverage import BoolArray, IntArray

MOST_KINDS = 13  # of ways that do not do alone, told apart by what they serve; 2^13 sets are tried
MOST_COVERS = 400


def covers_of(rows: BoolArray, weights: IntArray, short: int) -> tuple[IntArray, ...] | None:
    """Sets of ways of which a choice that meets the requirement holds one each; None where too many.

    Parameters
    ----------
    rows : (rows, ways) served by
    weights : (rows,) of the requirement
    short : weight asked for, above 0
    """
    mine = np.flatnonzero(weights)
    served, weight = rows[mine].T, weights[mine]  # (ways, rows of the requirement)
    useful = np.flatnonzero(served.any(axis=1))
    if not len(useful):
        return (np.zeros(0, dtype=np.int64),)
    kinds, kind_of = np.unique(served[useful], axis=0, return_inverse=True)
    kind_of = kind_of.ravel()
    enough = kinds.astype(np.int64) @ weight >= short
    always = useful[enough[kind_of]]
    partial = np.flatnonzero(~enough)
    if len(partial) > MOST_KINDS:
        return None
    short_sets = _largest_short(kinds[partial], weight, short)
    if len(short_sets) > MOST_COVERS:
        return None
    found = []
    for members in short_sets:
        outside = partial[~members]
        ways = np.concatenate([always, useful[np.isin(kind_of, outside)]])
        found.append(np.sort(ways).astype(np.int64))
    return tuple(found)


def _largest_short(kinds: BoolArray, weight: IntArray, short: int) -> BoolArray:
    """Every set of kinds that falls short and would do with any other kind added, (sets, kinds)."""
    count = len(kinds)
    covered = np.zeros((1 << count, kinds.shape[1]), dtype=np.bool_)
    for kind in range(count):
        covered[1 << kind : 2 << kind] = covered[: 1 << kind] | kinds[kind]
    enough = covered.astype(np.int64) @ weight >= short
    sets = np.arange(1 << count)
    largest = ~enough
    for kind in range(count):
        without = (sets >> kind) & 1 == 0
        largest &= np.where(without, enough[sets | (1 << kind)], True)
    chosen = np.flatnonzero(largest)
    return np.asarray((chosen[:, None] >> np.arange(count)) & 1 == 1, dtype=np.bool_)
