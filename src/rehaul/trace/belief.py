"""What is still possible for every end after the readings, and which readings cannot stand together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from rehaul.errors import BadInput
from rehaul.trace.hypotheses import Bools, continuity_rows, resistance_rows, table
from rehaul.trace.matching import surviving_choices, too_few_choices
from rehaul.trace.partitions import mask_of
from rehaul.trace.problem import Problem
from rehaul.trace.readings import (
    Bridge,
    Continuity,
    Heard,
    LinkLight,
    Reading,
    ReadingLog,
    Resistance,
    Tone,
)
from rehaul.trace.trust import Trust

Domain = frozenset[int]  # indices of the sets of outlets (groups) an end may still reach


@dataclass(frozen=True)
class Belief:
    """The possible after the readings: rows and sets of outlets per end, and conflicts by name."""

    problem: Problem
    readings: Mapping[str, tuple[Reading, ...]]  # those of each end, bridges left out
    alive: Mapping[str, Bools]  # rows left by the end's own readings
    domains: Mapping[str, Domain]  # sets of outlets left when outlets are shared out
    clusters: tuple[tuple[str, ...], ...]  # ends found joined count as one
    conflicts: tuple[tuple[tuple[str, ...], tuple[str, ...]], ...]  # (ends, readings)

    @property
    def in_conflict(self) -> frozenset[str]:
        """Ends whose readings contradict each other or another end's."""
        return frozenset(end for ends, _ in self.conflicts for end in ends)

    def shares_outlets(self, end: str) -> bool:
        """Whether this end may reach what another reaches: joined to it, or in conflict."""
        return end in self.in_conflict or any(len(c) > 1 and end in c for c in self.clusters)

    def own_domain(self, end: str, *, without: str = "") -> Domain:
        """Sets of outlets left by the readings of this end and those joined to it, one left out."""
        cluster = next(c for c in self.clusters if end in c)
        domains = [
            _domain(self.problem, [r for r in self.readings[member] if r.id != without]) for member in cluster
        ]
        return frozenset.intersection(*domains)


def believe(log: ReadingLog, problem: Problem) -> Belief:
    """Strike out everything the standing readings exclude. Raises BadInput for readings of unknown things."""
    standing = log.standing()
    bridges = [reading for reading in standing if isinstance(reading, Bridge)]
    readings: dict[str, tuple[Reading, ...]] = {
        end: tuple(r for r in standing if r.end == end and not isinstance(r, Bridge)) for end in problem.ends
    }
    for reading in standing:
        _require_known(reading, problem)
    clusters = _clusters(problem.ends, bridges)
    alive = {end: _alive(problem, readings[end]) for end in problem.ends}
    conflicts: list[tuple[tuple[str, ...], tuple[str, ...]]] = []
    whole = frozenset(range(len(table(problem).groups)))
    domains: dict[str, Domain] = {}
    for cluster in clusters:
        members = [r for end in cluster for r in readings[end]]
        domain = _cluster_domain(problem, cluster, readings)
        if not domain:
            conflicts.append(_blame_cluster(problem, cluster, readings, bridges, members))
        for end in cluster:
            domains[end] = domain or whole
    _share_out(problem, clusters, readings, bridges, domains, conflicts)
    for end in {end for ends, _ in conflicts for end in ends}:
        if not alive[end].any():
            alive[end] = np.ones_like(alive[end])
    return Belief(problem, readings, alive, domains, clusters, tuple(conflicts))


@lru_cache(maxsize=65536)
def _rows_allowed(problem: Problem, reading: Reading) -> Bools:
    rows = table(problem)
    if isinstance(reading, Continuity):
        where = f"reading {reading.id}"
        return continuity_rows(
            rows, mask_of(reading.tied, problem.conductors, where=where), reading.round, reading.tested
        )
    if isinstance(reading, Resistance):
        return resistance_rows(rows, reading.conductors, reading.ohm, reading.round)
    every = np.ones(len(rows.rows), dtype=bool)
    if isinstance(reading, Tone) and reading.heard is not Heard.FAINT:
        reaches = rows.reaches[:, problem.outlets.index(reading.outlet)]
        return reaches if reading.heard is Heard.LOUD else ~reaches
    if isinstance(reading, LinkLight) and reading.rate_mbps > 0:
        return rows.reaches[:, problem.outlets.index(reading.outlet)]
    return every


def _alive(problem: Problem, readings: Iterable[Reading]) -> Bools:
    alive = np.ones(len(table(problem).rows), dtype=bool)
    for reading in readings:
        alive = alive & _rows_allowed(problem, reading)
    return alive


def _domain(problem: Problem, readings: Iterable[Reading]) -> Domain:
    return frozenset(np.unique(table(problem).group_of_row[_alive(problem, readings)]).tolist())


def _cluster_domain(
    problem: Problem, cluster: Sequence[str], readings: Mapping[str, Sequence[Reading]]
) -> Domain:
    return frozenset.intersection(*(_domain(problem, readings[end]) for end in cluster))


def _require_known(reading: Reading, problem: Problem) -> None:
    where = f"reading {reading.id}"
    ends = (reading.end, reading.other) if isinstance(reading, Bridge) else (reading.end,)
    for end in ends:
        if end not in problem.ends:
            raise BadInput(f"there is no end {end}", where=where, remedy="Name an end of this problem")
    if isinstance(reading, Tone | LinkLight) and reading.outlet not in problem.outlets:
        raise BadInput(f"there is no outlet {reading.outlet}", where=where, remedy="Add it to the list first")
    if isinstance(reading, Continuity | Resistance) and not 1 <= reading.round <= len(problem.rounds):
        raise BadInput(
            f"round {reading.round} has not been planned",
            where=where,
            remedy=f"There are {len(problem.rounds)} rounds",
        )
    if isinstance(reading, Resistance):
        mask_of([reading.conductors], problem.conductors, where=where)
    if isinstance(reading, Continuity) and reading.tested is not None:
        mask_of([reading.tested], problem.conductors, where=where)
        if problem.trust is not Trust.COLOURS and len(reading.tested) < problem.conductors:
            raise BadInput(
                "part of the conductors is not enough where colours are not trusted",
                where=where,
                remedy="Probe every conductor of this end",
            )


def _clusters(ends: Sequence[str], bridges: Iterable[Bridge]) -> tuple[tuple[str, ...], ...]:
    cluster_of = {end: {end} for end in ends}
    for bridge in bridges:
        if bridge.joined:
            union = cluster_of[bridge.end] | cluster_of[bridge.other]
            for end in union:
                cluster_of[end] = union
    return tuple(dict.fromkeys(tuple(sorted(cluster_of[end], key=ends.index)) for end in ends))


def _blame_cluster(
    problem: Problem,
    cluster: tuple[str, ...],
    readings: Mapping[str, Sequence[Reading]],
    bridges: Sequence[Bridge],
    members: list[Reading],
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The fewest readings of joined ends (none can be left out) that nothing explains together."""
    kept = list(members)
    for reading in members:
        trial = [r for r in kept if r is not reading]
        by_end = {end: [r for r in readings[end] if r in trial] for end in cluster}
        if not _cluster_domain(problem, cluster, by_end):
            kept = trial
    blamed = tuple(end for end in cluster if any(r.end == end for r in kept))
    between = [b.id for b in bridges if b.joined and b.end in cluster] if len(blamed) > 1 else []
    return blamed, (*(r.id for r in kept), *between)


def _share_out(
    problem: Problem,
    clusters: Sequence[tuple[str, ...]],
    readings: Mapping[str, Sequence[Reading]],
    bridges: Sequence[Bridge],
    domains: dict[str, Domain],
    conflicts: list[tuple[tuple[str, ...], tuple[str, ...]]],
) -> None:
    """Each outlet has one cable (or one set of joined ends): narrow `domains`, add to `conflicts`."""
    groups = table(problem).groups
    first = {cluster[0]: cluster for cluster in clusters}
    while True:
        disputed = {end for ends, _ in conflicts for end in ends}
        active = {head: domains[head] for head, cluster in first.items() if not disputed & set(cluster)}
        must = {head: _single_outlets(domain, groups) for head, domain in active.items()}
        single = {head: choice for head, choice in must.items() if choice}
        clash = too_few_choices(single) or _overlap(active, groups)
        if not clash:
            break
        ends = tuple(end for head in clash for end in first[head])
        named = tuple(r.id for end in ends for r in readings[end])
        named += tuple(b.id for b in bridges if not b.joined and b.end in ends and b.other in ends)
        conflicts.append((ends, named))
    changed = True
    while changed:
        changed = False
        single = {h: c for h, d in active.items() if (c := _single_outlets(d, groups))}
        kept, used_up = surviving_choices(single)
        reserved = {head: _certain_outlets(domain, groups) for head, domain in active.items()}
        for head, domain in active.items():
            taken = frozenset().union(*(r for other, r in reserved.items() if other != head))
            if head not in kept:
                taken |= used_up
            left = frozenset(
                g
                for g in domain
                if not taken & frozenset(groups[g]) and (head not in kept or groups[g][0] in kept[head])
            )
            if left and left != domain:
                active[head] = left
                changed = True
    for head, domain in active.items():
        for end in first[head]:
            domains[end] = domain


def _single_outlets(domain: Domain, groups: Sequence[tuple[str, ...]]) -> frozenset[str]:
    """The outlets of an end that must reach exactly one of them; empty if it need not."""
    if any(len(groups[g]) != 1 for g in domain):
        return frozenset()
    return frozenset(groups[g][0] for g in domain)


def _certain_outlets(domain: Domain, groups: Sequence[tuple[str, ...]]) -> frozenset[str]:
    return frozenset.intersection(*(frozenset(groups[g]) for g in domain))


def _overlap(active: Mapping[str, Domain], groups: Sequence[tuple[str, ...]]) -> tuple[str, ...]:
    """Two ends that both reach one outlet for certain, or none."""
    owner: dict[str, str] = {}
    for head, domain in active.items():
        for outlet in sorted(_certain_outlets(domain, groups)):
            if outlet in owner:
                return (owner[outlet], head)
            owner[outlet] = head
    return ()
