"""What the work consists of, counted once: every part, minute and task is derived from this."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rehaul.design.choosing import Chosen
from rehaul.design.oldcables import left_norm
from rehaul.design.option import Option
from rehaul.design.pulls import is_hard
from rehaul.design.results import AccessPoint, Choice, Network, Port
from rehaul.design.works import Work
from rehaul.facts.pulls import PullWay, pull_ways
from rehaul.house import CableKind, Job, MeetingPoint, Run, RunState, use_hold
from rehaul.house.geometry import room_at, storey_of
from rehaul.network.core import core_point
from rehaul.network.model import Graph, Link
from rehaul.network.segments import Segment, segments_of
from rehaul.network.verdicts import RunVerdict
from rehaul.words import term


@dataclass(frozen=True)
class KeptLink:
    """Old pairs that become one link of the new network, and what must be done to them."""

    link: Link
    pieces: tuple[Segment, ...]  # from its start on
    start: str  # where it begins: the panel's place, or a box with a small switch
    plate: str  # where it comes out
    port: Port | None  # of the main switch, where it begins there
    small_switch: bool  # one stands where it comes out

    @property
    def runs(self) -> tuple[Run, ...]:
        """The cables that it is made of, each once."""
        return tuple({piece.run.id: piece.run for piece in self.pieces}.values())

    @property
    def joins(self) -> tuple[str, ...]:
        """Boxes that it is joined straight through at."""
        here, found = self.start, []
        for piece in self.pieces:
            here = piece.other(here)
            found.append(here)
        return tuple(found[:-1])

    @property
    def repair(self) -> bool:
        """Whether a piece of it has to be mended first."""
        return any(run.state is RunState.DAMAGED for run in self.runs)


@dataclass(frozen=True)
class Pull:
    """A new cable."""

    id: str
    outlet: str
    room: str  # name, for people
    room_id: str
    storey: str
    length_m: float
    floors_crossed: int
    way: PullWay
    hard: bool = False
    spends: str = ""  # the old run that is drawn out for it
    beside: str = ""  # another new cable on the same route


@dataclass(frozen=True)
class Extra:
    """One more piece of work at a place: the router moved, an adapter, a splitter or a filter."""

    work: Work
    place: str  # id of a plate, meeting point, splitter or room; empty: where the router stands
    about: tuple[str, ...]
    touches: tuple[str, ...] = ()


@dataclass(frozen=True)
class Scope:
    """Everything that is done in this job."""

    job: Job
    choice: Choice
    network: Network
    graph: Graph
    verdicts: tuple[RunVerdict, ...]
    kept: tuple[KeptLink, ...]
    pulls: tuple[Pull, ...]
    extras: tuple[Extra, ...]
    held: tuple[str, ...]  # ids of runs that may not be counted on before somebody signs
    meeting_point: MeetingPoint | None
    in_use: tuple[str, ...]  # runs that carry something that stays as it is

    @property
    def access_points(self) -> tuple[AccessPoint, ...]:
        return self.choice.access_points

    @property
    def cabling(self) -> bool:
        """Whether any cable in the house is touched."""
        return bool(self.kept or self.pulls or any(extra.touches for extra in self.extras))

    @property
    def visited(self) -> bool:
        """Whether anybody has to come."""
        works = self.cabling or self.extras or self.access_points or self.choice.outlets
        return bool(works or self.choice.set_afresh)

    @property
    def nothing(self) -> bool:
        """Whether there is nothing to do at all, by the household neither."""
        return not (self.visited or self.choice.devices)


def scope_of(
    job: Job, chosen: Chosen, network: Network, graph: Graph, verdicts: tuple[RunVerdict, ...]
) -> Scope:
    """Count the work of a chosen design: what is kept, pulled, added, held, and what stays in use.

    Nothing is chosen here. `network`, `graph` and `verdicts` are those of this very choice.
    """
    held = tuple(run.id for run in job.house.runs if use_hold(job, run.id))
    in_use = {link.run for link in graph.links if link.age == "kept" and link.run and link.rate_mbps > 0}
    return Scope(
        job=job,
        choice=chosen.choice,
        network=network,
        graph=graph,
        verdicts=verdicts,
        kept=_kept(job, network, graph),
        pulls=_pulls(job, chosen),
        extras=_extras(job, chosen),
        held=held,
        meeting_point=core_point(job),
        in_use=tuple(sorted(in_use)),
    )


def _kept(job: Job, network: Network, graph: Graph) -> tuple[KeptLink, ...]:
    pieces = {piece.id: piece for piece in segments_of(job)}
    ports = {port.link: port for port in network.ports if port.link}
    small = {link.a for link in graph.links if link.b.startswith("sw-")}
    core = core_point(job)
    found = []
    for link in graph.links:
        if link.age != "old" or not link.pieces or link.medium == "coax":
            continue
        row = tuple(pieces[name] for name in link.pieces)
        start = link.a.removeprefix("sw-") if link.a.startswith("sw-") else core.id if core else link.a
        if start not in row[0].ends:  # an uplink is listed from the router's end
            row = tuple(reversed(row))
        plate = _far_end(row, start)
        found.append(
            KeptLink(
                link=link,
                pieces=row,
                start=start,
                plate=plate,
                port=ports.get(link.id),
                small_switch=plate in small,
            )
        )
    return tuple(found)


def _far_end(row: tuple[Segment, ...], start: str) -> str:
    here = start
    for piece in row:
        here = piece.other(here)
    return here


def _pulls(job: Job, chosen: Chosen) -> tuple[Pull, ...]:
    closet = core_point(job)
    found: list[Pull] = []
    uplink = next((option.uplink for option in chosen.options if option.uplink is not None), None)
    if "uplink" in chosen.pulls and uplink is not None:
        link = next(link for link in uplink.links if link.length_m > 0)
        router = chosen.choice.router
        way = next(
            (work for work in uplink.works if work.startswith("route ")), ""
        )  # the way is that of the route's work
        found.append(_uplink_pull(job, chosen, link.length_m, router.storey, router.position, closet, way))
    for option in chosen.options:
        if option.id in chosen.pulls:
            found.append(_pull(job, chosen, option, closet, found))
    return tuple(found)


def _uplink_pull(
    job: Job,
    chosen: Chosen,
    length_m: float,
    storey: str,
    position: tuple[float, float] | None,
    closet: MeetingPoint | None,
    route: str,
) -> Pull:
    room = room_at(job.house, storey, position) if position is not None else None
    crossed = _crossed(job, storey, closet)
    way = _way_of(chosen, route)
    return Pull(
        id=chosen.pulls["uplink"],
        outlet="router",
        room=room.name if room else term("the router"),
        room_id=room.id if room else "",
        storey=storey,
        length_m=length_m,
        floors_crossed=crossed if way.floor_norm else 0,
        way=way,
        hard=room is not None and is_hard(job.house, room, way, crossed),
    )


def _way_of(chosen: Chosen, route: str) -> PullWay:
    tasks = chosen.placing.offering.works.known[route].tasks if route else ()
    norms = {way.norm: way for way in reversed(list(pull_ways().values()))}
    hard = {way.hard_norm: way for way in reversed(list(pull_ways().values()))}
    return next(
        (norms.get(task) or hard[task] for task in tasks if task in norms or task in hard),
        pull_ways()["fished"],
    )


def _pull(job: Job, chosen: Chosen, option: Option, closet: MeetingPoint | None, before: list[Pull]) -> Pull:
    feed = option.feed
    assert feed is not None
    room_id = option.place.room if option.place else option.room
    room = next((room for room in job.house.rooms if room.id == room_id), None)
    storey = option.place.storey if option.place else room.storey if room else ""
    crossed = _crossed(job, storey, closet)
    way = pull_ways()[feed.way]
    outlet = next((o.id for o in chosen.choice.outlets if o.way == option.id), None)
    same = next(
        (p.id for p in before if room_id and p.room_id == room_id and p.way == way and not p.spends), ""
    )
    return Pull(
        id=chosen.pulls[option.id],
        outlet=outlet or (option.place.id if option.place else feed.end),
        room=room.name if room else option.place.name if option.place else feed.end,
        room_id=room_id,
        storey=storey,
        length_m=feed.pull_m,
        floors_crossed=crossed if way.floor_norm else 0,
        way=way,
        hard=room is not None and is_hard(job.house, room, way, crossed),
        spends=feed.spends,
        beside="" if feed.spends else same,
    )


def _crossed(job: Job, storey: str, closet: MeetingPoint | None) -> int:
    levels = [row.id for row in sorted(job.house.storeys, key=lambda row: row.elevation_m)]
    if closet is None or storey not in levels:
        return 0
    return abs(levels.index(storey) - levels.index(closet.storey))


def _extras(job: Job, chosen: Chosen) -> tuple[Extra, ...]:
    """Works that are no cable's: a router that moves, adapters, splitters, filters."""
    works = chosen.placing.offering.works
    names = works.all_of(name for option in chosen.options for name in option.needs)
    coax = {run.id for run in job.house.runs if run.kind is CableKind.COAX}
    found = []
    for name in names:
        work = works.known[name]
        if name.startswith("router port "):
            found.append(Extra(work, "", work.about))
        elif name.startswith("router ") and work.tasks:
            box = "new-router" if name == "router new" else chosen.choice.router.box
            found.append(Extra(work, "", (box,)))
        elif name.startswith("coax "):
            place, runs = work.at, tuple(run for run in work.about if run in coax)
            found.append(Extra(work, place, work.about, runs))
    return tuple(found)


def used_runs(scope: Scope) -> set[str]:
    """Ids of old cables that the work puts to use, draws out for a new one, or lays a hand on.

    One that only carries what stays as it is (`in_use`) is not among them.
    """
    used = {piece.run.id for link in scope.kept for piece in link.pieces}
    used |= {new.spends for new in scope.pulls if new.spends}
    return used | {run for extra in scope.extras for run in (*extra.touches, *extra.work.over)}


def handled_runs(scope: Scope) -> set[str]:
    """Old cables that a hand goes on in this work: those that are used, and those taken off their line."""
    return used_runs(scope) | freed_runs(scope)


def opened_boxes(scope: Scope) -> set[str]:
    """Ids of boxes, plates and places in which something is undone, for a photograph before.

    Where an old pair begins, is joined or comes out, where one is drawn out, and where other work touches
    one. **Source**: docs/work.md, "Steps": a photograph before any step that touches a cable there.
    """
    found = {box for kept in scope.kept for box in (kept.plate, kept.start, *kept.joins)}
    found |= {new.outlet for new in scope.pulls if new.spends}
    return found | {name for extra in scope.extras if extra.touches for name in (extra.place, *extra.about)}


def freed_runs(scope: Scope) -> set[str]:
    """Ids of cables that nothing uses and whose every user is moved first: taken off their line.

    One that carries something that stays is never among them.
    """
    freed = {run.id for run in scope.job.house.runs if left_norm(scope.job, run) == "disconnect"}
    return freed - used_runs(scope) - set(scope.in_use)


def left_pieces(scope: Scope) -> tuple[str, ...]:
    """Pieces of used chains that nothing uses, by their ids: the run's id, a dot, its number from 1.

    They stay in the wall, and are tagged.
    """
    kept = {piece.id for link in scope.kept for piece in link.pieces}
    chains = {piece.run.id: piece.run for link in scope.kept for piece in link.pieces if piece.is_piece}
    names = (f"{run.id}.{number}" for run in chains.values() for number in range(1, len(run.ends)))
    return tuple(name for name in names if name not in kept)


def cord_length_m(job: Job, access_point: AccessPoint) -> float:
    """Cord from the plate to the access point as they stand [m].

    Along the wall, then up, plus a hand's breadth (0.3 m). 0.5 m where the access point is fed from no
    plate whose place is known.

    **Validity**: on one wall, with nothing in between. **Source**: trade judgement.
    """
    outlet = next((o for o in job.house.outlets if o.id == access_point.site.id), None)
    if outlet is None or outlet.position is None:
        return 0.5
    flat = math.dist(outlet.position, access_point.site.position)
    rise = abs(access_point.site.height_m - outlet.height_m)
    return flat + rise + 0.3


def storey_at(job: Job, outlet_id: str) -> str:
    """Storey of an outlet, splitter or meeting point, by its id; empty where the id names none."""
    house = job.house
    storeys = {row.id: row.storey for row in house.splitters}
    storeys |= {row.id: row.storey for row in house.meeting_points}
    storeys |= {row.id: row.storey for row in house.outlets}
    return storeys.get(outlet_id, "")


def place_name(job: Job, outlet_id: str) -> str:
    """Room of an outlet, for people; its storey's name where no room is known.

    A meeting point, splitter or room has its own name; any other id stands for itself.
    """
    outlet = next((o for o in job.house.outlets if o.id == outlet_id), None)
    if outlet is None:
        names = {row.id: row.name for row in job.house.meeting_points}
        names |= {row.id: row.name for row in job.house.splitters}
        names |= {row.id: row.name for row in job.house.rooms}
        return names.get(outlet_id, outlet_id)
    rooms = {room.id: room.name for room in job.house.rooms}
    if outlet.room:
        return rooms[outlet.room]
    if outlet.position is not None:
        room = room_at(job.house, outlet.storey, outlet.position)
        if room:
            return room.name
    return storey_of(job.house, outlet.storey).name
