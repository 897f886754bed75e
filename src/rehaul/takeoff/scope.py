"""What the work consists of, counted once: every part, minute and task is derived from this."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rehaul.design.results import AccessPoint, Choice, Network, Port, Site
from rehaul.house import Job, MeetingPoint, Run, RunState, Topology
from rehaul.house.geometry import room_at, storey_of
from rehaul.predict.results import RunVerdict


@dataclass(frozen=True)
class KeptRun:
    """An old run that joins the new network, and what must be done to it."""

    run: Run
    ports: tuple[Port, ...]
    outlets: tuple[str, ...]
    repair: bool
    break_chain: bool


@dataclass(frozen=True)
class Pull:
    """A new cable."""

    id: str
    outlet: str
    room: str
    storey: str
    length_m: float
    floors_crossed: int


@dataclass(frozen=True)
class Scope:
    """Everything that is done in this job."""

    job: Job
    choice: Choice
    network: Network
    verdicts: tuple[RunVerdict, ...]
    kept: tuple[KeptRun, ...]
    pulls: tuple[Pull, ...]
    held: tuple[str, ...]  # ids of runs that an obligation holds
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
    kept = tuple(
        KeptRun(
            run=runs[name],
            ports=tuple(ports),
            outlets=tuple(dict.fromkeys(port.outlet for port in ports if port.outlet)),
            repair=runs[name].state is RunState.DAMAGED,
            break_chain=runs[name].topology is Topology.DAISY_CHAIN or len(runs[name].ends) > 2,
        )
        for name, ports in by_run.items()
    )
    sites = {site.id: site for site in choice.candidates}
    pulls = []
    for port in network.ports:
        if port.run and port.run not in runs:
            site = sites.get(port.outlet)
            pulls.append(_pull(job, port, site, meeting_point))
    held = tuple(verdict.run for verdict in verdicts if verdict.held_by)
    return Scope(job, choice, network, verdicts, kept, tuple(pulls), held, meeting_point)


def _pull(job: Job, port: Port, site: Site | None, meeting_point: MeetingPoint | None) -> Pull:
    if site is None:
        return Pull(port.run, port.outlet, port.device, "", 15.0, 0)
    levels = [storey.id for storey in sorted(job.house.storeys, key=lambda storey: storey.elevation_m)]
    crossed = abs(levels.index(site.storey) - levels.index(meeting_point.storey)) if meeting_point else 0
    return Pull(port.run, site.id, site.name, site.storey, site.new_pull_m, crossed)


def cord_length_m(job: Job, access_point: AccessPoint) -> float:
    """From the plate to the access point as they stand: along the wall, then up, plus a hand's breadth."""
    outlet = next((o for o in job.house.outlets if o.id == access_point.site.id), None)
    if outlet is None or outlet.position is None:
        return 0.5
    flat = math.dist(outlet.position, access_point.site.position)
    rise = abs(access_point.site.height_m - outlet.height_m)
    return flat + rise + 0.3


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
