"""Branch and bound over ways, resources and classes of switch, compiled: depth first, looking one step ahead.

First the strict search: what cannot be better than the best is closed, and what may yet be as good is handed
out. Then, from those, the search among equals: ways in the order of their ids, taken before left, so that
the first of all is met first and the rest is closed by its ids.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from rehaul.exact.feeding.rounds import (
    CLOSED,
    KNOWN,
    OPEN,
    TIED,
    TYING,
    WHOLE,
    RoundNode,
    Wood,
    beyond,
    empty,
    safe_bound,
    work,
)
from rehaul.exact.planes import Count
from rehaul.exact.simplex import INFEASIBLE, duals, resolve
from rehaul.exact.trail import DEPTH, FRESH, NODES, TRAIL, fix, take, undo_to
from rehaul.kernels.loops import compiled, inner

FINISHED, PAUSED, SEEN, KEPT = 0, 1, 2, 3  # why `run` came back
NEW, JUDGED = 0, 1  # the node at hand: not seen yet; its whole choice judged
DONE = 2
CHAINED = 2.0  # what resources and switches weigh more than ways when columns to try are picked
AHEAD = 8  # columns tried at a node
AHEAD_PIVOTS = 15
RELIABLE = 3  # rises seen each way before a column is taken at its word
FRACTION_LEAST = 1e-6


@compiled
def run(wood: Wood, node: RoundNode, count: Count, most_nodes: int) -> int:
    """Go on with the search.

    Returns FINISHED; PAUSED after `most_nodes`; SEEN where the tableau stands at a whole choice, to be
    judged; KEPT where what is open within the tableau's bounds may hold a choice as good as the best.
    **Source**: branching by looking ahead (Achterberg, Koch and Martin 2004, abstract read); docs/exact.md,
    "What the search does".
    """
    last = node.numbers[NODES] + most_nodes
    while node.numbers[DEPTH] >= 0:
        d = node.numbers[DEPTH]
        if node.numbers[FRESH] == 1:
            known = node.numbers[KNOWN]
            if known == NEW:
                if node.numbers[NODES] >= last:
                    return PAUSED
                node.numbers[NODES] += 1
                node.entered[d] = node.numbers[TRAIL]
            comes_to, column = _look(wood, node, count)
            if comes_to == WHOLE and known != JUDGED:
                return SEEN
            if comes_to == WHOLE:
                column = _first_open(wood, node)
                node.upward[d] = True
            node.numbers[KNOWN] = NEW
            node.numbers[FRESH] = 0
            node.branch[d] = column
            node.mark[d] = node.numbers[TRAIL]
            node.side[d] = 0 if column >= 0 else DONE
            if comes_to == TIED:
                return KEPT
        if node.side[d] == DONE:
            undo_to(node, node.entered[d])
            node.numbers[DEPTH] = d - 1
        else:
            undo_to(node, node.mark[d])
            node.side[d] += 1
            take(node, wood.group, node.branch[d], (node.side[d] == 1) == node.upward[d])
            node.bound[d + 1] = node.bound[d]
            node.numbers[DEPTH] = d + 1
            node.numbers[FRESH] = 1
    return FINISHED


@compiled
def in_vain(wood: Wood, node: RoundNode, count: Count, alike: NDArray[np.int64]) -> bool:
    """Whether no choice as good as the best takes any of these ways; asked at the root, which stays as it is.

    Parameters: `alike`, ways of one group, free at the root. Rows that come to the small program meanwhile
    stay in it.

    **Validity**: True is a proof, as `work` has it of a node at which the others of the group are left (and
    the way is taken where it is one alone); False says nothing. **Source**: docs/exact.md, "What the search
    does": ruling out.
    """
    t, mark = node.tableau, node.numbers[TRAIL]
    node.numbers[DEPTH] = 1
    node.bound[1] = node.bound[0]
    if len(alike) == 1:
        take(node, wood.group, alike[0], True)
    else:
        for way in range(len(wood.group)):
            if wood.group[way] == wood.group[alike[0]] and t.low[way] < t.high[way] and way not in alike:
                fix(node, way, 0.0)
    comes_to = work(wood, node, count)
    undo_to(node, mark)
    node.numbers[DEPTH] = 0
    return comes_to == CLOSED  # type: ignore[no-any-return]


@inner
def _look(wood, node, count):  # type: ignore[no-untyped-def]
    """What the node comes to, and the column to branch on; -1 where there is none."""
    d = node.numbers[DEPTH]
    tying = node.numbers[TYING] == 1
    while True:
        if tying and _comes_later(wood, node):
            return CLOSED, -1
        if tying and d > 0 and _holds_best(wood, node):  # no bound closes it, and what the root ruled out is
            column = _first_open(wood, node)
            node.upward[d] = True
            return OPEN if column >= 0 else CLOSED, column
        comes_to = work(wood, node, count)
        if comes_to != OPEN:
            return comes_to, -1
        column = _first_open(wood, node)
        node.upward[d] = True
        if column < 0:
            return WHOLE, -1
        if tying:
            return OPEN, column
        column, fixed = _ahead(wood, node)
        if not fixed:
            return OPEN, column


@inner
def _first_open(wood, node):  # type: ignore[no-untyped-def]
    """The first way, by its id, that is not fixed; -1 where all are."""
    t = node.tableau
    for way in range(len(wood.group)):
        if t.low[way] < t.high[way]:
            return way
    return -1


@inner
def _holds_best(wood, node):  # type: ignore[no-untyped-def]
    """Whether the best itself lies within the bounds of the ways."""
    t = node.tableau
    for way in range(len(wood.group)):
        if (t.high[way] == 0.0) if node.best[way] else (t.low[way] == 1.0):
            return False
    return True


@inner
def _comes_later(wood, node):  # type: ignore[no-untyped-def]
    """Whether the ids of every choice within the bounds come after those of the best, or are the same."""
    t = node.tableau
    ways = len(wood.group)
    last = -1  # way that is taken in any case
    for way in range(ways):
        if t.low[way] == 1.0:
            last = way
    for way in range(ways):
        if not node.best[way]:
            if t.high[way] == 1.0:
                return False  # may be taken, or is: an earlier id
        elif t.low[way] == 0.0:
            if last <= way:
                return False  # may end here: the shorter comes first
            if t.high[way] == 0.0:
                return True  # goes on with a later id
    return True


@inner
def _ahead(wood, node):  # type: ignore[no-untyped-def]
    """The column whose two branches raise the bound most, by trying some; whether a column got fixed."""
    t = node.tableau
    d = node.numbers[DEPTH]
    ways, columns = len(wood.group), len(t.cost)
    start = node.bound[d]
    room = node.limit[0] - start if node.limit[0] < np.inf else 0.1 * abs(start)
    room = max(room, wood.unit)
    tried = np.zeros(columns, np.bool_)
    best, choice, any_fixed = -1.0, _first_open(wood, node), False
    for _ in range(AHEAD):
        column, most = -1, 0.0
        for j in range(columns):
            if t.low[j] < t.high[j] and not tried[j]:
                part = min(t.value[j], 1.0 - t.value[j])
                if part > FRACTION_LEAST:
                    score = part * (1.0 if j < ways + len(wood.need) else CHAINED)
                    if score > most:
                        column, most = j, score
        if column < 0:
            break
        tried[column] = True
        part = t.value[column]
        gain = np.zeros(2)
        for side in range(2):
            step = part if side == 0 else 1.0 - part
            if node.seen[side, column] >= RELIABLE:
                gain[side] = node.rise[side, column] / node.seen[side, column] * step
                continue
            bound = _try(wood, node, column, float(side))
            if beyond(wood, node, bound):
                fix(node, column, 1.0 - side)
                any_fixed = True
                break
            gain[side] = max(bound - start, 0.0)
            node.rise[side, column] += gain[side] / step
            node.seen[side, column] += 1
        if any_fixed and t.low[column] == t.high[column]:
            continue
        score = max(min(gain[0], room), 1e-4 * room) * max(min(gain[1], room), 1e-4 * room)
        if score > best:
            best, choice = score, column
            node.upward[d] = gain[1] <= gain[0]
    return choice, any_fixed


@inner
def _try(wood, node, column, value):  # type: ignore[no-untyped-def]
    """Bound with the column fixed, after a few steps of the simplex on a copy."""
    t, trial = node.tableau, node.trial
    m = t.size[0]
    trial.body[:m] = t.body[:m]
    trial.constant[:m] = t.constant[:m]
    trial.basic[:m] = t.basic[:m]
    trial.nonbasic[:] = t.nonbasic
    trial.at_high[:] = t.at_high
    trial.price[:] = t.price
    trial.low[:] = t.low
    trial.high[:] = t.high
    trial.value[:] = t.value
    trial.size[:] = t.size
    trial.low[column] = value
    trial.high[column] = value
    if value == 1.0 and column < len(wood.group):
        for way in range(len(wood.group)):
            if way != column and wood.group[way] == wood.group[column]:
                trial.high[way] = 0.0
    status = resolve(trial, AHEAD_PIVOTS)
    duals(trial, node.price)
    bound = safe_bound(wood, trial, node.price, node.red)
    if status == INFEASIBLE and empty(node, trial):
        return np.inf
    return bound
