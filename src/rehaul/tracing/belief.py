"""What is still possible for every end after the readings, and which readings cannot stand together."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Bools
from rehaul.errors import BadInput
from rehaul.tracing.asked import TracingQuestion
from rehaul.tracing.hypotheses import continuity_rows, resistance_rows, table
from rehaul.tracing.matching import surviving_choices, too_few_choices
from rehaul.tracing.partitions import mask_of
from rehaul.tracing.readings import (
    Bridge,
    Continuity,
    LinkLight,
    Reading,
    ReadingLog,
    Resistance,
    Tone,
    ToneHeard,
)
from rehaul.tracing.trust import Trust
from rehaul.words import say

Conflict = tuple[tuple[str, ...], tuple[str, ...]]  # ends, ids of readings
Cluster = tuple[str, ...]  # ends that count as one


@dataclass(frozen=True)
class Belief:
    """The possible after the readings: rows and sets of outlets per end, and conflicts by name."""

    problem: TracingQuestion
    readings: Mapping[str, tuple[Reading, ...]]  # those of each end, bridges left out
    alive: Mapping[str, Bools]  # rows left by the end's own readings
    domains: Mapping[str, Bools]  # sets of outlets (groups) left when outlets are shared out
    clusters: tuple[Cluster, ...]  # ends found joined count as one
    conflicts: tuple[Conflict, ...]

    @property
    def in_conflict(self) -> frozenset[str]:
        """Ends whose readings contradict each other or another end's."""
        return frozenset(end for ends, _ in self.conflicts for end in ends)

    def shares_outlets(self, end: str) -> bool:
        """Whether this end may reach what another reaches: joined to it, or in conflict.

        Where it is true, an outlet that this end reaches may stand under another end as well.
        """
        return end in self.in_conflict or any(len(c) > 1 and end in c for c in self.clusters)

    def own_domain(self, end: str, *, without: str = "") -> Bools:
        """Sets of outlets left by the readings of this end and those joined to it alone, one left out.

        `without`: id of the reading to leave out; by it is seen whether the answer would stand without any
        single one.

        Returns
        -------
        array (group of `hypotheses.table`), True where that set is still possible; not shared out with others

        **Source**: docs/trace.md, "Readings".
        """
        cluster = next(c for c in self.clusters if end in c)
        kept = {m: [r for r in self.readings[m] if r.id != without] for m in cluster}
        return _cluster_domain(self.problem, cluster, kept)


def believe(log: ReadingLog, problem: TracingQuestion) -> Belief:
    """Strike out everything that the standing readings exclude.

    Where readings contradict each other, the fewest that cannot stand together are named in `conflicts`,
    and everything is left possible for their ends. Raises BadInput for a reading that names an end, outlet,
    round or conductor that does not exist.

    **Validity**: at most one fault, or several outlets, on each cable (docs/trace.md, "Readings").
    **Source**: elimination row by row, then all-different over the outlets (`matching.surviving_choices`).
    """
    standing = log.standing()
    bridges = [reading for reading in standing if isinstance(reading, Bridge)]
    readings: dict[str, tuple[Reading, ...]] = {
        end: tuple(r for r in standing if r.end == end and not isinstance(r, Bridge)) for end in problem.ends
    }
    for reading in standing:
        _require_known(reading, problem)
    problem = replace(problem, long_chains=_long_chains(problem, readings))
    clusters = _clusters(problem.ends, bridges)
    alive = {end: _alive(problem, readings[end]) for end in problem.ends}
    conflicts: list[Conflict] = []
    domains: dict[str, Bools] = {}
    for cluster in clusters:
        domain = _cluster_domain(problem, cluster, readings)
        if not domain.any():
            conflicts.append(_blame_cluster(problem, cluster, readings, bridges))
            domain = np.ones_like(domain)
        for end in cluster:
            domains[end] = domain
    _share_out(problem, clusters, readings, bridges, domains, conflicts)
    for end in {end for ends, _ in conflicts for end in ends}:
        if not alive[end].any():
            alive[end] = np.ones_like(alive[end])
    return Belief(problem, readings, alive, domains, clusters, tuple(conflicts))


def _long_chains(
    problem: TracingQuestion, readings: Mapping[str, Sequence[Reading]]
) -> tuple[tuple[str, ...], ...]:
    """Sets of more outlets than the chain limit that were heard loud or linked from one end, and one more.

    Patterns alone never call for such a chain: two faults can look like one.
    """
    chains: dict[tuple[str, ...], None] = {}
    for own in readings.values():
        met = {
            r.outlet
            for r in own
            if (isinstance(r, Tone) and r.heard is ToneHeard.LOUD)
            or (isinstance(r, LinkLight) and r.rate_mbps > 0)
        }
        if len(met) >= problem.chain_limit:
            for extra in ("", *problem.outlets):
                chain = tuple(outlet for outlet in problem.outlets if outlet in met or outlet == extra)
                if len(chain) > problem.chain_limit:
                    chains[chain] = None
    return tuple(chains)


@lru_cache(maxsize=65536)
def _rows_allowed(problem: TracingQuestion, reading: Reading) -> Bools:
    rows = table(problem)
    if isinstance(reading, Continuity):
        where = say("refused_tracing.where_reading", id=reading.id)
        return continuity_rows(
            rows, mask_of(reading.tied, problem.conductors, where=where), reading.round, reading.tested
        )
    if isinstance(reading, Resistance):
        return resistance_rows(rows, reading.conductors, reading.ohm, reading.round)
    every = np.ones(len(rows.rows), dtype=bool)
    if isinstance(reading, Tone) and reading.heard is not ToneHeard.FAINT:
        reaches = rows.reaches[:, problem.outlets.index(reading.outlet)]
        return reaches if reading.heard is ToneHeard.LOUD else ~reaches
    if isinstance(reading, LinkLight) and reading.rate_mbps > 0:
        return rows.reaches[:, problem.outlets.index(reading.outlet)]
    return every


def _alive(problem: TracingQuestion, readings: Iterable[Reading]) -> Bools:
    alive = np.ones(len(table(problem).rows), dtype=bool)
    for reading in readings:
        alive = alive & _rows_allowed(problem, reading)
    return alive


def _domain(problem: TracingQuestion, readings: Iterable[Reading]) -> Bools:
    rows = table(problem)
    counts = np.bincount(rows.group_of_row[_alive(problem, readings)], minlength=len(rows.groups))
    return np.asarray(counts > 0)


def _cluster_domain(
    problem: TracingQuestion, cluster: Sequence[str], readings: Mapping[str, Sequence[Reading]]
) -> Bools:
    domain = _domain(problem, readings[cluster[0]])
    for end in cluster[1:]:
        domain = domain & _domain(problem, readings[end])
    return domain


def _require_known(reading: Reading, problem: TracingQuestion) -> None:
    where = say("refused_tracing.where_reading", id=reading.id)
    ends = (reading.end, reading.other) if isinstance(reading, Bridge) else (reading.end,)
    for end in ends:
        if end not in problem.ends:
            raise BadInput(
                say("refused_tracing.no_end", end=end), where=where, remedy=say("refused_tracing.name_end")
            )
    if isinstance(reading, Tone | LinkLight) and reading.outlet not in problem.outlets:
        raise BadInput(
            say("refused_tracing.no_outlet", outlet=reading.outlet),
            where=where,
            remedy=say("refused_tracing.add_first"),
        )
    if isinstance(reading, Continuity | Resistance) and not 1 <= reading.round <= len(problem.rounds):
        raise BadInput(
            say("refused_tracing.no_round", round=reading.round),
            where=where,
            remedy=say("refused_tracing.rounds", rounds=len(problem.rounds)),
        )
    if isinstance(reading, Resistance):
        mask_of([reading.conductors], problem.conductors, where=where)
    if isinstance(reading, Continuity) and reading.tested is not None:
        mask_of([reading.tested], problem.conductors, where=where)
        if problem.trust is not Trust.COLOURS and len(reading.tested) < problem.conductors:
            raise BadInput(
                say("refused_tracing.part_of_conductors"),
                where=where,
                remedy=say("refused_tracing.probe_all"),
            )


def _clusters(ends: Sequence[str], bridges: Iterable[Bridge]) -> tuple[Cluster, ...]:
    cluster_of = {end: {end} for end in ends}
    for bridge in bridges:
        if bridge.joined:
            union = cluster_of[bridge.end] | cluster_of[bridge.other]
            for end in union:
                cluster_of[end] = union
    return tuple(dict.fromkeys(tuple(sorted(cluster_of[end], key=ends.index)) for end in ends))


def _blame_cluster(
    problem: TracingQuestion,
    cluster: tuple[str, ...],
    readings: Mapping[str, Sequence[Reading]],
    bridges: Sequence[Bridge],
) -> Conflict:
    """Readings of joined ends, none of which can be left out, that nothing explains together."""

    def clash(trial: Mapping[str, Sequence[Reading]], alone: TracingQuestion) -> bool:
        return not _cluster_domain(alone, cluster, trial).any()

    kept = _none_to_spare(problem, [r for end in cluster for r in readings[end]], clash)
    blamed = tuple(end for end in cluster if any(r.end == end for r in kept))
    between = [b.id for b in bridges if b.joined and b.end in cluster] if len(blamed) > 1 else []
    return blamed, (*(r.id for r in kept), *between)


def _none_to_spare(
    problem: TracingQuestion,
    readings: Sequence[Reading],
    clash: Callable[[Mapping[str, Sequence[Reading]], TracingQuestion], bool],
) -> list[Reading]:
    """Of readings that clash, some that still do, and do not if any one of them is left out.

    Each trial is judged by itself: which long chains count follows from its own readings, so a reading that
    allows more chains may clash with fewer others once it is left out; so all are looked at until none goes.
    """
    kept = list(readings)
    while True:
        before = len(kept)
        for reading in tuple(kept):
            trial = [r for r in kept if r is not reading]
            by_end = {end: tuple(r for r in trial if r.end == end) for end in problem.ends}
            if clash(by_end, replace(problem, long_chains=_long_chains(problem, by_end))):
                kept = trial
        if len(kept) == before:
            return kept


def _share_out(
    problem: TracingQuestion,
    clusters: Sequence[Cluster],
    readings: Mapping[str, Sequence[Reading]],
    bridges: Sequence[Bridge],
    domains: dict[str, Bools],
    conflicts: list[Conflict],
) -> None:
    """Each outlet has one cable (or one set of joined ends): narrow `domains`, add to `conflicts`."""
    while True:
        disputed = {end for ends, _ in conflicts for end in ends}
        active = {cluster: domains[cluster[0]] for cluster in clusters if not disputed & set(cluster)}
        clash, narrowed = _narrowed(problem, active)
        if not clash:
            break
        conflicts.append(_blame_between(problem, clash, readings, bridges))
    for cluster, domain in narrowed.items():
        for end in cluster:
            domains[end] = domain


def _narrowed(
    problem: TracingQuestion, domains: Mapping[Cluster, Bools]
) -> tuple[tuple[Cluster, ...], dict[Cluster, Bools]]:
    """Clusters that cannot all have outlets of their own (none if they can), and what is left to each."""
    member = table(problem).member
    outlets = np.array(problem.outlets, dtype=object)
    left = dict(domains)
    clash = too_few_choices(_choosers(left, member, outlets)) or _overlap(left, member)
    changed = bool(left)
    while changed and not clash:
        changed = False
        kept, used_up = surviving_choices(_choosers(left, member, outlets))
        certain = np.array([certain_outlets(domain, member) for domain in left.values()])
        claimed = certain.sum(axis=0)
        for position, (cluster, domain) in enumerate(left.items()):
            barred = (claimed - certain[position]) > 0
            if cluster in kept:
                barred |= ~np.isin(outlets, list(kept[cluster]))
            else:
                barred |= np.isin(outlets, list(used_up))
            rest = domain & ~member[:, barred].any(axis=1)
            if not rest.any():
                wanted = member[domain].any(axis=0)
                rivals = (c for c, d in left.items() if c in kept and (member[d].any(axis=0) & wanted).any())
                return tuple(dict.fromkeys((cluster, *rivals))), {}
            if (rest != domain).any():
                left[cluster] = rest
                changed = True
    return clash, left


def _blame_between(
    problem: TracingQuestion,
    clash: Sequence[Cluster],
    readings: Mapping[str, Sequence[Reading]],
    bridges: Sequence[Bridge],
) -> Conflict:
    """Readings of several ends, none of which can be left out, that ask for more outlets than there are."""
    ends = tuple(end for end in problem.ends if any(end in cluster for cluster in clash))

    def clashes(trial: Mapping[str, Sequence[Reading]], alone: TracingQuestion) -> bool:
        return bool(_narrowed(alone, {c: _cluster_domain(alone, c, trial) for c in clash})[0])

    kept = _none_to_spare(problem, [r for end in ends for r in readings[end]], clashes)
    named = tuple(r.id for r in kept)
    return ends, named + tuple(b.id for b in bridges if b.end in ends and b.other in ends)


def certain_outlets(domain: Bools, member: Bools) -> Bools:
    """The outlets (a mask) that every set of outlets in the domain holds; none for an empty domain.

    Parameters
    ----------
    domain : (group) True where that set of outlets is still possible
    member : (group, outlet) True where the set holds the outlet

    **Source**: docs/trace.md, "Readings".

    >>> groups = np.array([[1, 0], [0, 1], [1, 1]], dtype=bool)
    >>> certain_outlets(np.array([True, False, True]), groups).tolist()
    [True, False]
    """
    return np.asarray(member[domain].all(axis=0) & domain.any())


def _choosers(
    active: Mapping[Cluster, Bools], member: Bools, outlets: NDArray[np.object_]
) -> dict[Cluster, frozenset[str]]:
    """Ends that must reach some outlet of their own, with the outlets open to them."""
    size = member.sum(axis=1)
    return {
        cluster: frozenset(outlets[member[domain].any(axis=0)])
        for cluster, domain in active.items()
        if (size[domain] >= 1).all()
    }


def _overlap(active: Mapping[Cluster, Bools], member: Bools) -> tuple[Cluster, ...]:
    """Two ends that both reach one outlet for certain, or none."""
    owner: dict[int, Cluster] = {}
    for cluster, domain in active.items():
        for outlet in np.flatnonzero(certain_outlets(domain, member)).tolist():
            if outlet in owner:
                return (owner[outlet], cluster)
            owner[outlet] = cluster
    return ()
