"""What the work consists of, counted once: every part, minute and task is derived from this."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from rehaul.design.pulls import is_hard
from rehaul.design.results import AccessPoint, Choice, Network, Port, Site
from rehaul.facts.pulls import PullWay, pull_ways
from rehaul.house import Job, MeetingPoint, Run, RunState, Topology, use_hold
from rehaul.house.geometry import room_at, storey_of
from rehaul.network.verdicts import RunVerdict


@dataclass(frozen=True)
class ChainBox:
    """What is done at one box of a chain."""

    outlet: str
    do: Literal["join", "switch", "end", "cut off"]  # straight through; small switch; last one; beyond it


@dataclass(frozen=True)
class KeptRun:
    """An old run that joins the new network, and what must be done to it."""

    run: Run
    ports: tuple[Port, ...]
    outlets: tuple[str, ...]  # where it is used
    repair: bool
    boxes: tuple[ChainBox, ...]  # empty where the run is no chain

    @property
    def break_chain(self) -> bool:
        """Whether it has to come out of a chain."""
        return bool(self.boxes)


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


@dataclass(frozen=True)
class Scope:
    """Everything that is done in this job."""

    job: Job
    choice: Choice
    network: Network
    verdicts: tuple[RunVerdict, ...]
    kept: tuple[KeptRun, ...]
    pulls: tuple[Pull, ...]
    held: tuple[str, ...]  # ids of runs that may not be counted on before somebody signs
    meeting_point: MeetingPoint | None

    @property
    def access_points(self) -> tuple[AccessPoint, ...]:
        return self.choice.access_points


def scope_of(job: Job, choice: Choice, network: Network, verdicts: tuple[RunVerdict, ...]) -> Scope:
    """Count the work of a chosen design."""
    meeting_point = job.house.meeting_points[0] if job.house.meeting_points else None
    runs = {run.id: run for run in job.house.runs}
    by_run: dict[str, list[Port]] = {}
    for port in network.ports:
        if port.run in runs:
            by_run.setdefault(port.run, []).append(port)
    kept = tuple(_kept(runs[name], ports, choice) for name, ports in by_run.items())
    sites = {site.id: site for site in choice.candidates}
    pulls = []
    for port in network.ports:
        if port.run and port.run not in runs:
            site = sites.get(port.outlet)
            pulls.append(_pull(job, port, site, meeting_point))
    held = tuple(run.id for run in job.house.runs if use_hold(job, run.id))
    return Scope(job, choice, network, verdicts, kept, tuple(pulls), held, meeting_point)


def _kept(run: Run, ports: list[Port], choice: Choice) -> KeptRun:
    used = {port.outlet for port in ports if port.outlet}
    used |= {ap.site.id for ap in choice.access_points if ap.site.run == run.id}
    outlets = tuple(end for end in run.ends if end in used)
    chained = run.topology is Topology.DAISY_CHAIN or len(run.ends) > 2
    boxes = chain_boxes(run, outlets) if chained else ()
    return KeptRun(run, tuple(ports), outlets, run.state is RunState.DAMAGED, boxes)


def chain_boxes(run: Run, used: tuple[str, ...]) -> tuple[ChainBox, ...]:
    """What becomes of every box of a chain that starts at the first end: join, switch, end or cut off."""
    last = max((run.ends.index(end) for end in used), default=0)
    boxes = []
    for place, end in enumerate(run.ends[1:], 1):
        if place > last:
            boxes.append(ChainBox(end, "cut off"))
        elif place == last:
            boxes.append(ChainBox(end, "end"))
        else:
            boxes.append(ChainBox(end, "switch" if end in used else "join"))
    return tuple(boxes)


def _pull(job: Job, port: Port, site: Site | None, meeting_point: MeetingPoint | None) -> Pull:
    fished = pull_ways()["fished"]
    if site is None:
        return Pull(port.run, port.outlet, port.device, "", "", 15.0, 0, fished)
    levels = [storey.id for storey in sorted(job.house.storeys, key=lambda storey: storey.elevation_m)]
    crossed = abs(levels.index(site.storey) - levels.index(meeting_point.storey)) if meeting_point else 0
    way = pull_ways()[site.way] if site.way else fished
    room = next((room for room in job.house.rooms if room.id == site.room), None)
    return Pull(
        id=port.run,
        outlet=site.id,
        room=site.name,
        room_id=site.room,
        storey=site.storey,
        length_m=site.new_pull_m,
        floors_crossed=crossed if way.floor_norm else 0,
        way=way,
        hard=room is not None and is_hard(job.house, room, way, crossed),
        spends=site.spends,
    )


def cord_length_m(job: Job, access_point: AccessPoint) -> float:
    """From the plate to the access point as they stand: along the wall, then up, plus a hand's breadth."""
    outlet = next((o for o in job.house.outlets if o.id == access_point.site.id), None)
    if outlet is None or outlet.position is None:
        return 0.5
    flat = math.dist(outlet.position, access_point.site.position)
    rise = abs(access_point.site.height_m - outlet.height_m)
    return flat + rise + 0.3


def storey_at(job: Job, outlet_id: str) -> str:
    """Storey of an outlet; empty where the id names none."""
    return next((outlet.storey for outlet in job.house.outlets if outlet.id == outlet_id), "")


def place_name(job: Job, outlet_id: str) -> str:
    """Room of an outlet, for people; its id where the room is not known."""
    outlet = next((o for o in job.house.outlets if o.id == outlet_id), None)
    if outlet is None:
        return outlet_id
    rooms = {room.id: room.name for room in job.house.rooms}
    if outlet.room:
        return rooms[outlet.room]
    if outlet.position is not None:
        room = room_at(job.house, outlet.storey, outlet.position)
        if room:
            return room.name
    return storey_of(job.house, outlet.storey).name
