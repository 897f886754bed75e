"""The choices of a problem tried one by one: what each meets and what it costs. No solver, no cleverness."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from rehaul.auditor.reading import RowView, kept_view

WHOLE = 1 + 1e-6  # of a shared medium
LITTLE = 1e-9


@dataclass(frozen=True)
class Thing:
    """A way or a resource: what it costs, takes, needs and gives."""

    id: str
    cost: int  # hundredths
    needs: tuple[str, ...]  # resources, with all that they need in turn
    loads: tuple[tuple[str, float], ...]
    ports: float
    watts: float
    group: str = ""  # a way's
    excludes: str = ""  # a resource's
    serves: int = 0  # kinds of place, as bits
    counts: tuple[tuple[str, float], ...] = ()
    beside: tuple[str, ...] = ()  # ways of which one must be there too; empty: none need be


@dataclass(frozen=True)
class AskedView:
    """A requirement: the weight of every kind of place, and how much must be served."""

    name: str
    weights: tuple[tuple[int, float], ...]  # bit of the kind, weight
    need: float
    kinds: int = 0  # bits of all kinds that weigh

    def is_met(self, served: int) -> bool:
        """Whether these kinds of place are enough.

        **Source**: docs/exact.md, "The problem", worked out by code that had no part in it.
        """
        weight = math.fsum(weight for bit, weight in self.weights if served & bit)
        return weight >= self.need * (1 - LITTLE)


@dataclass(frozen=True)
class OutcomeView:
    """What a set of ways comes to."""

    met: frozenset[int]  # places of what is met, requirements first, then what is counted
    cost: int  # hundredths

    @property
    def rank(self) -> tuple[int, int]:
        """Less is better: more met first, then cheaper."""
        return -len(self.met), self.cost


@dataclass(frozen=True)
class ChoiceView:
    """What was to be chosen from, as the plan says."""

    ways: tuple[Thing, ...]
    resources: dict[str, Thing]
    asked: tuple[AskedView, ...]
    counted: tuple[tuple[str, float], ...]
    switches: tuple[tuple[float, float, int], ...]  # ports, watts, cost
    spare_ports: float
    must: frozenset[str]
    forbidden: frozenset[str]
    fixed: frozenset[str]
    seen: dict[int, frozenset[int]] = field(default_factory=dict, compare=False)  # what kinds of place meet

    def names(self) -> tuple[str, ...]:
        """Names of all that is asked, in the order of `OutcomeView.met`."""
        return (*(each.name for each in self.asked), *(name for name, _ in self.counted))

    def groups(self) -> tuple[tuple[Thing | None, ...], ...]:
        """The options of every group: its ways, and none where it may stay empty."""
        found: dict[str, list[Thing]] = {}
        for way in self.ways:
            if way.group not in self.forbidden:
                found.setdefault(way.group, []).append(way)
        options: list[tuple[Thing | None, ...]] = []
        for name, ways in found.items():
            fixed = [way for way in ways if way.id in self.fixed]
            empty = () if fixed or name in self.must else (None,)
            options.append((*(fixed or ways), *empty))
        return tuple(options)


@kept_view
def problem_of(plan: RowView) -> ChoiceView:
    """The problem as the plan has it, places served by the same ways merged. Raises Lacks.

    Bits of `serves` stand for kinds of place, resources are given with all that they need in turn, costs are
    hundredths. Raises Lacks where the plan does not print the problem, or a part of it is missing.

    **Source**: docs/choosing.md; the form is that of `choice.problem` in docs/plan.schema.json.
    """
    row = plan.row("choice", "problem")
    ways = row.rows("ways")
    resources = {thing.id: thing for thing in map(_resource, row.rows("resources"))}
    alike: dict[tuple[float, ...], int] = {}  # ways that serve the same places, as one
    which = [alike.setdefault(way.numbers("serves"), len(alike)) for way in ways]
    serving: dict[int, list[int]] = {}
    for number, places in enumerate(alike):
        for place in map(int, places):
            serving.setdefault(place, []).append(number)
    kinds: dict[tuple[int, ...], int] = {}
    bits = {place: kinds.setdefault(tuple(by), 1 << len(kinds)) for place, by in serving.items()}
    masks = [0] * len(alike)
    for by, bit in kinds.items():
        for number in by:
            masks[number] |= bit
    served = [masks[number] for number in which]
    return ChoiceView(
        ways=tuple(_way(way, mask, resources) for way, mask in zip(ways, served, strict=True)),
        resources=resources,
        asked=tuple(_asked(each, bits) for each in row.rows("requirements")),
        counted=tuple((each.text("name"), each.number("least")) for each in row.rows("counted")),
        switches=tuple(
            (each.number("ports"), each.number("watts"), _hundredths(each))
            for each in row.rows("switch_classes")
        ),
        spare_ports=row.number("spare_ports"),
        must=frozenset(row.names("must")),
        forbidden=frozenset(row.names("forbidden")),
        fixed=frozenset(row.names("fixed")),
    )


def _asked(row: RowView, bits: dict[int, int]) -> AskedView:
    weights: dict[int, float] = {}
    for name, weight in row.shares("weights"):
        bit = bits.get(int(name), 0) if name.isdigit() else 0
        if bit:
            weights[bit] = weights.get(bit, 0.0) + weight
    return AskedView(row.text("name"), tuple(weights.items()), row.number("need"), sum(weights))


def _hundredths(row: RowView) -> int:
    return round(100 * row.number("cost"))


def _taken(row: RowView) -> dict[str, Any]:
    """What a way or a resource costs and takes, as fields of a `Thing`."""
    return {
        "id": row.text("id"),
        "cost": _hundredths(row),
        "loads": row.shares("loads"),
        "ports": row.number("ports"),
        "watts": row.number("watts"),
    }


def _way(row: RowView, serves: int, resources: dict[str, Thing]) -> Thing:
    return Thing(
        **_taken(row),
        needs=_in_turn(row.names("needs"), resources),
        group=row.text("group"),
        serves=serves,
        counts=row.shares("counts"),
        beside=row.names("beside"),
    )


def _resource(row: RowView) -> Thing:
    return Thing(**_taken(row), needs=row.names("needs"), excludes=row.text("excludes"))


def _in_turn(needs: tuple[str, ...], resources: dict[str, Thing]) -> tuple[str, ...]:
    """What a way needs, with all that it needs in turn."""
    found: dict[str, None] = {}
    left = list(needs)
    while left:
        name = left.pop()
        if name not in found:
            found[name] = None
            left += resources[name].needs if name in resources else ()
    return tuple(found)


def outcome(problem: ChoiceView, chosen: tuple[Thing, ...]) -> OutcomeView | None:
    """What these ways come to together; None where they do not fit, or leave out what must be.

    Parameters: `chosen`, ways of the problem, at most one of a group.

    **Validity**: exact: costs are hundredths; weights and shares of a medium are forgiven 1e-9 and 1e-6.
    **Source**: docs/auditor.md, `nothing-does-better`.
    """
    groups, names = {way.group for way in chosen}, {way.id for way in chosen}
    whole = (
        problem.must <= groups
        and problem.fixed <= names
        and all(not way.beside or not names.isdisjoint(way.beside) for way in chosen)
        and not problem.forbidden & groups
        and len(groups) == len(chosen)
    )
    cost = cost_of(problem, chosen)
    return None if cost is None or not whole else OutcomeView(_met(problem, chosen), cost)


def cost_of(problem: ChoiceView, chosen: tuple[Thing, ...]) -> int | None:
    """What these ways and all they share cost, in hundredths; None where they do not fit together.

    They do not fit where a resource is missing, two of one exclusive set are used, a medium is taken more
    than whole, or no switch is large enough. What must stand is not asked here: `outcome` does. **Source**:
    docs/exact.md, "The problem", worked out by code that had no part in it.
    """
    used = _resources(problem, chosen)
    if used is None:
        return None
    things = (*chosen, *used)
    sets = [thing.excludes for thing in used if thing.excludes]
    taken: dict[str, float] = {}
    for thing in things:
        for medium, share in thing.loads:
            taken[medium] = taken.get(medium, 0.0) + share
    switch = switch_cost(problem, sum(thing.ports for thing in things), sum(thing.watts for thing in things))
    if switch is None or len(set(sets)) != len(sets) or any(share > WHOLE for share in taken.values()):
        return None
    return sum(thing.cost for thing in things) + switch


def _met(problem: ChoiceView, chosen: tuple[Thing, ...]) -> frozenset[int]:
    served, counts = 0, Counter[str]()
    for way in chosen:
        served |= way.serves
        counts.update(dict(way.counts))
    met = problem.seen.get(served)
    if met is None:
        asked = enumerate(problem.asked)
        met = problem.seen[served] = frozenset(place for place, each in asked if each.is_met(served))
    counted = enumerate(problem.counted, len(problem.asked))
    return frozenset(met | {place for place, (name, least) in counted if counts[name] >= least})


def _resources(problem: ChoiceView, chosen: tuple[Thing, ...]) -> tuple[Thing, ...] | None:
    names = {name for way in chosen for name in way.needs}
    if not names <= problem.resources.keys():
        return None
    return tuple(problem.resources[name] for name in names)


def switch_cost(problem: ChoiceView, ports: float, watts: float) -> int | None:
    """Cost of the cheapest switch that is enough; None where none is.

    Parameters: `ports` and `watts` that the choice takes of it; the spare ports are added here. Returns
    hundredths; 0 where it takes neither, so that no switch is needed. **Source**: docs/exact.md, "The
    problem", worked out by code that had no part in it.
    """
    if ports <= 0 and watts <= 0:
        return 0
    enough = [
        cost
        for most_ports, most_watts, cost in problem.switches
        if most_ports >= ports + problem.spare_ports and most_watts >= watts - LITTLE
    ]
    return min(enough, default=None)


def one_change_away(problem: ChoiceView, chosen: tuple[Thing, ...]) -> Iterator[tuple[Thing, ...]]:
    """Every choice that differs in one group: a way more, one less, or another.

    The present choice is among them. A pinned or fixed group is never left empty; ways that hang on another
    are not changed together with it. **Source**: docs/auditor.md, `nothing-does-better`.
    """
    for options in problem.groups():
        names = {way.group for way in options if way is not None}
        rest = tuple(way for way in chosen if way.group not in names)
        for way in options:
            yield rest if way is None else (*rest, way)
