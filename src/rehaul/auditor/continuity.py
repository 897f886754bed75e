"""Rules on copper and drawing: cables really come where the plan plugs them in."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import combinations

from rehaul.auditor.finding import PlanFinding, finding
from rehaul.auditor.reading import Row
from rehaul.auditor.views import Graph, Point, access_points, graph, plates, tasks, unique
from rehaul.facts.auditing import audit_number
from rehaul.house import UNKNOWN, CableKind, Job, MeetingPoint, Outlet, Splitter

HUBS = ("meeting point", "switch", "router")


def graph_whole(job: Job, plan: Row) -> Iterator[PlanFinding]:
    """Every id of the graph stands for one thing, every link ends at nodes, every old cable is the job's."""
    runs = {run.id for run in job.house.runs}
    for state in ("before", "after"):
        found = graph(plan, state)
        nodes = [node.id for node in found.nodes]
        for name in unique([*nodes, *(link.id for link in found.links)]):
            yield finding(f"{name} stands for two things in the graph {state} the work.", name)
        for link in found.links:
            for end in (link.a, link.b):
                if end not in nodes:
                    yield finding(f"{link.id} ends at {end}, which is not in the graph.", link.id, end)
            if link.run and link.run not in runs:
                yield finding(
                    f"{link.id} is said to be old cable {link.run}, which is not in the house.", link.id
                )


def drawn_where_it_is(job: Job, plan: Row) -> Iterator[PlanFinding]:
    """Plates, meeting points and access points stand in the graph where job and plan have them."""
    places: dict[str, tuple[str, Point]] = {
        thing.id: (thing.storey, thing.position) for thing in _fixed_things(job) if thing.position is not None
    }
    places |= {ap.id: (ap.site.storey, ap.site.position) for ap in access_points(plan)}
    nodes = graph(plan, "after").node_of()
    for name in sorted(set(places) & set(nodes)):
        storey, position = places[name]
        drawn = nodes[name]
        apart_m = 0.0 if drawn.position is None else math.dist(drawn.position, position)
        if drawn.storey != storey or apart_m > audit_number("in_room"):
            yield finding(f"{name} is drawn elsewhere than it stands.", name)
    for ap in access_points(plan):
        if ap.id not in nodes:
            yield finding(f"{ap.id} is not in the graph after the work.", ap.id)


def _fixed_things(job: Job) -> tuple[Outlet | MeetingPoint | Splitter, ...]:
    return (*job.house.outlets, *job.house.meeting_points, *job.house.splitters)


def comes_to_the_panel(job: Job, plan: Row) -> Iterator[PlanFinding]:
    """A cable terminated at the panel really comes there."""
    after = graph(plan, "after")
    named = [(task.id, name) for task in tasks(plan) if task.norm == "panel_port" for name in task.because]
    named += [
        (f"port {port.number('port'):g}", port.text("run"))
        for port in plan.rows("network", "ports")
        if port.has("panel_port") and port.text("run")
    ]
    for who, cable in dict.fromkeys(named):
        if _reaches_hub(job, after, cable) is False:
            yield finding(f"{cable} is on the panel by {who} and does not come there.", cable)


def _reaches_hub(job: Job, after: Graph, cable: str) -> bool | None:
    """Whether a cable, or a piece of one, has an end where cables meet; None for what is no cable."""
    centre = {point.id for point in job.house.meeting_points}
    run = next((run for run in job.house.runs if run.id == cable), None)
    if run is not None and not centre & set(run.ends):
        return False
    pieces = [link for link in after.links if cable in (link.id, link.run)]
    if pieces:
        return any(end in centre or after.kind(end) in HUBS for link in pieces for end in (link.a, link.b))
    return True if run is not None else None


def at_an_end(job: Job, plan: Row) -> Iterator[PlanFinding]:
    """What is fed by an old cable is at one of its ends."""
    runs = {run.id: run for run in job.house.runs}
    surfaces = {thing.id for thing in _fixed_things(job)}
    fed = [(ap.id, ap.site.id, ap.site.run) for ap in access_points(plan)]
    fed += [(plate.id, plate.id, plate.run) for plate in plates(plan)]
    for who, place, run in fed:
        if run and run not in runs:
            yield finding(f"{who} is fed by old cable {run}, which is not in the house.", who, run)
        elif run and place in surfaces and place not in runs[run].ends:
            yield finding(f"{who} is fed by {run} at {place}, where that cable does not surface.", who, run)
    for link in graph(plan, "after").links:
        cable = runs.get(link.run)
        if cable is not None:
            for end in (link.a, link.b):
                if end in surfaces and end not in cable.ends:
                    yield finding(
                        f"{link.id} goes to {end}, where {link.run} does not surface.", link.id, end
                    )


def copper_used_once(job: Job, plan: Row) -> Iterator[PlanFinding]:
    """No stretch of an old pair is part of two links; coax may be shared."""
    links = graph(plan, "after").links
    for run in job.house.runs:
        if run.kind is CableKind.COAX:
            continue
        places = {end: number for number, end in enumerate(run.ends) if end != UNKNOWN}
        spans = [
            (min(places[link.a], places[link.b]), max(places[link.a], places[link.b]), link.id)
            for link in links
            if link.run == run.id and link.a in places and link.b in places
        ]
        for (low, high, one), (start, end, other) in combinations(spans, 2):
            if low < end and start < high:
                yield finding(f"{one} and {other} are the same stretch of {run.id}.", run.id, one, other)


def reach_kept(job: Job, plan: Row) -> Iterator[PlanFinding]:
    """No copper link that is put to use is longer than balanced copper reaches."""
    most_m = audit_number("copper_channel")
    for link in graph(plan, "after").links:
        if link.medium == "twisted pair" and link.age != "kept" and link.length_m > most_m:
            yield finding(f"{link.id} is {link.length_m:.0f} m of copper; {most_m:.0f} m reach.", link.id)
