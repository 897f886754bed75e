"""Whole choices near a fractional one, compiled: an early upper bound for the search over feeds.

Ways are taken by what they add for what they cost on top, shared things counted once; then ways go, or are
changed one for one, as long as that is cheaper. A way that shares pays little for what others have, so it is
also tried with things given away or taken off. What comes out is judged afresh by whoever asked.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from rehaul.exact.feeding.core import Core
from rehaul.exact.feeding.figures import MEDIA, WHOLE_MEDIUM
from rehaul.exact.planes import Count, Planes, gains_short
from rehaul.kernels.loops import compiled, inner

WANTED = 0.45  # ways with a larger share are taken first
SLIGHT = 1e-6  # shares nearer than this are the same
NEVER = 1 << 60  # hundredths; what does not fit


class Shared(NamedTuple):
    """What the ways of a core cost and share, in whole numbers."""

    cost: NDArray[np.int64]  # (ways,)
    group: NDArray[np.int64]  # (ways,)
    must: NDArray[np.bool_]  # (groups,)
    held: NDArray[np.bool_]  # (ways,)
    beside: NDArray[np.bool_]  # (ways, ways) one of these must be chosen too
    hangs: NDArray[np.bool_]  # (ways,) whether any must
    first_beside: NDArray[np.int64]  # (ways + 1,) where the others of a way begin in `besides`
    besides: NDArray[np.int64]
    counts: NDArray[np.int64]  # (counted, ways)
    fewer: NDArray[np.int64]  # (counted,)
    need: NDArray[np.int64]  # (requirements,)
    takes: NDArray[np.int64]  # (ways, 2 + media) ports, power, shares of media
    uses: NDArray[np.bool_]  # (ways, resources)
    first_used: NDArray[np.int64]  # (ways + 1,) where the resources of a way begin in `used`
    used: NDArray[np.int64]
    resource_cost: NDArray[np.int64]  # (resources,)
    resource_takes: NDArray[np.int64]  # (resources, 2 + media)
    excludes: NDArray[np.int64]  # (resources,) number of its set, -1 where it has none
    room: NDArray[np.int64]  # (classes, 2) ports, power; cheapest first
    class_cost: NDArray[np.int64]  # (classes,)
    enough: int


def shared_of(core: Core, enough: int) -> Shared:
    """The same core as arrays for compiled code.

    Parameters: `enough`, how many of what is asked have to be met. Order of ways as in the
    core; `uses` holds what a way needs in turn. **Source**: docs/exact.md, "What the search does": early
    choices.
    """
    f, ways = core.figures, core.ways
    resources = np.flatnonzero(f.uses[ways].any(axis=0))
    must = np.zeros(len(f.groups), dtype=np.bool_)
    must[list(f.must)] = True
    beside, uses = f.beside[np.ix_(ways, ways)], f.uses[ways][:, resources]
    return Shared(
        cost=f.cost[ways],
        group=f.group[ways],
        must=must,
        held=core.held,
        beside=np.ascontiguousarray(beside),
        hangs=f.hangs[ways],
        first_beside=_firsts(beside),
        besides=_places(beside),
        counts=np.ascontiguousarray(f.counts[:, ways]),
        fewer=f.least,
        need=core.short,
        takes=f.takes[ways],
        uses=np.ascontiguousarray(uses),
        first_used=_firsts(uses),
        used=_places(uses),
        resource_cost=f.resource_cost[resources],
        resource_takes=f.resource_takes[resources],
        excludes=f.excludes[resources],
        room=f.class_room,
        class_cost=f.class_cost,
        enough=enough,
    )


def _places(table: NDArray[np.bool_]) -> NDArray[np.int64]:
    """Where in its row each flag stands, row after row."""
    return np.ascontiguousarray(np.nonzero(table)[1])


def _firsts(table: NDArray[np.bool_]) -> NDArray[np.int64]:
    """Where each row's places begin in a list of all of them, and the length of it."""
    return np.concatenate([[0], np.cumsum(table.sum(axis=1))]).astype(np.int64)


class Base(NamedTuple):
    """What a set of ways takes; ways may be put on top."""

    taken: NDArray[np.int64]  # (2 + media,)
    used: NDArray[np.bool_]  # (resources,)
    sets: NDArray[np.bool_]  # by number of the set
    groups: NDArray[np.bool_]
    counted: NDArray[np.int64]
    carried: NDArray[np.bool_]  # (ways,) hangs on nothing, or on something that is chosen
    alone: NDArray[np.int64]  # numbers of ways that are chosen though nothing that they hang on is
    lonely: NDArray[np.int64]  # (1,) how many those are
    total: NDArray[np.int64]  # (1,) cost without the switch
    sum: NDArray[np.int64]  # (2 + media,) scratch


@inner
def _carried(shared, chosen, without, way):  # type: ignore[no-untyped-def]
    """Whether something that the way hangs on is chosen, or it hangs on nothing."""
    if not shared.hangs[way]:
        return True
    for at in range(shared.first_beside[way], shared.first_beside[way + 1]):
        other = shared.besides[at]
        if chosen[other] and other != without:
            return True
    return False


@inner
def _base(shared, chosen, without):  # type: ignore[no-untyped-def]
    base = Base(
        np.zeros(shared.takes.shape[1], np.int64),
        np.zeros(len(shared.resource_cost), np.bool_),
        np.zeros(np.max(shared.excludes) + 1 if len(shared.excludes) else 0, np.bool_),
        np.zeros(len(shared.must), np.bool_),
        np.zeros(len(shared.fewer), np.int64),
        np.zeros(len(chosen), np.bool_),
        np.zeros(len(chosen), np.int64),
        np.zeros(1, np.int64),
        np.zeros(1, np.int64),
        np.zeros(shared.takes.shape[1], np.int64),
    )
    for way in range(len(chosen)):
        base.carried[way] = _carried(shared, chosen, without, way)
        if chosen[way] and way != without:
            base.groups[shared.group[way]] = True
            base.total[0] += shared.cost[way]
            base.taken[:] += shared.takes[way]
            if not base.carried[way]:
                base.alone[base.lonely[0]] = way
                base.lonely[0] += 1
            for c in range(len(shared.fewer)):
                base.counted[c] += shared.counts[c, way]
            for at in range(shared.first_used[way], shared.first_used[way + 1]):
                r = shared.used[at]
                if not base.used[r]:
                    base.used[r] = True
                    base.total[0] += shared.resource_cost[r]
                    base.taken[:] += shared.resource_takes[r]
                    if shared.excludes[r] >= 0:
                        if base.sets[shared.excludes[r]]:
                            base.total[0] = NEVER
                        base.sets[shared.excludes[r]] = True
    return base


@inner
def _with(shared, base, way):  # type: ignore[no-untyped-def]
    """Cost with one way on top (-1: none), the switch included; NEVER where it does not fit."""
    total = base.total[0]
    if total >= NEVER or (way >= 0 and not base.carried[way]):
        return NEVER
    for at in range(base.lonely[0]):
        if way < 0 or not shared.beside[base.alone[at], way]:
            return NEVER
    taken = base.sum
    taken[:] = base.taken
    if way >= 0:
        total += shared.cost[way]
        taken += shared.takes[way]
        for place in range(shared.first_used[way], shared.first_used[way + 1]):
            r = shared.used[place]
            if not base.used[r]:
                total += shared.resource_cost[r]
                taken += shared.resource_takes[r]
                at = shared.excludes[r]
                if at >= 0:
                    if base.sets[at]:
                        return NEVER
                    for before in range(shared.first_used[way], place):
                        other = shared.used[before]
                        if not base.used[other] and shared.excludes[other] == at:
                            return NEVER
    for medium in range(MEDIA, len(taken)):
        if taken[medium] > WHOLE_MEDIUM:
            return NEVER
    if taken[0] > 0 or taken[1] > 0:
        for kind in range(len(shared.class_cost)):
            if shared.room[kind, 0] >= taken[0] and shared.room[kind, 1] >= taken[1]:
                return total + shared.class_cost[kind]
        return NEVER
    return total


@inner
def _met(shared, count, base, way):  # type: ignore[no-untyped-def]
    """How much of what is asked is met with one way on top of where `gains_short` stood."""
    met = 0
    for g in range(len(shared.need)):
        served = count.whole[g] + (count.gain[g, way] if way >= 0 else 0)
        met += served >= shared.need[g]
    for c in range(len(shared.fewer)):
        met += base.counted[c] + (shared.counts[c, way] if way >= 0 else 0) >= shared.fewer[c]
    return met


@inner
def _adds(shared, count, base, way):  # type: ignore[no-untyped-def]
    """Share of what is asked that the way adds, over what falls short."""
    worth = 0.0
    for g in range(len(shared.need)):
        short = shared.need[g] - count.whole[g]
        if short > 0:
            worth += min(count.gain[g, way], short) / shared.need[g]
    for c in range(len(shared.fewer)):
        short = shared.fewer[c] - base.counted[c]
        if short > 0:
            worth += min(shared.counts[c, way], short) / shared.fewer[c]
    return worth


@inner
def _carrier(shared, x, chosen):  # type: ignore[no-untyped-def]
    """Where ways hang on others and none of those is chosen: the most wanted, carrying most, cheapest one."""
    ways = len(x)
    carries = np.zeros(ways, np.int64)
    for way in range(ways):
        if shared.hangs[way]:
            for other in range(ways):
                if shared.beside[way, other]:
                    carries[other] += 1
                    if chosen[other]:
                        return -1
    base = _base(shared, chosen, -1)
    at, least = -1, NEVER
    for way in range(ways):
        if carries[way] == 0 or base.groups[shared.group[way]]:
            continue
        cost = _with(shared, base, way)
        if cost == NEVER:
            continue
        ahead = at < 0 or x[way] > x[at] + SLIGHT
        level = at >= 0 and abs(x[way] - x[at]) <= SLIGHT
        if ahead or (
            level and (carries[way] > carries[at] or (carries[way] == carries[at] and cost < least))
        ):
            at, least = way, cost
    return at


@compiled
def near(
    shared: Shared, planes: Planes, count: Count, x: NDArray[np.float64], chosen: NDArray[np.bool_]
) -> bool:
    """Fill up `chosen` from the shares x; False where it does not come to do what is asked.

    Parameters: `x` (ways,) from 0 to 1; `chosen` (ways,) which holds the held ways on entry and the choice
    afterwards.

    **Validity**: a rule of thumb: nothing is proven by what it finds, nor by finding nothing. **Source**:
    docs/exact.md, "What the search does": early choices.
    """
    while True:  # the most wanted first, then by what they add
        base = _base(shared, chosen, -1)
        at, best = -1, 0.0
        for way in range(len(x)):
            wanted = x[way] > max(best, WANTED) and not base.groups[shared.group[way]]
            if wanted and _with(shared, base, way) < NEVER:
                at, best = way, x[way]
        if at < 0:
            break
        chosen[at] = True
    return _filled(shared, planes, count, x, chosen)  # type: ignore[no-any-return]


@inner
def _filled(shared, planes, count, x, chosen):  # type: ignore[no-untyped-def]
    """Add to `chosen` what does most for its money until what is asked is done; False where it is not."""
    ways = len(x)
    carrier = _carrier(shared, x, chosen)
    if carrier >= 0:
        chosen[carrier] = True
    while True:
        base = _base(shared, chosen, -1)
        now = _with(shared, base, -1)
        gains_short(planes, count, chosen.astype(np.float64), shared.need)
        if _met(shared, count, base, -1) >= shared.enough:
            break
        at, best = -1, 0.0
        for way in range(ways):
            if base.groups[shared.group[way]]:
                continue
            adds = _adds(shared, count, base, way)
            if adds > 0.0:
                cost = _with(shared, base, way)
                worth = adds * (1.0 + x[way]) / (max(cost - now, 0) + 1.0)
                if worth > best and cost < NEVER:
                    at, best = way, worth
        if at < 0:
            return False
        chosen[at] = True
    while True:  # what must hold something and does not yet: the cheapest
        base = _base(shared, chosen, -1)
        at, least = -1, NEVER
        for way in range(ways):
            if shared.must[shared.group[way]] and not base.groups[shared.group[way]]:
                cost = _with(shared, base, way)
                if cost < least:
                    at, least = way, cost
        if at < 0:
            return True
        chosen[at] = True


@compiled
def polish(shared: Shared, planes: Planes, count: Count, chosen: NDArray[np.bool_]) -> None:
    """Let ways go, or change one for another, while that is cheaper and does as much.

    Parameters: `chosen` (ways,) a choice that does what is asked; changed in place, never to a dearer one.
    Held ways stay.

    **Validity**: it ends where no single change is cheaper, which need not be the cheapest choice.
    **Source**: docs/exact.md, "What the search does": early choices.
    """
    ways = len(chosen)
    while True:
        least = _with(shared, _base(shared, chosen, -1), -1)
        out, into = -1, -1
        for old in range(ways):
            if not chosen[old] or shared.held[old]:
                continue
            base = _base(shared, chosen, old)
            chosen[old] = False
            gains_short(planes, count, chosen.astype(np.float64), shared.need)
            chosen[old] = True
            needed = shared.must[shared.group[old]]
            if not needed and _met(shared, count, base, -1) >= shared.enough:
                cost = _with(shared, base, -1)
                if cost < least:
                    least, out, into = cost, old, -1
            for new in range(ways):
                if new == old or base.groups[shared.group[new]]:
                    continue
                if needed and shared.group[new] != shared.group[old]:
                    continue
                cost = _with(shared, base, new)
                if cost < least and _met(shared, count, base, new) >= shared.enough:
                    least, out, into = cost, old, new
        if out < 0:
            return
        chosen[out] = False
        if into >= 0:
            chosen[into] = True


def without(shared: Shared, resources: NDArray[np.int64]) -> Shared:
    """The same with resources that are never worth their money.

    Parameters: `resources`, their places in `resource_cost`. Each then costs more than any choice.
    **Source**: docs/exact.md, "What the search does": early choices.
    """
    cost = shared.resource_cost.copy()
    cost[resources] = NEVER >> 10
    return shared._replace(resource_cost=cost)


def given(shared: Shared, share: NDArray[np.float64]) -> Shared:
    """The same with this share of every resource paid for already.

    Parameters: `share` (resources,), taken as from 0 to 1. Costs stay whole hundredths. **Source**:
    docs/exact.md, "What the search does": early choices.
    """
    cost = np.rint(shared.resource_cost * (1.0 - np.clip(share, 0.0, 1.0))).astype(np.int64)
    return shared._replace(resource_cost=cost)
