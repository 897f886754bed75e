"""The choice over feeds as data: ways to serve, the resources that ways share, what is asked, what is chosen.

A way is one thing at one place, fed in one way. Resources are paid once, however many ways use them. What
a set of ways uses follows from the set, so a choice is a set of ways.
"""

from __future__ import annotations

import copy
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from rehaul.arrays import Bools
from rehaul.errors import BadInput
from rehaul.exact.coverage import Requirement
from rehaul.words import say

WHERE = "feeding"


@dataclass(frozen=True)
class Way:
    """One thing at one place, fed in one way."""

    id: str  # stable; settles ties
    group: str  # at most one way of a group is chosen
    cost: float  # money, without what it shares
    needs: tuple[str, ...] = ()  # resources
    loads: tuple[tuple[str, float], ...] = ()  # shared medium, share of it taken; over 1 never fits
    ports: int = 0  # of the main switch
    watts: float = 0.0  # of the main switch's power over Ethernet
    counts: tuple[tuple[str, int], ...] = ()  # counted requirement, how many it adds
    rate_mbps: float = 0.0  # settles ties
    beside: tuple[str, ...] = ()  # ways of which one must be chosen too; empty: none need be


@dataclass(frozen=True)
class Resource:
    """What several ways may share; paid once."""

    id: str
    cost: float  # money
    needs: tuple[str, ...] = ()  # resources it needs in turn
    excludes: str = ""  # name of a set of which one resource at most is used
    ports: int = 0  # of the main switch
    watts: float = 0.0
    loads: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True)
class SwitchClass:
    """What the main switch may be."""

    id: str
    ports: int
    watts: float
    cost: float  # money


@dataclass(frozen=True)
class Counted:
    """At least so many of something, added over the chosen ways."""

    name: str
    least: int


@dataclass(frozen=True)
class FeedProblem:
    """Ways, what they serve, what they share, and what is asked.

    A main switch is bought where the choice takes a port or power of it. It then has the spare ports too.
    """

    ways: tuple[Way, ...]
    serves: Bools  # (ways, places)
    requirements: tuple[Requirement, ...] = ()
    counted: tuple[Counted, ...] = ()
    resources: tuple[Resource, ...] = ()
    switch_classes: tuple[SwitchClass, ...] = ()
    spare_ports: int = 0
    must: tuple[str, ...] = ()  # groups that hold exactly one way
    forbidden: tuple[str, ...] = ()  # groups that hold none
    fixed: tuple[str, ...] = ()  # ways that are chosen

    def __post_init__(self) -> None:
        if self.serves.ndim != 2 or len(self.serves) != len(self.ways):
            raise _bad(say("refused_exact.serves_rows"), say("refused_exact.row_per_way"))
        if any(np.any((r.places < 0) | (r.places >= self.serves.shape[1])) for r in self.requirements):
            raise _bad(say("refused_common.no_such_place"), say("refused_common.check_indices"))
        for twice, things in (
            ("refused_exact.way_twice", self.ways),
            ("refused_exact.resource_twice", self.resources),
        ):
            _names_once(twice, [thing.id for thing in things])
            for thing in things:
                _check(thing)
        _names_once("refused_exact.switch_twice", [kind.id for kind in self.switch_classes])
        _names_once("refused_exact.counted_twice", [count.name for count in self.counted])
        for kind in self.switch_classes:
            _not_negative(kind.id, cost=kind.cost, ports=kind.ports, watts=kind.watts)
        _not_negative(WHERE, spare_ports=self.spare_ports)
        known = {resource.id for resource in self.resources}
        users: tuple[Way | Resource, ...] = (*self.ways, *self.resources)
        for user in users:
            for need in user.needs:
                if need not in known:
                    raise _bad(
                        say("refused_exact.no_resource", need=need),
                        say("refused_exact.name_resources"),
                        user.id,
                    )
        names = {way.id for way in self.ways}
        for way in self.ways:
            for other in way.beside:
                if other not in names:
                    raise _bad(
                        say("refused_exact.no_way", name=other), say("refused_exact.name_ways"), way.id
                    )
        self._check_held()

    def _check_held(self) -> None:
        groups = {way.group for way in self.ways}
        for group in (*self.must, *self.forbidden):
            if group not in groups:
                raise _bad(say("refused_exact.no_group", group=group), say("refused_exact.name_groups"))
        held: dict[str, str] = {}
        by_id = {way.id: way for way in self.ways}
        for name in dict.fromkeys(self.fixed):
            if name not in by_id:
                raise _bad(say("refused_exact.no_way", name=name), say("refused_exact.fix_ways"))
            group = by_id[name].group
            if group in held:
                raise _bad(
                    say("refused_exact.both_fixed", one=held[group], other=name, group=group),
                    say("refused_common.decide_for_one"),
                )
            held[group] = name
        both = sorted((set(self.must) | set(held)) & set(self.forbidden))
        if both:
            raise _bad(
                say("refused_exact.asked_and_forbidden", group=both[0]), say("refused_common.decide_for_one")
            )

    def held_to(self, must: Sequence[str] = (), forbidden: Sequence[str] = ()) -> FeedProblem:
        """The same ways, of groups of which more must hold one, or may not.

        Raises BadInput for a group that there is not, or that is asked for and forbidden. What was looked at
        when the problem was made is not looked at again.
        """
        found = copy.copy(self)
        held = {
            "must": tuple(dict.fromkeys((*self.must, *must))),
            "forbidden": tuple(dict.fromkeys((*self.forbidden, *forbidden))),
        }
        found.__dict__.update(held)
        found._check_held()
        return found

    @cached_property
    def asked(self) -> tuple[str, ...]:
        """Names of what is asked: requirements, then counted ones."""
        return (*(r.name for r in self.requirements), *(c.name for c in self.counted))


@dataclass(frozen=True)
class FeedChoice:
    """The ways chosen, what they use, and how sure it is that nothing cheaper would do."""

    ways: tuple[str, ...]  # ids, sorted
    resources: tuple[str, ...]  # ids, sorted
    switch: str  # id of its class, "" where none is needed
    cost: float
    served: tuple[float, ...]  # share of each requirement's weight
    met: tuple[bool, ...]  # requirements, then counted ones
    feasible: bool  # everything asked is met
    bound: float  # nothing that does as much costs less
    proven: bool  # no cheaper choice, and none as cheap that comes first
    gap: float  # share of the cost that might still be saved; 0 where only the tie is open
    nodes: int
    counted: tuple[int, ...] = ()  # how many of each counted requirement


@dataclass(frozen=True)
class FeedStep:
    """The least that meeting this many requirements costs."""

    met: int
    choice: FeedChoice


def _check(thing: Way | Resource) -> None:
    _not_negative(thing.id, cost=thing.cost, ports=thing.ports, watts=thing.watts)
    for medium, share in thing.loads:
        _not_negative(f"{thing.id}: {medium}", share=share)
    if isinstance(thing, Way):
        _not_negative(thing.id, rate_mbps=thing.rate_mbps)
        for name, number in thing.counts:
            _not_negative(f"{thing.id}: {name}", count=number)


def _not_negative(where: str, **values: float) -> None:
    for name, value in values.items():
        if not np.isfinite(value) or value < 0:
            raise _bad(
                say("refused_exact.not_positive", name=name, value=value),
                say("refused_exact.numbers_from_0"),
                where,
            )


def _names_once(twice: str, names: Sequence[str]) -> None:
    seen: set[str] = set()
    for name in names:
        if name in seen:
            raise _bad(say(twice, name=name), say("refused_exact.own_name"))
        seen.add(name)


def _bad(problem: str, remedy: str, where: str = WHERE) -> BadInput:
    return BadInput(problem, where=where, remedy=remedy)


def index_of(names: Iterable[str]) -> dict[str, int]:
    """Places of names in their order.

    >>> index_of(["hall", "study"])
    {'hall': 0, 'study': 1}
    """
    return {name: place for place, name in enumerate(names)}
