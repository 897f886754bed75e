"""Old coax as trees: which cables are joined by which splitters, and what a path through them loses."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rehaul.copper import (
    cable_loss_db,
    coax_chance,
    coax_loss_at_db,
    coax_rate_mbps,
    coax_spread_db,
    splitter_range_db,
)
from rehaul.facts.coax import CoaxKind, coax_limit
from rehaul.house import UNKNOWN, CableKind, Job, ObligationKind, Run, Splitter, counts_on, open_obligations
from rehaul.network.cabling import run_length
from rehaul.network.core import runs_in_use
from rehaul.words import say

SIZES = (2, 3, 4, 8)  # splitters that are usual in a house: common practice
LEAST, COUNTED, MOST = 0.95, 0.9, 0.05  # chances that bound a rate's range, and the one it is counted on at
Z = {LEAST: 1.6448536269514722, COUNTED: 1.2815515655446004, MOST: -1.6448536269514722}
UNKNOWN_SERIES: CoaxKind = "RG-59"  # the one that loses most


@dataclass(frozen=True)
class Joint:
    """Where coaxes are joined: a splitter that stays, or a new one in place of one or more that go."""

    id: str  # of the splitter, or of the first of those that one takes the place of
    splitters: tuple[str, ...]
    ways: int
    input: str | None  # the coax on its input; None: nobody looked
    runs: tuple[str, ...]
    new: bool = False
    caps: int = 0  # open outputs to be capped
    stop: str = ""  # why no data may pass it


@dataclass(frozen=True)
class CoaxPath:
    """A way over old coax between two of its ends."""

    runs: tuple[Run, ...]
    joints: tuple[Joint, ...]  # one between every two runs
    entry: Joint | None  # where the first end is no cable's but the input of a splitter
    length_m: float
    least_db: float  # over the ports that lose least
    loss_db: float  # over those that lose most: which port a cable hangs on is not noted

    def rates_mbps(self) -> tuple[float, float, float]:
        """Low, counted on, high: what two adapters at its ends carry together, both ways added [Mb/s].

        Chances 0.95, 0.9 and 0.05 that it is at least so much, with a normal spread of the loss about
        `loss_db`; the high end is over the ports that lose least. 0 where no link comes up. **Validity**
        and **Source**: as `copper.coax_rate_mbps`.
        """
        spread = coax_spread_db()
        low, rate = (coax_rate_mbps(self.loss_db + Z[chance] * spread) for chance in (LEAST, COUNTED))
        return low, rate, max(rate, coax_rate_mbps(max(self.least_db + Z[MOST] * spread, 0.0)))

    @property
    def chance(self) -> float:
        """That it carries what is counted on."""
        return coax_chance(self.loss_db, coax_loss_at_db(self.rates_mbps()[1]))


@dataclass(frozen=True)
class CoaxTree:
    """Coaxes that are joined to one another: one medium, on which everybody takes turns."""

    id: str
    runs: tuple[Run, ...]
    joints: tuple[Joint, ...]
    free: frozenset[str]  # cables that data may go over
    stop: str = ""  # why no data may go over any of it

    def ends(self) -> tuple[str, ...]:
        """Where the cables that data may go over surface: ids, each once, in the order of the cables.

        Splitters of the tree are left out; an end that nobody found is `unknown`.
        """
        inner = {name for joint in self.joints for name in joint.splitters}
        found = (end for run in self.runs if run.id in self.free for end in run.ends)
        return tuple(dict.fromkeys(end for end in found if end not in inner))

    def path(self, job: Job, start: str, end: str) -> CoaxPath | None:
        """The way between two ends of the tree; None where no free cables and passable joints lead there.

        `start` and `end` are ids of plates, meeting points or splitters. In a tree there is one way at
        most; a start at a splitter goes in by its input.
        """
        at = {name: joint for joint in self.joints for name in joint.splitters}
        waiting: list[tuple[str, tuple[Run, ...], tuple[Joint, ...]]] = [(start, (), ())]
        while waiting:
            here, runs, joints = waiting.pop()
            joint = at.get(here)
            if here == end and runs:
                return _measured(job, runs, joints, at.get(start))
            if joint is None and runs:
                continue
            if joint is not None and (joint.stop or joint in joints):
                continue
            passed = joints if joint is None else (*joints, joint)
            for run in self.runs:
                inside = joint is not None and set(run.ends) <= set(joint.splitters)
                doors = (here,) if joint is None else joint.splitters
                door = next((name for name in doors if name in run.ends), "")
                if not door or run.id not in self.free or run in runs or inside:
                    continue
                there = run.ends[1] if run.ends[0] == door else run.ends[0]
                waiting.append((there, (*runs, run), passed))
        return None

    def outside(self, house_ends: frozenset[str]) -> tuple[Run, ...]:
        """Cables by which it may leave the house: to where lines come in, or to an end nobody found.

        `house_ends` are the ids of the places where lines come in. A signal may leak out there.
        """
        return tuple(run for run in self.runs if set(run.ends) & (house_ends | {UNKNOWN}))


def _measured(job: Job, runs: tuple[Run, ...], joints: tuple[Joint, ...], entry: Joint | None) -> CoaxPath:
    """The loss of cable and joints from the first run on, or from the input of the splitter before it."""
    least_db = most_db = length_m = 0.0
    for run in runs:
        middle_m = run_length(job.house, run).middle
        kind = UNKNOWN_SERIES if run.coax == UNKNOWN else run.coax
        lost_db = cable_loss_db(middle_m, kind) + 2 * coax_limit("connector loss")
        least_db, most_db, length_m = least_db + lost_db, most_db + lost_db, length_m + middle_m
    if entry is not None:
        joints = joints[1:]
        low_db, high_db = splitter_range_db(entry.ways, across=False)
        least_db, most_db = least_db + low_db, most_db + high_db
    for before, joint, after in zip(runs, joints, runs[1:], strict=False):
        low_db, high_db = joint_range_db(joint, before.id, after.id)
        least_db, most_db = least_db + low_db, most_db + high_db
    return CoaxPath(runs, joints, entry, round(length_m, 1), round(least_db, 2), round(most_db, 2))


def joint_range_db(joint: Joint, before: str, after: str) -> tuple[float, float]:
    """Least and greatest loss through a joint from one cable to another [dB], whichever ports they hang on.

    `before` and `after` are ids of cables. From input to output the loss is the splitter's, from output to
    output its isolation. A new splitter gets the nearer cable on its input; of an old one whose input
    nobody looked at both are possible. **Validity** and **Source**: as `copper.splitter_range_db`.
    """
    within = splitter_range_db(joint.ways, across=False)
    if joint.input in (before, after) or (joint.new and joint.input is None):
        return within
    across = splitter_range_db(joint.ways, across=True) if joint.ways > 1 else within
    return across if joint.input is not None else (within[0], across[1])


def coax_trees(job: Job) -> tuple[CoaxTree, ...]:
    """Every tree of old coax of a job, in the order of the house; a cable on no splitter is a tree by itself.

    `stop` of a tree, and of a joint, says why no data may pass; empty where they may.
    """
    coax = [run for run in job.house.runs if run.kind is CableKind.COAX]
    splitters = {splitter.id: splitter for splitter in job.house.splitters}
    free = frozenset(run.id for run in coax if _is_free(job, run))
    found = []
    for runs in _joined(coax, splitters):
        own = [splitters[name] for name in dict.fromkeys(e for r in runs for e in r.ends if e in splitters)]
        name = own[0].id if own else runs[0].id
        joints = tuple(_joints(job, runs, own))
        found.append(CoaxTree(f"coax {name}", tuple(runs), joints, free, _stop(job, runs, own)))
    return tuple(found)


def joined_at(trees: Sequence[CoaxTree], place: str) -> CoaxTree | None:
    """Trees that end at one place as one tree, with a new splitter there.

    None where fewer than two do, or more cables than a usual splitter has ways. Trees that no data may go
    over are left out.
    """
    here = [tree for tree in trees if place in tree.ends() and not tree.stop]
    runs = tuple(run for tree in here for run in tree.runs)
    mine = tuple(run.id for tree in here for run in tree.runs if place in run.ends and run.id in tree.free)
    ways = next((size for size in SIZES if size >= len(mine)), 0)
    if len(here) < 2 or not ways:
        return None
    new = Joint(f"sp-{place}", (place,), ways, None, mine, new=True)
    joints = (new, *(joint for tree in here for joint in tree.joints))
    return CoaxTree(f"coax {place}", runs, joints, frozenset().union(*(tree.free for tree in here)))


def _joined(coax: Sequence[Run], splitters: dict[str, Splitter]) -> Iterator[list[Run]]:
    """Cables grouped by the splitters that they share."""
    left = list(coax)
    while left:
        group, grown = [left.pop(0)], True
        while grown:
            ends = {end for run in group for end in run.ends if end in splitters}
            more = [run for run in left if ends & set(run.ends)]
            group += more
            left = [run for run in left if run not in more]
            grown = bool(more)
        yield sorted(group, key=coax.index)


def _is_free(job: Job, run: Run) -> bool:
    """Whether data may go over a coax: both ends found, nothing depends on it, no line comes in on it."""
    found = len(run.ends) == 2 and UNKNOWN not in run.ends
    return found and run.id not in runs_in_use(job) and counts_on(job, run.id)


def _stop(job: Job, runs: Sequence[Run], splitters: Sequence[Splitter]) -> str:
    """Why no data may go over any of a tree; empty where they may."""
    for splitter in splitters:
        if splitter.amplifier:
            return say("network.amplifier", splitter=splitter.id)
    for run in runs:
        if any(o.kind is ObligationKind.SATELLITE for o in open_obligations(job, run.id)):
            return say("network.satellite_on_it", run=run.id)
    if job.service.medium == "cable" and job.service.run is None:
        return say("network.cable_service_not_noted")
    return ""


def _joints(job: Job, runs: Sequence[Run], splitters: Sequence[Splitter]) -> Iterator[Joint]:
    """The splitters of a tree as they are to be: kept, capped, or replaced; those at one place by one."""
    done: set[str] = set()
    for splitter in splitters:
        if splitter.id in done:
            continue
        group = _together(runs, splitters, splitter)
        joint = _new(job, runs, group) if any(not _is_rated(one) for one in group) else None
        if joint is None or joint.stop:
            group = [splitter]
            joint = _kept(runs, splitter) if _is_rated(splitter) else _new(job, runs, group)
        done |= {one.id for one in group}
        yield joint


def _is_rated(splitter: Splitter) -> bool:
    """Whether what is printed on it covers the band of the adapters."""
    return splitter.passes_mhz is not None and splitter.passes_mhz * 1e6 >= coax_limit("band top")


def _together(runs: Sequence[Run], splitters: Sequence[Splitter], first: Splitter) -> list[Splitter]:
    """Splitters of a cascade that are at the same place as one of them, itself first."""
    group, grown = [first], True
    while grown:
        names = {one.id for one in group}
        beside = {end for run in runs if names & set(run.ends) for end in run.ends} - names
        more = [s for s in splitters if s.id in beside and any(_is_beside(s, one) for one in group)]
        group += more
        grown = bool(more)
    return group


def _is_beside(one: Splitter, other: Splitter) -> bool:
    if one.position is None or other.position is None or one.storey != other.storey:
        return False
    flat_m = math.dist(one.position, other.position)
    return math.hypot(flat_m, one.height_m - other.height_m) <= coax_limit("same place")


def _kept(runs: Sequence[Run], splitter: Splitter) -> Joint:
    mine = tuple(run.id for run in runs if splitter.id in run.ends)
    open_ports = max(splitter.ways + 1 - len(mine), 0) if splitter.capped is not True else 0
    lost = splitter.position is None and open_ports > 0
    stop = say("network.open_outputs", splitter=splitter.id) if lost else ""
    return Joint(splitter.id, (splitter.id,), splitter.ways, splitter.input, mine, caps=open_ports, stop=stop)


def _new(job: Job, runs: Sequence[Run], group: Sequence[Splitter]) -> Joint:
    """One proper splitter in place of these."""
    names = tuple(splitter.id for splitter in group)
    mine = [run for run in runs if set(names) & set(run.ends) and not set(run.ends) <= set(names)]
    inner = {run.id for run in runs if set(run.ends) <= set(names)}
    inputs = [one.input for one in group if one.input not in inner]
    outputs = max(len(mine) - 1, 1)
    ways = next((size for size in SIZES if size >= outputs), 0)
    held = [run.id for run in mine if not counts_on(job, run.id)]
    unrated = any(one.passes_mhz is None for one in group)
    code = "network.not_known_to_pass" if unrated else "network.not_made_for_band"
    why = say(code, splitters=names, n=len(names))
    stop = ""
    if any(one.position is None for one in group):
        stop = say("network.and_not_found", why=why)
    elif held:
        stop = say("network.and_not_while_held", why=why, held=held[0])
    elif not ways:
        stop = say("network.and_not_so_many", why=why, outputs=outputs)
    feed = inputs[0] if len(inputs) == 1 else None
    return Joint(names[0], names, ways or SIZES[-1], feed, tuple(run.id for run in mine), new=True, stop=stop)
