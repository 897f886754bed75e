"""Who walks where: the fewest trips to put plugs in, read them, and bring them back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rehaul.errors import BadInput
from rehaul.facts.trace_numbers import trace_number
from rehaul.tracing.routes import WalkRoute, Whereabouts, shortest_route
from rehaul.words import Saying, say


@dataclass(frozen=True)
class Trip:
    """One walk and what is done on it."""

    do: Saying
    stops: tuple[str, ...]
    length_m: float


@dataclass(frozen=True)
class WalkPlan:
    """All trips, in order; `batches` lists the outlets that hold a plug at the same time."""

    people: int
    batches: tuple[tuple[str, ...], ...]
    trips: tuple[Trip, ...]
    length_m: float
    minutes: float
    proven: bool  # no shorter plan of this shape exists

    @property
    def sentence(self) -> Saying:
        """The plan in one line."""
        return say("tracing.walk", trips=len(self.trips), length_m=self.length_m, minutes=self.minutes)


def plan_walks(
    outlets: Sequence[Whereabouts],
    meeting: Whereabouts,
    *,
    at_once: int,
    people: int = 1,
    start: Whereabouts | None = None,
    stairs: Sequence[tuple[float, float]] = (),
    ends: int | None = None,
    patterns_each: int = 1,
) -> WalkPlan:
    """Trips for one person, or for two with one staying where the cables meet to read.

    Parameters
    ----------
    outlets : where plugs go
    meeting : where the ends are read
    at_once : plugs (or one toner) that can be out at the same time
    people : 1 or 2; two talk to each other
    start : where the walker stands; the meeting point if left out
    stairs : positions of stairs on the sheet
    ends : ends to read in each round; as many as outlets if left out
    patterns_each : how many plugs each outlet gets in turn

    Returns
    -------
    trips with lengths [m] counted on the level, and the whole time [min]

    Raises: BadInput for no plugs or for other than one or two people.

    **Validity**: exact where every outlet gets a plug at once. With fewer plugs than outlets the batches
    are cut from the shortest round through all outlets at its best place, which is not proven shortest.
    **Source**: docs/trace.md, "Walks".
    """
    if at_once < 1:
        raise BadInput(
            say("refused_tracing.nothing_to_plug"), where="plugs", remedy=say("refused_tracing.bring_plug")
        )
    if people not in (1, 2):
        raise BadInput(
            say("refused_tracing.people", people=people),
            where="people",
            remedy=say("refused_tracing.plan_for_two"),
        )
    here = start or meeting
    if not outlets:
        return WalkPlan(people, (), (), 0.0, 0.0, True)
    if len(outlets) <= at_once:
        batches: list[list[Whereabouts]] = [list(outlets)]
        routes = _routes(batches, patterns_each, here, meeting, people, stairs)
    else:
        batches, routes = _best_cut(outlets, at_once, patterns_each, here, meeting, people, stairs)
    trips = tuple(
        Trip(_what(k, len(routes), patterns_each), route.stops, route.length_m)
        for k, route in enumerate(routes)
    )
    length_m = sum(trip.length_m for trip in trips)
    reading = (
        trace_number("minutes at an end")
        * (len(outlets) if ends is None else ends)
        * len(batches)
        * patterns_each
    )
    return WalkPlan(
        people=people,
        batches=tuple(tuple(place.id for place in batch) for batch in batches),
        trips=trips,
        length_m=length_m,
        minutes=length_m / trace_number("metres a minute") + reading,
        proven=len(batches) == 1 and all(route.proven for route in routes),
    )


def _what(index: int, count: int, patterns_each: int) -> Saying:
    if index == 0:
        return say("tracing.put_in")
    if index == count - 1:
        return say("tracing.collect")
    return say("tracing.change") if index % patterns_each else say("tracing.move_on")


def _routes(
    batches: Sequence[Sequence[Whereabouts]],
    patterns_each: int,
    here: Whereabouts,
    meeting: Whereabouts,
    people: int,
    stairs: Sequence[tuple[float, float]],
) -> list[WalkRoute]:
    """One trip per batch that also collects from the batch before, one for each further pattern of the
    batch, and one that collects the last.

    One person comes back to read after each; with a reader at the meeting point the walker stays out.
    """
    routes = []
    before: Sequence[Whereabouts] = ()
    for batch in batches:
        for stops in ([*before, *batch], *[list(batch)] * (patterns_each - 1)):
            route = shortest_route(here, stops, meeting if people == 1 else None, stairs)
            routes.append(route)
            here = meeting if people == 1 else next(p for p in stops if p.id == route.stops[-1])
        before = batch
    last = [place for place in before if place != here]
    collect = shortest_route(here, last, meeting, stairs)
    if len(last) < len(before):
        collect = WalkRoute((here.id, *collect.stops), collect.length_m, collect.proven)
    routes.append(collect)
    return routes


def _best_cut(
    outlets: Sequence[Whereabouts],
    at_once: int,
    patterns_each: int,
    here: Whereabouts,
    meeting: Whereabouts,
    people: int,
    stairs: Sequence[tuple[float, float]],
) -> tuple[list[list[Whereabouts]], list[WalkRoute]]:
    by_id = {place.id: place for place in outlets}
    tour = [by_id[stop] for stop in shortest_route(here, outlets, meeting, stairs).stops]
    best: tuple[float, list[list[Whereabouts]], list[WalkRoute]] | None = None
    for shift in range(min(at_once, len(tour))):
        batches = [tour[:shift]] if shift else []
        batches += [tour[k : k + at_once] for k in range(shift, len(tour), at_once)]
        if len(batches) > -(-len(outlets) // at_once):
            continue
        routes = _routes(batches, patterns_each, here, meeting, people, stairs)
        length_m = sum(route.length_m for route in routes)
        if best is None or length_m < best[0] - 1e-9:
            best = (length_m, batches, routes)
    assert best is not None  # shift 0 always gives the fewest batches
    return best[1], best[2]
